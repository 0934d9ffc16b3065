//! What is done in a process of its own, which is ended when it takes too long.
//!
//! Why not a thread: one that is left alone goes on working and holding its picture, a folder full of pictures made
//! to be slow would fill the memory with them, and a reader that overflows its stack would take the whole program
//! along. A process can be ended.

use std::env;
use std::io::{Read as _, Write as _};
use std::process::{Child, Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

/// How long a photograph may take. A dozen megapixels take about a second.
const LONGEST: Duration = Duration::from_secs(20);

/// Why there is no answer.
pub enum NoAnswer {
    /// The process could not be started.
    NotBegun(String),
    /// It took too long.
    Late,
    /// It came to an end without an answer.
    Broken,
}

/// Has the program itself do a command, with this on its stdin. What it answers on its stdout.
///
/// Errors: why there is no answer.
pub fn apart(command: &str, told: &[u8]) -> Result<Vec<u8>, NoAnswer> {
    let mut process = env::current_exe()
        .and_then(|program| {
            Command::new(program)
                .arg(command)
                .stdin(Stdio::piped())
                .stdout(Stdio::piped())
                .stderr(Stdio::null())
                .spawn()
        })
        .map_err(|error| NoAnswer::NotBegun(error.to_string()))?;
    let answer = answered(&mut process, told, LONGEST);
    // Whatever came of it, nothing of it goes on.
    let _ = process.kill();
    let _ = process.wait();
    answer
}

fn answered(process: &mut Child, told: &[u8], longest: Duration) -> Result<Vec<u8>, NoAnswer> {
    let (Some(mut to), Some(mut from)) = (process.stdin.take(), process.stdout.take()) else {
        return Err(NoAnswer::Broken);
    };
    to.write_all(told).map_err(|_| NoAnswer::Broken)?;
    drop(to);
    let began = Instant::now();
    let reader = thread::spawn(move || {
        let mut bytes = Vec::new();
        from.read_to_end(&mut bytes).map(|_| bytes)
    });
    while !reader.is_finished() {
        if began.elapsed() > longest {
            // The reader ends with the process.
            let _ = process.kill();
            return Err(NoAnswer::Late);
        }
        thread::sleep(Duration::from_millis(10));
    }
    let bytes = reader.join().map_err(|_| NoAnswer::Broken)?;
    bytes.map_err(|_| NoAnswer::Broken)
}

#[cfg(all(test, unix))]
#[allow(clippy::unwrap_used, reason = "a test that can't go on stops")]
mod tests {
    use super::*;

    #[test]
    fn a_photograph_that_holds_its_process_up_is_given_up_and_the_process_ended() {
        // A process in the place of the one that measures.
        let mut asleep = Command::new("sleep")
            .arg("600")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let answer = answered(&mut asleep, b"", Duration::from_millis(30));
        assert!(matches!(answer, Err(NoAnswer::Late)));
        // Were it not ended, this would wait for ten minutes.
        assert!(asleep.wait().is_ok_and(|ended| !ended.success()));
    }
}
