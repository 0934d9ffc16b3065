//! The joints of courses placed anew, all together, where it is settled which wood goes where.
//!
//! Why: joints of near courses keep apart, so one of them can seldom move unless others make room. With the wood given,
//! the best places are found by a dynamic programme along the run. Its states are the joints of two courses, one after
//! the other, so it is exact among the places offered where `clear_courses` is 2 at most.

use crate::solve::draft::Draft;
use crate::solve::price;
use crate::solve::problem::{NONE, Problem, Seam, Span};
use crate::solve::rack::{Room, longest};
use crate::solve::rng::SearchRng;
use crate::solve::seat::in_register;
use crate::solve::timber::{Lie, Part, Timber, joints};
use crate::solve::tuning::moves::{CLEARANCES, STEPPED};
use crate::units::Length;
use rand::RngExt;
use rand::seq::SliceRandom;
use smallvec::SmallVec;

/// Wood for a piece, and how it should lie where it can.
#[derive(Clone, Copy, Debug)]
pub struct Lying {
    /// The strips, port first.
    pub wood: [u32; 2],
    /// How each of them should lie.
    pub lies: [Lie; 2],
}

impl Lying {
    /// As a part lies.
    pub fn of(part: &Part) -> Lying {
        Lying {
            wood: part.wood,
            lies: [part.lie(0), part.lie(1)],
        }
    }
}

/// A course of the run.
struct Course<'w> {
    row: usize,
    wood: &'w [Lying],
    /// The ends of its pieces: its own, and its joints as they are.
    ends: SmallVec<[Length; 4]>,
    /// The joint that may move, by its number among the ends.
    joint: Option<usize>,
    /// What is left of the strips of each piece.
    rooms: Vec<SmallVec<[Room; 2]>>,
}

/// A way for a course of the run to lie.
struct Way {
    timber: Timber,
    /// Mates, joints, labels, and seams with courses outside the run.
    cost: f64,
}

/// The cheapest way to lie up to a course, by its way and that of the course before it.
#[derive(Clone, Copy)]
struct Reached {
    cost: f64,
    /// The way of the course before the one before it.
    from: usize,
}

/// Lays courses that were lifted and have no glue, each with as many pieces as it has in the plan. In each one joint
/// moves: to where wood or a window ends, or where it lies now, or for some of these a whole number of clearances away.
/// `false` where they don't fit, and then the draft is spoilt.
pub fn place_joints(
    draft: &mut Draft,
    rows: &[usize],
    wood: &[Vec<Lying>],
    rng: &mut SearchRng,
) -> bool {
    let problem = draft.problem();
    let mut left: Vec<usize> = rows.to_vec();
    while let Some(&any) = left.first() {
        let is_left = |row: &usize| left.contains(row);
        let before = |row: &usize| problem.rows[*row].before.filter(is_left);
        let after = |row: &usize| problem.rows[*row].after.filter(is_left);
        let first = std::iter::successors(Some(any), before).last();
        let run: Vec<usize> = std::iter::successors(first, after).collect();
        let wood_of = |row: &usize| {
            let at = rows.iter().position(|other| other == row);
            at.map_or(&[][..], |at| &wood[at])
        };
        let wood: Vec<&[Lying]> = run.iter().map(wood_of).collect();
        if !place_run(draft, &run, &wood, rng) {
            return false;
        }
        left.retain(|row| !run.contains(row));
    }
    true
}

/// The same for courses one after the other.
fn place_run(draft: &mut Draft, run: &[usize], wood: &[&[Lying]], rng: &mut SearchRng) -> bool {
    let problem = draft.problem();
    let courses: Vec<Course> = { run.iter().zip(wood) }
        .map(|(&row, &wood)| Course::new(draft, row, wood, rng))
        .collect();
    let stops: Vec<Vec<Length>> = { courses.iter() }
        .map(|course| course.stops(draft))
        .collect();
    let mut steps: Vec<f64> = { run.iter().zip(&stops) }
        .flat_map(|(&row, stops)| stops.iter().map(move |&s| problem.rows[row].x(s)))
        .collect();
    steps.shuffle(rng);
    steps.truncate(STEPPED);
    let ways: Vec<Vec<Way>> = { courses.iter().zip(&stops) }
        .map(|(course, stops)| course.ways(draft, run, stops, &steps))
        .collect();
    let Some(chosen) = cheapest(draft, run, &ways) else {
        return false;
    };
    let mut all = run.iter().zip(chosen.into_iter().zip(&ways));
    all.all(|(&row, (way, ways))| draft.place_all(row, &ways[way].timber))
}

