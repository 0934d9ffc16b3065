//! Rule 10: a want that the plan goes against.

use rand::RngExt;
use twinstrake::hull::{Course, Side};
use twinstrake::plan::{Piece, Want};

use super::hands::Spoiled;

fn want(course: &Course, strips: Vec<String>) -> Want {
    Want {
        name: "a late wish".into(),
        panel: course.panel,
        courses: Some((course.number, course.number)),
        wood: None,
        boards: Vec::new(),
        strips,
        keep: false,
        accent: None,
        port: None,
    }
}

fn name(s: &Spoiled, piece: &Piece) -> String {
    s.job.stock.strip(piece.strip).name.clone()
}

pub(super) fn other_wood(s: &mut Spoiled) -> Option<()> {
    let (one, other) = s.two_strips()?;
    let other = name(s, &s.plan.pieces[other]);
    let course = s.job.hull.course(s.plan.pieces[one].course);
    let late = want(course, vec![other]);
    s.job.wants.push(late);
    Some(())
}

/// A strip of one course is kept for a course of another number.
pub(super) fn kept_elsewhere(s: &mut Spoiled) -> Option<()> {
    let row = s.any_row()?;
    let piece = s.plan.pieces[row].clone();
    let here = s.job.hull.course(piece.course);
    let others: Vec<&Course> = s
        .job
        .hull
        .courses
        .iter()
        .filter(|c| (c.panel, c.number) != (here.panel, here.number))
        .collect();
    if others.is_empty() || s.job.wants.iter().any(|want| want.keep) {
        return None;
    }
    let mut late = want(
        others[s.rng.random_range(0..others.len())],
        vec![name(s, &piece)],
    );
    late.keep = true;
    s.job.wants.push(late);
    Some(())
}

pub(super) fn wrong_way_across(s: &mut Spoiled) -> Option<()> {
    let row = s.draw(|_, piece| piece.side == Side::Port && piece.mate.is_some())?;
    let piece = s.plan.pieces[row].clone();
    let mate = s.job.stock.strip(piece.mate?).name.clone();
    let mut late = want(
        s.job.hull.course(piece.course),
        vec![name(s, &piece), mate.clone()],
    );
    late.port = Some(mate);
    s.job.wants.push(late);
    Some(())
}
