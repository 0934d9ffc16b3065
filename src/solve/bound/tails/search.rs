//! The search for ways to lay courses of the tail.

use super::Tail;
use super::arrivals::Arrival;
use super::beyond::Beyond;
use super::choices::{Choice, Course};
use super::given::{Credit, Given, lowest};
use super::joined::{Rest, last_slots};
use crate::solve::bound::bits::Bits;
use crate::solve::bound::labelling::seam;
use crate::solve::bound::register::{Cut, Patterns};
use crate::solve::tuning::tails::{LOOKS_A_PLACING, MOST, MOST_LOOKS};
use rustc_hash::{FxHashMap, FxHashSet};
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

/// Ways to lay the courses beside some choices, the cheapest first: with the nearest from another board, and from the
/// same.
pub type Beside = Vec<[Vec<Arrival>; 2]>;

/// What is looked for.
pub enum Goal {
    /// All ways to lay the courses, each joined with these for what is left of the tail, the cheapest first.
    Tails(Arc<[Rest]>),
    /// What they cost at least, all strips paid by parts.
    Least,
    /// All ways to lay them beside what all courses on the other side cost at least, strips paid by parts, by what the
    /// long ones there took.
    Rests(Arc<[Arrival]>),
}

/// The search, over courses of the tail that follow each other, from the one beside the long courses on.
pub struct Search<'s> {
    pub given: &'s Given<'s>,
    /// What lies beyond the tail; `None` where it is not asked for.
    pub beyond: Option<Beyond<'s>>,
    pub courses: Vec<Course>,
    /// The long courses, by choice on the first course.
    near: Beside,
    pub goal: Goal,
    /// By number of courses laid, what those to come could pay for strips at most.
    credit: Vec<Credit>,
    /// The layers of its courses, the long one beside them first; and what is known of register there.
    layers: Vec<usize>,
    patterns: Patterns,
    /// The same of all courses of the tail, with the long ones on both sides.
    all_layers: Vec<usize>,
    pub all_patterns: Patterns,
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
}

/// Why a search ends early.
pub enum Ended {
    /// There are too many ways.
    TooMany,
    /// It was stopped.
    Stopped,
}

