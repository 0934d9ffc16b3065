//! Just inside a rule, and just outside: what is exactly enough is enough.
//!
//! The common fixture: courses of 4000 mm, fitted ends (25 mm), scarfs of 48 mm, one joint at 2000. The pieces reach
//! from −25 to 2024 and from 1976 to 4025, each 2049 mm long.

use std::collections::BTreeSet;

use twinstrake::check::check;
use twinstrake::hull::{CourseId, End, Toward};
use twinstrake::job::Job;
use twinstrake::plan::{Piece, Plan};
use twinstrake::units::{Colour, S, U};

use super::common::{Builder, Cut, boat, complete, lay_course, lay_whole, mm};

/// Less than this is within the checker's tolerance of 0.01 mm.
const HAIR: f64 = 0.02;

fn oak() -> Builder {
    boat()
        .panel("topside", Toward::Keel)
        .board("oak", 12, 3000.0, 5)
}

/// No rule broken.
const NONE: [u8; 0] = [];

/// The rules that a plan breaks.
fn broken(job: &Job, plan: &Plan) -> Vec<u8> {
    let rules: BTreeSet<u8> = check(job, plan).breaches.iter().map(|b| b.rule()).collect();
    rules.into_iter().collect()
}

/// Courses one after the other, each with one joint here, from fresh pairs of oak.
fn jointed(job: &Job, joints: &[f64]) -> Plan {
    let mut rows = Vec::new();
    for (course, at) in joints.iter().enumerate() {
        let pair = |n: usize| {
            let (a, b) = (format!("oak-{:02}", n), format!("oak-{:02}", n + 1));
            Cut::pair(job, &a, &b, 0.0)
        };
        let cuts = [pair(4 * course + 1), pair(4 * course + 3)];
        rows.extend(lay_course(job, CourseId(course), &[S::from_mm(*at)], &cuts));
    }
    complete(job, rows)
}

#[test]
fn a_scarf_may_touch_the_edge_of_a_zone() {
    for (from, to, rules) in [
        (2024.0, 2300.0, vec![]),
        (2024.0 - HAIR, 2300.0, vec![5]),
        (1700.0, 1976.0, vec![]),
        (1700.0, 1976.0 + HAIR, vec![5]),
        (1990.0, 1991.0, vec![5]),
        (0.0, 4000.0, vec![5]),
    ] {
        let job = oak()
            .course(0.0, 4000.0)
            .keep_clear("mast step", from, to)
            .build();
        assert_eq!(
            broken(&job, &jointed(&job, &[2000.0])),
            rules,
            "{from} to {to}"
        );
    }
}

#[test]
fn a_zone_keeps_only_its_own_courses_clear() {
    for (courses, rules) in [((1, 1), vec![5]), ((2, 6), vec![])] {
        let job = oak().courses(1, 0.0, 4000.0);
        let job = job
            .keep_clear_on("frame", Some(courses), 1900.0, 2100.0)
            .build();
        assert_eq!(broken(&job, &jointed(&job, &[2000.0])), rules);
    }
}

#[test]
fn a_zone_lies_on_the_boat_and_not_along_the_skin() {
    // Skin twice as long as the boat: the joint at s = 2000 lies at x = 1000, and half the scarf there is 12 mm of
    // boat.
    for (from, rules) in [(1012.0, vec![]), (1012.0 - HAIR, vec![5])] {
        let job = oak()
            .course(0.0, 2000.0)
            .skin(4000.0)
            .keep_clear("frame", from, 1500.0);
        let job = job.build();
        assert_eq!(broken(&job, &jointed(&job, &[2000.0])), rules);
    }
}

