//! How to cut many short lengths from the fewest strips: the cutting-stock problem, over all ways to fill a strip.
//!
//! Source: P. C. Gilmore and R. E. Gomory, "A Linear Programming Approach to the Cutting-Stock Problem", Operations
//! Research 9 (1961) (citation from memory). Here every maximal pattern is written out, which short lists of lengths allow.

use good_lp::{Expression, ProblemVariables, Solution, SolverModel, Variable, microlp, variable};

/// Strips alike: the room on each, and how many there are. Unit: nm.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Bars {
    /// Room on each.
    pub room: i64,
    /// How many.
    pub count: usize,
}

/// Pieces alike. Unit: nm.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Lengths {
    /// Length of each.
    pub length: i64,
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

/// More ways to fill a strip than this, and the problem is left to the search.
const MOST_PATTERNS: usize = 4000;

/// Fillings that use few strips, nearly always the fewest; `None` where the list is too long or the strips don't do.
///
/// The relaxed problem is solved first and its whole part kept; what is left over is small enough to be solved in whole numbers.
pub fn pack(bars: &[Bars], lengths: &[Lengths], saw: i64) -> Option<Vec<Filling>> {
    let patterns = patterns(bars, lengths, saw)?;
    let demand: Vec<usize> = lengths.iter().map(|l| l.count).collect();
    let stock: Vec<usize> = bars.iter().map(|b| b.count).collect();
    let relaxed = solve(&patterns, &demand, &stock, false)?;
    let mut used: Vec<usize> = relaxed
        .iter()
        .map(|x| (x + 1e-6).floor() as usize)
        .collect();
    // A little more is left open than need be: the last strips are where whole numbers bite.
    for count in &mut used {
        *count -= usize::from(*count > 0);
    }
    let mut left = demand.clone();
    let mut room = stock.clone();
    for (pattern, &count) in patterns.iter().zip(&used) {
        room[pattern.bar] = room[pattern.bar].checked_sub(count)?;
        for (l, n) in left.iter_mut().zip(&pattern.pieces) {
            *l = l.saturating_sub(n * count);
        }
    }
    let rest = solve(&patterns, &left, &room, true)?;
    let mut fillings = Vec::new();
    let mut due = demand;
    for ((pattern, count), rest) in patterns.iter().zip(used).zip(rest) {
        for _ in 0..count + rest.round() as usize {
            let pieces: Vec<usize> = pattern
                .pieces
                .iter()
                .zip(&due)
                .map(|(n, due)| *n.min(due))
                .collect();
            for (due, n) in due.iter_mut().zip(&pieces) {
                *due -= n;
            }
            if pieces.iter().any(|n| *n > 0) {
                fillings.push(Filling {
                    bar: pattern.bar,
                    pieces,
                });
            }
        }
    }
    due.iter().all(|due| *due == 0).then_some(fillings)
}

/// Every way to fill a strip to which no further piece can be added.
fn patterns(bars: &[Bars], lengths: &[Lengths], saw: i64) -> Option<Vec<Filling>> {
    let mut all = Vec::new();
    for (bar, bars) in bars.iter().enumerate() {
        let mut pieces = vec![0; lengths.len()];
        // A piece takes its length and a cut; the last needs no cut behind it.
        extend(&mut all, bar, bars.room + saw, lengths, saw, 0, &mut pieces)?;
    }
    Some(all)
}

fn extend(
    all: &mut Vec<Filling>,
    bar: usize,
    room: i64,
    lengths: &[Lengths],
    saw: i64,
    at: usize,
    pieces: &mut Vec<usize>,
) -> Option<()> {
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
    let each = (lengths[at].length + saw).max(1);
    let most = (room / each).min(lengths[at].count as i64);
    for n in (0..=most).rev() {
        pieces[at] = n as usize;
        extend(all, bar, room - n * each, lengths, saw, at + 1, pieces)?;
    }
    pieces[at] = 0;
    Some(())
}

/// How often each pattern is used, in whole numbers or relaxed, at the fewest strips.
fn solve(patterns: &[Filling], demand: &[usize], stock: &[usize], whole: bool) -> Option<Vec<f64>> {
    if demand.iter().all(|d| *d == 0) {
        return Some(vec![0.0; patterns.len()]);
    }
    let mut variables = ProblemVariables::new();
    let times: Vec<Variable> = patterns
        .iter()
        .map(|_| {
            let times = variable().min(0);
            variables.add(if whole { times.integer() } else { times })
        })
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
        let halves = [Lengths {
            length: 100,
            count: 4,
        }];
        let strips = |room| pack(&[Bars { room, count: 9 }], &halves, 3).map(|f| f.len());
        assert_eq!(strips(203), Some(2));
        assert_eq!(strips(202), Some(4));
        assert_eq!(
            pack(
                &[Bars {
                    room: 203,
                    count: 1
                }],
                &halves,
                3
            ),
            None
        );
    }
}
