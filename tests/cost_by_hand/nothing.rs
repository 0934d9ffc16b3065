//! Where there is nothing to count.

use super::*;

#[test]
fn a_plan_that_covers_nothing_costs_nothing_and_is_not_written_as_minus_nothing() {
    let job = two_boards(hull().courses(2, 0.0, 4000.0));
    let cost = judged(&job, &complete(&job, Vec::new())).cost;
    let terms = [
        cost.seam,
        cost.matching,
        cost.joint,
        cost.thrift,
        cost.moved,
    ];
    assert_eq!(terms.map(|term| term.to_string()), ["0"; 5]);
}
