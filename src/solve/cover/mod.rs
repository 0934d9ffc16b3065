//! Whether courses can be covered at all: every way to lay them is gone through, until one holds or none is left.
//!
//! How many pieces a course has and which strips they are cut from is tried out one after the other (`woods`); where
//! the joints lie and where the strips are cut is then a matter of inequalities (`places`). Looks play no part. It is
//! exact, and so it is for small jobs: where the patience runs out it says that it does not know.

mod lengths;
mod places;
mod woods;

use super::holds::holds;
use super::problem::{Glued, Problem};
use super::rack::Room;
use super::rng::{SearchRng, stream};
use super::state::{Change, State};
use super::timber::{Part, Timber};
use crate::solve::tuning::cover::{FEW, LONGER, LOOKS, PATIENCE};
use crate::solve::tuning::places::{MARGIN, SLACK};
use crate::units::Length;
use lengths::asked;
pub use lengths::{TooShort, may_do, too_short};
use places::{Lin, Places};
use rand::seq::SliceRandom;
use std::cmp::Reverse;
use woods::{Candidate, Seats, candidates};

/// What was found out.
pub enum Decided {
    /// The courses can be laid, like this.
    Covered(Box<Change>),
    /// There is no way.
    Impossible,
    /// There may be.
    Unknown,
}

/// Work allowed for each of the `LOOKS` random passes: all of them together get half of `PATIENCE`.
const A_LOOK: usize = PATIENCE / 24;

/// Whether these open courses can all be covered, with whatever else is laid staying where it is.
pub fn decide(base: &State, rows: &[usize], stop: &dyn Fn() -> bool) -> Decided {
    for look in 0..LOOKS {
        if stop() {
            return Decided::Unknown;
        }
        match gone_through(base, rows, Some(stream(0, look)), A_LOOK, stop) {
            Decided::Unknown => {}
            decided => return decided,
        }
    }
    let longer = if base.problem.is_again() && base.problem.rows.len() <= FEW {
        LONGER
    } else {
        1
    };
    gone_through(base, rows, None, longer * PATIENCE, stop)
}

/// The same in one order of the courses and of the wood: random where a stream is given.
fn gone_through(
    base: &State,
    rows: &[usize],
    mut rng: Option<SearchRng>,
    patience: usize,
    stop: &dyn Fn() -> bool,
) -> Decided {
    let problem = base.problem;
    let mut rows = rows.to_vec();
    if let Some(rng) = &mut rng {
        rows.shuffle(rng);
    } else {
        rows.sort_by_key(|&row| (Reverse(problem.rows[row].one_piece()), row));
    }
    // Partly glued courses first: equal strips stand for each other only when none of these is left.
    rows.sort_by_key(|&row| problem.glued[row].is_empty());
    let rooms: Vec<Room> = (0..problem.woods.len() as u32)
        .map(|strip| base.rack().room(problem, strip, &[], &[]))
        .collect();
    let lengths = rows.iter().flat_map(|&row| {
        let glued = problem.glued[row].iter().map(Glued::length);
        glued.chain([problem.rows[row].one_piece()])
    });
    let shortest = lengths.min().unwrap_or_default().min(problem.shortest).mm();
    let needs: Vec<Length> = rows.iter().map(|&row| need(problem, row)).collect();
    let mut deciding = Deciding {
        base,
        rows,
        rooms,
        needs,
        places: Places::default(),
        parts: Vec::new(),
        spent: Vec::new(),
        shortest,
        patience,
        rng,
        stop,
        unsure: false,
    };
    match deciding.course(0) {
        Some(change) => Decided::Covered(Box::new(change)),
        None if deciding.unsure || deciding.patience == 0 => Decided::Unknown,
        None => Decided::Impossible,
    }
}

/// The same for all courses of a problem, nothing but what is glued being laid.
pub fn decide_all(problem: &Problem, stop: &dyn Fn() -> bool) -> Decided {
    let all: Vec<usize> = (0..problem.rows.len()).collect();
    decide(&State::bare(problem), &all, stop)
}

/// The least length of wood that a course still takes, both sides together.
fn need(problem: &Problem, row: usize) -> Length {
    asked(problem, row).map(|side| side.length).sum()
}

/// A part that has its wood.
struct Chosen {
    row: usize,
    from: Lin,
    to: Lin,
    wood: [u32; 2],
    /// Where each side is cut.
    cut: [Lin; 2],
}

