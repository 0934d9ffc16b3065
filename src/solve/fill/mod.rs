//! Laying one open course as well as the offered wood allows: how many pieces, where the joints, which wood for each.
//!
//! A path through the places where a joint may lie (`places`), with the offered wood (`offers`) as the choice on each
//! stretch: solved exactly by a dynamic programme (`path`), register aside, which is settled when the parts are seated.

mod glued_on;
mod offers;
mod path;
mod places;
mod running;

pub use offers::{Appetite, offers};

use super::draft::Draft;
use super::timber::Part;
use rand::{Rng, RngExt};

/// Lays an open course of the draft from the offered wood; `false` where it can't be done, and then the course is left
/// partly laid: drop the draft.
pub fn fill(
    draft: &mut Draft,
    row: usize,
    wood: &[[u32; 2]],
    appetite: &Appetite,
    rng: &mut impl Rng,
) -> bool {
    let mut offers = path::Offer::all(draft, row, wood);
    stint(&mut offers, appetite.stint, rng);
    // A path may ask the same wood twice for more than there is: then without that wood.
    for _ in 0..3 {
        let places = places::places(draft, row, &offers, appetite, rng);
        let Some(stretches) = path::best(draft, row, &places, &offers, appetite, rng) else {
            return false;
        };
        match lay_stretches(draft, row, &stretches) {
            Ok(parts) => {
                for part in parts {
                    draft.place(row, part);
                }
                return true;
            }
            Err(wood) => offers.retain(|offer| offer.wood != wood),
        }
    }
    false
}

/// Offers some of the wood only in part: the same part of a pair whichever way round it goes.
fn stint(offers: &mut [path::Offer], chance: f64, rng: &mut impl Rng) {
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
        offer.room = (offer.room as f64 * part) as i64;
    }
}

/// Seats the stretches one after the other; the wood of the one that finds no room where that fails.
fn lay_stretches(
    draft: &Draft,
    row: usize,
    stretches: &[path::Stretch],
) -> Result<Vec<Part>, [u32; 2]> {
    let mut parts: Vec<Part> = Vec::with_capacity(stretches.len());
    for stretch in stretches {
        let part = Part::between(draft.problem(), row, stretch.from, stretch.to);
        let taken: Vec<(u32, i64, i64)> = parts
            .iter()
            .flat_map(|p| {
                p.sides()
                    .map(|side| (p.wood[side], p.span(side).0, p.span(side).1))
            })
            .collect();
        parts.push(
            draft
                .seat_beside(row, &part, stretch.wood, &taken)
                .ok_or(stretch.wood)?,
        );
    }
    Ok(parts)
}
