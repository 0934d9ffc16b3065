//! Many plans in a row as they are watched: a line that says what is being tried, and the hand that stops it.

use super::stop::Stop;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::io::{IsTerminal, stderr};
use std::time::Duration;
use twinstrake::solve::{Progress, Watch};

/// Shows what is tried, where stderr is a terminal, and passes Ctrl-C on.
pub(super) struct Trying {
    bar: ProgressBar,
    stop: Stop,
}

impl Trying {
    pub(super) fn new(quiet: bool, stop: Stop) -> Trying {
        let target = if quiet || !stderr().is_terminal() {
            ProgressDrawTarget::hidden()
        } else {
            ProgressDrawTarget::stderr()
        };
        let bar = ProgressBar::with_draw_target(None, target);
        // The template is ours: were it wrong, the usual look would do.
        if let Ok(style) = ProgressStyle::with_template("Trying {spinner} {elapsed}  {wide_msg}") {
            bar.set_style(style.tick_chars("|/-\\ "));
        }
        bar.enable_steady_tick(Duration::from_millis(200));
        Trying { bar, stop }
    }

    /// Says what is tried from here on.
    pub(super) fn now(&self, what: String) {
        self.bar.set_message(what);
    }

    pub(super) fn done(&self) {
        self.bar.finish_and_clear();
    }
}

impl Watch for Trying {
    fn progress(&self, _: &Progress) {}

    fn stop(&self) -> bool {
        self.stop.asked()
    }
}
