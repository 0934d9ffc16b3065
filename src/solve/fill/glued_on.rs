//! Wood for a course that is begun already: what is glued on, with mates for pieces that lack one.

use super::super::draft::Draft;
use super::super::problem::{Glued, NONE};
use super::super::timber::Part;
use super::offer::Offer;
use crate::solve::tuning::fill::MATES;

/// The offers for everything that is glued on a course.
pub fn offers(draft: &Draft, row: usize) -> Vec<Offer> {
    let problem = draft.problem();
    let mirrored = problem.rows[row].mirrored;
    let mut offers = Vec::new();
    for (only, glued) in problem.glued[row].iter().enumerate() {
        if glued.is_whole(mirrored) {
            offers.push(Offer::glued(glued.strips(), only, 0));
            continue;
        }
        let mates = mates(draft, row, glued).into_iter();
        offers.extend(mates.map(|wood| Offer::glued(wood, only, draft.whole(wood))));
    }
    offers
}

/// The strips that can be cut to mate a piece that is glued on one side, those that match it best first.
fn mates(draft: &Draft, row: usize, glued: &Glued) -> Vec<[u32; 2]> {
    let problem = draft.problem();
    let part = Part::between(problem, row, glued.nominal);
    let strips = 0..problem.woods.len() as u32;
    let mut mates: Vec<(f64, [u32; 2])> = strips
        .map(|strip| {
            glued
                .strips()
                .map(|there| if there == NONE { strip } else { there })
        })
        .filter(|wood| draft.seat(row, &part, *wood).is_some())
        .map(|wood| (problem.match_rate(wood[0], wood[1]), wood))
        .collect();
    mates.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    mates.truncate(MATES);
    mates.into_iter().map(|(_, wood)| wood).collect()
}
