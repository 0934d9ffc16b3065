//! The search for ways to lay courses of the tail.

use super::Tail;
use super::arrivals::Arrival;
use super::choices::{Choice, Course, about, course, shift};
use super::joined::{Rest, last_slots};
use crate::solve::bound::bits::Bits;
use crate::solve::bound::classes::Classes;
use crate::solve::bound::dual::DualState;
use crate::solve::bound::labelling::seam;
use crate::solve::bound::register::{Cut, Patterns};
use crate::solve::bound::shorts::Shorts;
use crate::solve::problem::Span;
use crate::solve::tuning::tails::{JOINS_A_LOOK, LOOKS_A_PLACING, MOST, MOST_LOOKS};
use crate::units::Length;
use rustc_hash::{FxHashMap, FxHashSet};
use std::ops::Range;
use std::sync::Arc;

/// What is laid up to a course.
#[derive(Clone)]
pub struct Laid {
    /// The number of its choice.
    pub choice: usize,
    /// See [`super::Tail::slices`].
    pub slices: Bits,
    /// See [`super::Tail::taken`].
    pub taken: Bits,
}

impl Laid {
    /// Nothing: no course has a choice of this number.
    pub const NOTHING: Laid = Laid {
        choice: usize::MAX,
        slices: Bits::NONE,
        taken: Bits::NONE,
    };
}

/// By strip and the courses cut from it, what others could pay for it at most.
type Credit = Vec<Vec<f64>>;

/// Ways to lay the courses beside some choices, the cheapest first: with the last from another board, and from the
/// same.
pub type Beside = Vec<[Vec<Arrival>; 2]>;

/// What lies before and after the courses of a search.
pub enum Around {
    /// The courses before, by choice on the first course; and the ways to lay what is left of the tail, the cheapest
    /// first.
    Both(Beside, Arc<[Rest]>),
    /// The courses before; of what is left of the tail nothing is known. Only what these courses cost at least is
    /// looked for, where all strips are paid by parts.
    Before(Beside),
    /// All courses before, those of the tail with them: what they cost at least, strips paid by parts, by what the long
    /// ones took. And the courses beyond the tail, by choice on the last course.
    After(Vec<Arrival>, Beside),
}

/// The search, over courses of the tail that follow each other.
pub struct Search<'s> {
    pub dual: &'s DualState<'s>,
    pub shorts: &'s Shorts,
    /// From the first on.
    pub courses: Vec<Course>,
    pub around: Around,
    /// By board, where a long course could be cut.
    long_room: Vec<Span>,
    /// By courses of the tail, what they need of a strip together.
    pub need: Vec<Length>,
    /// By course of the tail and strip, the price of the part that the course takes.
    parts: Vec<Vec<f64>>,
    /// By strip, what is paid when it is first cut into.
    pub open: Vec<f64>,
    /// By number of courses laid, what those to come could pay for strips at most.
    credit: Vec<Credit>,
    /// The row of the course before the first.
    beside: usize,
    patterns: Patterns,
    /// Ways that cost as much are not looked for.
    pub cutoff: f64,
    /// By strip, the courses cut from it.
    pub mask: Vec<usize>,
    /// By board and course of the tail, how many sides of the course are cut from it.
    pub served: Vec<Vec<u32>>,
    /// The strips that courses are cut from.
    pub used: Vec<u32>,
    pub laid: Vec<Laid>,
    /// The number of each tail, by its kind: the choice on its first course, [`Tail::same`], slices and taken.
    pub found: FxHashMap<(usize, bool, Bits, Bits), usize>,
    /// Ways to lay the whole tail.
    pub tails: Vec<Tail>,
    /// Ways to lay what lies after its first panel.
    pub rests: Vec<Rest>,
    /// Of each course of the tail, what lies on it in some way to lay it.
    pub useful: FxHashSet<(usize, (usize, usize))>,
    /// By what the long courses before took, the cheapest way to lay them with those of the search.
    pub least: FxHashMap<Bits, Arrival>,
    looks: usize,
    /// After so many looks it is asked whether to stop.
    ask_at: usize,
    stop: &'s (dyn Fn() -> bool + Sync),
}

