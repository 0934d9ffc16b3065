//! What the log says is laid, held against the rules before anything else: a piece that was never glued on like that.

use crate::check::{Breach, Part, Tip, Wrong, check};
use crate::hull::{CourseId, Side};
use crate::job::{Complaint, Job, Reading};
use crate::log::{FILE, Spot};
use crate::plan::{Piece, Plan};

/// Judges the pieces on the boat by themselves, whatever is still missing beside them.
///
/// Errors: a complaint for each rule that they break among themselves, at the line of the log that says so.
pub(super) fn judged(reading: &Reading) -> Result<(), Vec<Complaint>> {
    let job = Job {
        earlier: None,
        ..reading.job.clone()
    };
    if job.laid.is_empty() {
        return Ok(());
    }
    let begun = |id: &CourseId| job.laid.iter().any(|piece| piece.course == *id);
    let bare = job.hull.courses().map(|(id, _)| id).filter(|id| !begun(id));
    let plan = Plan {
        uncovered: bare.collect(),
        pieces: job.laid.clone(),
    };
    let breaches = check(&job, &plan).breaches;
    let complaints: Vec<Complaint> = breaches
        .iter()
        .filter(|breach| is_of_what_lies(&job, breach))
        .map(|breach| complaint(reading, breach))
        .collect();
    match complaints.is_empty() {
        true => Ok(()),
        false => Err(complaints),
    }
}

/// Whether a breach is one of pieces that lie, and not of those that are still to come.
fn is_of_what_lies(job: &Job, breach: &Breach) -> bool {
    let here = pieces(job, breach);
    let in_a_row = here
        .windows(2)
        .all(|two| two[0].number + 1 == two[1].number);
    match &breach.wrong {
        Wrong::NotCovered
        | Wrong::LeftOutButLaid(_)
        | Wrong::LeftOutTwice
        | Wrong::NumbersMissing(..)
        | Wrong::PieceCounts { .. }
        | Wrong::OtherMate { .. } => false,
        Wrong::EndNotReached { tip: Tip::Bow, .. } => here.iter().any(|piece| piece.number == 1),
        Wrong::EndNotReached {
            tip: Tip::Stern, ..
        } => here
            .iter()
            .any(|piece| piece.to.nm() >= job.hull.course(piece.course).length.nm()),
        Wrong::Hole { .. }
        | Wrong::Scarf { .. }
        | Wrong::InZone { .. }
        | Wrong::TooNear { .. }
        | Wrong::TooShort { .. } => in_a_row,
        _ => true,
    }
}

/// The laid pieces of the course, and of the side where one is named, that a breach is about, from the bow.
fn pieces<'j>(job: &'j Job, breach: &Breach) -> Vec<&'j Piece> {
    let at = &breach.at;
    let on = |side: Side| at.side.is_none_or(|named| named == side);
    let mut here: Vec<&Piece> = job
        .laid
        .iter()
        .filter(|piece| {
            let course = job.hull.course(piece.course);
            job.hull.panel_of(piece.course).name == at.panel && course.name() == at.course
        })
        .filter(|piece| on(piece.side))
        .collect();
    here.sort_by_key(|piece| (piece.side, piece.number));
    here
}

fn complaint(reading: &Reading, breach: &Breach) -> Complaint {
    let here = pieces(&reading.job, breach);
    let number = match breach.at.part {
        Part::Piece(number) | Part::Joint(number) => Some(number),
        Part::Course => None,
    };
    let piece = here
        .iter()
        .find(|piece| number.is_none_or(|number| piece.number == number))
        .or(here.first());
    let line = reading.log.as_ref().zip(piece).and_then(|(log, piece)| {
        let glued = log.standing.at(&Spot::of(piece))?;
        log.lines.get(glued.entry.checked_sub(1)?).copied()
    });
    let told = breach.to_string();
    Complaint {
        line,
        seen: Some("laid".into()),
        ..Complaint::of(
            FILE,
            format!("can't be. {}", told.trim_end_matches('.')),
            "Write the row as the piece really lies; where boat.toml was changed since it was glued on, change that back.",
        )
    }
}
