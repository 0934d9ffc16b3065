//! What a path remembers of short courses: how much room is left on strips that serve some.
//!
//! Room is told only as far as it matters for the short courses that are still to come: two paths that leave room for
//! the same of them are in the same state.

use super::classes::Classes;
use super::dual::DualState;
use super::labelling::Direction;
use super::layers::{Layer, LayeredGraph};
use super::pairs::{Board, Pair, Pairs};
use super::sharing::Sharing;
use crate::solve::problem::NONE;

/// Most short courses of a graph that are remembered.
pub const MOST_COURSES: usize = 6;
/// Numbers from here on stand for some strip of a board.
const UNKNOWN: u32 = 1 << 12;
/// Most strips that are: two for each course.
const MOST_STRIPS: usize = 2 * MOST_COURSES;

/// Strips that serve some, in order, each with the room left on it: so many of the lengths that could still be asked
/// for.
/// A strip and its room make one number.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct ShortUse([u32; MOST_STRIPS]);

impl ShortUse {
    /// No strip serves any.
    pub const NOTHING: ShortUse = ShortUse([u32::MAX; MOST_STRIPS]);

    /// Each strip that serves some, and its room.
    pub fn each(&self) -> impl Iterator<Item = (u32, usize)> + '_ {
        let used = self.0.iter().take_while(|one| **one != u32::MAX);
        used.map(|one| (one >> 16, (one & 0xffff) as usize))
    }

    /// How many strips serve some.
    pub fn count(&self) -> u32 {
        self.each().count() as u32
    }

    /// The room of a strip that serves some.
    pub fn of(&self, strip: u32) -> Option<usize> {
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

    /// The same where the courses that boards serve are remembered: whether each board serves no others than in
    /// another.
    pub fn is_part_of(&self, other: &ShortUse) -> bool {
        let mut each = self.each();
        each.all(|(board, courses)| other.of(board).is_some_and(|more| courses & !more == 0))
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
    board: Vec<usize>,
    /// The way in which they come first.
    pub first: Direction,
    /// By courses, a bit for each from the first on: how many strips they need at least.
    strips: Vec<u32>,
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
            board: boards(pairs, sharing.room().len()),
            strips: strips(sharing, graph),
            apart: sharing.apart,
        }
    }

    /// Whether a layer is a short course.
    pub fn is_short(&self, layer: usize) -> bool {
        self.short[layer]
    }

    /// The place of a layer in the order of a pass.
    pub fn place(&self, layer: usize, way: Direction) -> usize {
        self.orders[usize::from(way == Direction::Up)].place[layer]
    }

    /// Whether a pass comes to short courses on a layer or after it.
    pub fn come_from(&self, layer: usize, way: Direction) -> bool {
        self.place(layer, way) < self.count()
    }

    /// The strips of a board that are used, without their room.
    pub fn slices_of(&self, used: &ShortUse, board: usize) -> ShortUse {
        let known = used
            .each()
            .map(|one| one.0)
            .filter(|&strip| strip < UNKNOWN);
        let of_board = known.filter(|&strip| self.board[strip as usize] == board);
        ShortUse::from_each(of_board.map(|strip| (strip, 1)))
    }

    /// How many strips of a board are used.
    pub fn strips_of(&self, used: &ShortUse, board: usize) -> u32 {
        let of_board = |one: u32| match one.checked_sub(UNKNOWN) {
            Some(other) => other as usize == board,
            None => self.board[one as usize] == board,
        };
        used.each().filter(|one| of_board(one.0)).count() as u32
    }

    /// How many strips of a board the courses that it serves need at least, where those are remembered board by board.
    pub fn strips_for(&self, used: &ShortUse, board: usize) -> u32 {
        used.of(board as u32)
            .map_or(0, |courses| self.strips[courses])
    }

    /// What boards serve once a pair serves the layers from one to another of a pass too: by course a bit where it
    /// serves a side, and one where it serves both.
    pub fn with_board(&self, used: &ShortUse, pair: &Pair, [one, other]: [usize; 2]) -> ShortUse {
        let (_, from, to) = self.places([one.min(other), one.max(other)], Direction::Down);
        let new = (from..to).fold(0, |all, course| all | 1 << course);
        let both = |board: usize| pair.sides[0] == pair.sides[1] && pair.sides[0] == board;
        let others = used
            .each()
            .filter(|one| !pair.sides.contains(&(one.0 as usize)));
        let sides = [
            Some(pair.sides[0]),
            Some(pair.sides[1]).filter(|board| *board != pair.sides[0]),
        ];
        let with = sides.into_iter().flatten().map(|board| {
            let new = if both(board) {
                new | new << MOST_COURSES
            } else {
                new
            };
            (board as u32, new | used.of(board as u32).unwrap_or(0))
        });
        ShortUse::from_each(others.chain(with))
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
        let others = others.map(|(strip, left)| match strip < UNKNOWN {
            true => (strip, rank(order.lengths[from][left - 1])),
            false => (strip, left),
        });
        let left = |strip: u32| match used.of(strip) {
            Some(left) => order.lengths[from][left - 1] - need,
            None => self.room[strip as usize] - need,
        };
        let opened = self.opened(used, pair, way, layers).map(|board| (board, 1));
        let closed = self.closed(used, pair);
        let new = pair.strips().map(|strip| (strip, rank(left(strip))));
        ShortUse::from_each(
            others
                .filter(|one| Some(one.0) != closed)
                .chain(new)
                .chain(opened),
        )
    }

    /// The boards of which a pair of two boards opens a strip that is not known. It may be one that is used, if there
    /// is room for the course on any.
    fn opened(
        &self,
        used: &ShortUse,
        pair: &Pair,
        way: Direction,
        layers: [usize; 2],
    ) -> impl Iterator<Item = u32> {
        let (order, from, to) = self.places(layers, way);
        let need: i64 = order.need[from..to].iter().sum();
        let has_room = |board: usize| {
            used.each()
                .any(|(one, left)| match one.checked_sub(UNKNOWN) {
                    Some(other) => other as usize == board,
                    None => {
                        self.board[one as usize] == board && need <= order.lengths[from][left - 1]
                    }
                })
        };
        let opens = |board: &usize| pair.wood[0] == NONE && !has_room(*board);
        let [one, other] = pair.sides.map(|board| {
            Some(board)
                .filter(opens)
                .map(|board| UNKNOWN + board as u32)
        });
        one.into_iter().chain(other)
    }

    /// The strip not known that a pair may be cut from, since it takes one more of that board.
    fn closed(&self, used: &ShortUse, pair: &Pair) -> Option<u32> {
        let mut fresh = pair.strips().filter(|&strip| used.of(strip).is_none());
        let board = self.board[fresh.next()? as usize];
        let unknown = UNKNOWN + board as u32;
        used.of(unknown).map(|_| unknown)
    }

    /// Whether a pair can serve those layers too, which it could if nothing else were cut from it.
    pub fn fit(&self, used: &ShortUse, pair: &Pair, way: Direction, layers: [usize; 2]) -> bool {
        let (order, from, to) = self.places(layers, way);
        let need: i64 = order.need[from..to].iter().sum();
        let mut left = pair.strips().filter_map(|strip| used.of(strip));
        left.all(|left| need <= order.lengths[from][left - 1])
    }

    /// How many short courses there are.
    pub fn count(&self) -> usize {
        self.orders[0].need.len()
    }

    /// Whether all short courses are remembered.
    pub fn are_few(&self) -> bool {
        self.orders[0].need.len() <= MOST_COURSES
    }

    /// What all short courses from a layer on could pay at most for a strip that is used, by what is paid on each
    /// layer.
    fn credits(&self, paid: &[Vec<f64>]) -> [Vec<Vec<Vec<f64>>>; 2] {
        [0, 1].map(|way| {
            let order = &self.orders[way];
            let mut layers: Vec<usize> = (0..self.short.len()).filter(|&l| self.short[l]).collect();
            if way == 1 {
                layers.reverse();
            }
            let place = |at: usize| {
                let strip = |strip: usize| {
                    let mut all = vec![(0, 0.0)];
                    for next in at..layers.len() {
                        let more: Vec<(i64, f64)> = all
                            .iter()
                            .map(|(length, sum)| {
                                (length + order.need[next], sum + paid[layers[next]][strip])
                            })
                            .collect();
                        all.extend(more);
                    }
                    let most = |&room: &i64| {
                        let fit = all.iter().filter(|one| one.0 <= room);
                        fit.fold(0.0, |most: f64, one| most.max(one.1))
                    };
                    order.lengths[at].iter().map(most).collect()
                };
                (0..self.room.len()).map(strip).collect()
            };
            (0..=layers.len()).map(place).collect()
        })
    }

    /// The places of short layers in the order of a pass: from, and one past the last.
    fn places(&self, [from, to]: [usize; 2], way: Direction) -> (&Order, usize, usize) {
        let order = &self.orders[usize::from(way == Direction::Up)];
        (order, order.place[from], order.place[to] + 1)
    }
}

