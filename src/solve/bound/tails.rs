//! All ways to lay the short courses at one end of a graph, gone through one by one.
//!
//! Here everything counts as in a plan: each strip is cut no longer than it is, paid once and whole, and where courses
//! share strips their figure is as far out of register as the cuts force it to be (`register`). Branch and bound, depth
//! first from the course beside the long ones on. The long courses cost at least as much as the cheapest that leave the
//! slices taken so far: the pass before tells how many of each board its paths took. What is yet to be laid costs as
//! much at least as the passes before found, which remember less.

use super::bits::{Bits, low};
use super::classes::{Classes, Kind, NO_NODE};
use super::dual::DualState;
use super::labelling::{CompletionBounds, Direction, Exit, seam};
use super::layers::between;
use super::register::{Cut, Patterns, room};
use super::segments::Segments;
use super::shorts::Shorts;
use crate::solve::problem::{Problem, Span, Steps};
use crate::solve::tuning::buckets::MOST_FOR_DOMINANCE;
use crate::solve::tuning::tails::{LOOKS_A_PLACING, MOST, MOST_LOOKS, ROOM_STEP};
use crate::units::Length;
use rayon::prelude::*;
use rustc_hash::FxHashMap;

/// One way to lay the short courses, the cheapest that takes these slices and begins with this pair.
pub struct Tail {
    /// Class and pair on each, from the one beside the long courses on.
    pub at: Vec<(usize, usize)>,
    /// The slices that it takes, as far as they are known.
    pub slices: Bits,
    /// How many it takes of each board at least: as many of its slots, from its last on.
    pub taken: Bits,
    /// Whether the long course beside it comes from the board of its first pair.
    same: bool,
    cost: f64,
}

impl Tail {
    /// What it costs beside a long course of a class, prices included and the seam with that course left out; `None`
    /// where it does not belong beside it.
    pub fn cost(&self, classes: &Classes, class: usize) -> Option<f64> {
        let same =
            classes.home(class).is_some() && classes.home(class) == classes.board(self.at[0].0);
        (self.same == same).then_some(self.cost)
    }
}

/// Every tail that may be part of a path below the cut-off.
pub struct Tails {
    /// All of them.
    pub all: Vec<Tail>,
    /// How many courses each has.
    pub courses: usize,
    /// By layer, the nodes that some of them use; empty for long courses.
    pub useful: Vec<Vec<bool>>,
}

/// What came of looking for tails.
pub enum Found {
    /// All of them.
    All(Tails),
    /// There are too many.
    TooMany,
    /// Stopped before it was done.
    Stopped,
}

/// What could lie on a course.
struct Choice {
    pair: u32,
    at: (usize, usize),
    /// The board of both strips; `None` for a pair of two boards.
    board: Option<usize>,
    strips: Vec<u32>,
    /// Match.
    cost: f64,
    /// The price of the parts that it takes.
    parts: f64,
    /// What the courses after it cost at least, paid by parts.
    rest: f64,
    /// Where both strips can be cut.
    room: Span,
    useful: bool,
}

impl Choice {
    /// What it costs at least, with the courses after it.
    fn least(&self) -> f64 {
        self.cost + self.parts + self.rest
    }
}

/// A short course.
struct Course {
    layer: usize,
    /// Its number in the tail.
    number: usize,
    /// Metres met of the course before it, and the charge.
    met: f64,
    charge: usize,
    /// What a metre out of register costs on the seam with the course before it.
    shift: f64,
    /// In the order of what they cost at least, with what comes after.
    choices: Vec<Choice>,
}

/// Long courses before the first short one.
struct Arrival {
    /// What they cost at least, the seam with that course included.
    cost: f64,
    /// See [`Exit::taken`].
    taken: Bits,
}

/// What is laid up to a course.
#[derive(Clone)]
struct Laid {
    /// The number of its choice.
    choice: usize,
    /// See [`Tail::slices`].
    slices: Bits,
    /// See [`Tail::taken`].
    taken: Bits,
}

impl Laid {
    /// Nothing: no course has a choice of this number.
    const NOTHING: Laid = Laid {
        choice: usize::MAX,
        slices: Bits::NONE,
        taken: Bits::NONE,
    };
}

/// By strip and the courses cut from it, what others could pay for it at most.
type Credit = Vec<Vec<f64>>;

