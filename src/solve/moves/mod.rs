//! Moves: small changes that a plan may get better by, one file each, named for what the hands would do.
//!
//! A move proposes a change without making it, and never looks at files, clock or screen. It refuses where the wood has no
//! room. Start with [`exchange`]; [`recut`] is the one that can do anything.

mod deal;
mod exchange;
mod fetch;
mod pass_wood;
mod pick;
mod push_run;
mod recut;
mod relay;
mod remate;
mod replank;
mod reverse_run;
mod slide_joint;
mod swap_boards;
mod swap_runs;
mod swap_wood;
mod turn;

pub use relay::cut_anew;

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
    /// A run of courses passes its wood on, with spares at one end or round in a ring.
    PushRun,
    /// Two runs of courses exchange their wood.
    SwapRuns,
    /// A run of pieces passes its wood along.
    PassWood,
    /// Two runs of pieces exchange their wood.
    SwapWood,
    /// Two boards change places.
    SwapBoards,
    /// A joint slides along its course.
    SlideJoint,
    /// Some courses are stripped and laid anew.
    Recut,
    /// A stretch of courses is planked with another board.
    Replank,
    /// Many courses that don't touch each other share their wood out anew, in the best possible way.
    Deal,
}

/// What moves are drawn for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Mix {
    /// Plans in which each course is one piece.
    Whole,
    /// Plans with joints.
    Joined,
    /// Plans with joints, a few courses of which are tidied up: whole boards stay where they are.
    Tidying,
}

impl Mix {
    /// The mix for a plan, by whether joints play a part in it.
    pub fn of(jointed: bool) -> Mix {
        match jointed {
            true => Mix::Joined,
            false => Mix::Whole,
        }
    }
}

/// Every move.
pub const ALL: [Move; 14] = [
    Move::Exchange,
    Move::Fetch,
    Move::Turn,
    Move::Remate,
    Move::ReverseRun,
    Move::PushRun,
    Move::SwapRuns,
    Move::PassWood,
    Move::SwapWood,
    Move::SwapBoards,
    Move::SlideJoint,
    Move::Recut,
    Move::Replank,
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
            Move::PassWood => pass_wood::propose(draft, dice),
            Move::SwapWood => swap_wood::propose(draft, dice),
            Move::SwapBoards => swap_boards::propose(draft, dice),
            Move::SlideJoint => slide_joint::propose(draft, dice),
            Move::Recut => recut::propose(draft, dice),
            Move::Replank => replank::propose(draft, dice),
            Move::Deal => deal::propose(draft, dice),
        };
        // No move lifts what the glue holds.
        change.filter(|change| {
            change
                .iter()
                .all(|(row, timber)| state.problem.keeps_glued(*row, timber))
        })
    }

    /// How often it is drawn.
    pub fn share(self, mix: Mix) -> u32 {
        let [whole, joined, tidying] = match self {
            Move::Exchange => [300, 200, 200],
            Move::Fetch => [200, 200, 200],
            Move::Turn => [100, 100, 100],
            Move::Remate => [60, 60, 60],
            Move::ReverseRun => [120, 60, 10],
            Move::PushRun => [120, 100, 20],
            Move::SwapRuns => [120, 30, 0],
            // Without joints these are what the moves of whole courses do already.
            Move::PassWood => [0, 120, 120],
            Move::SwapWood => [0, 120, 30],
            Move::SwapBoards => [100, 60, 0],
            Move::SlideJoint => [0, 200, 200],
            Move::Recut => [4, 20, 40],
            // Worth its price only where it is tidied up before it is judged.
            Move::Replank => [0, 0, 0],
            Move::Deal => [1, 1, 0],
        };
        match mix {
            Mix::Whole => whole,
            Mix::Joined => joined,
            Mix::Tidying => tidying,
        }
    }
}

/// Draws a move; [`Move::Recut`] much more often while a course is open, since little else can close it.
pub fn draw(mix: Mix, open: bool, dice: &mut Dice) -> Move {
    if open && dice.random_bool(0.3) {
        return Move::Recut;
    }
    by_share(&ALL.map(|m| (m, m.share(mix))), dice)
}

/// Draws one of some moves, each as often as the share beside it.
pub fn by_share(moves: &[(Move, u32)], dice: &mut Dice) -> Move {
    let all: u32 = moves.iter().map(|(_, share)| share).sum();
    let mut at = dice.random_range(0..all);
    for (m, share) in moves {
        if at < *share {
            return *m;
        }
        at -= share;
    }
    Move::Exchange
}