#[test]
fn joints_exactly_clear_of_each_other_are_clear() {
    let job = oak().courses(2, 0.0, 4000.0).build();
    assert_eq!(broken(&job, &jointed(&job, &[2000.0, 2300.0])), NONE);
    assert_eq!(broken(&job, &jointed(&job, &[2000.0, 2300.0 - HAIR])), [6]);
    assert_eq!(broken(&job, &jointed(&job, &[2000.0, 1700.0])), NONE);
    assert_eq!(broken(&job, &jointed(&job, &[2000.0, 1700.0 + HAIR])), [6]);
}

#[test]
fn joints_are_held_against_two_courses_and_not_three() {
    let job = oak()
        .courses(4, 0.0, 4000.0)
        .board("pine", 8, 3000.0, 5)
        .build();
    let mut plan = jointed(&job, &[2000.0, 2400.0, 2800.0]);
    let pair = |a: &str, b: &str| Cut::pair(&job, a, b, 0.0);
    let cuts = [pair("pine-01", "pine-02"), pair("pine-03", "pine-04")];
    let mut fourth = |at: f64| {
        plan.pieces.retain(|piece| piece.course != CourseId(3));
        plan.pieces
            .extend(lay_course(&job, CourseId(3), &[S::from_mm(at)], &cuts));
        plan.uncovered.clear();
        broken(&job, &plan)
    };
    assert_eq!(fourth(2000.0), NONE);
    assert_eq!(fourth(2400.0), [6]);
    assert_eq!(fourth(2800.0), [6]);
}

#[test]
fn joints_are_held_apart_along_the_boat_and_in_one_panel_only() {
    // The second course begins 500 aft: its joint at s = 1500 lies at x = 2000, beside the first one's.
    let job = oak().course(0.0, 4000.0).course(500.0, 4500.0).build();
    assert_eq!(broken(&job, &jointed(&job, &[2000.0, 1500.0])), [6]);
    assert_eq!(broken(&job, &jointed(&job, &[2000.0, 2000.0])), NONE);
    let job = oak()
        .course(0.0, 4000.0)
        .panel("bottom", Toward::Deck)
        .course(0.0, 4000.0);
    let job = job.build();
    assert_eq!(broken(&job, &jointed(&job, &[2000.0, 2000.0])), NONE);
}

#[test]
fn a_centre_course_keeps_its_joints_clear_of_both_sides() {
    let job = oak().course(0.0, 4000.0).centre(0.0, 4000.0).build();
    let with_centre = |at: f64| {
        let mut rows = jointed(&job, &[2000.0]).pieces;
        let cuts = [
            Cut::single(&job, "oak-05", 0.0),
            Cut::single(&job, "oak-06", 0.0),
        ];
        rows.extend(lay_course(&job, CourseId(1), &[S::from_mm(at)], &cuts));
        check(&job, &complete(&job, rows)).breaches
    };
    assert_eq!(with_centre(2300.0), []);
    let near = with_centre(2200.0);
    assert_eq!(near.iter().map(|b| b.rule()).collect::<Vec<_>>(), [6, 6]);
}

#[test]
fn a_cut_exactly_the_saw_away_leaves_room_for_it() {
    // Two courses of 1000, 1050 with allowances, from one pair.
    let job = oak().courses(2, 0.0, 1000.0).build();
    let second_at = |at: f64| {
        let cut = |at: f64| [Cut::pair(&job, "oak-01", "oak-02", at)];
        let mut rows = lay_course(&job, CourseId(0), &[], &cut(0.0));
        rows.extend(lay_course(&job, CourseId(1), &[], &cut(at)));
        broken(&job, &complete(&job, rows))
    };
    assert_eq!(second_at(1053.0), NONE);
    assert_eq!(second_at(1053.0 - HAIR), [3]);
    assert_eq!(second_at(1050.0), [3]);
    assert_eq!(second_at(0.0), [3]);
    // And the last may end where the strip does, without the saw: 3000 − 1050.
    assert_eq!(second_at(1950.0), NONE);
    assert_eq!(second_at(1950.0 + HAIR), [3]);
}

