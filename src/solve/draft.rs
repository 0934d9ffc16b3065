//! A change in the making: some parts lifted off their courses, others seated in their stead. The state itself is not
//! touched; where a draft comes to nothing it is dropped.

use super::claims::Claims;
use super::price::Beside;
use super::problem::{NONE, Problem, Span};
use super::rack::{Room, common, has_room, longest};
use super::seat::Seating;
use super::state::{Change, NearJoints, State};
use super::timber::{Part, Timber, joints, swapped};
use crate::solve::tuning::draft::STILL_OPEN;
use crate::units::Length;
use smallvec::SmallVec;

/// A stretch of a course with the wood for it.
#[derive(Clone, Copy, Debug)]
pub struct Stretch {
    /// Nominal ends on the skin.
    pub ends: Span,
    /// The strips, port first.
    pub wood: [u32; 2],
}

/// A change in the making.
#[derive(Clone)]
pub struct Draft<'s, 'p> {
    /// The state that it would change.
    pub state: &'s State<'p>,
    change: Change,
    claims: Claims,
    /// By how much the change may cost more than it saves: dearer ones come to nothing. Unit: ΔE00·metre.
    ceiling: f64,
}

impl<'s, 'p> Draft<'s, 'p> {
    /// A draft that changes nothing yet.
    pub fn new(state: &'s State<'p>) -> Draft<'s, 'p> {
        Draft::within(state, f64::INFINITY)
    }

    /// The same, for a change that may cost so much more than it saves. Unit of `ceiling`: ΔE00·metre.
    pub fn within(state: &'s State<'p>, ceiling: f64) -> Draft<'s, 'p> {
        Draft {
            state,
            change: Change::new(),
            claims: Claims::none(state.problem.rows.len()),
            ceiling,
        }
    }

    /// What an open course may cost at most for the change to stay within its ceiling. Courses that are still open
    /// besides are taken to cost a part of what they cost now; where a course is open in the plan itself, there is no
    /// limit.
    pub fn cut_off(&self, row: usize) -> f64 {
        if self.ceiling == f64::INFINITY || !self.state.is_covered() {
            return f64::INFINITY;
        }
        let others = self.change.iter().filter(|(other, _)| *other != row);
        let open = others.filter(|(_, timber)| timber.is_empty());
        let now: f64 = open.map(|(other, _)| self.state.share(*other)).sum();
        self.ceiling - self.state.price_of_laid(&self.change) - STILL_OPEN * now
    }

    /// By how much the cost would change.
    pub fn price(&self) -> f64 {
        self.state.price(&self.change)
    }

