//! A state written out as a plan: faces, edges, and the order of laying.

use super::problem::{NONE, Problem, alone};
use super::relabel::face_kept;
use super::state::State;
use super::timber::Part;
use crate::hull::{CourseId, Side};
use crate::job::Job;
use crate::plan::{Face, Facing, Piece, Plan, in_laying_order};
use crate::stock::StripId;
use crate::units::{S, U};

/// The plan that the state amounts to.
pub fn plan(job: &Job, state: &State) -> Plan {
    let mut plan = Plan::default();
    for (id, _) in job.hull.courses() {
        let timber = state.timber(id.0);
        if timber.is_empty() {
            plan.uncovered.push(id);
            // What is glued on of it stays in the plan all the same.
            let here = job.laid.iter().filter(|laid| laid.course == id);
            plan.pieces.extend(here.cloned());
        }
        plan.pieces.extend(rows(job, state.problem, id, timber));
    }
    in_laying_order(&job.hull, &mut plan.pieces);
    plan
}

/// The rows of a course.
pub fn rows(job: &Job, problem: &Problem, id: CourseId, timber: &[Part]) -> Vec<Piece> {
    let sides = job.hull.course(id).sides();
    let parts = timber.iter().enumerate();
    let both = parts.flat_map(|(i, part)| part.sides().map(move |side| (i, part, side)));
    both.map(|(i, part, side)| piece(job, problem, id, sides[side], side, i, part))
        .collect()
}

fn piece(
    job: &Job,
    problem: &Problem,
    course: CourseId,
    on: Side,
    side: usize,
    at: usize,
    part: &Part,
) -> Piece {
    let toward = job.hull.panel_of(course).toward;
    let bow_end = part.bow[side];
    let facing = if part.book_matched(problem) {
        let port = problem.port_face(part.wood[0], part.wood[1]);
        let face_out = match (side, port) {
            (0, face) => face,
            (_, Face::High) => Face::Low,
            (_, Face::Low) => Face::High,
        };
        Facing { bow_end, face_out }
    } else {
        // No mate to mirror: whichever face the edges ask for, else the one that is written on the wood already.
        let kept = || face_kept(problem, course.0, at, side, part);
        let face_out = alone(job, course, on, bow_end)
            .or_else(kept)
            .unwrap_or(Face::High);
        Facing { bow_end, face_out }
    };
    let (from, to) = part.span(side);
    let mate = part.wood[1 - side];
    let mate = (mate != NONE).then_some(StripId(mate as usize));
    if part.glued[side] {
        let spot = (course, on, at as u32 + 1);
        let mut laid = job.laid.iter();
        if let Some(laid) = laid.find(|laid| (laid.course, laid.side, laid.number) == spot) {
            return Piece {
                mate,
                ..laid.clone()
            };
        }
    }
    Piece {
        course,
        side: on,
        number: at as u32 + 1,
        strip: StripId(part.wood[side] as usize),
        mate,
        from: S::at(part.from),
        to: S::at(part.to),
        cut_from: U::at(from),
        cut_to: U::at(to),
        bow_end,
        next_edge: facing.next_edge(on, toward),
        face_out: facing.face_out,
    }
}
