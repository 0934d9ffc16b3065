//! Rule 10: what the builder wants lies where it is wanted, and what is kept for a place lies nowhere else.

use super::breach::{Breach, Wrong};
use super::rows::Rows;
use crate::plan::{Piece, Want};

pub(super) fn breaches(rows: &Rows) -> Vec<Breach> {
    let mut found = Vec::new();
    for run in rows.runs() {
        for piece in run.pieces.iter().filter(|piece| !is_laid(rows, piece)) {
            let named = |want: &&Want| want.names(&rows.job.stock, piece.strip);
            let wants = &rows.job.wants;
            for want in wants.iter().filter(|want| want.covers(run.course)) {
                let wrong = if !named(&want) {
                    Wrong::NotWanted {
                        want: want.name.clone(),
                        named: want.named(),
                    }
                } else if !want.allows(&rows.job.stock, piece.strip, piece.side) {
                    Wrong::WantedAcross {
                        want: want.name.clone(),
                        side: piece.side.across(),
                    }
                } else {
                    continue;
                };
                found.push(rows.piece_breach(piece, wrong));
            }
            let mut keepers = wants.iter().filter(|want| want.keep).filter(named);
            let Some(keeper) = keepers.clone().next() else {
                continue;
            };
            if !keepers.any(|want| want.covers(run.course)) {
                let wrong = Wrong::Kept(keeper.name.clone());
                found.push(rows.piece_breach(piece, wrong));
            }
        }
    }
    found
}

/// What is glued on counts as it lies.
fn is_laid(rows: &Rows, piece: &Piece) -> bool {
    let same = |laid: &Piece| {
        (laid.course, laid.side, laid.number, laid.strip)
            == (piece.course, piece.side, piece.number, piece.strip)
    };
    rows.job.laid.iter().any(same)
}
