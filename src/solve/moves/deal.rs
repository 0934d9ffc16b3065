//! Courses that don't touch each other share their wood out anew, in the best possible way.
//!
//! With their neighbours fixed, what one of them costs does not depend on the others: a linear assignment. Either whole
//! pairs are dealt, or port stays and only the starboard strips are.

use crate::solve::draft::Draft;
use crate::solve::exact::assign;
use crate::solve::problem::NONE;
use crate::solve::rng::SearchRng;
use crate::solve::state::Change;
use crate::solve::timber::swapped;
use crate::solve::tuning::moves::DEALT;
use rand::RngExt;
use rand::seq::SliceRandom;

/// Stands for "does not fit"; far above any real cost, far below where sums lose digits.
const NO_FIT: f64 = 1e9;

/// Courses of one part whose strips serve nothing else, no two of them neighbours, are dealt anew.
pub fn propose(mut draft: Draft, rng: &mut SearchRng) -> Option<Change> {
    let state = draft.state;
    let problem = state.problem;
    let mirrored = problem.rows[rng.random_range(0..problem.rows.len())].mirrored;
    let mut rows: Vec<usize> = (0..problem.rows.len())
        .filter(|&row| problem.rows[row].mirrored == mirrored)
        .collect();
    rows.shuffle(rng);
    let most = if rng.random_bool(0.3) {
        DEALT
    } else {
        rng.random_range(3..=DEALT)
    };
    let mut taken: Vec<usize> = Vec::new();
    for row in rows {
        let timber = state.timber(row);
        let alone = timber.len() == 1
            && timber[0]
                .sides()
                .all(|side| state.rack().pieces(timber[0].wood[side]) == 1);
        let beside = problem.rows[row]
            .seams
            .iter()
            .any(|seam| taken.contains(&problem.seams[*seam].beside(row)));
        if alone && !beside && taken.len() < most {
            taken.push(row);
        }
    }
    if taken.len() < 2 {
        return None;
    }
    let parts: Vec<_> = taken.iter().map(|&row| state.timber(row)[0]).collect();
    taken.iter().for_each(|&row| draft.strip(row));
    let mut woods: Vec<[u32; 2]> = parts.iter().map(|part| part.wood).collect();
    let starboard_only = mirrored && rng.random_bool(0.3);
    if !starboard_only {
        for _ in 0..taken.len().min(12) {
            let strip = rng.random_range(0..problem.woods.len() as u32);
            if let Some(spare) = spare(&draft, strip, mirrored)
                && woods.iter().all(|wood| {
                    !wood.contains(&spare[0]) && (spare[1] == NONE || !wood.contains(&spare[1]))
                })
            {
                woods.push(spare);
            }
        }
    }
    let mut cost = vec![NO_FIT; taken.len() * woods.len()];
    let mut turned = vec![false; cost.len()];
    for (i, (&row, part)) in taken.iter().zip(&parts).enumerate() {
        for (j, &wood) in woods.iter().enumerate() {
            let ways = if starboard_only {
                [[part.wood[0], wood[1]], [part.wood[0], wood[1]]]
            } else {
                [wood, swapped(wood)]
            };
            for (way, wood) in ways.into_iter().enumerate() {
                if let Some(seated) = draft.seat(row, part, wood) {
                    let at = i * woods.len() + j;
                    // Taken alone, wood that another course gives up looks as if it were cut already: it is not free.
                    let given_up = if i == j || j >= parts.len() {
                        0
                    } else {
                        part.sides().len() - usize::from(starboard_only)
                    };
                    let price = state.price(&[(row, [seated].into_iter().collect())])
                        + problem.weights.cut * given_up as f64;
                    if price < cost[at] {
                        cost[at] = price;
                        turned[at] = way == 1;
                    }
                }
            }
        }
    }
    let column = assign(&cost, woods.len());
    for (i, (&row, part)) in taken.iter().zip(&parts).enumerate() {
        let at = i * woods.len() + column[i];
        let wood = woods[column[i]];
        let wood = match (starboard_only, turned[at]) {
            (true, _) => [part.wood[0], wood[1]],
            (false, true) => swapped(wood),
            (false, false) => wood,
        };
        if cost[at] >= NO_FIT || !draft.put(row, part, wood) {
            return None;
        }
    }
    Some(draft.finish())
}

/// A strip still whole, with a mate that is whole as well where one is needed.
fn spare(draft: &Draft, strip: u32, mirrored: bool) -> Option<[u32; 2]> {
    let whole =
        |strip: u32| draft.state.rack().is_whole(strip) && !draft.room([strip, NONE]).is_empty();
    if !whole(strip) {
        return None;
    }
    if !mirrored {
        return Some([strip, NONE]);
    }
    let mate = draft.problem().mates[strip as usize]
        .iter()
        .copied()
        .find(|&mate| whole(mate))?;
    Some([strip, mate])
}
