//! Many plans in a row as they are watched: a line that says what is being tried, and what ends it: a hand, or the
//! time.

use super::bar::progress_bar;
use super::say;
use super::stop::Stop;
use indicatif::ProgressBar;
use std::time::{Duration, Instant};
use twinstrake::solve::{Progress, Watch};

/// Shows what is tried, where stderr is a terminal, and passes Ctrl-C on.
pub struct Trying {
    bar: ProgressBar,
    stop: Stop,
    until: Option<Instant>,
}

impl Trying {
    pub fn new(quiet: bool, stop: Stop) -> Trying {
        let bar = progress_bar(None, quiet, "Trying {spinner} {elapsed}  {wide_msg}");
        bar.enable_steady_tick(Duration::from_millis(200));
        let until = None;
        Trying { bar, stop, until }
    }

    /// The same, but so many seconds are enough.
    pub fn until(self, seconds: Option<f64>) -> Trying {
        let time = seconds.and_then(|seconds| Duration::try_from_secs_f64(seconds).ok());
        let until = time.and_then(|time| Instant::now().checked_add(time));
        Trying { until, ..self }
    }

    /// Says what is tried from here on.
    pub fn now(&self, what: String) {
        self.bar.set_message(what);
    }

    /// Says what is known so far, whether there is a terminal or not.
    pub fn say(&self, text: &str) {
        self.bar.suspend(|| say::err(text));
    }

    pub fn done(&self) {
        self.bar.finish_and_clear();
    }

    /// Whether somebody pressed Ctrl-C.
    pub fn is_stopped_by_hand(&self) -> bool {
        self.stop.asked()
    }
}

impl Watch for Trying {
    fn progress(&self, _: &Progress) {}

    fn stop(&self) -> bool {
        self.stop.asked() || self.until.is_some_and(|until| Instant::now() >= until)
    }
}
