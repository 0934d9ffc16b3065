//! A length, and a place in one of the three frames of the model.

use std::fmt;
use std::iter::Sum;
use std::marker::PhantomData;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub};

const NM_PER_MM: f64 = 1.0e6;

/// A length or a distance, which may be negative.
///
/// Unit: whole nanometres inside. Why: 1/64 in is exactly 396 875 nm, so inches lose nothing.
/// Sums beyond the range of the type (nine million kilometres) saturate, so that a nonsense number in a file is judged
/// like any other instead of stopping the program.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Length(i64);

impl Length {
    /// No length at all.
    pub const ZERO: Length = Length(0);
    /// A nanometre: the least there is.
    pub const NM: Length = Length(1);
    /// The most there is.
    pub const MOST: Length = Length(i64::MAX);

    /// From whole nanometres.
    pub const fn from_nm(nm: i64) -> Length {
        Length(nm)
    }

    /// From millimetres, rounded to the nearest nanometre. Values beyond the range of the type saturate.
    pub const fn from_mm(mm: f64) -> Length {
        Length(nearest(mm * NM_PER_MM))
    }

    /// In whole nanometres.
    pub const fn nm(self) -> i64 {
        self.0
    }

    /// In millimetres.
    pub fn mm(self) -> f64 {
        self.0 as f64 / NM_PER_MM
    }

    /// In metres: the unit that the cost is counted in.
    pub fn metres(self) -> f64 {
        self.0 as f64 / (1000.0 * NM_PER_MM)
    }

    /// The next full step, a nanometre or more, that is not shorter.
    pub fn rounded_up(self, step: Length) -> Length {
        let step = step.max(Length::NM);
        step * ((self + step - Length::NM) / step)
    }

    /// The same length without its sign.
    pub const fn abs(self) -> Length {
        Length(self.0.saturating_abs())
    }
}

/// The nearest whole number, halves away from zero; the ends of the range for what lies beyond them.
///
/// The same as `f64::round`, but without a call: the search rounds millions of places a second.
const fn nearest(x: f64) -> i64 {
    let whole = x as i64;
    let rest = x - whole as f64;
    whole
        .saturating_add((rest >= 0.5) as i64)
        .saturating_sub((rest <= -0.5) as i64)
}

impl fmt::Debug for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} mm", self.mm())
    }
}

impl Add for Length {
    type Output = Length;
    fn add(self, other: Length) -> Length {
        Length(self.0.saturating_add(other.0))
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Length) {
        *self = *self + other;
    }
}

impl Sub for Length {
    type Output = Length;
    fn sub(self, other: Length) -> Length {
        Length(self.0.saturating_sub(other.0))
    }
}

impl Neg for Length {
    type Output = Length;
    fn neg(self) -> Length {
        Length(self.0.saturating_neg())
    }
}

impl Mul<f64> for Length {
    type Output = Length;
    fn mul(self, by: f64) -> Length {
        Length(nearest(self.0 as f64 * by))
    }
}

impl Mul<i64> for Length {
    type Output = Length;
    fn mul(self, by: i64) -> Length {
        Length(self.0.saturating_mul(by))
    }
}

/// Rounded down.
impl Div<i64> for Length {
    type Output = Length;
    fn div(self, by: i64) -> Length {
        Length(self.0.div_euclid(by))
    }
}

/// How many times the other goes into it.
impl Div for Length {
    type Output = i64;
    fn div(self, other: Length) -> i64 {
        self.0.div_euclid(other.0)
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Length>>(all: I) -> Length {
        all.fold(Length::ZERO, Add::add)
    }
}

/// What a place is measured along. Sealed in practice: the three frames below are all there are.
pub trait Frame: Copy + Ord {
    /// The letter that the model gives to places in this frame.
    const LETTER: char;
}

/// The frame of `u`: along a strip, 0 at its marked end, growing toward the plain end.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum OnStrip {}
/// The frame of `s`: along the skin of one course, 0 at its bow end, growing aft.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum OnSkin {}
/// The frame of `x`: along the boat, 0 at the bow, growing aft.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum OnBoat {}

impl Frame for OnStrip {
    const LETTER: char = 'u';
}
impl Frame for OnSkin {
    const LETTER: char = 's';
}
impl Frame for OnBoat {
    const LETTER: char = 'x';
}

/// A place in the frame `F`. Places of one frame differ by a [`Length`]; places of two frames don't mix.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place<F: Frame>(Length, PhantomData<F>);

/// A place on a strip, from its marked end.
pub type U = Place<OnStrip>;
/// A place along the skin of a course, from its bow end.
pub type S = Place<OnSkin>;
/// A place on the boat, aft of the bow.
pub type X = Place<OnBoat>;

impl<F: Frame> Place<F> {
    /// The place where the frame counts from.
    pub const ORIGIN: Place<F> = Place(Length::ZERO, PhantomData);

    /// The place so far from the frame's origin.
    pub const fn at(from_origin: Length) -> Place<F> {
        Place(from_origin, PhantomData)
    }

    /// The place so many millimetres from the frame's origin.
    pub fn from_mm(mm: f64) -> Place<F> {
        Place::at(Length::from_mm(mm))
    }

    /// How far the place lies from the frame's origin.
    pub const fn from_origin(self) -> Length {
        self.0
    }

    /// The same in millimetres.
    pub fn mm(self) -> f64 {
        self.0.mm()
    }

    /// The same in whole nanometres.
    pub const fn nm(self) -> i64 {
        self.0.nm()
    }
}

impl<F: Frame> fmt::Debug for Place<F> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {:?}", F::LETTER, self.0)
    }
}
impl<F: Frame> Add<Length> for Place<F> {
    type Output = Place<F>;
    fn add(self, by: Length) -> Place<F> {
        Place::at(self.0 + by)
    }
}
impl<F: Frame> Sub<Length> for Place<F> {
    type Output = Place<F>;
    fn sub(self, by: Length) -> Place<F> {
        Place::at(self.0 - by)
    }
}
impl<F: Frame> Sub for Place<F> {
    type Output = Length;
    fn sub(self, other: Place<F>) -> Length {
        self.0 - other.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_nearest_whole_number_is_that_of_the_standard_library() {
        let beyond = [f64::NAN, f64::INFINITY, 1e300, 9.3e18, 9.2e18, 4.5e15];
        let near_halves = [
            0.5,
            1.5,
            2.5,
            0.49999999999999994,
            1.2e7,
            4503599627370495.5,
        ];
        let below = |x: f64| f64::from_bits(x.to_bits() - 1);
        let above = |x: f64| f64::from_bits(x.to_bits() + 1);
        for x in beyond.into_iter().chain(near_halves) {
            for x in [x, below(x), above(x), x + 0.5, 0.0] {
                assert_eq!(nearest(x), x.round() as i64, "{x}");
                assert_eq!(nearest(-x), (-x).round() as i64, "{}", -x);
            }
        }
    }
}
