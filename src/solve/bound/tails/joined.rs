//! What is kept of ways to lay courses of the tail, those of its first panel joined with the rest.

use super::Tail;
use super::arrivals::Arrival;
use super::search::{Around, Laid, Search};
use crate::solve::bound::bits::{Bits, low};
use crate::solve::bound::pairs::Board;
use smallvec::SmallVec;
use std::sync::Arc;

/// A way to lay the courses of the tail after its first panel, and those beyond the tail.
pub struct Rest {
    /// Class and pair on each course.
    at: Vec<(usize, usize)>,
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
            at: Vec::new(),
            cost: 0.0,
            parts: 0.0,
            paid: 0.0,
            strips: Vec::new(),
            slices: Bits::NONE,
            served: Vec::new(),
            beyond: vec![Arrival::NONE],
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
    pub fn keep(&mut self, costs: [f64; 3], at: [usize; 2], slip: [f64; 2]) {
        let (Some(first), Some(last)) = (self.laid.first(), self.laid.last()) else {
            return;
        };
        let (first, last) = (first.choice, last.clone());
        match &self.around {
            Around::Both(_, rests) => {
                let rests = Arc::clone(rests);
                self.keep_tails(&rests, (first, &last), costs, at, slip)
            }
            Around::Before(_) => self.keep_least((first, &last), costs, at, slip),
            Around::After(..) => self.keep_rests(&last, costs, at[0], slip[0]),
        }
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
    fn keep_rests(&mut self, last: &Laid, [sum, paid, parts]: [f64; 3], at: usize, slip: f64) {
        let mut beyond = Vec::new();
        let near = self.before(0, 0).get(at..).map_or(f64::INFINITY, cheapest);
        for same in [0, 1] {
            let all = self.beyond(last.choice, same);
            let least = near + sum + paid + slip;
            if { all.first() }.is_none_or(|one| least + one.cost >= self.cutoff) {
                continue;
            }
            let slip = match same {
                0 => slip,
                _ => self.register([false, true]).max(slip),
            };
            let with_slip = self.beyond(last.choice, same).iter().map(|one| Arrival {
                cost: one.cost + slip,
                ..*one
            });
            let cheap = |one: &Arrival| near + sum + paid + one.cost < self.cutoff;
            let fits = |one: &Arrival| {
                let taken = self.taken_with(&last.taken, one);
                let mut before = self.before(0, 0).iter().skip(at);
                taken.is_some_and(|taken| {
                    before.any(|before| {
                        before.cost + sum + paid + one.cost < self.cutoff
                            && before.taken.and(&taken) == Bits::NONE
                    })
                })
            };
            let with_slip = with_slip.take_while(cheap);
            beyond.extend(with_slip.filter(fits));
        }
        if beyond.is_empty() {
            return;
        }
        beyond.sort_by(|a, b| a.cost.total_cmp(&b.cost));
        let served = self.served.iter().enumerate();
        let rest = Rest {
            at: self.at(),
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
    ) {
        let near = [0, 1].map(|same| {
            let before = self.before(first, same).get(at[same]..);
            before.map_or(f64::INFINITY, cheapest)
        });
        let before = (near[0] + slip[0]).min(near[1] + slip[1]) + sum;
        let mut joins = 0;
        for rest in rests {
            joins += 1;
            if before + paid + rest.least() >= self.cutoff {
                break;
            }
            if before + parts + rest.paid - rest.parts + rest.least() >= self.cutoff {
                continue;
            }
            let Some(joined) = self.join(last, rest) else {
                continue;
            };
            let paid = (paid + rest.parts).max(parts + rest.paid).max(joined.whole);
            for beyond in &rest.beyond {
                let cost = sum + paid + rest.cost + beyond.cost;
                if before - sum + cost >= self.cutoff {
                    break;
                }
                let Some(taken) = self.taken_with(&joined.taken, beyond) else {
                    continue;
                };
                for same in [0, 1] {
                    let cost = cost + slip[same];
                    let fits = |one: &Arrival| {
                        one.cost + cost < self.cutoff && one.taken.and(&taken) == Bits::NONE
                    };
                    let mut before = self.before(first, same).iter().skip(at[same]);
                    if before.any(fits) {
                        let kind = (first, same == 1, joined.slices, taken);
                        self.keep_tail(kind, &rest.at, beyond.from, cost);
                    }
                }
            }
        }
        self.count_joins(joins);
    }

    /// What lies on the courses of the search.
    fn at(&self) -> Vec<(usize, usize)> {
        let laid = self.courses.iter().zip(&self.laid);
        laid.map(|(course, laid)| course.choices[laid.choice].at)
            .collect()
    }

    /// The courses beyond the tail, by the choice on the last course.
    fn beyond(&self, last: usize, same: usize) -> &[Arrival] {
        match &self.around {
            Around::Both(..) | Around::Before(_) => &[],
            Around::After(_, beyond) => &beyond[last][same],
        }
    }

    /// What is laid with a way to lay the rest; `None` where strips or boards don't suffice for both.
    fn join(&self, last: &Laid, rest: &Rest) -> Option<Joined> {
        let room = self.dual.sharing.room();
        let fits = |&(strip, courses): &(u32, usize)| {
            self.need[self.mask[strip as usize] | courses] <= room[strip as usize]
        };
        if !rest.strips.iter().all(fits) {
            return None;
        }
        let slices = last.slices.or(&rest.slices);
        let mut taken = last.taken;
        for (board, served) in &rest.served {
            let b = &self.dual.pairs.boards[*board];
            let both = self.served[*board].iter().zip(served);
            let sides: SmallVec<[u32; 8]> = both.map(|(one, other)| one + other).collect();
            let known = slices.window(b.first, b.slices).count_ones();
            let count = self.shorts.strips_for(&sides).max(known);
            taken = taken.or(&last_slots(b, count.min(b.slices)));
        }
        let fresh = { rest.strips.iter() }.filter(|(strip, _)| self.mask[*strip as usize] == 0);
        let strips = self.used.iter().chain(fresh.map(|(strip, _)| strip));
        Some(Joined {
            slices,
            taken,
            whole: match self.dual.pays_whole {
                true => strips.map(|&strip| self.open[strip as usize]).sum(),
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
        let boards = self.dual.pairs.boards.iter();
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
        rest: &[(usize, usize)],
        beyond: Option<(usize, usize)>,
        cost: f64,
    ) {
        let at = [&self.at()[..], rest].concat();
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
