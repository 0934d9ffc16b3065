//! A plan under way: what lies on each course, what is cut from each strip, and what it all costs, kept up to date.

use super::price::{self, Beside};
use super::problem::Problem;
use super::rack::Rack;
use super::relabel::new_labels;
use super::timber::{Part, Timber, joints};
use crate::solve::tuning::state::OPEN;
use crate::units::Length;
use smallvec::{SmallVec, smallvec};

/// Courses with the timber that is to lie on them instead. At most a few, never the same course twice.
pub type Change = SmallVec<[(usize, Timber); 4]>;

/// The joints of the courses near one, which its own must keep clear of.
pub struct NearJoints {
    /// Where they lie. Unit: mm along the boat.
    at: SmallVec<[f64; 16]>,
    clear: f64,
}

impl NearJoints {
    /// Whether a joint there would keep clear of all of them. Unit of `x`: mm along the boat.
    pub fn are_clear_of(&self, x: f64) -> bool {
        self.at
            .iter()
            .all(|other| (x - other).abs() >= self.clear - 1e-6)
    }
}

/// A plan under way.
#[derive(Clone)]
pub struct State<'a> {
    /// The problem it is a plan for.
    pub problem: &'a Problem,
    timber: Vec<Timber>,
    rack: Rack,
    /// Mates, joints and new labels of each course.
    own: Vec<f64>,
    /// What each seam costs.
    seam: Vec<f64>,
    open: Length,
    focus: Vec<usize>,
}

