//! A label for one end of one piece: what it says.

mod face;
mod parts;

pub use face::{Room, back, front};

use super::About;
use super::facts::{self, BoatEnd, Meets, Way};
use crate::hull::{End, Side};
use crate::job::Job;
use crate::plan::{BowEnd, Edge, Face, Piece, Plan};
use crate::units::{Length, U};

/// Longest name of a panel or form that is written out on a label. Unit: characters.
const NAMED: usize = 14;

/// What a label says. It holds nothing of the plan as a whole, so that a label stays right as long as its piece does.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Label {
    /// The strip.
    pub strip: String,
    /// The side of the boat.
    pub side: Side,
    /// Course and piece, as `12.1`.
    pub place: String,
    /// The panel.
    pub panel: String,
    /// The end of the boat that this end of the piece lies toward.
    pub end: BoatEnd,
    /// Which end of the strip that is.
    pub strip_end: BowEnd,
    /// Where the next course lies, with the outside toward the eye and the bow to the left.
    pub next: Way,
    /// The edge there.
    pub next_edge: Edge,
    /// The face that is seen.
    pub face_out: Face,
    /// What is said besides, in parts that can stand in one line or in several.
    pub parts: Vec<String>,
    /// Whether nothing in the rack could stand in for the strip.
    pub no_spare: bool,
}

impl Label {
    /// The label for an end of a piece.
    pub fn of(job: &Job, plan: &Plan, about: &About, piece: &Piece, end: BoatEnd) -> Label {
        let strip = job.stock.strip(piece.strip);
        let strip_end = facts::strip_end(piece, end);
        let mut parts = vec![
            format!("this face out: {}", piece.face_out.name()),
            format!(
                "{} end, cut at {}",
                parts::strip_end(strip_end),
                at(job, facts::cut_at(piece, end))
            ),
            meets(job, facts::meets(job, plan, piece, end)),
            format!("length {}", job.unit.shop(facts::length(piece))),
        ];
        parts.extend(nearest_forms(job, piece, end));
        Label {
            strip: strip.name.clone(),
            side: piece.side,
            place: facts::course_and_piece(job, piece),
            panel: job.hull.panel_of(piece.course).name.clone(),
            end,
            strip_end,
            next: facts::next_way(job, piece),
            next_edge: piece.next_edge,
            face_out: piece.face_out,
            parts,
            no_spare: about.no_spare.contains(&piece.strip),
        }
    }

    /// The mark to pencil on the piece, in plain ASCII, and the end: `[P]12.1 bow`.
    pub fn mark(&self) -> String {
        let side = match self.side {
            Side::Port => "[P]",
            Side::Starboard => "/S\\",
            Side::Centre => "(C)",
        };
        format!("{side}{} {}", self.place, self.end.name())
    }

    /// Everything else that the label says, in a line: two labels that say the same are the same label.
    pub fn words(&self) -> String {
        let next = match self.next {
            Way::Up => "up",
            Way::Down => "down",
        };
        let mut all = vec![
            self.panel.clone(),
            format!("next {} {next}", self.next_edge.name()),
        ];
        all.extend(self.parts.iter().cloned());
        if self.no_spare {
            all.push("no spare".into());
        }
        all.join("; ")
    }
}

fn at(job: &Job, place: U) -> String {
    job.unit.shop(place.from_origin())
}

fn meets(job: &Job, meets: Meets) -> String {
    let extra = |length: Length| job.unit.shop(length);
    match meets {
        Meets::Joint(number) => format!("joint to piece {number}"),
        Meets::Course(End::Fitted) => {
            format!("fitted end, {} over", extra(job.rules.allow.fitted_end))
        }
        Meets::Course(End::Free) => format!("free end, {} over", extra(job.rules.allow.free_end)),
    }
}

/// The two forms nearest to this end, and how far from it each is crossed.
fn nearest_forms(job: &Job, piece: &Piece, end: BoatEnd) -> Vec<String> {
    let mut forms = facts::forms(job, piece);
    let length = facts::length(piece);
    if end == BoatEnd::Stern {
        forms.reverse();
    }
    let marks = forms.into_iter().take(2).map(|mark| {
        let away = match end {
            BoatEnd::Bow => mark.from_bow_end,
            BoatEnd::Stern => length - mark.from_bow_end,
        };
        format!(
            "form {} at {}",
            parts::short(&mark.form, NAMED),
            job.unit.shop(away)
        )
    });
    marks.collect()
}