/// By short courses, how many strips they need at least: no two of a course are cut from one.
fn strips(sharing: &Sharing, graph: &LayeredGraph) -> Vec<u32> {
    let short: Vec<&Layer> = graph.layers.iter().filter(|layer| !layer.long).collect();
    if short.len() > MOST_COURSES {
        return Vec::new();
    }
    let needed = |sides: usize| {
        let on = |course: usize| {
            let sides = [sides >> course & 1, sides >> (course + MOST_COURSES) & 1];
            (sides[0] + sides[1]).min(short[course].sides as usize) as u32
        };
        let most = (0..short.len()).map(on).max().unwrap_or(0);
        let by = |parts: &Vec<Vec<f64>>| {
            let least = |course: usize| {
                let parts = parts[short[course].row].iter().copied();
                f64::from(on(course)) * parts.fold(1.0, f64::min)
            };
            let all: f64 = (0..short.len()).map(least).sum();
            (all - 1e-6).ceil().max(0.0) as u32
        };
        sharing.parts().iter().map(by).max().unwrap_or(0).max(most)
    };
    (0..1 << (2 * MOST_COURSES)).map(needed).collect()
}

/// What strips that serve short courses cost, each paid once.
pub struct Whole {
    /// By strip.
    whole: Vec<f64>,
    /// The least in each board.
    least: Vec<f64>,
    /// By layer and strip, what a short course pays for its part.
    part: Vec<Vec<f64>>,
    /// Down and up, by place, strip and room: what those to come could pay of it at most.
    credit: [Vec<Vec<Vec<f64>>>; 2],
}

