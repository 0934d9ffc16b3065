//! How a command ended, as the shell sees it.

use std::process::ExitCode;

/// What a command comes to: how it ended, or how it was given up, the reason being said already.
pub type Ended = Result<Status, Status>;

/// The exit status. Source: the formats, "Exit status".
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Status {
    /// Done: everything is covered, and every rule kept.
    Good,
    /// A plan is there, but does not cover every course, or (`check` alone) breaks a rule.
    Wanting,
    /// Bad input or usage; nothing was written.
    BadInput,
    /// A bug, or a disk that can't be written to; no plan was written.
    Fault,
}

impl Status {
    /// How a command ends that has a plan to tell of: whether nothing is wanting in it.
    pub const fn good_if(nothing_is_wanting: bool) -> Status {
        if nothing_is_wanting {
            Status::Good
        } else {
            Status::Wanting
        }
    }

    /// The number that the shell gets.
    pub const fn code(self) -> u8 {
        match self {
            Status::Good => 0,
            Status::Wanting => 1,
            Status::BadInput => 2,
            Status::Fault => 3,
        }
    }
}

impl From<Status> for ExitCode {
    fn from(status: Status) -> ExitCode {
        ExitCode::from(status.code())
    }
}
