//! All ways to lay the short courses at one end of a graph, gone through one by one.
//!
//! Here everything counts as in a plan: each strip is cut no longer than it is, paid once and whole, and where courses
//! share strips their figure is as far out of register as the cuts force it to be (`register`). Branch and bound, depth
//! first from the course beside the long ones on: what is yet to be laid costs as much at least as the passes before
//! found, which remember less.

use super::bits::Bits;
use super::classes::{Classes, Kind, NO_NODE};
use super::dual::DualState;
use super::labelling::{CompletionBounds, Direction, seam};
use super::layers::between;
use super::register::{Cut, Patterns};
use super::segments::Segments;
use crate::solve::problem::{Problem, Steps};
use crate::solve::tuning::tails::{MOST, MOST_LOOKS, PLACINGS_A_LOOK, ROOM_STEP};
use rustc_hash::FxHashMap;

/// One way to lay the short courses, the cheapest that takes these slices and begins with this pair.
pub struct Tail {
    /// Class and pair on each, from the one beside the long courses on.
    pub at: Vec<(usize, usize)>,
    /// The slices that it takes.
    pub slices: Bits,
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
    /// Where both strips can be cut. Unit: nm.
    room: (i64, i64),
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
    /// Metres met of the course before it, and the charge.
    met: f64,
    charge: usize,
    /// What a metre out of register costs on the seam with the course before it.
    shift: f64,
    /// In the order of what they cost at least, with what comes after.
    choices: Vec<Choice>,
}