impl Course<'_> {
    fn new<'w>(draft: &Draft, row: usize, wood: &'w [Lying], rng: &mut SearchRng) -> Course<'w> {
        let problem = draft.problem();
        let timber = draft.state.timber(row);
        let bow = std::iter::once(Length::ZERO);
        let joints = timber.iter().map(|part| part.nominal(problem, row).1);
        let room = |lying: &Lying| -> SmallVec<[Room; 2]> {
            match lying.wood {
                [one, mate] if mate != NONE && !problem.one_board(one, mate) => {
                    lying.wood.map(|strip| draft.room([strip, NONE])).into()
                }
                wood => SmallVec::from_elem(draft.room(wood), 1),
            }
        };
        Course {
            row,
            wood,
            ends: bow.chain(joints).collect(),
            joint: (timber.len() > 1).then(|| rng.random_range(1..timber.len())),
            rooms: wood.iter().map(room).collect(),
        }
    }

    /// Between what places the joint may move, other joints aside.
    fn between(&self, draft: &Draft, joint: usize) -> Span {
        let shortest = draft.problem().shortest;
        (
            self.ends[joint - 1] + shortest,
            self.ends[joint + 1] - shortest,
        )
    }

    /// Where something stops the joint: as far as the wood reaches, the ends of its windows, and where it lies now.
    fn stops(&self, draft: &Draft) -> Vec<Length> {
        let Some(joint) = self.joint else {
            return Vec::new();
        };
        let problem = draft.problem();
        let r = &problem.rows[self.row];
        let now = self.ends[joint];
        let (least, most) = self.between(draft, joint);
        let reach = |at: usize| {
            let taken = problem.ends(self.row, (self.ends[at], self.ends[at + 1]));
            let longest = self.rooms[at].iter().map(|room| longest(room)).min();
            longest.unwrap_or_default() - (taken.1 - taken.0)
        };
        let mut stops = vec![now, least, most, now + reach(joint - 1), now - reach(joint)];
        stops.extend(r.joint_windows.iter().flat_map(|&(a, b)| [a, b]));
        stops.retain(|&s| least <= s && s <= most && r.allows_joint(s));
        stops
    }

    /// The ways for it to lie, with the joint at any of the places that keep clear of all that stays.
    fn ways(&self, draft: &Draft, run: &[usize], stops: &[Length], steps: &[f64]) -> Vec<Way> {
        let problem = draft.problem();
        let r = &problem.rows[self.row];
        let outside: Vec<_> = { r.seams.iter() }
            .map(|&seam| &problem.seams[seam])
            .filter(|seam| !run.contains(&seam.beside(self.row)))
            .collect();
        let way = |ends: &[Length]| {
            let timber = self.timber(draft, ends)?;
            let seams = outside.iter().map(|seam| {
                let beside = draft.timber(seam.beside(self.row));
                price_of(problem, seam, self.row, &timber, beside)
            });
            let cost = price::own(problem, self.row, &timber) + seams.sum::<f64>();
            Some(Way { timber, cost })
        };
        let Some(joint) = self.joint else {
            return way(&self.ends).into_iter().collect();
        };
        let near = draft.near_joints(self.row);
        let (least, most) = self.between(draft, joint);
        let mut places: Vec<Length> = stops.to_vec();
        for step in steps {
            let away = (-CLEARANCES..=CLEARANCES).map(f64::from);
            places.extend(away.map(|away| r.s(step + away * problem.clear)));
        }
        places.sort_unstable();
        places.dedup();
        let allowed = |s: Length| r.allows_joint(s) && near.are_clear_of(r.x(s));
        places.retain(|&s| least <= s && s <= most && allowed(s));
        let mut ends = self.ends.clone();
        let at = |s: Length| {
            ends[joint] = s;
            way(&ends)
        };
        places.into_iter().filter_map(at).collect()
    }

    /// Its pieces between some ends, each with its figure where it should lie as far as its strips reach.
    fn timber(&self, draft: &Draft, ends: &[Length]) -> Option<Timber> {
        let problem = draft.problem();
        let piece = |(at, lying): (usize, &Lying)| {
            let mut part = Part {
                wood: lying.wood,
                ..Part::between(problem, self.row, (ends[at], ends[at + 1]))
            };
            let allowed = problem.bow_ends(self.row, lying.wood);
            let length = part.length();
            for side in part.sides() {
                let (end, register) = lying.lies[side];
                let end = match allowed.contains(&end) {
                    true => end,
                    false => *allowed.first()?,
                };
                let cut = in_register(&part, (end, register));
                let rooms = &self.rooms[at];
                let fitting = rooms[side.min(rooms.len() - 1)].iter();
                let fitting = fitting.filter(|&&(a, b)| b - a >= length);
                let cuts = fitting.map(|&(a, b)| cut.clamp(a, b - length));
                part.cut[side] = cuts.min_by_key(|&other| (other - cut).abs())?;
                part.bow[side] = end;
            }
            Some(part)
        };
        self.wood.iter().enumerate().map(piece).collect()
    }
}