    /// The problem.
    pub fn problem(&self) -> &'p Problem {
        self.state.problem
    }

    /// Lifts everything off a course.
    pub fn strip(&mut self, row: usize) {
        self.lift(row, |_| true);
    }

    /// Lifts the parts off a course that the choice names, by their number from the bow.
    pub fn lift(&mut self, row: usize, choice: impl Fn(usize) -> bool) {
        debug_assert!(!self.claims.has_lifted(row), "a course is lifted once");
        let mut kept = Timber::new();
        for (i, part) in self.state.timber(row).iter().enumerate() {
            if !choice(i) {
                self.claims.take(part);
                kept.push(*part);
            }
        }
        self.claims.lift(row);
        self.change.push((row, kept));
    }

    /// The seams of a course with the timber beside it, as it would be.
    pub fn beside(&self, row: usize) -> Beside<'_> {
        self.state.beside(row, &self.change)
    }

    /// The joints of the courses near one, as they would be.
    pub fn near_joints(&self, row: usize) -> NearJoints {
        self.state.near_joints(row, &self.change)
    }

    /// Room that the wood would have: on both strips at one place for a pair of one board, on the first alone
    /// otherwise.
    pub fn room(&self, wood: [u32; 2]) -> Room {
        let one = self.room_on(wood[0]);
        if wood[1] != NONE && self.problem().one_board(wood[0], wood[1]) {
            common(&one, &self.room_on(wood[1]))
        } else {
            one
        }
    }

    fn room_on(&self, strip: u32) -> Room {
        let rack = self.state.rack();
        rack.room_beside(self.problem(), strip, &self.claims)
    }

    /// Mates of a strip with so much room at the same place as it, the nearest in the board first.
    pub fn mates(&self, strip: u32, length: Length) -> impl Iterator<Item = u32> {
        let room = self.room_on(strip);
        // No mate has room where the strip itself has none.
        let mates = match longest(&room) >= length {
            true => &self.problem().mates[strip as usize][..],
            false => &[],
        };
        let fits = move |mate: &u32| longest(&common(&room, &self.room_on(*mate))) >= length;
        mates.iter().copied().filter(fits)
    }

    /// How many of the strips would be cut into for the first time.
    pub fn whole(&self, wood: [u32; 2]) -> usize {
        let rack = self.state.rack();
        let is_whole = |&strip: &u32| strip != NONE && rack.is_whole_beside(strip, &self.claims);
        wood.iter().filter(|strip| is_whole(strip)).count()
    }

    /// The timber of a course, as it would be.
    pub fn timber(&self, row: usize) -> &[Part] {
        self.change
            .iter()
            .find(|(changed, _)| *changed == row)
            .map_or(self.state.timber(row), |(_, timber)| timber)
    }

    /// Seats a part of a course on some wood; `None` where there is no room.
    pub fn seat(&self, row: usize, part: &Part, wood: [u32; 2]) -> Option<Part> {
        seating(self.state, &self.claims).seat(row, part, wood, &self.beside(row))
    }

    /// Lays a seated part on a course that was lifted.
    pub fn place(&mut self, row: usize, part: Part) {
        self.claims.take(&part);
        self.insert(row, part);
    }

    /// Lays parts that are cut already on a course that was lifted whole, or none: `false` where a joint is in the way
    /// or the wood is not there.
    pub fn place_all(&mut self, row: usize, parts: &[Part]) -> bool {
        let near = self.near_joints(row);
        if !joints(parts).all(|x| near.are_clear_of(x)) {
            return false;
        }
        let before = self.claims.count();
        for part in parts {
            if !self.problem().allowed.wood(row, part.wood)
                || !has_room(&self.room(part.wood), part.span(0))
            {
                self.claims.give_back(before);
                return false;
            }
            self.claims.take(part);
        }
        parts.iter().for_each(|part| self.insert(row, *part));
        true
    }

    fn insert(&mut self, row: usize, part: Part) {
        if let Some((_, timber)) = self.change.iter_mut().find(|(changed, _)| *changed == row) {
            let at = timber
                .iter()
                .position(|other| other.from > part.from)
                .unwrap_or(timber.len());
            timber.insert(at, part);
        }
    }

    /// Seats a part and lays it in one go; `false` where there is no room.
    pub fn put(&mut self, row: usize, part: &Part, wood: [u32; 2]) -> bool {
        match self.seat(row, part, wood) {
            Some(seated) => {
                self.place(row, seated);
                true
            }
            None => false,
        }
    }

    /// Lays what lay on some course on another, with its joints at the same distance from the bow end; `false` where
    /// the other course has no place for them, or the wood is too short. With `turn`, mates change sides.
    pub fn carry(&mut self, row: usize, timber: &[Part], turn: bool) -> bool {
        let problem = self.problem();
        let r = &problem.rows[row];
        let mut from = Length::ZERO;
        let mut stretches: SmallVec<[Stretch; 4]> = SmallVec::new();
        let near = match timber.len() {
            0 | 1 => None,
            _ => Some(self.near_joints(row)),
        };
        for (i, part) in timber.iter().enumerate() {
            let joint = timber.get(i + 1).map(|next| next.from + problem.half_scarf);
            let to = joint.unwrap_or(r.length);
            let clear = |s: Length| near.as_ref().is_none_or(|near| near.are_clear_of(r.x(s)));
            let allowed = |s: Length| r.allows_joint(s) && clear(s);
            if joint.is_some_and(|joint| !allowed(joint))
                || (timber.len() > 1 && to - from < problem.shortest)
            {
                return false;
            }
            let wood = if turn { swapped(part.wood) } else { part.wood };
            let ends = (from, to);
            stretches.push(Stretch { ends, wood });
            from = to;
        }
        self.put_all(row, &stretches).is_ok()
    }

    /// Seats a course's stretches one after the other and lays them all, or none and names the wood that finds no room.
    pub fn put_all(&mut self, row: usize, stretches: &[Stretch]) -> Result<(), [u32; 2]> {
        let before = self.claims.count();
        match self.seat_all(row, stretches) {
            Ok(seated) => {
                seated.into_iter().for_each(|part| self.insert(row, part));
                Ok(())
            }
            Err(wood) => {
                self.claims.give_back(before);
                Err(wood)
            }
        }
    }

    fn seat_all(&mut self, row: usize, stretches: &[Stretch]) -> Result<Timber, [u32; 2]> {
        let beside = self.state.beside(row, &self.change);
        let mut seated = Timber::new();
        for stretch in stretches {
            let part = Part::between(self.state.problem, row, stretch.ends);
            let seating = seating(self.state, &self.claims);
            let part = seating.seat(row, &part, stretch.wood, &beside);
            let part = part.ok_or(stretch.wood)?;
            self.claims.take(&part);
            seated.push(part);
        }
        Ok(seated)
    }

    /// The change, ready to be made.
    pub fn finish(self) -> Change {
        self.change
    }
}

fn seating<'a>(state: &'a State, claims: &'a Claims) -> Seating<'a> {
    Seating {
        problem: state.problem,
        rack: state.rack(),
        claims,
    }
}
