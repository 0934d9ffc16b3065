//! Moves: small changes that a plan may get better by, one file each, named for what the hands would do.
//!
//! A move proposes a change without making it, and never looks at files, clock or screen. It refuses where the wood
//! has no room. Start with [`exchange`]; [`ruin_recreate`] is the one that can do anything.

mod deal;
mod exchange;
mod fetch;
mod pass_wood;
pub(super) mod pick;
mod place_joints;
mod push_run;
mod relay;
mod remate;
mod reverse_run;
mod ruin_recreate;
mod ruin_recreate_window;
mod slide_joint;
mod slide_run;
mod swap_boards;
mod swap_runs;
mod turn;
mod turn_run;

pub use relay::cut_anew;

use super::draft::Draft;
use super::rng::SearchRng;
use super::state::{Change, State};
use super::timber::keeps_glued;
use rand::RngExt;

/// The moves there are.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Move {
    /// Two parts exchange their strips.
    Exchange,
    /// A part is cut from other strips instead.
    Fetch,
    /// A pair is turned end for end, or port for starboard.
    Turn,
    /// A run of courses is turned end for end.
    TurnRun,
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
    /// Two boards change places.
    SwapBoards,
    /// A joint slides along its course.
    SlideJoint,
    /// Courses of one board slide along their strips together.
    SlideRun,
    /// Some courses are stripped and laid anew.
    RuinRecreate,
    /// Some courses in a row are stripped and laid anew together.
    RuinRecreateWindow,
    /// Many courses that don't touch each other share their wood out anew, in the best possible way.
    Deal,
}

/// How often each move is drawn, by what it is drawn for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum OperatorWeights {
    /// Plans in which each course is one piece.
    Whole,
    /// Plans with joints.
    Joined,
    /// A few courses of a plan with joints, around a perturbation: whole boards stay where they are.
    Local,
}

impl OperatorWeights {
    /// The weights for a plan, by whether joints play a part in it.
    pub fn of(jointed: bool) -> OperatorWeights {
        match jointed {
            true => OperatorWeights::Joined,
            false => OperatorWeights::Whole,
        }
    }
}

/// Every move.
pub const ALL: [Move; 15] = [
    Move::Exchange,
    Move::Fetch,
    Move::Turn,
    Move::TurnRun,
    Move::Remate,
    Move::ReverseRun,
    Move::PushRun,
    Move::SwapRuns,
    Move::PassWood,
    Move::SwapBoards,
    Move::SlideJoint,
    Move::SlideRun,
    Move::RuinRecreate,
    Move::RuinRecreateWindow,
    Move::Deal,
];

impl Move {
    /// A change to the state, or `None` where this move has nothing to offer this time.
    ///
    /// Changes that would cost more than `ceiling` beyond what they save may be given up on the way.
    pub fn propose(self, state: &State, ceiling: f64, rng: &mut SearchRng) -> Option<Change> {
        let draft = Draft::within(state, ceiling);
        let change = match self {
            Move::Exchange => exchange::propose(draft, rng),
            Move::Fetch => fetch::propose(draft, rng),
            Move::Turn => turn::propose(draft, rng),
            Move::TurnRun => turn_run::propose(draft, rng),
            Move::Remate => remate::propose(draft, rng),
            Move::ReverseRun => reverse_run::propose(draft, rng),
            Move::PushRun => push_run::propose(draft, rng),
            Move::SwapRuns => swap_runs::propose(draft, rng),
            Move::PassWood => pass_wood::propose(draft, rng),
            Move::SwapBoards => swap_boards::propose(draft, rng),
            Move::SlideJoint => slide_joint::propose(draft, rng),
            Move::SlideRun => slide_run::propose(draft, rng),
            Move::RuinRecreate => ruin_recreate::propose(draft, rng),
            Move::RuinRecreateWindow => ruin_recreate_window::propose(draft, rng),
            Move::Deal => deal::propose(draft, rng),
        };
        // No move lifts what the glue holds.
        change.filter(|change| {
            change
                .iter()
                .all(|(row, timber)| keeps_glued(state.problem, *row, timber))
        })
    }

    /// How often it is drawn.
    pub fn weight(self, weights: OperatorWeights) -> u32 {
        let [whole, joined, local] = match self {
            Move::Exchange => [300, 200, 200],
            Move::Fetch => [200, 200, 200],
            Move::Turn => [100, 100, 100],
            // Where strips serve several courses. With joints it was not measured.
            Move::TurnRun => [20, 0, 0],
            Move::Remate => [60, 60, 0],
            Move::ReverseRun => [120, 60, 10],
            Move::PushRun => [120, 100, 20],
            Move::SwapRuns => [120, 30, 0],
            // Without joints this is what the moves of whole courses do already.
            Move::PassWood => [0, 120, 120],
            Move::SwapBoards => [100, 60, 0],
            Move::SlideJoint => [0, 200, 200],
            // With joints it was not measured.
            Move::SlideRun => [100, 0, 0],
            // In a local search, twice as often or half as often gave worse plans in equal time.
            Move::RuinRecreate => [4, 20, 80],
            // Worth its price only where a local search follows before it is judged.
            Move::RuinRecreateWindow => [0, 0, 0],
            Move::Deal => [1, 1, 0],
        };
        match weights {
            OperatorWeights::Whole => whole,
            OperatorWeights::Joined => joined,
            OperatorWeights::Local => local,
        }
    }
}

/// Draws a move; [`Move::RuinRecreate`] much more often while a course is open, since little else can close it.
pub fn draw(weights: OperatorWeights, open: bool, rng: &mut SearchRng) -> Move {
    if open && rng.random_bool(0.3) {
        return Move::RuinRecreate;
    }
    by_weight(&ALL.map(|m| (m, m.weight(weights))), rng)
}

/// Draws one of some moves, each as often as the share beside it.
pub fn by_weight(moves: &[(Move, u32)], rng: &mut SearchRng) -> Move {
    let all: u32 = moves.iter().map(|(_, share)| share).sum();
    let mut at = rng.random_range(0..all);
    for (m, share) in moves {
        if at < *share {
            return *m;
        }
        at -= share;
    }
    Move::Exchange
}