/// The search for tails.
struct Search<'s> {
    dual: &'s DualState<'s>,
    shorts: &'s Shorts,
    courses: Vec<Course>,
    /// By choice on the first course, the ways to lay the long courses, the cheapest first: with the last from another
    /// board, and from the same.
    near: Vec<[Vec<Arrival>; 2]>,
    /// By board, where a long course could be cut.
    long_room: Vec<Span>,
    /// By courses, what they need of a strip together.
    need: Vec<Length>,
    /// By course and strip, the price of the part that the course takes.
    parts: Vec<Vec<f64>>,
    /// By strip, what is paid when it is first cut into.
    open: Vec<f64>,
    /// By number of courses laid, what those to come could pay for strips at most.
    credit: Vec<Credit>,
    /// The row of the long course beside the first.
    beside: usize,
    patterns: Patterns,
    cutoff: f64,
    /// By strip, the courses cut from it.
    mask: Vec<usize>,
    /// By board and short course, how many sides of the course are cut from it.
    served: Vec<Vec<u32>>,
    used: Vec<u32>,
    laid: Vec<Laid>,
    found: FxHashMap<(usize, bool, Bits, Bits), usize>,
    tails: Vec<Tail>,
    looks: usize,
    /// After so many looks it is asked whether to stop.
    ask_at: usize,
    stop: &'s (dyn Fn() -> bool + Sync),
}

/// Why a search ends early.
enum Ended {
    TooMany,
    Stopped,
}

impl Tails {
    /// Finds all tails. `exits` are the paths of the pass that comes from the long courses, `far` the bounds of the one
    /// that came to the short ones first.
    pub fn find(
        classes: &Classes,
        dual: &DualState,
        segments: &Segments,
        far: &CompletionBounds,
        exits: &[Exit],
        cutoff: f64,
        stop: &(dyn Fn() -> bool + Sync),
    ) -> Found {
        let mut search = Search::new(classes, dual, segments, far, exits, cutoff, stop);
        let done = search.lay(0, [0.0; 2], [0; 2], [0.0; 2]);
        dual.keep_patterns(search.beside, std::mem::take(&mut search.patterns));
        match done {
            Err(Ended::TooMany) => return Found::TooMany,
            Err(Ended::Stopped) => return Found::Stopped,
            Ok(()) => {}
        }
        let mut useful: Vec<Vec<bool>> = vec![Vec::new(); classes.layers()];
        for course in &search.courses {
            let nodes = classes.node[course.layer].iter().flatten();
            let nodes = nodes.filter(|node| **node != NO_NODE);
            let used = &mut useful[course.layer];
            *used = vec![false; nodes.count()];
            for choice in course.choices.iter().filter(|choice| choice.useful) {
                let (class, at) = choice.at;
                used[classes.node[course.layer][class][at] as usize] = true;
            }
        }
        Found::All(Tails {
            all: search.tails,
            courses: search.courses.len(),
            useful,
        })
    }
}

