//! How to cut many short lengths from the fewest strips: the cutting-stock problem, over all ways to fill a strip.
//!
//! Source: P. C. Gilmore and R. E. Gomory, "A Linear Programming Approach to the Cutting-Stock Problem", Operations
//! Research 9 (1961) (citation from memory). Here every maximal pattern is written out, which short lists of lengths
//! allow.

use crate::solve::tuning::packing::{DIVES, MOST_LOOKS, MOST_PATTERNS};
use crate::units::Length;
use good_lp::{Expression, ProblemVariables, Solution, SolverModel, Variable, microlp, variable};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// Strips alike: the room on each, and how many there are.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Bars {
    /// Room on each.
    pub room: Length,
    /// How many.
    pub count: usize,
}

/// Pieces alike.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Lengths {
    /// Length of each.
    pub length: Length,
    /// How many are needed.
    pub count: usize,
}

/// A strip of one class, and how many pieces of each length come from it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Filling {
    /// Number in the list of bars.
    pub bar: usize,
    /// Pieces of each length, in the order of the list of lengths.
    pub pieces: Vec<usize>,
}

/// Fillings that use few strips, nearly always the fewest; `None` where the list is too long or the strips don't do.
///
/// The relaxed problem is solved, the whole part of its answer kept, and one more strip filled as the largest fraction
/// says, until all is cut (a dive). Other dives follow another fraction now and then, until one uses as few strips as
/// the relaxed problem proves to be needed.
pub fn pack(bars: &[Bars], lengths: &[Lengths], saw: Length) -> Option<Vec<Filling>> {
    let patterns = patterns(bars, lengths, saw)?;
    let demand: Vec<usize> = lengths.iter().map(|l| l.count).collect();
    let stock: Vec<usize> = bars.iter().map(|b| b.count).collect();
    let first = relaxed(&patterns, &demand, &stock)?;
    let needed = (first.iter().sum::<f64>() - 1e-6).ceil() as usize;
    let mut best: Option<Vec<usize>> = None;
    for dive_number in 0..DIVES {
        let Some(used) = dive(
            &patterns,
            demand.clone(),
            stock.clone(),
            first.clone(),
            dive_number,
        ) else {
            continue;
        };
        let strips = |used: &[usize]| used.iter().sum::<usize>();
        if best
            .as_ref()
            .is_none_or(|best| strips(&used) < strips(best))
        {
            let enough = strips(&used) <= needed;
            best = Some(used);
            if enough {
                break;
            }
        }
    }
    Some(fillings(&patterns, &best?, demand))
}

/// How often each pattern is used when the answers to the relaxed problem are followed down. The first follows the
/// largest fraction each time; the others draw which, and how much of the whole part they hold back for a better fit.
fn dive(
    patterns: &[Filling],
    mut due: Vec<usize>,
    mut stock: Vec<usize>,
    mut answer: Vec<f64>,
    number: u32,
) -> Option<Vec<usize>> {
    let mut used = vec![0; patterns.len()];
    let mut rng = Pcg64Mcg::seed_from_u64(u64::from(number));
    loop {
        let mut fill = |pattern: usize, times: usize| -> Option<()> {
            stock[patterns[pattern].bar] = stock[patterns[pattern].bar].checked_sub(times)?;
            used[pattern] += times;
            for (due, n) in due.iter_mut().zip(&patterns[pattern].pieces) {
                *due = due.saturating_sub(n * times);
            }
            Some(())
        };
        for (pattern, x) in answer.iter().enumerate() {
            let whole = (x + 1e-6).floor() as usize;
            let held_back = usize::from(number > 0 && whole > 0 && rng.random_bool(0.3));
            fill(pattern, whole - held_back)?;
        }
        let mut follow: Option<(f64, usize)> = None;
        for (pattern, x) in answer.iter().enumerate().filter(|(_, x)| x.fract() > 1e-6) {
            let by = if number == 0 {
                x.fract()
            } else {
                x.fract() * rng.random::<f64>()
            };
            if follow.is_none_or(|(most, _)| by > most) {
                follow = Some((by, pattern));
            }
        }
        if let Some((_, pattern)) = follow {
            fill(pattern, 1)?;
        }
        if due.iter().all(|due| *due == 0) {
            return Some(used);
        }
        answer = relaxed(patterns, &due, &stock)?;
    }
}