impl<'a> State<'a> {
    /// The bare boat: every course open.
    pub fn bare(problem: &'a Problem) -> State<'a> {
        let n = problem.rows.len();
        State {
            problem,
            timber: vec![Timber::new(); n],
            rack: Rack::before(problem),
            own: vec![0.0; n],
            seam: vec![0.0; problem.seams.len()],
            open: problem.rows.iter().map(|row| row.length).sum(),
            focus: Vec::new(),
        }
    }

    /// What lies on a course; nothing where it is open.
    pub fn timber(&self, row: usize) -> &Timber {
        &self.timber[row]
    }

    /// The courses that moves are drawn from. All courses where there are none.
    pub fn focus(&self) -> &[usize] {
        &self.focus
    }

    /// Draws moves from these courses only.
    pub fn work_on(&mut self, rows: Vec<usize>) {
        self.focus = rows;
    }

    /// What is cut from the strips.
    pub fn rack(&self) -> &Rack {
        &self.rack
    }

    /// Whether every course is laid.
    pub fn is_covered(&self) -> bool {
        self.open == Length::ZERO
    }

    /// Length of course left open.
    pub fn open(&self) -> Length {
        self.open
    }

    /// What the plan costs, open courses aside. Summed afresh, so that no error builds up.
    pub fn cost(&self) -> f64 {
        self.own.iter().sum::<f64>()
            + self.seam.iter().sum::<f64>()
            + self.problem.weights.cut * self.rack.used() as f64
    }

    /// The cost, and first of all a large price on every metre left open.
    pub fn worth(&self) -> f64 {
        self.cost() + OPEN * self.open.nm() as f64 / 1e9
    }

    /// The term by term cost.
    pub fn terms(&self) -> crate::plan::Cost {
        let all = 0..self.timber.len();
        let seams = self.problem.seams.iter();
        let drifts = seams.map(|seam| {
            price::drift(
                self.problem,
                seam,
                &self.timber[seam.upper],
                &self.timber[seam.lower],
            )
        });
        let drift = drifts.fold(0.0, |sum, drift| sum + drift);
        crate::plan::Cost {
            seam: self.seam.iter().sum::<f64>() - drift,
            matching: all
                .clone()
                .map(|i| price::matching(self.problem, i, &self.timber[i]))
                .sum(),
            joint: all
                .map(|i| price::joints(self.problem, i, &self.timber[i]))
                .sum(),
            drift,
            thrift: self.problem.weights.cut * self.rack.used() as f64,
            moved: self.problem.weights.relabel * self.moved() as f64,
        }
    }

    /// Lays a course anew; empty timber leaves it open. The caller has made sure that the wood is there.
    pub fn lay(&mut self, row: usize, timber: Timber) {
        self.make(smallvec![(row, timber)]);
    }

    /// Makes a change.
    pub fn make(&mut self, change: Change) {
        let problem = self.problem;
        let mut seams: SmallVec<[usize; 8]> = SmallVec::new();
        // All out of the rack first: the courses may be passing strips between them.
        for (row, _) in &change {
            self.lift(*row);
            add_new(&mut seams, &problem.rows[*row].seams);
        }
        for (row, timber) in change {
            self.put(row, timber);
        }
        for seam in seams {
            self.seam[seam] = self.seam_cost(seam, &[]);
        }
    }

    /// Takes the timber off a course; the caller brings the costs of its seams up to date.
    fn lift(&mut self, row: usize) {
        let was = std::mem::take(&mut self.timber[row]);
        for part in &was {
            self.rack.put_back(self.problem, row, part);
        }
        if !was.is_empty() {
            self.open += self.problem.rows[row].length;
        }
    }

    /// Lays timber on an open course, but for what its seams cost.
    fn put(&mut self, row: usize, timber: Timber) {
        for part in &timber {
            self.rack.cut(self.problem, row, part);
        }
        if !timber.is_empty() {
            self.open = self.open - self.problem.rows[row].length;
        }
        self.own[row] = price::own(self.problem, row, &timber);
        self.timber[row] = timber;
    }

    /// By how much [`State::worth`] would change. The caller has made sure that the wood is there.
    pub fn price(&self, change: &[(usize, Timber)]) -> f64 {
        let opened = change.iter().map(|(row, timber)| {
            let opened = i32::from(timber.is_empty()) - i32::from(self.timber[*row].is_empty());
            f64::from(opened) * self.problem.rows[*row].length.metres()
        });
        self.price_of_laid(change) + OPEN * opened.sum::<f64>()
    }

    /// What a course costs by itself, and half of its seams.
    pub fn share(&self, row: usize) -> f64 {
        let seams = self.problem.rows[row].seams.iter();
        self.own[row] + 0.5 * seams.map(|seam| self.seam[*seam]).sum::<f64>()
    }

    /// By how much [`State::cost`] would change.
    pub fn price_of_laid(&self, change: &[(usize, Timber)]) -> f64 {
        let problem = self.problem;
        let mut by = 0.0;
        let mut seams: SmallVec<[usize; 8]> = SmallVec::new();
        let mut strips: SmallVec<[(u32, i32); 16]> = SmallVec::new();
        for (row, timber) in change {
            by += price::own(problem, *row, timber) - self.own[*row];
            add_new(&mut seams, &problem.rows[*row].seams);
            for (parts, count) in [(&self.timber[*row], -1), (timber, 1)] {
                for part in parts {
                    for side in part.loose_sides() {
                        match strips
                            .iter_mut()
                            .find(|(strip, _)| *strip == part.wood[side])
                        {
                            Some((_, sum)) => *sum += count,
                            None => strips.push((part.wood[side], count)),
                        }
                    }
                }
            }
        }
        for seam in seams {
            by += self.seam_cost(seam, change) - self.seam[seam];
        }
        for (strip, count) in strips.into_iter().filter(|(_, count)| *count != 0) {
            let before = self.rack.pieces(strip) as i32;
            let cut = i32::from(before + count > 0) - i32::from(before > 0);
            by += problem.weights.cut * f64::from(cut);
        }
        by
    }

    /// How many pieces need new labels beside those of the earlier plan.
    pub fn moved(&self) -> usize {
        (0..self.timber.len())
            .map(|row| new_labels(self.problem, row, &self.timber[row]))
            .sum()
    }

    /// Whether a joint at this place of a course keeps clear of the joints of near courses.
    ///
    /// Unit of `x`: mm along the boat. Source: model, rule 6.
    pub fn staggered(&self, row: usize, x: f64) -> bool {
        self.near_joints(row, &[]).are_clear_of(x)
    }

    /// The joints of the courses near one, as they would be after a change.
    pub fn near_joints(&self, row: usize, change: &[(usize, Timber)]) -> NearJoints {
        let mut at = SmallVec::new();
        for &near in &self.problem.rows[row].near {
            at.extend(joints(view(&self.timber, near, change)));
            // What is glued has its joints even while the rest of its course is open.
            at.extend(self.problem.glued_joints(near));
        }
        let clear = self.problem.clear;
        NearJoints { at, clear }
    }

    /// The seams of a course with the timber beside it, as it would be after a change.
    pub fn beside<'s>(&'s self, row: usize, change: &'s [(usize, Timber)]) -> Beside<'s> {
        let seams = self.problem.rows[row].seams.iter();
        seams
            .map(|seam| {
                let seam = &self.problem.seams[*seam];
                price::Neighbour {
                    look: &seam.look,
                    charge: match seam.upper == row {
                        true => seam.charge,
                        false => seam.charge.mirrored(),
                    },
                    parts: view(&self.timber, seam.beside(row), change),
                }
            })
            .collect()
    }

    fn seam_cost(&self, seam: usize, change: &[(usize, Timber)]) -> f64 {
        let seam = &self.problem.seams[seam];
        price::seam(
            self.problem,
            seam,
            view(&self.timber, seam.upper, change),
            view(&self.timber, seam.lower, change),
        )
    }
}

/// Adds those that are not there yet.
fn add_new(seams: &mut SmallVec<[usize; 8]>, more: &[usize]) {
    for seam in more {
        if !seams.contains(seam) {
            seams.push(*seam);
        }
    }
}

fn view<'s>(timber: &'s [Timber], row: usize, change: &'s [(usize, Timber)]) -> &'s [Part] {
    change
        .iter()
        .find(|(changed, _)| *changed == row)
        .map_or(&timber[row], |(_, timber)| timber)
}