impl<'s> Search<'s> {
    fn new(
        classes: &'s Classes,
        dual: &'s DualState,
        segments: &Segments,
        far: &CompletionBounds,
        exits: &[Exit],
        cutoff: f64,
        stop: &'s (dyn Fn() -> bool + Sync),
    ) -> Search<'s> {
        let problem = dual.problem;
        let order = order(classes);
        let beside = match classes.shorts.first {
            Direction::Up => order[0] - 1,
            Direction::Down => order[0] + 1,
        };
        let parts: Vec<Vec<f64>> = { order.iter() }
            .map(|&l| dual.prices.on(&dual.sharing, &dual.pairs, classes.rows[l]))
            .map(|prices| prices.of_strips())
            .collect();
        let rests = rests(classes, segments, far, &order);
        let layers: Vec<usize> = [&[beside], &order[..]].concat();
        let courses: Vec<Course> = layers
            .windows(2)
            .zip(parts.iter().zip(&rests))
            .map(|(both, (parts, rests))| course(classes, dual, [both[0], both[1]], parts, rests))
            .collect();
        let rows: Vec<usize> = layers.iter().map(|&l| classes.rows[l]).collect();
        let need = need(dual, &rows[1..]);
        let open: Vec<f64> = (0..problem.woods.len() as u32)
            .map(|strip| dual.prices.whole(strip))
            .collect();
        let long_room = dual.pairs.boards.iter().map(|board| {
            let rooms = board.strips.iter().map(|&strip| about(problem, strip));
            let all = rooms.reduce(|all, one| (all.0.min(one.0), all.1.max(one.1)));
            all.unwrap_or_default()
        });
        Search {
            dual,
            shorts: &classes.shorts,
            near: near_of(classes, exits, &courses[0], cutoff),
            beside: classes.rows[beside],
            long_room: long_room.collect(),
            credit: credit(&need, &parts, dual.sharing.room()),
            need,
            parts,
            open,
            patterns: dual
                .known_patterns(classes.rows[beside])
                .unwrap_or_else(|| {
                    let shift = courses.iter().map(|course| course.shift);
                    Patterns::new(problem, &rows, shift.collect())
                }),
            courses,
            cutoff,
            mask: vec![0; problem.woods.len()],
            served: vec![vec![0; order.len()]; dual.pairs.boards.len()],
            used: Vec::new(),
            laid: Vec::new(),
            found: FxHashMap::default(),
            tails: Vec::new(),
            looks: 0,
            ask_at: 0,
            stop,
        }
    }

    /// One look more.
    fn look(&mut self) -> Result<(), Ended> {
        self.looks += 1;
        if self.looks >= self.ask_at {
            self.ask_at = self.looks + 1024;
            if (self.stop)() {
                return Err(Ended::Stopped);
            }
        }
        match self.looks > MOST_LOOKS || self.tails.len() > MOST {
            true => Err(Ended::TooMany),
            false => Ok(()),
        }
    }

    /// Whether the strips of a choice have room for it beside the courses cut from them.
    fn fits(&self, t: usize, choice: &Choice) -> bool {
        let room = self.dual.sharing.room();
        choice.strips.iter().all(|&strip| {
            let strip = strip as usize;
            self.need[self.mask[strip] | 1 << t] <= room[strip]
        })
    }

    /// Lays the courses from `t` on in every way that stays below the cut-off. Of those before, `sum` is what they
    /// cost, strips and register aside, and `paid` what is paid at least for their strips; `at` is the place of the
    /// long ones in [`Search::near`], and `slip` what figure out of register costs, both beside a long one of another
    /// board and of the same.
    fn lay(
        &mut self,
        t: usize,
        [sum, paid]: [f64; 2],
        at: [usize; 2],
        slip: [f64; 2],
    ) -> Result<(), Ended> {
        if t == self.courses.len() {
            self.keep(sum + paid, at, slip);
            return Ok(());
        }
        let dual = self.dual;
        let before = (t > 0).then(|| &self.courses[t - 1].choices[self.laid[t - 1].choice]);
        let board_before = before.and_then(|choice| choice.board);
        let rates = before.map(|choice| dual.pairs.rates(self.courses[t].charge, choice.pair));
        for i in 0..self.courses[t].choices.len() {
            let course = &self.courses[t];
            let choice = &course.choices[i];
            let first = self.laid.first().map_or(i, |laid| laid.choice);
            let near = self.near(first, at);
            let before = (near[0] + slip[0]).min(near[1] + slip[1]) + sum;
            if before + paid + choice.least() >= self.cutoff {
                if t > 0 {
                    break;
                }
                continue;
            }
            let beside = rates.map_or(0.0, |rates| seam(course.met, rates[choice.pair as usize]));
            let (parts, rest) = (choice.parts, choice.rest);
            if before + paid + choice.least() + beside >= self.cutoff || !self.fits(t, choice) {
                continue;
            }
            let sum = sum + choice.cost + beside;
            let of_board = choice.board == board_before;
            self.look()?;
            self.take(t, i);
            let paid = self.paid(paid + parts);
            let whole = sum + paid + rest;
            // Where neither a neighbour nor a strip is of the same board, nothing is added to it.
            let unchanged = t > 0 && !of_board && !self.shares(t);
            let (mut at, mut slip) = (self.next_fitting(first, at), slip);
            let near = self.near(first, at);
            for same in [0, 1] {
                if !unchanged && near[same] + whole + slip[same] < self.cutoff {
                    slip[same] = self.register(same == 1).max(slip[same]);
                }
                if near[same] + whole + slip[same] >= self.cutoff {
                    at[same] = usize::MAX;
                }
            }
            let onward = match at == [usize::MAX; 2] {
                true => Ok(()),
                false => self.lay(t + 1, [sum, paid], at, slip),
            };
            self.give_back(t);
            onward?;
        }
        Ok(())
    }

    /// What the long courses cost at least from these places of [`Search::near`] on, for a choice on the first course.
    fn near(&self, first: usize, at: [usize; 2]) -> [f64; 2] {
        let cost = |same: usize| self.near[first][same].get(at[same]).map(|one| one.cost);
        [0, 1].map(|same| cost(same).unwrap_or(f64::INFINITY))
    }

    /// The places from these on of the first long courses that leave the slices which are taken.
    fn next_fitting(&self, first: usize, at: [usize; 2]) -> [usize; 2] {
        let taken = self.laid.last().map_or(Bits::NONE, |laid| laid.taken);
        [0, 1].map(|same| {
            let all = self.near[first][same].iter().enumerate().skip(at[same]);
            let mut fitting = all.filter(|(_, one)| one.taken.and(&taken) == Bits::NONE);
            fitting.next().map_or(usize::MAX, |(at, _)| at)
        })
    }

    /// Whether the course laid last shares a strip with one before it.
    fn shares(&self, t: usize) -> bool {
        let mut strips = self.courses[t].choices[self.laid[t].choice].strips.iter();
        strips.any(|&strip| self.mask[strip as usize] != 1 << t)
    }

    /// What is paid at least for the strips that are cut into, less what the courses to come pay for their parts.
    /// `by_parts` is what those laid pay at least.
    fn paid(&self, by_parts: f64) -> f64 {
        if !self.dual.pays_whole {
            return by_parts;
        }
        let used = || self.used.iter().map(|&strip| strip as usize);
        let open: f64 = used().map(|strip| self.open[strip]).sum();
        let credit = &self.credit[self.laid.len()];
        let credit: f64 = used().map(|strip| credit[strip][self.mask[strip]]).sum();
        // Each of them is cut from two strips at most.
        let room = self.dual.sharing.room();
        let dearest = |t: usize| {
            let fits = |strip: &usize| self.need[self.mask[*strip] | 1 << t] <= room[*strip];
            used()
                .filter(fits)
                .fold([0.0_f64; 2], |[most, next], strip| {
                    let part = self.parts[t][strip];
                    [most.max(part), next.max(part.min(most))]
                })
        };
        let to_come = self.laid.len()..self.courses.len();
        let together: f64 = to_come.flat_map(dearest).sum();
        (open - credit.min(together)).max(by_parts)
    }

    fn take(&mut self, t: usize, i: usize) {
        let course = &self.courses[t];
        let choice = &course.choices[i];
        let pair = &self.dual.pairs.all[choice.pair as usize];
        let mut laid = self.laid.last().unwrap_or(&Laid::NOTHING).clone();
        laid.choice = i;
        let [one, other] = pair.sides;
        let sides = match one == other {
            true => choice.strips.len() as u32,
            false => 1,
        };
        for board in [one, other] {
            self.served[board][course.number] = sides;
            let b = &self.dual.pairs.boards[board];
            if choice.board.is_some() {
                laid.slices = laid.slices.or(&Bits::placed(b.first, pair.mask));
            }
            let known = laid.slices.window(b.first, b.slices).count_ones();
            let count = self.shorts.strips_for(&self.served[board]).max(known);
            let others = low(b.slices - count.min(b.slices));
            laid.taken = laid
                .taken
                .or(&Bits::placed(b.first, low(b.slices) & !others));
        }
        self.laid.push(laid);
        for &strip in &choice.strips {
            let mask = &mut self.mask[strip as usize];
            if *mask == 0 {
                self.used.push(strip);
            }
            *mask |= 1 << t;
        }
    }

    fn give_back(&mut self, t: usize) {
        if let Some(laid) = self.laid.pop() {
            let course = &self.courses[t];
            let choice = &course.choices[laid.choice];
            for board in self.dual.pairs.all[choice.pair as usize].sides {
                self.served[board][course.number] = 0;
            }
            for &strip in choice.strips.iter().rev() {
                let mask = &mut self.mask[strip as usize];
                *mask &= !(1 << t);
                if *mask == 0 {
                    self.used.pop();
                }
            }
        }
    }

    /// What figure out of register costs at least on the courses laid, beside a long one of the same board or another.
    fn register(&mut self, same: bool) -> f64 {
        let choice = |t: usize| &self.courses[t].choices[self.laid[t].choice];
        let board = choice(0).board;
        let long = board.filter(|_| same).map(|board| Cut {
            room: self.long_room[board],
            board,
            apart_from: 0,
        });
        let cuts = (0..self.laid.len()).map(|t| {
            let choice = choice(t);
            let others = choice
                .strips
                .iter()
                .fold(0, |all, &s| all | self.mask[s as usize]);
            // The long course is number 0.
            choice.board.map(|board| Cut {
                room: choice.room,
                board,
                apart_from: (others & ((1 << t) - 1)) << 1,
            })
        });
        let cuts: Vec<Option<Cut>> = std::iter::once(long).chain(cuts).collect();
        let before = self.patterns.placings;
        let least = self.patterns.least(&cuts);
        self.looks += (self.patterns.placings - before) * LOOKS_A_PLACING;
        least
    }

    /// Keeps a way to lay all courses, where it is the cheapest of its kind.
    fn keep(&mut self, sum: f64, at: [usize; 2], slip: [f64; 2]) {
        let (Some(first), Some(last)) = (self.laid.first(), self.laid.last()) else {
            return;
        };
        let (first, slices, taken) = (first.choice, last.slices, last.taken);
        let near = self.near(first, at);
        for (same, (near, slip)) in [false, true].into_iter().zip(near.into_iter().zip(slip)) {
            let cost = sum + slip;
            if near + cost >= self.cutoff {
                continue;
            }
            for (course, laid) in self.courses.iter_mut().zip(&self.laid) {
                course.choices[laid.choice].useful = true;
            }
            let number = *self
                .found
                .entry((first, same, slices, taken))
                .or_insert(self.tails.len());
            let known = self.tails.get(number);
            if known.is_some_and(|known| known.cost <= cost) {
                continue;
            }
            let laid = self.courses.iter().zip(&self.laid);
            let tail = Tail {
                at: laid
                    .map(|(course, laid)| course.choices[laid.choice].at)
                    .collect(),
                slices,
                taken,
                same,
                cost,
            };
            match self.tails.get_mut(number) {
                Some(known) => *known = tail,
                None => self.tails.push(tail),
            }
        }
    }
}

