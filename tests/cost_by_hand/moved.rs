//! The moved term: planning again.

use super::common::*;
use super::*;

/// Two courses from two pairs of one board, and the same with the pairs exchanged.
fn there_and_back() -> (Job, Plan, Plan) {
    let job = two_boards(hull().courses(2, 0.0, 2000.0));
    let cuts = Cut::pairs(&job, [("p1", "p2", 0.0), ("p3", "p4", 0.0)]);
    let (one, other) = (through(&job, &cuts), through(&job, &[cuts[1], cuts[0]]));
    (job, one, other)
}

#[test]
fn a_piece_that_keeps_its_place_has_not_moved() {
    let (mut job, plan, exchanged) = there_and_back();
    close(judged(&job, &plan).cost.moved, 0.0);
    job.earlier = Some(plan.clone());
    close(judged(&job, &plan).cost.moved, 0.0);
    // Two pairs exchanged: four labels to change.
    close(judged(&job, &exchanged).cost.moved, 4.0);
    job.weights.relabel = 1.5;
    close(judged(&job, &exchanged).cost.moved, 6.0);
}

#[test]
fn a_strip_that_comes_into_use_needs_labels_and_one_left_over_needs_none() {
    // p1 and p2 stay in the rack now, d1 and d2 are new.
    let (mut job, plan, _) = there_and_back();
    job.earlier = Some(plan);
    let cuts = Cut::pairs(&job, [("d1", "d2", 0.0), ("p3", "p4", 0.0)]);
    close(judged(&job, &through(&job, &cuts)).cost.moved, 2.0);
}

#[test]
fn a_strip_that_keeps_its_place_and_gains_another_needs_labels_for_that() {
    let (mut job, _, _) = there_and_back();
    let first = Cut::pair(&job, "p1", "p2", 0.0);
    job.earlier = Some(through(&job, &[first]));
    let cuts = [first, Cut::pair(&job, "p1", "p2", 3000.0)];
    close(judged(&job, &through(&job, &cuts)).cost.moved, 2.0);
}

#[test]
fn a_cut_needs_another_label_only_where_it_is_more_than_half_a_millimetre_off() {
    let (mut job, plan, _) = there_and_back();
    job.earlier = Some(plan);
    let cut_at = |at: f64| Cut::pairs(&job, [("p1", "p2", at), ("p3", "p4", 0.0)]);
    close(judged(&job, &through(&job, &cut_at(0.5))).cost.moved, 0.0);
    close(judged(&job, &through(&job, &cut_at(0.501))).cost.moved, 2.0);
}

#[test]
fn what_was_laid_elsewhere_than_planned_needs_no_new_label() {
    // Planned p1/p2 then p3/p4; the builder laid p3/p4 first. Only p1 and p2 need new labels.
    let (mut job, plan, exchanged) = there_and_back();
    job.earlier = Some(plan);
    let laid = exchanged
        .pieces
        .iter()
        .filter(|piece| piece.course == CourseId(0));
    job.laid = laid.cloned().collect::<Vec<Piece>>();
    close(judged(&job, &exchanged).cost.moved, 2.0);
}
