//! The cost against sums done by hand: the working is in each comment.
//!
//! Colours are greys about L = 50, where CIEDE2000 is the plain difference in L: for two greys ΔE00 = |ΔL| / S_L with
//! S_L = 1 where their mean is 50. PALE and DARK are 4 apart. Courses are 4 m, strips long enough, weights those of the
//! model: board 2, skip 0.6, shift 0.5, foster 12, joint 2, cut 0.25, relabel 1.

mod common;

use common::{Builder, Cut, boat, complete, lay_course};
use twinstrake::check::{Verdict, check};
use twinstrake::hull::{CourseId, Side, Toward};
use twinstrake::job::Job;
use twinstrake::plan::{Piece, Plan};
use twinstrake::units::{Colour, Length, S};

const PALE: Colour = Colour::lab(52.0, 0.0, 0.0);
const DARK: Colour = Colour::lab(48.0, 0.0, 0.0);

fn hull() -> Builder {
    boat().panel("topside", Toward::Keel)
}

fn board(boat: Builder, name: &str, strips: u32, colour: Colour) -> Builder {
    (1..=strips).fold(boat, |boat, seq| {
        boat.strip(&format!("{name}{seq}"), name, seq, 9000.0, colour)
    })
}

/// Two courses, and a pale and a dark board of eight.
fn two_boards(boat: Builder) -> Job {
    board(board(boat, "p", 8, PALE), "d", 8, DARK).build()
}

/// One pair a course, cut at the marked end unless turned or shifted.
fn through(job: &Job, cuts: &[Cut]) -> Plan {
    let rows = cuts.iter().enumerate();
    let rows = rows.flat_map(|(course, cut)| lay_course(job, CourseId(course), &[], &[*cut]));
    complete(job, rows.collect())
}

/// Judges a plan that must be good: only such a plan has a cost worth working out.
fn judged(job: &Job, plan: &Plan) -> Verdict {
    let verdict = check(job, plan);
    let said: Vec<String> = verdict.breaches.iter().map(|b| b.to_string()).collect();
    assert_eq!(said, Vec::<String>::new());
    verdict
}

fn close(seen: f64, by_hand: f64) {
    assert!((seen - by_hand).abs() < 1e-9, "{seen}, by hand {by_hand}");
}

