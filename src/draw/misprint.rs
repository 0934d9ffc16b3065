//! What can go wrong when a scene is put into a format.

/// A page or picture that a library would not put into its format: a bug, whatever the plan.
#[derive(thiserror::Error, Clone, PartialEq, Eq, Debug)]
#[error("{format}: {why}")]
pub struct Misprint {
    /// The format.
    pub format: &'static str,
    /// What the library said.
    pub why: String,
}

impl Misprint {
    pub(super) fn new(format: &'static str, why: impl std::fmt::Debug) -> Misprint {
        Misprint {
            format,
            why: format!("{why:?}"),
        }
    }
}
