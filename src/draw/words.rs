//! What the drawing says about a piece.

use super::fit::Wording;
use crate::hull::{Course, Side};
use crate::job::{Job, Stage};
use crate::plan::Piece;
use crate::untrusted::clean;

/// What is written on a piece, the fullest wording first and the strip alone last.
pub fn on_piece(job: &Job, piece: &Piece) -> Vec<Wording> {
    let strip = &job.stock.strip(piece.strip).name;
    let number = piece.number;
    let (end, edge, face) = (
        piece.bow_end.name(),
        piece.next_edge.name(),
        piece.face_out.name(),
    );
    let next = job.hull.next_or_free(piece.course);
    let more = [
        format!("piece {number} · {end} to bow · {edge} {next} · {face} out"),
        format!("{number} · {end} · {edge} · {face}"),
        String::new(),
    ];
    let wordings = more.into_iter().map(|more| Wording {
        name: strip.clone(),
        more,
    });
    wordings.collect()
}

/// What the pointer tells of a piece, a line each thing.
pub fn told(job: &Job, order: usize, piece: &Piece) -> String {
    let course = job.hull.course(piece.course);
    let unit = job.unit;
    let strip = job.stock.strip(piece.strip);
    let mate = piece.mate.map(|mate| &job.stock.strip(mate).name);
    let mut lines = vec![
        format!("{}, piece {}", place(job, course, piece.side), piece.number),
        match mate {
            Some(mate) => format!("strip {}, mate {mate}", strip.name),
            None => format!("strip {}, no mate", strip.name),
        },
        format!(
            "cut from {} to {}, measured from the strip's marked end",
            unit.shop(piece.cut_from.from_origin()),
            unit.shop(piece.cut_to.from_origin())
        ),
        format!(
            "{} end to the bow, edge {} {}, {} face out",
            piece.bow_end.name(),
            piece.next_edge.name(),
            match job.hull.next_or_free(piece.course) {
                "free" => "free",
                _ => "to the next course",
            },
            piece.face_out.name()
        ),
        format!("number {order} in the order of laying"),
    ];
    match job.stage(piece) {
        Stage::Planned => {}
        Stage::Cut => lines.push("cut already".into()),
        Stage::Laid => lines.push("laid already".into()),
    }
    if !strip.grain.is_empty() {
        lines.push(format!("grain: {}", clean(&strip.grain)));
    }
    lines.join("\n")
}

/// What the pointer tells of an open course.
pub fn told_open(job: &Job, course: &Course, side: Side) -> String {
    format!(
        "{}\nopen: nothing in the rack covers it\n{} along the skin, without allowances",
        place(job, course, side),
        job.unit.shop(course.length)
    )
}

fn place(job: &Job, course: &Course, side: Side) -> String {
    let panel = &job.hull.panel(course.panel).name;
    format!("{panel} course {}, {}", course.name(), side.name())
}
