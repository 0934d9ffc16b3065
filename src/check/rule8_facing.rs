//! Rule 8: a strip lies as wood can, bead and cove the given way round, and mates from one board open like a book.

use super::breach::{Breach, Wrong};
use super::rows::Rows;
use crate::hull::{Kind, Side};
use crate::plan::{Edges, Face, Facing, Piece};

pub(super) fn breaches(rows: &Rows) -> Vec<Breach> {
    let mut found = Vec::new();
    for piece in &rows.plan.pieces {
        possible(rows, piece, &mut found);
    }
    for (id, course) in rows.job.hull.courses() {
        if course.kind == Kind::Centre {
            continue;
        }
        let sides = (rows.run(id, Side::Port), rows.run(id, Side::Starboard));
        let (Some(port), Some(starboard)) = sides else {
            continue;
        };
        for piece in &port.pieces {
            for mate in &starboard.pieces {
                if piece.number == mate.number {
                    found.extend(opened(rows, piece, mate));
                    found.extend(opened(rows, mate, piece));
                }
            }
        }
    }
    found
}

fn possible(rows: &Rows, piece: &Piece, found: &mut Vec<Breach>) {
    let toward = rows.job.hull.panel_of(piece.course).toward;
    let facing = Facing {
        bow_end: piece.bow_end,
        face_out: piece.face_out,
    };
    let edge = facing.next_edge(piece.side, toward);
    if piece.next_edge != edge {
        found.push(rows.piece_breach(piece, Wrong::Reflected(edge)));
    }
    if let Edges::BeadAndCove { next_edge: edge } = rows.job.rules.edges
        && piece.next_edge != edge
    {
        found.push(rows.piece_breach(piece, Wrong::WrongEdge(edge)));
    }
}

/// Of mates from one board the one with the lower seq shows its high face, the other its low face: the saw cut between
/// them, opened.
fn opened(rows: &Rows, piece: &Piece, mate: &Piece) -> Option<Breach> {
    let one = rows.job.stock.strip(piece.strip).origin?;
    let other = rows.job.stock.strip(mate.strip).origin?;
    if one.board != other.board || one.seq == other.seq {
        return None;
    }
    let face = if one.seq < other.seq {
        Face::High
    } else {
        Face::Low
    };
    (piece.face_out != face).then(|| {
        let mate = rows.strip_name(mate);
        rows.piece_breach(piece, Wrong::WrongFace { mate, face })
    })
}
