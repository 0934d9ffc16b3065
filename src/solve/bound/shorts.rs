//! What a path remembers of short courses: how much room is left on strips that serve some.
//!
//! Room is told only as far as it matters for the short courses that are still to come: two paths that leave room for
//! the same of them are in the same state.

use super::bits::Bits;
use super::labelling::Direction;
use super::layers::LayeredGraph;
use super::pairs::{Pair, Pairs};
use super::sharing::Sharing;

/// Most short courses of a graph that are remembered.
const MOST_COURSES: usize = 6;
/// Most strips that are: two for each course.
const MOST_STRIPS: usize = 2 * MOST_COURSES;

/// Strips with less room than a whole one, in order, each with what it has: so many of the lengths that could still be
/// asked for. A strip and its room make one number.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct ShortUse([u32; MOST_STRIPS]);

impl ShortUse {
    /// Every strip is whole.
    pub const NOTHING: ShortUse = ShortUse([u32::MAX; MOST_STRIPS]);

    fn each(&self) -> impl Iterator<Item = (u32, usize)> + '_ {
        let used = self.0.iter().take_while(|one| **one != u32::MAX);
        used.map(|one| (one >> 16, (one & 0xffff) as usize))
    }

    /// The room of a strip that has less than a whole one.
    fn of(&self, strip: u32) -> Option<usize> {
        self.each().find(|one| one.0 == strip).map(|one| one.1)
    }

    /// Of strips with their room, in any order; what there is no place for is forgotten.
    fn from_each(each: impl Iterator<Item = (u32, usize)>) -> ShortUse {
        let mut used = ShortUse::NOTHING;
        let mut count = 0;
        for (place, (strip, room)) in used.0.iter_mut().zip(each) {
            *place = strip << 16 | room as u32;
            count += 1;
        }
        used.0[..count].sort_unstable();
        used
    }

    /// Whether every strip has as much room at least as in another.
    pub fn is_within(&self, other: &ShortUse) -> bool {
        let mut each = self.each();
        each.all(|(strip, room)| other.of(strip).is_some_and(|less| less <= room))
    }

    /// A bit for each strip, or for several: where one is missing in another, this is not within it.
    pub fn strips(&self) -> u64 {
        self.each()
            .fold(0, |all, (strip, _)| all | 1 << (strip % 64))
    }
}

/// The short courses of a graph.
pub struct Shorts {
    /// By layer.
    short: Vec<bool>,
    /// As passes meet them, down and up.
    orders: [Order; 2],
    /// By strip. Unit: nm.
    room: Vec<i64>,
    /// By strip.
    slot: Vec<Bits>,
    /// The way in which they come first.
    pub first: Direction,
    /// Whether every long course needs a strip for itself.
    pub apart: bool,
}

/// The short courses in the order in which a pass meets them.
struct Order {
    /// By layer, how many it has met before.
    place: Vec<usize>,
    /// What each needs of a strip; nothing where that is not remembered. Unit: nm.
    need: Vec<i64>,
    /// All lengths that each and those after it could ask of one strip, in order. Unit: nm.
    lengths: Vec<Vec<i64>>,
}

impl Order {
    fn new(sharing: &Sharing, graph: &LayeredGraph, layers: impl Iterator<Item = usize>) -> Order {
        let mut place = vec![0; graph.layers.len()];
        let mut need = Vec::new();
        for l in layers {
            let layer = &graph.layers[l];
            place[l] = need.len();
            if !layer.long {
                let is_remembered = need.len() < MOST_COURSES;
                need.push(match is_remembered {
                    true => sharing.need(layer.row),
                    false => 0,
                });
            }
        }
        let mut lengths = vec![vec![0]; need.len() + 1];
        for at in (0..need.len()).rev() {
            let with = lengths[at + 1].iter().map(|length| length + need[at]);
            let mut all: Vec<i64> = lengths[at + 1].iter().copied().chain(with).collect();
            all.sort_unstable();
            all.dedup();
            lengths[at] = all;
        }
        Order {
            place,
            need,
            lengths,
        }
    }
}