/// The layers of the short courses, from the one beside the long ones on.
fn order(classes: &Classes) -> Vec<usize> {
    let tail = classes.shorts.tail.clone();
    match classes.shorts.first {
        Direction::Up => tail.collect(),
        Direction::Down => tail.rev().collect(),
    }
}

/// A short course with all that could lie on it. `rests` is what the courses after it cost at least, by class and pair.
fn course(
    classes: &Classes,
    dual: &DualState,
    [before, l]: [usize; 2],
    parts: &[f64],
    rests: &[Vec<f64>],
) -> Course {
    let (problem, upper) = (dual.problem, l.min(before));
    let sides = classes.strips[upper].max(classes.strips[upper + 1]);
    let touches = between(problem, classes.rows[upper], classes.rows[upper + 1])
        .is_some_and(|seam| seam.charge.steps != Steps::Apart);
    let mut choices = Vec::new();
    for (class, pairs) in classes.all.iter().enumerate() {
        for (i, &pair) in pairs.pairs.iter().enumerate() {
            let (cost, rest) = (classes.cost[l][class][i], rests[class][i]);
            if !cost.is_finite() || !rest.is_finite() {
                continue;
            }
            let strips: Vec<u32> = dual.pairs.all[pair as usize].strips().collect();
            let rooms = strips.iter().map(|&strip| about(problem, strip));
            let room = rooms.reduce(|all, one| (all.0.max(one.0), all.1.min(one.1)));
            choices.push(Choice {
                pair,
                at: (class, i),
                board: match classes.kind(class) {
                    Kind::TwoBoards => None,
                    _ => classes.board(class),
                },
                room: room.unwrap_or_default(),
                parts: strips.iter().map(|&strip| parts[strip as usize]).sum(),
                strips,
                cost,
                rest,
                useful: false,
            });
        }
    }
    choices.sort_by(|a, b| a.least().total_cmp(&b.least()));
    Course {
        layer: l,
        number: l - classes.shorts.tail.start,
        met: classes.met[upper],
        charge: classes.charge[upper][usize::from(l < before)],
        shift: match touches {
            true => classes.met[upper] * f64::from(sides) * problem.weights.shift,
            false => 0.0,
        },
        choices,
    }
}

