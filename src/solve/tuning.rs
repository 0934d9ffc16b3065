//! The numbers that set how long the search goes on, how hot, how wide and how often, part by part, with a line on how
//! each was chosen. Factors inside a formula stand beside it.
//!
//! "Measured" means: changed on the ladder's jobs (`benches/ladder.rs`), and nothing else did better; see
//! `docs/benchmarks.md`. Where nothing is said of how, it was found by trial and not recorded. Limits of a
//! representation (bits of a mask, places beyond any boat) stand beside the code that has them.

use super::bound::{Ascent, Level};
use super::fill::ConstructionParameters;
use super::moves::Move;
use crate::units::Length;

/// The search as a whole (`search`).
pub mod search {
    /// Rounds without a better plan after which the search gives up: covered, and while a course is open. More: later
    /// to end. Measured on the demo: with two, one seed in four gave up at half of the usual time, with the worst plan.
    pub const PATIENCE: [u64; 2] = [4, 8];
    /// Perturbations for each course that a start makes in a round, where it makes such. More: longer rounds, and
    /// starts learn of each other less often.
    pub const PERTURBATIONS: u64 = 12;
    /// The ceiling where the user names neither rounds nor seconds. Unit: seconds. What a builder waits for without
    /// asking why.
    pub const CEILING: f64 = 10.0;
    /// How long a first plan, or what to mill, is still worked on once the end is due. Unit: seconds. Half of the
    /// second within which a limit holds; common jobs take a tenth of it. Less: large jobs are left half laid.
    pub const GRACE: f64 = 0.5;
    /// How often in a row the proof and the plans that it hints at may improve on each other. Fewer: what is left of it
    /// waits for the next round.
    pub const HINTS: u64 = 6;
}

/// How hot and how long starts cool (`schedule`).
pub mod schedule {
    /// Independent starts. More cover more ground in a round, at the price of fewer rounds.
    pub const STARTS: usize = 4;
    /// More courses than this make a job large: two starts, cooler ones, and no perturbations.
    /// Measured: on 250 courses perturbations and four starts gained nothing.
    pub const LARGE: usize = 100;
    /// Up to so many make it small: half of the starts explore, each cooling has five times as many moves to spare, and
    /// no sequences of boards are looked for.
    pub const SMALL: usize = 12;
    /// Up to so many, one start explores. Beyond, all refine: each round counts for more there.
    pub const FEW: usize = 60;
    /// How many times longer the first cooling is than those after it: it settles which boards go where. Less: it is
    /// settled badly, and no later round mends it. More: fewer rounds.
    pub const FIRST: f64 = 10.0;
    /// The same where a proof follows, which has better hints to give than a long cooling.
    pub const FIRST_BEFORE_PROOF: f64 = 0.25;
}

/// How starts begin (`starts`).
pub mod starts {
    /// Of all starts, the ones that go on in a large job, which needs every round: those that begin best.
    /// Measured on 250 courses: more than two were worse.
    pub const STARTS_OF_LARGE: usize = 2;
    /// Sequences of boards that are laid and cooled briefly. Fewer: the best may not be among them. More: less time for
    /// rounds. Measured on `three`: which of them is best shows only after perturbations.
    pub const SEQUENCES: usize = 20;
    /// The part of a round for which they are cooled: a third.
    pub const BRIEFLY: u64 = 3;
    /// How many of them are then perturbed, of which the best become starts. See [`SEQUENCES`].
    pub const SHORTLIST: usize = 8;
    /// Large moves for each course in that: a third of a round's.
    pub const FIRST_PERTURBATIONS: u64 = 4;
}

