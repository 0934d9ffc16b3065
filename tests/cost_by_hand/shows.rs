//! What shows counts more.

use super::common::*;
use super::*;

/// The seam cost on one side of pale over dark, 6 for each metre, with these zones and looks.
fn shown(boat: Builder) -> f64 {
    let job = two_boards(boat);
    let cuts = Cut::pairs(&job, [("p1", "p2", 0.0), ("d1", "d2", 0.0)]);
    judged(&job, &through(&job, &cuts)).seams[0].cost
}

#[test]
fn what_shows_more_counts_more_and_zones_multiply() {
    let two = || hull().courses(2, 0.0, 4000.0);
    // 2 × 1 m + 1 × 3 m = 5 weighted metres.
    close(shown(two().show(0.0, 1000.0, 2.0)), 30.0);
    // Over the upper course alone: ½(2 + 1) × 1 m + 3 m = 4.5.
    close(shown(two().show_on(Some((1, 1)), 0.0, 1000.0, 2.0)), 27.0);
    // 0–0.5: 2; 0.5–1: 2 × 3; 1–1.5: 3; the rest 1: 1 + 3 + 1.5 + 2.5 = 8.
    close(
        shown(two().show(0.0, 1000.0, 2.0).show(500.0, 1500.0, 3.0)),
        48.0,
    );
    // Nobody looks at the after half.
    close(shown(two().show(2000.0, 9000.0, 0.0)), 12.0);
    // A zone ahead of the boat's bow end, and a panel that counts half: 3 × ½.
    close(shown(two().show(-500.0, 1000.0, 0.0).look(0.5)), 9.0);
}

#[test]
fn a_zone_of_another_panel_does_not_count() {
    let boat = hull().courses(2, 0.0, 4000.0);
    close(
        shown(boat.panel("deck", Toward::Deck).show(0.0, 4000.0, 5.0)),
        24.0,
    );
}
