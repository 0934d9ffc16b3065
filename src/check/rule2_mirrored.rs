//! Rule 2: the two sides of a mirrored course have the same pieces, and mates from one board stay in register.

use super::breach::{Breach, Tip, Wrong};
use super::rows::{Rows, Run};
use super::tolerance::same;
use crate::hull::{Kind, Side};
use crate::plan::Piece;
use crate::stock::StripId;

pub(super) fn breaches(rows: &Rows) -> Vec<Breach> {
    let mut found = Vec::new();
    for (id, course) in rows.job.hull.courses() {
        if course.kind == Kind::Centre {
            for piece in rows.runs_of(id).flat_map(|run| &run.pieces) {
                found.extend(other_mate(rows, piece, None));
            }
            continue;
        }
        let (port, starboard) = (rows.run(id, Side::Port), rows.run(id, Side::Starboard));
        let (ports, starboards) = (pieces(port), pieces(starboard));
        if ports.len() != starboards.len() {
            let wrong = Wrong::PieceCounts {
                port: ports.len(),
                starboard: starboards.len(),
            };
            found.push(rows.course_breach(id, None, wrong));
        }
        for piece in ports {
            let mate = numbered(starboards, piece.number);
            found.extend(other_mate(rows, piece, mate.map(|mate| mate.strip)));
            if let Some(mate) = mate {
                in_register(rows, piece, mate, &mut found);
            }
        }
        for piece in starboards {
            let mate = numbered(ports, piece.number);
            found.extend(other_mate(rows, piece, mate.map(|mate| mate.strip)));
        }
    }
    found
}

fn pieces<'r, 'a>(run: Option<&'r Run<'a>>) -> &'r [&'a Piece] {
    run.map_or(&[], |run| &run.pieces)
}

fn numbered<'a>(pieces: &[&'a Piece], number: u32) -> Option<&'a Piece> {
    pieces.iter().find(|piece| piece.number == number).copied()
}

fn other_mate(rows: &Rows, piece: &Piece, found: Option<StripId>) -> Option<Breach> {
    let name = |strip: StripId| rows.job.stock.strip(strip).name.clone();
    (piece.mate != found).then(|| {
        let wrong = Wrong::OtherMate {
            named: piece.mate.map(name),
            found: found.map(name),
        };
        rows.piece_breach(piece, wrong)
    })
}

/// Port is judged against starboard; told of port alone, as the two differ from each other.
fn in_register(rows: &Rows, port: &Piece, starboard: &Piece, found: &mut Vec<Breach>) {
    for (tip, one, other) in [
        (Tip::Bow, port.from, starboard.from),
        (Tip::Stern, port.to, starboard.to),
    ] {
        if !same(one.from_origin(), other.from_origin()) {
            let by = (one - other).abs();
            found.push(rows.piece_breach(port, Wrong::EndsDiffer { tip, by }));
        }
    }
    if port.strip == starboard.strip {
        found.push(rows.piece_breach(port, Wrong::OwnMate));
        return;
    }
    if rows
        .job
        .stock
        .seq_apart(port.strip, starboard.strip)
        .is_none()
    {
        return;
    }
    let mate = rows.strip_name(starboard);
    let by = (port.cut_from - starboard.cut_from)
        .abs()
        .max((port.cut_to - starboard.cut_to).abs());
    if by > super::tolerance::LENGTH {
        let mate = mate.clone();
        found.push(rows.piece_breach(port, Wrong::CutsDiffer { mate, by }));
    }
    if port.bow_end != starboard.bow_end {
        found.push(rows.piece_breach(port, Wrong::BowEndsDiffer(mate)));
    }
}
