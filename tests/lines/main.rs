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