/// Iterated local search (`perturbation`).
pub mod perturbation {
    use super::Move;
    /// Large moves, each as often as it stands here.
    pub const LARGE: [(Move, u32); 5] = [
        (Move::RuinRecreateWindow, 8),
        (Move::SwapBoards, 4),
        (Move::PushRun, 2),
        (Move::ReverseRun, 1),
        (Move::PassWood, 1),
    ];
    /// Losses that no local search makes good, in parts of what a course costs on average: such moves are not made.
    /// Less: boards are not moved at all. More: time goes into moves that are taken back.
    pub const HOPELESS: f64 = 10.0;
    /// How much worse a plan may be kept at first and at last, in parts of what a course costs.
    /// Measured: hotter and colder were worse on `short` and `three`.
    pub const TEMPERATURE: [f64; 2] = [0.5, 0.02];
    /// Moves tried in the local search, in all and for each course. Fewer: a large move is judged before it is cut to
    /// suit. More: fewer large moves.
    pub const LOCAL_SEARCH: [u64; 2] = [400, 30];
    /// The part of the local search after which a plan that is still far too dear is given up.
    pub const EARLY: f64 = 0.3;
    /// What is far too dear: so many times what a course costs and the temperature together. Less: good moves are given
    /// up with the bad.
    ///
    /// Measured on `short`: of plans that were between once and twice as far off, hardly one was accepted in the end.
    pub const FAR_OFF: f64 = 1.0;
    /// Plans that differ by less in cost are the same. Unit: ΔE00·metre. Sums of many terms differ by less in their
    /// last digits.
    pub const SAME: f64 = 1e-7;
    /// Temperature at the beginning and at the end of the local search, in parts of what a course costs. Hotter: it
    /// takes the large move apart again.
    pub const LOCAL_TEMPERATURE: [f64; 2] = [0.05, 0.005];
    /// Moves drawn for each that is made, at most: few have wood to offer. Only a limit on looking in vain.
    pub const DRAWN: u64 = 50;
}

/// When a plan counts as proven best (`optimality`).
pub mod optimality {
    /// A gap below this part of the cost counts as none: sums of many terms differ by less in their last digits. Less:
    /// a best plan is not known for one.
    pub const CLOSED: f64 = 1e-6;
    /// Less than this part of the cost is no rise worth going on for. Less: longer without a plan that is better.
    pub const RISE: f64 = 1e-3;
}

/// What an open course costs (`state`).
pub mod state {
    /// Price of a metre of course left open: so much that a millimetre of it outweighs what a plan costs otherwise,
    /// unless the weights are extreme. Far below where sums lose a millionth.
    pub const OPEN: f64 = 1e8;
}

/// The problem (`problem`).
pub mod problem {
    /// Strips up to which their colour differences are held in a table. More, and it would outgrow what it saves: 134
    /// MB for these.
    pub const TABLED: usize = 4096;
    /// In a larger rack, so many strips darker and lighter than one are held against it to find what would look best
    /// beside it. Fewer: a strip of the same lightness and another hue may hide the best. More: slower, in proportion.
    pub const NEAR_IN_COLOUR: usize = 200;
    /// In a larger rack, so many slices of its board on either side of a strip are thought of as its mates. Further
    /// apart, with the usual weights, mates of one board have long cost what foster mates do.
    pub const NEAR_IN_BOARD: usize = 60;
    /// How many strips [`Problem::alike`] lists for each. Too few, and the search can't reach good plans but by luck;
    /// too many, and it tries hopeless ones.
    pub const ALIKE: usize = 32;
}

/// What to mill (`shortage`).
pub mod shortage {
    /// Courses whose lengths differ by less than this part are asked for at one length. More: more lines in the list.
    /// Less: longer wood than some of them need.
    pub const ONE_LENGTH: f64 = 0.85;
    /// Numbers of pairs that are tried one after the other; above, by halving, which takes for granted that more pairs
    /// never do worse.
    pub const ONE_BY_ONE: usize = 16;
    /// How finely the least length of wood is tried out. A centimetre: nobody mills to less.
    pub const GRAIN: super::Length = super::Length::from_mm(10.0);
}

/// A change in the making (`draft`).
pub mod draft {
    /// What a course that is still open is taken to cost in the end, as a part of what it costs now. More: changes are
    /// given up earlier, and some with them that would have been made. Measured on `short`,
    /// sixteen runs each: 408 in the mean with nothing, 402 with a half, 406 and 402 with more.
    pub const STILL_OPEN: f64 = 0.5;
}

