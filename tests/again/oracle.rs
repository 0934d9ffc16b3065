//! Tiny boats whose every length is a whole number of cells, laid cell by cell in every way there is: what that finds
//! and what the planner says must agree.
//!
//! A cell is 100 mm. Courses, strips, defects and zones are an even number of cells, so joints and cuts on whole cells
//! are enough: the sums and differences by which they hang together never ask for less than half of what they are made
//! of.

use super::asked;
use super::common::{Builder, boat, bought, many};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;
use std::collections::HashSet;
use twinstrake::check::check;
use twinstrake::hull::{CourseId, End, Kind, Side, Toward};
use twinstrake::job::Job;
use twinstrake::plan::{Face, Piece, Rules};
use twinstrake::solve::{Asked, Grounds, Joined, Outcome, Quiet, Remedy, Upset, lay, lay_again};
use twinstrake::stock::{BoardId, Defect, StripId, merged};
use twinstrake::units::{Colour, Length, U};

const CELL: f64 = 100.0;

fn cells(length: Length) -> i64 {
    (length.mm() / CELL).round() as i64
}

fn is_whole(length: Length) -> bool {
    (length.mm() - cells(length) as f64 * CELL).abs() < 1e-6
}

/// One to three courses and three to six strips, with at most one joint in a course.
fn tiny(rng: &mut Pcg64) -> Job {
    let mut even = |from: i64, to: i64| rng.random_range(from..=to) as f64 * 2.0 * CELL;
    let mut boat = boat().panel("side", Toward::Keel);
    let courses = [even(0, 2), even(0, 2), even(0, 2)];
    let lengths = [even(3, 7), even(3, 7), even(3, 7)];
    let many = (even(2, 3) / (2.0 * CELL)) as usize;
    let centre = even(0, 3) == 0.0;
    for i in 0..many {
        let (from, to) = (courses[i], courses[i] + lengths[i]);
        boat = match centre && i + 1 == many {
            true => boat.centre(from, to),
            false => boat.course(from, to),
        };
    }
    if even(0, 2) == 0.0 {
        let from = even(1, 4);
        boat = boat.keep_clear("thwart", from, from + even(1, 2));
    }
    let slack = even(0, 1);
    for (board, strips) in [
        ("ash", 2),
        ("oak", 1 + (even(0, 2) / 200.0) as u32),
        ("teak", 2),
    ] {
        if board == "teak" && slack == 0.0 {
            continue;
        }
        for seq in 1..=strips {
            let name = format!("{board}{seq}");
            boat = boat.strip(&name, board, seq, even(2, 8), Colour::shade(5));
            if even(0, 3) == 0.0 {
                let from = even(1, 2);
                boat = boat.defect(from, from + even(0, 1));
            }
        }
    }
    let (clear, saw, most) = (even(0, 3), even(0, 3), even(0, 2));
    built(boat, |rules| {
        rules.joints.clear = Length::from_mm(clear);
        rules.joints.clear_courses = 1;
        rules.joints.shortest_piece = Length::from_mm(2.0 * CELL);
        rules.joints.most = u32::from(most > 0.0);
        rules.allow.saw = Length::from_mm(if saw == 0.0 { 2.0 * CELL } else { 0.0 });
    })
}

/// Two courses, or two and one on the centreline, of nearly one place and length, strips that are mostly shorter than
/// they are, and joints that must keep far from each other: where one course has its joint, the next can hardly have
/// its own.
fn staggered(rng: &mut Pcg64) -> Job {
    let mut even = |from: i64, to: i64| rng.random_range(from..=to) as f64 * 2.0 * CELL;
    let mut boat = boat().panel("side", Toward::Keel);
    let (length, centre) = (even(4, 6), even(0, 2) == 0.0);
    let many = 2 + usize::from(centre);
    for i in 0..many {
        let from = even(0, 1);
        boat = match centre && i + 1 == many {
            true => boat.centre(from, from + length),
            false => boat.course(from, from + length),
        };
    }
    if even(0, 3) == 0.0 {
        let from = even(1, 4);
        boat = boat.keep_clear("thwart", from, from + even(1, 1));
    }
    // Strips as good as each other, but for one pair: short, so that each course must be joined.
    let short = even(3, 4);
    let (spare, odd) = ((even(0, 1) / (2.0 * CELL)) as usize, even(2, 6));
    for i in 0..many * 2 - usize::from(centre) + spare {
        let long = if i == 0 { odd } else { short };
        for seq in 1..=2 {
            let name = format!("board{i}-{seq}");
            boat = boat.strip(&name, &format!("board{i}"), seq, long, Colour::shade(5));
        }
    }
    let (clear, near) = (even(1, 4), even(1, 2) / (2.0 * CELL));
    let shortest = even(1, 2);
    built(boat, |rules| {
        rules.joints.clear = Length::from_mm(clear);
        rules.joints.clear_courses = near as u32;
        rules.joints.shortest_piece = Length::from_mm(shortest);
        rules.joints.most = 1;
        rules.allow.saw = Length::ZERO;
    })
}

