//! The courses beyond the tail: what they cost at least beside each choice, and what they took.

use super::arrivals::{Arrival, arrivals, beside_others, cheapest_first};
use super::choices::{Choice, Course};
use super::given::Given;
use super::search::Beside;
use crate::solve::bound::bits::Bits;
use crate::solve::bound::exits::Exit;
use crate::solve::bound::labelling::{CompletionBounds, Pass};
use crate::solve::bound::pairs::Pairs;
use rayon::prelude::*;
use rustc_hash::FxHashMap;
use std::ops::Range;
use std::sync::Arc;

/// What the first segment beyond leaves: the board that it is in, one past the last board for a pair of two, and the
/// slices that it must not take.
type Around = (usize, u64);

/// Class and pair on the last course of the tail.
type Last = (usize, usize);

/// The paths from beyond the tail.
pub struct Beyond<'e> {
    given: &'e Given<'e>,
    /// The pass that they come from.
    pass: &'e Pass<'e>,
    /// By class and pair on the last course of the tail, what it costs at least with all before it.
    before: &'e [Vec<f64>],
    /// All paths found so far.
    pub exits: Vec<Exit>,
    /// A part of `exits` for each.
    around: FxHashMap<Around, Range<usize>>,
    /// Beside each class and pair of the last course of the tail, the cheapest first.
    ways: FxHashMap<(Last, Around), Arc<[Arrival]>>,
}

impl<'e> Beyond<'e> {
    /// The paths of a pass that came to the tail from beyond. `come` is what it costs at least to come to each pair
    /// from the courses before.
    pub fn new(given: &'e Given<'e>, come: &'e CompletionBounds, pass: &'e Pass<'e>) -> Beyond<'e> {
        let classes = given.classes;
        let mut beyond = Beyond {
            given,
            pass,
            // A strip that goes on from the course before is entered there, and left here.
            before: &come.exit[classes.shorts.tail.end - 1],
            exits: Vec::new(),
            around: FxHashMap::default(),
            ways: FxHashMap::default(),
        };
        let mut exits = match classes.shorts.tail.end < classes.layers() {
            true => pass.exits(),
            false => Vec::new(),
        };
        for home in 0..=classes.boards {
            let (own, others) = exits
                .into_iter()
                .partition(|exit| classes.home(exit.class).unwrap_or(classes.boards) == home);
            exits = others;
            beyond.add((home, 0), own);
        }
        let sizes = { 0..classes.all.len() }.map(|class| (class, classes.size(class)));
        let all = sizes.flat_map(|(class, n)| (0..n).map(move |pair| (class, pair)));
        let all = all.filter(|&(class, pair)| beyond.before[class][pair].is_finite());
        let all = all.flat_map(|at| (0..=classes.boards).map(move |home| (at, (home, 0))));
        let ways = all.par_bridge().map(|of| (of, beyond.beside(of)));
        beyond.ways = ways.collect();
        beyond
    }

    fn add(&mut self, around: Around, exits: Vec<Exit>) -> Range<usize> {
        let part = self.exits.len()..self.exits.len() + exits.len();
        self.exits.extend(exits);
        self.around.insert(around, part.clone());
        part
    }

    /// See [`Beyond::ways`]; the paths must be known.
    fn beside(&self, (at, around): (Last, Around)) -> Arc<[Arrival]> {
        let last = self.given.classes.shorts.tail.end - 1;
        let Some(&met) = self.given.classes.met.get(last) else {
            return match around.0 == self.given.classes.boards {
                true => [Arrival::NONE].into(),
                false => [].into(),
            };
        };
        let beside = (met, self.given.classes.charge[last][1]);
        let most = self.given.cutoff - self.before[at.0][at.1];
        let part = self.around.get(&around).cloned().unwrap_or_default();
        let from = part.start;
        let exits = self.exits[part].iter().zip(from..);
        arrivals(self.given.classes, exits, at, beside, most).into()
    }

    /// The ways to lay the courses beyond a class and pair on the last course of the tail, the cheapest first, that
    /// begin in a board and leave some of its slices.
    pub fn ways(&mut self, at: Last, around: Around) -> Arc<[Arrival]> {
        if let Some(known) = self.ways.get(&(at, around)) {
            return Arc::clone(known);
        }
        let is_known = self.around.contains_key(&around);
        if !is_known && self.given.classes.shorts.tail.end < self.given.classes.layers() {
            let (board, barred) = around;
            let own = 0..self.given.classes.all.len();
            let own = own.filter(|&class| self.given.classes.home(class) == Some(board));
            let exits = own
                .flat_map(|class| self.pass.exits_around(class, barred))
                .collect();
            self.add(around, exits);
        }
        let ways = self.beside((at, around));
        self.ways.insert((at, around), Arc::clone(&ways));
        ways
    }

    /// By choice on the last course of the tail, the ways to lay the courses beyond; `others` are the ways to lay the
    /// other side, see [`beside_others`].
    pub fn near(&self, courses: &[Course], others: &[Arrival]) -> Beside {
        let near = |choice: &Choice| {
            let most = self.given.cutoff - choice.least();
            [false, true].map(|same| {
                let homes = (0..=self.given.classes.boards)
                    .filter(|home| (choice.board == Some(*home)) == same);
                let ways = homes.filter_map(|home| self.ways.get(&(choice.at, (home, 0))));
                let ways = ways.flat_map(|ways| ways.iter().copied());
                let mut near = cheapest_first(ways.collect());
                beside_others(&mut near, others, most);
                near
            })
        };
        courses[0].choices.par_iter().map(near).collect()
    }

    /// The slots of the boards that some ways begin in.
    pub fn homes(&self, ways: &[Arrival]) -> Bits {
        let homes = ways.iter().filter_map(|way| self.home(way));
        homes.fold(Bits::NONE, |all, board| {
            all.or(&self.given.dual.pairs.boards[board].all)
        })
    }

    /// The board that a way begins in; `None` where that is a pair of two boards, or there are no courses.
    pub fn home(&self, way: &Arrival) -> Option<usize> {
        let (exit, _) = way.from?;
        self.given.classes.home(self.exits[exit].class)
    }
}

/// For every board, those of some slices that are of it.
pub fn by_board(pairs: &Pairs, slices: &Bits) -> Vec<Around> {
    let boards = pairs.boards.iter().enumerate();
    boards
        .map(|(board, b)| (board, slices.window(b.first, b.slices)))
        .chain([(pairs.boards.len(), 0)])
        .collect()
}