/// Filling a course (`fill`).
pub mod fill {
    /// Mates that are looked at closely for each piece that is glued on without one. Fewer, and the best may be missed
    /// where its neighbours ask for another colour; more make it slower.
    pub const MATES: usize = 8;
    /// Ways to have come to a place that a stretch may follow on from. Fewer: a dearer way there, whose wood would
    /// have matched, is left out. More: slower, in proportion.
    pub const FOREMOST: usize = 4;
    /// Wood that is looked at closely. More makes each filling better and slower.
    pub const SHORTLIST: usize = 16;
    /// Where a want leaves so few strips for a course or fewer, all of them are tried. By reasoning: as many as are
    /// tried at random in a thorough filling.
    pub const FEW: usize = 48;
}

/// Laying some courses side by side in many ways (`beam`, `fill/fillings`).
pub mod beam {
    /// Drafts that are followed at each course. More: better windows, and fewer of them.
    /// Measured on `short`: eight were worse by one per cent in equal time.
    pub const WIDTH: usize = 20;
    /// Drafts that are laid with the last course and priced in full, register and labels included. By reasoning: it
    /// seldom changes which is the best.
    pub const FINISHED: usize = 3;
    /// Drafts that are kept of those with the same boards on a course and as many strips begun. More: those crowd out
    /// the others.
    pub const ALIKE: usize = 3;
    /// Ways in which each draft goes on. Fewer: what pays only some courses later is not followed.
    pub const CHILDREN: usize = 24;
    /// Of these, the ways with the same boards. See [`ALIKE`].
    pub const OF_TWO_BOARDS: usize = 4;
    /// Places told for the joint between the same two pieces of wood: the cheapest, and one that may suit the next
    /// course better.
    pub const PLACES: usize = 2;
    /// Into how many steps each stretch is divided in which a joint may lie. By reasoning: joints mostly stop
    /// elsewhere.
    pub const STEPS: i64 = 6;
    /// Places for a joint that are less than this apart count as one. The eye sees no difference.
    pub const ONE_PLACE: super::Length = super::Length::from_mm(10.0);
}

/// The moves (`moves`). Longest runs are counted in courses. Longer ones are priced at the same cost a course and
/// hardly ever gain; shorter ones can't move a whole board.
pub mod moves {
    use super::ConstructionParameters;
    /// Most courses in one deal; the work grows with the square.
    pub const DEALT: usize = 60;
    /// Longest run that is pushed on or reversed.
    pub const LONGEST_RUN: usize = 24;
    /// Longest of two runs that are exchanged.
    pub const LONGEST_SWAPPED: usize = 12;
    /// Longest run whose wood is passed along or exchanged, its joints staying where they are.
    pub const LONGEST_OF_WOOD: usize = 8;
    /// Of all places that stop a joint where joints of several courses are placed anew, so many are drawn from which
    /// whole numbers of clearances are stepped off in each course. More: slower, with the cube.
    pub const STEPPED: usize = 3;
    /// How many clearances at most. By reasoning: a board seldom serves more courses one after the other.
    pub const CLEARANCES: i32 = 6;
    /// Courses that are laid anew together by a beam search, at least and at most. Fewer: boards don't change places.
    /// More: slower, and the cheapest way for the first of them is followed too long.
    pub const WINDOW: [usize; 2] = [3, 7];
    /// Boards that are drawn at random for them, besides those that lie there. More: slower.
    pub const MORE_BOARDS: usize = 2;
    /// Most boards in a run that keeps to whole boards.
    pub const MOST_BOARDS: usize = 5;
    /// How often wood is drawn from what a want leaves for a course, and not from what looks well beside its
    /// neighbours. By reasoning: what looks well beside a band of another wood is mostly not allowed in it.
    pub const FROM_WANT: f64 = 0.5;
    /// How many courses are laid anew together, each as often as it stands here. Measured on `short`: two together
    /// bring a quarter of the gains that one does in the same time, three a tenth, four a thirtieth; but no other move
    /// finds what they find.
    pub const RUINED: [usize; 10] = [1, 1, 1, 1, 2, 2, 2, 3, 3, 4];
    /// How a course is cut from wood that is settled. Fewer places for joints: some that suit are missed. More: slower.
    pub const SETTLED: ConstructionParameters = ConstructionParameters {
        places: 8,
        ..ConstructionParameters::NONE
    };
}