/// Why a search ends early.
pub enum Ended {
    /// There are too many ways.
    TooMany,
    /// It was stopped.
    Stopped,
}

impl<'s> Search<'s> {
    /// A search over some layers of the tail. `least` is what the courses after each of them cost at least, by class and
    /// pair.
    pub fn new(
        classes: &'s Classes,
        dual: &'s DualState,
        layers: Range<usize>,
        least: &[Vec<Vec<f64>>],
        around: impl FnOnce(&[Course]) -> Around,
        cutoff: f64,
        stop: &'s (dyn Fn() -> bool + Sync),
    ) -> Search<'s> {
        let (problem, tail) = (dual.problem, classes.shorts.tail.clone());
        let parts: Vec<Vec<f64>> = { tail.clone() }
            .map(|l| dual.prices.on(&dual.sharing, &dual.pairs, classes.rows[l]))
            .map(|prices| prices.of_strips())
            .collect();
        let courses: Vec<Course> = { layers.clone() }
            .map(|l| {
                let least = &least[l - layers.start];
                course(classes, dual, l, &parts[l - tail.start], least)
            })
            .collect();
        let rows = layers.start - 1..(layers.end + 1).min(classes.layers());
        let need = need(dual, &classes.rows[tail.clone()]);
        let open: Vec<f64> = (0..problem.woods.len() as u32)
            .map(|strip| dual.prices.whole(strip))
            .collect();
        let long_room = dual.pairs.boards.iter().map(|board| {
            let rooms = board.strips.iter().map(|&strip| about(problem, strip));
            let all = rooms.reduce(|all, one| (all.0.min(one.0), all.1.max(one.1)));
            all.unwrap_or_default()
        });
        let beside = classes.rows[rows.start];
        let own = layers.start - tail.start..layers.end - tail.start;
        Search {
            dual,
            shorts: &classes.shorts,
            around: around(&courses),
            beside,
            long_room: long_room.collect(),
            credit: credit(&need, &parts, dual.sharing.room(), own),
            need,
            parts,
            open,
            patterns: dual.known_patterns(beside).unwrap_or_else(|| {
                let seams = rows.start..rows.end - 1;
                let shift = seams.map(|upper| shift(classes, problem, upper));
                Patterns::new(problem, &classes.rows[rows], shift.collect())
            }),
            courses,
            cutoff,
            mask: vec![0; problem.woods.len()],
            served: vec![vec![0; tail.len()]; dual.pairs.boards.len()],
            used: Vec::new(),
            laid: Vec::new(),
            found: FxHashMap::default(),
            tails: Vec::new(),
            rests: Vec::new(),
            useful: FxHashSet::default(),
            least: FxHashMap::default(),
            looks: 0,
            ask_at: 0,
            stop,
        }
    }

    /// Goes through all ways below the cut-off.
    pub fn lay_all(&mut self) -> Result<(), Ended> {
        let done = self.lay(0, [0.0; 3], [0; 2], [0.0; 2]);
        let patterns = std::mem::take(&mut self.patterns);
        self.dual.keep_patterns(self.beside, patterns);
        done
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
        match self.looks > MOST_LOOKS || self.tails.len().max(self.rests.len()) > MOST {
            true => Err(Ended::TooMany),
            false => Ok(()),
        }
    }

    /// So many ways to lay the rest were held against one to lay the first panel.
    pub fn count_joins(&mut self, joins: usize) {
        self.looks += joins / JOINS_A_LOOK;
    }

    /// Whether the strips of a choice have room for it beside the courses cut from them.
    fn fits(&self, t: usize, choice: &Choice) -> bool {
        let room = self.dual.sharing.room();
        let course = 1 << self.courses[t].number;
        choice.strips.iter().all(|&strip| {
            let strip = strip as usize;
            self.need[self.mask[strip] | course] <= room[strip]
        })
    }

    /// Lays the courses from `t` on in every way that stays below the cut-off. Of those before, `sum` is what they
    /// cost, strips and register aside, `paid` what is paid at least for their strips where others pay by parts, and
    /// `by_parts` what they pay by parts themselves. `at` is the place of the long ones beside them, and `slip` what
    /// figure out of register costs, both beside a long one of another board and of the same.
    fn lay(
        &mut self,
        t: usize,
        [sum, paid, by_parts]: [f64; 3],
        at: [usize; 2],
        slip: [f64; 2],
    ) -> Result<(), Ended> {
        if t == self.courses.len() {
            self.keep([sum, paid, by_parts], at, slip);
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
            let (paid, by_parts) = (self.paid(paid + parts), by_parts + parts);
            let whole = sum + paid + rest;
            // Where neither a neighbour nor a strip is of the same board, nothing is added to it.
            let unchanged = t > 0 && !of_board && !self.shares(t);
            let (mut at, mut slip) = (self.next_fitting(first, at), slip);
            let near = self.near(first, at);
            for same in [0, 1] {
                if !unchanged && near[same] + whole + slip[same] < self.cutoff {
                    slip[same] = self.register([same == 1, false]).max(slip[same]);
                }
                if near[same] + whole + slip[same] >= self.cutoff {
                    at[same] = usize::MAX;
                }
            }
            let onward = match at == [usize::MAX; 2] {
                true => Ok(()),
                false => self.lay(t + 1, [sum, paid, by_parts], at, slip),
            };
            self.give_back(t);
            onward?;
        }
        Ok(())
    }

    /// The ways to lay the long courses before a choice on the first course.
    pub fn before(&self, first: usize, same: usize) -> &[Arrival] {
        match &self.around {
            Around::Both(near, _) | Around::Before(near) => &near[first][same],
            Around::After(before, _) if same == 0 => before,
            Around::After(..) => &[],
        }
    }

    /// What they cost at least from these places on, with the other side where that is known.
    pub fn near(&self, first: usize, at: [usize; 2]) -> [f64; 2] {
        let cost = |same: usize| self.before(first, same).get(at[same]).map(Arrival::least);
        [0, 1].map(|same| cost(same).unwrap_or(f64::INFINITY))
    }

    /// The places from these on of the first of them that leave the slices which are taken.
    fn next_fitting(&self, first: usize, at: [usize; 2]) -> [usize; 2] {
        let taken = self.laid.last().map_or(Bits::NONE, |laid| laid.taken);
        [0, 1].map(|same| {
            let all = self.before(first, same).iter().enumerate().skip(at[same]);
            let mut fitting = all.filter(|(_, one)| one.taken.and(&taken) == Bits::NONE);
            fitting.next().map_or(usize::MAX, |(at, _)| at)
        })
    }

    /// Whether the course laid last shares a strip with one before it.
    fn shares(&self, t: usize) -> bool {
        let course = &self.courses[t];
        let mut strips = course.choices[self.laid[t].choice].strips.iter();
        strips.any(|&strip| self.mask[strip as usize] != 1 << course.number)
    }

    /// What is paid at least for the strips that are cut into, less what the courses to come pay for their parts.
    /// `by_parts` is what those laid pay at least.
    fn paid(&self, by_parts: f64) -> f64 {
        if !self.dual.pays_whole || matches!(self.around, Around::Before(_)) {
            return by_parts;
        }
        let used = || self.used.iter().map(|&strip| strip as usize);
        let open: f64 = used().map(|strip| self.open[strip]).sum();
        let credit = &self.credit[self.laid.len()];
        let from = self.courses[0].number;
        let credit: f64 = used()
            .map(|strip| credit[strip][self.mask[strip] >> from])
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
        let laid = from..from + self.laid.len();
        let to_come = (0..self.parts.len()).filter(|t| !laid.contains(t));
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
            laid.taken = laid.taken.or(&last_slots(b, count.min(b.slices)));
        }
        self.laid.push(laid);
        for &strip in &choice.strips {
            let mask = &mut self.mask[strip as usize];
            if *mask == 0 {
                self.used.push(strip);
            }
            *mask |= 1 << course.number;
        }
    }

    fn give_back(&mut self, t: usize) {
        if let Some(laid) = self.laid.pop() {
            let course = &self.courses[t];
            let choice = &course.choices[laid.choice];
            for board in self.dual.pairs.all[choice.pair as usize].sides {
                self.served[board][course.number] = 0;
            }
            let number = course.number;
            for &strip in choice.strips.iter().rev() {
                let mask = &mut self.mask[strip as usize];
                *mask &= !(1 << number);
                if *mask == 0 {
                    self.used.pop();
                }
            }
        }
    }

    /// What figure out of register costs at least on the courses laid, by whether a long one of the same board lies
    /// before them, and another beyond.
    pub fn register(&mut self, same: [bool; 2]) -> f64 {
        let choice = |t: usize| &self.courses[t].choices[self.laid[t].choice];
        let long = |t: usize, same: bool| {
            choice(t).board.filter(|_| same).map(|board| Cut {
                room: self.long_room[board],
                board,
                apart_from: 0,
            })
        };
        let from = self.courses[0].number;
        let cuts = (0..self.laid.len()).map(|t| {
            let choice = choice(t);
            let others = { choice.strips.iter() }.fold(0, |all, &s| all | self.mask[s as usize]);
            // The course before them is number 0.
            choice.board.map(|board| Cut {
                room: choice.room,
                board,
                apart_from: (others >> from & ((1 << t) - 1)) << 1,
            })
        });
        let beyond = same[1].then(|| long(self.laid.len() - 1, true));
        let cuts: Vec<Option<Cut>> = { std::iter::once(long(0, same[0])).chain(cuts) }
            .chain(beyond)
            .collect();
        let before = self.patterns.placings;
        let least = self.patterns.least(&cuts);
        self.looks += (self.patterns.placings - before) * LOOKS_A_PLACING;
        least
    }
}

