//! Small jobs, every plan tried: the search must find one that none beats.
//!
//! The enumeration knows nothing of the search. It lays course after course in every way, priced by the checker, and
//! gives up a branch once the part that is laid is no better than the search's plan: laying more never costs less.

#![allow(clippy::unwrap_used)]

use crate::common;

use common::{Cut, boat, complete, lay_course, many};
use rand::{Rng, RngExt, SeedableRng};
use rand_pcg::Pcg64;
use twinstrake::check::check;
use twinstrake::hull::{CourseId, Drift, Kind, Shade, Toward};
use twinstrake::job::Job;
use twinstrake::plan::{BowEnd, Edge, Piece, Want};
use twinstrake::solve::{Asked, Ended, Outcome, Quiet, lay};
use twinstrake::stock::StripId;
use twinstrake::units::{Colour, S, U};

/// Ways to lay one course: rows for each.
type Ways = Vec<Vec<Piece>>;

fn cost(job: &Job, rows: &[Piece]) -> Option<f64> {
    let verdict = check(job, &complete(job, rows.to_vec()));
    verdict.breaches.is_empty().then(|| verdict.cost.total())
}

/// One way to lay a course: what it costs by itself, and the strips it takes, a bit each.
struct Way<'w> {
    alone: f64,
    strips: u64,
    rows: &'w [Piece],
}

/// The least cost over all combinations of ways, if it is less than `beat`.
///
/// The checker prices every way alone, every two ways of neighbouring courses together, and every two ways of courses
/// with one between them; every strip is cut into once, so that these add up to the cost of the whole. Courses that are
/// no neighbours must not share strips.
fn better(job: &Job, ways: &[Ways], beat: f64) -> Option<f64> {
    // Dearer with the least of every other course than the plan to beat: part of no better plan.
    let alone: Vec<Vec<Option<f64>>> = ways
        .iter()
        .map(|ways| ways.iter().map(|rows| cost(job, rows)).collect())
        .collect();
    let least: Vec<f64> = alone
        .iter()
        .map(|costs| {
            costs
                .iter()
                .flatten()
                .copied()
                .fold(f64::INFINITY, f64::min)
        })
        .collect();
    let room = |course: usize| beat - (least.iter().sum::<f64>() - least[course]);
    let priced: Vec<Vec<Way>> = ways
        .iter()
        .zip(&alone)
        .enumerate()
        .map(|(course, (ways, alone))| {
            let priced = ways.iter().zip(alone).filter_map(|(rows, alone)| {
                let alone = alone.filter(|alone| *alone < room(course))?;
                let strips = rows.iter().fold(0, |bits, row| bits | 1u64 << row.strip.0);
                Some(Way {
                    alone,
                    strips,
                    rows,
                })
            });
            priced.collect()
        })
        .collect();
    let together = |first: usize, second: usize| -> Vec<Option<f64>> {
        let both = |one: &Way, other: &Way| {
            if one.alone + other.alone >= room(first) + least[second] {
                return None;
            }
            let both = cost(job, &[one.rows, other.rows].concat())?;
            Some(both - one.alone - other.alone)
        };
        let with_each = |one| priced[second].iter().map(move |other| both(one, other));
        priced[first].iter().flat_map(with_each).collect()
    };
    let seams = (1..priced.len()).map(|lower| together(lower - 1, lower));
    // Across a course that stands out the shade of its neighbours is compared; elsewhere nothing is.
    let across = (2..priced.len()).map(|lower| {
        let between = &job.hull.courses[lower - 1];
        let mut wants = job.wants.iter().filter(|want| want.covers(between));
        match wants.any(|want| want.accent.is_some()) {
            true => together(lower - 2, lower),
            false => Vec::new(),
        }
    });
    let pairs = (seams.collect::<Vec<_>>(), across.collect::<Vec<_>>());
    let mut best = None;
    for (i, way) in priced[0].iter().enumerate() {
        extend(&priced, &pairs, &mut vec![i], way.alone, beat, &mut best);
    }
    best
}

/// What two ways cost more together than alone, one after the other; `None` where they break a rule.
type Pairs = Vec<Vec<Option<f64>>>;