/// The beam search over boards (`sequence`).
pub mod sequence {
    /// Sequences that are followed at each course, at least and at most.
    /// Measured on `three`: a wider beam gained nothing.
    pub const WIDTH: [usize; 2] = [20, 300];
    /// What is shared out to all courses and boards: sequences times courses times boards. Half a second or so on two
    /// cores.
    pub const WORK: usize = 180_000;
    /// What joints too near to each other are charged where one board takes over from another, in joints: they may be
    /// slid apart. Less: sequences are laid that clash. More: good ones are passed by.
    pub const CLASH: f64 = 4.0;
    /// Courses over which joints of one board may clash with those of another, at most; more are not looked at. It need
    /// be no more than `clear_courses`, which is 2 on most boats.
    pub const REACH: usize = 4;
    /// Most strips of a board that are passed by before its first pair; and where there are more than so many courses
    /// and boards to try. Fewer: a board can't keep its first slices for later.
    pub const PASSED_BY: [(usize, usize); 2] = [(4, 2_000), (1, usize::MAX)];
    /// Most pairs of a board.
    pub const PAIRS: usize = 64;
    /// Runs of a board that lay the same courses, of which sequences may choose. Fewer: the only run that suits the
    /// next board may be left out. More: a narrower beam.
    pub const CHOICE: usize = 6;
    /// The least by which a joint moves on that another is in the way of. A micrometre: enough that the two
    /// don't meet again by rounding.
    pub const STEP: super::Length = super::Length::from_mm(0.001);
}

/// Cutting stock (`exact/packing`).
pub mod packing {
    /// More ways to fill a strip than this, and the problem is left to the search.
    pub const MOST_PATTERNS: usize = 4000;
    /// The same for fillings looked at on the way, most of which are not full.
    pub const MOST_LOOKS: usize = 200_000;
    /// Dives tried before the best so far is taken. Each is a few small linear programmes.
    /// Enough for the published cutting-stock optima in `tests/oracle`.
    pub const DIVES: u32 = 1024;
}

/// Whether courses can be covered at all (`cover`).
pub mod cover {
    /// How long it is tried. Unit: products of unknowns and inequalities that are looked at, and of strips and
    /// choices. A second or so on the machine it was measured on. Less: more is left undecided.
    pub const PATIENCE: usize = 4_000_000;
    /// How many times longer when planning again on a boat of few courses, where all can be gone through in some
    /// seconds. Why only then: a first plan has the search to find a way, and it is asked at every `lay`.
    pub const LONGER: usize = 10;
    /// No more courses than this are few.
    pub const FEW: usize = 4;
    /// Looks in random orders, before all is gone through in the order that rules out most. Why: where there is a way,
    /// one order or another comes upon it soon.
    pub const LOOKS: usize = 12;
}

/// Places of joints and cuts, decided exactly (`cover/places`).
pub mod places {
    /// How far an inequality may be broken before a choice is given up for it. Unit: mm (10 nm). Why: the solver
    /// reckons in floating point, and what it can't do must be certain. Less: rounding could pass for a proof.
    pub const SLACK: f64 = 1e-5;
    /// Kept free beside what must not be touched. Unit: mm (2 nm): places are rounded to one.
    pub const MARGIN: f64 = 2e-6;
}

