//! A small set of slots: each board has as many, next to each other, as it has slices.

/// Most slots that a set can hold.
pub const MOST: usize = 256;

/// A set of slots by number, below [`MOST`].
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Default, Hash)]
pub struct Bits([u64; MOST / 64]);

impl Bits {
    /// No slot.
    pub const NONE: Bits = Bits([0; MOST / 64]);
    /// The slots from `first` on whose bits are set in `mask`, the lowest bit for the first; none of them may lie
    /// beyond [`MOST`].
    pub fn placed(first: u32, mask: u64) -> Bits {
        let mut bits = Bits::NONE;
        let (word, shift) = (first as usize / 64, first % 64);
        bits.0[word] = mask << shift;
        if shift > 0 && word + 1 < bits.0.len() {
            bits.0[word + 1] = mask >> (64 - shift);
        }
        bits
    }

    /// The slots from `first` on, `count` of them, as a mask: the way back from [`Bits::placed`].
    #[inline]
    pub fn window(&self, first: u32, count: u32) -> u64 {
        let (word, shift) = (first as usize / 64, first % 64);
        let mut mask = self.0[word] >> shift;
        if shift > 0 && word + 1 < self.0.len() {
            mask |= self.0[word + 1] << (64 - shift);
        }
        mask & low(count)
    }

    /// How many slots are in it.
    #[inline]
    pub fn count(&self) -> u32 {
        self.0.iter().map(|word| word.count_ones()).sum()
    }

    /// Whether every slot of this set is in the other.
    #[inline]
    pub fn within(&self, other: &Bits) -> bool {
        self.0.iter().zip(&other.0).all(|(a, b)| a & !b == 0)
    }

    /// The slots in both.
    #[inline]
    pub fn and(mut self, other: &Bits) -> Bits {
        self.0.iter_mut().zip(&other.0).for_each(|(a, b)| *a &= b);
        self
    }

    /// The slots in either.
    #[inline]
    pub fn or(mut self, other: &Bits) -> Bits {
        self.0.iter_mut().zip(&other.0).for_each(|(a, b)| *a |= b);
        self
    }

    /// The slots of this set that the other lacks.
    #[inline]
    pub fn without(mut self, other: &Bits) -> Bits {
        self.0.iter_mut().zip(&other.0).for_each(|(a, b)| *a &= !b);
        self
    }
}

/// The lowest `count` bits.
#[inline]
pub fn low(count: u32) -> u64 {
    if count >= 64 {
        u64::MAX
    } else {
        (1 << count) - 1
    }
}
