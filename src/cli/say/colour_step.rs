//! What a step in colour means to the eye.

pub(super) use twinstrake::units::to_the_eye;
