//! The sheet of paper: which course lies where on it.
//!
//! The whole skin is opened flat along its upper edges and seen from outside, bow to the left: port above, starboard
//! below, the keel between. Seen so, courses toward the keel run inwards and courses toward the deck outwards on both sides, which
//! is the frame f × n = h·e of the model. Lengths are to scale; widths are as wide as they can be read.

use crate::hull::{Course, CourseId, Hull, Kind, PanelId, Side, Toward};
use crate::job::Job;
use crate::units::X;

/// Width of the sheet: an A3 page on its side. Unit: millimetre of paper, as everywhere here.
pub const WIDTH: f64 = 420.0;
/// Least height of the sheet: the same page.
const HEIGHT: f64 = 297.0;
/// Blank paper along the edges.
pub const MARGIN: f64 = 12.0;
/// Where the drawing begins: below the heading and the upper ruler.
const ABOVE: f64 = 38.0;
/// What is left below the drawing for the lower ruler and the legend.
const BELOW: f64 = 51.0;
/// Room for the names of the panels and the marks at the bow.
const FORWARD: f64 = 32.0;
/// Room for course numbers and colour steps at the stern.
const AFT: f64 = 30.0;
/// Between two panels.
const BETWEEN_PANELS: f64 = 2.4;
/// Between the two sides where no centre course lies between them, and on each side of one that does.
const BETWEEN_SIDES: f64 = 1.6;
/// Narrowest and widest that a course is drawn. Why 3.2: the letter in its mark is then about 2 mm.
const PITCH: (f64, f64) = (3.2, 8.0);

/// One course on one side.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Row {
    /// The course.
    pub course: CourseId,
    /// The side.
    pub side: Side,
    /// Its upper edge.
    pub top: f64,
}

/// All courses of a panel on one side.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Band {
    /// The panel.
    pub panel: PanelId,
    /// The side.
    pub side: Side,
    /// Its upper edge.
    pub top: f64,
    /// Its lower edge.
    pub bottom: f64,
}

/// Where everything lies.
#[derive(Clone, PartialEq, Debug)]
pub struct Sheet {
    /// Height of the paper.
    pub height: f64,
    /// How wide a course is drawn.
    pub pitch: f64,
    /// Where the two sides mirror each other.
    pub centreline: f64,
    /// Upper and lower edge of the drawing.
    pub span: (f64, f64),
    /// Every course on every side, from the top.
    pub rows: Vec<Row>,
    /// Places on the starboard half left empty by a centre course that is drawn on the port half.
    pub blanks: Vec<Row>,
    /// Every panel on each side, from the top.
    pub bands: Vec<Band>,
    /// The boat's foremost and aftmost place drawn.
    pub ends: (X, X),
}

impl Sheet {
    /// Lays out the sheet for a job.
    pub fn of(job: &Job) -> Sheet {
        let hull = &job.hull;
        let stack = Stack::of(hull);
        let gaps = stack.gaps();
        let room = HEIGHT - ABOVE - BELOW;
        let rows = (stack.middle.len() + 2 * stack.bands(hull)).max(1);
        let pitch = ((room - 2.0 * gaps) / rows as f64).clamp(PITCH.0, PITCH.1);
        let tall = rows as f64 * pitch + 2.0 * gaps;
        let height = HEIGHT.max(tall + ABOVE + BELOW);
        let top = ABOVE + (height - ABOVE - BELOW - tall) / 2.0;
        let mut sheet = Sheet {
            height,
            pitch,
            centreline: top + tall / 2.0,
            span: (top, top + tall),
            rows: Vec::new(),
            blanks: Vec::new(),
            bands: Vec::new(),
            ends: ends(hull),
        };
        sheet.fill(hull, &stack);
        sheet
    }