/// The boat with a scarf of two cells, no allowances, and these rules.
fn built(boat: Builder, rule: impl FnOnce(&mut Rules)) -> Job {
    let mut job = boat
        .weights(|weights| weights.shift = 0.0)
        .rules(|rules| {
            rules.thickness = Length::from_mm(5.0);
            rules.joints.slope = 2.0 * CELL / 5.0;
            rules.allow.fitted_end = Length::ZERO;
            rules.allow.free_end = Length::ZERO;
            rule(rules);
        })
        .build();
    for course in &mut job.hull.courses {
        (course.bow_end, course.stern_end) = (End::Fitted, End::Fitted);
    }
    // Defects may lie beyond the end of a short strip.
    for strip in &mut job.stock.strips {
        let end = U::at(strip.length);
        strip.defects.retain(|defect| defect.to < end);
    }
    job
}

/// What one piece of a course asks for, in cells.
#[derive(Clone, Copy)]
struct Slot {
    length: i64,
    sides: usize,
    /// What is glued of it on port (or on the centreline) and on starboard.
    glued: [Option<(StripId, i64, Face)>; 2],
}

impl Slot {
    /// The cells that it still takes of the strips.
    fn cells(&self) -> u32 {
        let glued = self.glued.iter().flatten().count();
        self.length as u32 * self.sides.saturating_sub(glued) as u32
    }
}

/// Whether every course can be covered, by trying everything.
fn can_be_covered(job: &Job) -> bool {
    let mut ways: Vec<Vec<(Option<i64>, Vec<Slot>)>> = Vec::new();
    for id in (0..job.hull.courses.len()).map(CourseId) {
        ways.push(ways_of(job, id));
    }
    joints(job, &ways, &mut Vec::new(), &mut Vec::new())
}

/// All ways to cut a course into pieces: its joint, and what the pieces ask for.
fn ways_of(job: &Job, id: CourseId) -> Vec<(Option<i64>, Vec<Slot>)> {
    let course = job.hull.course(id);
    let length = cells(course.length);
    let start = cells(course.from.from_origin());
    let mut ways = vec![(None, vec![(0, length)])];
    if job.rules.joints.most > 0 {
        let shortest = cells(job.rules.joints.shortest_piece);
        for s in shortest..=length - shortest {
            let in_zone = job.hull.keep_clear.iter().any(|zone| {
                let (from, to) = (cells(zone.from.from_origin()), cells(zone.to.from_origin()));
                start + s - 1 < to && from < start + s + 1
            });
            if !in_zone {
                ways.push((Some(start + s), vec![(0, s + 1), (s - 1, length)]));
            }
        }
    }
    let laid: Vec<&Piece> = job.laid.iter().filter(|piece| piece.course == id).collect();
    let ends = |piece: &Piece| {
        (
            cells(piece.from.from_origin()),
            cells(piece.to.from_origin()),
        )
    };
    ways.retain(|(_, pieces)| {
        laid.iter()
            .all(|laid| pieces.get(laid.number as usize - 1) == Some(&ends(laid)))
    });
    let slot = |(i, (from, to)): (usize, (i64, i64))| {
        let glued = |side: &[Side]| {
            let mut here = laid.iter();
            here.find(|laid| laid.number as usize == i + 1 && side.contains(&laid.side))
                .map(|laid| {
                    (
                        laid.strip,
                        cells(laid.cut_from.from_origin()),
                        laid.face_out,
                    )
                })
        };
        Slot {
            length: to - from,
            sides: if course.kind == Kind::Mirrored { 2 } else { 1 },
            glued: [
                glued(&[Side::Port, Side::Centre]),
                glued(&[Side::Starboard]),
            ],
        }
    };
    ways.into_iter()
        .map(|(joint, pieces)| (joint, pieces.into_iter().enumerate().map(slot).collect()))
        .collect()
}

