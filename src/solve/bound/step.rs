//! One step of the labels down the chain.

use super::bits::Bits;
use super::chain::{Chain, Group, Node};
use super::labels::{Known, Label, Place, Terms, entries};
use super::pairs::Board;
use rayon::prelude::*;
use std::collections::BTreeMap;

/// What a path knows when it gets to a board: of other boards, how many slices of this one are gone, and which can be told.
type Arrival = (Bits, u32, u64);

/// The cheapest way to each node of the next link, for paths that know the same when they get there.
type Arrivals = BTreeMap<Arrival, BTreeMap<u32, (f64, Place)>>;

/// One step down the chain.
pub(super) struct Step<'s> {
    chain: &'s Chain,
    terms: &'s Terms<'s>,
    to_go: &'s [f64],
    limit: f64,
    l: usize,
    /// For each node of the link before that a path is at, the cost of the whole step to every node of this link; which of them it is, is found
    /// by `row`.
    steps: Vec<Vec<f64>>,
    /// For each such node and each board, what the step and the rest cost at least.
    least: Vec<Vec<f64>>,
    row: Vec<usize>,
    /// For each such node, every node of this link in the same board, with what the step and the rest cost at least, cheapest first.
    same_board: Vec<Vec<(f64, u32)>>,
    /// The slices of each node of this link.
    masks: Vec<u64>,
}

impl<'s> Step<'s> {
    /// The step to link `l`, from the labels of the link before.
    pub fn new(
        chain: &'s Chain,
        terms: &'s Terms<'s>,
        to_go: &'s [f64],
        limit: f64,
        l: usize,
        before: &[Known],
    ) -> Step<'s> {
        let link = &chain.links[l];
        let entry = entries(chain, terms, l);
        let mut row = vec![usize::MAX; chain.links[l - 1].nodes.len()];
        let mut reached: Vec<u32> = Vec::new();
        for &i in before.iter().flat_map(|known| known.at.keys()) {
            if row[i as usize] == usize::MAX {
                row[i as usize] = reached.len();
                reached.push(i);
            }
        }
        let board_of = |l: usize, i: usize| {
            let pair = chain.links[l].nodes[i].pair;
            terms.pairs.all[pair as usize].board
        };
        let from_each: Vec<_> = reached
            .par_iter()
            .map(|&i| {
                let mut seams = Vec::new();
                chain.seams(terms.problem, terms.pairs, l - 1, i as usize, &mut seams);
                for (seam, entry) in seams.iter_mut().zip(&entry) {
                    *seam += entry;
                }
                let least = |group: &Group| {
                    let all = group.from..group.to;
                    let whole = all.map(|j| seams[j] + to_go[j]);
                    whole.fold(f64::INFINITY, f64::min)
                };
                let least: Vec<f64> = link.groups.iter().map(least).collect();
                let board = board_of(l - 1, i as usize);
                let own = link.groups.iter().filter(|group| group.board == board);
                let mut same_board: Vec<(f64, u32)> = own
                    .flat_map(|group| group.from..group.to)
                    .map(|j| (seams[j] + to_go[j], j as u32))
                    .collect();
                same_board.sort_by(|a, b| a.0.total_cmp(&b.0));
                (seams, (least, same_board))
            })
            .collect();
        let (steps, others): (Vec<_>, Vec<_>) = from_each.into_iter().unzip();
        let (least, same_board) = others.into_iter().unzip();
        let mask = |node: &Node| terms.pairs.all[node.pair as usize].mask;
        Step {
            chain,
            terms,
            to_go,
            limit,
            l,
            steps,
            least,
            row,
            same_board,
            masks: link.nodes.iter().map(mask).collect(),
        }
    }

    /// The labels of this link, from those of the link before.
    pub fn take(&self, before: &[Known]) -> Vec<Known> {
        let mut next = self.stay(before);
        for ((bits, gone, run), arrivals) in self.leave(before) {
            let at = next.entry(bits).or_default();
            for (j, (cost, from)) in arrivals {
                let label = Label {
                    cost,
                    run: run | self.mask(j as usize),
                    before: gone,
                    from,
                };
                add(at.entry(j).or_default(), label);
            }
        }
        let next: Vec<Known> = next
            .into_iter()
            .map(|(bits, at)| Known { bits, at })
            .collect();
        thin(&next)
    }

    fn board_before(&self, i: u32) -> usize {
        let node = &self.chain.links[self.l - 1].nodes[i as usize];
        self.terms.pairs.all[node.pair as usize].board
    }

    fn mask(&self, j: usize) -> u64 {
        self.masks[j]
    }

    fn steps(&self, i: u32) -> &[f64] {
        &self.steps[self.row[i as usize]]
    }

    fn least(&self, i: u32, group: usize) -> f64 {
        self.least[self.row[i as usize]][group]
    }

    /// Paths that stay in their board.
    fn stay(&self, before: &[Known]) -> BTreeMap<Bits, BTreeMap<u32, Vec<Label>>> {
        let link = &self.chain.links[self.l];
        let strangers = self.terms.pairs.boards.len();
        let each = before.par_iter().enumerate().map(|(s, known)| {
            let mut at: BTreeMap<u32, Vec<Label>> = BTreeMap::new();
            for (&i, labels) in &known.at {
                let board = self.board_before(i);
                if board == strangers {
                    continue;
                }
                let (same_board, steps) = (&self.same_board[self.row[i as usize]], self.steps(i));
                let slices = &self.terms.pairs.boards[board];
                let once = link.again[board].is_infinite();
                for (k, label) in labels.iter().enumerate() {
                    for &(whole, j) in same_board {
                        if label.cost + whole >= self.limit {
                            break;
                        }
                        let (j, step) = (j as usize, steps[j as usize]);
                        if once && label.run & self.mask(j) != 0 {
                            continue;
                        }
                        let (run, again) = take(slices, label.before, label.run, self.mask(j));
                        let cost = label.cost + step + link.fee(board, again);
                        if cost + self.to_go[j] >= self.limit {
                            continue;
                        }
                        let label = Label {
                            cost,
                            run: self.terms.memory.keep(link.nodes[j].pair, run),
                            before: label.before,
                            from: (s as u32, i, k as u32),
                        };
                        add(at.entry(j as u32).or_default(), label);
                    }
                }
            }
            (known.bits, at)
        });
        let each: Vec<_> = each.collect();
        each.into_iter().filter(|(_, at)| !at.is_empty()).collect()
    }

    /// Paths that go to another board.
    fn leave(&self, before: &[Known]) -> Arrivals {
        let (pairs, memory) = (self.terms.pairs, self.terms.memory);
        let link = &self.chain.links[self.l];
        let strangers = pairs.boards.len();
        // For what is known on leaving, and where from: the cheapest label of each node.
        let mut leaving: BTreeMap<(usize, Bits), BTreeMap<u32, (f64, Place)>> = BTreeMap::new();
        for (s, known) in before.iter().enumerate() {
            for (&i, labels) in &known.at {
                let board = self.board_before(i);
                for (k, label) in labels.iter().enumerate() {
                    let left = if board == strangers {
                        known.bits
                    } else {
                        let own = memory.left(pairs, board, label.before, label.run);
                        known.bits.without(&pairs.boards[board].all).or(&own)
                    };
                    let place = (s as u32, i, k as u32);
                    let cheapest = leaving.entry((board, left)).or_default();
                    let least = cheapest.entry(i).or_insert((label.cost, place));
                    if label.cost < least.0 {
                        *least = (label.cost, place);
                    }
                }
            }
        }
        let by_board = link.groups.par_iter().enumerate().map(|(g, group)| {
            let mut arrivals: BTreeMap<Arrival, Vec<(f64, Place)>> = BTreeMap::new();
            for ((board, left), from) in &leaving {
                if *board == group.board && group.board != strangers {
                    continue;
                }
                let key = memory.entered(pairs, group.board, left);
                for (&i, &(cost, place)) in from {
                    if cost + self.least(i, g) >= self.limit {
                        continue;
                    }
                    let best = arrivals
                        .entry(key)
                        .or_insert_with(|| vec![(f64::INFINITY, (0, 0, 0)); group.to - group.from]);
                    let steps = &self.steps(i)[group.from..group.to];
                    for (best, step) in best.iter_mut().zip(steps) {
                        if cost + step < best.0 {
                            *best = (cost + step, place);
                        }
                    }
                }
            }
            (group, arrivals)
        });
        let by_board: Vec<_> = by_board.collect();
        let mut all = Arrivals::new();
        for (group, arrivals) in by_board {
            for (key, best) in arrivals {
                let reached = (group.from..).zip(best).filter_map(|(j, (cost, from))| {
                    let cost = cost + self.fee(&key, group.board, j);
                    (cost + self.to_go[j] < self.limit).then_some((j as u32, (cost, from)))
                });
                all.entry(key).or_default().extend(reached);
            }
        }
        all
    }

    /// What it costs at least that a pair takes slices which are known to be gone when its board is entered.
    fn fee(&self, &(_, gone, run): &Arrival, board: usize, j: usize) -> f64 {
        let Some(slices) = self.terms.pairs.boards.get(board) else {
            return 0.0;
        };
        let (_, again) = take(slices, gone, run, self.mask(j));
        self.chain.links[self.l].fee(board, again)
    }
}