/// Planning again (`again`).
pub mod again {
    /// Attempts side by side; the best of them is taken, the first of equals. Two for each way of going about it
    /// (`settle`). Not measured.
    pub const ATTEMPTS: usize = 4;
    /// Rounds of each where none are asked for, and the most of them. Not measured. More: longer to wait in the shop.
    pub const ROUNDS: u64 = 2;
    /// How hard one attempt tries. Unit: moves tried for each course in each round. Not measured; in proportion to the
    /// courses, since each has its own choices.
    pub const TRIES: u64 = 400;
    /// How many times its price a label counts where the plan with the fewest new labels is looked for, and where the
    /// one that looks best is.
    ///
    /// Not measured.
    pub const DEAR: f64 = 4.0;
    /// See [`DEAR`].
    pub const CHEAP: f64 = 0.25;
    /// The part of the time or of the rounds asked for that goes into looks.
    ///
    /// Not measured.
    pub const PART_FOR_LOOKS: f64 = 1.0 / 3.0;
    /// The ceiling on that where no time was asked for. Unit: seconds.
    ///
    /// Half of what a first plan may take.
    pub const CEILING_FOR_LOOKS: f64 = 5.0;
    /// Less than this in looks is no difference. Unit: ΔE00·metre.
    ///
    /// Half of the last digit that is ever printed.
    pub const NO_DIFFERENCE: f64 = 0.005;
}

/// Closing courses that lost wood (`again/mend`).
pub mod mend {
    /// Mates of one board that are tried with each strip, nearest slices first. Not measured; further slices cost more,
    /// and what is left open goes through the moves at `TEMPERATURES`.
    pub const MATES: usize = 3;
    /// Foster mates tried in the same place. As many.
    pub const FOSTERS: usize = 3;
    /// Ways tried to join a course from several pieces. Not measured; each is drawn, so more of them find the odd way
    /// later.
    pub const JOINED: usize = 24;
    /// Temperatures at which courses are opened to close others, one after the other until all are closed. Unit:
    /// ΔE00·metre. Not measured; from the usual price of a label to far above it.
    pub const TEMPERATURES: [f64; 4] = [1.0, 10.0, 50.0, 200.0];
    /// Moves tried at each of those temperatures. Not measured.
    pub const TRIES: u64 = 3000;
}

/// Ejection chains (`again/ejection_chain`).
pub mod ejection_chain {
    /// Most pieces of other courses that get other wood. Not measured; each one more multiplies what there is to try by
    /// some eight, and `PATIENCE` ends it.
    pub const LINKS: usize = 3;
    /// Mates of its board that are tried for a place, the nearest in it first. Not measured.
    pub const MATES: usize = 6;
    /// Foster mates tried in the same place, those that match best. Fewer than mates: they cost more.
    pub const FOSTERS: usize = 2;
    /// Pairs tried for a place that lets both its strips go. As many as single strips: `MATES` and `FOSTERS`.
    pub const PAIRS: usize = 8;
    /// Looks at what fits before the search for a chain ends. Shorter chains come first. Not measured; for its time.
    pub const PATIENCE: usize = 6000;
}

/// Bettering a mended plan (`again/settle`).
pub mod settle {
    /// How hot a round begins, in prices of a label, for every other attempt. The first never leaves the way down; at
    /// half a label some are moved that need not be. Not measured.
    pub const TEMPERATURES: [f64; 2] = [0.01, 0.5];
    /// Neighbourhoods of repairs that the attempts between them throw over in a round. Not measured; one for each of
    /// `nearby::TEMPERATURES`, twice.
    pub const NEIGHBOURHOODS: u64 = 8;
    /// A price of a label to begin with, where a label costs nothing. Unit: ΔE00·metre. What one costs by itself.
    pub const LABEL: f64 = 1.0;
}

/// Courses around a repair (`again/nearby`).
pub mod nearby {
    /// Most courses that are cooled together: one with `NEAR` on each side, and two that share wood with it. Not
    /// measured.
    pub const MOST: usize = 7;
    /// Courses on each side of one that count as near. As far as joints are held against each other by default.
    pub const NEAR: usize = 2;
    /// How hot they are at first, in prices of a label, in turn. A chain of labels passes through plans that are worse
    /// by several.
    pub const TEMPERATURES: [f64; 4] = [1.0, 3.0, 8.0, 20.0];
    /// How hot at last, in the same. So cold that not one label moves for nothing.
    pub const COLD: f64 = 0.02;
    /// Moves tried, in all and for each course. Not measured; some thousand for `MOST` courses, a moment.
    pub const TRIES: [u64; 2] = [300, 120];
    /// How much worse a plan may be kept at first, in prices of a label. As hot as `settle` begins at the most.
    pub const WORSE: f64 = 0.5;
}