#[test]
fn every_piece_in_wood_that_is_used_is_told_of_even_past_a_shorter_one() {
    // The first course takes 0 to 2050 of oak-01; the second 100 to 650 and the third 1000 to 1550, both inside it.
    let job = oak()
        .centre(0.0, 2000.0)
        .centre(0.0, 500.0)
        .centre(0.0, 500.0)
        .build();
    let rows = [0.0, 100.0, 1000.0].into_iter().enumerate();
    let rows =
        rows.flat_map(|(course, at)| lay_whole(&job, course, Cut::single(&job, "oak-01", at)));
    let verdict = check(&job, &complete(&job, rows.collect()));
    let courses: Vec<u32> = verdict
        .breaches
        .iter()
        .map(|breach| breach.at.course.number)
        .collect();
    assert_eq!(courses, [2, 3]);
}

#[test]
fn a_piece_may_touch_a_defect_but_not_reach_into_it() {
    for (from, to, rules) in [
        (2049.0, 2100.0, vec![]),
        (2049.0 - HAIR, 2100.0, vec![3]),
        (2049.0, 2049.0, vec![]),
        (2048.0, 2048.0, vec![3]),
        (0.0, 0.0, vec![]),
        (1.0, 1.0, vec![3]),
        (0.0, 3000.0, vec![3]),
    ] {
        let job = boat().panel("topside", Toward::Keel).course(0.0, 4000.0);
        let job = job.board("oak", 3, 3000.0, 5);
        let job = job
            .strip("oak-04", "oak", 4, 3000.0, Colour::shade(5))
            .defect(from, to)
            .build();
        assert_eq!(
            broken(&job, &jointed(&job, &[2000.0])),
            rules,
            "{from} to {to}"
        );
    }
}

#[test]
fn a_piece_keeps_clear_of_a_knot_by_what_is_allowed_and_its_feather_edge_counts() {
    // The piece of the last strip is cut from 100 to 2149, scarf included; 5 mm are to be kept clear.
    for (from, to, rules) in [
        (2154.0, 2200.0, vec![]),
        (2154.0 - HAIR, 2200.0, vec![3]),
        (2154.0, 2154.0, vec![]),
        (2149.0, 2149.0, vec![3]),
        (40.0, 95.0, vec![]),
        (40.0, 95.0 + HAIR, vec![3]),
    ] {
        let job = boat().panel("topside", Toward::Keel).course(0.0, 4000.0);
        let job = job.rules(|rules| rules.allow.defect = mm(5.0));
        let job = job.board("oak", 3, 3000.0, 5);
        let job = job
            .strip("oak-04", "oak", 4, 3000.0, Colour::shade(5))
            .defect(from, to)
            .build();
        let mut plan = jointed(&job, &[2000.0]);
        shift(&mut plan, 100.0);
        assert_eq!(broken(&job, &plan), rules, "{from} to {to}");
        // What is glued on already can't be moved away from a knot: it breaks no rule.
        let mut laid = job.clone();
        laid.laid = plan.pieces.clone();
        assert_eq!(broken(&laid, &plan), NONE);
    }
}

#[test]
fn the_ends_of_a_strip_are_left_and_what_is_laid_may_stay() {
    // Pieces of 2049 from strips of 3000: cut from 25 on they end at 2074, and from 926 on they end at 2975.
    let mut job = oak().course(0.0, 4000.0).build();
    job.rules.allow.end_trim = mm(25.0);
    for (at, rules) in [
        (25.0, vec![]),
        (25.0 - HAIR, vec![3]),
        (0.0, vec![3]),
        (926.0, vec![]),
        (926.0 + HAIR, vec![3]),
    ] {
        let mut plan = jointed(&job, &[2000.0]);
        shift(&mut plan, at);
        assert_eq!(broken(&job, &plan), rules, "cut from {at}");
        let mut laid = job.clone();
        laid.laid = plan.pieces.clone();
        assert_eq!(broken(&laid, &plan), NONE, "laid from {at}");
    }
}

