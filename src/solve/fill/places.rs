//! Where on a course a joint is worth trying.
//!
//! With everything else given, the cost changes linearly as a joint slides along its course, so the best place is
//! where something stops it: the end of a window, a neighbour's joint, the edge of a zone, the end of a strip.

use super::super::draft::Draft;
use super::super::problem::{Problem, Span};
use super::super::timber::joints;
use super::offer::Offer;
use super::offers::ConstructionParameters;
use crate::units::Length;
use rand::seq::SliceRandom;
use rand::{Rng, RngExt};
use smallvec::SmallVec;

/// Places along a course.
type Places = SmallVec<[Length; 16]>;

/// Nominal ends and places for joints of a course, in order from 0 to its length.
pub fn places(
    draft: &Draft,
    row: usize,
    offers: &[Offer],
    parameters: &ConstructionParameters,
    rng: &mut impl Rng,
) -> Places {
    let problem = draft.problem();
    let r = &problem.rows[row];
    let whole = r.one_piece();
    let in_one = offers.iter().any(|offer| offer.room >= whole);
    let mut places = Places::new();
    let glued = &problem.glued[row];
    let begun = !glued.is_empty();
    if problem.most > 0
        && !r.joint_windows.is_empty()
        && (begun || !in_one || rng.random_bool(parameters.joints_for_looks))
    {
        let mut stops = stops(draft, row, offers, rng, parameters.places);
        stops.shuffle(rng);
        let near = draft.near_joints(row);
        let allowed = |s: &Length| {
            r.allows_joint(*s)
                && near.are_clear_of(r.x(*s))
                && !glued
                    .iter()
                    .any(|there| there.nominal.0 < *s && *s < there.nominal.1)
        };
        for s in earlier_joints(problem, row).chain(stops) {
            if places.len() == parameters.places {
                break;
            }
            if !places.contains(&s) && allowed(&s) {
                places.push(s);
            }
        }
    }
    places.extend([Length::ZERO, r.length]);
    places.extend(
        glued
            .iter()
            .flat_map(|there| [there.nominal.0, there.nominal.1]),
    );
    places.sort_unstable();
    places.dedup();
    places
}

/// Where the joints of a course were in the earlier plan.
pub fn earlier_joints(problem: &Problem, row: usize) -> impl Iterator<Item = Length> {
    let labels = problem.labels.of_row(row).iter();
    let abaft = labels.filter(|label| label.index > 0);
    abaft.map(|label| label.ends.0 + problem.half_scarf)
}

fn stops(
    draft: &Draft,
    row: usize,
    offers: &[Offer],
    rng: &mut impl Rng,
    random: usize,
) -> Vec<Length> {
    let problem = draft.problem();
    let r = &problem.rows[row];
    let mut stops = Vec::with_capacity(12 * r.near.len() + 2 * offers.len() + random + 8);
    let clear = problem.clear;
    for (a, b) in &r.joint_windows {
        stops.extend([*a, *b]);
    }
    for &near in &r.near {
        for x in joints(draft.timber(near)) {
            stops.extend([r.s(x - clear), r.s(x + clear), r.s(x)]);
        }
        // Where a joint of that course may come to lie, should it be laid after this one.
        if let Some((a, b)) = pick(&problem.rows[near].joint_windows, rng) {
            let x = problem.rows[near].x(if rng.random_bool(0.5) { a } else { b });
            stops.extend([r.s(x - clear), r.s(x + clear)]);
        }
    }
    stops.extend(r.look.breaks().iter().map(|&x| r.s(x)));
    stops.extend(
        draft
            .state
            .timber(row)
            .iter()
            .skip(1)
            .map(|part| r.s(part.x_from)),
    );
    for offer in offers {
        // As far as this wood reaches from the bow, from the stern, and from joint to joint.
        stops.push(offer.room - r.allow[0] - problem.half_scarf);
        stops.push(r.length - (offer.room - r.allow[1] - problem.half_scarf));
    }
    // Round places besides, so that a course with few stops has choices.
    let step = Length::from_mm(1.0);
    for (a, b) in &r.joint_windows {
        for _ in 0..random / 2 {
            stops.push(step * (Length::from_nm(rng.random_range(a.nm()..=b.nm())) / step));
        }
    }
    stops
}

fn pick(windows: &[Span], rng: &mut impl Rng) -> Option<Span> {
    (!windows.is_empty()).then(|| windows[rng.random_range(0..windows.len())])
}
