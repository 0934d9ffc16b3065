//! How much can be cut from each strip, and what every piece costs at least.

use crate::solve::problem::{Problem, Wood};

/// What is known of all pieces before any is cut, where strips may serve several courses. Unit: nm of strip, ΔE00·metre.
pub struct Pieces {
    /// Least that a piece takes of its strips, overlaps and allowances included, by row.
    needs: Vec<i64>,
    /// The least of those.
    least: i64,
    /// The most nominal length that can be cut from each strip. Unit: metres.
    pub metres: Vec<f64>,
    /// What a joint costs at least, wherever it lies; nothing where there are none. Each piece is charged so much, for the joint at its
    /// after end; what the last piece of a course is charged has to come off again.
    pub joint: f64,
}

impl Pieces {
    /// What is known of the pieces of a problem.
    pub fn of(problem: &Problem) -> Pieces {
        let half = problem.half_scarf;
        let least_end = |row: usize| {
            let [bow, stern] = problem.rows[row].allow;
            bow.min(stern).min(half)
        };
        let all = || 0..problem.rows.len();
        let needs: Vec<i64> = all()
            .map(|row| {
                let r = &problem.rows[row];
                match r.joint_windows.is_empty() {
                    true => r.one_piece(),
                    false => r.one_piece().min(problem.shortest + 2 * least_end(row)),
                }
            })
            .collect();
        let joints = all().filter(|&row| !problem.rows[row].joint_windows.is_empty());
        let joint = joints
            .map(|row| least_weight(problem, row))
            .reduce(f64::min);
        let least = needs.iter().copied().min().unwrap_or(0);
        let ends = 2 * all().map(least_end).min().unwrap_or(0);
        let metres = |wood: &Wood| {
            let long = wood.clear.iter().map(|(a, b)| b - a);
            let fit = long.filter(|long| *long >= least);
            fit.map(|long| (long - ends).max(0) as f64 / 1e9).sum()
        };
        Pieces {
            metres: problem.woods.iter().map(metres).collect(),
            least,
            joint: problem.weights.joint * joint.unwrap_or(0.0),
            needs,
        }
    }

    /// Whether a piece for a course could be cut from a stretch so long.
    pub fn fits(&self, row: usize, long: i64) -> bool {
        long >= self.needs[row]
    }

    /// Whether a piece for a course leaves enough of its strip for one for another course.
    pub fn leaves_another(&self, problem: &Problem, row: usize, strip: u32) -> bool {
        let clear = problem.woods[strip as usize].clear.iter();
        let (need, least) = (self.needs[row], self.least);
        let mut long: Vec<i64> = clear.map(|(a, b)| b - a).collect();
        long.sort_unstable();
        let longest = long.pop().unwrap_or(0);
        let second = long.pop().unwrap_or(0);
        longest >= need + problem.saw + least
            || (longest >= need.max(least) && second >= need.min(least))
    }
}

/// The least weight of what shows anywhere along a course.
fn least_weight(problem: &Problem, row: usize) -> f64 {
    let r = &problem.rows[row];
    let breaks = r.look.breaks();
    let between = breaks.windows(2).map(|ends| 0.5 * (ends[0] + ends[1]));
    let all = breaks.iter().copied().chain(between);
    all.map(|x| r.weight(x)).fold(f64::INFINITY, f64::min)
}
