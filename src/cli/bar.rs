//! The search as it is watched: a line on the terminal, and the hand that stops it.

use super::say;
use super::stop::Stop;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::io::{IsTerminal, stderr};
use std::sync::OnceLock;
use std::time::{Duration, Instant};
use twinstrake::solve::{Progress, Watch};
use twinstrake::units::Unit;

/// A bar or a wheel as the template has it, to be shown where stderr is a terminal. `of` is how much there is to do.
pub fn progress_bar(of: Option<u64>, quiet: bool, template: &str) -> ProgressBar {
    let target = match quiet || !stderr().is_terminal() {
        true => ProgressDrawTarget::hidden(),
        false => ProgressDrawTarget::stderr(),
    };
    let bar = ProgressBar::with_draw_target(of, target);
    // The templates are ours: were one wrong, the usual look would do.
    if let Ok(style) = ProgressStyle::with_template(template) {
        bar.set_style(style.progress_chars("=> ").tick_chars("|/-\\ "));
    }
    bar
}

/// Shows how far the search is, where stderr is a terminal, and passes Ctrl-C on.
pub struct Bar {
    bar: ProgressBar,
    stop: Stop,
    quiet: bool,
    began: Instant,
    unit: Unit,
    first: OnceLock<f64>,
}

impl Bar {
    pub fn new(unit: Unit, rounds: Option<u64>, quiet: bool, stop: Stop) -> Bar {
        let template = match rounds {
            Some(_) => "Laying [{bar:16}] {elapsed}  {wide_msg}",
            None => "Laying {spinner} {elapsed}  {wide_msg}",
        };
        let bar = progress_bar(rounds, quiet, template);
        bar.set_message("laying a first plan");
        bar.enable_steady_tick(Duration::from_millis(200));
        Bar {
            bar,
            stop,
            quiet,
            began: Instant::now(),
            unit,
            first: OnceLock::new(),
        }
    }

    pub fn done(&self) {
        self.bar.finish_and_clear();
    }
}

impl Watch for Bar {
    fn progress(&self, at: &Progress) {
        if at.round == 0 && !self.quiet {
            // Not through the bar: it is told where there is no terminal as well.
            self.bar
                .suspend(|| say::err(&say::in_hand(self.unit, at, self.began.elapsed())));
        }
        self.bar.set_position(at.round);
        self.bar
            .set_message(say::progress(self.unit, at, &self.first));
    }

    fn stop(&self) -> bool {
        self.stop.asked()
    }
}
