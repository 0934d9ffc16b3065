//! Some courses laid one after the other, many ways side by side: a beam search over courses.
//!
//! Why: how far a board reaches, where its joints lie and which board lies beside it hang together over several
//! courses. Laid one by one, each course takes what suits it best, and the next ones pay for it.
//!
//! Source: B. T. Lowerre, "The HARPY Speech Recognition System" (1976) (citation from memory).

use super::draft::{Draft, Stretch};
use super::fill::{Filling, Fillings};
use super::moves::pick;
use super::timber::swapped;
use crate::solve::tuning::beam::{ALIKE, CHILDREN, FINISHED, OF_TWO_BOARDS, PLACES, WIDTH};
use smallvec::SmallVec;
use std::collections::BTreeMap;

/// A draft with some of the courses laid.
struct Node<'s, 'p> {
    draft: Draft<'s, 'p>,
    /// What these courses cost, register aside.
    cost: f64,
    /// Strips that they cut into for the first time.
    begun: usize,
}

/// A node with one course more.
struct Child {
    parent: usize,
    stretches: SmallVec<[Stretch; 4]>,
    cost: f64,
    /// The boards on the course at the bow and at the stern, and how many strips are begun: children with the same go
    /// on in much the same way.
    alike: ([usize; 2], usize),
}

/// Lays courses that were stripped, in this order, from some boards, whose strips are given in the order of the saw
/// cuts: the cheapest draft that was found. `None` where these boards don't cover them in one piece or two each.
pub fn lay<'s, 'p>(
    draft: Draft<'s, 'p>,
    rows: &[usize],
    boards: &[Vec<u32>],
) -> Option<Draft<'s, 'p>> {
    let backwards = |board: &Vec<u32>| board.iter().rev().copied().collect();
    let boards: Vec<[Vec<u32>; 2]> = { boards.iter() }
        .map(|board| [board.clone(), backwards(board)])
        .collect();
    let mut nodes = vec![Node {
        draft,
        cost: 0.0,
        begun: 0,
    }];
    for (at, &row) in rows.iter().enumerate() {
        let width = match at + 1 == rows.len() {
            true => FINISHED,
            false => WIDTH,
        };
        let parents = nodes.iter().enumerate();
        let children: Vec<Child> = parents
            .flat_map(|(parent, node)| onward(node, parent, row, &boards))
            .collect();
        let mut order: Vec<&Child> = children.iter().collect();
        order.sort_by(|a, b| a.cost.total_cmp(&b.cost));
        let mut alike: BTreeMap<([usize; 2], usize), usize> = BTreeMap::new();
        let mut next: Vec<Node> = Vec::with_capacity(width);
        for child in order {
            let count = alike.entry(child.alike).or_default();
            if *count == ALIKE {
                continue;
            }
            let mut draft = nodes[child.parent].draft.clone();
            if draft.put_all(row, &child.stretches).is_err() {
                continue;
            }
            *count += 1;
            next.push(Node {
                draft,
                cost: child.cost,
                begun: child.alike.1,
            });
            if next.len() == width {
                break;
            }
        }
        nodes = next;
    }
    let priced = nodes
        .into_iter()
        .map(|node| (node.draft.price(), node.draft));
    let (_, best) = priced.min_by(|a, b| a.0.total_cmp(&b.0))?;
    Some(best)
}

/// How a draft may go on with a course.
fn onward(node: &Node, parent: usize, row: usize, boards: &[[Vec<u32>; 2]]) -> Vec<Child> {
    let wood = wood(&node.draft, row, boards);
    let fillings = Fillings::new(&node.draft, row, &wood, PLACES);
    let problem = node.draft.problem();
    let board =
        |strip: u32| { boards.iter() }.position(|[all, _]| problem.one_board(all[0], strip));
    let on: SmallVec<[usize; 32]> = { fillings.offers.iter() }
        .map(|offer| board(offer.wood[0]).unwrap_or(boards.len()))
        .collect();
    let child = |filling: &Filling| {
        let [fore, aft] = filling.wood;
        let second = match fore == aft {
            true => 0,
            false => fillings.offers[aft].whole,
        };
        Child {
            parent,
            stretches: fillings.stretches(filling),
            cost: node.cost + filling.cost,
            alike: (
                [on[fore], on[aft]],
                node.begun + fillings.offers[fore].whole + second,
            ),
        }
    };
    let two_boards = |filling: &Filling| {
        let [fore, aft] = filling.wood.map(|o| on[o]);
        fore * (boards.len() + 1) + aft
    };
    // Of each two boards only so many count: dearer ways are left out before the others are sorted.
    let pairs = (boards.len() + 1) * (boards.len() + 1);
    let mut cheapest = vec![[f64::INFINITY; OF_TWO_BOARDS]; pairs];
    for filling in &fillings.all {
        let mut cost = filling.cost;
        for least in &mut cheapest[two_boards(filling)] {
            if cost < *least {
                std::mem::swap(least, &mut cost);
            }
        }
    }
    let counts =
        |filling: &&Filling| filling.cost <= cheapest[two_boards(filling)][OF_TWO_BOARDS - 1];
    let mut order: Vec<&Filling> = fillings.all.iter().filter(counts).collect();
    order.sort_by(|a, b| a.cost.total_cmp(&b.cost));
    let mut counts = vec![0; pairs];
    order.retain(|filling| {
        let count = &mut counts[two_boards(filling)];
        *count += 1;
        *count <= OF_TWO_BOARDS
    });
    order.truncate(CHILDREN);
    order.into_iter().map(child).collect()
}

/// The wood to go on with: what lies on the courses beside, the next pairs of these boards either way, and the pairs at
/// both ends of each board; all both ways round.
fn wood(draft: &Draft, row: usize, boards: &[[Vec<u32>; 2]]) -> Vec<[u32; 2]> {
    let problem = draft.problem();
    let rows = &problem.rows;
    let before = rows[row].before;
    let after = rows[row].after;
    let further = [
        before.and_then(|row| rows[row].before),
        after.and_then(|row| rows[row].after),
    ];
    let beside = [before, after].into_iter().chain(further).flatten();
    let parts = beside.flat_map(|row| draft.timber(row));
    let here: SmallVec<[[u32; 2]; 16]> = parts.map(|part| part.wood).collect();
    // No piece of a course in two is shorter.
    let least = problem.shortest + problem.half_scarf;
    let mut found: Vec<[u32; 2]> = Vec::new();
    for both in boards {
        for strips in both {
            found.extend(pick::pairs(draft, row, strips, least, 1));
        }
        for wood in { here.iter() }.filter(|wood| problem.one_board(wood[0], both[0][0])) {
            found.push(*wood);
            for strips in both {
                let last = strips.iter().rposition(|strip| wood.contains(strip));
                let next = &strips[last.map_or(0, |last| last + 1)..];
                found.extend(pick::pairs(draft, row, next, least, 2));
            }
        }
    }
    found.extend(problem.labels.wood(row));
    let mut all: Vec<[u32; 2]> = { found.into_iter() }
        .flat_map(|wood| [wood, swapped(wood)])
        .collect();
    all.sort_unstable();
    all.dedup();
    all
}