/// By courses, a bit for each, what they need of a strip together.
fn need(dual: &DualState, rows: &[usize]) -> Vec<Length> {
    let of = |courses: usize| (0..rows.len()).filter(move |t| courses >> t & 1 == 1);
    (0..1usize << rows.len())
        .map(|courses| of(courses).map(|t| dual.sharing.need(rows[t])).sum())
        .collect()
}

/// What others could pay for strips at most, see [`Search::credit`]; of the courses of the tail the search has `own`.
fn credit(need: &[Length], parts: &[Vec<f64>], room: &[Length], own: Range<usize>) -> Vec<Credit> {
    let all = (1usize << parts.len()) - 1;
    let most = |strip: usize, laid: usize, to_come: usize| {
        let of = |courses: usize| (0..parts.len()).filter(move |t| courses >> t & 1 == 1);
        // All sets of the courses to come.
        let next =
            |others: &usize| (*others != to_come).then(|| others.wrapping_sub(to_come) & to_come);
        std::iter::successors(Some(0), next)
            .filter(|others| need[laid | others] <= room[strip])
            .map(|others| of(others).map(|t| parts[t][strip]).sum())
            .fold(0.0, f64::max)
    };
    let at = |t: usize| {
        let to_come = all & !(((1 << t) - 1) << own.start);
        let of_strip = |strip: usize| {
            let laid = (0..1usize << t).map(|laid| laid << own.start);
            laid.map(|laid| most(strip, laid, to_come)).collect()
        };
        (0..room.len()).map(of_strip).collect()
    };
    (0..=own.len()).map(at).collect()
}
