//! A cost, term by term.

use super::head;
use twinstrake::plan::Cost;

/// The terms of a cost by what they are called.
pub fn terms(cost: &Cost) -> [(&'static str, f64); 6] {
    [
        ("seams between courses", cost.seam),
        ("mates across the boat", cost.matching),
        ("joints", cost.joint),
        ("shade the wrong way", cost.drift),
        ("strips cut into", cost.thrift),
        ("pieces moved", cost.moved),
    ]
}

/// The terms of a cost, one a line, and their sum.
pub fn cost(cost: &Cost) -> String {
    let [seams, mates, joints, shade, cut, moved] = terms(cost);
    let at_times = [shade, moved].into_iter().filter(|term| term.1 != 0.0);
    let lines: String = [seams, mates, joints, cut]
        .into_iter()
        .chain(at_times)
        .map(|(name, worth)| format!("  {name:<24}{worth:>12.3}\n"))
        .collect();
    format!(
        "{}{lines}  {:<24}{:>12.3}\n",
        head("Cost (colour step times length; less is better)"),
        "together",
        cost.total()
    )
}
