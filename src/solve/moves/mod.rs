//! Moves: small changes that a plan may get better by, one file each, named for what the hands would do.
//!
//! A move proposes a change without making it, and never looks at files, clock or screen. It refuses where the wood has no
//! room. Start with [`exchange`]; [`recut`] is the one that can do anything.

mod deal;
mod exchange;
mod fetch;
mod pick;
mod push_run;
mod recut;
mod remate;
mod reverse_run;
mod slide_joint;
mod swap_runs;
mod turn;

use super::draft::Draft;
use super::state::{Change, State};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// What a move's choices are drawn from.
pub type Dice = Pcg64Mcg;

/// The dice of one of several attempts. Streams of one seed, a golden-ratio step apart so that neighbouring seeds share none.
pub fn dice(seed: u64, number: usize) -> Dice {
    Dice::seed_from_u64(seed.wrapping_add(0x9e37_79b9_7f4a_7c15u64.wrapping_mul(number as u64 + 1)))
}

/// The moves there are.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Move {
    /// Two parts exchange their strips.
    Exchange,
    /// A part is cut from other strips instead.
    Fetch,
    /// A pair is turned end for end, or port for starboard.
    Turn,
    /// Two parts exchange their starboard strips.
    Remate,
    /// A run of courses takes its wood in the opposite order.
    ReverseRun,
    /// A run of courses passes its wood on by one, with a spare at one end or round in a ring.
    PushRun,
    /// Two runs of courses exchange their wood.
    SwapRuns,
    /// A joint slides along its course.
    SlideJoint,
    /// Some courses are stripped and laid anew.
    Recut,
    /// Many courses that don't touch each other share their wood out anew, in the best possible way.
    Deal,
}

/// Every move.
pub const ALL: [Move; 10] = [
    Move::Exchange,
    Move::Fetch,
    Move::Turn,
    Move::Remate,
    Move::ReverseRun,
    Move::PushRun,
    Move::SwapRuns,
    Move::SlideJoint,
    Move::Recut,
    Move::Deal,
];

impl Move {
    /// A change to the state, or `None` where this move has nothing to offer this time.
    pub fn propose(self, state: &State, dice: &mut Dice) -> Option<Change> {
        let draft = Draft::new(state);
        let change = match self {
            Move::Exchange => exchange::propose(draft, dice),
            Move::Fetch => fetch::propose(draft, dice),
            Move::Turn => turn::propose(draft, dice),
            Move::Remate => remate::propose(draft, dice),
            Move::ReverseRun => reverse_run::propose(draft, dice),
            Move::PushRun => push_run::propose(draft, dice),
            Move::SwapRuns => swap_runs::propose(draft, dice),
            Move::SlideJoint => slide_joint::propose(draft, dice),
            Move::Recut => recut::propose(draft, dice),
            Move::Deal => deal::propose(draft, dice),
        };
        // No move lifts what the glue holds.
        change.filter(|change| {
            change
                .iter()
                .all(|(row, timber)| state.problem.keeps_glued(*row, timber))
        })
    }

    /// How often it is drawn, for a plan with joints and for one without.
    pub fn share(self, jointed: bool) -> u32 {
        match (self, jointed) {
            (Move::Exchange, false) => 300,
            (Move::Exchange, true) => 200,
            (Move::Fetch, _) => 200,
            (Move::Turn, _) => 100,
            (Move::Remate, _) => 60,
            (Move::ReverseRun, _) => 120,
            (Move::PushRun, _) => 120,
            (Move::SwapRuns, _) => 120,
            (Move::SlideJoint, false) => 0,
            (Move::SlideJoint, true) => 200,
            (Move::Recut, false) => 4,
            (Move::Recut, true) => 60,
            (Move::Deal, _) => 1,
        }
    }
}

/// Draws a move; [`Move::Recut`] much more often while a course is open, since little else can close it.
pub fn draw(jointed: bool, open: bool, dice: &mut Dice) -> Move {
    if open && dice.random_bool(0.3) {
        return Move::Recut;
    }
    let all: u32 = ALL.iter().map(|m| m.share(jointed)).sum();
    let mut at = dice.random_range(0..all);
    for m in ALL {
        let share = m.share(jointed);
        if at < share {
            return m;
        }
        at -= share;
    }
    Move::Exchange
}