impl Whole {
    /// As prices are.
    pub fn new(dual: &DualState, classes: &Classes) -> Whole {
        let strips = 0..dual.problem.woods.len() as u32;
        // Where it is not paid as a whole, it is paid by its parts.
        let part = |row: &usize| match dual.pays_whole {
            true => dual.prices.on(&dual.sharing, &dual.pairs, *row).of_strips(),
            false => vec![0.0; dual.problem.woods.len()],
        };
        let part: Vec<Vec<f64>> = classes.rows.iter().map(part).collect();
        let whole: Vec<f64> = strips
            .map(|strip| {
                if dual.pays_whole {
                    dual.prices.whole(strip)
                } else {
                    0.0
                }
            })
            .collect();
        let least = |board: &Board| {
            { board.strips.iter() }.fold(f64::INFINITY, |least, &strip| {
                whole[strip as usize].min(least)
            })
        };
        Whole {
            least: dual.pairs.boards.iter().map(least).collect(),
            whole,
            credit: match classes.shorts.are_few() {
                true => classes.shorts.credits(&part),
                false => [Vec::new(), Vec::new()],
            },
            part,
        }
    }

    /// What a strip costs; one that is not known, what any of its board does at least.
    fn of(&self, strip: u32) -> f64 {
        match strip.checked_sub(UNKNOWN) {
            Some(board) => self.least[board as usize],
            None => self.whole[strip as usize],
        }
    }

    /// What may still be paid at most for strips that are used, by those who come after a place.
    fn held(&self, used: &ShortUse, way: Direction, place: usize) -> f64 {
        let credit = &self.credit[usize::from(way == Direction::Up)][place];
        let known = used.each().filter(|one| one.0 < UNKNOWN);
        known
            .map(|(strip, room)| credit[strip as usize][room - 1])
            .sum()
    }

    /// What is surely paid for nothing once a pair serves the layers from one to another of a pass too: the rest of
    /// each strip that no course to come has use for.
    pub fn waste(
        &self,
        shorts: &Shorts,
        used: &ShortUse,
        pair: &Pair,
        way: Direction,
        layers: [usize; 2],
    ) -> f64 {
        let (_, from, to) = shorts.places(layers, way);
        let then = shorts.with(used, pair, way, layers);
        let [one, last] = [layers[0].min(layers[1]), layers[0].max(layers[1])];
        let part = |strip: u32| {
            (one..=last)
                .map(|l| self.part[l][strip as usize])
                .sum::<f64>()
        };
        let each = pair.strips().map(|strip| match used.of(strip) {
            Some(_) => -part(strip),
            None => self.whole[strip as usize] - part(strip),
        });
        let opened = shorts.opened(used, pair, way, layers);
        let closed = shorts.closed(used, pair).into_iter();
        let unknown = opened.map(|one| self.of(one)).sum::<f64>()
            - closed.map(|one| self.of(one)).sum::<f64>();
        let new: f64 = each.sum();
        self.held(used, way, from) + new + unknown - self.held(&then, way, to)
    }

    /// How much more a path may come to pay than one that took more, before a place: for strips that only the other has
    /// paid. `None` where it has less
    /// room on some strip.
    pub fn behind(
        &self,
        less: &ShortUse,
        more: &ShortUse,
        way: Direction,
        place: usize,
    ) -> Option<f64> {
        if !less.is_within(more) {
            return None;
        }
        let may_serve = |(strip, room): &(u32, usize)| *room > 1 || *strip >= UNKNOWN;
        let unpaid = more
            .each()
            .filter(|one| may_serve(one) && less.of(one.0).is_none());
        let unpaid: f64 = unpaid.map(|(strip, _)| self.of(strip)).sum();
        Some(unpaid + self.held(less, way, place) - self.held(more, way, place))
    }
}

/// The board of each strip.
fn boards(pairs: &Pairs, strips: usize) -> Vec<usize> {
    let mut boards = vec![0; strips];
    for (number, board) in pairs.boards.iter().enumerate() {
        board
            .strips
            .iter()
            .for_each(|&strip| boards[strip as usize] = number);
    }
    boards
}