#[test]
fn two_boards_meet_in_colour_and_figure_on_both_sides() {
    // (ΔE 4 + board 2) × 4 m = 24 a side. Match: sisters of one colour, 0. Thrift: 4 strips × 0.25 = 1.
    let job = two_boards(hull().courses(2, 0.0, 4000.0));
    let cuts = [
        Cut::pair(&job, "p1", "p2", 0.0),
        Cut::pair(&job, "d1", "d2", 0.0),
    ];
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
    let cuts = [
        Cut::pair(&job, "p1", "p2", 100.0),
        Cut::pair(&job, "p5", "p6", 350.0),
    ];
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
fn a_shift_counts_up_to_a_metre_and_slices_up_to_another_board() {
    // Neighbours in register cost nothing: p1 above p3, p2 above p4: Δseq 2.
    let job = two_boards(hull().courses(2, 0.0, 4000.0));
    let at = |second: &str, mate: &str, u: f64| {
        let cuts = [
            Cut::pair(&job, "p1", "p2", 0.0),
            Cut::pair(&job, second, mate, u),
        ];
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
    let cuts = [
        Cut::pair(&job, "p1", "p2", 100.0),
        Cut::pair(&job, "p5", "p6", 350.0),
    ];
    let verdict = judged(&job, &through(&job, &cuts));
    close(verdict.cost.seam, 9.0);
    assert_eq!(verdict.seams[0].length, Length::from_mm(3750.0));
}

#[test]
fn register_with_plain_ends_to_the_bow_lies_on_the_boat_too() {
    // Upper: bow tip −25, piece of 4050 cut from 100 to 4150: r = −25 + 4150 = 4125. Lower: bow tip 225, piece of 3800:
    // in register where cut_to = 3900, so cut from 100. 9 as before; 200 mm further along 0.5 × 0.2 × 3.75 × 2 more.
    let job = two_boards(hull().course(0.0, 4000.0).course(250.0, 4000.0));
    let at = |u: f64| {
        let cuts = [
            Cut::pair(&job, "p1", "p2", 100.0),
            Cut::pair(&job, "p5", "p6", u),
        ];
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
    let cuts = [
        Cut::pair(&job, "p1", "p2", 0.0),
        Cut::pair(&job, "p1", "p2", 2053.0),
    ];
    let verdict = judged(&job, &through(&job, &cuts));
    close(verdict.cost.seam, 2.0);
    close(verdict.cost.thrift, 0.5);
    // The same with strays, each of which is a board of its own: only foster differs, 12 × 2 m × 2 courses.
    let job = hull()
        .courses(2, 0.0, 2000.0)
        .stray("s1", 9000.0, PALE)
        .stray("s2", 9000.0, PALE);
    let job = job.build();
    let cuts = [
        Cut::pair(&job, "s1", "s2", 0.0),
        Cut::pair(&job, "s1", "s2", 2053.0),
    ];
    let verdict = judged(&job, &through(&job, &cuts));
    close(verdict.cost.seam, 2.0);
    close(verdict.cost.matching, 48.0);
}

/// The upper course pale in one piece; the lower one dark up to its joint and pale (of another board) behind it.
fn over_a_joint(boat: Builder) -> (Job, Plan) {
    let job = board(two_boards_of(boat), "q", 8, PALE).build();
    let mut rows = lay_course(&job, CourseId(0), &[], &[Cut::pair(&job, "p1", "p2", 0.0)]);
    let cuts = [
        Cut::pair(&job, "d1", "d2", 0.0),
        Cut::pair(&job, "q1", "q2", 0.0),
    ];
    rows.extend(lay_course(&job, CourseId(1), &[S::from_mm(2000.0)], &cuts));
    let plan = complete(&job, rows);
    (job, plan)
}

fn two_boards_of(boat: Builder) -> Builder {
    board(board(boat, "p", 8, PALE), "d", 8, DARK)
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
    // Show zone from 2000, times 3, the joint on its edge: 3 × (2 + 4) = 18; a millimetre aft of it: 6.
    for (from, by_hand) in [(2000.0, 18.0), (2001.0, 6.0)] {
        let boat = hull()
            .courses(2, 0.0, 4000.0)
            .show_on(Some((2, 2)), from, 3000.0, 3.0);
        let (job, plan) = over_a_joint(boat);
        close(judged(&job, &plan).cost.joint, by_hand);
    }
}

#[test]
fn a_mirrored_joint_takes_the_mean_of_both_sides() {
    // Port: pale on dark, 4. Starboard: pale on pale, 0. 2 + (4 + 0)/2 = 4. Match of the second piece: pale against
    // dark across boards, (4 + 12) × 2 m = 32.
    let job = two_boards(hull().course(0.0, 4000.0));
    let cuts = [
        Cut::pair(&job, "p1", "p2", 0.0),
        Cut::pair(&job, "d1", "p3", 0.0),
    ];
    let rows = lay_course(&job, CourseId(0), &[S::from_mm(2000.0)], &cuts);
    let verdict = judged(&job, &complete(&job, rows));
    close(verdict.cost.joint, 4.0);
    close(verdict.cost.matching, 32.0);
    let figure = verdict.matches[0];
    close(figure.step, 2.0);
    close(figure.worst, 4.0);
    close(figure.cost, 32.0);
}

/// The seam cost on one side of pale over dark, 6 for each metre, with these zones and looks.
fn shown(boat: Builder) -> f64 {
    let job = two_boards(boat);
    let cuts = [
        Cut::pair(&job, "p1", "p2", 0.0),
        Cut::pair(&job, "d1", "d2", 0.0),
    ];
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
    let cuts = [
        Cut::pair(&job, "p1", "p2", 0.0),
        Cut::pair(&job, "d1", "d2", 0.0),
    ];
    assert!(judged(&job, &through(&job, &cuts)).seams.is_empty());
    let job = two_boards(hull().courses(3, 0.0, 4000.0));
    let mut rows = lay_course(&job, CourseId(0), &[], &cuts[..1]);
    rows.extend(lay_course(&job, CourseId(2), &[], &cuts[1..]));
    let verdict = judged(&job, &complete(&job, rows));
    close(verdict.cost.total(), 1.0);
}

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

/// Two courses from two pairs of one board, and the same with the pairs exchanged.
fn there_and_back() -> (Job, Plan, Plan) {
    let job = two_boards(hull().courses(2, 0.0, 2000.0));
    let cuts = [
        Cut::pair(&job, "p1", "p2", 0.0),
        Cut::pair(&job, "p3", "p4", 0.0),
    ];
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
fn a_strip_that_lost_its_place_has_moved_and_a_new_one_has_not() {
    // p1 and p2 stay in the rack now, d1 and d2 are new.
    let (mut job, plan, _) = there_and_back();
    job.earlier = Some(plan);
    let cuts = [
        Cut::pair(&job, "d1", "d2", 0.0),
        Cut::pair(&job, "p3", "p4", 0.0),
    ];
    close(judged(&job, &through(&job, &cuts)).cost.moved, 2.0);
}

#[test]
fn a_strip_that_keeps_its_place_and_gains_another_has_not_moved() {
    let (mut job, _, _) = there_and_back();
    let first = Cut::pair(&job, "p1", "p2", 0.0);
    job.earlier = Some(through(&job, &[first]));
    let cuts = [first, Cut::pair(&job, "p1", "p2", 3000.0)];
    close(judged(&job, &through(&job, &cuts)).cost.moved, 0.0);
}

#[test]
fn what_was_laid_elsewhere_than_planned_needs_no_new_label() {
    // Planned p1/p2 then p3/p4; the builder laid p3/p4 first. Only p1 and p2 are relabelled.
    let (mut job, plan, exchanged) = there_and_back();
    job.earlier = Some(plan);
    let laid = exchanged
        .pieces
        .iter()
        .filter(|piece| piece.course == CourseId(0));
    job.laid = laid.cloned().collect::<Vec<Piece>>();
    close(judged(&job, &exchanged).cost.moved, 2.0);
}