/// The search for tails.
struct Search<'s> {
    dual: &'s DualState<'s>,
    courses: Vec<Course>,
    /// By choice on the first course, what the long courses cost at least: from other boards, and with the last from
    /// the same board.
    near: Vec<[f64; 2]>,
    /// By board, where a long course could be cut. Unit: nm.
    long_room: Vec<(i64, i64)>,
    /// By courses, what they need of a strip together. Unit: nm.
    need: Vec<i64>,
    /// By course and strip, the price of the part that the course takes.
    parts: Vec<Vec<f64>>,
    /// By strip, what is paid when it is first cut into.
    open: Vec<f64>,
    /// By number of courses laid, by strip and the courses cut from it: what the rest could pay for it at most.
    credit: Vec<Vec<Vec<f64>>>,
    /// The row of the long course beside the first.
    beside: usize,
    patterns: Patterns,
    cutoff: f64,
    /// By strip, the courses cut from it.
    mask: Vec<usize>,
    used: Vec<u32>,
    chosen: Vec<usize>,
    found: FxHashMap<(usize, bool, Bits), usize>,
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
    /// Finds all tails. `near` are the bounds of the pass that comes from the long courses, `far` those of the pass
    /// that came to the short ones first.
    pub fn find(
        classes: &Classes,
        dual: &DualState,
        segments: &Segments,
        [near, far]: [&CompletionBounds; 2],
        cutoff: f64,
        stop: &(dyn Fn() -> bool + Sync),
    ) -> Found {
        let mut search = Search::new(classes, dual, segments, [near, far], cutoff, stop);
        let done = search.lay(0, [0.0; 2], [0.0; 2], [0.0; 2]);
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
        classes: &Classes,
        dual: &'s DualState,
        segments: &Segments,
        [near, far]: [&CompletionBounds; 2],
        cutoff: f64,
        stop: &'s (dyn Fn() -> bool + Sync),
    ) -> Search<'s> {
        let problem = dual.problem;
        let up = classes.shorts.first == Direction::Up;
        let count = classes.shorts.count();
        let layers = classes.layers();
        // From the course beside the long ones on, and the last long one before.
        let order: Vec<usize> = match up {
            true => (layers - count..layers).collect(),
            false => (0..count).rev().collect(),
        };
        let beside = if up { layers - count - 1 } else { count };
        let parts: Vec<Vec<f64>> = { order.iter() }
            .map(|&l| dual.prices.on(&dual.sharing, &dual.pairs, classes.rows[l]))
            .map(|prices| prices.of_strips())
            .collect();
        let rests = rests(classes, segments, far, &order);
        let mut courses = Vec::new();
        let mut before = beside;
        for (t, &l) in order.iter().enumerate() {
            let upper = l.min(before);
            let rows = [classes.rows[upper], classes.rows[upper + 1]];
            let sides = classes.strips[upper].max(classes.strips[upper + 1]);
            let touches = between(problem, rows[0], rows[1])
                .is_some_and(|seam| seam.charge.steps != Steps::Apart);
            let shift = match touches {
                true => classes.met[upper] * f64::from(sides) * problem.weights.shift,
                false => 0.0,
            };
            let mut choices = Vec::new();
            for (class, pairs) in classes.all.iter().enumerate() {
                for (i, &pair) in pairs.pairs.iter().enumerate() {
                    let cost = classes.cost[l][class][i];
                    let rest = rests[t][class][i];
                    if !cost.is_finite() || !rest.is_finite() {
                        continue;
                    }
                    let strips: Vec<u32> = dual.pairs.all[pair as usize].strips().collect();
                    let by_parts = strips.iter().map(|&strip| parts[t][strip as usize]);
                    let by_parts: f64 = by_parts.sum();
                    let rooms = strips.iter().map(|&strip| room(problem, strip));
                    choices.push(Choice {
                        pair,
                        at: (class, i),
                        board: match classes.kind(class) {
                            Kind::TwoBoards => None,
                            _ => classes.board(class),
                        },
                        room: rooms.fold((i64::MIN, i64::MAX), |all, one| {
                            (all.0.max(one.0), all.1.min(one.1))
                        }),
                        strips,
                        cost,
                        parts: by_parts,
                        rest,
                        useful: false,
                    });
                }
            }
            choices.sort_by(|a, b| a.least().total_cmp(&b.least()));
            courses.push(Course {
                layer: l,
                met: classes.met[upper],
                charge: classes.charge[upper][usize::from(!up)],
                shift,
                choices,
            });
            before = l;
        }
        let first = &courses[0];
        let near_of = |choice: &Choice| {
            let (class, at) = choice.at;
            let n = classes.size(class);
            let mut least = [f64::INFINITY; 2];
            for (from, exit) in near.exit[beside].iter().enumerate() {
                let same = choice.board.is_some() && classes.home(from) == choice.board;
                let rates = &classes.rates[first.charge][from][class];
                let least = &mut least[usize::from(same)];
                for (exit, rate) in exit.iter().zip(rates.iter().skip(at).step_by(n)) {
                    *least = least.min(exit + seam(first.met, *rate));
                }
            }
            least
        };
        let near = first.choices.iter().map(near_of).collect();
        let needs: Vec<i64> = { order.iter() }
            .map(|&l| dual.sharing.need(classes.rows[l]))
            .collect();
        let of = |courses: usize| (0..count).filter(move |t| courses >> t & 1 == 1);
        let need: Vec<i64> = (0..1usize << count)
            .map(|courses| of(courses).map(|t| needs[t]).sum())
            .collect();
        let strips = 0..problem.woods.len();
        let credit_of = |t: usize, strip: usize, courses: usize| {
            let room = dual.sharing.room()[strip] - need[courses];
            let rest = (0..1usize << (count - t)).map(|rest| rest << t);
            let paid = |rest: usize| of(rest).map(|t| parts[t][strip]).sum::<f64>();
            rest.filter(|rest| need[*rest] <= room)
                .map(paid)
                .fold(0.0, f64::max)
        };
        let credit = (0..=count).map(|t| {
            let of_strip = |strip| (0..1 << t).map(|c| credit_of(t, strip, c)).collect();
            strips.clone().map(of_strip).collect()
        });
        let credit = credit.collect();
        let open = strips
            .map(|strip| dual.prices.whole(strip as u32))
            .collect();
        let long_room = dual.pairs.boards.iter().map(|board| {
            let rooms = board.strips.iter().map(|&strip| room(problem, strip));
            rooms.fold((i64::MAX, i64::MIN), |all, one| {
                (all.0.min(one.0), all.1.max(one.1))
            })
        });
        let rows: Vec<usize> = std::iter::once(&beside)
            .chain(&order)
            .map(|&l| classes.rows[l])
            .collect();
        Search {
            dual,
            near,
            beside: classes.rows[beside],
            long_room: long_room.collect(),
            need,
            parts,
            open,
            credit,
            patterns: dual
                .known_patterns(classes.rows[beside])
                .unwrap_or_else(|| {
                    let shift = courses.iter().map(|course| course.shift);
                    Patterns::new(problem, &rows, shift.collect())
                }),
            courses,
            cutoff,
            mask: vec![0; problem.woods.len()],
            used: Vec::new(),
            chosen: Vec::new(),
            found: FxHashMap::default(),
            tails: Vec::new(),
            looks: 0,
            ask_at: 0,
            stop,
        }
    }

    /// Lays the courses from `t` on in every way that stays below the cut-off. Of those before, `sum` is what they cost,
    /// strips and register aside, and `paid` what is paid at least for their strips; `near` is what the long ones cost
    /// at least, and `slip` what figure out of register does, both beside a long one of another board and of the same.
    fn lay(
        &mut self,
        t: usize,
        [sum, paid]: [f64; 2],
        near: [f64; 2],
        slip: [f64; 2],
    ) -> Result<(), Ended> {
        if t == self.courses.len() {
            return self.keep(sum + paid, near, slip);
        }
        let dual = self.dual;
        let before = (t > 0).then(|| &self.courses[t - 1].choices[self.chosen[t - 1]]);
        let board_before = before.and_then(|choice| choice.board);
        let rates = before.map(|choice| dual.pairs.rates(self.courses[t].charge, choice.pair));
        for i in 0..self.courses[t].choices.len() {
            let course = &self.courses[t];
            let choice = &course.choices[i];
            let near = if t == 0 { self.near[i] } else { near };
            let before = (near[0] + slip[0]).min(near[1] + slip[1]) + sum + paid;
            if before + choice.least() >= self.cutoff {
                if t > 0 {
                    break;
                }
                continue;
            }
            let beside = rates.map_or(0.0, |rates| seam(course.met, rates[choice.pair as usize]));
            if before + choice.least() + beside >= self.cutoff {
                continue;
            }
            self.looks += 1;
            if self.looks >= self.ask_at {
                self.ask_at = self.looks + 1024;
                if (self.stop)() {
                    return Err(Ended::Stopped);
                }
            }
            if self.looks > MOST_LOOKS || self.tails.len() > MOST {
                return Err(Ended::TooMany);
            }
            let room = self.dual.sharing.room();
            let fits = |strip: &u32| {
                let strip = *strip as usize;
                self.need[self.mask[strip] | 1 << t] <= room[strip]
            };
            if !choice.strips.iter().all(fits) {
                continue;
            }
            let (sum, parts, rest) = (sum + choice.cost + beside, choice.parts, choice.rest);
            let of_board = choice.board == board_before;
            self.take(t, i);
            let paid = self.paid(t + 1, paid + parts);
            let whole = sum + paid + rest;
            // Where neither a neighbour nor a strip is of the same board, nothing is added to it.
            let unchanged = t > 0 && !of_board && !self.shares(t);
            let (mut near, mut slip) = (near, slip);
            for same in [0, 1] {
                if !unchanged && near[same] + whole + slip[same] < self.cutoff {
                    slip[same] = self.register(same == 1).max(slip[same]);
                }
                if near[same] + whole + slip[same] >= self.cutoff {
                    near[same] = f64::INFINITY;
                }
            }
            let onward = match near.iter().any(|near| near.is_finite()) {
                true => self.lay(t + 1, [sum, paid], near, slip),
                false => Ok(()),
            };
            self.give_back(t);
            onward?;
        }
        Ok(())
    }

    /// Whether the course laid last shares a strip with one before it.
    fn shares(&self, t: usize) -> bool {
        let mut strips = self.courses[t].choices[self.chosen[t]].strips.iter();
        strips.any(|&strip| self.mask[strip as usize] != 1 << t)
    }

    /// What is paid at least for the strips that are cut into, less what the courses from `t` on pay for their parts.
    /// `by_parts` is what those before pay at least.
    fn paid(&self, t: usize, by_parts: f64) -> f64 {
        if !self.dual.pays_whole {
            return by_parts;
        }
        let used = || self.used.iter().map(|&strip| strip as usize);
        let open: f64 = used().map(|strip| self.open[strip]).sum();
        let credit: f64 = used()
            .map(|strip| self.credit[t][strip][self.mask[strip]])
            .sum();
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
        let together: f64 = (t..self.courses.len()).flat_map(dearest).sum();
        (open - credit.min(together)).max(by_parts)
    }

    fn take(&mut self, t: usize, i: usize) {
        self.chosen.push(i);
        for &strip in &self.courses[t].choices[i].strips {
            let mask = &mut self.mask[strip as usize];
            if *mask == 0 {
                self.used.push(strip);
            }
            *mask |= 1 << t;
        }
    }

    fn give_back(&mut self, t: usize) {
        if let Some(i) = self.chosen.pop() {
            for &strip in self.courses[t].choices[i].strips.iter().rev() {
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
        let choice = |t: usize| &self.courses[t].choices[self.chosen[t]];
        let long = choice(0).board.filter(|_| same).map(|board| Cut {
            room: self.long_room[board],
            board,
            apart_from: 0,
        });
        let cuts = (0..self.chosen.len()).map(|t| {
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
        self.looks += (self.patterns.placings - before) / PLACINGS_A_LOOK;
        least
    }

    /// Keeps a way to lay all courses, where it is the cheapest of its kind.
    fn keep(&mut self, sum: f64, near: [f64; 2], slip: [f64; 2]) -> Result<(), Ended> {
        let mut slices = Bits::NONE;
        for (t, &i) in self.chosen.iter().enumerate() {
            let choice = &self.courses[t].choices[i];
            if let Some(board) = choice.board {
                let mask = self.dual.pairs.all[choice.pair as usize].mask;
                let first = self.dual.pairs.boards[board].first;
                slices = slices.or(&Bits::placed(first, mask));
            }
        }
        for same in [false, true] {
            if near[usize::from(same)].is_infinite() {
                continue;
            }
            let cost = sum + slip[usize::from(same)];
            if near[usize::from(same)] + cost >= self.cutoff {
                continue;
            }
            for (t, &i) in self.chosen.iter().enumerate() {
                self.courses[t].choices[i].useful = true;
            }
            let at = || -> Vec<(usize, usize)> {
                let chosen = self.chosen.iter().enumerate();
                chosen
                    .map(|(t, &i)| self.courses[t].choices[i].at)
                    .collect()
            };
            let key = (self.chosen[0], same, slices);
            match self.found.get(&key) {
                Some(&number) if self.tails[number].cost <= cost => {}
                Some(&number) => {
                    self.tails[number].at = at();
                    self.tails[number].cost = cost;
                }
                None => {
                    let tail = Tail {
                        at: at(),
                        slices,
                        same,
                        cost,
                    };
                    self.found.insert(key, self.tails.len());
                    self.tails.push(tail);
                }
            }
        }
        Ok(())
    }
}

/// By course, class and pair, what the courses after it cost at least: another pair lies on the next, or the same again.
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

/// Between which places a strip is clear, defects aside, and a little beyond. Unit: nm.
///
/// With more room than there is, figure costs no more. So strips of nearly the same length are as one, and what they
/// cost out of register is worked out once.
fn room(problem: &Problem, strip: u32) -> (i64, i64) {
    let clear = &problem.woods[strip as usize].clear;
    let from = clear.first().map_or(0, |one| one.0);
    let to = clear.last().map_or(from, |one| one.1);
    let up = to + ROOM_STEP - 1;
    (
        from.div_euclid(ROOM_STEP) * ROOM_STEP,
        up.div_euclid(ROOM_STEP) * ROOM_STEP,
    )
}