fn extend(
    priced: &[Vec<Way>],
    pairs: &(Pairs, Pairs),
    laid: &mut Vec<usize>,
    so_far: f64,
    beat: f64,
    best: &mut Option<f64>,
) {
    let at = laid.len();
    if so_far >= best.unwrap_or(beat) {
        return;
    }
    if at == priced.len() {
        *best = Some(so_far);
        return;
    }
    let last = laid[at - 1];
    let taken = laid[..at - 1]
        .iter()
        .zip(priced)
        .fold(0, |bits, (&i, ways)| bits | ways[i].strips);
    for (i, way) in priced[at]
        .iter()
        .enumerate()
        .filter(|(_, way)| way.strips & taken == 0)
    {
        let of_pair = |all: &[Option<f64>], before: usize| all[before * priced[at].len() + i];
        let across = match at {
            1 => Some(0.0),
            _ if pairs.1[at - 2].is_empty() => Some(0.0),
            _ => of_pair(&pairs.1[at - 2], laid[at - 2]),
        };
        if let (Some(seam), Some(across)) = (of_pair(&pairs.0[at - 1], last), across) {
            laid.push(i);
            extend(
                priced,
                pairs,
                laid,
                so_far + seam + across + way.alone,
                beat,
                best,
            );
            laid.pop();
        }
    }
}

fn searched(job: &Job, seed: u64) -> Outcome {
    searched_for(job, seed, 4)
}

fn searched_for(job: &Job, seed: u64, rounds: u64) -> Outcome {
    let asked = Asked {
        seed,
        rounds: Some(rounds),
        ..Asked::default()
    };
    lay(job, &asked, &Quiet)
}

fn solved(job: &Job, seed: u64) -> Outcome {
    let outcome = searched(job, seed);
    assert!(outcome.plan.uncovered.is_empty());
    outcome
}

/// Of all plans that the ways to lay each course make up, none costs less than what the search found.
fn nothing_beats(outcome: &Outcome, job: &Job, seed: u64, ways: fn(&Job, CourseId) -> Ways) {
    let mine = outcome.cost.total();
    let ways: Vec<Ways> = job.hull.courses().map(|(id, _)| ways(job, id)).collect();
    let best = better(job, &ways, mine - 1e-6);
    assert_eq!(best, None, "seed {seed}: the search found {mine}");
}

fn holds(bound: f64, best: f64, seed: u64) {
    assert!(
        bound <= best * (1.0 + 1e-6),
        "seed {seed}: a bound of {bound} above the best plan, {best}"
    );
}

fn colour(rng: &mut impl Rng) -> Colour {
    Colour::lab(
        rng.random_range(50.0..80.0),
        rng.random_range(5.0..12.0),
        rng.random_range(18.0..26.0),
    )
}

/// Every ordered pair of strips (or every strip, on a centre course), either end to the bow, cut at the marked end.
fn one_piece_ways(job: &Job, id: CourseId) -> Ways {
    let strips = || (0..job.stock.strips.len()).map(StripId);
    let mut ways = Ways::new();
    for strip in strips() {
        for mate in strips().filter(|mate| *mate != strip) {
            let centre = job.hull.course(id).kind == Kind::Centre;
            for bow_end in [BowEnd::Mark, BowEnd::Plain] {
                let mate = (!centre).then_some((mate, U::ORIGIN));
                ways.push(lay_course(
                    job,
                    id,
                    &[],
                    &[Cut {
                        strip,
                        at: U::ORIGIN,
                        mate,
                        bow_end,
                    }],
                ));
            }
            if centre {
                break;
            }
        }
    }
    ways
}

/// Two to six courses, strips of just the length needed: which pair goes where, which way round, on which side.
fn one_piece_job(seed: u64) -> Job {
    let mut rng = Pcg64::seed_from_u64(seed);
    let rng = &mut rng;
    let courses = rng.random_range(2..=6);
    let mut boat = boat().panel(
        "side",
        if rng.random_bool(0.5) {
            Toward::Keel
        } else {
            Toward::Deck
        },
    );
    for _ in 0..courses {
        boat = boat.course(0.0, 3000.0);
    }
    let mut strips = 2 * courses;
    if rng.random_bool(0.3) {
        boat = boat.centre(0.0, 3000.0);
        strips += 1;
    }
    if rng.random_bool(0.5) {
        boat = boat.show(0.0, 1000.0, 2.0);
    }
    if rng.random_bool(0.4) {
        boat = boat.bead_and_cove(if rng.random_bool(0.5) {
            Edge::A
        } else {
            Edge::B
        });
    }
    // One pair to spare while that leaves few enough plans to try.
    strips += if courses < 4 { 2 } else { 0 };
    let mut left = strips;
    let mut board = 0;
    while left > 0 {
        let slices = rng.random_range(2..=4).min(left);
        let base = colour(rng);
        for seq in 1..=slices {
            let drift = Colour::lab(
                base.l + rng.random_range(-1.5..1.5),
                base.a,
                base.b + rng.random_range(-0.7..0.7),
            );
            boat = boat.strip(
                &format!("{board}-{seq}"),
                &format!("{board}"),
                seq as u32,
                3050.0,
                drift,
            );
        }
        left -= slices;
        board += 1;
    }
    // Dear enough that no best plan has foster mates of two boards, which the ways leave with one end to the bow.
    boat.weights(|w| w.foster = 40.0).build()
}

