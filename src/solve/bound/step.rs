//! One step of the labels down the chain.

use super::bits::Bits;
use super::chain::Chain;
use super::labels::{Known, Label, Place, Terms, entries};
use super::pairs::Board;
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
    /// For each node of the link before that a path is at, the cost of the whole step to every node of this link; a row is found
    /// by `row`.
    steps: Vec<f64>,
    /// For each such node and each board, what the step and the rest cost at least.
    least: Vec<f64>,
    row: Vec<usize>,
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
        let (mut steps, mut least, mut seams) = (Vec::new(), Vec::new(), Vec::new());
        let mut rows = 0;
        for &i in before.iter().flat_map(|known| known.at.keys()) {
            if row[i as usize] != usize::MAX {
                continue;
            }
            row[i as usize] = rows;
            rows += 1;
            chain.seams(terms.problem, terms.pairs, l - 1, i as usize, &mut seams);
            for (seam, entry) in seams.iter_mut().zip(&entry) {
                *seam += entry;
            }
            for group in &link.groups {
                let all = group.from..group.to;
                let whole = all.map(|j| seams[j] + to_go[j]);
                least.push(whole.fold(f64::INFINITY, f64::min));
            }
            steps.extend_from_slice(&seams);
        }
        Step {
            chain,
            terms,
            to_go,
            limit,
            l,
            steps,
            least,
            row,
        }
    }

    /// The labels of this link, from those of the link before.
    pub fn take(&self, before: &[Known]) -> Vec<Known> {
        let mut next: BTreeMap<Bits, BTreeMap<u32, Vec<Label>>> = BTreeMap::new();
        self.stay(before, &mut next);
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
        let mut next: Vec<Known> = next
            .into_iter()
            .map(|(bits, at)| Known { bits, at })
            .collect();
        thin(&mut next);
        next
    }

    fn board_before(&self, i: u32) -> usize {
        let node = &self.chain.links[self.l - 1].nodes[i as usize];
        self.terms.pairs.all[node.pair as usize].board
    }

    fn mask(&self, j: usize) -> u64 {
        let node = &self.chain.links[self.l].nodes[j];
        self.terms.pairs.all[node.pair as usize].mask
    }

    fn steps(&self, i: u32) -> &[f64] {
        let n = self.chain.links[self.l].nodes.len();
        &self.steps[self.row[i as usize] * n..(self.row[i as usize] + 1) * n]
    }

    fn least(&self, i: u32, group: usize) -> f64 {
        self.least[self.row[i as usize] * self.chain.links[self.l].groups.len() + group]
    }

    /// Paths that stay in their board.
    fn stay(&self, before: &[Known], next: &mut BTreeMap<Bits, BTreeMap<u32, Vec<Label>>>) {
        let link = &self.chain.links[self.l];
        let strangers = self.terms.pairs.boards.len();
        for (s, known) in before.iter().enumerate() {
            let mut at: BTreeMap<u32, Vec<Label>> = BTreeMap::new();
            for (&i, labels) in &known.at {
                let board = self.board_before(i);
                let Some(g) = link.groups.iter().position(|group| group.board == board) else {
                    continue;
                };
                if board == strangers {
                    continue;
                }
                let (group, steps) = (link.groups[g], self.steps(i));
                for (k, label) in labels.iter().enumerate() {
                    if label.cost + self.least(i, g) >= self.limit {
                        break;
                    }
                    let slices = &self.terms.pairs.boards[board];
                    let all = steps.iter().enumerate();
                    for (j, step) in all.take(group.to).skip(group.from) {
                        if label.cost + step + self.to_go[j] >= self.limit {
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
            if !at.is_empty() {
                next.insert(known.bits, at);
            }
        }
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
        let mut arrivals: BTreeMap<Arrival, Vec<(f64, Place)>> = BTreeMap::new();
        let nowhere = (f64::INFINITY, (0, 0, 0));
        for (g, group) in link.groups.iter().enumerate() {
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
                        .or_insert_with(|| vec![nowhere; link.nodes.len()]);
                    let steps = &self.steps(i)[group.from..group.to];
                    for (best, step) in best[group.from..group.to].iter_mut().zip(steps) {
                        if cost + step < best.0 {
                            *best = (cost + step, place);
                        }
                    }
                }
            }
        }
        let fee = |&(_, gone, run): &Arrival, j: usize| {
            let board = pairs.all[link.nodes[j].pair as usize].board;
            let slices = pairs.boards.get(board);
            slices.map_or(0.0, |slices| {
                link.fee(board, take(slices, gone, run, self.mask(j)).1)
            })
        };
        arrivals
            .into_iter()
            .map(|(key, best)| {
                let reached = best
                    .into_iter()
                    .enumerate()
                    .filter_map(|(j, (cost, from))| {
                        let cost = cost + fee(&key, j);
                        (cost + self.to_go[j] < self.limit).then_some((j as u32, (cost, from)))
                    });
                (key, reached.collect())
            })
            .collect()
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
fn thin(next: &mut [Known]) {
    for more in 0..next.len() {
        for less in 0..next.len() {
            if less == more || !next[less].bits.within(&next[more].bits) {
                continue;
            }
            let mut at = std::mem::take(&mut next[more].at);
            at.retain(|j, labels| {
                let Some(others) = next[less].at.get(j) else {
                    return true;
                };
                labels.retain(|label| {
                    let cheaper = others.iter().take_while(|other| other.cost <= label.cost);
                    !cheaper.into_iter().any(|other| knows_no_more(other, label))
                });
                !labels.is_empty()
            });
            next[more].at = at;
        }
    }
}
