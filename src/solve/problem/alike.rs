//! Which strips would look best beside one.

use super::{Problem, Wood};
use crate::solve::tuning::problem::{ALIKE, NEAR_IN_COLOUR};
use std::cmp::Ordering;
use std::sync::OnceLock;

/// For each strip, the others that would look best beside it on one side, best first.
#[derive(Clone, Debug, Default)]
pub struct Alike {
    lists: Vec<OnceLock<Vec<u32>>>,
    /// In a rack too large to hold each strip against all others: those with clear wood, from dark to light.
    by_lightness: Vec<u32>,
}

impl Alike {
    /// Every strip held against every other.
    pub fn of_all(problem: &Problem) -> Alike {
        let all = 0..problem.woods.len() as u32;
        let list = |a| {
            OnceLock::from(best(
                problem,
                a,
                all.clone().filter(|&b| is_there(&problem.woods, b)),
            ))
        };
        Alike {
            lists: all.clone().map(list).collect(),
            by_lightness: Vec::new(),
        }
    }

    /// Each strip held against those nearest to it in lightness and in its board, once that is asked for.
    pub fn of_nearest(problem: &Problem) -> Alike {
        let all = 0..problem.woods.len() as u32;
        let mut by_lightness: Vec<u32> = all
            .filter(|&strip| is_there(&problem.woods, strip))
            .collect();
        by_lightness.sort_by(|a, b| order(problem, *a, *b));
        Alike {
            lists: vec![OnceLock::new(); problem.woods.len()],
            by_lightness,
        }
    }

    /// Those that would look best beside a strip, best first.
    #[inline]
    pub fn to<'a>(&'a self, problem: &Problem, strip: u32) -> &'a [u32] {
        self.lists[strip as usize].get_or_init(|| {
            let place = |strip: u32| {
                self.by_lightness
                    .binary_search_by(|other| order(problem, *other, strip))
            };
            let at = place(strip).unwrap_or_else(|at| at);
            let to = (at + NEAR_IN_COLOUR).min(self.by_lightness.len());
            let near = &self.by_lightness[at.saturating_sub(NEAR_IN_COLOUR)..to];
            let mates = problem.mates[strip as usize]
                .iter()
                .filter(|mate| place(**mate).is_ok());
            let mut others: Vec<u32> = near.iter().chain(mates).copied().collect();
            others.sort_unstable();
            others.dedup();
            best(problem, strip, others.into_iter())
        })
    }

    /// How many strips were held against others so far.
    #[cfg(test)]
    pub fn worked_out(&self) -> usize {
        let lists = self.lists.iter();
        lists.filter(|list| list.get().is_some()).count()
    }

    /// With so many strips more, which nobody looks for by their looks.
    pub fn with_more(mut self, more: usize) -> Alike {
        let now = self.lists.len() + more;
        self.lists.resize(now, OnceLock::from(Vec::new()));
        self
    }
}

fn is_there(woods: &[Wood], strip: u32) -> bool {
    !woods[strip as usize].clear.is_empty()
}

/// From dark to light, and by number where two are alike.
fn order(problem: &Problem, a: u32, b: u32) -> Ordering {
    let lightness = problem.lightness[a as usize].total_cmp(&problem.lightness[b as usize]);
    lightness.then(a.cmp(&b))
}

fn best(problem: &Problem, a: u32, others: impl Iterator<Item = u32>) -> Vec<u32> {
    let others = others.filter(|&b| b != a);
    let mut others: Vec<(f64, u32)> = others.map(|b| (problem.seam_rate(a, b), b)).collect();
    let by_rate = |x: &(f64, u32), y: &(f64, u32)| x.0.total_cmp(&y.0).then(x.1.cmp(&y.1));
    if others.len() > ALIKE {
        others.select_nth_unstable_by(ALIKE, by_rate);
        others.truncate(ALIKE);
    }
    others.sort_by(by_rate);
    others.into_iter().map(|(_, b)| b).collect()
}
