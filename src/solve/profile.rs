//! How much looks count along a stretch of the boat, summed up from its forward end.

use smallvec::SmallVec;

/// A weight that is constant between breaks, with its running integral.
///
/// Unit: places in mm along the boat, integrals in weight·metre.
#[derive(Clone, Debug)]
pub struct Profile {
    /// Stretches of one weight. Mostly there is just one, and it is looked up all the time: so it lies here and not
    /// elsewhere.
    even: SmallVec<[Even; 1]>,
    from: f64,
    whole: f64,
    /// Breaks in order; the first and last are the ends of the stretch.
    at: Vec<f64>,
}

/// A stretch over which the weight does not change.
#[derive(Clone, Copy, Debug)]
struct Even {
    from: f64,
    to: f64,
    weight: f64,
    /// Integral up to its forward end.
    before: f64,
}

impl Profile {
    /// The profile of `weight` over `from..to`, which changes only at the given breaks (in any order, some perhaps
    /// outside).
    pub fn new(from: f64, to: f64, breaks: &[f64], weight: impl Fn(f64) -> f64) -> Profile {
        let mut at = vec![from];
        let mut inside: Vec<f64> = breaks
            .iter()
            .copied()
            .filter(|&b| b > from && b < to)
            .collect();
        inside.sort_by(f64::total_cmp);
        inside.dedup();
        at.extend(inside);
        if to > from {
            at.push(to);
        }
        let mut whole = 0.0;
        let mut even = SmallVec::new();
        for pair in at.windows(2) {
            let weight = weight(0.5 * (pair[0] + pair[1]));
            even.push(Even {
                from: pair[0],
                to: pair[1],
                weight,
                before: whole,
            });
            whole += weight * (pair[1] - pair[0]) / 1000.0;
        }
        Profile {
            even,
            from,
            whole,
            at,
        }
    }

    /// The integral from the forward end of the stretch to `x`; places beyond the ends count as the ends.
    #[inline]
    pub fn up_to(&self, x: f64) -> f64 {
        if x <= self.from {
            return 0.0;
        }
        match self.even.iter().find(|even| x < even.to) {
            Some(even) => even.before + even.weight * (x - even.from) / 1000.0,
            None => self.whole,
        }
    }

    /// The integral between two places; nothing where they are the wrong way round.
    #[inline]
    pub fn between(&self, from: f64, to: f64) -> f64 {
        if to <= from {
            0.0
        } else {
            self.up_to(to) - self.up_to(from)
        }
    }

    /// The places where the weight may change, the ends included.
    pub fn breaks(&self) -> &[f64] {
        &self.at
    }

    /// The integral over the whole stretch.
    pub fn whole(&self) -> f64 {
        self.whole
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_shown_metre_counts_double() {
        // 1 m plain, 1 m shown at 2, 1 m plain: 1 + 2 + 1.
        let p = Profile::new(0.0, 3000.0, &[2000.0, 1000.0, 9000.0], |x| {
            if (1000.0..2000.0).contains(&x) {
                2.0
            } else {
                1.0
            }
        });
        assert!((p.whole() - 4.0).abs() < 1e-12);
        assert!((p.between(500.0, 1500.0) - 1.5).abs() < 1e-12);
        assert!((p.between(-500.0, 500.0) - 0.5).abs() < 1e-12);
        assert_eq!(p.between(2000.0, 1000.0), 0.0);
    }
}