/// Wants, accents and drift for a job: the wood of some boards on a course, which may stand out, and a panel that is to
/// go darker or lighter.
fn wanted(mut job: Job, seed: u64) -> Job {
    let mut rng = Pcg64::seed_from_u64(seed ^ 0x3a7);
    let rng = &mut rng;
    let number = rng.random_range(1..=job.hull.courses.len());
    let course = &job.hull.courses[number - 1];
    job.hull.panels[0].drift = rng.random_bool(0.7).then(|| Drift {
        shade: if rng.random_bool(0.5) {
            Shade::Darker
        } else {
            Shade::Lighter
        },
        against: rng.random_range(0.3..2.0),
    });
    // A course with a joint takes pairs of two boards.
    let many = if job.rules.joints.most == 0 { 1 } else { 3 };
    let first = rng.random_range(0..job.stock.boards.len());
    let boards = job.stock.boards.iter().cycle().skip(first).take(many);
    let boards = boards.cloned().collect();
    job.wants.push(Want {
        name: "line".into(),
        panel: course.panel,
        courses: Some((course.number, course.number)),
        wood: None,
        boards,
        strips: Vec::new(),
        keep: rng.random_bool(0.5),
        accent: rng.random_bool(0.7).then(|| rng.random_range(3.0..20.0)),
        port: None,
    });
    job
}

#[test]
fn no_plan_of_a_small_job_with_wants_accents_and_drift_beats_the_search_and_the_best_is_proven() {
    let (mut tried, mut proven, mut accents, mut drifts) = (0, 0, 0, 0);
    for seed in 0..many(6) {
        let mut job = one_piece_job(seed);
        job.rules.joints.most = 0;
        let job = wanted(job, seed);
        let outcome = searched(&job, seed);
        if !outcome.plan.uncovered.is_empty() {
            // A want may ask for more of a board than there is.
            continue;
        }
        nothing_beats(&outcome, &job, seed, one_piece_ways);
        if let Some(bound) = outcome.bound {
            let mine = outcome.cost.total();
            holds(bound, mine, seed);
            proven += usize::from(bound >= mine * (1.0 - 1e-5));
        }
        tried += 1;
        accents += usize::from(job.wants[0].accent.is_some());
        drifts += usize::from(job.hull.panels[0].drift.is_some());
    }
    assert!(
        tried >= 4 && accents >= 2 && drifts >= 2,
        "{tried} tried, {accents} {drifts}"
    );
    assert!(proven >= 2, "{proven} of {tried} proven");
}

#[test]
fn no_plan_of_a_small_job_with_joints_and_wants_beats_the_search() {
    let mut tried = 0;
    for seed in 0..many(4) {
        let job = wanted(jointed_job(seed), seed);
        let outcome = searched(&job, seed);
        if outcome.plan.uncovered.is_empty() {
            tried += 1;
            nothing_beats(&outcome, &job, seed, jointed_ways);
        }
    }
    assert!(tried >= 2, "{tried} tried");
}

#[test]
fn no_plan_of_a_small_job_in_single_pieces_beats_the_search() {
    let mut bounds = 0;
    for seed in 0..many(3) {
        let mut job = one_piece_job(seed);
        job.rules.joints.most = 0;
        let outcome = solved(&job, seed);
        if let Some(bound) = outcome.bound {
            holds(bound, outcome.cost.total(), seed);
            bounds += 1;
        }
        nothing_beats(&outcome, &job, seed, one_piece_ways);
    }
    assert!(bounds > 0, "no job had a bound");
}

