//! What is kept of ways to lay courses of the tail, those of its first panel joined with the rest.

use super::Tail;
use super::arrivals::Arrival;
use super::beyond::by_board;
use super::choices::Choice;
use super::search::{Ended, Goal, Laid, Search};
use crate::solve::bound::bits::{Bits, low};
use crate::solve::bound::pairs::Board;
use crate::solve::bound::register::Cut;
use crate::solve::tuning::tails::JOINS_A_LOOK;
use smallvec::SmallVec;
use std::borrow::Cow;
use std::sync::Arc;

/// A way to lay the courses of the tail after its first panel, and those beyond the tail.
pub struct Rest {
    /// What its courses of the tail cost, what they pay for strips left out.
    cost: f64,
    /// What they pay for strips by parts.
    parts: f64,
    /// What they pay at least where the courses before pay by parts.
    paid: f64,
    /// The strips that they are cut from, and which courses of the tail are cut from each.
    strips: Vec<(u32, usize)>,
    /// The slices that they take, as far as they are known.
    slices: Bits,
    /// The boards that they are cut from, and how many sides of each course of the tail are.
    served: Vec<(usize, Vec<u32>)>,
    /// The ways to lay the courses beyond, the cheapest first; what figure costs beside them counts there.
    beyond: Vec<Arrival>,
    /// The slots of the boards that those begin in.
    homes: Bits,
    /// What figure out of register costs beside one of another board than the last course's, and of the same.
    slips: [f64; 2],
    /// The choice on each course.
    choices: Vec<Choice>,
}

/// What all that is joined takes and pays.
struct Joined {
    slices: Bits,
    /// See [`Tail::taken`].
    taken: Bits,
    /// For all strips that are cut into, each once.
    whole: f64,
}

impl Rest {
    /// No course is left.
    pub fn nothing() -> Rest {
        Rest {
            cost: 0.0,
            parts: 0.0,
            paid: 0.0,
            strips: Vec::new(),
            slices: Bits::NONE,
            served: Vec::new(),
            beyond: vec![Arrival::NONE],
            homes: Bits::NONE,
            slips: [0.0; 2],
            choices: Vec::new(),
        }
    }

    /// What it costs at least.
    pub fn least(&self) -> f64 {
        let beyond = self.beyond.first().map_or(f64::INFINITY, |one| one.cost);
        self.cost + self.parts + beyond
    }

    /// What it costs at least with each way to lay the courses beyond, and what those take.
    pub fn by_beyond(&self) -> impl Iterator<Item = Arrival> {
        self.beyond.iter().map(|one| Arrival {
            cost: self.cost + self.parts + one.cost,
            ..*one
        })
    }
}