/// Chooses a way for each course in turn, joints of neighbours being far enough apart; then looks for the wood.
fn joints(
    job: &Job,
    ways: &[Vec<(Option<i64>, Vec<Slot>)>],
    chosen: &mut Vec<Option<i64>>,
    slots: &mut Vec<Slot>,
) -> bool {
    let Some(here) = ways.get(chosen.len()) else {
        let masks: Vec<u32> = (0..job.stock.strips.len()).map(|i| sound(job, i)).collect();
        return wood(job, slots, 0, masks, &mut HashSet::new());
    };
    let clear = cells(job.rules.joints.clear);
    here.iter().any(|(joint, pieces)| {
        let near = chosen
            .iter()
            .rev()
            .take(job.rules.joints.clear_courses as usize);
        let too_near = |near: &i64| joint.is_some_and(|joint| (near - joint).abs() < clear);
        if near.flatten().any(too_near) {
            return false;
        }
        let before = slots.len();
        chosen.push(*joint);
        slots.extend(pieces);
        let covered = joints(job, ways, chosen, slots);
        chosen.pop();
        slots.truncate(before);
        covered
    })
}

/// The cells of a strip that are sound and not glued on, nor lost to the saw beside what is.
fn sound(job: &Job, strip: usize) -> u32 {
    let wood = &job.stock.strips[strip];
    let length = cells(wood.length);
    let saw = cells(job.rules.allow.saw);
    let mut mask = 0;
    for cell in 0..length {
        let bad = wood.defects.iter().any(|d| {
            let (from, to) = (cells(d.from.from_origin()), cells(d.to.from_origin()));
            from <= cell && cell < to
        });
        let taken = job.laid.iter().any(|laid| {
            let (from, to) = (
                cells(laid.cut_from.from_origin()),
                cells(laid.cut_to.from_origin()),
            );
            laid.strip.0 == strip && from - saw <= cell && cell < to + saw
        });
        if !bad && !taken {
            mask |= 1 << cell;
        }
    }
    mask
}

/// Whether a cut at this cell has no break inside.
fn unbroken(job: &Job, strip: usize, at: i64, length: i64) -> bool {
    job.stock.strips[strip].defects.iter().all(|d| {
        let (from, to) = (cells(d.from.from_origin()), cells(d.to.from_origin()));
        to <= at || at + length <= from
    })
}

/// The strip without a piece and the saw's width on both sides of it; `None` where the piece is not there.
fn cut(job: &Job, masks: &[u32], strip: usize, at: i64, length: i64) -> Option<Vec<u32>> {
    let piece = ((1u32 << length) - 1) << at;
    if masks[strip] & piece != piece || !unbroken(job, strip, at, length) {
        return None;
    }
    let saw = cells(job.rules.allow.saw);
    let from = (at - saw).max(0);
    let gone = ((1u32 << (at + length + saw - from)) - 1) << from;
    let mut left = masks.to_vec();
    left[strip] &= !gone;
    Some(left)
}

/// Whether the slots from this one on can be cut from what is left.
fn wood(
    job: &Job,
    slots: &[Slot],
    at: usize,
    masks: Vec<u32>,
    failed: &mut HashSet<(usize, Vec<u32>)>,
) -> bool {
    let Some(slot) = slots.get(at) else {
        return true;
    };
    // Less wood than the slots take together, or tried before.
    let asked: u32 = slots[at..].iter().map(Slot::cells).sum();
    let there: u32 = masks.iter().map(|mask| mask.count_ones()).sum();
    if asked > there || !failed.insert((at, masks.clone())) {
        return false;
    }
    let strips = 0..masks.len();
    let starts = |strip: usize| 0..=(cells(job.stock.strips[strip].length) - slot.length);
    let mut on = |masks: Vec<u32>| wood(job, slots, at + 1, masks, failed);
    match (slot.glued, slot.sides) {
        ([Some(_), Some(_)], _) | ([Some(_), None], 1) => on(masks),
        ([None, _], 1) => strips.into_iter().any(|strip| {
            starts(strip).any(|u| cut(job, &masks, strip, u, slot.length).is_some_and(&mut on))
        }),
        ([Some(glued), None], _) | ([None, Some(glued)], _) => strips.into_iter().any(|strip| {
            strip != glued.0.0
                && starts(strip).any(|u| {
                    opens(job, glued, strip, u)
                        && cut(job, &masks, strip, u, slot.length).is_some_and(&mut on)
                })
        }),
        ([None, None], _) => strips.clone().any(|one| {
            starts(one).any(|u| {
                let Some(masks) = cut(job, &masks, one, u, slot.length) else {
                    return false;
                };
                (one + 1..masks.len()).any(|other| {
                    starts(other).any(|v| {
                        (board(job, one) != board(job, other) || u == v)
                            && cut(job, &masks, other, v, slot.length).is_some_and(&mut on)
                    })
                })
            })
        }),
    }
}