/// What must not break (`again/spares`).
pub mod spares {
    /// A rise of the cost by less than this is none. Unit: ΔE00·metre; half of the last digit that is ever printed.
    pub const NOTHING: f64 = 0.005;
}

/// The bound as a whole (`bound/prover`).
pub mod prover {
    use super::{Ascent, Level};
    /// Ascents over the likely pairs, one after the other.
    pub const LIKELY: [Ascent; 3] = [
        Ascent::new(Level::Own, 25, 0.1, f64::INFINITY),
        Ascent::new(Level::Nearest, 15, 0.02, 0.002),
        Ascent::new(Level::Ways, 60, 0.02, 0.002),
    ];
    /// The same in a job of many boards: the prices have to be good before all is remembered, or there are too many
    /// paths. Measured on 80x100, seed 9: with 15 steps on the second level the third had too many paths.
    pub const LIKELY_OF_MANY: [Ascent; 3] = [
        Ascent::new(Level::Own, 25, 0.1, f64::INFINITY),
        Ascent::new(Level::Nearest, 50, 0.02, 0.002),
        Ascent::new(Level::Ways, 60, 0.02, 0.002),
    ];
    /// The same where some courses could be cut from one strip. The slack is larger: without it every other step is
    /// solved twice, and on 40x50runs, seed 3, once takes half a second.
    pub const LIKELY_WITH_SHORT: [Ascent; 3] = [
        Ascent::new(Level::Own, 25, 0.1, f64::INFINITY),
        Ascent::new(Level::Nearest, 15, 0.02, 0.002),
        Ascent::new(Level::Ways, 40, 0.02, 0.004),
    ];
    /// The same where short courses of several panels are gone through together: where prices are poor, there are too
    /// many ways. So all but the last go through those of one panel alone. Without the third, 30x40two, seed 3, had no
    /// bound to speak of in 10 s.
    pub const LIKELY_OF_PANELS: [Ascent; 4] = [
        Ascent::new(Level::Own, 25, 0.1, f64::INFINITY),
        Ascent::new(Level::Nearest, 15, 0.02, 0.002),
        Ascent::new(Level::Ways, 20, 0.02, 0.004),
        Ascent::new(Level::Ways, 6, 0.004, 0.004),
    ];
    /// One over all pairs, where the likely ones were not enough. Not measured.
    pub const OVER_ALL: Ascent = Ascent::new(Level::Ways, 20, 0.02, 0.002);
    /// One that remembers all of short courses, over the pairs that are left. The slack is small: over
    /// the likely pairs of 24x30runs, seed 2, looks at ways to lay them tripled with a slack larger by 2.5 %.
    pub const OVER_LEFT: Ascent = Ascent::new(Level::Ways, 30, 0.01, 0.001);
    /// Most costs kept over all pairs, and over the likely ones.
    /// 240 MB.
    pub const MOST_OF_ALL: usize = 30_000_000;
    /// The same over the likely pairs: 96 MB.
    pub const MOST_OF_LIKELY: usize = 12_000_000;
    /// Where the likely pairs promise less than this part of the plan's cost, nothing beyond what they promise is
    /// followed. On 30x40two, seed 3, eight of ten seconds went into that, for a plan 10 % above one that was found
    /// later.
    pub const NEAR: f64 = 0.95;
    /// Where what the likely pairs promise can't be followed for too many paths, the parts of it that are tried, until
    /// one can't either. From below: what can't be followed takes longest.
    pub const LESS: [f64; 4] = [0.95, 0.985, 0.994, 0.998];
}

/// Subgradient ascent (`bound/subgradient`).
pub mod subgradient {
    /// Rounds without a better bound after which the steps get shorter.
    pub const PATIENCE: usize = 4;
    /// Steps shorter than this are not worth solving the subproblem again.
    pub const SHORTEST_STEP: f64 = 1e-3;
    /// A better value than this part of the plan's cost counts as progress.
    pub const PROGRESS: f64 = 1e-4;
    /// Prices of unused strips below this part of the plan's cost count as none.
    /// Sums of many terms differ by less.
    pub const CLOSED: f64 = 1e-8;
}