/// What a seam of a course costs, with the timber on it and beside it.
fn price_of(problem: &Problem, seam: &Seam, row: usize, timber: &[Part], beside: &[Part]) -> f64 {
    match seam.upper == row {
        true => price::seam(problem, seam, timber, beside),
        false => price::seam(problem, seam, beside, timber),
    }
}

/// The cheapest way for each course, so that joints keep clear of each other.
fn cheapest(draft: &Draft, run: &[usize], ways: &[Vec<Way>]) -> Option<Vec<usize>> {
    let problem = draft.problem();
    let near = |at: usize, before: usize| problem.rows[run[at]].near.contains(&run[before]);
    let clear = |at: usize, way: usize, before: usize, other: usize| {
        let clear = problem.clear - 1e-6;
        let timber = &ways[before][other].timber;
        joints(&ways[at][way].timber)
            .all(|x| joints(timber).all(|other| (x - other).abs() >= clear))
    };
    // By the way of the course, and then of the one before it.
    let mut layers: Vec<Vec<Vec<Reached>>> = Vec::with_capacity(run.len());
    let begin = |way: &Way| {
        vec![Reached {
            cost: way.cost,
            from: 0,
        }]
    };
    layers.push(ways[0].iter().map(begin).collect());
    for at in 1..run.len() {
        let (row, before) = (run[at], run[at - 1]);
        let seams: Vec<_> = { problem.rows[row].seams.iter() }
            .map(|&seam| &problem.seams[seam])
            .filter(|seam| seam.beside(row) == before)
            .collect();
        let reached = &layers[at - 1];
        let (is_near, second_is_near) = (near(at, at - 1), at > 1 && near(at, at - 2));
        let layer = (0..ways[at].len()).map(|way| {
            let here = &ways[at][way];
            let onward = (0..ways[at - 1].len()).map(|last| {
                let mut best = Reached {
                    cost: f64::INFINITY,
                    from: 0,
                };
                if is_near && !clear(at, way, at - 1, last) {
                    return best;
                }
                for (from, reached) in reached[last].iter().enumerate() {
                    let keeps_clear = || !second_is_near || clear(at, way, at - 2, from);
                    if reached.cost < best.cost && keeps_clear() {
                        best = Reached {
                            cost: reached.cost,
                            from,
                        };
                    }
                }
                if best.cost.is_finite() {
                    let other = &ways[at - 1][last].timber;
                    best.cost += here.cost;
                    for seam in &seams {
                        best.cost += price_of(problem, seam, row, &here.timber, other);
                    }
                }
                best
            });
            onward.collect()
        });
        let layer = layer.collect();
        layers.push(layer);
    }
    let last = run.len() - 1;
    let all = layers[last].iter().enumerate();
    let ends = all.flat_map(|(way, before)| {
        let all = before.iter().enumerate();
        all.map(move |(before, reached)| (reached.cost, way, before))
    });
    let (cost, mut way, mut before) = ends.min_by(|a, b| a.0.total_cmp(&b.0))?;
    if !cost.is_finite() {
        return None;
    }
    let mut chosen = vec![0; run.len()];
    for at in (0..run.len()).rev() {
        chosen[at] = way;
        (way, before) = (before, layers[at][way][before].from);
    }
    Some(chosen)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solve::jobs;
    use crate::solve::rng::stream;
    use crate::solve::start::{Order, construct};
    use crate::solve::state::State;

    /// A state, courses of it one after the other, and the wood that lies on them.
    fn run_of<'p>(problem: &'p Problem, seed: u64) -> (State<'p>, Vec<usize>, Vec<Vec<Lying>>) {
        let bare = State::bare(problem);
        let laid = construct(bare, Order::Outwards, &mut stream(seed, 0), &|| false);
        let run: Vec<usize> = (0..4).collect();
        let lying = |row: &usize| laid.timber(*row).iter().map(Lying::of).collect();
        let wood = run.iter().map(lying).collect();
        (laid, run, wood)
    }

    /// As they lie is one of the ways.
    #[test]
    fn joints_placed_anew_cost_no_more_than_before() {
        let (mut placed, mut gained) = (0, 0);
        for seed in 1..20 {
            let problem = Problem::new(&jobs::short_stock(8, seed));
            let (laid, run, wood) = run_of(&problem, seed);
            let mut draft = Draft::new(&laid);
            run.iter().for_each(|&row| draft.strip(row));
            if place_joints(&mut draft, &run, &wood, &mut stream(seed, 1)) {
                let by = draft.price();
                assert!(by < 1e-6, "seed {seed}: {by}");
                placed += 1;
                gained += usize::from(by < -1e-6);
            }
        }
        assert!(placed > 10, "only {placed} could be placed");
        assert!(gained > 5, "only {gained} got better");
    }

    #[test]
    fn no_other_choice_of_ways_is_cheaper() {
        let mut tried = 0;
        for seed in 1..6 {
            let problem = Problem::new(&jobs::short_stock(8, seed));
            let (laid, run, wood) = run_of(&problem, seed);
            let mut draft = Draft::new(&laid);
            run.iter().for_each(|&row| draft.strip(row));
            let ways: Vec<Vec<Way>> = { run.iter().zip(&wood) }
                .map(|(&row, wood)| {
                    let course = Course::new(&draft, row, wood, &mut stream(seed, 1));
                    let mut ways = course.ways(&draft, &run, &course.stops(&draft), &[]);
                    ways.truncate(6);
                    ways
                })
                .collect();
            let chosen = cheapest(&draft, &run, &ways).map(|chosen| {
                let laid: Vec<&Way> = { chosen.iter().zip(&ways) }
                    .map(|(&way, ways)| &ways[way])
                    .collect();
                cost_of(&problem, &run, &laid).expect("joints keep clear")
            });
            let mut least: Option<f64> = None;
            let mut all: Vec<Vec<&Way>> = vec![Vec::new()];
            for ways in &ways {
                let with = |way| all.iter().map(move |laid| [&laid[..], &[way]].concat());
                all = ways.iter().flat_map(with).collect();
            }
            for laid in &all {
                if let Some(cost) = cost_of(&problem, &run, laid) {
                    least = Some(least.map_or(cost, |least| least.min(cost)));
                }
                tried += 1;
            }
            let apart = chosen.zip(least).map(|(one, other)| (one - other).abs());
            assert_eq!(chosen.is_some(), least.is_some(), "seed {seed}");
            assert!(apart.is_none_or(|apart| apart < 1e-9), "seed {seed}");
        }
        assert!(tried > 100, "only {tried}");
    }

    /// What courses cost as they lie, seams between them included; `None` where joints are too near to each other.
    fn cost_of(problem: &Problem, run: &[usize], laid: &[&Way]) -> Option<f64> {
        let mut cost: f64 = laid.iter().map(|way| way.cost).sum();
        for (i, way) in laid.iter().enumerate() {
            for (k, other) in laid.iter().enumerate().skip(i + 1) {
                let near = problem.rows[run[i]].near.contains(&run[k]);
                let mut both = { joints(&way.timber) }
                    .flat_map(|x| joints(&other.timber).map(move |y| (x - y).abs()));
                if near && both.any(|apart| apart < problem.clear - 1e-6) {
                    return None;
                }
            }
        }
        for seam in &problem.seams {
            let at = |row: usize| run.iter().position(|other| *other == row);
            if let (Some(i), Some(k)) = (at(seam.upper), at(seam.lower)) {
                cost += price::seam(problem, seam, &laid[i].timber, &laid[k].timber);
            }
        }
        Some(cost)
    }
}