impl<'s> Search<'s> {
    /// A search over some courses of the tail. `near` is the long courses beside them, by choice on the first.
    pub fn new(
        given: &'s Given<'s>,
        courses: Vec<Course>,
        near: Beside,
        goal: Goal,
        beyond: Option<Beyond<'s>>,
    ) -> Search<'s> {
        let tail = given.classes.shorts.tail.clone();
        let own: Vec<usize> = { courses.iter() }
            .map(|course| tail.start + course.number)
            .collect();
        let long = match own[0] == tail.start {
            true => tail.start - 1,
            false => tail.end,
        };
        let layers = [&[long], &own[..]].concat();
        let all_layers: Vec<usize> = (tail.start - 1..=tail.end).collect();
        let credit = match goal {
            // All strips are paid by parts.
            Goal::Least => Vec::new(),
            _ => given.credit(&courses),
        };
        Search {
            given,
            beyond,
            near,
            goal,
            credit,
            patterns: given.patterns(&layers),
            layers,
            all_patterns: given.patterns(&all_layers),
            all_layers,
            courses,
            mask: vec![0; given.dual.problem.woods.len()],
            served: vec![vec![0; tail.len()]; given.dual.pairs.boards.len()],
            used: Vec::new(),
            laid: Vec::new(),
            found: FxHashMap::default(),
            tails: Vec::new(),
            rests: Vec::new(),
            useful: FxHashSet::default(),
            least: FxHashMap::default(),
            looks: 0,
            ask_at: 0,
        }
    }

    /// Goes through all ways below the cut-off.
    pub fn lay_all(mut self) -> Result<Search<'s>, Ended> {
        let done = self.lay(0, [0.0; 3], [0; 2], [0.0; 2]);
        let dual = self.given.dual;
        let rows = self.given.rows(self.layers.iter().copied());
        dual.keep_patterns(&rows, std::mem::take(&mut self.patterns));
        let rows = self.given.rows(self.all_layers.iter().copied());
        dual.keep_patterns(&rows, std::mem::take(&mut self.all_patterns));
        done.map(|()| self)
    }

    /// One look more.
    ///
    /// Errors: there were too many, or it was stopped.
    pub fn look(&mut self) -> Result<(), Ended> {
        self.looks += 1;
        if self.looks >= self.ask_at {
            self.ask_at = self.looks + 1024;
            if (self.given.stop)() {
                return Err(Ended::Stopped);
            }
        }
        match self.looks > MOST_LOOKS || self.tails.len().max(self.rests.len()) > MOST {
            true => Err(Ended::TooMany),
            false => Ok(()),
        }
    }

    /// Whether the strips of a choice have room for it beside the courses cut from them.
    fn fits(&self, t: usize, choice: &Choice) -> bool {
        let room = self.given.dual.sharing.room();
        let course = 1 << self.courses[t].number;
        choice.strips.iter().all(|&strip| {
            let strip = strip as usize;
            self.given.need[self.mask[strip] | course] <= room[strip]
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
            return self.keep([sum, paid, by_parts], at, slip);
        }
        let dual = self.given.dual;
        let before = (t > 0).then(|| &self.courses[t - 1].choices[self.laid[t - 1].choice]);
        let board_before = before.and_then(|choice| choice.board);
        let rates = before.map(|choice| dual.pairs.rates(self.courses[t].charge, choice.pair));
        for i in 0..self.courses[t].choices.len() {
            let course = &self.courses[t];
            let choice = &course.choices[i];
            let first = self.laid.first().map_or(i, |laid| laid.choice);
            let near = self.near(first, at);
            let before = (near[0] + slip[0]).min(near[1] + slip[1]) + sum;
            if before + paid + choice.least() >= self.given.cutoff {
                if t > 0 {
                    break;
                }
                continue;
            }
            let beside = rates.map_or(0.0, |rates| seam(course.met, rates[choice.pair as usize]));
            let (parts, rest) = (choice.parts, choice.rest);
            if before + paid + choice.least() + beside >= self.given.cutoff || !self.fits(t, choice)
            {
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
            let (mut at, mut slip) = (
                self.next_worth(first, at, slip.map(|slip| whole + slip)),
                slip,
            );
            let near = self.near(first, at);
            for same in [0, 1] {
                if !unchanged && near[same] + whole + slip[same] < self.given.cutoff {
                    slip[same] = self.register(same == 1).max(slip[same]);
                }
                if near[same] + whole + slip[same] >= self.given.cutoff {
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

    /// The ways to lay the long courses beside a choice on the first course.
    pub fn before(&self, first: usize, same: usize) -> &[Arrival] {
        &self.near[first][same]
    }

    /// What they cost at least from these places on, with the other side where that is known.
    pub fn near(&self, first: usize, at: [usize; 2]) -> [f64; 2] {
        let cost = |same: usize| self.before(first, same).get(at[same]).map(Arrival::least);
        [0, 1].map(|same| cost(same).unwrap_or(f64::INFINITY))
    }

    /// The places from these on of the first of them that leave the slices which are taken. Where only the least is
    /// looked for, those are passed by beside which what is laid costs no less than something known; `costs` is what it
    /// costs at least.
    fn next_worth(&self, first: usize, at: [usize; 2], costs: [f64; 2]) -> [usize; 2] {
        let taken = self.laid.last().map_or(Bits::NONE, |laid| laid.taken);
        let is_known = |one: &Arrival, cost: f64| {
            matches!(self.goal, Goal::Least)
                && (self.least.get(&one.taken)).is_some_and(|known| known.cost <= one.cost + cost)
        };
        [0, 1].map(|same| {
            let all = self.before(first, same).iter().enumerate().skip(at[same]);
            let mut worth = all.filter(|(_, one)| {
                one.taken.and(&taken) == Bits::NONE && !is_known(one, costs[same])
            });
            worth.next().map_or(usize::MAX, |(at, _)| at)
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
        if !self.given.classes.pays_whole || matches!(self.goal, Goal::Least) {
            return by_parts;
        }
        let used = || self.used.iter().map(|&strip| strip as usize);
        let open: f64 = used().map(|strip| self.given.open[strip]).sum();
        let credit = &self.credit[self.laid.len()];
        let laid = &self.courses[..self.laid.len()];
        let from = lowest(laid);
        let credit: f64 = used()
            .map(|strip| credit[strip][self.mask[strip] >> from])
            .sum();
        // Each of them is cut from two strips at most.
        let room = self.given.dual.sharing.room();
        let dearest = |t: usize| {
            let fits = |strip: &usize| self.given.need[self.mask[*strip] | 1 << t] <= room[*strip];
            used()
                .filter(fits)
                .fold([0.0_f64; 2], |[most, next], strip| {
                    let part = self.given.parts[t][strip];
                    [most.max(part), next.max(part.min(most))]
                })
        };
        let is_laid = |t: &usize| laid.iter().any(|course| course.number == *t);
        let to_come = (0..self.given.parts.len()).filter(|t| !is_laid(t));
        let together: f64 = to_come.flat_map(dearest).sum();
        (open - credit.min(together)).max(by_parts)
    }

    fn take(&mut self, t: usize, i: usize) {
        let course = &self.courses[t];
        let choice = &course.choices[i];
        let pair = &self.given.dual.pairs.all[choice.pair as usize];
        let mut laid = self.laid.last().unwrap_or(&Laid::NOTHING).clone();
        laid.choice = i;
        let [one, other] = pair.sides;
        let sides = match one == other {
            true => choice.strips.len() as u32,
            false => 1,
        };
        for board in [one, other] {
            self.served[board][course.number] = sides;
            let b = &self.given.dual.pairs.boards[board];
            if choice.board.is_some() {
                laid.slices = laid.slices.or(&Bits::placed(b.first, pair.mask));
            }
            let known = laid.slices.window(b.first, b.slices).count_ones();
            let count = self
                .given
                .classes
                .shorts
                .strips_for(&self.served[board])
                .max(known);
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
            for board in self.given.dual.pairs.all[choice.pair as usize].sides {
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
    /// beside them.
    fn register(&mut self, same: bool) -> f64 {
        let choice = |t: usize| &self.courses[t].choices[self.laid[t].choice];
        let long = choice(0)
            .board
            .filter(|_| same)
            .map(|board| self.given.long(board));
        let cuts = (0..self.laid.len()).map(|t| {
            let choice = choice(t);
            let others = { choice.strips.iter() }.fold(0, |all, &s| all | self.mask[s as usize]);
            let shares = |k: &usize| others >> self.courses[*k].number & 1 == 1;
            // The long one is number 0.
            let apart_from = (0..t).filter(shares).fold(0, |all, k| all | 2 << k);
            choice.board.map(|board| Cut {
                room: choice.room,
                board,
                apart_from,
            })
        });
        let cuts: Vec<Option<Cut>> = std::iter::once(long).chain(cuts).collect();
        let before = self.patterns.placings;
        let least = self.patterns.least(&cuts);
        self.count_placings(self.patterns.placings - before);
        least
    }

    /// Places were found so many times.
    pub fn count_placings(&mut self, placings: usize) {
        self.looks += placings * LOOKS_A_PLACING;
    }
}
