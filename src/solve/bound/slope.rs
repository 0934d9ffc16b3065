//! Which way prices have to move.

use super::chain::Chain;
use super::labels::Terms;
use super::ladder::Descent;
use crate::solve::problem::NONE;

/// How much more is taken of each strip than there is; below nothing where some is left.
pub fn slope(terms: &Terms, chains: &[Chain], paths: &[Descent]) -> Vec<f64> {
    let mut slope: Vec<f64> = terms.prices.has().iter().map(|has| -has).collect();
    for (chain, descent) in chains.iter().zip(paths) {
        for (link, &at) in chain.links.iter().zip(&descent.path) {
            let used = terms.pairs.all[link.nodes[at].pair as usize].wood;
            for strip in used.into_iter().filter(|&strip| strip != NONE) {
                slope[strip as usize] += link.takes;
            }
        }
    }
    slope
}

/// Turns the direction of the step before towards the slope, never against it.
///
/// Source: P. M. Camerini, L. Fratta and F. Maffioli, "On improving relaxation methods by modified gradient techniques",
/// Mathematical Programming Study 3 (1975) (citation from memory).
pub fn deflect(direction: &mut [f64], slope: &[f64]) {
    let along: f64 = direction.iter().zip(slope).map(|(d, s)| d * s).sum();
    let square: f64 = direction.iter().map(|d| d * d).sum();
    let keep = if along < 0.0 && square > 0.0 {
        -1.5 * along / square
    } else {
        0.0
    };
    for (direction, slope) in direction.iter_mut().zip(slope) {
        *direction = slope + keep * *direction;
    }
}