/// Adds a pair to the slices of its board that are known to be taken; and how many it takes that were gone before: those known to be, and
/// those for which there are no others left, where of those gone some are known only by number.
#[inline]
fn take(board: &Board, before: u32, run: u64, mask: u64) -> (u64, u32) {
    let short = |run: u64| (board.once(run).count_ones() + before).saturating_sub(board.slices);
    let (after, again) = board.take(run, mask);
    (after, again + short(after) - short(run))
}

/// Adds a label unless one is there that costs no more and knows no more; those that it makes needless go. The labels stay in
/// order of cost.
fn add(labels: &mut Vec<Label>, new: Label) {
    let at = labels.partition_point(|old| old.cost <= new.cost);
    if labels[..at].iter().any(|old| knows_no_more(old, &new)) {
        return;
    }
    let mut kept = at;
    for i in at..labels.len() {
        if !knows_no_more(&new, &labels[i]) {
            labels[kept] = labels[i];
            kept += 1;
        }
    }
    labels.truncate(kept);
    labels.insert(at, new);
}

fn knows_no_more(one: &Label, other: &Label) -> bool {
    one.run & !other.run == 0 && one.before <= other.before
}

/// Drops labels that another makes needless which knows less of boards it has left.
fn thin(next: &[Known]) -> Vec<Known> {
    let thinned = next.par_iter().map(|more| {
        let less: Vec<&Known> = next
            .iter()
            .filter(|less| less.bits != more.bits && less.bits.within(&more.bits))
            .collect();
        let needed = |j: &u32, label: &Label| {
            !less.iter().filter_map(|less| less.at.get(j)).any(|others| {
                let mut cheaper = others.iter().take_while(|other| other.cost <= label.cost);
                cheaper.any(|other| knows_no_more(other, label))
            })
        };
        let at = more.at.iter().filter_map(|(j, labels)| {
            let labels: Vec<Label> = labels
                .iter()
                .copied()
                .filter(|label| needed(j, label))
                .collect();
            (!labels.is_empty()).then_some((*j, labels))
        });
        Known {
            bits: more.bits,
            at: at.collect(),
        }
    });
    thinned.collect()
}
