//! The other pictures: the wood alone, and the steps in greys; and the forms, where they are known.

use twinstrake::draw::Picture;
use twinstrake::hull::{CourseId, Crossing, Form, FormId, Toward};
use twinstrake::job::Job;
use twinstrake::plan::Plan;
use twinstrake::units::{Colour, S, X};

use super::common::{Cut, boat, complete, lay_course, mm, naive};
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
            lay_course(&job, CourseId(n), &[], &[cut])
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
