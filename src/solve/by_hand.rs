//! Places that a builder changes by hand: two courses or pieces pass each other their wood, or one is cut from wood
//! in the rack.
//!
//! Where the wood has room it is cut and turned as well as the search would; where it has not, it is put there all
//! the same, and whoever judges the plan says what breaks.

use super::draft::{Draft, Stretch};
use super::problem::{NONE, Problem};
use super::state::{Change, State};
use super::taken_up;
use super::timber::{Part, Timber, swapped};
use super::written;
use crate::hull::CourseId;
use crate::job::Job;
use crate::plan::{Plan, in_laying_order};
use crate::stock::StripId;
use crate::units::Length;

/// A course, or one of its pieces by its number from the bow.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Spot {
    /// The course.
    pub course: CourseId,
    /// The piece, from 1; `None` for all of the course.
    pub piece: Option<u32>,
}

/// Why places can't be changed.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Unmoved {
    /// Nothing lies there.
    Bare(Spot),
    /// It is glued on.
    GluedOn(Spot),
    /// One lies on both sides and the other on the centreline, or it takes another number of strips.
    OtherSides(Spot),
    /// Both are the same.
    Same,
}

/// The plan with the wood of two places exchanged. Two courses take their joints with them; pieces keep their ends.
///
/// Errors: why that can't be; nothing about it is wrong that a rule says.
pub fn exchanged(job: &Job, plan: &Plan, one: Spot, other: Spot) -> Result<Plan, Unmoved> {
    let problem = Problem::new(job);
    let state = taken_up::state(&problem, &plan.pieces);
    if one == other {
        return Err(Unmoved::Same);
    }
    let (first, second) = (found(&problem, plan, one)?, found(&problem, plan, other)?);
    if (first[0].wood[1] == NONE) != (second[0].wood[1] == NONE) {
        return Err(Unmoved::OtherSides(other));
    }
    let (a, b) = (one.course.0, other.course.0);
    let change = match (one.piece, other.piece) {
        (None, None) => {
            let along = |turns: [bool; 2]| {
                let mut draft = Draft::new(&state);
                draft.strip(a);
                draft.strip(b);
                let done = draft.carry(a, &second, turns[0]) && draft.carry(b, &first, turns[1]);
                done.then(|| draft.finish())
            };
            let in_place = |turns: [bool; 2]| {
                let mut draft = Draft::new(&state);
                draft.strip(a);
                draft.strip(b);
                let laid = |here: &Timber, wood: &Timber, row: usize, turn: bool| -> Vec<Stretch> {
                    let both = here.iter().zip(wood);
                    both.map(|(here, wood)| stretch(&problem, row, here, wood.wood, turn))
                        .collect()
                };
                let done = first.len() == second.len()
                    && draft
                        .put_all(a, &laid(&first, &second, a, turns[0]))
                        .is_ok()
                    && draft
                        .put_all(b, &laid(&second, &first, b, turns[1]))
                        .is_ok();
                done.then(|| draft.finish())
            };
            cheapest(&state, &along).or_else(|| cheapest(&state, &in_place))
        }
        _ => {
            let put = |turns: [bool; 2]| {
                let mut draft = Draft::new(&state);
                let (i, j) = (at(one), at(other));
                if a == b {
                    draft.lift(a, |k| k == i || k == j);
                } else {
                    draft.lift(a, |k| k == i);
                    draft.lift(b, |k| k == j);
                }
                let put =
                    |draft: &mut Draft, row: usize, here: &Part, wood: [u32; 2], turn: bool| {
                        let ends = here.nominal(&problem, row);
                        let wood = if turn { swapped(wood) } else { wood };
                        draft.put(row, &Part::between(&problem, row, ends), wood)
                    };
                let there = state.timber(a).len() > i && state.timber(b).len() > j;
                let done = there
                    && put(&mut draft, a, &first[i], second[j].wood, turns[0])
                    && put(&mut draft, b, &second[j], first[i].wood, turns[1]);
                done.then(|| draft.finish())
            };
            cheapest(&state, &put)
        }
    };
    let change = change.unwrap_or_else(|| match (one.piece, other.piece) {
        (None, None) => [
            (a, forced(&problem, a, &second)),
            (b, forced(&problem, b, &first)),
        ]
        .into_iter()
        .collect(),
        _ => {
            let (i, j) = (at(one), at(other));
            let (mut here, mut there) = (first.clone(), second.clone());
            here[i] = cut_like(first[i], &second[j]);
            if a == b {
                here[j] = cut_like(first[j], &second[i]);
                return [(a, here)].into_iter().collect();
            }
            there[j] = cut_like(second[j], &first[i]);
            [(a, here), (b, there)].into_iter().collect()
        }
    });
    Ok(with(job, &problem, plan, &change))
}

