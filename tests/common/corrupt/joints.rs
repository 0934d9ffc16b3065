//! Rules 5, 6 and 7: joints where they must not be.

use twinstrake::hull::{Side, Zone};
use twinstrake::plan::Piece;
use twinstrake::units::S;

use super::super::builder::mm;
use super::hands::{HAIR, Spoiled};

pub(super) fn joint_into_a_zone(s: &mut Spoiled) -> Option<()> {
    let over = |s: &Spoiled, p: &Piece| -> Option<S> {
        let course = s.job.hull.course(p.course);
        let zones = s.job.hull.keep_clear.iter();
        let mut over = zones.filter(|zone| zone.covers(course));
        over.find_map(|zone| {
            let middle = course.s_at(zone.from + (zone.to - zone.from) * 0.5);
            let inside = middle > S::ORIGIN && middle < S::at(course.length);
            inside.then_some(middle)
        })
    };
    let row = s.draw(|s, p| s.joint_behind(p) && over(s, p).is_some())?;
    let piece = s.plan.pieces[row].clone();
    let by = over(s, &piece)? - s.overlap_centre(&piece);
    s.move_joint(piece.course, piece.number, None, by);
    Some(())
}

pub(super) fn zone_over_a_joint(s: &mut Spoiled) -> Option<()> {
    let row = s.draw(|s, p| s.joint_behind(p))?;
    let piece = s.plan.pieces[row].clone();
    let course = s.job.hull.course(piece.course);
    let edge = course.x_at(piece.to);
    let zone = Zone {
        name: Some("thwart".into()),
        panel: course.panel,
        courses: Some((course.number, course.number)),
        from: edge - mm(HAIR),
        to: edge + mm(200.0),
    };
    s.job.hull.keep_clear.push(zone);
    Some(())
}

/// Draws a joint that has a neighbour it must keep clear of, and gives how far apart they are along the boat.
fn near_joints(s: &mut Spoiled) -> Option<(Piece, Piece)> {
    let neighbour = |s: &Spoiled, p: &Piece| -> Option<Piece> {
        let course = s.job.hull.course(p.course);
        let near = s.job.rules.joints.clear_courses;
        let mut pieces = s.plan.pieces.iter();
        let found = pieces.find(|other| {
            let there = s.job.hull.course(other.course);
            let apart = there.number.abs_diff(course.number);
            let meet = other.side == p.side || other.side == Side::Centre || p.side == Side::Centre;
            there.panel == course.panel
                && (1..=near).contains(&apart)
                && meet
                && s.joint_behind(other)
        });
        found.cloned()
    };
    let row = s.draw(|s, p| s.joint_behind(p) && neighbour(s, p).is_some())?;
    let piece = s.plan.pieces[row].clone();
    let other = neighbour(s, &piece)?;
    Some((piece, other))
}

pub(super) fn joints_side_by_side(s: &mut Spoiled) -> Option<()> {
    let (piece, other) = near_joints(s)?;
    let there = s
        .job
        .hull
        .course(other.course)
        .x_at(s.overlap_centre(&other));
    let here = s.job.hull.course(piece.course).s_at(there);
    let by = here - s.overlap_centre(&piece);
    s.move_joint(piece.course, piece.number, None, by);
    Some(())
}

pub(super) fn joints_a_hair_too_near(s: &mut Spoiled) -> Option<()> {
    let (piece, other) = near_joints(s)?;
    let on_boat = |p: &Piece| s.job.hull.course(p.course).x_at(s.overlap_centre(p));
    s.job.rules.joints.clear = (on_boat(&piece) - on_boat(&other)).abs() + mm(HAIR);
    Some(())
}

pub(super) fn too_short_a_piece(s: &mut Spoiled) -> Option<()> {
    let shortest = s.job.rules.joints.shortest_piece;
    let row = s.draw(|s, p| p.number == 1 && s.joint_behind(p))?;
    let piece = s.plan.pieces[row].clone();
    let by = S::at(shortest) - mm(HAIR) - s.overlap_centre(&piece);
    s.move_joint(piece.course, 1, None, by);
    Some(())
}

pub(super) fn longer_shortest_piece(s: &mut Spoiled) -> Option<()> {
    let row = s.draw(|s, p| p.number == 1 && s.joint_behind(p))?;
    let piece = s.plan.pieces[row].clone();
    s.job.rules.joints.shortest_piece = s.overlap_centre(&piece).from_origin() + mm(HAIR);
    Some(())
}

pub(super) fn one_joint_too_many(s: &mut Spoiled) -> Option<()> {
    let row = s.draw(|s, p| s.joint_behind(p))?;
    let piece = &s.plan.pieces[row];
    let joints = s.pieces_in(piece.course, piece.side) as u32 - 1;
    s.job.rules.joints.most = joints - 1;
    Some(())
}
