//! How far the colours of two strips are apart: in a table, or in a rack so large that a table would take gigabytes,
//! worked out anew whenever it is asked for.

use crate::units::{Colour, delta_e};
use std::sync::Arc;

/// Colour differences of all strips. Unit: ΔE00.
#[derive(Clone, Debug)]
pub struct Differences {
    strips: usize,
    /// A row for each strip, symmetric: who looks up many strips against one asks in the row of the one, where they
    /// lie close together. Empty where there are too many strips.
    table: Arc<[f64]>,
    /// The colour of each strip, where there is no table; `None` for wood that is as like to all others as one could
    /// wish.
    colours: Vec<Option<Colour>>,
}

impl Differences {
    /// In a table, from a symmetric function.
    pub fn in_table(strips: usize, difference: impl Fn(usize, usize) -> f64) -> Differences {
        let mut table = vec![0.0; strips * strips];
        for a in 0..strips {
            for b in 0..a {
                let d = difference(a, b);
                table[a * strips + b] = d;
                table[b * strips + a] = d;
            }
        }
        Differences {
            strips,
            table: table.into(),
            colours: Vec::new(),
        }
    }

    /// Worked out anew each time.
    pub fn by_colour(colours: Vec<Option<Colour>>) -> Differences {
        Differences {
            strips: colours.len(),
            table: Arc::new([]),
            colours,
        }
    }

    /// The difference of two strips.
    #[inline]
    pub fn between(&self, a: u32, b: u32) -> f64 {
        let (a, b) = (a as usize, b as usize);
        match self.table.get(a * self.strips + b) {
            Some(difference) => *difference,
            None => self.worked_out(a, b),
        }
    }

    #[cold]
    fn worked_out(&self, a: usize, b: usize) -> f64 {
        match (self.colours[a], self.colours[b]) {
            (Some(one), Some(other)) => delta_e(one, other),
            _ => 0.0,
        }
    }

    /// With so many strips more, which look like all others.
    pub fn with_more(&self, more: usize) -> Differences {
        let (was, now) = (self.strips, self.strips + more);
        if self.table.is_empty() {
            let mut colours = self.colours.clone();
            colours.resize(now, None);
            return Differences::by_colour(colours);
        }
        let mut table = vec![0.0; now * now];
        for a in 0..was {
            table[a * now..a * now + was].copy_from_slice(&self.table[a * was..(a + 1) * was]);
        }
        Differences {
            strips: now,
            table: table.into(),
            colours: Vec::new(),
        }
    }
}
