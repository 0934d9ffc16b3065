//! What is the same in every search over courses of the tail, at some prices.

use super::choices::{Course, about, course, shift};
use crate::solve::bound::classes::Classes;
use crate::solve::bound::dual::DualState;
use crate::solve::bound::labelling::Direction;
use crate::solve::bound::register::{Cut, Patterns};
use crate::solve::problem::Span;
use crate::units::Length;

/// By strip and the courses cut from it, what others could pay for it at most.
pub type Credit = Vec<Vec<f64>>;

/// What every search starts from.
pub struct Given<'s> {
    pub classes: &'s Classes,
    pub dual: &'s DualState<'s>,
    /// By courses of the tail, a bit for each, what they need of a strip together.
    pub need: Vec<Length>,
    /// By course of the tail and strip, the price of the part that the course takes.
    pub parts: Vec<Vec<f64>>,
    /// By strip, what is paid when it is first cut into.
    pub open: Vec<f64>,
    /// By board, where a long course could be cut.
    long_room: Vec<Span>,
    /// Ways that cost as much are not looked for.
    pub cutoff: f64,
    pub stop: &'s (dyn Fn() -> bool + Sync),
}

impl<'s> Given<'s> {
    /// At the prices of the dual state.
    pub fn new(
        classes: &'s Classes,
        dual: &'s DualState,
        cutoff: f64,
        stop: &'s (dyn Fn() -> bool + Sync),
    ) -> Given<'s> {
        let rows = &classes.rows[classes.shorts.tail.clone()];
        let parts = rows.iter().map(|&row| {
            let prices = dual.prices.on(&dual.sharing, &dual.pairs, row);
            prices.of_strips()
        });
        let strips = 0..dual.problem.woods.len() as u32;
        let of = |courses: usize| (0..rows.len()).filter(move |t| courses >> t & 1 == 1);
        let need =
            |courses: usize| -> Length { of(courses).map(|t| dual.sharing.need(rows[t])).sum() };
        let long_room = dual.pairs.boards.iter().map(|board| {
            let rooms = board.strips.iter().map(|&strip| about(dual.problem, strip));
            let all = rooms.reduce(|all, one| (all.0.min(one.0), all.1.max(one.1)));
            all.unwrap_or_default()
        });
        Given {
            classes,
            dual,
            need: (0..1 << rows.len()).map(need).collect(),
            parts: parts.collect(),
            open: strips.map(|strip| dual.prices.whole(strip)).collect(),
            long_room: long_room.collect(),
            cutoff,
            stop,
        }
    }

    /// Some courses of the tail, by their layers from the one beside the long courses on. `least` is what those after
    /// each of them cost at least, by class and pair.
    pub fn courses(&self, order: &[usize], least: &[Vec<Vec<f64>>]) -> Vec<Course> {
        let start = self.classes.shorts.tail.start;
        let way = match order.first() == Some(&start) {
            true => Direction::Down,
            false => Direction::Up,
        };
        let all = order.iter().zip(least);
        all.map(|(&l, least)| {
            let parts = &self.parts[l - start];
            course(self.classes, self.dual, (l, way), parts, least)
        })
        .collect()
    }

    /// By number of courses laid, from the first on, what those of the tail to come could pay for strips at most.
    pub fn credit(&self, courses: &[Course]) -> Vec<Credit> {
        let (parts, room) = (&self.parts, self.dual.sharing.room());
        let most = |strip: usize, laid: usize, to_come: usize| {
            let of = |courses: usize| (0..parts.len()).filter(move |t| courses >> t & 1 == 1);
            // All sets of the courses to come.
            let next = |others: &usize| {
                (*others != to_come).then(|| others.wrapping_sub(to_come) & to_come)
            };
            std::iter::successors(Some(0), next)
                .filter(|others| self.need[laid | others] <= room[strip])
                .map(|others| of(others).map(|t| parts[t][strip]).sum())
                .fold(0.0, f64::max)
        };
        let at = |t: usize| {
            let all = (1usize << parts.len()) - 1;
            let to_come = { courses[..t].iter() }.fold(all, |all, one| all & !(1 << one.number));
            let from = lowest(&courses[..t]);
            let of_strip = |strip: usize| {
                let laid = (0..1usize << t).map(|laid| laid << from);
                laid.map(|laid| most(strip, laid, to_come)).collect()
            };
            (0..room.len()).map(of_strip).collect()
        };
        (0..=courses.len()).map(at).collect()
    }

    /// A long course cut from a board.
    pub fn long(&self, board: usize) -> Cut {
        Cut {
            room: self.long_room[board],
            board,
            apart_from: 0,
        }
    }

    /// The rows of some layers. One past the last layer stands for no course: any row will do.
    pub fn rows(&self, layers: impl Iterator<Item = usize>) -> Vec<usize> {
        let rows = &self.classes.rows;
        layers.map(|l| rows[l.min(rows.len() - 1)]).collect()
    }

    /// What is known of register on some layers, each beside the one before it.
    pub fn patterns(&self, layers: &[usize]) -> Patterns {
        let (classes, problem) = (self.classes, self.dual.problem);
        let rows = self.rows(layers.iter().copied());
        self.dual.known_patterns(&rows).unwrap_or_else(|| {
            let shift = |both: &[usize]| match both[0].max(both[1]) < classes.layers() {
                true => shift(classes, problem, both[0].min(both[1])),
                false => 0.0,
            };
            Patterns::new(problem, &rows, layers.windows(2).map(shift).collect())
        })
    }
}

/// The least number of some courses.
pub fn lowest(courses: &[Course]) -> usize {
    let numbers = courses.iter().map(|course| course.number);
    numbers.min().unwrap_or(0)
}
