//! What is priced, and how far a step goes.

use crate::solve::bound::prices::Prices;
use crate::solve::bound::shares::Tolls;

/// All that is priced.
#[derive(Clone)]
pub struct Multipliers {
    /// Wood.
    pub prices: Prices,
    /// What boards cover and where they end.
    pub tolls: Tolls,
}

impl Multipliers {
    /// A step that would change the bound by `by`, were it straight. Tolls follow what their neighbours have in common first.
    pub fn step(&mut self, slope: &[f64], by: f64) {
        let (wood, shares) = slope.split_at(self.prices.has().len());
        let smooth = self.tolls.smooth(shares);
        let square = self.prices.square(wood) + self.tolls.product(shares, &smooth);
        if square > 0.0 {
            self.prices.go(wood, by / square);
            self.tolls.go(&smooth, by / square);
        }
    }
}