/// The patterns as fillings, without the pieces that are more than needed.
fn fillings(patterns: &[Filling], used: &[usize], mut due: Vec<usize>) -> Vec<Filling> {
    let mut fillings = Vec::new();
    for (pattern, &count) in patterns.iter().zip(used) {
        for _ in 0..count {
            let pieces: Vec<usize> = pattern
                .pieces
                .iter()
                .zip(&due)
                .map(|(n, due)| *n.min(due))
                .collect();
            due.iter_mut().zip(&pieces).for_each(|(due, n)| *due -= n);
            if pieces.iter().any(|n| *n > 0) {
                fillings.push(Filling {
                    bar: pattern.bar,
                    pieces,
                });
            }
        }
    }
    fillings
}

/// Every way to fill a strip to which no further piece can be added.
fn patterns(bars: &[Bars], lengths: &[Lengths], saw: Length) -> Option<Vec<Filling>> {
    let mut all = Vec::new();
    let mut looks = 0;
    for (bar, bars) in bars.iter().enumerate() {
        let mut pieces = vec![0; lengths.len()];
        // A piece takes its length and a cut; the last needs no cut behind it.
        extend(
            &mut all,
            &mut looks,
            bar,
            bars.room + saw,
            lengths,
            saw,
            0,
            &mut pieces,
        )?;
    }
    Some(all)
}

// A recursion: each is a different thing, and all of them change or are needed at the leaf.
#[allow(clippy::too_many_arguments)]
fn extend(
    all: &mut Vec<Filling>,
    looks: &mut usize,
    bar: usize,
    room: Length,
    lengths: &[Lengths],
    saw: Length,
    at: usize,
    pieces: &mut Vec<usize>,
) -> Option<()> {
    *looks += 1;
    if *looks > MOST_LOOKS {
        return None;
    }
    if at == lengths.len() {
        let maximal = lengths
            .iter()
            .zip(pieces.iter())
            .all(|(l, &n)| n >= l.count || l.length + saw > room);
        if maximal && pieces.iter().any(|&n| n > 0) {
            all.push(Filling {
                bar,
                pieces: pieces.clone(),
            });
        }
        return (all.len() <= MOST_PATTERNS).then_some(());
    }
    let each = (lengths[at].length + saw).max(Length::NM);
    let most = (room / each).min(lengths[at].count as i64);
    for n in (0..=most).rev() {
        pieces[at] = n as usize;
        extend(
            all,
            looks,
            bar,
            room - each * n,
            lengths,
            saw,
            at + 1,
            pieces,
        )?;
    }
    pieces[at] = 0;
    Some(())
}

/// How often each pattern would be used at the fewest strips, if strips could be used in part.
fn relaxed(patterns: &[Filling], demand: &[usize], stock: &[usize]) -> Option<Vec<f64>> {
    let mut variables = ProblemVariables::new();
    let times: Vec<Variable> = patterns
        .iter()
        .map(|_| variables.add(variable().min(0)))
        .collect();
    let count = |weight: &dyn Fn(&Filling) -> f64| -> Expression {
        patterns
            .iter()
            .zip(&times)
            .map(|(pattern, &times)| weight(pattern) * times)
            .sum()
    };
    let mut model = variables.minimise(count(&|_| 1.0)).using(microlp);
    for (i, &due) in demand.iter().enumerate().filter(|(_, due)| **due > 0) {
        model.add_constraint(count(&|pattern| pattern.pieces[i] as f64).geq(due as f64));
    }
    for (bar, &strips) in stock.iter().enumerate() {
        model.add_constraint(
            count(&|pattern| f64::from(u8::from(pattern.bar == bar))).leq(strips as f64),
        );
    }
    // No solution, or the solver giving up, both mean that the search must do without this start.
    let solution = model.solve().ok()?;
    Some(times.iter().map(|&t| solution.value(t)).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_halves_and_a_cut_need_a_strip_that_is_longer_by_the_cut() {
        let nm = Length::from_nm;
        let halves = [Lengths {
            length: nm(100),
            count: 4,
        }];
        let pack = |room, count| {
            let room = nm(room);
            pack(&[Bars { room, count }], &halves, nm(3))
        };
        let strips = |room| pack(room, 9).map(|f| f.len());
        assert_eq!(strips(203), Some(2));
        assert_eq!(strips(202), Some(4));
        assert_eq!(pack(203, 1), None);
    }
}
