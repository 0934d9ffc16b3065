//! The drawing of the planking, read back as whoever looks at it would.
#![allow(clippy::unwrap_used, clippy::expect_used)]

#[path = "../common/mod.rs"]
mod common;
mod reader;
mod typeface;

use std::collections::BTreeSet;

use common::{Cut, Size, boat, complete, lay_course, mm, naive, random_job};
use reader::{Group, Words, groups, span};
use twinstrake::check::check;
use twinstrake::draw::planking;
use twinstrake::hull::{CourseId, Side, Toward};
use twinstrake::job::Job;
use twinstrake::plan::{Edge, Plan};
use twinstrake::units::{S, Unit};

fn drawn(job: &Job, plan: &Plan) -> String {
    planking(job, plan, &check(job, plan))
}

/// Three mirrored courses and one on the centreline. Course 1 has a joint in the middle of its skin, course 3 is open.
fn small_boat() -> (Job, Plan) {
    let job = boat()
        .panel("topside", Toward::Keel)
        .course(0.0, 4000.0)
        .skin(4400.0)
        .course(100.0, 3900.0)
        .course(200.0, 3800.0)
        .centre(400.0, 3600.0)
        .keep_clear("mast", 1000.0, 1500.0)
        .show(0.0, 2500.0, 2.0)
        .board("oak", 6, 4800.0, 2)
        .board("ash", 2, 4800.0, 8)
        .build();
    let course = CourseId;
    let half = S::from_mm(2200.0);
    let joined = [
        Cut::pair(&job, "oak-01", "oak-02", 10.0),
        Cut::pair(&job, "oak-03", "oak-04", 10.0).turned(),
    ];
    let rows = [
        lay_course(&job, course(0), &[half], &joined),
        lay_course(
            &job,
            course(1),
            &[],
            &[Cut::pair(&job, "oak-05", "oak-06", 20.0)],
        ),
        lay_course(&job, course(3), &[], &[Cut::single(&job, "ash-01", 0.0)]),
    ];
    let plan = complete(&job, rows.concat());
    (job, plan)
}

fn random_plans() -> impl Iterator<Item = (Job, Plan)> {
    (0..24).map(|seed| {
        let job = random_job(
            seed,
            if seed % 2 == 0 {
                Size::Small
            } else {
                Size::Medium
            },
        );
        let habit = if seed % 3 == 0 {
            naive::Habit::FewJoints
        } else {
            naive::Habit::ManyJoints
        };
        let plan = naive::plan(&job, habit);
        (job, plan)
    })
}

#[test]
fn every_piece_of_the_plan_is_drawn_once_in_its_own_colour() {
    for (job, plan) in random_plans().chain([small_boat()]) {
        let svg = drawn(&job, &plan);
        let pieces = groups(&svg, "piece");
        let mut seen: Vec<[String; 5]> = pieces
            .iter()
            .map(|p| {
                let [panel, course, side, piece] = p.place(p.fact("side"));
                [panel, course, side, piece, p.fact("strip").to_owned()]
            })
            .collect();
        let mut asked: Vec<[String; 5]> = plan
            .pieces
            .iter()
            .map(|p| {
                [
                    job.hull.panel_of(p.course).name.clone(),
                    job.hull.course(p.course).number.to_string(),
                    p.side.name().into(),
                    p.number.to_string(),
                    job.stock.strip(p.strip).name.clone(),
                ]
            })
            .collect();
        seen.sort();
        asked.sort();
        assert_eq!(seen, asked);
        for piece in &pieces {
            let mut strips = job.stock.strips.iter();
            let strip = strips.find(|s| s.name == piece.fact("strip")).unwrap();
            let [r, g, b] = strip.colour.to_srgb();
            assert_eq!(piece.fill, Some(format!("#{r:02x}{g:02x}{b:02x}")));
        }
    }
}

#[test]
fn port_and_starboard_mirror_each_other_about_the_centreline() {
    let mut mirrored = 0;
    for (job, plan) in random_plans().chain([small_boat()]) {
        let svg = drawn(&job, &plan);
        let pieces = groups(&svg, "piece");
        let line = &groups(&svg, "centreline")[0].lines[0];
        let centre = line[0].1;
        for port in pieces.iter().filter(|p| p.fact("side") == "port") {
            let there = port.place("starboard");
            let mut mates = pieces.iter().filter(|p| p.place(p.fact("side")) == there);
            let mate = mates.next().unwrap();
            for (one, other) in port.outlines[0].iter().zip(&mate.outlines[0]) {
                assert!(one.1 < centre, "port lies above the centreline");
                assert!((one.0 - other.0).abs() < 0.002, "{one:?} {other:?}");
                assert!((one.1 + other.1 - 2.0 * centre).abs() < 0.003);
            }
            mirrored += 1;
        }
    }
    assert!(mirrored > 100, "only {mirrored} pairs were looked at");
}

