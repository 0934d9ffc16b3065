//! What is written on pieces and zones, and what the pointer is told.

use twinstrake::hull::{CourseId, Toward};
use twinstrake::job::Job;
use twinstrake::plan::{Edge, Plan};
use twinstrake::units::S;

use super::common::{Cut, boat, complete, lay_course, lay_whole, naive};
use super::reader::{Group, Words, groups, span};
use super::{drawn, random_plans, small_boat, typeface};

/// From where to where words reach, in a wide typeface.
fn reach(words: &Words) -> (f64, f64) {
    let width = typeface::width(&words.text, words.size, words.bold);
    match words.anchor.as_str() {
        "start" => (words.at.0, words.at.0 + width),
        "middle" => (words.at.0 - width / 2.0, words.at.0 + width / 2.0),
        _ => (words.at.0 - width, words.at.0),
    }
}

/// What is written and drawn on the pieces, each with its piece.
fn lettered(svg: &str) -> Vec<(Group, Group)> {
    let pieces = groups(svg, "piece");
    let lettering = groups(svg, "lettering").into_iter();
    lettering
        .filter(|group| !group.words.is_empty())
        .map(|group| {
            let Words { at, size, .. } = group.words[0];
            let inside = |piece: &&Group| {
                let ((left, right), (top, bottom)) = (
                    span(&piece.outlines[0], |p| p.0),
                    span(&piece.outlines[0], |p| p.1),
                );
                (left..=right).contains(&at.0)
                    && (top..=bottom).contains(&(at.1 - size / 3.0))
                    && piece.fact("strip") == group.fact("strip")
            };
            let piece = pieces.iter().find(inside).expect("words lie on a piece");
            (group, piece.clone())
        })
        .collect()
}

/// One strip with a name for every length of piece.
fn long_names() -> (Job, Plan) {
    let name = "WWWWWWWWWWWWWWWWWWWWWWWWWWWW";
    let job = boat()
        .panel("a", Toward::Keel)
        .courses(28, 0.0, 900.0)
        .course(0.0, 30_000.0);
    let colour = twinstrake::units::Colour::shade(4);
    let job = (1..=28).fold(job, |job, many| {
        let of = |end: &str| format!("{}{end}", &name[..many]);
        let seq = many as u32 * 2;
        job.strip(&of("a"), "b", seq, 1000.0, colour)
            .strip(&of("b"), "b", seq + 1, 1000.0, colour)
    });
    let job = job.build();
    let rows = (0..28).map(|n| {
        let of = |end: &str| format!("{}{end}", &name[..=n]);
        let cut = Cut::pair(&job, &of("a"), &of("b"), 0.0);
        lay_whole(&job, n, cut)
    });
    let rows = rows.collect::<Vec<_>>().concat();
    let plan = complete(&job, rows);
    (job, plan)
}

#[test]
fn no_words_are_wider_than_the_piece_they_are_on() {
    let mut looked_at = 0;
    for (job, plan) in random_plans().chain([small_boat(), long_names()]) {
        for (lettering, piece) in lettered(&drawn(&job, &plan)) {
            let outline = &piece.outlines[0];
            // Between the scarfs: the outer and inner edges of the outline both reach there.
            let left = outline[0].0.max(outline[3].0);
            let right = outline[1].0.min(outline[2].0);
            let mut before = left;
            for words in &lettering.words {
                let (from, to) = reach(words);
                assert!(before <= from && to <= right, "{words:?} on {piece:?}");
                assert!(words.size >= 1.59, "too small to read: {words:?}");
                before = to;
                looked_at += 1;
            }
        }
    }
    assert!(looked_at > 200, "only {looked_at} words were looked at");
}

#[test]
fn a_name_that_has_no_room_is_left_out_and_still_told_to_the_pointer() {
    let (job, plan) = long_names();
    let svg = drawn(&job, &plan);
    let written = lettered(&svg).len();
    let pieces = groups(&svg, "piece");
    assert!(0 < written && written < pieces.len(), "{written}");
    assert!(
        pieces
            .iter()
            .all(|p| p.told.as_ref().unwrap().contains(p.fact("strip")))
    );
}

/// A joint lies in the middle course just where the name of the zone would stand, and another piece begins there.
fn joint_under_a_name() -> (Job, Plan) {
    let job = boat()
        .panel("topside", Toward::Keel)
        .courses(3, 0.0, 4000.0)
        .show(0.0, 2500.0, 2.0)
        .keep_clear("mast", 1000.0, 1500.0)
        .board("oak", 8, 4800.0, 2)
        .build();
    let whole = |course: usize, one: &str, other: &str| {
        lay_whole(&job, course, Cut::pair(&job, one, other, 0.0))
    };
    let joined = [
        Cut::pair(&job, "oak-03", "oak-04", 0.0),
        Cut::pair(&job, "oak-05", "oak-06", 0.0),
    ];
    let rows = [
        whole(0, "oak-01", "oak-02"),
        lay_course(&job, CourseId(1), &[S::from_mm(2260.0)], &joined),
        whole(2, "oak-07", "oak-08"),
    ];
    let plan = complete(&job, rows.concat());
    (job, plan)
}

