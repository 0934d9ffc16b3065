//! Rule 8: strips laid as wood can't lie, or should not.

use twinstrake::plan::{Edge, Edges, Face};

use super::hands::{Spoiled, facing};

pub(super) fn flip_edge(s: &mut Spoiled) -> Option<()> {
    let row = s.any_row()?;
    let piece = s.row(row);
    piece.next_edge = match piece.next_edge {
        Edge::A => Edge::B,
        Edge::B => Edge::A,
    };
    Some(())
}

pub(super) fn flip_face(s: &mut Spoiled) -> Option<()> {
    let row = s.any_row()?;
    let piece = s.row(row);
    piece.face_out = other_face(piece.face_out);
    Some(())
}

/// Rolls a piece over: the other face out, the same end to the bow, as wood can lie.
fn roll(s: &mut Spoiled, row: usize) {
    let toward = s.job.hull.panel_of(s.plan.pieces[row].course).toward;
    let piece = s.row(row);
    piece.face_out = other_face(piece.face_out);
    piece.next_edge = facing(piece).next_edge(piece.side, toward);
}

pub(super) fn roll_one_mate(s: &mut Spoiled) -> Option<()> {
    let row = s.draw(Spoiled::in_one_board)?;
    roll(s, row);
    Some(())
}

/// Both mates roll over: the saw cut nearest to both is inside.
pub(super) fn swap_faces(s: &mut Spoiled) -> Option<()> {
    let row = s.draw(Spoiled::in_one_board)?;
    let mate = s.mate_of(&s.plan.pieces[row])?;
    roll(s, row);
    roll(s, mate);
    Some(())
}

pub(super) fn upside_down(s: &mut Spoiled) -> Option<()> {
    if s.job.rules.edges == Edges::Square {
        return None;
    }
    let row = s.any_row()?;
    let mate = s.mate_of(&s.plan.pieces[row]);
    s.turn(row);
    if let Some(mate) = mate {
        s.turn(mate);
    }
    Some(())
}

fn other_face(face: Face) -> Face {
    match face {
        Face::High => Face::Low,
        Face::Low => Face::High,
    }
}
