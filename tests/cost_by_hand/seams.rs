//! The seam term: neighbours on one side of the boat.

use twinstrake::hull::End;

use super::common::*;
use super::*;

#[test]
fn two_boards_meet_in_colour_and_figure_on_both_sides() {
    // (ΔE 4 + board 2) × 4 m = 24 a side. Match: sisters of one colour, 0. Thrift: 4 strips × 0.25 = 1.
    let job = two_boards(hull().courses(2, 0.0, 4000.0));
    let cuts = Cut::pairs(&job, [("p1", "p2", 0.0), ("d1", "d2", 0.0)]);
    let verdict = judged(&job, &through(&job, &cuts));
    close(verdict.cost.seam, 48.0);
    close(verdict.cost.matching, 0.0);
    close(verdict.cost.joint, 0.0);
    close(verdict.cost.thrift, 1.0);
    close(verdict.cost.moved, 0.0);
    close(verdict.cost.total(), 49.0);
    assert_eq!((verdict.strips_cut, verdict.joints), (4, 0));
    assert_eq!(verdict.seams.len(), 2);
    for (seam, side) in verdict.seams.iter().zip([Side::Port, Side::Starboard]) {
        assert_eq!(
            (seam.upper, seam.lower, seam.side),
            (CourseId(0), CourseId(1), side)
        );
        assert_eq!(seam.length, Length::from_mm(4000.0));
        close(seam.step, 4.0);
        close(seam.worst, 4.0);
        close(seam.cost, 24.0);
    }
    assert_eq!(verdict.matches.len(), 2);
}

#[test]
fn slices_of_one_board_cost_the_slices_between_them_and_their_shift() {
    // Port p1 above p5, starboard p2 above p6: Δseq 4, skip 0.6 × (4 − 2) = 1.2 (below board 2).
    // Cut at 100 and at 350 with both bow tips at x = −25: δ = 250 mm, shift 0.5 × 0.25 = 0.125.
    // (1.2 + 0.125) × 4 m × 2 sides = 10.6, whichever end both point to the bow.
    let job = two_boards(hull().courses(2, 0.0, 4000.0));
    let cuts = Cut::pairs(&job, [("p1", "p2", 100.0), ("p5", "p6", 350.0)]);
    close(judged(&job, &through(&job, &cuts)).cost.seam, 10.6);
    let cuts = cuts.map(Cut::turned);
    close(judged(&job, &through(&job, &cuts)).cost.seam, 10.6);
}

#[test]
fn slices_that_point_different_ends_to_the_bow_count_as_a_metre_out() {
    // (1.2 + 0.5 × 1) × 4 m × 2 sides = 13.6, although both are cut at the same place.
    let job = two_boards(hull().courses(2, 0.0, 4000.0));
    let cuts = [
        Cut::pair(&job, "p1", "p2", 100.0),
        Cut::pair(&job, "p5", "p6", 100.0).turned(),
    ];
    close(judged(&job, &through(&job, &cuts)).cost.seam, 13.6);
}

#[test]
fn opposite_ends_are_a_metre_out_even_on_a_short_course() {
    // Courses of half a metre: the pieces are 550 long, so r is −25 and −25 + 550, only 550 mm apart; a metre is
    // counted all the same. Δseq 2 costs nothing: 0.5 × 0.5 m × 2 sides.
    let job = two_boards(hull().courses(2, 0.0, 500.0));
    let cuts = [
        Cut::pair(&job, "p1", "p2", 0.0),
        Cut::pair(&job, "p3", "p4", 0.0).turned(),
    ];
    close(judged(&job, &through(&job, &cuts)).cost.seam, 0.5);
}

#[test]
fn a_shift_counts_up_to_a_metre_and_slices_up_to_another_board() {
    // Neighbours in register cost nothing: p1 above p3, p2 above p4: Δseq 2.
    let job = two_boards(hull().courses(2, 0.0, 4000.0));
    let at = |second: &str, mate: &str, u: f64| {
        let cuts = Cut::pairs(&job, [("p1", "p2", 0.0), (second, mate, u)]);
        judged(&job, &through(&job, &cuts)).cost.seam
    };
    close(at("p3", "p4", 0.0), 0.0);
    // 1000 and 3000 mm out both cost 0.5 × 4 m × 2 sides.
    close(at("p3", "p4", 1000.0), 4.0);
    close(at("p3", "p4", 3000.0), 4.0);
    // p1 above p7, p2 above p8: Δseq 6, skip 0.6 × 4 = 2.4, more than another board's 2: 2 × 4 m × 2 sides.
    close(at("p7", "p8", 0.0), 16.0);
}

#[test]
fn courses_meet_only_where_both_are_and_register_lies_on_the_boat() {
    // The lower course begins at x = 250, so its bow tip is at 225; cut at 350, r = 225 − 350 = −125, as for the upper
    // one: −25 − 100. No shift. They meet over 3.75 m: 1.2 × 3.75 × 2 sides = 9.
    let job = two_boards(hull().course(0.0, 4000.0).course(250.0, 4000.0));
    let cuts = Cut::pairs(&job, [("p1", "p2", 100.0), ("p5", "p6", 350.0)]);
    let verdict = judged(&job, &through(&job, &cuts));
    close(verdict.cost.seam, 9.0);
    assert_eq!(verdict.seams[0].length, Length::from_mm(3750.0));
}

