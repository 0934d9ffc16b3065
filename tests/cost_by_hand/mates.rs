//! The match term: mates across the centreplane.

use super::common::*;
use super::*;

/// The match cost of one course of 4 m with these mates.
fn matched(job: &Job, strip: &str, mate: &str) -> f64 {
    judged(job, &through(job, &[Cut::pair(job, strip, mate, 0.0)]))
        .cost
        .matching
}

#[test]
fn mates_cost_what_keeps_them_from_being_sisters() {
    let job = two_boards(hull().course(0.0, 4000.0).stray("s1", 9000.0, PALE));
    // Sisters: nothing, whichever lies to port.
    close(matched(&job, "p1", "p2"), 0.0);
    close(matched(&job, "p2", "p1"), 0.0);
    // One board, Δseq 3: 0.6 × (3 − 1) × 4 m.
    close(matched(&job, "p1", "p4"), 4.8);
    // Across boards: (4 + 12) × 4 m. A stray of the same colour: 12 × 4 m.
    close(matched(&job, "p1", "d1"), 64.0);
    close(matched(&job, "p1", "s1"), 48.0);
}

#[test]
fn slices_of_one_board_never_cost_more_than_foster_mates() {
    // Foster 1: Δseq 4 would be 0.6 × 3 = 1.8, so 1 × 4 m.
    let job = two_boards(
        hull()
            .course(0.0, 4000.0)
            .weights(|weights| weights.foster = 1.0),
    );
    close(matched(&job, "p1", "p5"), 4.0);
}

#[test]
fn sisters_of_two_colours_cost_the_colour_and_what_shows() {
    // ΔE 4 × (1 m × 2 + 3 m × 1) × look ½ = 10.
    let boat = hull()
        .look(0.5)
        .course(0.0, 4000.0)
        .show(1000.0, 2000.0, 2.0);
    let boat = boat
        .strip("a1", "a", 1, 5000.0, PALE)
        .strip("a2", "a", 2, 5000.0, DARK);
    close(matched(&boat.build(), "a1", "a2"), 10.0);
}

#[test]
fn sisters_by_name_are_sisters_even_where_a_slice_was_lost() {
    // Seq 1 and 3 name each other; without the names they cost 0.6 × (2 − 1) × 4 m.
    let slices = || {
        let boat = hull().course(0.0, 4000.0).strip("a1", "a", 1, 5000.0, PALE);
        boat.strip("a3", "a", 3, 5000.0, PALE)
    };
    close(matched(&slices().build(), "a1", "a3"), 2.4);
    close(
        matched(&slices().sisters("a1", "a3").build(), "a1", "a3"),
        0.0,
    );
}
