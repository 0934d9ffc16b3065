//! One writer at a time: whoever finds a lock held waits for it, and has that said where it takes long.

use std::fs::{File, TryLockError};
use std::io;
use std::path::Path;
use std::sync::OnceLock;
use std::thread::sleep;
use std::time::{Duration, Instant};

/// How long a writer waits for another before that is said.
const PATIENCE: Duration = Duration::from_secs(2);

static WAITING: OnceLock<fn(&Path)> = OnceLock::new();

/// What to do when somebody else has held a lock for two seconds, and is waited for. Only the first call counts.
pub fn when_waiting(tell: fn(&Path)) {
    let _ = WAITING.set(tell);
}

/// Waits until no other writer is at work in a folder. The lock goes with the process, however that ends.
///
/// `None` where a folder can't be locked: then two writers at once are not kept apart.
pub(super) fn alone(folder: &Path) -> Option<File> {
    let open = File::open(folder).ok()?;
    wait_for(folder, || open.try_lock()).ok()?;
    Some(open)
}

/// Waits for a lock, and has it said where that takes long.
///
/// Errors: what has the path can't be locked.
pub(crate) fn wait_for(path: &Path, lock: impl Fn() -> Result<(), TryLockError>) -> io::Result<()> {
    let begun = Instant::now();
    let mut said = false;
    loop {
        match lock() {
            Ok(()) => return Ok(()),
            Err(TryLockError::Error(error)) => return Err(error),
            Err(TryLockError::WouldBlock) => {}
        }
        if !said && begun.elapsed() >= PATIENCE {
            said = true;
            if let Some(tell) = WAITING.get() {
                tell(path);
            }
        }
        sleep(Duration::from_millis(20));
    }
}
