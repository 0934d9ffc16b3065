//! Which wood a piece may be cut from: one choice of each kind, where strips are as good as each other.

use super::places::{Lin, Places};
use crate::solve::problem::{Glued, NONE, Problem, Span};
use crate::solve::rack::Room;
use crate::solve::tuning::places::SLACK;
use crate::units::Length;
use std::collections::BTreeSet;

/// What is to be known to choose the wood of a piece.
pub struct Seats<'a> {
    pub problem: &'a Problem,
    /// Room on each strip before any of it was decided.
    pub rooms: &'a [Room],
    /// What was decided so far.
    pub places: &'a Places,
    /// The course.
    pub row: usize,
    /// Whether the piece lies on both sides.
    pub mirrored: bool,
    /// What is glued of it.
    pub glued: Option<&'a Glued>,
    /// Its length.
    pub length: &'a Lin,
    /// Whether a strip stands for all that are like it.
    pub any_is_like_another: bool,
    /// Where it says yes, not all wood is looked at any more.
    pub stop: &'a dyn Fn() -> bool,
}

/// Wood for a piece.
#[derive(Clone, Copy, Debug)]
pub struct Candidate {
    pub wood: [u32; 2],
    /// The room that each side is cut from; `None` where nothing is to be cut.
    pub seats: [Option<Span>; 2],
    /// Where it must be cut.
    pub fixed: [Option<Length>; 2],
    /// Whether both sides are cut at one place, being mates of one board.
    pub as_one: bool,
}

/// Everything that makes untouched strips as good as each other: their room, the wants for them, and their board, or
/// what is in it.
type Kind<'a> = ((&'a Room, u32), Option<u32>, Vec<(&'a Room, u32)>);

/// All wood that the piece could be cut from.
pub fn candidates(seats: &Seats<'_>) -> Vec<Candidate> {
    let none = Candidate {
        wood: [NONE; 2],
        seats: [None; 2],
        fixed: [None; 2],
        as_one: false,
    };
    match seats.glued {
        Some(glued) if glued.is_whole(seats.mirrored) => vec![Candidate {
            wood: glued.strips(),
            ..none
        }],
        Some(glued) => mates_of_glued(seats, glued),
        None if !seats.mirrored => {
            let single = |(strip, room)| Candidate {
                wood: [strip, NONE],
                seats: [Some(room), None],
                ..none
            };
            let all = seats.of_each_kind(None).into_iter().map(single);
            all.filter(|one| seats.problem.allowed.wood(seats.row, one.wood))
                .collect()
        }
        None => pairs(seats),
    }
}

fn pairs(seats: &Seats<'_>) -> Vec<Candidate> {
    let mut all = Vec::new();
    for (one, room) in seats.of_each_kind(None) {
        if (seats.stop)() {
            break;
        }
        for (other, its_room) in seats.of_each_kind(Some(one)) {
            let as_one = seats.problem.one_board(one, other);
            // Which of two goes to port makes no difference here.
            if other < one
                || (as_one && !seats.fits(room.0.max(its_room.0), room.1.min(its_room.1)))
            {
                continue;
            }
            let mut candidate = Candidate {
                wood: [one, other],
                seats: [Some(room), Some(its_room)],
                fixed: [None; 2],
                as_one,
            };
            // Unless a want says so.
            if !seats.problem.allowed.wood(seats.row, candidate.wood) {
                candidate.wood.reverse();
                candidate.seats.reverse();
            }
            if seats.problem.allowed.wood(seats.row, candidate.wood) {
                all.push(candidate);
            }
        }
    }
    // First what hangs together least: wood that can be cut anywhere.
    all.sort_by_key(|candidate| candidate.as_one);
    all
}

/// The wood that can lie opposite a piece that is glued on.
fn mates_of_glued(seats: &Seats<'_>, glued: &Glued) -> Vec<Candidate> {
    let problem = seats.problem;
    let (free, fixed) = match glued.sides {
        [Some(fixed), None] => (1, fixed),
        [None, Some(fixed)] => (0, fixed),
        _ => return Vec::new(),
    };
    let mut all = Vec::new();
    for (strip, room) in seats.of_each_kind(None) {
        if strip == fixed.strip || !problem.allowed.on(seats.row, free, strip) {
            continue;
        }
        let mut wood = [fixed.strip; 2];
        wood[free] = strip;
        let mut at = [Some(fixed.cut); 2];
        if problem.one_board(wood[0], wood[1]) {
            if !problem.opens(wood, 1 - free, &fixed) {
                continue;
            }
        } else {
            at[free] = None;
        }
        let mut rooms = [None; 2];
        rooms[free] = Some(room);
        all.push(Candidate {
            wood,
            seats: rooms,
            fixed: at,
            as_one: false,
        });
    }
    all
}

impl Seats<'_> {
    /// Whether the piece could fit between two places of a strip.
    fn fits(&self, from: Length, to: Length) -> bool {
        self.places.least(self.length) <= (to - from).mm() + SLACK
    }

    /// Room that the piece could fit into, on a strip of each kind, once one strip is taken.
    fn of_each_kind(&self, taken: Option<u32>) -> Vec<(u32, Span)> {
        let least = self.places.least(self.length);
        let mut kinds: BTreeSet<Kind<'_>> = BTreeSet::new();
        let mut found = Vec::new();
        for strip in 0..self.problem.woods.len() as u32 {
            if taken == Some(strip) {
                continue;
            }
            let room = &self.rooms[strip as usize];
            let fit = room.iter().copied().filter(|&(from, to)| {
                least + self.places.least_taken(strip, (from, to)) <= (to - from).mm() + SLACK
            });
            let fit: Vec<Span> = fit.collect();
            if fit.is_empty() {
                continue;
            }
            let like_one_before = self.any_is_like_another
                && !self.places.is_touched(strip)
                && !kinds.insert(self.kind(strip, taken));
            if !like_one_before {
                found.extend(fit.into_iter().map(|room| (strip, room)));
            }
        }
        found
    }

    fn kind(&self, strip: u32, taken: Option<u32>) -> Kind<'_> {
        let board = self.problem.woods[strip as usize].board;
        let of_board = || {
            let mates = self.problem.mates[strip as usize].iter().copied();
            std::iter::once(strip).chain(mates)
        };
        let room = |strip: u32| {
            (
                &self.rooms[strip as usize],
                self.problem.allowed.like(strip),
            )
        };
        if of_board().any(|s| taken == Some(s) || self.places.is_touched(s)) {
            return (room(strip), Some(board), Vec::new());
        }
        let mut rooms: Vec<(&Room, u32)> = of_board().map(room).collect();
        rooms.sort();
        (room(strip), None, rooms)
    }
}