/// The plan with a place cut from wood in the rack: two strips, or one for a course on the centreline.
///
/// Errors: as for [`exchanged`].
pub fn relaid(job: &Job, plan: &Plan, spot: Spot, strips: &[StripId]) -> Result<Plan, Unmoved> {
    let problem = Problem::new(job);
    let state = taken_up::state(&problem, &plan.pieces);
    let here = found(&problem, plan, spot)?;
    let wood = match strips {
        [one] => [one.0 as u32, NONE],
        [one, other] => [one.0 as u32, other.0 as u32],
        _ => return Err(Unmoved::OtherSides(spot)),
    };
    if (wood[1] == NONE) != (here[0].wood[1] == NONE) {
        return Err(Unmoved::OtherSides(spot));
    }
    let row = spot.course.0;
    let part = match spot.piece {
        None => Part::whole(&problem, row),
        Some(_) => Part::between(&problem, row, here[at(spot)].nominal(&problem, row)),
    };
    let put = |turns: [bool; 2]| {
        let mut draft = Draft::new(&state);
        draft.lift(row, |k| spot.piece.is_none() || k == at(spot));
        let wood = if turns[0] { swapped(wood) } else { wood };
        draft.put(row, &part, wood).then(|| draft.finish())
    };
    let change = cheapest(&state, &put).unwrap_or_else(|| {
        let mut forced = Part { wood, ..part };
        forced.bow = problem
            .bow_ends(row, wood)
            .first()
            .map_or(forced.bow, |end| [*end; 2]);
        let mut timber = here.clone();
        match spot.piece {
            None => timber = [forced].into_iter().collect(),
            Some(_) => timber[at(spot)] = forced,
        }
        [(row, timber)].into_iter().collect()
    });
    Ok(with(job, &problem, plan, &change))
}

/// The place of a piece in its course, from 0.
fn at(spot: Spot) -> usize {
    spot.piece.map_or(0, |number| number as usize - 1)
}

/// What lies on the course of a spot, where none of the spot is glued.
fn found(problem: &Problem, plan: &Plan, spot: Spot) -> Result<Timber, Unmoved> {
    let timber = taken_up::timber(problem, spot.course.0, &plan.pieces);
    let timber = timber
        .filter(|timber| timber.len() > at(spot))
        .ok_or(Unmoved::Bare(spot))?;
    let meant = |i: usize| spot.piece.is_none() || i == at(spot);
    let mut parts = timber.iter().enumerate();
    match parts.any(|(i, part)| meant(i) && part.glued.contains(&true)) {
        true => Err(Unmoved::GluedOn(spot)),
        false => Ok(timber),
    }
}

fn stretch(problem: &Problem, row: usize, here: &Part, wood: [u32; 2], turn: bool) -> Stretch {
    let ends = here.nominal(problem, row);
    let wood = if turn { swapped(wood) } else { wood };
    Stretch { ends, wood }
}

/// Of the ways round that both can lie, the one that costs least; `None` where there is none.
fn cheapest(state: &State, way: &dyn Fn([bool; 2]) -> Option<Change>) -> Option<Change> {
    let turns = [[false, false], [true, true], [true, false], [false, true]];
    let ways = turns.into_iter().filter_map(way);
    ways.min_by(|a, b| state.price(a).total_cmp(&state.price(b)))
}

/// The timber of another course, put on this one as it is, with its joints as far from the bow end.
fn forced(problem: &Problem, row: usize, timber: &Timber) -> Timber {
    let length = problem.rows[row].length;
    let mut from = Length::ZERO;
    let parts = timber.iter().enumerate().map(|(i, part)| {
        let to = match timber.get(i + 1) {
            Some(next) => (next.from + problem.half_scarf).min(length - Length::NM),
            None => length,
        };
        // Never backwards, however much longer the other course was.
        let to = to.max(from + Length::NM);
        let placed = cut_like(Part::between(problem, row, (from, to)), part);
        from = to;
        placed
    });
    parts.collect()
}

/// A part cut where another is cut, and turned like it.
fn cut_like(part: Part, like: &Part) -> Part {
    Part {
        wood: like.wood,
        bow: like.bow,
        cut: like.cut,
        ..part
    }
}

/// The plan with some courses laid anew, and everything else as it is.
fn with(job: &Job, problem: &Problem, plan: &Plan, change: &Change) -> Plan {
    let mut plan = plan.clone();
    for (row, timber) in change {
        let id = CourseId(*row);
        plan.pieces.retain(|piece| piece.course != id);
        plan.pieces.extend(written::rows(job, problem, id, timber));
    }
    in_laying_order(&job.hull, &mut plan.pieces);
    plan
}
