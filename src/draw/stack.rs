//! Which course lies beside which, from the keel outwards, when the skin is opened flat.

use crate::hull::{CourseId, Hull, Kind, PanelId, Toward};

/// The courses from the centreline outwards.
pub struct Stack {
    /// Centre courses on the centreline, from the lowest on the paper.
    pub middle: Vec<CourseId>,
    /// Courses of one half, from the centreline outwards.
    pub half: Vec<CourseId>,
    /// How many panels have courses.
    pub panels: usize,
}

impl Stack {
    /// The courses of this boat.
    pub fn of(hull: &Hull) -> Stack {
        let mut panels: Vec<Vec<CourseId>> = inside_out(hull)
            .into_iter()
            .map(|panel| courses_inside_out(hull, panel))
            .filter(|courses| !courses.is_empty())
            .collect();
        let count = panels.len();
        let mut middle = Vec::new();
        if let Some(inner) = panels.first_mut() {
            let many = inner
                .iter()
                .take_while(|course| hull.course(**course).kind == Kind::Centre)
                .count();
            middle = inner.drain(..many).collect();
        }
        Stack {
            middle,
            half: panels.concat(),
            panels: count,
        }
    }

    /// How many rows one half takes: stretches of one band lie in one.
    pub fn rows(&self, hull: &Hull) -> usize {
        let band = |id: &CourseId| (hull.course(*id).panel, hull.course(*id).number);
        let bands = self.half.chunk_by(|one, other| band(one) == band(other));
        bands.count()
    }
}

/// Panels from the keel outwards: one laid from a centre course at the keel; those laid toward the keel, the last of
/// them first; those laid toward the deck.
fn inside_out(hull: &Hull) -> Vec<PanelId> {
    let mut from_keel = Vec::new();
    let mut to_keel = Vec::new();
    let mut to_deck = Vec::new();
    for (n, panel) in hull.panels.iter().enumerate() {
        let id = PanelId(n);
        let mut courses = hull.courses.iter().filter(|course| course.panel == id);
        let starts_at_centre = courses.next().is_some_and(|c| c.kind == Kind::Centre);
        match panel.toward {
            Toward::Keel => to_keel.push(id),
            Toward::Deck if starts_at_centre => from_keel.push(id),
            Toward::Deck => to_deck.push(id),
        }
    }
    to_keel.reverse();
    [from_keel, to_keel, to_deck].concat()
}

fn courses_inside_out(hull: &Hull, panel: PanelId) -> Vec<CourseId> {
    let courses = hull.courses().filter(|(_, course)| course.panel == panel);
    let mut ids: Vec<CourseId> = courses.map(|(id, _)| id).collect();
    if hull.panel(panel).toward == Toward::Keel {
        ids.reverse();
    }
    ids
}
