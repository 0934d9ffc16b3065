//! What wood costs along a course, summed up from the bow: seams with the neighbours, and match.

use super::super::draft::Draft;
use super::super::price;
use super::super::problem::NONE;
use super::super::timber::Part;
use super::path::Offer;
use rand::{Rng, RngExt};

/// For each offer and place, the cost of seams and match from the bow end to that place.
///
/// `jitter` is how far the costs of each offer are shaken, as a part of them.
pub fn running_costs(
    draft: &Draft,
    row: usize,
    places: &[i64],
    offers: &[Offer],
    jitter: f64,
    rng: &mut impl Rng,
) -> Vec<Vec<f64>> {
    let problem = draft.problem();
    let r = &problem.rows[row];
    let xs: Vec<f64> = places.iter().map(|&s| r.x(s)).collect();
    let looks: Vec<f64> = xs.iter().map(|&x| r.look.up_to(x)).collect();
    let matched = |offer: &Offer| -> Vec<f64> {
        let rate = match offer.wood {
            [_, NONE] => 0.0,
            [port, starboard] => problem.match_rate(port, starboard),
        };
        looks.iter().map(|look| rate * look).collect()
    };
    let mut running: Vec<Vec<f64>> = offers.iter().map(matched).collect();
    let seams = [
        r.before.and_then(|b| problem.rows[b].seam.as_ref()),
        r.seam.as_ref(),
    ];
    for (profile, others) in seams.into_iter().zip(draft.neighbours(row)) {
        let Some(profile) = profile else { continue };
        for other in others {
            let met: Vec<f64> = xs
                .iter()
                .map(|&x| profile.between(other.x_from, x.min(other.x_to)))
                .collect();
            for (offer, running) in offers.iter().zip(&mut running) {
                let rate = rate_beside(draft, row, offer.wood, other);
                running
                    .iter_mut()
                    .zip(&met)
                    .for_each(|(sum, met)| *sum += rate * met);
            }
        }
    }
    if jitter > 0.0 {
        for running in &mut running {
            let by = 1.0 + jitter * (rng.random::<f64>() - 0.5);
            running.iter_mut().for_each(|sum| *sum *= by);
        }
    }
    running
}

/// What a metre of seam beside another part costs, register aside where the end to the bow is still free.
fn rate_beside(draft: &Draft, row: usize, wood: [u32; 2], other: &Part) -> f64 {
    let problem = draft.problem();
    let only_end = match problem.bow_ends(row, wood) {
        [only] => Some(*only),
        _ => None,
    };
    let rate = |&(i, j): &(usize, usize)| {
        let turned = only_end.is_some_and(|end| end != other.bow[j])
            && problem.one_board(wood[i], other.wood[j]);
        problem.seam_rate(wood[i], other.wood[j]) + if turned { problem.weights.shift } else { 0.0 }
    };
    price::meeting_sides(wood, other.wood)
        .iter()
        .map(rate)
        .sum()
}
