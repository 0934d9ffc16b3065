//! The other pictures: the wood alone, and the steps in greys; and the forms, where they are known.

use std::collections::BTreeMap;
use twinstrake::draw::{self, Picture};
use twinstrake::hull::{Crossing, Form, FormId, Side, Toward};
use twinstrake::job::Job;
use twinstrake::plan::{BowEnd, Face, Plan};
use twinstrake::units::{Colour, S, X};

use super::common::{Cut, boat, complete, lay_whole, mm, naive};
use super::reader::{groups, span};
use super::{drawn, picture, random_plans, small_boat};

#[test]
fn the_finished_hull_shows_every_piece_in_its_colour_and_nothing_is_written_on_it() {
    for (job, plan) in random_plans().chain([small_boat()]) {
        let svg = picture(Picture::Wood, &job, &plan);
        let pieces = groups(&svg, "piece");
        let mut shown: Vec<(&str, &str)> = pieces
            .iter()
            .map(|p| (p.fact("side"), p.fact("strip")))
            .collect();
        // A centre course away from the keel is where the skin is opened: half of it lies on either side.
        let mut asked: Vec<(&str, &str)> = Vec::new();
        for piece in &plan.pieces {
            let strip = job.stock.strip(piece.strip);
            let drawn = pieces
                .iter()
                .filter(|p| p.fact("side") == piece.side.name() && p.fact("strip") == strip.name);
            assert!(drawn.clone().count() >= 1);
            for drawn in drawn {
                let [r, g, b] = strip.colour.to_srgb();
                assert_eq!(drawn.fill, Some(format!("#{r:02x}{g:02x}{b:02x}")));
                assert!(drawn.words.is_empty());
            }
            asked.push((piece.side.name(), &strip.name));
        }
        shown.sort_unstable();
        shown.dedup();
        asked.sort_unstable();
        asked.dedup();
        assert_eq!(shown, asked);
    }
}

/// A panel with a centre course that closes it: on the keel, or at the deck where it is drawn in halves.
fn with_a_centre_course(toward: Toward) -> (Job, Plan) {
    let job = boat()
        .panel("hull", toward)
        .courses(3, 0.0, 4000.0)
        .centre(0.0, 4000.0)
        .board("oak", 8, 4800.0, 5)
        .build();
    let rows = (0..4).map(|n| {
        let (one, other) = (format!("oak-0{}", 2 * n + 1), format!("oak-0{}", 2 * n + 2));
        let cut = match n {
            3 => Cut::single(&job, &one, 0.0),
            _ => Cut::pair(&job, &one, &other, 0.0),
        };
        let cut = if n % 2 == 0 { cut } else { cut.turned() };
        lay_whole(&job, n, cut)
    });
    let rows = rows.collect::<Vec<_>>().concat();
    let plan = complete(&job, rows);
    (job, plan)
}