#[test]
fn register_counts_from_the_bow_tip_with_its_allowance() {
    // The upper course's bow end is free: its tip is at −50, cut at 100, r = −150. The lower one's is fitted: tip at
    // −25, in register where cut at 125. 1.2 × 4 × 2 sides = 9.6; cut at 100, 25 mm out: 0.5 × 0.025 × 4 × 2 = 0.1
    // more.
    let upper = hull().course(0.0, 4000.0).ends(End::Free, End::Fitted);
    let job = two_boards(upper.course(0.0, 4000.0));
    let at = |u: f64| {
        let cuts = Cut::pairs(&job, [("p1", "p2", 100.0), ("p5", "p6", u)]);
        judged(&job, &through(&job, &cuts)).cost.seam
    };
    close(at(125.0), 9.6);
    close(at(100.0), 9.7);
}

#[test]
fn register_with_plain_ends_to_the_bow_lies_on_the_boat_too() {
    // Upper: bow tip −25, piece of 4050 cut from 100 to 4150: r = −25 + 4150 = 4125. Lower: bow tip 225, piece of 3800:
    // in register where cut_to = 3900, so cut from 100. 9 as before; 200 mm further along 0.5 × 0.2 × 3.75 × 2 more.
    let job = two_boards(hull().course(0.0, 4000.0).course(250.0, 4000.0));
    let at = |u: f64| {
        let cuts = Cut::pairs(&job, [("p1", "p2", 100.0), ("p5", "p6", u)]);
        judged(&job, &through(&job, &cuts.map(Cut::turned)))
            .cost
            .seam
    };
    close(at(100.0), 9.0);
    close(at(300.0), 9.75);
}

#[test]
fn one_strip_in_two_courses_is_no_slice_away_from_itself() {
    // Two courses of 2 m from one pair, cut at 0 and at 2053: Δseq 0, no skip; δ = 2053, capped: 0.5 × 2 m × 2 sides.
    // Thrift: two strips, however often they are cut.
    let job = two_boards(hull().courses(2, 0.0, 2000.0));
    let cuts = Cut::pairs(&job, [("p1", "p2", 0.0), ("p1", "p2", 2053.0)]);
    let verdict = judged(&job, &through(&job, &cuts));
    close(verdict.cost.seam, 2.0);
    close(verdict.cost.thrift, 0.5);
    // The same with strays, each of which is a board of its own: only foster differs, 12 × 2 m × 2 courses.
    let job = hull()
        .courses(2, 0.0, 2000.0)
        .stray("s1", 9000.0, PALE)
        .stray("s2", 9000.0, PALE);
    let job = job.build();
    let cuts = Cut::pairs(&job, [("s1", "s2", 0.0), ("s1", "s2", 2053.0)]);
    let verdict = judged(&job, &through(&job, &cuts));
    close(verdict.cost.seam, 2.0);
    close(verdict.cost.matching, 48.0);
}

#[test]
fn a_centre_course_meets_its_neighbours_on_both_sides_and_another_centre_course_once() {
    // Pale pair, dark centre, pale centre. (4 + 2) × 4 m to port and to starboard, and once between the two: 72.
    let job = two_boards(
        hull()
            .course(0.0, 4000.0)
            .centre(0.0, 4000.0)
            .centre(0.0, 4000.0),
    );
    let cuts = [
        Cut::pair(&job, "p1", "p2", 0.0),
        Cut::single(&job, "d1", 0.0),
        Cut::single(&job, "p5", 0.0),
    ];
    let verdict = judged(&job, &through(&job, &cuts));
    close(verdict.cost.seam, 72.0);
    let sides: Vec<Side> = verdict.seams.iter().map(|seam| seam.side).collect();
    assert_eq!(sides, [Side::Port, Side::Starboard, Side::Centre]);
    // Only the pair can match: sisters of one colour.
    close(verdict.cost.matching, 0.0);
    assert_eq!(verdict.matches.len(), 1);
    close(verdict.cost.thrift, 1.0);
}

#[test]
fn panels_do_not_meet_and_neither_do_courses_across_one_left_out() {
    let job = two_boards(
        hull()
            .course(0.0, 4000.0)
            .panel("deck", Toward::Deck)
            .course(0.0, 4000.0),
    );
    let cuts = Cut::pairs(&job, [("p1", "p2", 0.0), ("d1", "d2", 0.0)]);
    assert!(judged(&job, &through(&job, &cuts)).seams.is_empty());
    let job = two_boards(hull().courses(3, 0.0, 4000.0));
    let mut rows = lay_course(&job, CourseId(0), &[], &cuts[..1]);
    rows.extend(lay_course(&job, CourseId(2), &[], &cuts[1..]));
    let verdict = judged(&job, &complete(&job, rows));
    close(verdict.cost.total(), 1.0);
}
