//! Wood with a stretch of room on it, as it is offered to a course.

use super::super::draft::Draft;
use super::super::problem::{NONE, Problem, Span};
use super::super::rack::longest;
use super::super::relabel::price_of_stretch;
use super::super::timber::swapped;
use super::glued_on;
use crate::units::Length;
use smallvec::SmallVec;

/// Some wood with one stretch of room on it.
#[derive(Clone, Copy, Debug)]
pub struct Offer {
    /// The strips, port first.
    pub wood: [u32; 2],
    /// The longest piece that can be cut there.
    pub room: Length,
    /// Strips that would be cut into for the first time.
    pub whole: usize,
    /// The part of the course that this wood is glued on, of those that are: it serves nowhere else.
    pub only: Option<usize>,
}

/// The longest pieces that can be cut from some wood, and how many of its strips are whole.
type Stock = (SmallVec<[Length; 4]>, usize);

impl Offer {
    /// The offers for some wood, without those that have no room at all.
    pub fn all(draft: &Draft, row: usize, wood: &[[u32; 2]]) -> Vec<Offer> {
        let mirrored = draft.problem().rows[row].mirrored;
        let allowed = &draft.problem().allowed;
        let fits = |wood: &&[u32; 2]| (wood[1] != NONE) == mirrored && allowed.wood(row, **wood);
        let mut offers = Vec::with_capacity(wood.len());
        let mut last: Option<([u32; 2], Stock)> = None;
        for &wood in wood.iter().filter(fits) {
            // Mostly each pair is offered both ways round, one after the other.
            let stock = match last.take() {
                Some((other, stock)) if other == swapped(wood) => stock,
                _ => stock(draft, wood),
            };
            let (rooms, whole) = &stock;
            let rooms = rooms.iter().filter(|room| **room > Length::ZERO);
            offers.extend(rooms.map(|&room| Offer {
                wood,
                room,
                whole: *whole,
                only: None,
            }));
            last = Some((wood, stock));
        }
        offers.extend(glued_on::offers(draft, row));
        offers
    }

    /// What new labels it would cost between two nominal places of a course, as far as strips and ends tell; none where
    /// it is glued on already.
    #[inline]
    pub fn labels(&self, problem: &Problem, row: usize, ends: Span) -> f64 {
        match problem.labels.is_empty() || self.only.is_some() {
            true => 0.0,
            false => price_of_stretch(problem, row, self.wood, ends),
        }
    }

    /// What is glued on a course as part `only` of those that are, with a mate for it where it has none yet.
    pub(super) fn glued(wood: [u32; 2], only: usize, whole: usize) -> Offer {
        Offer {
            wood,
            room: Length::MOST,
            whole,
            only: Some(only),
        }
    }
}

fn stock(draft: &Draft, wood: [u32; 2]) -> Stock {
    let room = draft.room(wood);
    let mut rooms: SmallVec<[Length; 4]> = room.iter().map(|&(a, b)| b - a).collect();
    rooms.sort_unstable_by_key(|room| std::cmp::Reverse(*room));
    // The two longest: enough to scarf a strip to itself where a defect was cut out.
    rooms.truncate(2);
    if wood[1] != NONE && !draft.problem().one_board(wood[0], wood[1]) {
        rooms.truncate(1);
        let other = longest(&draft.room([wood[1], NONE]));
        rooms.iter_mut().for_each(|room| *room = other.min(*room));
    }
    (rooms, draft.whole(wood))
}