/// Cuts everything so much further along its strip.
fn shift(plan: &mut Plan, by: f64) {
    for piece in &mut plan.pieces {
        piece.cut_from = piece.cut_from + mm(by);
        piece.cut_to = piece.cut_to + mm(by);
    }
}

#[test]
fn no_piece_comes_from_a_cull() {
    let job = boat()
        .panel("topside", Toward::Keel)
        .course(0.0, 4000.0)
        .board("oak", 3, 3000.0, 5);
    let job = job
        .strip("oak-04", "oak", 4, 3000.0, Colour::shade(5))
        .cull()
        .build();
    assert_eq!(broken(&job, &jointed(&job, &[2000.0])), [3]);
}

#[test]
fn a_piece_exactly_the_shortest_is_long_enough() {
    let job = oak().course(0.0, 3000.0).build();
    for (at, rules) in [
        (600.0, vec![]),
        (600.0 - HAIR, vec![7]),
        (2400.0, vec![]),
        (2400.0 + HAIR, vec![7]),
    ] {
        assert_eq!(broken(&job, &jointed(&job, &[at])), rules, "{at}");
    }
}

#[test]
fn lengths_of_pieces_are_measured_along_the_skin() {
    // 1000 of boat, 2000 of skin: a joint at s = 1000 leaves 500 of boat but 1000 of strip on either hand.
    let job = oak().course(0.0, 1000.0).skin(2000.0).build();
    assert_eq!(broken(&job, &jointed(&job, &[1000.0])), NONE);
}

#[test]
fn a_course_shorter_than_the_shortest_piece_is_one_piece() {
    let job = oak().course(0.0, 500.0).build();
    let one = lay_whole(&job, 0, Cut::pair(&job, "oak-01", "oak-02", 0.0));
    assert_eq!(broken(&job, &complete(&job, one)), NONE);
    assert_eq!(broken(&job, &jointed(&job, &[250.0])), [7]);
}

#[test]
fn a_course_has_no_more_joints_than_the_most() {
    for (most, rules) in [(2, vec![]), (1, vec![7])] {
        let job = oak()
            .course(0.0, 4000.0)
            .rules(|rules| rules.joints.most = most)
            .build();
        let pair = |a: &str, b: &str| Cut::pair(&job, a, b, 0.0);
        let cuts = [
            pair("oak-01", "oak-02"),
            pair("oak-03", "oak-04"),
            pair("oak-05", "oak-06"),
        ];
        let joints = [S::from_mm(1000.0), S::from_mm(2500.0)];
        let rows = lay_course(&job, CourseId(0), &joints, &cuts);
        assert_eq!(broken(&job, &complete(&job, rows)), rules);
    }
}

#[test]
fn a_free_end_needs_its_own_allowance_and_more_is_allowed() {
    let job = oak()
        .course(0.0, 2000.0)
        .ends(End::Free, End::Fitted)
        .build();
    let ending = |from: f64, to: f64| {
        let cut = [Cut::pair(&job, "oak-01", "oak-02", 100.0)];
        let mut rows = lay_course(&job, CourseId(0), &[], &cut);
        for piece in &mut rows {
            (piece.from, piece.to) = (S::from_mm(from), S::from_mm(to));
            piece.cut_to = piece.cut_from + (piece.to - piece.from);
        }
        broken(&job, &complete(&job, rows))
    };
    assert_eq!(ending(-50.0, 2025.0), NONE);
    assert_eq!(ending(-50.0 + HAIR, 2025.0), [1]);
    assert_eq!(ending(-50.0, 2025.0 - HAIR), [1]);
    assert_eq!(ending(-300.0, 2200.0), NONE);
}

