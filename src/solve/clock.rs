//! What may end a search from outside: the time that was asked for, and whoever watches.

use super::asked::Watch;
use crate::solve::tuning::search::GRACE;
use std::sync::OnceLock;
use std::time::{Duration, Instant};

/// The time that was asked for, and whoever watches.
pub struct Clock<'w> {
    /// When the time is up, where it is limited.
    until: Option<Instant>,
    /// Whoever watches.
    pub watch: &'w dyn Watch,
    /// When it was first noticed that the end is due.
    noticed: OnceLock<Instant>,
}

impl<'w> Clock<'w> {
    /// A clock that runs until then, or until the watcher ends it.
    pub fn new(until: Option<Instant>, watch: &'w dyn Watch) -> Clock<'w> {
        Clock {
            until,
            watch,
            noticed: OnceLock::new(),
        }
    }

    /// Whether the time is up.
    pub fn is_out_of_time(&self) -> bool {
        self.until.is_some_and(|until| Instant::now() >= until)
    }

    /// Whether the search should end with what it has.
    pub fn stop(&self) -> bool {
        self.watch.stop() || self.is_out_of_time()
    }

    /// Whether that was so long ago that even what is of no use half done must be left: the first plan, and what to
    /// mill.
    pub fn is_over(&self) -> bool {
        let noticed = || self.noticed.get_or_init(Instant::now).elapsed();
        self.stop() && noticed() >= Duration::from_secs_f64(GRACE)
    }
}