#[test]
fn a_joint_lies_at_its_place_on_the_boat_and_is_as_long_as_its_scarf() {
    let (job, plan) = small_boat();
    let svg = drawn(&job, &plan);
    let pieces = groups(&svg, "piece");
    let of = |number: &str| {
        let there = ["topside", "1", "port", number].map(str::to_owned);
        let piece = pieces.iter().find(|p| p.place(p.fact("side")) == there);
        piece.unwrap().outlines[0].clone()
    };
    let (forward, after) = (of("1"), of("2"));
    let ((bow, _), (_, stern)) = (span(&forward, |p| p.0), span(&after, |p| p.0));
    // 4400 mm of skin lie over 4000 mm of boat: the joint at s = 2200 is at x = 2000, half way; the scarf is 8 × 6 = 48 mm
    // of skin, 43.6 mm of boat.
    let paper = |boat: f64| boat / 4000.0 * (stern - bow);
    let (upper, lower) = (forward[1].0, forward[2].0);
    assert!(((upper + lower) / 2.0 - bow - paper(2000.0)).abs() < 0.002);
    assert!((lower - upper - paper(48.0 / 1.1)).abs() < 0.003);
    assert_eq!(
        (after[0].0, after[3].0),
        (upper, lower),
        "they share the scarf"
    );
}

#[test]
fn courses_toward_the_keel_run_inwards_and_courses_toward_the_deck_outwards() {
    // Seen from outside with the bow to the left: the frame f × n = h·e of the model.
    let job = boat()
        .panel("hull", Toward::Keel)
        .courses(3, 0.0, 4000.0)
        .panel("deck", Toward::Deck)
        .courses(3, 0.0, 4000.0)
        .build();
    let rows = groups(&drawn(&job, &complete(&job, Vec::new())), "row");
    let order: Vec<String> = rows
        .iter()
        .map(|r| {
            format!(
                "{} {} {}",
                r.fact("side"),
                r.fact("panel"),
                r.fact("course")
            )
        })
        .collect();
    let half = |side: &str| {
        let rows = ["deck 3", "deck 2", "deck 1", "hull 1", "hull 2", "hull 3"];
        rows.map(|row| format!("{side} {row}")).to_vec()
    };
    let mut starboard = half("starboard");
    starboard.reverse();
    assert_eq!(order, [half("port"), starboard].concat());
}

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
        lay_course(&job, CourseId(n), &[], &[cut])
    });
    let rows = rows.collect::<Vec<_>>().concat();
    let plan = complete(&job, rows);
    (job, plan)
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