#[test]
fn a_hundredth_of_a_millimetre_is_no_breach_and_more_is() {
    let job = oak().course(0.0, 2000.0).build();
    let short_by = |short: f64| {
        let cut = [Cut::pair(&job, "oak-01", "oak-02", 0.0)];
        let mut rows = lay_course(&job, CourseId(0), &[], &cut);
        for piece in &mut rows {
            piece.to = piece.to - mm(short);
            piece.cut_to = piece.cut_to - mm(short);
        }
        broken(&job, &complete(&job, rows))
    };
    assert_eq!(short_by(0.01), NONE);
    assert_eq!(short_by(0.011), [1]);
}

fn oak_and_strays() -> Job {
    let job = oak().course(0.0, 2000.0);
    let job = job.stray("s-1", 3000.0, Colour::shade(5));
    job.stray("s-2", 3000.0, Colour::shade(5)).build()
}

/// The one course in one piece, its starboard strip cut so much further along.
fn cut_apart(job: &Job, strip: &str, mate: &str, by: f64) -> Vec<Piece> {
    let mut cut = Cut::pair(job, strip, mate, 100.0);
    cut.mate = cut.mate.map(|(mate, _)| (mate, U::from_mm(100.0 + by)));
    lay_whole(job, 0, cut)
}

#[test]
fn mates_of_one_board_stay_in_register_and_others_need_not() {
    let job = oak_and_strays();
    let broken =
        |a: &str, b: &str, by: f64| broken(&job, &complete(&job, cut_apart(&job, a, b, by)));
    assert_eq!(broken("oak-01", "oak-02", 0.0), NONE);
    assert_eq!(broken("oak-01", "oak-07", 0.0), NONE);
    assert_eq!(broken("oak-01", "oak-02", HAIR), [2]);
    assert_eq!(broken("oak-01", "oak-07", HAIR), [2]);
    assert_eq!(broken("oak-01", "s-1", 300.0), NONE);
    assert_eq!(broken("s-1", "s-2", 300.0), NONE);
}

#[test]
fn mates_of_different_boards_may_show_any_face_and_point_any_end() {
    let job = oak_and_strays();
    let mut rows = cut_apart(&job, "s-1", "s-2", 0.0);
    // A half turn about the line that looks out: the other end to the bow, the other edge to the next course.
    let first = &mut rows[0];
    first.bow_end = first.bow_end.other();
    first.next_edge = first.next_edge.other();
    assert_eq!(broken(&job, &complete(&job, rows)), NONE);
}

#[test]
fn both_sides_end_where_their_mates_do_even_beyond_the_course() {
    let job = oak_and_strays();
    let mut rows = cut_apart(&job, "s-1", "s-2", 0.0);
    rows[0].to = rows[0].to + mm(10.0);
    rows[0].cut_to = rows[0].cut_to + mm(10.0);
    assert_eq!(broken(&job, &complete(&job, rows)), [2]);
}

#[test]
fn a_course_left_out_whole_and_listed_breaks_no_rule() {
    let job = oak().courses(2, 0.0, 4000.0).build();
    let plan = jointed(&job, &[2000.0]);
    assert_eq!(plan.uncovered, [CourseId(1)]);
    assert_eq!(broken(&job, &plan), NONE);
    let silent = Plan {
        uncovered: Vec::new(),
        ..plan
    };
    assert_eq!(broken(&job, &silent), [1]);
}

/// The rules that two courses break under some wants: four strips of oak on each, oak-01 to oak-04 on the first, the
/// odd ones to port.
fn under(change: impl FnOnce(Builder) -> Builder) -> Vec<u8> {
    let mut job = change(oak().courses(2, 0.0, 4000.0)).build();
    for strip in &mut job.stock.strips {
        strip.wood = "Oak".into();
    }
    broken(&job, &jointed(&job, &[2000.0, 1600.0]))
}

fn named(numbers: std::ops::RangeInclusive<u32>) -> Vec<String> {
    numbers.map(|n| format!("oak-{n:02}")).collect()
}

