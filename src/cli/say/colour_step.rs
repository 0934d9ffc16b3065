//! What a step in colour means to the eye.

pub(super) use crate::units::to_the_eye;