impl Search<'_> {
    /// Keeps a way to lay all courses of the search; for what it is given see `lay`. Long courses that lie beside them
    /// come in the order of [`Arrival::least`], which need not be that of their cost.
    ///
    /// Errors: as [`Search::look`].
    pub fn keep(&mut self, costs: [f64; 3], at: [usize; 2], slip: [f64; 2]) -> Result<(), Ended> {
        let (Some(first), Some(last)) = (self.laid.first(), self.laid.last()) else {
            return Ok(());
        };
        let (first, last) = (first.choice, last.clone());
        match &self.goal {
            Goal::Tails(rests) => {
                let rests = Arc::clone(rests);
                return self.keep_tails(&rests, (first, &last), costs, at, slip);
            }
            Goal::Least => self.keep_least((first, &last), costs, at, slip),
            Goal::Rests(others) => {
                let others = Arc::clone(others);
                self.keep_rests(&others, (first, &last), costs, at, slip)
            }
        }
        Ok(())
    }

    /// What the courses cost at least with each way to lay the long ones before.
    fn keep_least(
        &mut self,
        (first, last): (usize, &Laid),
        [sum, paid, _]: [f64; 3],
        at: [usize; 2],
        slip: [f64; 2],
    ) {
        let mut least = std::mem::take(&mut self.least);
        for same in [0, 1] {
            let before = self.before(first, same).iter().skip(at[same]);
            let fitting = before.filter(|one| one.taken.and(&last.taken) == Bits::NONE);
            for one in fitting {
                let cost = one.cost + slip[same] + sum + paid;
                let known = least.entry(one.taken).or_insert(Arrival {
                    cost,
                    others: 0.0,
                    ..*one
                });
                known.cost = known.cost.min(cost);
            }
        }
        self.least = least;
    }

    /// With the ways to lay the courses beyond.
    fn keep_rests(
        &mut self,
        others: &[Arrival],
        (first, last): (usize, &Laid),
        [sum, paid, parts]: [f64; 3],
        at: [usize; 2],
        slips: [f64; 2],
    ) {
        let Choice {
            at: pair, board, ..
        } = self.courses[0].choices[first];
        let mut beyond = Vec::new();
        let least = others.first().map_or(f64::INFINITY, |one| one.cost) + sum + paid;
        for around in by_board(&self.given.dual.pairs, &last.slices) {
            let same = usize::from(board == Some(around.0));
            let Some(all) = (self.beyond.as_mut()).filter(|_| at[same] != usize::MAX) else {
                continue;
            };
            let ways = all.ways(pair, around);
            let with_slip = ways.iter().map(|one| Arrival {
                cost: one.cost + slips[same],
                ..*one
            });
            let cheap = |one: &Arrival| least + one.cost < self.given.cutoff;
            let fits = |one: &Arrival| {
                let taken = self.taken_with(&last.taken, one);
                taken.is_some_and(|taken| {
                    let mut cheap = { others.iter() }
                        .take_while(|other| other.cost + sum + paid + one.cost < self.given.cutoff);
                    cheap.any(|other| other.taken.and(&taken) == Bits::NONE)
                })
            };
            let with_slip = with_slip.take_while(cheap);
            beyond.extend(with_slip.filter(fits));
        }
        if beyond.is_empty() {
            return;
        }
        beyond.sort_by(|a, b| a.cost.total_cmp(&b.cost));
        let homes = { self.beyond.as_ref() }.map_or(Bits::NONE, |all| all.homes(&beyond));
        let served = self.served.iter().enumerate();
        let choices = self.choices().rev().cloned().collect();
        let rest = Rest {
            cost: sum,
            parts,
            paid,
            strips: { self.used.iter() }
                .map(|&strip| (strip, self.mask[strip as usize]))
                .collect(),
            slices: last.slices,
            served: served
                .filter(|(_, served)| served.iter().any(|sides| *sides > 0))
                .map(|(board, served)| (board, served.clone()))
                .collect(),
            beyond,
            homes,
            slips,
            choices,
        };
        self.rests.push(rest);
    }

    /// With every way to lay the rest of the tail, where it is the cheapest of its kind.
    fn keep_tails(
        &mut self,
        rests: &[Rest],
        (first, last): (usize, &Laid),
        [sum, paid, parts]: [f64; 3],
        at: [usize; 2],
        slip: [f64; 2],
    ) -> Result<(), Ended> {
        let near = [0, 1].map(|same| {
            let before = self.before(first, same).get(at[same]..);
            before.map_or(f64::INFINITY, cheapest)
        });
        let before = (near[0] + slip[0]).min(near[1] + slip[1]) + sum;
        for (joins, rest) in (1..).zip(rests) {
            if joins % JOINS_A_LOOK == 0 {
                self.look()?;
            }
            if before + paid + rest.least() >= self.given.cutoff {
                break;
            }
            if before + parts + rest.paid - rest.parts + rest.least() >= self.given.cutoff {
                continue;
            }
            let Some(joined) = self.join(last, rest) else {
                continue;
            };
            let paid = (paid + rest.parts).max(parts + rest.paid).max(joined.whole);
            let shares = { rest.strips.iter() }.any(|(strip, _)| self.mask[*strip as usize] != 0);
            // What figure costs more where both are looked at together.
            let mut more = [[None; 2]; 2];
            for beyond in self.beyond_both(last, rest, &joined).iter() {
                let cost = sum + paid + rest.cost + beyond.cost;
                if before - sum + cost >= self.given.cutoff {
                    break;
                }
                let Some(taken) = self.taken_with(&joined.taken, beyond) else {
                    continue;
                };
                let far = usize::from(self.is_same(rest, beyond));
                for same in [0, 1] {
                    let cost = cost + slip[same];
                    if !self.has_near((first, same, at[same]), cost, &taken) {
                        continue;
                    }
                    let more = match (shares, more[same][far]) {
                        (false, _) => 0.0,
                        (_, Some(known)) => known,
                        (true, None) => {
                            let all = self.register_of_both(rest, [same == 1, far == 1]);
                            let known = (all - slip[same] - rest.slips[far]).max(0.0);
                            more[same][far] = Some(known);
                            known
                        }
                    };
                    if self.has_near((first, same, at[same]), cost + more, &taken) {
                        let kind = (first, same == 1, joined.slices, taken);
                        self.keep_tail(kind, rest, beyond.from, cost + more);
                    }
                }
            }
        }
        Ok(())
    }

    /// What lies on the courses of the search.
    fn choices(&self) -> impl DoubleEndedIterator<Item = &Choice> {
        let laid = self.courses.iter().zip(&self.laid);
        laid.map(|(course, laid)| &course.choices[laid.choice])
    }

    /// What figure out of register costs at least where courses on both sides share strips, by whether long courses of
    /// the same board lie beside the one and the other.
    fn register_of_both(&mut self, rest: &Rest, same: [bool; 2]) -> f64 {
        let of_rest = |strip: u32| {
            let mut own = rest.strips.iter().filter(|(other, _)| *other == strip);
            own.next().map_or(0, |(_, courses)| *courses)
        };
        let all: Vec<&Choice> = self.choices().chain(&rest.choices).collect();
        let long = |choice: Option<&&Choice>, same: bool| {
            let board = choice.and_then(|choice| choice.board).filter(|_| same);
            board.map(|board| self.given.long(board))
        };
        let cuts = all.iter().enumerate().map(|(t, choice)| {
            let of = |&strip: &u32| self.mask[strip as usize] | of_rest(strip);
            let others = choice.strips.iter().fold(0, |all, strip| all | of(strip));
            choice.board.map(|board| Cut {
                room: choice.room,
                board,
                // The course before them is number 0.
                apart_from: (others & ((1 << t) - 1)) << 1,
            })
        });
        let cuts: Vec<Option<Cut>> = { std::iter::once(long(all.first(), same[0])).chain(cuts) }
            .chain([long(all.last(), same[1])])
            .collect();
        let before = self.all_patterns.placings;
        let least = self.all_patterns.least(&cuts);
        self.count_placings(self.all_patterns.placings - before);
        least
    }

    /// The courses beyond a way to lay the rest, around the slices that either takes.
    fn beyond_both<'r>(
        &mut self,
        last: &Laid,
        rest: &'r Rest,
        joined: &Joined,
    ) -> Cow<'r, [Arrival]> {
        let (Some(choice), Some(beyond)) = (rest.choices.last(), &mut self.beyond) else {
            return Cow::Borrowed(&rest.beyond);
        };
        let touched = last.slices.and(&rest.homes);
        if touched == Bits::NONE {
            return Cow::Borrowed(&rest.beyond);
        }
        let boards = &self.given.dual.pairs.boards;
        let is_touched = |board: usize| {
            { boards.get(board) }.is_some_and(|b| touched.window(b.first, b.slices) != 0)
        };
        let mut all: Vec<Arrival> = Vec::new();
        for around in by_board(&self.given.dual.pairs, &joined.slices) {
            if is_touched(around.0) {
                let same = usize::from(Some(around.0) == choice.board);
                let ways = beyond.ways(choice.at, around);
                all.extend(ways.iter().map(|one| Arrival {
                    cost: one.cost + rest.slips[same],
                    ..*one
                }));
            }
        }
        let untouched =
            { rest.beyond.iter() }.filter(|one| !beyond.home(one).is_some_and(is_touched));
        all.extend(untouched);
        all.sort_by(|a, b| a.cost.total_cmp(&b.cost));
        Cow::Owned(all)
    }

    /// Whether ways to lay the courses beyond begin in the board of the last course before them.
    fn is_same(&self, rest: &Rest, beyond: &Arrival) -> bool {
        let home = { self.beyond.as_ref() }.and_then(|all| all.home(beyond));
        home.is_some() && home == rest.choices.last().and_then(|choice| choice.board)
    }

    /// Whether some way to lay the long courses before, from a place on, leaves what is taken, at a cost that counts.
    fn has_near(&self, (first, same, at): (usize, usize, usize), cost: f64, taken: &Bits) -> bool {
        let fits = |one: &Arrival| {
            one.cost + cost < self.given.cutoff && one.taken.and(taken) == Bits::NONE
        };
        self.before(first, same).iter().skip(at).any(fits)
    }

    /// What is laid with a way to lay the rest; `None` where strips or boards don't suffice for both.
    fn join(&self, last: &Laid, rest: &Rest) -> Option<Joined> {
        let room = self.given.dual.sharing.room();
        let fits = |&(strip, courses): &(u32, usize)| {
            self.given.need[self.mask[strip as usize] | courses] <= room[strip as usize]
        };
        if !rest.strips.iter().all(fits) {
            return None;
        }
        let slices = last.slices.or(&rest.slices);
        let mut taken = last.taken;
        for (board, served) in &rest.served {
            let b = &self.given.dual.pairs.boards[*board];
            let both = self.served[*board].iter().zip(served);
            let sides: SmallVec<[u32; 8]> = both.map(|(one, other)| one + other).collect();
            let known = slices.window(b.first, b.slices).count_ones();
            let count = self.given.classes.shorts.strips_for(&sides).max(known);
            taken = taken.or(&last_slots(b, count.min(b.slices)));
        }
        let fresh = { rest.strips.iter() }.filter(|(strip, _)| self.mask[*strip as usize] == 0);
        let strips = self.used.iter().chain(fresh.map(|(strip, _)| strip));
        Some(Joined {
            slices,
            taken,
            whole: match self.given.classes.pays_whole {
                true => strips.map(|&strip| self.given.open[strip as usize]).sum(),
                false => 0.0,
            },
        })
    }

    /// What is taken with what the courses beyond take; `None` where boards don't suffice for both.
    fn taken_with(&self, taken: &Bits, beyond: &Arrival) -> Option<Bits> {
        if beyond.taken == Bits::NONE {
            return Some(*taken);
        }
        // Slots from the last on, and from the first on.
        if beyond.taken.and(taken) != Bits::NONE {
            return None;
        }
        let boards = self.given.dual.pairs.boards.iter();
        Some(boards.fold(Bits::NONE, |all, b| {
            let count = |bits: &Bits| bits.window(b.first, b.slices).count_ones();
            all.or(&last_slots(b, count(taken) + count(&beyond.taken)))
        }))
    }

    /// Keeps what is laid, with a way to lay the rest, where nothing cheaper is known of its kind: with the same first
    /// choice, a long course of the same board before it or not, the same slices and the same taken.
    fn keep_tail(
        &mut self,
        kind: (usize, bool, Bits, Bits),
        rest: &Rest,
        beyond: Option<(usize, usize)>,
        cost: f64,
    ) {
        let all = self.choices().chain(&rest.choices);
        let at: Vec<(usize, usize)> = all.map(|choice| choice.at).collect();
        self.useful.extend(at.iter().copied().enumerate());
        let (_, same, slices, taken) = kind;
        let number = *self.found.entry(kind).or_insert(self.tails.len());
        if self
            .tails
            .get(number)
            .is_some_and(|known| known.cost <= cost)
        {
            return;
        }
        let tail = Tail {
            at,
            slices,
            taken,
            beyond,
            same,
            cost,
        };
        match self.tails.get_mut(number) {
            Some(known) => *known = tail,
            None => self.tails.push(tail),
        }
    }
}

/// What the cheapest of some ways costs.
fn cheapest(ways: &[Arrival]) -> f64 {
    { ways.iter() }.fold(f64::INFINITY, |least, one| least.min(one.cost))
}

/// So many slots of a board, from its last on.
pub fn last_slots(board: &Board, count: u32) -> Bits {
    Bits::placed(board.first, low(board.slices) & !low(board.slices - count))
}
