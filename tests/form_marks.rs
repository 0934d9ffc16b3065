//! Where the forms fall on the strips.
#![allow(clippy::unwrap_used)]

use crate::common;

use common::naive::{Habit, plan};
use common::{Cut, Size, boat, lay_whole, random_job};
use twinstrake::hull::{Crossing, Form, FormId, Side, Toward};
use twinstrake::job::Job;
use twinstrake::out::form_marks_csv;
use twinstrake::plan::{Plan, form_marks};
use twinstrake::units::{Colour, Length, S, X};

/// A course of 3 m of skin with a form near each end and one amidships.
fn small() -> Job {
    let pale = Colour::lab(70.0, 0.0, 0.0);
    boat()
        .panel("side", Toward::Keel)
        .course(0.0, 2900.0)
        .skin(3000.0)
        .crosses("1", 400.0, 410.0)
        .crosses("2", 1450.0, 1520.0)
        .crosses("3", 2500.0, 2580.0)
        .strip("A1", "A", 1, 3200.0, pale)
        .strip("A2", "A", 2, 3200.0, pale)
        .build()
}

#[test]
fn a_form_falls_as_far_from_the_tip_on_the_strip_as_on_the_skin() {
    let job = small();
    let allowance = job.rules.allow.fitted_end.mm();
    let pair = Cut::pair(&job, "A1", "A2", 60.0);
    for (cut, from_mark) in [(pair, true), (pair.turned(), false)] {
        let rows = lay_whole(&job, 0, cut);
        let piece = rows.iter().find(|piece| piece.side == Side::Port).unwrap();
        let at: Vec<f64> = form_marks(&job.hull, piece)
            .iter()
            .map(|mark| mark.at.mm())
            .collect();
        // The cut begins at 60, and the course's bow end lies an allowance further on. Turned, the strip is cut at the
        // same place and its plain end points to the bow: the same distances from the other end, in the other order.
        let bow = 60.0 + allowance;
        let plain = 60.0 + allowance + 3000.0;
        let by_hand = if from_mark {
            [bow + 410.0, bow + 1520.0, bow + 2580.0]
        } else {
            [plain - 2580.0, plain - 1520.0, plain - 410.0]
        };
        assert_eq!(at, by_hand);
        let from_cut: Vec<f64> = form_marks(&job.hull, piece)
            .iter()
            .map(|mark| mark.from_cut.mm())
            .collect();
        assert_eq!(from_cut, by_hand.map(|u| u - 60.0));
    }
}

#[test]
fn the_sheet_of_marks_says_what_a_hand_would_measure() {
    let job = small();
    let rows = lay_whole(&job, 0, Cut::pair(&job, "A1", "A2", 60.0));
    let plan = common::complete(&job, rows);
    let sheet = String::from_utf8(form_marks_csv(&job, &plan).unwrap()).unwrap();
    let allowance = job.rules.allow.fitted_end.mm();
    let mut lines = sheet.lines();
    assert_eq!(
        lines.next(),
        Some("order,panel,course,side,piece,strip,form,u,from_cut,s,width,bevel,mark")
    );
    let first = format!(
        "1,side,1,port,1,A1,1,{:.3},{:.3},410.000,19.000,,[P]1.1",
        60.0 + allowance + 410.0,
        allowance + 410.0
    );
    assert_eq!(lines.next(), Some(first.as_str()));
    assert_eq!(sheet.lines().count(), 1 + 2 * 3);
}

/// A random job with forms every 400 mm, which its courses cross as evenly as they run.
fn with_forms(seed: u64) -> (Job, Plan) {
    let mut job = random_job(seed, Size::Small);
    job.hull.forms = (0..10)
        .map(|i| Form {
            name: i.to_string(),
            at: X::from_mm(400.0 * f64::from(i)),
        })
        .collect();
    let forms = job.hull.forms.clone();
    for course in &mut job.hull.courses {
        let crossed = (0..).map(FormId).zip(&forms);
        let crossings = crossed.filter(|(_, form)| course.from <= form.at && form.at <= course.to);
        let crossings: Vec<Crossing> = crossings
            .map(|(form, at)| Crossing {
                form,
                at: course.s_at(at.at),
                width: Length::from_mm(19.0),
                bevel: None,
            })
            .collect();
        course.crossings = crossings;
    }
    let plan = plan(&job, Habit::ManyJoints);
    (job, plan)
}

#[test]
fn mates_from_one_board_have_their_marks_at_the_same_places() {
    let mut compared = 0;
    for seed in 0..30 {
        let (job, plan) = with_forms(seed);
        for piece in plan.pieces.iter().filter(|piece| piece.side == Side::Port) {
            let on_starboard = |other: &&twinstrake::plan::Piece| {
                other.side == Side::Starboard
                    && other.course == piece.course
                    && other.number == piece.number
            };
            let mate = plan.pieces.iter().find(on_starboard).unwrap();
            if job.stock.seq_apart(piece.strip, mate.strip).is_some() {
                assert_eq!(form_marks(&job.hull, piece), form_marks(&job.hull, mate));
                compared += 1;
            }
        }
    }
    assert!(compared > 50, "only {compared} pairs were compared");
}

#[test]
fn every_form_that_a_course_crosses_is_marked_on_some_piece_and_inside_its_cut() {
    for seed in 0..30 {
        let (job, plan) = with_forms(seed);
        for (id, course) in job.hull.courses() {
            for side in course.sides() {
                let pieces: Vec<_> = plan
                    .pieces
                    .iter()
                    .filter(|p| p.course == id && p.side == *side)
                    .collect();
                if pieces.is_empty() {
                    continue;
                }
                let marked = |form: FormId| {
                    pieces.iter().any(|piece| {
                        form_marks(&job.hull, piece)
                            .iter()
                            .any(|mark| mark.crossing.form == form)
                    })
                };
                assert!(
                    course
                        .crossings
                        .iter()
                        .all(|crossing| marked(crossing.form))
                );
                for piece in pieces {
                    for mark in form_marks(&job.hull, piece) {
                        assert!(piece.cut_from <= mark.at && mark.at <= piece.cut_to);
                        assert!(S::ORIGIN <= mark.crossing.at);
                    }
                }
            }
        }
    }
}
