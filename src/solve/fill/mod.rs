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
    let mut offers = Offer::all(draft, row, wood);
    offer_in_part(&mut offers, parameters.partial, rng);
    // A path may ask the same wood twice for more than there is: then without that wood.
    for _ in 0..3 {
        let places = places::places(draft, row, &offers, parameters, rng);
        let Some(stretches) = path::best(draft, row, &places, &offers, parameters, rng) else {
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
        offer.room = (offer.room as f64 * part) as i64;
    }
}
