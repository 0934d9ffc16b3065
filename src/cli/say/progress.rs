//! How far the search is, in one short line.

use std::time::Duration;
use twinstrake::out::gap;
use twinstrake::solve::Progress;
use twinstrake::units::{Length, Unit};

/// Rounds, the best cost so far, and how far that can be from the best there is.
pub(in crate::cli) fn progress(unit: Unit, at: &Progress) -> String {
    let rounds = match at.of {
        Some(of) => format!("round {} of {of}", at.round),
        None => format!("round {}", at.round),
    };
    let open = match at.uncovered {
        Length::ZERO => String::new(),
        open => format!(", {} of course open", unit.running(open)),
    };
    let bound = match (at.bound, gap(at.cost, at.bound)) {
        (Some(bound), Some(gap)) => {
            format!(", at best {bound:.1}, gap {:.1} %", 100.0 * gap)
        }
        (Some(bound), None) => format!(", at best {bound:.1}"),
        (None, _) => String::new(),
    };
    format!("{rounds}, cost {:.1}{bound}{open}", at.cost)
}

/// What planning again has found near the plan before, while it looks on.
pub(in crate::cli) fn in_hand(unit: Unit, at: &Progress, after: Duration) -> String {
    let open = match at.uncovered {
        Length::ZERO => String::new(),
        open => format!(" that leaves {} of course open", unit.running(open)),
    };
    format!(
        "After {:.1} s there is a plan{open}, cost {:.1}. Looking for a better one; Ctrl-C takes the best so far.\n",
        after.as_secs_f64(),
        at.cost
    )
}
