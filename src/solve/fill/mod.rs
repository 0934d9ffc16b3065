//! Laying one open course as well as the offered wood allows: how many pieces, where the joints, which wood for each.
//!
//! A path through the places where a joint may lie (`places`), with the offered wood (`offers`) as the choice on each
//! stretch: solved exactly by a dynamic programme (`path`), register aside, which is settled when the parts are seated.

mod fillings;
mod glued_on;
mod offer;
mod offers;
mod path;
mod places;
mod running;
mod shortlist;

pub use fillings::{Filling, Fillings};
pub use offers::{ConstructionParameters, offers};

use super::draft::Draft;
use crate::units::Length;
use offer::Offer;
use rand::{Rng, RngExt};

/// Lays an open course of the draft from the offered wood; `false` where it can't be done, and then the course is left
/// partly laid: drop the draft.
pub fn fill(
    draft: &mut Draft,
    row: usize,
    wood: &[[u32; 2]],
    parameters: &ConstructionParameters,
    rng: &mut impl Rng,
) -> bool {
    fill_within(draft, row, wood, parameters, draft.cut_off(row), rng)
}

/// The same, where it is known what the course may cost at most.
pub fn fill_within(
    draft: &mut Draft,
    row: usize,
    wood: &[[u32; 2]],
    parameters: &ConstructionParameters,
    most: f64,
    rng: &mut impl Rng,
) -> bool {
    let mut offers = Offer::all(draft, row, wood);
    offer_in_part(&mut offers, parameters.partial, rng);
    // A path may ask the same wood twice for more than there is: then without that wood.
    for _ in 0..3 {
        let places = places::places(draft, row, &offers, parameters, rng);
        let Some(stretches) = path::best(draft, row, &places, &offers, parameters, most, rng)
        else {
            return false;
        };
        match draft.put_all(row, &stretches) {
            Ok(()) => return true,
            Err(wood) => offers.retain(|offer| offer.wood != wood),
        }
    }
    false
}

/// Offers some of the wood only in part: the same part of a pair whichever way round it goes.
fn offer_in_part(offers: &mut [Offer], chance: f64, rng: &mut impl Rng) {
    let mut parts: Vec<([u32; 2], f64)> = Vec::new();
    for offer in offers {
        let mut pair = offer.wood;
        pair.sort_unstable();
        let part = match parts.iter().find(|(seen, _)| *seen == pair) {
            Some((_, part)) => *part,
            None => {
                let part = if rng.random::<f64>() < chance {
                    rng.random()
                } else {
                    1.0
                };
                parts.push((pair, part));
                part
            }
        };
        offer.room = Length::from_nm((offer.room.nm() as f64 * part) as i64);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solve::jobs;
    use crate::solve::problem::Problem;
    use crate::solve::relabel::new_labels;
    use crate::solve::rng::stream;
    use crate::solve::start::{Order, construct};
    use crate::solve::state::State;
    use crate::solve::tuning::moves::SETTLED;
    use crate::solve::{taken_up, written};

    /// Its joint, its strips and its cuts, though another piece may suit better or lie flush.
    #[test]
    fn a_course_gets_back_what_lay_there_where_labels_are_dear() {
        let mut told = 0;
        for seed in 1..10 {
            let mut job = jobs::short_stock(8, seed);
            let problem = Problem::new(&job);
            let mut rng = stream(seed, 0);
            let bare = State::bare(&problem);
            let laid = construct(bare, Order::Shuffled, &mut rng, &|| false);
            let mut plan = written::plan(&job, &laid);
            // What the wood is cut at is no place that the search would choose.
            for piece in &mut plan.pieces {
                let further = Length::from_mm(3.0);
                (piece.cut_from, piece.cut_to) = (piece.cut_from + further, piece.cut_to + further);
            }
            job.earlier = Some(plan);
            job.weights.relabel = 100.0;
            let problem = Problem::new(&job);
            let state = taken_up::state(&problem, &job.earlier.as_ref().unwrap().pieces);
            for row in (0..8).filter(|&row| !state.timber(row).is_empty()) {
                let mut draft = Draft::new(&state);
                draft.strip(row);
                let mut laid = draft.clone();
                let wood = offers(&laid, row, &[], &SETTLED, &mut rng);
                assert!(fill(&mut laid, row, &wood, &SETTLED, &mut rng));
                assert_eq!(
                    new_labels(&problem, row, laid.timber(row)),
                    0,
                    "course {row}"
                );
                if state.timber(row).len() > 2 {
                    continue;
                }
                told += 1;
                let all = Fillings::new(&draft, row, &wood, 1);
                let best = { all.all.iter() }.min_by(|a, b| a.cost.total_cmp(&b.cost));
                let stretches = all.stretches(best.unwrap());
                assert!(draft.put_all(row, &stretches).is_ok());
                assert_eq!(
                    new_labels(&problem, row, draft.timber(row)),
                    0,
                    "course {row}"
                );
            }
        }
        assert!(told > 8, "only {told}");
    }
}