fn board(job: &Job, strip: usize) -> BoardId {
    job.stock.strips[strip].origin.unwrap().board
}

/// Whether a strip cut there can face what is glued: of one board, it is cut at the same place, and the lower slice
/// shows its high face.
fn opens(job: &Job, (glued, cut, face): (StripId, i64, Face), strip: usize, at: i64) -> bool {
    if board(job, glued.0) != board(job, strip) {
        return true;
    }
    let seq = |strip: usize| job.stock.strips[strip].origin.unwrap().seq;
    let lower = seq(glued.0) < seq(strip);
    at == cut && (face == Face::High) == lower
}

/// Every other boat is one on which joints get in each other's way.
fn a_boat(seed: u64, rng: &mut Pcg64) -> Job {
    match seed % 2 {
        0 => tiny(rng),
        _ => staggered(rng),
    }
}

/// Whether a boat can't be covered for no other reason than that joints must keep clear of each other.
fn only_joints_are_in_the_way(job: &Job) -> bool {
    let mut close = job.clone();
    close.rules.joints.clear = Length::ZERO;
    can_be_covered(&close)
}

/// A tiny boat of which some is laid, and of which a strip that the plan counts on then broke; `None` where its first
/// plan lies between the cells, or leaves a course open.
fn broken(seed: u64) -> Option<Job> {
    let mut rng = Pcg64::seed_from_u64(seed);
    let mut job = a_boat(seed, &mut rng);
    let plan = lay(&job, &first_look(seed), &Quiet).plan;
    if !plan.uncovered.is_empty() {
        return None;
    }
    let laid = rng.random_range(0..plan.pieces.len());
    job.laid = plan.pieces[..laid].to_vec();
    let places = |p: &Piece| {
        [
            p.from.from_origin(),
            p.to.from_origin(),
            p.cut_from.from_origin(),
        ]
    };
    if !job.laid.iter().flat_map(places).all(is_whole) {
        return None;
    }
    let hit = &plan.pieces[rng.random_range(laid..plan.pieces.len())];
    let strip = &mut job.stock.strips[hit.strip.0];
    if rng.random_bool(0.5) {
        // Lost whole, but for what is laid of it.
        let laid = job.laid.iter().filter(|piece| piece.strip == hit.strip);
        let cuts: Vec<Defect> = laid
            .map(|p| Defect {
                from: p.cut_from,
                to: p.cut_to,
            })
            .collect();
        strip.defects = Defect::all_but(&cuts, U::at(strip.length));
    } else {
        let (from, to) = (
            cells(hit.cut_from.from_origin()),
            cells(hit.cut_to.from_origin()),
        );
        let place = rng.random_range(from / 2..=to / 2) * 2;
        let at = U::from_mm(place as f64 * CELL);
        let mut laid = job.laid.iter().filter(|piece| piece.strip == hit.strip);
        if at >= U::at(strip.length) || laid.any(|p| p.cut_from < at && at < p.cut_to) {
            return None;
        }
        strip.defects.push(Defect { from: at, to: at });
        strip.defects = merged(strip.defects.clone());
    }
    job.earlier = Some(plan);
    Some(job)
}

/// The job with the wood that it was told to mill, of those remedies that are joined in this way.
fn milled(job: &Job, outcome: &Outcome, joined: Joined) -> Option<Job> {
    let all = outcome.shortage.as_ref()?.remedies.iter();
    let remedies: Vec<&Remedy> = all.filter(|r| r.joined == joined).collect();
    let mut more = bought(job, &remedies);
    more.earlier = Some(outcome.plan.clone());
    (!remedies.is_empty()).then_some(more)
}

