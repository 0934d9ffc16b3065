//! Panels whose courses can be worked out on paper.

use crate::lines::panel::{STRIP, taped};
use twinstrake::hull::{End, Kind, Stretch};
use twinstrake::lines::{Centre, Fit, PanelShape, courses};

#[test]
fn a_girth_that_grows_evenly_gives_courses_that_begin_one_step_apart() {
    // The girth grows from nothing to 100 mm over a metre: 20 mm of strip to 200 mm of boat.
    let all = courses(&taped(&[(0.0, 0.0), (500.0, 50.0), (1000.0, 100.0)]), STRIP).unwrap();
    assert_eq!(all.len(), 5);
    for (i, laid) in all.iter().enumerate() {
        assert_eq!(laid.course.from.mm(), 200.0 * i as f64);
        assert_eq!(laid.course.to.mm(), 1000.0);
        let taper = laid.bow_taper.as_ref().unwrap();
        assert!((taper.length - 200.0).abs() < 1e-6);
        assert_eq!((taper.tip, taper.start.round()), (0.0, 20.0));
        // A straight taper needs no point between its ends, and is as wide as it is thick after 60 mm.
        assert_eq!(taper.line.len(), 2);
        assert!((taper.sliver - 60.0).abs() < 1e-6);
        assert!(laid.stern_taper.is_none());
    }
}

#[test]
fn an_end_meets_what_boat_toml_says_of_it() {
    let mut told = taped(&[(0.0, 0.0), (200.0, 40.0), (1000.0, 60.0), (2000.0, 50.0)]);
    told.bow_end_to = Some(150.0);
    let all = courses(&told, STRIP).unwrap();
    // Course 1 begins at the stem head, course 2 on the stem, course 3 on the stop line.
    let met: Vec<(Fit, Fit)> = all.iter().map(|laid| (laid.bow, laid.stern)).collect();
    assert_eq!(
        met,
        [
            (Fit::Stem, Fit::Stem),
            (Fit::Stem, Fit::Stem),
            (Fit::Free, Fit::Stem)
        ]
    );
    assert_eq!(all[2].course.bow_end, End::Free);
    assert_eq!(all[2].course.stern_end, End::Fitted);
}

#[test]
fn a_band_that_the_stop_line_cuts_is_two_courses() {
    let told = taped(&[
        (0.0, 30.0),
        (500.0, 50.0),
        (1000.0, 30.0),
        (1500.0, 50.0),
        (2000.0, 30.0),
    ]);
    let all = courses(&told, STRIP).unwrap();
    let names: Vec<String> = all
        .iter()
        .map(|laid| laid.course.name().to_string())
        .collect();
    assert_eq!(names, ["1", "2", "3a", "3b"]);
    assert!(all[2].course.to < all[3].course.from);
    assert_eq!(all[3].course.stretch, Stretch::Part(1));
    // Both ends of both run out on the stop line.
    assert!(
        all[2..]
            .iter()
            .all(|laid| laid.bow == Fit::Free && laid.stern == Fit::Free)
    );
}

#[test]
fn a_course_on_the_centreline_takes_half_its_width_from_each_side() {
    let mut told = taped(&[(0.0, 50.0), (1000.0, 50.0)]);
    told.centre = Centre::Last;
    let widths = |told: &PanelShape| -> Vec<(Kind, f64)> {
        courses(told, STRIP)
            .unwrap()
            .iter()
            .map(|laid| (laid.course.kind, laid.course.crossings[0].width.mm()))
            .collect()
    };
    // 50 mm to the centreline: 10 are the keel plank's, 40 make two courses.
    assert_eq!(
        widths(&told),
        [
            (Kind::Mirrored, 20.0),
            (Kind::Mirrored, 20.0),
            (Kind::Centre, 20.0)
        ]
    );
    told.centre = Centre::First;
    assert_eq!(
        widths(&told),
        [
            (Kind::Centre, 20.0),
            (Kind::Mirrored, 20.0),
            (Kind::Mirrored, 20.0)
        ]
    );
}

#[test]
fn forms_are_crossed_where_the_skin_is_as_long_as_it_was_measured() {
    let mut told = taped(&[(100.0, 40.0), (600.0, 40.0), (1100.0, 40.0)]);
    told.start_length = Some(1010.0);
    let course = &courses(&told, STRIP).unwrap()[0].course;
    let at: Vec<f64> = course
        .crossings
        .iter()
        .map(|crossing| crossing.at.mm())
        .collect();
    assert_eq!(at, [0.0, 505.0, 1010.0]);
}
