//! Chains of replacement: a strip takes the place of one that is gone, another takes the strip's own place, and so on
//! until one comes from the rack. So 2-3 and 4-5 follow 1-2 and 3-4 along a board.

use crate::solve::draft::Draft;
use crate::solve::holds::holds;
use crate::solve::problem::{NONE, Problem};
use crate::solve::rack::has_room;
use crate::solve::state::{Change, State};
use crate::solve::timber::{Part, Timber};
use crate::solve::tuning::ejection_chain::{FOSTERS, MATES, PAIRS, PATIENCE};
use crate::solve::tuning::problem::TABLED;

/// A piece that is laid anew.
#[derive(Clone, Copy)]
struct Link {
    row: usize,
    at: usize,
    part: Part,
    wood: [u32; 2],
}

/// Wood that a piece lacks.
#[derive(Clone, Copy)]
struct Hole {
    link: usize,
    side: Lacks,
}

#[derive(Clone, Copy)]
enum Lacks {
    One(usize),
    Both,
}

struct Chains<'s, 'p> {
    state: &'s State<'p>,
    links: Vec<Link>,
    holes: Vec<Hole>,
    /// How many links the open course itself makes.
    own: usize,
    most: usize,
    patience: usize,
    stop: &'s dyn Fn() -> bool,
    best: Option<(f64, Change)>,
}

/// The chain that closes an open course at the least price, with at most so many pieces of other courses in it: `was`
/// is what lay on it. Stopped, the best so far.
pub(super) fn chain(
    state: &State,
    row: usize,
    was: &Timber,
    links: usize,
    stop: &dyn Fn() -> bool,
) -> Option<(f64, Change)> {
    let problem = state.problem;
    let mut chains = Chains {
        state,
        links: Vec::new(),
        holes: Vec::new(),
        own: was.len(),
        most: 0,
        patience: PATIENCE,
        stop,
        best: None,
    };
    for (at, part) in was.iter().enumerate() {
        let gone = |side: usize| {
            let room = state.rack().room(problem, part.wood[side], &[], &[]);
            !part.glued[side] && !has_room(&room, part.span(side))
        };
        let lacks: Vec<usize> = part.sides().filter(|side| gone(*side)).collect();
        let hole = |side| Hole { link: at, side };
        match lacks.as_slice() {
            [] => {}
            [side] => chains.holes.push(hole(Lacks::One(*side))),
            _ => chains.holes.push(hole(Lacks::Both)),
        }
        chains.links.push(Link {
            row,
            at,
            part: *part,
            wood: part.wood,
        });
    }
    if chains.links.is_empty() {
        return None;
    }
    for most in 0..=links {
        chains.most = most;
        chains.close();
    }
    chains.best
}

impl Chains<'_, '_> {
    /// Gives the last hole wood, in every way.
    fn close(&mut self) {
        let Some(hole) = self.holes.pop() else {
            self.judge();
            return;
        };
        let link = self.links[hole.link];
        match hole.side {
            Lacks::One(side) => {
                for strip in strips(self.state.problem, &link, side) {
                    let mut wood = link.wood;
                    wood[side] = strip;
                    self.take(hole.link, wood, &[strip]);
                }
                if link.wood[1] != NONE && !link.part.glued[1 - side] {
                    self.pairs(hole.link);
                }
            }
            Lacks::Both => self.pairs(hole.link),
        }
        self.links[hole.link] = link;
        self.holes.push(hole);
    }

    /// The same with both strips new, in the order in which they would match the old ones.
    fn pairs(&mut self, link: usize) {
        let problem = self.state.problem;
        let was = self.links[link].wood;
        let alike = problem.alike(was[0]).iter().copied();
        let mut tried: Vec<[u32; 2]> = Vec::new();
        for strip in alike {
            let Some(&mate) = problem.mates[strip as usize].first() else {
                continue;
            };
            let pair = [strip, mate];
            if tried.len() == PAIRS || was.contains(&strip) || was.contains(&mate) {
                continue;
            }
            if !tried.contains(&pair) && !tried.contains(&[mate, strip]) {
                tried.push(pair);
            }
        }
        for [strip, mate] in tried {
            for wood in [[strip, mate], [mate, strip]] {
                self.take(link, wood, &wood);
            }
        }
    }