#[test]
fn a_want_holds_for_every_piece_of_its_courses_and_for_no_other() {
    for (courses, strips, rules) in [
        ((1, 1), 1..=4, vec![]),
        ((1, 1), 1..=3, vec![10]),
        ((1, 2), 1..=8, vec![]),
        ((1, 2), 1..=7, vec![10]),
        ((2, 2), 5..=8, vec![]),
        ((2, 2), 1..=4, vec![10]),
    ] {
        let broken =
            under(|boat| boat.want("line", courses, |want| want.strips = named(strips.clone())));
        assert_eq!(broken, rules, "{courses:?} from {strips:?}");
    }
}

#[test]
fn wood_is_wanted_whatever_its_capitals_and_boards_are_named_exactly() {
    for (wood, rules) in [("oak", vec![]), ("OAK", vec![]), ("oaks", vec![10])] {
        let broken = under(|boat| boat.want("line", (1, 1), |want| want.wood = Some(wood.into())));
        assert_eq!(broken, rules, "{wood}");
    }
    for (board, rules) in [("oak", vec![]), ("Oak", vec![10])] {
        let broken =
            under(|boat| boat.want("line", (1, 1), |want| want.boards = vec![board.into()]));
        assert_eq!(broken, rules, "{board}");
    }
    // A want for either is met by both.
    let either = under(|boat| {
        boat.want("line", (1, 1), |want| {
            want.wood = Some("ash".into());
            want.strips = named(1..=4);
        })
    });
    assert_eq!(either, NONE);
}

#[test]
fn where_two_wants_cover_a_course_its_wood_is_what_both_name() {
    let both = |one, other| {
        under(|boat| {
            let boat = boat.want("line", (1, 2), |want| want.strips = named(one));
            boat.want("pair", (1, 1), |want| want.strips = named(other))
        })
    };
    assert_eq!(both(1..=8, 1..=4), NONE);
    assert_eq!(both(2..=8, 1..=4), [10]);
    assert_eq!(both(1..=8, 1..=3), [10]);
}

#[test]
fn what_is_kept_lies_on_the_courses_of_any_want_that_keeps_it_and_nowhere_else() {
    let kept = |keep: bool, other: Option<(u32, u32)>| {
        under(|boat| {
            // Course 2 may have oak-04 as well, which lies on course 1.
            let boat = boat.want("line", (2, 2), |want| {
                (want.strips, want.keep) = (named(4..=8), keep)
            });
            match other {
                Some(courses) => boat.want("more", courses, |want| {
                    (want.strips, want.keep) = (named(1..=8), true)
                }),
                None => boat,
            }
        })
    };
    assert_eq!(kept(false, None), NONE);
    assert_eq!(kept(true, None), [10]);
    assert_eq!(kept(true, Some((1, 1))), NONE);
    assert_eq!(kept(true, Some((2, 2))), [10]);
}

#[test]
fn the_strip_that_goes_to_port_lies_to_port() {
    for (port, rules) in [("oak-01", vec![]), ("oak-02", vec![10])] {
        let boat = oak().course(0.0, 2900.0).want("pair", (1, 1), |want| {
            want.strips = named(1..=2);
            want.port = Some(port.into());
        });
        let job = boat.build();
        let rows = lay_whole(&job, 0, Cut::pair(&job, "oak-01", "oak-02", 0.0));
        assert_eq!(broken(&job, &complete(&job, rows)), rules, "{port}");
    }
}

#[test]
fn what_is_glued_on_breaks_no_want() {
    let boat = oak().course(0.0, 4000.0);
    let mut job = boat
        .want("line", (1, 1), |want| want.boards = vec!["walnut".into()])
        .build();
    let plan = jointed(&job, &[2000.0]);
    assert_eq!(broken(&job, &plan), [10]);
    job.laid = plan.pieces[..3].to_vec();
    assert_eq!(broken(&job, &plan), [10], "the fourth piece is not glued");
    job.laid = plan.pieces.clone();
    assert_eq!(broken(&job, &plan), NONE);
}
