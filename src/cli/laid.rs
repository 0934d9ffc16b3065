//! What the log says is laid, held against the rules before anything else: a piece that was never glued on like that,
//! or one beside which its course can't be finished.

use twinstrake::check::{Breach, check_laid};
use twinstrake::job::{Complaint, Reading};
use twinstrake::log::{FILE, Spot};
use twinstrake::plan::Piece;

/// Judges the pieces on the boat by themselves, whatever is still missing beside them.
///
/// Errors: a complaint for each rule that they break, or that any piece beside them would, at the line of the log that
/// says so.
pub fn judged(reading: &Reading) -> Result<(), Vec<Complaint>> {
    let complaints: Vec<Complaint> = check_laid(&reading.job)
        .iter()
        .map(|(breach, piece)| complaint(reading, breach, piece))
        .collect();
    match complaints.is_empty() {
        true => Ok(()),
        false => Err(complaints),
    }
}

fn complaint(reading: &Reading, breach: &Breach, piece: &Piece) -> Complaint {
    let line = reading.log.as_ref().and_then(|log| {
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
            "Write the row as the piece really lies; where boat.toml was changed since it was glued on, change that \
            back.",
        )
    }
}
