//! What the choices of the search are drawn from.

use rand::SeedableRng;
use rand_pcg::Pcg64Mcg;

/// The generator of the search.
pub type SearchRng = Pcg64Mcg;

/// The stream of one of several attempts. Seeds a golden-ratio step apart, so that neighbouring seeds share no stream.
pub fn stream(seed: u64, number: usize) -> SearchRng {
    let step = 0x9e37_79b9_7f4a_7c15u64.wrapping_mul(number as u64 + 1);
    SearchRng::seed_from_u64(seed.wrapping_add(step))
}