/// Seen from outside, from the marked end to the right and out of the high face edge A lies below: the frame of the
/// model.
#[test]
fn no_strip_is_mirrored_on_the_finished_hull_and_its_streaks_lie_where_its_face_has_them() {
    const WIDE: u32 = 9000;
    let boats = [Toward::Keel, Toward::Deck].map(with_a_centre_course);
    for (job, plan) in boats.into_iter().chain([small_boat()]) {
        let svg = picture(Picture::Wood, &job, &plan);
        let hull = draw::hull(&job);
        let pixel = |at: f64, from: f64| ((at - from) / hull.w * f64::from(WIDE)) as u32;
        // The middle of each streak half way along it.
        let mut streaks = BTreeMap::new();
        for piece in groups(&svg, "piece") {
            for streak in &piece.outlines[1..] {
                let (fore, aft) = span(streak, |p| p.0);
                let x = (fore + aft) / 2.0;
                let around = streak.iter().zip(streak.iter().cycle().skip(1));
                let crossed = around.filter(|(one, other)| (one.0 < x) != (other.0 < x));
                let y = crossed.map(|(p, q)| p.1 + (x - p.0) / (q.0 - p.0) * (q.1 - p.1));
                let y: Vec<f64> = y.collect();
                let middle = y.iter().sum::<f64>() / y.len() as f64;
                streaks.insert((pixel(x, hull.x), pixel(middle, hull.y)), None);
            }
        }
        let mut across_middle: BTreeMap<(usize, u32), Vec<(u32, f64)>> = BTreeMap::new();
        draw::painted(&job, &plan, WIDE, |at, piece, along, across| {
            let order = plan.pieces.iter().position(|other| other == piece).unwrap();
            if at.0 % 1000 == 500 {
                let column = across_middle.entry((order, at.0)).or_default();
                column.push((at.1, across));
            }
            if let Some(there) = streaks.get_mut(&at) {
                *there = Some((piece.clone(), along, across));
            }
        });
        for ((order, _), column) in &across_middle {
            let piece = &plan.pieces[*order];
            let a_below = (piece.bow_end == BowEnd::Mark) == (piece.face_out == Face::High);
            // Halves of one course don't touch.
            for two in column.windows(2).filter(|two| two[0].0 + 1 == two[1].0) {
                assert_eq!(two[1].1 < two[0].1, a_below, "{piece:?}");
            }
        }
        let mut faces = BTreeMap::new();
        // On courses of both sides, and on one of the centreline: how many streaks, and how many where the face has
        // one.
        let mut counts = [(0, 0); 2];
        for (piece, along, across) in streaks.into_values().flatten() {
            let strip = job.stock.strip(piece.strip);
            let face = faces.entry(&strip.name).or_insert_with(|| {
                let png = draw::strip(&job.stock, strip).unwrap();
                image::load_from_memory(&png).unwrap().to_rgb8()
            });
            let x = (along / strip.length.mm() * f64::from(face.width())) as u32;
            let y = (across * f64::from(face.height())) as u32;
            let sum = |of: [u8; 3]| of.iter().map(|part| u32::from(*part)).sum::<u32>();
            // A streak may be narrower than a pixel of the face; the outermost ones are glue.
            let around = (y.max(2) - 1)..=(y + 1).min(face.height() - 2);
            let darkest = around.map(|y| sum(face.get_pixel(x, y).0)).min().unwrap();
            let (all, there) = &mut counts[usize::from(piece.side == Side::Centre)];
            *all += 1;
            *there += usize::from(darkest + 10 < sum(strip.colour.to_srgb()));
        }
        for (all, there) in counts {
            assert!(all > 3, "only {all} streaks");
            assert!(100 * there > 75 * all, "{there} of {all}");
        }
    }
}

#[test]
fn widths_and_lengths_of_the_finished_hull_are_to_one_scale() {
    // Ten courses of 19 mm on each side and nothing between: 380 mm of girth on 4000 mm of boat.
    let job = boat()
        .panel("hull", Toward::Keel)
        .courses(10, 0.0, 4000.0)
        .board("oak", 20, 4200.0, 5)
        .build();
    let plan = naive::plan(&job, naive::Habit::FewJoints);
    let svg = picture(Picture::Wood, &job, &plan);
    let all: Vec<_> = groups(&svg, "piece")
        .into_iter()
        .flat_map(|piece| piece.outlines[0].clone())
        .collect();
    let ((left, right), (top, bottom)) = (span(&all, |p| p.0), span(&all, |p| p.1));
    let (long, tall) = (right - left, bottom - top);
    assert!((tall / long - 380.0 / 4000.0).abs() < 1e-4, "{tall} {long}");
}

/// Courses of lightness 60, 62, 66, 66: steps from course to course that are small, larger, and none.
fn three_steps() -> (Job, Plan) {
    let boat = boat().panel("hull", Toward::Keel).courses(4, 0.0, 4000.0);
    let boards = [("a", 60.0), ("b", 62.0), ("c", 66.0), ("d", 66.0)];
    let boat = boards.into_iter().fold(boat, |boat, (board, light)| {
        let colour = Colour::lab(light, 8.0, 22.0);
        [1, 2].into_iter().fold(boat, |boat, seq| {
            boat.strip(&format!("{board}-0{seq}"), board, seq, 4200.0, colour)
        })
    });
    let job = boat.build();
    let rows = ["a", "b", "c", "d"]
        .into_iter()
        .enumerate()
        .map(|(n, board)| {
            let cut = Cut::pair(&job, &format!("{board}-01"), &format!("{board}-02"), 0.0);
            lay_whole(&job, n, cut)
        });
    let rows = rows.collect::<Vec<_>>().concat();
    let plan = complete(&job, rows);
    (job, plan)
}