    fn fill(&mut self, hull: &Hull, stack: &Stack) {
        let (pitch, line) = (self.pitch, self.centreline);
        let middle = stack.middle.len() as f64 * pitch / 2.0;
        for (n, course) in stack.middle.iter().enumerate() {
            self.rows.push(Row {
                course: *course,
                side: Side::Centre,
                top: line + middle - (n + 1) as f64 * pitch,
            });
        }
        let mut out = middle + BETWEEN_SIDES;
        let mut last: Option<(PanelId, u32)> = None;
        for course in &stack.half {
            let Course {
                panel,
                number,
                kind,
                ..
            } = *hull.course(*course);
            match last {
                // Stretches of one band lie in one row.
                Some(last) if last == (panel, number) => {}
                Some((last, _)) if last != panel => out += pitch + BETWEEN_PANELS,
                Some(_) => out += pitch,
                None => {}
            }
            last = Some((panel, number));
            for side in [Side::Port, Side::Starboard] {
                let top = match side {
                    Side::Starboard => line + out,
                    _ => line - out - pitch,
                };
                self.widen_band(panel, side, top);
                // A centre course that is not between the sides is drawn once, on the half whose frame it takes.
                let (rows, side) = match (kind, side) {
                    (Kind::Mirrored, side) => (&mut self.rows, side),
                    (Kind::Centre, Side::Port) => (&mut self.rows, Side::Centre),
                    (Kind::Centre, _) => (&mut self.blanks, Side::Centre),
                };
                rows.push(Row {
                    course: *course,
                    side,
                    top,
                });
            }
        }
        self.rows.sort_by(|a, b| a.top.total_cmp(&b.top));
        self.bands.sort_by(|a, b| a.top.total_cmp(&b.top));
    }

    fn widen_band(&mut self, panel: PanelId, side: Side, top: f64) {
        let bottom = top + self.pitch;
        let mut bands = self.bands.iter_mut();
        match bands.find(|band| band.panel == panel && band.side == side) {
            Some(band) => {
                band.top = band.top.min(top);
                band.bottom = band.bottom.max(bottom);
            }
            None => self.bands.push(Band {
                panel,
                side,
                top,
                bottom,
            }),
        }
    }

    /// Where a place on the boat lies on the paper; places beyond the drawing lie at its edge.
    pub fn x(&self, place: X) -> f64 {
        let (from, to) = self.ends;
        let span = (to.mm() - from.mm()).max(1.0);
        let part = (place.mm() - from.mm()) / span;
        let (left, right) = self.sides();
        left + part.clamp(0.0, 1.0) * (right - left)
    }

    /// Left and right edge of the drawing.
    pub fn sides(&self) -> (f64, f64) {
        (MARGIN + FORWARD, WIDTH - MARGIN - AFT)
    }

    /// How many millimetres of boat a millimetre of paper stands for, lengthwise.
    pub fn scale(&self) -> f64 {
        let (left, right) = self.sides();
        (self.ends.1.mm() - self.ends.0.mm()) / (right - left)
    }

    /// The row of a course on a side.
    pub fn row(&self, course: CourseId, side: Side) -> Option<&Row> {
        let mut rows = self.rows.iter();
        rows.find(|row| row.course == course && row.side == side)
    }
}

/// The courses from the centreline outwards.
struct Stack {
    /// Centre courses on the centreline, from the lowest on the paper.
    middle: Vec<CourseId>,
    /// Courses of one half, from the centreline outwards.
    half: Vec<CourseId>,
    panels: usize,
}

impl Stack {
    fn of(hull: &Hull) -> Stack {
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

    /// How many bands one half has: stretches of one band lie in one row.
    fn bands(&self, hull: &Hull) -> usize {
        let band = |course: &CourseId| (hull.course(*course).panel, hull.course(*course).number);
        self.half
            .chunk_by(|one, other| band(one) == band(other))
            .count()
    }

    /// The room between panels and sides on one half.
    fn gaps(&self) -> f64 {
        self.panels.saturating_sub(1) as f64 * BETWEEN_PANELS + BETWEEN_SIDES
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

/// The bow, or what lies ahead of it, and the aftmost end of any course.
fn ends(hull: &Hull) -> (X, X) {
    let from = hull.courses.iter().map(|course| course.from).min();
    let to = hull.courses.iter().map(|course| course.to).max();
    (
        from.unwrap_or(X::ORIGIN).min(X::ORIGIN),
        to.unwrap_or(X::ORIGIN).max(X::ORIGIN),
    )
}
