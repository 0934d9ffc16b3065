//! Whatever the girths, the courses make up the skin.

use crate::lines::panel::{STRIP, taped};
use proptest::prelude::*;
use twinstrake::hull::Kind;
use twinstrake::lines::{Centre, PanelShape, Scantling, courses};

fn centre() -> impl Strategy<Value = Centre> {
    prop_oneof![Just(Centre::None), Just(Centre::First), Just(Centre::Last)]
}

/// Two to eight forms from 100 to 900 mm apart, with girths from nothing to 300 mm.
fn panel() -> impl Strategy<Value = PanelShape> {
    (
        prop::collection::vec((100.0..900.0_f64, 0.0..300.0_f64), 2..8),
        centre(),
    )
        .prop_map(|(steps, centre)| {
            let mut x = 0.0;
            let girths: Vec<(f64, f64)> = steps
                .into_iter()
                .map(|(step, girth)| {
                    x += step;
                    (x, girth)
                })
                .collect();
            PanelShape {
                centre,
                ..taped(&girths)
            }
        })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_widths_of_all_courses_at_a_form_add_up_to_its_girth(told in panel(), width in 8.0..40.0_f64) {
        let strip = Scantling { width, ..STRIP };
        let all = courses(&told, strip).unwrap();
        for (form, x) in told.forms.iter().zip(told.girth.places()) {
            let sum: f64 = all
                .iter()
                .map(|laid| {
                    let half = if laid.course.kind == Kind::Centre { 0.5 } else { 1.0 };
                    let at = laid.course.crossings.iter().filter(|crossing| crossing.form == *form);
                    half * at.map(|crossing| crossing.width.mm()).sum::<f64>()
                })
                .sum();
            // A course narrower than 0.01 mm everywhere is none, and every width is written to a thousandth.
            prop_assert!((sum - told.girth.at(*x)).abs() < 0.02 + 0.001 * all.len() as f64);
        }
    }

    #[test]
    fn a_course_ends_on_the_stop_line_or_where_its_panel_does(told in panel(), width in 8.0..40.0_f64) {
        let all = courses(&told, Scantling { width, ..STRIP }).unwrap();
        let centres = usize::from(told.centre == Centre::First);
        for laid in all.iter().filter(|laid| laid.course.kind == Kind::Mirrored) {
            let before = f64::from(laid.course.number) - 1.0 - centres as f64;
            let level = before * width + if told.centre == Centre::None { 0.0 } else { 0.5 * width };
            for end in [laid.course.from.mm(), laid.course.to.mm()] {
                let at_panel_end = (end - told.from()).abs() < 0.001 || (end - told.to()).abs() < 0.001;
                // An end is written to a thousandth, and the girth grows by 3 mm a mm at most.
                prop_assert!(at_panel_end || (told.girth.at(end) - level).abs() < 0.02, "{}", laid.course.name());
            }
        }
    }

    #[test]
    fn courses_of_one_band_follow_each_other_and_widths_never_pass_the_strip(told in panel()) {
        let all = courses(&told, STRIP).unwrap();
        for pair in all.windows(2) {
            let (one, next) = (&pair[0].course, &pair[1].course);
            prop_assert!(one.name() < next.name());
            if one.number == next.number {
                prop_assert!(one.to <= next.from);
            }
        }
        for laid in &all {
            for crossing in &laid.course.crossings {
                prop_assert!(crossing.width.mm() <= STRIP.width + 0.001);
                prop_assert!(crossing.at.mm() >= 0.0 && crossing.at.mm() <= laid.course.length.mm());
            }
        }
    }
}
