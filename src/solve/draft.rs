//! A change in the making: some parts lifted off their courses, others seated in their stead. The state itself is not
//! touched; where a draft comes to nothing it is dropped.

use super::price::Beside;
use super::problem::{NONE, Problem};
use super::rack::{Room, longest};
use super::seat::Seating;
use super::state::{Change, State};
use super::timber::{Part, Timber, swapped};
use smallvec::SmallVec;

/// A stretch of a course with the wood for it.
#[derive(Clone, Copy, Debug)]
pub struct Stretch {
    /// Nominal ends on the skin. Unit: nm.
    pub from: i64,
    /// See `from`.
    pub to: i64,
    /// The strips, port first.
    pub wood: [u32; 2],
}

/// A change in the making.
pub struct Draft<'s, 'p> {
    /// The state that it would change.
    pub state: &'s State<'p>,
    change: Change,
    open: SmallVec<[usize; 8]>,
    besides: SmallVec<[(u32, i64, i64); 16]>,
}

impl<'s, 'p> Draft<'s, 'p> {
    /// A draft that changes nothing yet.
    pub fn new(state: &'s State<'p>) -> Draft<'s, 'p> {
        Draft {
            state,
            change: Change::new(),
            open: SmallVec::new(),
            besides: SmallVec::new(),
        }
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
        debug_assert!(!self.open.contains(&row), "a course is lifted once");
        let mut kept = Timber::new();
        for (i, part) in self.state.timber(row).iter().enumerate() {
            if !choice(i) {
                self.besides.extend(part.takes());
                kept.push(*part);
            }
        }
        self.open.push(row);
        self.change.push((row, kept));
    }

    /// The seams of a course with the timber beside it, as it would be.
    pub fn beside(&self, row: usize) -> Beside<'_> {
        self.state.beside(row, &self.change)
    }

    /// Whether a joint there would keep clear of near courses' joints. Unit of `x`: mm along the boat.
    pub fn staggered(&self, row: usize, x: f64) -> bool {
        self.state.staggered(row, x, &self.change)
    }

    /// Room that the wood would have: on both strips at one place for a pair of one board, on the first alone otherwise.
    pub fn room(&self, wood: [u32; 2]) -> Room {
        if wood[1] != NONE && self.problem().one_board(wood[0], wood[1]) {
            self.state
                .rack()
                .room_on_both(self.problem(), wood, &self.open, &self.besides)
        } else {
            self.state
                .rack()
                .room(self.problem(), wood[0], &self.open, &self.besides)
        }
    }

    /// Mates of a strip with so much room at the same place as it, the nearest in the board first. Unit of `length`: nm.
    pub fn mates(&self, strip: u32, length: i64) -> impl Iterator<Item = u32> {
        let mates = self.problem().mates[strip as usize].iter().copied();
        mates.filter(move |&mate| longest(&self.room([strip, mate])) >= length)
    }

    /// How many of the strips would be cut into for the first time.
    pub fn whole(&self, wood: [u32; 2]) -> usize {
        let is_whole = |strip: u32| {
            strip != NONE
                && self.state.rack().pieces_beside(strip, &self.open) == 0
                && self.besides.iter().all(|b| b.0 != strip)
        };
        wood.into_iter().filter(|&strip| is_whole(strip)).count()
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
        self.seat_beside(row, part, wood, &[])
    }

    /// The same, with some stretches of strip taken besides.
    pub fn seat_beside(
        &self,
        row: usize,
        part: &Part,
        wood: [u32; 2],
        taken: &[(u32, i64, i64)],
    ) -> Option<Part> {
        let beside = self.beside(row);
        let mut besides = self.besides.clone();
        besides.extend_from_slice(taken);
        let seating = Seating {
            problem: self.problem(),
            rack: self.state.rack(),
            open: &self.open,
            besides: &besides,
        };
        seating.seat(row, part, wood, &beside)
    }

    /// Lays a seated part on a course that was lifted.
    pub fn place(&mut self, row: usize, part: Part) {
        self.besides.extend(part.takes());
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

    /// Lays what lay on some course on another, with its joints at the same distance from the bow end; `false` where the
    /// other course has no place for them, or the wood is too short. With `turn`, mates change sides.
    pub fn carry(&mut self, row: usize, timber: &[Part], turn: bool) -> bool {
        let problem = self.problem();
        let r = &problem.rows[row];
        let mut from = 0;
        let mut stretches: SmallVec<[Stretch; 4]> = SmallVec::new();
        for (i, part) in timber.iter().enumerate() {
            let joint = timber.get(i + 1).map(|next| next.from + problem.half_scarf);
            let to = joint.unwrap_or(r.length);
            let allowed = |s: i64| r.allows_joint(s) && self.staggered(row, r.x(s));
            if joint.is_some_and(|joint| !allowed(joint))
                || (timber.len() > 1 && to - from < problem.shortest)
            {
                return false;
            }
            let wood = if turn { swapped(part.wood) } else { part.wood };
            stretches.push(Stretch { from, to, wood });
            from = to;
        }
        self.put_all(row, &stretches).is_ok()
    }

    /// Seats a course's stretches one after the other and lays them all, or none and names the wood that finds no room.
    pub fn put_all(&mut self, row: usize, stretches: &[Stretch]) -> Result<(), [u32; 2]> {
        let mut seated = Timber::new();
        for stretch in stretches {
            let part = Part::between(self.problem(), row, stretch.from, stretch.to);
            let taken: SmallVec<[(u32, i64, i64); 8]> =
                seated.iter().flat_map(Part::takes).collect();
            let found = self.seat_beside(row, &part, stretch.wood, &taken);
            seated.push(found.ok_or(stretch.wood)?);
        }
        seated.into_iter().for_each(|part| self.place(row, part));
        Ok(())
    }

    /// The change, ready to be made.
    pub fn finish(self) -> Change {
        self.change
    }
}
