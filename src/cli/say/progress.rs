//! How far the search is, in one short line.

use super::looks_beside;
use std::sync::OnceLock;
use std::time::Duration;
use twinstrake::out::gap;
use twinstrake::solve::Progress;
use twinstrake::units::{Length, Unit};

/// Rounds, how the best plan so far stands beside the first that covered every course, and how far that can be from the
/// best there is. `first` keeps what that one cost.
pub fn progress(unit: Unit, at: &Progress, first: &OnceLock<f64>) -> String {
    let rounds = match at.of {
        Some(of) => format!("round {} of {of}", at.round),
        None => format!("round {}", at.round),
    };
    if at.uncovered != Length::ZERO {
        return format!("{rounds}, {} of course open", unit.running(at.uncovered));
    }
    let first = *first.get_or_init(|| at.cost);
    let bound = match gap(at.cost, at.bound) {
        Some(0.0) => ", and no plan is better".into(),
        Some(gap) => format!(", at most {:.1} % above the best possible", 100.0 * gap),
        None => String::new(),
    };
    format!(
        "{rounds}, {}{bound}",
        looks_beside(at.cost, first, "at first")
    )
}

/// What planning again has found near the plan before, while it looks on.
pub fn in_hand(unit: Unit, at: &Progress, after: Duration) -> String {
    let covers = match at.uncovered {
        Length::ZERO => "covers every course".into(),
        open => format!("leaves {} of course open", unit.running(open)),
    };
    format!(
        "After {:.1} s there is a plan that {covers}. Looking for a better one; Ctrl-C takes the best so far.\n",
        after.as_secs_f64()
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plan_on_the_way_stands_beside_the_first_that_covered_every_course() {
        let first = OnceLock::new();
        let told = |round: u64, open: f64, cost: f64, bound: Option<f64>| {
            let uncovered = Length::from_mm(open);
            let at = Progress {
                round,
                of: None,
                uncovered,
                cost,
                bound,
            };
            progress(Unit::Mm, &at, &first)
        };
        // What an open plan costs says nothing.
        assert!(told(1, 2310.0, 7.0, None).ends_with(" of course open"));
        assert_eq!(told(2, 0.0, 100.0, None), "round 2, as good as at first");
        let better = "round 3, 10.0 % better than at first";
        assert_eq!(told(3, 0.0, 90.0, None), better);
        let above = ", at most 20.0 % above the best possible";
        assert_eq!(told(3, 0.0, 90.0, Some(75.0)), format!("{better}{above}"));
        let best = ", and no plan is better";
        assert_eq!(told(3, 0.0, 90.0, Some(90.0)), format!("{better}{best}"));
    }
}