    /// Gives a piece its wood, where there is room, or where another piece gives it up.
    fn take(&mut self, link: usize, wood: [u32; 2], new: &[u32]) {
        if wood[0] == wood[1] || self.patience == 0 || (self.stop)() {
            return;
        }
        self.links[link].wood = wood;
        self.patience -= 1;
        if self.fits() {
            self.close();
            return;
        }
        if self.links.len() - self.own >= self.most {
            return;
        }
        for (row, at) in self.places_of(new) {
            let part = self.state.timber(row)[at];
            let given = |side: &usize| new.contains(&part.wood[*side]);
            let sides: Vec<usize> = part.sides().filter(given).collect();
            if sides.iter().any(|side| part.glued[*side]) {
                continue;
            }
            let side = match sides.as_slice() {
                [side] => Lacks::One(*side),
                _ => Lacks::Both,
            };
            self.links.push(Link {
                row,
                at,
                part,
                wood: part.wood,
            });
            self.holes.push(Hole {
                link: self.links.len() - 1,
                side,
            });
            self.patience = self.patience.saturating_sub(1);
            if self.fits() {
                self.close();
            }
            self.holes.pop();
            self.links.pop();
        }
    }

    /// The pieces, none of them in the chain yet, that are cut from some strips.
    fn places_of(&self, strips: &[u32]) -> Vec<(usize, usize)> {
        let mut places = Vec::new();
        for &strip in strips {
            for row in self.state.rack().serves(strip) {
                for (at, part) in self.state.timber(row).iter().enumerate() {
                    let place = (row, at);
                    let linked = self.links.iter().any(|link| (link.row, link.at) == place);
                    if part.wood.contains(&strip) && !linked && !places.contains(&place) {
                        places.push(place);
                    }
                }
            }
        }
        places
    }

    /// The chain as it is, laid; `None` where there is no room for a piece that has its wood.
    fn laid(&self) -> Option<Change> {
        let mut draft = Draft::new(self.state);
        let links = &self.links;
        for (i, link) in links.iter().enumerate() {
            if links[..i].iter().all(|other| other.row != link.row) {
                let linked = |at: usize| links.iter().any(|l| (l.row, l.at) == (link.row, at));
                draft.lift(link.row, linked);
            }
        }
        for (i, link) in links.iter().enumerate() {
            let lacks = self.holes.iter().any(|hole| hole.link == i);
            if !lacks && !draft.put(link.row, &link.part, link.wood) {
                return None;
            }
        }
        Some(draft.finish())
    }

    fn fits(&self) -> bool {
        self.laid().is_some()
    }

    fn judge(&mut self) {
        let Some(change) = self.laid() else { return };
        let by = self.state.price(&change);
        let better = self
            .best
            .as_ref()
            .is_none_or(|(least, _)| by < *least - 1e-9);
        if better && self.keeps_rules(&change) {
            self.best = Some((by, change));
        }
    }

    /// Whether every course of a change can lie beside the others: what lay on the open one may have been given up for
    /// its joints.
    fn keeps_rules(&self, change: &Change) -> bool {
        let mut trial = self.state.clone();
        for (row, _) in change {
            trial.lay(*row, Timber::new());
        }
        change.iter().all(|(row, timber)| {
            let holds = holds(&trial, *row, timber);
            if holds {
                trial.lay(*row, timber.clone());
            }
            holds
        })
    }
}

/// The strips that may take the place of one: such as match its mate best, or, on a centre course, are most like it.
fn strips(problem: &Problem, link: &Link, side: usize) -> Vec<u32> {
    let gone = link.wood[side];
    if link.wood[1] == NONE {
        let alike = problem.alike(gone).iter().copied();
        return alike.take(PAIRS).collect();
    }
    let mate = link.wood[1 - side];
    let mates = problem.mates[mate as usize].iter().copied();
    let mut strips: Vec<u32> = mates.filter(|strip| *strip != gone).take(MATES).collect();
    let all: Vec<u32>;
    // In a rack of thousands, not every strip is held against every other.
    let near = match problem.woods.len() > TABLED {
        true => problem.alike(mate),
        false => {
            all = (0..problem.woods.len() as u32).collect();
            &all
        }
    };
    let mut others: Vec<(f64, u32)> = { near.iter().copied() }
        .filter(|strip| !problem.one_board(*strip, mate) && *strip != gone)
        .map(|strip| (problem.match_rate(mate, strip), strip))
        .collect();
    others.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    strips.extend(others.into_iter().take(FOSTERS).map(|(_, strip)| strip));
    strips
}
