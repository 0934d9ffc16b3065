//! A run of courses is turned end for end, each cut from where it was.

use super::pick;
use crate::plan::BowEnd;
use crate::solve::draft::Draft;
use crate::solve::rng::SearchRng;
use crate::solve::state::Change;
use crate::solve::timber::Part;
use crate::solve::tuning::moves::LONGEST_RUN;

/// A run is drawn and turned. One course alone would be out of register with the others.
pub fn propose(mut draft: Draft, rng: &mut SearchRng) -> Option<Change> {
    let run = pick::run(draft.state, LONGEST_RUN, rng)?;
    for row in run {
        let timber = draft.state.timber(row);
        let turned: Vec<Part> = timber.iter().map(turned).collect();
        let allowed = |part: &Part| {
            let ends = draft.problem().bow_ends(row, part.wood);
            part.bow.iter().all(|end| ends.contains(end))
        };
        if !turned.iter().all(allowed) {
            return None;
        }
        draft.strip(row);
        if !draft.place_all(row, &turned) {
            return None;
        }
    }
    Some(draft.finish())
}

fn turned(part: &Part) -> Part {
    Part {
        bow: part.bow.map(BowEnd::other),
        ..*part
    }
}
