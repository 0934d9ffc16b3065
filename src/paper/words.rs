//! The words for what is done with a piece, alike on labels, sheets and the screen at the bench.

use super::facts::{self, BoatEnd, Meets};
use crate::hull::{End, Side};
use crate::job::Job;
use crate::plan::{Piece, Plan};
use crate::units::{Length, Unit};

/// Where this end of the piece lies on the strip.
pub fn cut(job: &Job, piece: &Piece, end: BoatEnd) -> String {
    let name = facts::strip_end(piece, end).spoken();
    match facts::cut_at(piece, end) {
        at if facts::needs_no_cut(job, piece, at) => format!("{name} end, no cut"),
        at => format!("{name} end, cut at {}", job.unit.shop(at.from_origin())),
    }
}

/// How an end of a piece is made, and against what.
pub fn end(job: &Job, plan: &Plan, piece: &Piece, end: BoatEnd) -> String {
    let name = end.name();
    match facts::meets(job, plan, piece, end) {
        Meets::Course(at @ End::Fitted) if facts::laid_second(plan, piece) => {
            let course = job.hull.course(piece.course).name();
            let other = match piece.side {
                Side::Port => "starboard",
                _ => "port",
            };
            let over = over(job, at);
            format!("{name} end fitted against course {course} {other}, {over} over")
        }
        Meets::Course(at) => format!("{name} end {}, {} over", at.name(), over(job, at)),
        Meets::Joint(number) => format!("{name} end joined to piece {number}"),
    }
}

/// How much of a piece is left over at the end of its course.
pub(super) fn over(job: &Job, at: End) -> String {
    job.unit.shop(job.rules.allowance(at))
}

/// A width to a tenth of a millimetre, or to a sixteenth of an inch.
pub fn width(job: &Job, width: Length) -> String {
    match job.unit {
        Unit::Mm => format!("{:.1} mm", width.mm()),
        unit => unit.shop(width),
    }
}