#[test]
fn the_larger_the_step_the_stronger_its_line_and_all_of_it_is_grey() {
    let (job, plan) = three_steps();
    let svg = picture(Picture::Seams, &job, &plan);
    let seams = groups(&svg, "seam");
    assert_eq!(seams.len(), 6, "three seams on both sides");
    let width = |n: usize| seams[n].strokes[0].1;
    // By course, port before starboard.
    assert!(width(2) > 1.5 * width(0) && width(0) > 1.5 * width(4));
    assert_eq!((width(0), width(2)), (width(1), width(3)));
    let grey = |ink: &str| ink[1..3] == ink[3..5] && ink[3..5] == ink[5..7];
    assert!(
        seams
            .iter()
            .flat_map(|s| &s.strokes)
            .all(|(ink, _)| grey(ink))
    );
    let pieces = groups(&svg, "piece");
    assert_eq!(pieces.len(), 8);
    assert!(pieces.iter().all(|p| grey(p.fill.as_ref().unwrap())));
    // Two units of lightness and four can be seen; no step is not pointed out.
    assert_eq!(groups(&svg, "step").len(), 4);
    assert_eq!(groups(&svg, "figure").len(), 4);
}

#[test]
fn a_step_that_no_eye_sees_is_not_among_the_largest() {
    let job = boat()
        .panel("hull", Toward::Keel)
        .courses(2, 0.0, 4000.0)
        .board("oak", 4, 4200.0, 5)
        .build();
    let plan = naive::plan(&job, naive::Habit::FewJoints);
    assert_eq!(groups(&drawn(&job, &plan), "step").len(), 0);
}

#[test]
fn a_form_is_a_line_over_the_courses_that_cross_it_at_its_place_on_the_boat() {
    let (mut job, plan) = small_boat();
    job.hull.forms = ["F1", "F2"]
        .into_iter()
        .zip([1000.0, 3850.0])
        .map(|(name, at)| Form {
            name: name.into(),
            at: X::from_mm(at),
        })
        .collect();
    // Course 1 crosses both; its skin of 4400 mm lies over 4000 mm of boat.
    job.hull.courses[0].crossings = [(0, 1100.0), (1, 4235.0)]
        .map(|(form, at)| Crossing {
            form: FormId(form),
            at: S::from_mm(at),
            width: mm(19.0),
            bevel: None,
        })
        .to_vec();
    let svg = drawn(&job, &plan);
    let forms = groups(&svg, "form");
    assert_eq!(forms.len(), 2);
    let piece = groups(&svg, "piece");
    let all: Vec<_> = piece.iter().flat_map(|p| p.outlines[0].clone()).collect();
    let (bow, stern) = span(&all, |p| p.0);
    for (form, at) in forms.iter().zip([1000.0, 3850.0]) {
        // A light and a dark line of ticks on either side of the boat.
        assert_eq!(form.lines.len(), 4);
        for line in &form.lines {
            assert!((line[0].0 - bow - (stern - bow) * at / 4000.0).abs() < 0.002);
        }
        assert_eq!(form.words.len(), 2, "named above and below");
        assert_eq!(form.words[0].text, form.fact("name"));
    }
}

#[test]
fn the_name_of_a_panel_of_one_course_is_written_whole() {
    let job = boat()
        .panel("sheer strake", Toward::Keel)
        .course(0.0, 4000.0)
        .panel("bottom", Toward::Keel)
        .courses(9, 0.0, 4000.0)
        .build();
    let svg = drawn(&job, &complete(&job, Vec::new()));
    let mut names: Vec<String> = groups(&svg, "panel")
        .into_iter()
        .map(|panel| panel.words[0].text.clone())
        .collect();
    names.sort();
    assert_eq!(
        names,
        [
            "bottom, port",
            "bottom, starboard",
            "sheer strake",
            "sheer strake"
        ]
    );
}

#[test]
fn letters_in_marks_can_be_read_at_arm_s_length_from_an_a3_print() {
    // Common practice, no source: 2 mm of type. The demo has the narrowest courses that the page still takes.
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    let job = twinstrake::job::read(&root.join("demo-stock")).unwrap().job;
    let svg = drawn(&job, &complete(&job, Vec::new()));
    let marks = groups(&svg, "mark");
    assert!(marks.len() > 60);
    assert!(marks.iter().all(|mark| mark.words[0].size >= 2.0));
}
