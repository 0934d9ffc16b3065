//! A label for one end of one piece: what it says.

mod arrangement;
mod face;
mod parts;
mod tag;

pub use face::{Room, back, front};
pub use tag::Tag;

use super::About;
use super::facts::{self, BoatEnd, Meets, Way};
use super::words::{self, over};
use crate::hull::Side;
use crate::job::Job;
use crate::plan::{BowEnd, Edge, Face, Piece, Plan};
use crate::units::Length;

/// Said of a strip whose board is not sawn yet.
const NOT_SAWN: &str = "not sawn yet";

/// Longest name of a panel, and of a form, that is written out on a label. Unit: characters.
const PANEL: usize = 20;
const NAMED: usize = 12;
/// The same of a panel on the smallest labels.
const LEAST: usize = 7;

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
    /// Whether a course is glued to it.
    pub has_next: bool,
    /// The face that is seen.
    pub face_out: Face,
    /// What is said besides, in parts that can stand in one line or in several.
    pub parts: Vec<String>,
    /// The same in fewer words, for small labels.
    pub short: Vec<String>,
    /// What even the smallest label must say.
    pub least: Vec<String>,
    /// What is said besides that is no measure, and the measures: the place on the strip, what is left over, the
    /// length, the forms.
    pub told: Vec<String>,
    /// See `told`.
    pub measures: Vec<Length>,
    /// Whether nothing in the rack could stand in for the strip.
    pub no_spare: bool,
}

impl Label {
    /// The label for an end of a piece.
    pub fn of(job: &Job, plan: &Plan, about: &About, piece: &Piece, end: BoatEnd) -> Label {
        let strip = job.stock.strip(piece.strip);
        let strip_end = facts::strip_end(piece, end);
        let panel = &job.hull.panel_of(piece.course).name;
        let length = job.unit.shop(facts::length(piece));
        let meets = facts::meets(job, plan, piece, end);
        let forms = nearest_forms(job, piece, end);
        let mut parts = vec![
            words::cut(job, piece, end),
            said(job, meets),
            format!("length {length}"),
        ];
        parts.extend(
            forms
                .iter()
                .map(|(form, at)| format!("form {form} at {}", job.unit.shop(*at))),
        );
        parts.push(parts::short(panel, PANEL));
        let mut short = vec![
            cut_short(job, piece, end),
            said_short(job, meets),
            format!("{length} long"),
        ];
        short.extend(
            forms
                .iter()
                .take(1)
                .map(|(form, at)| format!("form {form}: {}", job.unit.shop(*at))),
        );
        short.push(parts::short(panel, NAMED));
        let least = vec![
            cut_short(job, piece, end),
            said_short(job, meets),
            format!("{length} · {}", parts::short(panel, LEAST)),
        ];
        if strip.promised {
            parts.push(NOT_SAWN.into());
            short.push(NOT_SAWN.into());
        }
        let (meets, over) = match meets {
            Meets::Joint(number) => (format!("joint to piece {number}"), None),
            Meets::Course(at) => (at.name().into(), Some(job.rules.allowance(at))),
        };
        let mut told = vec![strip_end.spoken().to_owned(), meets];
        told.extend(forms.iter().map(|(form, _)| format!("form {form}")));
        let mut measures = vec![
            facts::cut_at(piece, end).from_origin(),
            facts::length(piece),
        ];
        measures.extend(over);
        measures.extend(forms.iter().map(|(_, at)| *at));
        Label {
            told,
            measures,
            strip: strip.name.clone(),
            side: piece.side,
            place: facts::course_and_piece(job, piece),
            panel: panel.clone(),
            end,
            strip_end,
            next: facts::next_way(job, piece),
            next_edge: piece.next_edge,
            has_next: facts::has_next(job, piece),
            face_out: piece.face_out,
            parts,
            short,
            least,
            no_spare: about.no_spare.contains(&piece.strip),
        }
    }

    /// Lines of their own, in heavy type.
    fn heads(&self) -> Vec<String> {
        let mut heads = vec![format!("this face out: {}", self.face_out.name())];
        if self.no_spare {
            heads.push("NO SPARE".into());
        }
        heads
    }

    /// The same in one line.
    fn short_heads(&self) -> Vec<String> {
        let spare = if self.no_spare { ", NO SPARE" } else { "" };
        vec![format!("{} out{spare}", self.face_out.name())]
    }

    /// The mark to pencil on the piece, in plain ASCII, and the end: `[P]12.1 bow`.
    pub fn mark(&self) -> String {
        let side = self.side.pencilled();
        format!("{side}{} {}", self.place, self.end.name())
    }

    /// What the label says besides strip, mark and measures, in a line.
    pub fn words(&self) -> String {
        let next = match self.next {
            Way::Up => "up",
            Way::Down => "down",
        };
        let what = if self.has_next { "next" } else { "free" };
        let mut all = vec![
            self.panel.clone(),
            format!("{} out", self.face_out.name()),
            format!("{what} {} {next}", self.next_edge.name()),
        ];
        all.extend(self.told.iter().cloned());
        all.join("; ")
    }
}

fn cut_short(job: &Job, piece: &Piece, end: BoatEnd) -> String {
    let name = facts::strip_end(piece, end).spoken();
    let at = facts::cut_at(piece, end).from_origin();
    format!("{name} end {}", job.unit.shop(at))
}

fn said(job: &Job, meets: Meets) -> String {
    match meets {
        Meets::Joint(number) => format!("joint to piece {number}"),
        Meets::Course(at) => format!("{} end, {} over", at.name(), over(job, at)),
    }
}

fn said_short(job: &Job, meets: Meets) -> String {
    match meets {
        Meets::Joint(number) => format!("joint to {number}"),
        Meets::Course(at) => format!("{} +{}", at.name(), over(job, at)),
    }
}

/// The two forms nearest to this end, and how far from it each is crossed.
fn nearest_forms(job: &Job, piece: &Piece, end: BoatEnd) -> Vec<(String, Length)> {
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
        (parts::short(&mark.form, NAMED), away)
    });
    marks.collect()
}
