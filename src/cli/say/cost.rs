//! A cost, term by term.

use super::styled;
use twinstrake::plan::Cost;

/// The terms of a cost, one a line, and their sum.
pub(super) fn cost(cost: &Cost) -> String {
    let mut terms = vec![
        ("seams between courses", cost.seam),
        ("mates across the boat", cost.matching),
        ("joints", cost.joint),
        ("strips cut into", cost.thrift),
    ];
    if cost.drift != 0.0 {
        terms.push(("shade the wrong way", cost.drift));
    }
    if cost.moved != 0.0 {
        terms.push(("pieces moved", cost.moved));
    }
    let lines: String = terms
        .into_iter()
        .map(|(name, worth)| format!("  {name:<24}{worth:>12.3}\n"))
        .collect();
    format!(
        "{}\n{lines}  {:<24}{:>12.3}\n",
        styled(
            super::HEAD,
            "Cost (colour step times length; less is better)"
        ),
        "together",
        cost.total()
    )
}