#[test]
fn where_joints_are_allowed_but_not_needed_the_bound_holds_for_plans_without_them() {
    let mut told = 0;
    for seed in 0..4 {
        let mut job = one_piece_job(seed);
        job.rules.joints.most = 0;
        let without = solved(&job, seed);
        let best = without.cost.total();
        job.rules.joints.most = 1;
        let with = searched_for(&job, seed, 1);
        let Some(bound) = with.bound_without_joints else {
            continue;
        };
        told += 1;
        holds(bound, best, seed);
        // A joint for next to nothing proves nothing about plans with joints, one for a fortune that none has any.
        let mut cheap = job.clone();
        cheap.weights.joint = 1e-3;
        assert_eq!(searched_for(&cheap, seed, 0).bound, None, "seed {seed}");
        job.weights.joint = 1e4;
        let dear = solved(&job, seed);
        assert_eq!(dear.bound, dear.bound_without_joints, "seed {seed}");
        assert_eq!(dear.ended == Ended::Proven, without.ended == Ended::Proven);
    }
    assert!(told > 1, "{told} had a bound");
}

/// Two courses of 2 m from short pairs: which pairs, and where the joint lies.
///
/// All lengths are multiples of 100 mm (allowance and half scarf too), so that a best plan has its joints on multiples
/// of 100 mm: places of joints obey bounds and differences only, and the cost is linear between the stops. Figure out
/// of register costs nothing here. Boards have two slices, so that cuts can be pushed to one end of the strip or the
/// other.
fn jointed_job(seed: u64) -> Job {
    let mut rng = Pcg64::seed_from_u64(seed);
    let rng = &mut rng;
    let mut boat = boat().panel("side", Toward::Keel).courses(2, 0.0, 2000.0);
    if rng.random_bool(0.5) {
        boat = boat.keep_clear("thwart", 700.0, 1000.0);
    }
    if rng.random_bool(0.5) {
        boat = boat.show(0.0, 800.0, 2.0);
    }
    for (board, length) in [1600.0, 1700.0, 1400.0, 2200.0].into_iter().enumerate() {
        let base = colour(rng);
        for seq in 1..=2 {
            let drift = Colour::lab(base.l + rng.random_range(-1.5..1.5), base.a, base.b);
            boat = boat.strip(
                &format!("{board}-{seq}"),
                &format!("{board}"),
                seq,
                length,
                drift,
            );
        }
    }
    let boat = boat.weights(|w| (w.shift, w.foster) = (0.0, 1000.0));
    boat.rules(|r| {
        r.allow.fitted_end = common::mm(100.0);
        r.allow.saw = common::mm(0.0);
        (r.thickness, r.joints.slope) = (common::mm(20.0), 10.0);
        (r.joints.clear, r.joints.shortest_piece, r.joints.most) =
            (common::mm(300.0), common::mm(600.0), 1);
    })
    .build()
}

/// Each pair either way round in one piece, and every two pairs with every joint on the grid. The whole boat exchanged
/// between port and starboard is the same plan: the first pair of the first course lies one way round.
///
/// A piece is at least 800 mm long, so no strip gives more than two. The first course takes its pieces from the marked
/// ends and the second from the plain ends, and a course that takes two from one strip takes one from each end.
fn jointed_ways(job: &Job, id: CourseId) -> Ways {
    let pairs: Vec<(usize, usize)> = (0..job.stock.strips.len() / 2)
        .flat_map(|i| [(2 * i, 2 * i + 1), (2 * i + 1, 2 * i)])
        .collect();
    let mut ways = Ways::new();
    let cut = |(strip, mate): (usize, usize), length: f64, plain_end: bool| {
        let room = job.stock.strips[strip].length.mm() - length;
        let at = U::from_mm(if plain_end { room } else { 0.0 });
        (room >= 0.0).then_some(Cut {
            strip: StripId(strip),
            at,
            mate: Some((StripId(mate), at)),
            bow_end: BowEnd::Mark,
        })
    };
    let second = id.0 == 1;
    for &pair in pairs.iter().filter(|pair| second || pair.0 < pair.1) {
        ways.extend(cut(pair, 2200.0, second).map(|cut| lay_course(job, id, &[], &[cut])));
        for &other in &pairs {
            let same = pair.0 / 2 == other.0 / 2;
            for joint in (600..=1400).step_by(100).map(f64::from) {
                let fore = cut(pair, joint + 200.0, second);
                let aft = cut(other, 2000.0 - joint + 200.0, second != same);
                if let (Some(fore), Some(aft)) = (fore, aft) {
                    ways.push(lay_course(job, id, &[S::from_mm(joint)], &[fore, aft]));
                }
            }
        }
    }
    ways
}

#[test]
fn no_plan_of_a_small_job_with_joints_beats_the_search() {
    for seed in 0..many(3) {
        let job = jointed_job(seed);
        nothing_beats(&solved(&job, seed), &job, seed, jointed_ways);
    }
}
