//! From forms and offsets to courses, against closed forms, quadrature and a published table of offsets. Nothing here
//! comes from the code under test but what is judged.
#![allow(clippy::unwrap_used)]

mod canoe;
mod fair;
mod flat;
mod misprint;
mod panel;
mod random;
mod round;
mod section;
mod solid;
mod wigley;

use std::fmt::Debug;

/// Stops the test if a figure is farther from the known one than this.
#[track_caller]
fn near(found: f64, known: f64, within: f64, what: impl Debug) {
    let off = (found - known).abs();
    assert!(off < within, "{what:?}: {found} for {known}");
}
