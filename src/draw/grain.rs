//! The figure of the wood, drawn freely: fine streaks that belong to a board and run through all its strips.
//!
//! What is invented is where a board has its streaks. What is not: a streak runs on from strip to strip of one board,
//! is mirrored where the strips are opened like a book, and breaks where boards change or a strip is turned.

use crate::stock::{Stock, Strip};
use std::f64::consts::TAU;

/// Streaks on the face of a board. Why so few: more would hide the colour.
const STREAKS: u64 = 5;
/// How far a streak is sounded at a time. Unit: millimetre of strip.
pub const STEP: f64 = 90.0;

/// A streak of a strip.
pub struct Streak {
    middle: f64,
    sway: f64,
    wave: f64,
    phase: f64,
    lean: f64,
    thick: f64,
}

/// The streaks of a strip.
pub fn streaks(stock: &Stock, strip: &Strip) -> Vec<Streak> {
    let (board, seq) = board(stock, strip);
    let streaks = (0..STREAKS).map(|n| {
        let mut dice = Dice(named(board) ^ n.wrapping_mul(0x9e37_79b9_7f4a_7c15));
        let drift = (dice.roll() - 0.5) * 0.03;
        Streak {
            middle: (n as f64 + dice.roll()) / STREAKS as f64 + drift * f64::from(seq),
            sway: 0.05 + 0.12 * dice.roll(),
            wave: 1400.0 + 3600.0 * dice.roll(),
            phase: dice.roll() + 0.004 * f64::from(seq),
            lean: (dice.roll() - 0.5) * 0.0002,
            thick: 0.025 + 0.045 * dice.roll(),
        }
    });
    streaks.collect()
}

impl Streak {
    /// Where the streak is across the strip at a place along it, from edge A (0) to edge B (1), and how thick. `None`
    /// where it has run out over an edge.
    ///
    /// Unit of the place: millimetre, from the marked end.
    pub fn at(&self, u: f64) -> Option<(f64, f64)> {
        let turn = u / self.wave + self.phase;
        let across = self.middle + self.sway * (TAU * turn).sin() + self.lean * u;
        let thick = self.thick * (0.55 + 0.45 * (TAU * 1.7 * turn).cos());
        (across > thick && across < 1.0 - thick).then_some((across, thick))
    }
}

/// A stray is a board of its own.
fn board<'s>(stock: &'s Stock, strip: &'s Strip) -> (&'s str, u32) {
    match strip.origin {
        Some(origin) => (&stock.boards[origin.board.0], origin.seq),
        None => (&strip.name, 0),
    }
}

/// A number from a name. Source: G. Fowler, L. C. Noll and K.-P. Vo, the FNV-1a hash (constants from memory).
fn named(name: &str) -> u64 {
    name.bytes().fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
    })
}

/// Dice that fall alike for one board in every picture. Source: G. Steele, D. Lea and C. Flood, "Fast splittable
/// pseudorandom number generators", OOPSLA 2014, the mixing of SplitMix (constants from memory).
struct Dice(u64);

impl Dice {
    /// From 0 to 1.
    fn roll(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^= z >> 31;
        (z >> 11) as f64 / (1u64 << 53) as f64
    }
}