/// By choice on the first course, the long courses before it, see [`Search::near`].
fn near_of(
    classes: &Classes,
    exits: &[Exit],
    first: &Course,
    cutoff: f64,
) -> Vec<[Vec<Arrival>; 2]> {
    let near = |choice: &Choice| {
        let (class, at) = choice.at;
        let n = classes.size(class);
        let mut least: [FxHashMap<Bits, f64>; 2] = Default::default();
        for exit in exits {
            let same = choice.board.is_some() && classes.home(exit.class) == choice.board;
            let rates = &classes.rates[first.charge][exit.class][class];
            let both = exit.costs.iter().zip(rates.iter().skip(at).step_by(n));
            let costs = both.map(|(exit, rate)| exit + seam(first.met, *rate));
            let cost = costs.fold(f64::INFINITY, f64::min);
            if cost + choice.least() < cutoff {
                let known = least[usize::from(same)].entry(exit.taken).or_insert(cost);
                *known = known.min(cost);
            }
        }
        least.map(cheapest_first)
    };
    first.choices.par_iter().map(near).collect()
}

/// The cheapest first, without those that cost no less than others which took no more.
fn cheapest_first(least: FxHashMap<Bits, f64>) -> Vec<Arrival> {
    let all = least.into_iter();
    let mut all: Vec<Arrival> = all.map(|(taken, cost)| Arrival { cost, taken }).collect();
    all.sort_by(|a, b| a.cost.total_cmp(&b.cost).then(a.taken.cmp(&b.taken)));
    if all.len() > MOST_FOR_DOMINANCE {
        return all;
    }
    let mut kept: Vec<Arrival> = Vec::new();
    for one in all {
        if !kept.iter().any(|other| other.taken.within(&one.taken)) {
            kept.push(one);
        }
    }
    kept
}

