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
    /// What each piece is charged, by the metre and the more the shorter it is; what the pieces of a course are charged comes off what its
    /// joints cost. Nothing where there are no joints. Unit: ΔE00·metre a piece.
    pub charge: f64,
    /// The longest stretch of any strip that a piece could be cut from.
    longest: i64,
}

/// The part of the cheapest joint that each piece is charged. Any part will do: a large one makes strips that lie on many courses at
/// one place dear, a small one leaves more for the joints that a course can't do without.
const CHARGED: f64 = 0.75;

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
        let joint = joints.map(|row| least_joint(problem, row)).reduce(f64::min);
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
            charge: CHARGED * joint.unwrap_or(0.0),
            longest: problem
                .woods
                .iter()
                .flat_map(|wood| wood.clear.iter())
                .map(|(a, b)| b - a)
                .max()
                .unwrap_or(0),
            needs,
        }
    }

    /// Whether a piece for a course could be cut from a stretch so long.
    pub fn fits(&self, row: usize, long: i64) -> bool {
        long >= self.needs[row]
    }

    /// The fewest and the most joints that a course can have. Pieces overlap by a scarf at each; source: model, rules 1, 4 and 7.
    pub fn joints(&self, problem: &Problem, row: usize) -> (usize, usize) {
        let r = &problem.rows[row];
        if r.joint_windows.is_empty() {
            return (0, 0);
        }
        let least = (0..=problem.most).find(|&joints| {
            let joined = 2 * problem.half_scarf * joints as i64;
            self.longest * (joints as i64 + 1) >= r.one_piece() + joined
        });
        (least.unwrap_or(problem.most), problem.most)
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

/// What a joint of a course costs at least, the colour step left out.
pub fn least_joint(problem: &Problem, row: usize) -> f64 {
    problem.weights.joint * least_weight(problem, row)
}

/// The least weight of what shows anywhere along a course.
pub fn least_weight(problem: &Problem, row: usize) -> f64 {
    let r = &problem.rows[row];
    let breaks = r.look.breaks();
    let between = breaks.windows(2).map(|ends| 0.5 * (ends[0] + ends[1]));
    let all = breaks.iter().copied().chain(between);
    all.map(|x| r.weight(x)).fold(f64::INFINITY, f64::min)
}
