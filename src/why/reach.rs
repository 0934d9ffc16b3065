//! How far wood can reach along one course, were every strip free for it: an exact programme over all places for its
//! joints.
//!
//! It asks less than the model does: mates need not be cut at the same place, and each piece may have the best wood
//! that its rank allows. What can't be done even so can't be done at all; that is what makes it a proof.

use crate::solve::problem::{Problem, Row, Span};
use crate::units::Length;
use std::collections::BTreeMap;

/// Stretches along the skin, in order, that don't touch.
pub(super) type Stretches = Vec<Span>;

/// Pieces of one course that are told apart by rank. Beyond it every piece may have the best wood there is. Why: the
/// programme goes over all orders of the ranks.
const RANKED: usize = 6;

/// What the rack can give courses of each kind in so many pieces: the same for all of them, and gathered once.
#[derive(Default)]
pub(super) struct Supplies(BTreeMap<(bool, usize), Vec<Length>>);

impl Supplies {
    fn of(&mut self, problem: &Problem, mirrored: bool, ranks: usize) -> &[Length] {
        let gathered = self.0.entry((mirrored, ranks));
        gathered.or_insert_with(|| supplies(problem, mirrored, ranks))
    }
}

/// The longest pieces that the rack can give at once: the first for the longest piece, and so on.
///
/// Of a strip's clear stretch, the second piece is at most half of it, the third a third. A mirrored course takes each
/// length twice.
fn supplies(problem: &Problem, mirrored: bool, ranks: usize) -> Vec<Length> {
    let times = if mirrored { 2 } else { 1 };
    let wanted = times * ranks;
    let mut all: Vec<Length> = Vec::new();
    for wood in &problem.woods {
        for &(from, to) in &wood.clear {
            for share in 1..=wanted as i64 {
                all.push((to - from - problem.saw * (share - 1)) / share);
            }
        }
    }
    all.sort_unstable_by_key(|length| std::cmp::Reverse(*length));
    all.into_iter()
        .skip(times - 1)
        .step_by(times)
        .take(ranks)
        .collect()
}

/// Where joints may lie on a course, over all ways to lay it with the wood of these supplies; `None` where there is no
/// way.
///
/// Empty where the course can be laid in one piece, for then it needs no joint.
pub(super) fn joints(problem: &Problem, row: &Row, supplies: &mut Supplies) -> Option<Stretches> {
    let most = match row.joint_windows.is_empty() {
        true => 1,
        false => problem.most.saturating_add(1),
    };
    // No more pieces than fit: each has some length, and in the end a nanometre.
    let fit = (row.length / problem.shortest).max(1);
    let most = most.min(usize::try_from(fit).unwrap_or(usize::MAX));
    let ranks = most.min(RANKED);
    let supplies = supplies.of(problem, row.mirrored, ranks);
    if supplies
        .first()
        .is_some_and(|&longest| row.one_piece() <= longest)
    {
        return Some(Stretches::new());
    }
    let mut places = Stretches::new();
    let mut found = false;
    for pieces in 2..=ranks {
        if supplies.len() < pieces {
            break;
        }
        if let Some(more) = in_pieces(problem, row, &supplies[..pieces]) {
            found = true;
            places.extend(more);
        }
    }
    if most > RANKED
        && supplies
            .first()
            .is_some_and(|&longest| endless(problem, row, longest))
    {
        // More pieces than are told apart: joints anywhere.
        found = true;
        places.extend(&row.joint_windows);
    }
    found.then(|| merged(places))
}

/// The joints of all ways to lay the course in as many pieces as there are supplies, each used once.
fn in_pieces(problem: &Problem, row: &Row, supplies: &[Length]) -> Option<Stretches> {
    let all = (1usize << supplies.len()) - 1;
    let ahead = reached(problem, row, supplies, Toward::Stern);
    let abaft = reached(problem, row, supplies, Toward::Bow);
    let mut places = Stretches::new();
    for mask in 1..all {
        places.extend(both(&ahead[mask], &abaft[all ^ mask]));
    }
    (!places.is_empty()).then(|| merged(places))
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Toward {
    Bow,
    Stern,
}

/// For each choice of supplies, where the joint behind them may lie when they are laid from one end on.
fn reached(problem: &Problem, row: &Row, supplies: &[Length], toward: Toward) -> Vec<Stretches> {
    let half = problem.half_scarf;
    let mut reached = vec![Stretches::new(); 1 << supplies.len()];
    for mask in 1..reached.len() {
        let mut places = Stretches::new();
        for (i, &supply) in supplies
            .iter()
            .enumerate()
            .filter(|(i, _)| mask & (1 << i) != 0)
        {
            let before = mask & !(1 << i);
            let starts = match (before, toward) {
                (0, Toward::Stern) => vec![(Length::ZERO, Length::ZERO)],
                (0, Toward::Bow) => vec![(row.length, row.length)],
                _ => reached[before].clone(),
            };
            let behind = match (before, toward) {
                (0, Toward::Stern) => row.allow[0],
                (0, Toward::Bow) => row.allow[1],
                _ => half,
            };
            let longest = supply - behind - half;
            if longest < problem.shortest {
                continue;
            }
            places.extend(starts.into_iter().map(|(from, to)| match toward {
                Toward::Stern => (from + problem.shortest, to + longest),
                Toward::Bow => (from - longest, to - problem.shortest),
            }));
        }
        reached[mask] = both(&merged(places), &row.joint_windows);
    }
    reached
}

/// Whether the course could be laid in any number of pieces up to the most, all as long as the longest.
fn endless(problem: &Problem, row: &Row, longest: Length) -> bool {
    let (half, shortest) = (problem.half_scarf, problem.shortest);
    let mut places = vec![(Length::ZERO, Length::ZERO)];
    let mut behind = row.allow[0];
    for _ in 0..problem.most {
        let ends = |&(from, to): &Span| {
            row.length - to <= longest - behind - row.allow[1] && row.length - from >= shortest
        };
        if places.iter().any(ends) {
            return true;
        }
        let reach = longest - behind - half;
        if reach < shortest {
            return false;
        }
        let next = merged(
            places
                .iter()
                .map(|&(a, b)| (a + shortest, b + reach))
                .collect(),
        );
        let next = merged([both(&next, &row.joint_windows), places.clone()].concat());
        if next == places {
            return false;
        }
        (places, behind) = (next, half);
    }
    places.iter().any(|&(from, to)| {
        row.length - to <= longest - half - row.allow[1] && row.length - from >= shortest
    })
}

/// The stretches that two lists share; a single place counts.
pub(super) fn both(one: &[Span], other: &[Span]) -> Stretches {
    let mut shared = Stretches::new();
    for &(a, b) in one {
        for &(c, d) in other {
            if a.max(c) <= b.min(d) {
                shared.push((a.max(c), b.min(d)));
            }
        }
    }
    merged(shared)
}

/// The same places, in order, each once.
pub(super) fn merged(mut all: Stretches) -> Stretches {
    all.retain(|(from, to)| from <= to);
    all.sort_unstable();
    let mut once = Stretches::new();
    for (from, to) in all {
        match once.last_mut() {
            Some((_, end)) if from <= *end => *end = to.max(*end),
            _ => once.push((from, to)),
        }
    }
    once
}