#[test]
fn names_of_zones_hide_neither_names_of_strips_nor_joints() {
    let (job, plan) = small_boat();
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
fn a_course_without_wood_is_an_empty_outline_marked_open_on_both_sides() {
    let (job, plan) = small_boat();
    let svg = drawn(&job, &plan);
    let open = groups(&svg, "open");
    let sides: Vec<(&str, &str)> = open
        .iter()
        .map(|o| (o.fact("course"), o.fact("side")))
        .collect();
    assert_eq!(sides, [("3", "port"), ("3", "starboard")]);
    assert!(open.iter().all(|o| o.words[0].text == "open"));
    assert!(svg.contains("1 course open"));
}

#[test]
fn every_row_begins_with_its_side_in_letter_and_shape() {
    let (job, plan) = small_boat();
    let svg = drawn(&job, &plan);
    let rows = groups(&svg, "row");
    let marks = groups(&svg, "mark");
    let sides = |side| {
        let of_side = move |mark: &&Group| mark.fact("side") == side;
        marks.iter().filter(of_side).collect::<Vec<_>>()
    };
    assert_eq!(
        rows.len(),
        7,
        "three courses on both sides, and the one between"
    );
    // One more of each in the legend.
    let (port, starboard, centre) = (sides("port"), sides("starboard"), sides("centre"));
    assert_eq!((port.len(), starboard.len(), centre.len()), (4, 4, 2));
    let corners = |mark: &&Group| mark.outlines.first().map_or(0, Vec::len);
    assert!(
        port.iter()
            .all(|m| m.words[0].text == "P" && corners(m) == 4)
    );
    assert!(
        starboard
            .iter()
            .all(|m| m.words[0].text == "S" && corners(m) == 3)
    );
    assert!(
        centre
            .iter()
            .all(|m| m.words[0].text == "C" && m.circles == 1)
    );
}

#[test]
fn the_pointer_is_told_how_a_piece_lies() {
    let (job, plan) = small_boat();
    let svg = drawn(&job, &plan);
    let there = ["topside", "1", "starboard", "2"].map(str::to_owned);
    let pieces = groups(&svg, "piece");
    let piece = pieces.iter().find(|p| p.place(p.fact("side")) == there);
    // The mate oak-03 is lower in the board and shows high; oak-04 shows low, plain end to the bow: sign = (+1)(−1), and
    // h = +1 on starboard toward the keel, so edge B is next. From the cut at 10 the piece runs 24 of scarf, 2200 of skin,
    // 25 of allowance.
    let told = "topside course 1, starboard, piece 2\nstrip oak-04, mate oak-03\n\
        cut from 10 mm to 2259 mm, measured from the strip's marked end\n\
        plain end to the bow, edge B to the next course, low face out\nnumber 4 in the order of laying";
    assert_eq!(piece.unwrap().told.as_deref(), Some(told));
}

#[test]
fn the_ruler_speaks_the_unit_of_the_job() {
    let (mut job, plan) = small_boat();
    let figures = |job: &Job| {
        let ruler = groups(&drawn(job, &plan), "ruler").remove(0);
        ruler.words.into_iter().map(|w| w.text).collect::<Vec<_>>()
    };
    let metric = figures(&job);
    assert_eq!(metric[..3], ["0", "200", "400"]);
    assert_eq!(metric.last().unwrap(), "mm from the bow");
    job.unit = Unit::Inch;
    let inches = figures(&job);
    assert_eq!(inches[..3], ["0", "12", "24"]);
    assert_eq!(inches.last().unwrap(), "in from the bow");
}

#[test]
fn the_sheet_is_a3_and_grows_with_three_hundred_courses() {
    let size = |svg: &str| {
        let start = svg.find("viewBox=\"0 0 ").unwrap() + 13;
        svg[start..].split('"').next().unwrap().to_owned()
    };
    let (job, plan) = small_boat();
    assert_eq!(size(&drawn(&job, &plan)), "420 297");
    let many = boat()
        .panel("hull", Toward::Keel)
        .courses(300, 0.0, 4000.0)
        .build();
    let plan = complete(&many, Vec::new());
    let svg = drawn(&many, &plan);
    assert_eq!(groups(&svg, "row").len(), 600);
    // Rows of 3.2 mm at the least.
    let height: f64 = size(&svg).split(' ').nth(1).unwrap().parse().unwrap();
    assert!(height > 600.0 * 3.2);
    let legend = &groups(&svg, "legend")[0];
    assert!(legend.words.iter().all(|w| w.at.1 < height));
}

#[test]
fn the_same_plan_is_the_same_drawing() {
    let (job, plan) = small_boat();
    assert_eq!(drawn(&job, &plan), drawn(&job, &plan));
}

#[test]
fn a_plan_with_breaches_is_drawn_and_says_so() {
    let (job, mut plan) = small_boat();
    plan.pieces.retain(|p| p.side != Side::Starboard);
    plan.pieces[0].to = S::at(mm(-1e7));
    plan.pieces[0].number = 0;
    let svg = drawn(&job, &plan);
    let heading = &groups(&svg, "heading")[0];
    assert!(
        heading
            .words
            .iter()
            .any(|w| w.text.starts_with("Not a good plan"))
    );
    assert_eq!(groups(&svg, "piece").len(), plan.pieces.len());
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
    for (lettering, _) in lettering {
        assert!(lettering.words[1].text.contains("B next"), "{lettering:?}");
    }
}

#[test]
fn the_picture_in_the_readme_shows_every_course_of_the_demo() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    let job = twinstrake::job::read(&root.join("demo-stock")).unwrap().job;
    let svg = std::fs::read_to_string(root.join("docs/demo-planking.svg")).unwrap();
    let row = |g: &Group| ["panel", "course", "side"].map(|name| g.fact(name).to_owned());
    let shown: BTreeSet<[String; 3]> = groups(&svg, "piece").iter().map(row).collect();
    let mut asked = BTreeSet::new();
    for (_, course) in job.hull.courses() {
        for side in course.sides() {
            asked.insert([
                job.hull.panel(course.panel).name.clone(),
                course.number.to_string(),
                side.name().to_owned(),
            ]);
        }
    }
    assert_eq!(shown, asked);
}
