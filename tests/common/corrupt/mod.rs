//! Ways to spoil a good plan: at least one for each way of breaking each of the ten hard rules.
//!
//! A spoiler takes a plan that keeps every rule and breaks one on purpose, at a place drawn from the seed. Some have to
//! change the job under the plan instead (a defect that was overlooked, a strip that was laid already). A spoiler
//! that finds nothing to work on in a plan gives nothing.

mod covered;
mod hands;
mod joints;
mod laid;
mod mates;
mod turns;
mod wants;
mod wood;

use rand::SeedableRng;
use rand_pcg::Pcg64;
use twinstrake::job::Job;
use twinstrake::plan::Plan;

use hands::{Spoiled, Tip};

/// A good plan spoiled.
pub struct Corruption {
    /// The rule that it breaks now.
    pub rule: u8,
    /// What was done.
    pub what: &'static str,
    pub job: Job,
    pub plan: Plan,
}

/// Spoils a good plan in every way there is, each at a place drawn from the seed.
pub fn corruptions(job: &Job, plan: &Plan, seed: u64) -> Vec<Corruption> {
    SPOILERS
        .iter()
        .filter_map(|(rule, what, spoil)| {
            let mut spoiled = Spoiled {
                job: job.clone(),
                plan: plan.clone(),
                rng: Pcg64::seed_from_u64(seed),
            };
            spoil(&mut spoiled)?;
            Some(Corruption {
                rule: *rule,
                what,
                job: spoiled.job,
                plan: spoiled.plan,
            })
        })
        .collect()
}

/// What every spoiler does, by the rule that it breaks.
pub fn every_way() -> impl Iterator<Item = (u8, &'static str)> {
    SPOILERS.iter().map(|(rule, what, _)| (*rule, *what))
}

type Spoil = fn(&mut Spoiled) -> Option<()>;

const SPOILERS: &[(u8, &str, Spoil)] = &[
    (1, "a row is lost", covered::lose_a_row),
    (1, "a course is lost without a word", covered::lose_a_course),
    (
        1,
        "a laid course is listed as left out",
        covered::list_a_laid_course,
    ),
    (
        1,
        "a course is listed as left out twice",
        covered::list_twice,
    ),
    (1, "the bow allowance is missing", |s| s.trim(Tip::Bow)),
    (1, "the stern allowance is missing", |s| s.trim(Tip::Stern)),
    (
        1,
        "a row too many, on a side that is not there",
        covered::no_such_side,
    ),
    (1, "two rows have one number", |s| s.renumber(|n| n - 1)),
    (1, "a piece number is left out", |s| s.renumber(|n| n + 1)),
    (1, "a hole between two pieces", |s| s.stretch_overlap(-1.5)),
    (2, "a joint is moved on one side", mates::joint_on_one_side),
    (
        2,
        "one of two mates is cut elsewhere",
        mates::cut_out_of_register,
    ),
    (2, "one of two mates is turned", mates::turn_one_mate),
    (2, "a row names another mate", mates::name_another_mate),
    (2, "a row names no mate", mates::name_no_mate),
    (2, "a centre piece has a mate", mates::mate_on_the_centre),
    (2, "a strip is its own mate", mates::own_mate),
    (3, "a strip is used twice", wood::use_twice),
    (3, "no room for the saw", wood::no_room_for_the_saw),
    (
        3,
        "a cut beyond the marked end",
        wood::beyond_the_marked_end,
    ),
    (3, "a cut beyond the plain end", wood::beyond_the_plain_end),
    (3, "a cut into a defect", |s| s.defect(30.0)),
    (3, "a cut over a break", |s| s.defect(0.0)),
    (3, "a piece in the marked end", wood::in_the_marked_end),
    (3, "a piece in the plain end", wood::in_the_plain_end),
    (3, "a piece too near a knot", wood::too_near_a_knot),
    (3, "a piece from a cull", wood::from_a_cull),
    (3, "a piece cut too long", |s| s.recut(0.1)),
    (3, "a piece cut too short", |s| s.recut(-0.1)),
    (3, "a piece that ends before it begins", wood::back_to_front),
    (4, "a scarf too short", |s| s.stretch_overlap(-0.02)),
    (4, "a scarf too long", |s| s.stretch_overlap(0.02)),
    (5, "a joint in a zone kept clear", joints::joint_into_a_zone),
    (
        5,
        "a zone kept clear over a joint",
        joints::zone_over_a_joint,
    ),
    (6, "joints side by side", joints::joints_side_by_side),
    (6, "joints a hair too near", joints::joints_a_hair_too_near),
    (7, "a piece too short", joints::too_short_a_piece),
    (
        7,
        "a hair longer asked of the shortest piece",
        joints::longer_shortest_piece,
    ),
    (7, "one joint too many", joints::one_joint_too_many),
    (8, "the other edge to the next course", turns::flip_edge),
    (8, "the other face out", turns::flip_face),
    (8, "mates show their outer faces", turns::swap_faces),
    (
        8,
        "one of two mates shows its outer face",
        turns::roll_one_mate,
    ),
    (8, "bead and cove upside down", turns::upside_down),
    (9, "a laid piece is lost", |s| s.lay(|_| None)),
    (9, "a laid piece is moved", |s| s.lay(laid::shifted)),
    (
        9,
        "a laid piece is of another strip",
        laid::other_strip_laid,
    ),
    (9, "a laid piece is turned", |s| s.lay(laid::turned)),
    (9, "a piece lies across a cut", |s| laid::cut_before(s, 0.0)),
    (9, "a piece reaches into what the saw took", |s| {
        laid::cut_before(s, 2.0)
    }),
    (10, "other wood than is wanted", wants::other_wood),
    (
        10,
        "wood that is kept for another course",
        wants::kept_elsewhere,
    ),
    (10, "a pair the wrong way across", wants::wrong_way_across),
];
