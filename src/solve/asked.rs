//! What the search is asked for, what it tells on the way, and what it ends with.

use crate::hull::CourseId;
use crate::plan::{Cost, Plan};
use crate::units::Length;
use std::time::{Duration, Instant};

/// What the search is asked for.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub struct Asked {
    /// Seed of all that is random.
    pub seed: u64,
    /// So many rounds exactly; `None` to stop when nothing better turns up.
    pub rounds: Option<u64>,
    /// A ceiling on the time. Unit: seconds. A search cut short by it may not repeat exactly.
    pub seconds: Option<f64>,
    /// Threads to use; `None` for one a core. The plan does not depend on it.
    pub threads: Option<usize>,
    /// Whether the plan is only tried out: then it is not gone through all ways to lay a course that stayed open.
    pub trial: bool,
}

impl Asked {
    /// When the time is up, where it is limited: by what is asked for, else by `otherwise`. Unit of `otherwise`:
    /// seconds.
    pub(super) fn until(&self, otherwise: Option<f64>) -> Option<Instant> {
        let seconds = Duration::try_from_secs_f64(self.seconds.or(otherwise)?).ok()?;
        Instant::now().checked_add(seconds)
    }
}

/// How far the search is.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Progress {
    /// Rounds done.
    pub round: u64,
    /// Rounds asked for, if a number was.
    pub of: Option<u64>,
    /// Length of course that the best plan leaves uncovered.
    pub uncovered: Length,
    /// Cost of the best plan. Unit: ΔE00·metre.
    pub cost: f64,
    /// Proven lower bound on the cost, once there is one.
    pub bound: Option<f64>,
}

/// Whoever watches the search, and may end it.
pub trait Watch: Sync {
    /// Told after every round.
    fn progress(&self, at: &Progress);
    /// Offered the best plan so far, after every round: made where it is asked for.
    fn plan(&self, _best: &dyn Fn() -> Plan) {}
    /// Asked often; the search ends soon after it says yes, with the best plan so far.
    fn stop(&self) -> bool;
}

/// Watches nothing and never stops the search.
pub struct Quiet;

impl Watch for Quiet {
    fn progress(&self, _: &Progress) {}
    fn stop(&self) -> bool {
        false
    }
}

/// Why the search ended.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Ended {
    /// The plan is proven to be the best there is.
    Proven,
    /// Nothing better turned up for several rounds.
    Stalled,
    /// The rounds asked for are done.
    Rounds,
    /// The time was up.
    Seconds,
    /// The watcher asked for the end.
    Stopped,
}

impl Ended {
    const ALL: [Ended; 5] = [
        Ended::Proven,
        Ended::Stalled,
        Ended::Rounds,
        Ended::Seconds,
        Ended::Stopped,
    ];

    /// The one that this word of a plan.json stands for.
    pub fn named(word: &str) -> Option<Ended> {
        Ended::ALL.into_iter().find(|ended| ended.name() == word)
    }

    /// The word written in plan.json.
    pub const fn name(self) -> &'static str {
        match self {
            Ended::Proven => "proven",
            Ended::Stalled => "stalled",
            Ended::Rounds => "rounds",
            Ended::Seconds => "seconds",
            Ended::Stopped => "stopped",
        }
    }
}

/// How a bound was found, or why there is none.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[non_exhaustive]
pub enum BoundReason {
    /// Found: prices on the use of each strip, with paths that remember the strips they took.
    Priced,
    /// Found: no term of the cost can be less than nothing, and the plan costs nothing.
    CostIsNothing,
    /// None: a course is open, and a bound holds only for plans that cover all.
    CourseOpen,
    /// None: courses may be joined from pieces, and it is not proven that no joint pays.
    Joints,
    /// None: the job has more strips, pairs or slices in a board than the bound can remember.
    TooLarge,
    /// None: wood is laid or labelled already.
    WoodIsLaid,
    /// None: no bound above nothing was found in the time.
    TimeUp,
    /// None: the plan was taken up again as it was.
    TakenUpAgain,
}

/// The best plan found, and what is known about it.
#[derive(Clone, PartialEq, Debug)]
pub struct Outcome {
    /// The plan.
    pub plan: Plan,
    /// Its cost, by the search's own reckoning.
    pub cost: Cost,
    /// Rounds done.
    pub rounds: u64,
    /// A proven lower bound on the cost of any plan that covers what this one covers. Unit: ΔE00·metre.
    pub bound: Option<f64>,
    /// The same for plans without joints alone, where joints are allowed and the first plans needed none.
    pub bound_without_joints: Option<f64>,
    /// How `bound` was found, or why there is none.
    pub bound_reason: BoundReason,
    /// Why the search ended.
    pub ended: Ended,
    /// What is missing, where the wood does not cover every course.
    pub shortage: Option<Shortage>,
    /// Planned again: the plan with the fewest new labels, and one that looks better for more of them, where they are
    /// others.
    pub others: Vec<Plan>,
}

/// Which courses stay open, and what would cover them.
#[derive(Clone, PartialEq, Debug)]
pub struct Shortage {
    /// The open courses, in order.
    pub open: Vec<CourseId>,
    /// Each a way to cover courses of `open`; where several name the same course, either will do.
    pub remedies: Vec<Remedy>,
    /// How certain it is that some course must stay open.
    pub grounds: Grounds,
}

/// How certain it is that the wood does not cover every course.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Grounds {
    /// Proven: the wood is too short, or too little of it is long enough.
    Lengths,
    /// Proven: a course could not be laid were the whole rack there for it alone.
    OneCourse,
    /// Proven: joints of near courses can't keep clear of each other.
    Joints,
    /// Proven: every way to lay the courses was gone through.
    AllTried,
    /// Proven in the same way, as long as all other courses keep their places.
    AllTriedInPlace,
    /// No way was found, which proves nothing.
    NotFound,
}

/// So much wood of such a length would cover these courses.
#[derive(Clone, PartialEq, Debug)]
pub struct Remedy {
    /// Pairs to mill or buy, for mirrored courses.
    pub pairs: usize,
    /// Single strips, for centre courses.
    pub strips: usize,
    /// The length that each must have from end to end, clear of defects.
    pub length: Length,
    /// The courses covered.
    pub courses: Vec<CourseId>,
    /// Whether they are laid in one piece.
    pub joined: Joined,
}

/// Whether a remedy needs scarfs.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Joined {
    /// Each course in one piece.
    OnePiece,
    /// With scarfs, together with what is left in the rack.
    Scarfed,
}
