//! The joint term, and seams over a joint.

use super::common::*;
use super::*;

/// The upper course pale in one piece; the lower one dark up to its joint and pale (of another board) behind it.
fn over_a_joint(boat: Builder) -> (Job, Plan) {
    let job = board(two_boards_of(boat), "q", 8, PALE).build();
    let mut rows = lay_whole(&job, 0, Cut::pair(&job, "p1", "p2", 0.0));
    let cuts = Cut::pairs(&job, [("d1", "d2", 0.0), ("q1", "q2", 0.0)]);
    rows.extend(lay_course(&job, CourseId(1), &[S::from_mm(2000.0)], &cuts));
    let plan = complete(&job, rows);
    (job, plan)
}

#[test]
fn a_seam_over_a_joint_is_reckoned_piece_by_piece_along_the_boat() {
    // The lower course has 8 m of skin on 4 m of boat: its joint at s = 2000 lies at x = 1000.
    // (4 + 2) × 1 m + (0 + 2) × 3 m = 12 a side; mean step 4 × 1/4 = 1, worst 4.
    // Joint: 1 × (2 + 4), once for both sides.
    let (job, plan) = over_a_joint(hull().course(0.0, 4000.0).course(0.0, 4000.0).skin(8000.0));
    let verdict = judged(&job, &plan);
    close(verdict.cost.seam, 24.0);
    close(verdict.seams[0].step, 1.0);
    close(verdict.seams[0].worst, 4.0);
    close(verdict.cost.joint, 6.0);
    assert_eq!(verdict.joints, 1);
}

#[test]
fn a_joint_counts_as_what_shows_there_and_a_zone_contains_its_edges() {
    // The joint is at 2000. Where the zone reaches it, edge included, times 3: 3 × (2 + 4) = 18; else 6.
    for (from, to, by_hand) in [
        (2000.0, 3000.0, 18.0),
        (2001.0, 3000.0, 6.0),
        (1000.0, 2000.0, 18.0),
        (1000.0, 1999.0, 6.0),
    ] {
        let boat = hull().courses(2, 0.0, 4000.0);
        let (job, plan) = over_a_joint(boat.show_on(Some((2, 2)), from, to, 3.0));
        close(judged(&job, &plan).cost.joint, by_hand);
    }
}

#[test]
fn what_shows_at_a_joint_is_found_along_the_boat() {
    // 8 m of skin on 4 m of boat: the joint at s = 2000 lies at x = 1000, inside the zone.
    let boat = hull().course(0.0, 4000.0).course(0.0, 4000.0).skin(8000.0);
    let (job, plan) = over_a_joint(boat.show(900.0, 1100.0, 3.0));
    close(judged(&job, &plan).cost.joint, 18.0);
}

#[test]
fn a_mirrored_joint_takes_the_mean_of_both_sides() {
    // Port: pale on dark, 4. Starboard: pale on pale, 0. 2 + (4 + 0)/2 = 4. Match of the second piece: pale against
    // dark across boards, (4 + 12) × 2 m = 32.
    let job = two_boards(hull().course(0.0, 4000.0));
    let cuts = Cut::pairs(&job, [("p1", "p2", 0.0), ("d1", "p3", 0.0)]);
    let rows = lay_course(&job, CourseId(0), &[S::from_mm(2000.0)], &cuts);
    let verdict = judged(&job, &complete(&job, rows));
    close(verdict.cost.joint, 4.0);
    close(verdict.cost.matching, 32.0);
    let figure = verdict.matches[0];
    close(figure.step, 2.0);
    close(figure.worst, 4.0);
    close(figure.cost, 32.0);
}