/// Neighbourhoods (`bound/dual`).
pub mod dual {
    /// Boards, most like it, that a board remembers at first on the last level: in a job of few boards, and in one of
    /// many.
    pub const NEAREST: [usize; 2] = [9, 3];
    /// More boards than this are many.
    /// Between 24x30 (6 boards) and 80x100 (20).
    pub const FEW_BOARDS: usize = 12;
}

/// Boards with too many subsets (`bound/classes`).
pub mod classes {
    /// Slices that pairs of a board are apart at most, one such number after the other, where a board has too many
    /// subsets: pairs further apart are outliers. Where that does not suffice, all are.
    pub const CLOSE: [i64; 3] = [4, 2, 1];
}

/// Subsets of a board (`bound/subset_dp`).
pub mod subset_dp {
    /// Most transitions of a board: more would take longer than what they save. Unit: transitions of 8 bytes (4 MB a
    /// board).
    pub const MOST_TRANSITIONS: usize = 500_000;
}

/// Dominance (`bound/buckets`).
pub mod buckets {
    /// Dominance is not looked for among more buckets than this: the time for it grows with their square.
    /// Measured: holding every bucket against every other did not help.
    pub const MOST_FOR_DOMINANCE: usize = 2_000;
}

/// Which courses are long (`bound/sharing`).
pub mod sharing {
    /// Where no more courses than this leave room on a strip for another, all of them are short. More of them would not
    /// all be remembered: then only those are short of which two fit on a strip. Not measured.
    pub const FEW: usize = 16;
}

/// Short courses (`bound/shorts`).
pub mod shorts {
    /// Most short courses of a graph of which all ways to lay them are gone through. With eight, 24x30runs8 is proven
    /// in a second. With twelve, 40x50two, seed 2, is proven in 20 s, and seeds 1, 3 and 4 have no bound in 10 s; with
    /// six, and six others that are priced, three of the four are left with 8 to 13 % after 10 s.
    pub const MOST_COURSES: usize = 8;
}

/// All ways to lay short courses (`bound/tails`, `bound/register`).
pub mod tails {
    /// Most ways that are kept. Unit: ways of some 200 bytes to a kilobyte (100 MB).
    pub const MOST: usize = 100_000;
    /// Most looks at a pair on a course: two seconds or so. Measured on 24x30runs, seeds 1 to 10: far less is needed
    /// since long courses cut off ways to lay the short ones.
    pub const MOST_LOOKS: usize = 10_000_000;
    /// Most placings for one way in which courses share strips: a tenth of a second. With fewer, more of what they cost
    /// is left out of the bound.
    pub const MOST_PLACINGS: usize = 20_000;
    /// Most cycles of flow for one placing. By reasoning: a placing has some tens of edges; it seldom takes ten.
    pub const MOST_CYCLES: usize = 1_000;
    /// Each of these counts as so many looks: by reasoning, a placing takes some microseconds.
    pub const LOOKS_A_PLACING: usize = 16;
    /// So many ways to lay the rest of a tail, held against a way to lay its first panel, count as a look: by
    /// reasoning, most of them fail at the first strip.
    pub const JOINS_A_LOOK: usize = 8;
    /// How finely the room on a strip is told. Finer: each strip of a rack has a room of its own, and the time is up
    /// before the ways to share them are worked out. Coarser: figure costs less than it does.
    /// Measured on a boat of 16 courses with strips of 4.96 to 5.3 m: no bound in 60 s without it, 1.2 % with it.
    pub const ROOM_STEP: super::Length = super::Length::from_mm(100.0);
}

/// Plans gone through one by one (`bound/enumeration`).
pub mod enumeration {
    /// Most looks at a node: some tenths of a second.
    pub const MOST_LOOKS: usize = 1_000_000;
}

/// Pairs that are compared (`bound/pairs`).
pub mod pairs {
    /// More pairs than this are not compared with each other. Unit: pairs; a comparison takes 8 bytes.
    /// 50 MB of rates.
    pub const MOST_PAIRS: usize = 2_500;
}