#[test]
fn names_of_zones_hide_neither_names_of_strips_nor_joints() {
    let (job, plan) = joint_under_a_name();
    let svg = drawn(&job, &plan);
    let plates: Vec<_> = groups(&svg, "zone-name");
    assert_eq!(plates.len(), 4, "mast and show zone, each on both sides");
    let on_a_plate = |x: f64, y: f64| {
        plates.iter().any(|plate| {
            let (left, right) = span(&plate.outlines[0], |p| p.0);
            let (top, bottom) = span(&plate.outlines[0], |p| p.1);
            (left..right).contains(&x) && (top..bottom).contains(&y)
        })
    };
    for (lettering, _) in lettered(&svg) {
        for words in &lettering.words {
            let (from, to) = reach(words);
            for part in 0..=20 {
                let x = from + (to - from) * f64::from(part) / 20.0;
                assert!(!on_a_plate(x, words.at.1 - words.size / 3.0), "{words:?}");
            }
        }
    }
    // The middle course is the one to be named, and its joint is in the way.
    let rows = groups(&svg, "row");
    let middle: Vec<f64> = rows
        .iter()
        .filter(|r| r.fact("course") == "2")
        .map(|r| r.words[0].at.1)
        .collect();
    let named_there = |y: f64| {
        plates
            .iter()
            .filter(|p| (p.words[0].at.1 - y).abs() < 1.0)
            .count()
    };
    assert_eq!(
        middle.into_iter().map(named_there).collect::<Vec<_>>(),
        [1, 1],
        "the mast's name alone"
    );
    for piece in groups(&svg, "piece") {
        for scarf in &piece.lines {
            let middle = (
                (scarf[0].0 + scarf[1].0) / 2.0,
                (scarf[0].1 + scarf[1].1) / 2.0,
            );
            assert!(!on_a_plate(middle.0, middle.1), "{piece:?}");
        }
    }
    assert_eq!(groups(&svg, "keep-clear")[0].fact("name"), "mast");
}

#[test]
fn names_with_signs_that_xml_uses_come_out_as_they_were() {
    let (mut job, plan) = small_boat();
    let wild = "<boat & \"sons\">\u{1}";
    job.name = wild.into();
    job.hull.panels[0].name = wild.into();
    job.stock.strips[0].name = wild.into();
    job.hull.keep_clear[0].name = Some(wild.into());
    let svg = drawn(&job, &plan);
    let clean = wild.replace('\u{1}', " ");
    assert_eq!(groups(&svg, "keep-clear")[0].fact("name"), clean);
    assert!(
        groups(&svg, "piece")
            .iter()
            .any(|p| p.fact("strip") == clean)
    );
    assert!(
        groups(&svg, "heading")[0]
            .words
            .iter()
            .any(|w| w.text == clean)
    );
}

#[test]
fn the_pointer_is_told_how_a_piece_lies() {
    let (job, plan) = small_boat();
    let svg = drawn(&job, &plan);
    let there = ["topside", "1", "starboard", "2"].map(str::to_owned);
    let pieces = groups(&svg, "piece");
    let piece = pieces.iter().find(|p| p.place(p.fact("side")) == there);
    // The mate oak-03 is lower in the board and shows high; oak-04 shows low, plain end to the bow: sign = (+1)(−1),
    // and h = +1 on starboard toward the keel, so edge B is next. From the cut at 10 the piece runs 24 of scarf, 2200
    // of skin, 25 of allowance.
    let told = "topside course 1, starboard, piece 2\nstrip oak-04, mate oak-03\n\
        cut from 10 mm to 2259 mm, measured from the strip's marked end\n\
        plain end to the bow, edge B to the next course, low face out\nnumber 4 in the order of laying";
    assert_eq!(piece.unwrap().told.as_deref(), Some(told));
}

#[test]
fn an_edge_that_is_given_is_written_on_every_piece() {
    let job = boat()
        .panel("deck", Toward::Deck)
        .courses(2, 0.0, 3000.0)
        .board("fir", 4, 3200.0, 6)
        .bead_and_cove(Edge::B)
        .build();
    let plan = naive::plan(&job, naive::Habit::FewJoints);
    let lettering = lettered(&drawn(&job, &plan));
    assert_eq!(lettering.len(), 4);
    // The first course has another beside it, the second none.
    let said = |words: &str| {
        let all = lettering.iter();
        all.filter(|(lettering, _)| lettering.words[1].text.contains(words))
            .count()
    };
    assert_eq!((said("B next"), said("B free")), (2, 2), "{lettering:?}");
}