struct Deciding<'s, 'p> {
    base: &'s State<'p>,
    rows: Vec<usize>,
    /// Room on each strip before any of this.
    rooms: Vec<Room>,
    /// The least that each course takes.
    needs: Vec<Length>,
    places: Places,
    parts: Vec<Chosen>,
    /// What each course that is done takes of the strips. Unit: mm.
    spent: Vec<f64>,
    /// No piece is shorter than this. Unit: mm.
    shortest: f64,
    patience: usize,
    /// What the order is drawn from, where it is left to chance.
    rng: Option<SearchRng>,
    /// Asked often; where it says yes, patience is at its end.
    stop: &'s dyn Fn() -> bool,
    /// Whether a choice of places held in the exact programme and failed once rounded: then infeasibility is not
    /// proven.
    unsure: bool,
}

/// A course in so many pieces: the ends of each on the skin.
struct Cutting {
    /// The place among the courses that are decided.
    at: usize,
    row: usize,
    ends: Vec<Lin>,
}

impl Cutting {
    fn is_joined(&self) -> bool {
        self.ends.len() > 2
    }
}

impl<'p> Deciding<'_, 'p> {
    fn problem(&self) -> &'p Problem {
        self.base.problem
    }

    /// Lays the courses from the one at this place on.
    fn course(&mut self, at: usize) -> Option<Change> {
        let Some(&row) = self.rows.get(at) else {
            return self.written();
        };
        if !self.enough_wood(at) {
            return None;
        }
        let problem = self.problem();
        let r = &problem.rows[row];
        let glued = &problem.glued[row];
        let fit = usize::try_from(r.length / problem.shortest).unwrap_or(usize::MAX);
        let most = match r.joint_windows.is_empty() && glued.is_empty() {
            true => 1,
            false => fit
                .saturating_add(2 * glued.len())
                .min(problem.most.saturating_add(1)),
        };
        let mut counts: Vec<usize> = (1..=most.max(1)).collect();
        if let Some(rng) = &mut self.rng {
            counts.shuffle(rng);
        }
        for pieces in counts {
            let mark = self.places.mark();
            if let Some(ends) = self.ends(row, pieces) {
                let cutting = Cutting { at, row, ends };
                if let Some(change) = self.part(&cutting, 0) {
                    return Some(change);
                }
            }
            self.places.back_to(mark);
            if self.patience == 0 {
                return None;
            }
        }
        None
    }

    /// Whether there could be wood enough for the courses from this one on.
    ///
    /// Every piece is reckoned with a saw cut behind it, and so every room with one more than it is long. Two
    /// reckonings: what is taken of each room at the least, and what is taken of all rooms together, which is known to
    /// the nanometre.
    fn enough_wood(&self, at: usize) -> bool {
        let problem = self.problem();
        let saw = problem.saw.mm();
        let rooms = self.rooms.iter().enumerate();
        let rooms = rooms.flat_map(|(strip, rooms)| rooms.iter().map(move |room| (strip, *room)));
        let all: f64 = rooms.clone().map(|(_, (a, b))| (b - a).mm() + saw).sum();
        let mut left: Vec<f64> = rooms
            .map(|(strip, room)| {
                (room.1 - room.0).mm() + saw - self.places.least_taken(strip as u32, room)
            })
            .filter(|left| *left >= self.shortest)
            .collect();
        left.sort_unstable_by(|a, b| b.total_cmp(a));
        let (mut need, mut pieces) = (0.0, 0);
        for (&row, asked) in self.rows[at..].iter().zip(&self.needs[at..]) {
            let r = &problem.rows[row];
            let sides = r.sides();
            let long = left.get(sides - 1).copied().unwrap_or(0.0) - saw;
            let joined = problem.glued[row].is_empty() && r.one_piece().mm() > long + SLACK;
            let cuts = if *asked > Length::ZERO { sides } else { 0 };
            let one = asked.mm() + saw * cuts as f64;
            need += one;
            if joined {
                need += sides as f64 * ((problem.half_scarf * 2).mm() + saw);
            }
            pieces += sides * problem.most.saturating_add(1);
        }
        let most: f64 = left.into_iter().take(pieces).sum();
        let spent: f64 = self.spent.iter().sum();
        need <= most.min(all - spent) + SLACK
    }

    /// What a course takes of the strips when it is cut into so many pieces, saw cuts included. Unit: mm.
    fn takes(&self, cutting: &Cutting) -> f64 {
        let problem = self.problem();
        let r = &problem.rows[cutting.row];
        let pieces = cutting.ends.len() - 1;
        let length = r.one_piece() + problem.half_scarf * (2 * (pieces as i64 - 1));
        let side = |side: usize| {
            let glued: Vec<Length> = problem
                .glued_on(cutting.row, side)
                .map(Glued::length)
                .collect();
            let loose = pieces.saturating_sub(glued.len()) as i64;
            ((length - glued.into_iter().sum()).max(Length::ZERO) + problem.saw * loose).mm()
        };
        (0..r.sides()).map(side).sum()
    }

    /// The ends of so many pieces of a course; `None` where what is glued does not allow them.
    fn ends(&mut self, row: usize, pieces: usize) -> Option<Vec<Lin>> {
        let problem = self.problem();
        let r = &problem.rows[row];
        let mut fixed = vec![None; pieces + 1];
        fixed[0] = Some(Length::ZERO);
        fixed[pieces] = Some(r.length);
        for glued in &problem.glued[row] {
            let ends = [
                (glued.index, glued.nominal.0),
                (glued.index + 1, glued.nominal.1),
            ];
            for (at, place) in ends {
                match fixed.get_mut(at)? {
                    Some(there) if *there != place => return None,
                    end => *end = Some(place),
                }
            }
        }
        let glued = |index: usize| problem.glued[row].iter().any(|glued| glued.index == index);
        let mut ends = Vec::new();
        for (i, place) in fixed.into_iter().enumerate() {
            let inner = i > 0 && i < pieces;
            let end = match place {
                Some(place) => {
                    if inner && !r.allows_joint(place) && !(glued(i - 1) && glued(i)) {
                        return None;
                    }
                    Lin::of(place.mm())
                }
                None => self.places.joint(&r.joint_windows)?,
            };
            if inner {
                self.keep_clear(row, &end);
            }
            ends.push(end);
        }
        Some(ends)
    }

    /// A joint keeps clear of the joints of near courses: those that lie, and those that were decided before.
    fn keep_clear(&mut self, row: usize, end: &Lin) {
        let problem = self.problem();
        let clear = problem.clear - 1e-6;
        let x = |row: usize, s: &Lin| {
            let r = &problem.rows[row];
            let (bow, stern) = (r.x(Length::ZERO), r.x(r.length));
            s.scaled((stern - bow) / r.length.mm().max(1e-6)).plus(bow)
        };
        let here = x(row, end);
        let mut others: Vec<Lin> = Vec::new();
        for &near in &problem.rows[row].near {
            others.extend(super::timber::joints(self.base.timber(near)).map(Lin::of));
            let decided = self.parts.iter().filter(|part| part.row == near);
            others.extend(
                decided
                    .filter(|part| part.from.value != 0.0 || !part.from.is_known())
                    .map(|part| x(near, &part.from)),
            );
            // Its joints that are glued are there even before it is decided.
            others.extend(problem.glued_joints(near).map(Lin::of));
        }
        for other in others {
            self.places.apart(&here, &other, clear);
        }
    }

    /// Gives wood to the pieces of a course from this one on.
    fn part(&mut self, cutting: &Cutting, index: usize) -> Option<Change> {
        if index + 1 == cutting.ends.len() {
            self.spent.push(self.takes(cutting));
            let found = self.course(cutting.at + 1);
            self.spent.pop();
            return found;
        }
        let problem = self.problem();
        let row = cutting.row;
        let r = &problem.rows[row];
        let (from, to) = (&cutting.ends[index], &cutting.ends[index + 1]);
        let glued = problem.glued[row].iter().find(|glued| glued.index == index);
        let length = match glued {
            Some(glued) => Lin::of(glued.length().mm()),
            None => {
                let last = index + 2 == cutting.ends.len();
                let ahead = if index == 0 {
                    r.allow[0]
                } else {
                    problem.half_scarf
                };
                let abaft = if last { r.allow[1] } else { problem.half_scarf };
                to.minus(from).plus((ahead + abaft).mm())
            }
        };
        let mark = self.places.mark();
        if cutting.is_joined() && glued.is_none() {
            let shortest = problem.shortest.mm();
            self.places.at_least(&to.minus(from).plus(-shortest));
        }
        let seats = Seats {
            problem,
            row,
            rooms: &self.rooms,
            places: &self.places,
            mirrored: r.mirrored,
            glued,
            length: &length,
            // Partly glued courses come first; while one is left, no two strips stand for each other.
            any_is_like_another: problem.glued[row].is_empty(),
            stop: self.stop,
        };
        let mut candidates = candidates(&seats);
        if (self.stop)() {
            self.patience = 0;
        }
        if let Some(rng) = &mut self.rng {
            candidates.shuffle(rng);
        }
        let looked_at = problem.woods.len() * (candidates.len() + 1);
        self.patience = self.patience.saturating_sub(looked_at);
        for candidate in candidates {
            if (self.stop)() {
                self.patience = 0;
            }
            if self.patience == 0 {
                break;
            }
            let within = self.places.mark();
            let cut = self.take(&candidate, &length);
            self.parts.push(Chosen {
                row,
                from: from.clone(),
                to: to.clone(),
                wood: candidate.wood,
                cut,
            });
            if self.enough_wood(cutting.at + 1)
                && self.places.hold(SLACK, &mut self.patience).is_some()
                && let Some(change) = self.part(cutting, index + 1)
            {
                return Some(change);
            }
            self.parts.pop();
            self.places.back_to(within);
        }
        self.places.back_to(mark);
        None
    }

    /// Takes the wood of a candidate; where each side is cut.
    fn take(&mut self, candidate: &Candidate, length: &Lin) -> [Lin; 2] {
        let mut cut = candidate.fixed.map(|s| Lin::of(s.map_or(0.0, Length::mm)));
        let mut together: Option<Lin> = None;
        for (side, seat) in candidate.seats.iter().enumerate() {
            let Some(room) = *seat else { continue };
            let start = match (candidate.fixed[side], &together) {
                (Some(at), _) => Lin::of(at.mm()),
                (None, Some(start)) => start.clone(),
                (None, None) => self.places.start(),
            };
            if candidate.as_one {
                together = Some(start.clone());
            }
            self.places.piece(
                candidate.wood[side],
                room,
                &start,
                length,
                self.problem().saw.mm(),
            );
            cut[side] = start;
        }
        cut
    }

    /// The way that was found, written down in whole nanometres and looked over again rule by rule.
    fn written(&mut self) -> Option<Change> {
        // With a margin where that can be, so that rounding breaks nothing.
        let values = [-MARGIN, 0.0]
            .into_iter()
            .find_map(|slack| self.places.hold(slack, &mut self.patience));
        let change = values.and_then(|values| self.laid(&values));
        self.unsure |= change.is_none();
        change
    }

    fn laid(&self, values: &[f64]) -> Option<Change> {
        let problem = self.problem();
        let at = |lin: &Lin| Length::from_mm(lin.at(values));
        let mut state = self.base.clone();
        let mut change = Change::new();
        for &row in &self.rows {
            let mut timber = Timber::new();
            for chosen in self.parts.iter().filter(|part| part.row == row) {
                let mut part = Part::between(problem, row, (at(&chosen.from), at(&chosen.to)));
                part.wood = chosen.wood;
                part.cut = [at(&chosen.cut[0]), at(&chosen.cut[1])];
                if let Some(&end) = problem.bow_ends(row, part.wood).first() {
                    part.bow = [end; 2];
                }
                let glued = problem.glued[row].iter();
                let glued = { glued }.find(|glued| glued.index == timber.len());
                if let Some(glued) = glued {
                    part = with_glued(problem, row, part, glued);
                }
                timber.push(part);
            }
            if !holds(&state, row, &timber) {
                return None;
            }
            state.lay(row, timber.clone());
            change.push((row, timber));
        }
        Some(change)
    }
}

/// The part with what is glued of it as it is glued, and its mate as a mate of one board can lie.
fn with_glued(problem: &Problem, row: usize, part: Part, glued: &Glued) -> Part {
    let mut part = part.as_glued(problem, row, glued);
    if part.book_matched(problem) {
        for side in 0..2 {
            if let (Some(fixed), None) = (&glued.sides[side], &glued.sides[1 - side]) {
                part.bow[1 - side] = fixed.bow;
            }
        }
    }
    part
}