/// By courses, a bit for each, what they need of a strip together.
fn need(dual: &DualState, rows: &[usize]) -> Vec<Length> {
    let of = |courses: usize| (0..rows.len()).filter(move |t| courses >> t & 1 == 1);
    (0..1usize << rows.len())
        .map(|courses| of(courses).map(|t| dual.sharing.need(rows[t])).sum())
        .collect()
}

/// What others could pay for strips at most, see [`Search::credit`].
fn credit(need: &[Length], parts: &[Vec<f64>], room: &[Length]) -> Vec<Credit> {
    let count = parts.len();
    let most = |strip: usize, laid: usize, t: usize| {
        let of = |courses: usize| (0..count).filter(move |t| courses >> t & 1 == 1);
        (0..1usize << (count - t))
            .map(|others| others << t)
            .filter(|others| need[laid | others] <= room[strip])
            .map(|others| of(others).map(|t| parts[t][strip]).sum())
            .fold(0.0, f64::max)
    };
    let of_strip =
        |t: usize, strip: usize| (0..1usize << t).map(|laid| most(strip, laid, t)).collect();
    let at = |t: usize| (0..room.len()).map(|strip| of_strip(t, strip)).collect();
    (0..=count).map(at).collect()
}

/// By course, class and pair, what the courses after it cost at least: another pair lies on the next, or the same
/// again.
fn rests(
    classes: &Classes,
    segments: &Segments,
    far: &CompletionBounds,
    order: &[usize],
) -> Vec<Vec<Vec<f64>>> {
    let mut rests: Vec<Vec<Vec<f64>>> = vec![Vec::new(); order.len()];
    for (t, &l) in order.iter().enumerate().rev() {
        let mut rest = far.entry[l].clone();
        let of_runs = (0..rest.len()).filter(|&class| matches!(classes.kind(class), Kind::Runs(_)));
        if let Some(&next) = order.get(t + 1) {
            for class in of_runs {
                for (i, rest) in rest[class].iter_mut().enumerate() {
                    let again = classes.stay(class, l.min(next), i)
                        + segments.entry[next][class][i]
                        + rests[t + 1][class][i];
                    *rest = rest.min(again);
                }
            }
        }
        rests[t] = rest;
    }
    rests
}

/// Between which places a strip is clear, and a little beyond.
///
/// With more room than there is, figure costs no more. So strips of nearly the same length are as one, and what they
/// cost out of register is worked out once.
fn about(problem: &Problem, strip: u32) -> Span {
    let (from, to) = room(problem, strip);
    (ROOM_STEP * (from / ROOM_STEP), to.rounded_up(ROOM_STEP))
}
