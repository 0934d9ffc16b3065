//! A small set of strips.

/// Most strips that a set can hold.
pub const MOST: usize = 256;

/// A set of strips by number, below [`MOST`].
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Bits([u64; MOST / 64]);

impl Bits {
    /// No strip.
    pub const NONE: Bits = Bits([0; MOST / 64]);
    /// Every strip.
    pub const ALL: Bits = Bits([u64::MAX; MOST / 64]);

    /// The set of these strips; numbers out of range are left out.
    pub fn of(strips: impl IntoIterator<Item = u32>) -> Bits {
        let mut bits = Bits::NONE;
        strips.into_iter().for_each(|strip| bits.add(strip));
        bits
    }

    /// Adds a strip.
    pub fn add(&mut self, strip: u32) {
        if (strip as usize) < MOST {
            self.0[strip as usize / 64] |= 1 << (strip % 64);
        }
    }

    /// Whether two sets share a strip.
    #[inline]
    pub fn meets(&self, other: &Bits) -> bool {
        self.0.iter().zip(&other.0).any(|(a, b)| a & b != 0)
    }

    /// Whether every strip of this set is in the other.
    #[inline]
    pub fn within(&self, other: &Bits) -> bool {
        self.0.iter().zip(&other.0).all(|(a, b)| a & !b == 0)
    }

    /// The strips in both.
    #[inline]
    pub fn and(mut self, other: &Bits) -> Bits {
        self.0.iter_mut().zip(&other.0).for_each(|(a, b)| *a &= b);
        self
    }

    /// The strips in either.
    #[inline]
    pub fn or(mut self, other: &Bits) -> Bits {
        self.0.iter_mut().zip(&other.0).for_each(|(a, b)| *a |= b);
        self
    }

    /// How many strips.
    pub fn count(&self) -> u32 {
        self.0.iter().map(|word| word.count_ones()).sum()
    }
}
