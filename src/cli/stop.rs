//! Ctrl-C: the first ends the search, the second the program.

use std::process;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// What a shell expects of a program that was ended by Ctrl-C: 128 and the number of the signal, 2.
pub const INTERRUPTED: i32 = 130;

/// Whether somebody pressed Ctrl-C.
#[derive(Clone, Default)]
pub struct Stop(Arc<AtomicBool>);

impl Stop {
    /// From here on, the first Ctrl-C is kept in mind and the second leaves at once.
    pub fn on_ctrl_c() -> Stop {
        let stop = Stop::default();
        let pressed = stop.clone();
        // Where no handler can be set, Ctrl-C just ends the program, as it would have anyway.
        let _ = ctrlc::set_handler(move || {
            if pressed.0.swap(true, Ordering::Relaxed) {
                process::exit(INTERRUPTED);
            }
        });
        stop
    }

    pub fn asked(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}
