//! How exact the checker is: every tolerance it allows, with its unit and its reason. Stated in docs/model.md.

use crate::units::Length;

/// How far a length in a plan may be off before a rule counts as broken.
///
/// Unit: length; 0.01 mm. Why: a plan may have been written with three decimals of a millimetre, or four of an inch
/// (half of the last digit is 0.0013 mm), and several such numbers add up in one rule; and no saw holds a hundredth.
pub const LENGTH: Length = Length::from_nm(10_000);

/// How far two reckonings of one cost may differ.
///
/// Unit: none, relative to the larger; below a cost of 1, absolute. Why: the same terms summed in another order differ
/// in the last digits of a double, about 1e-12 here; a real slip is far above a millionth.
pub const COST: f64 = 1.0e-6;

/// Whether two lengths or distances are the same to the checker.
pub(super) fn same(one: Length, other: Length) -> bool {
    (one - other).abs() <= LENGTH
}

/// Whether two reckonings of one cost agree to [`COST`].
pub fn costs_agree(one: f64, other: f64) -> bool {
    (one - other).abs() <= COST * one.abs().max(other.abs()).max(1.0)
}