impl Shorts {
    /// The short courses of a graph.
    pub fn of(sharing: &Sharing, pairs: &Pairs, graph: &LayeredGraph) -> Shorts {
        let all = 0..graph.layers.len();
        let short: Vec<bool> = graph.layers.iter().map(|layer| !layer.long).collect();
        Shorts {
            first: match short.last() {
                Some(true) => Direction::Up,
                _ => Direction::Down,
            },
            short,
            orders: [
                Order::new(sharing, graph, all.clone()),
                Order::new(sharing, graph, all.rev()),
            ],
            room: sharing.room().to_vec(),
            slot: slots(pairs, sharing.room().len()),
            apart: sharing.apart,
        }
    }

    /// Whether a layer is a short course.
    pub fn is_short(&self, layer: usize) -> bool {
        self.short[layer]
    }

    /// What is used of some boards, by their slots.
    pub fn of_boards(&self, used: &ShortUse, boards: &Bits) -> ShortUse {
        let in_them = |strip: u32| self.slot[strip as usize].within(boards);
        ShortUse::from_each(used.each().filter(|one| in_them(one.0)))
    }

    /// How many strips of a board are used once a pair serves some course too.
    pub fn taken(&self, used: &ShortUse, pair: &Pair, board: &Bits) -> u32 {
        let all = used
            .each()
            .map(|one| one.0)
            .filter(|strip| !pair.wood.contains(strip));
        let all = all.chain(pair.strips());
        all.filter(|&strip| self.slot[strip as usize].within(board))
            .count() as u32
    }

    /// What is used once a pair serves the layers from one to another of a pass too, which it can.
    pub fn with(
        &self,
        used: &ShortUse,
        pair: &Pair,
        way: Direction,
        layers: [usize; 2],
    ) -> ShortUse {
        let (order, from, to) = self.places(layers, way);
        let need: i64 = order.need[from..to].iter().sum();
        let rank = |room: i64| order.lengths[to].partition_point(|length| *length <= room);
        let others = used.each().filter(|one| !pair.wood.contains(&one.0));
        let others = others.map(|(strip, left)| (strip, order.lengths[from][left - 1]));
        let left = |strip: u32| match used.of(strip) {
            Some(left) => order.lengths[from][left - 1] - need,
            None => self.room[strip as usize] - need,
        };
        let new = pair.strips().map(|strip| (strip, left(strip)));
        let all = others.chain(new).map(|(strip, left)| (strip, rank(left)));
        ShortUse::from_each(all.filter(|one| one.1 < rank(self.room[one.0 as usize])))
    }

    /// Whether a pair can serve those layers too, which it could if nothing else were cut from it.
    pub fn fit(&self, used: &ShortUse, pair: &Pair, way: Direction, layers: [usize; 2]) -> bool {
        let (order, from, to) = self.places(layers, way);
        let need: i64 = order.need[from..to].iter().sum();
        let mut left = pair.strips().filter_map(|strip| used.of(strip));
        left.all(|left| need <= order.lengths[from][left - 1])
    }

    /// The places of short layers in the order of a pass: from, and one past the last.
    fn places(&self, [from, to]: [usize; 2], way: Direction) -> (&Order, usize, usize) {
        let order = &self.orders[usize::from(way == Direction::Up)];
        (order, order.place[from], order.place[to] + 1)
    }
}

/// The slot of each strip.
fn slots(pairs: &Pairs, strips: usize) -> Vec<Bits> {
    let mut slots = vec![Bits::NONE; strips];
    for board in &pairs.boards {
        for (slice, &strip) in (0..).zip(&board.strips) {
            slots[strip as usize] = Bits::placed(board.first, 1 << slice);
        }
    }
    slots
}
