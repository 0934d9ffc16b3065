//! A joint slides along its course, to where something stops it or to any place allowed.

use super::pick;
use crate::solve::draft::Draft;
use crate::solve::rack::longest;
use crate::solve::rng::SearchRng;
use crate::solve::state::Change;
use crate::solve::timber::{Part, joints};
use crate::units::Length;
use rand::RngExt;

/// A joint is drawn and a new place for it; both parts keep their strips.
pub fn propose(mut draft: Draft, rng: &mut SearchRng) -> Option<Change> {
    let state = draft.state;
    let problem = state.problem;
    let row = pick::laid(state, rng)?;
    let timber = state.timber(row).clone();
    if timber.len() < 2 {
        return None;
    }
    let r = &problem.rows[row];
    let joint = rng.random_range(0..timber.len() - 1);
    let half = problem.half_scarf;
    let begin = match joint {
        0 => Length::ZERO,
        _ => timber[joint].from + half,
    };
    let end = match joint + 2 == timber.len() {
        true => r.length,
        false => timber[joint + 1].to - half,
    };
    let (least, most) = (begin + problem.shortest, end - problem.shortest);
    let now = timber[joint + 1].from + half;
    draft.lift(row, |i| i == joint || i == joint + 1);
    let at = match rng.random_range(0..4) {
        0 => {
            let near = if r.near.is_empty() {
                return None;
            } else {
                r.near[rng.random_range(0..r.near.len())]
            };
            let x = joints(state.timber(near)).next()?;
            r.s(x + if rng.random_bool(0.5) {
                problem.clear
            } else {
                -problem.clear
            })
        }
        1 => {
            let (a, b) = r.joint_windows[rng.random_range(0..r.joint_windows.len())];
            if rng.random_bool(0.5) { a } else { b }
        }
        // As far as the wood reaches: of the part before the joint, or of the part after it.
        2 if rng.random_bool(0.5) => {
            now + longest(&draft.room(timber[joint].wood)) - timber[joint].length()
        }
        2 => now - longest(&draft.room(timber[joint + 1].wood)) + timber[joint + 1].length(),
        _ => now + Length::from_mm(rng.random_range(-300..=300i64) as f64),
    };
    let at = at.clamp(least.min(most), most);
    if at == now || at < least || !r.allows_joint(at) || !state.staggered(row, r.x(at)) {
        return None;
    }
    let fore = Part::between(problem, row, (begin, at));
    let aft = Part::between(problem, row, (at, end));
    (draft.put(row, &fore, timber[joint].wood) && draft.put(row, &aft, timber[joint + 1].wood))
        .then(|| draft.finish())
}