/// Without a round, so that what the first look misses must be found by going through all.
fn first_look(seed: u64) -> Asked {
    Asked {
        rounds: Some(0),
        ..asked(seed)
    }
}

/// A boat that takes most of the time: left out where no more are asked for.
const SLOW: u64 = 58;

fn seeds() -> impl Iterator<Item = u64> {
    let all = many(80);
    (0..all).filter(move |seed| all > 80 || *seed != SLOW)
}

/// Whether a course stays open and it is not known whether it must: allowed, but only seldom on boats as small as
/// these.
fn is_unknown(outcome: &Outcome) -> bool {
    let shortage = outcome.shortage.as_ref();
    shortage.is_some_and(|shortage| shortage.grounds == Grounds::NotFound)
}

#[test]
fn what_can_be_replaced_is_and_what_can_t_is_proven_and_milled() {
    let (mut replaced, mut short, mut searched, mut scarfed) = (0, 0, 0, 0);
    let (mut joints, mut unknown) = (0, 0);
    for seed in seeds() {
        let Some(job) = broken(seed) else { continue };
        let possible = can_be_covered(&job);
        let outcome = lay_again(&job, Upset::Least, &first_look(seed), &Quiet);
        let verdict = check(&job, &outcome.plan);
        assert!(verdict.is_good(), "seed {seed}: {:#?}", verdict.breaches);
        let covered = outcome.plan.uncovered.is_empty();
        if is_unknown(&outcome) {
            unknown += 1;
            continue;
        }
        assert_eq!(covered, possible, "seed {seed}: {:?}", outcome.shortage);
        if possible {
            replaced += 1;
            assert_eq!(outcome.shortage, None);
            continue;
        }
        short += 1;
        let shortage = outcome.shortage.as_ref().unwrap();
        searched += u32::from(shortage.grounds == Grounds::AllTried);
        joints += u32::from(only_joints_are_in_the_way(&job));
        for joined in [Joined::OnePiece, Joined::Scarfed] {
            let Some(more) = milled(&job, &outcome, joined) else {
                assert_eq!(joined, Joined::Scarfed, "seed {seed}: nothing to mill");
                continue;
            };
            scarfed += u32::from(joined == Joined::Scarfed);
            let again = lay_again(&more, Upset::Least, &first_look(seed), &Quiet);
            let verdict = check(&more, &again.plan);
            assert!(verdict.is_good(), "seed {seed}: {:#?}", verdict.breaches);
            let open = &again.plan.uncovered;
            assert!(open.is_empty(), "seed {seed}, {joined:?}: {open:?}");
        }
    }
    println!(
        "{replaced} replaced, {short} short, {searched} of them by trying all, {joints} for their joints, {scarfed} \
        scarfed; {unknown} not decided"
    );
    assert_eq!(unknown, 0, "not decided");
    assert!(replaced > 15 && short > 5 && searched > 3 && scarfed > 3 && joints > 0);
}

#[test]
fn what_can_be_laid_is_laid_at_once_and_what_can_t_is_proven() {
    let (mut covered, mut short, mut unknown) = (0, 0, 0);
    for seed in seeds() {
        let mut rng = Pcg64::seed_from_u64(seed);
        let job = tiny(&mut rng);
        if job.hull.courses.len() > 2 {
            // To try everything takes too long where there is wood enough but no way.
            continue;
        }
        let outcome = lay(&job, &first_look(seed), &Quiet);
        let verdict = check(&job, &outcome.plan);
        assert!(verdict.is_good(), "seed {seed}: {:#?}", verdict.breaches);
        let possible = can_be_covered(&job);
        if is_unknown(&outcome) {
            unknown += 1;
            continue;
        }
        let shortage = outcome.shortage;
        assert_eq!(shortage.is_none(), possible, "seed {seed}: {shortage:?}");
        match shortage {
            None => covered += 1,
            Some(_) => short += 1,
        }
    }
    println!("{covered} covered, {short} short; {unknown} not decided");
    assert!(unknown * 20 <= covered + short, "{unknown} not decided");
    assert!(covered > 5 && short > 5);
}
