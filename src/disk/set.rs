//! Several files of one folder, all new or all old, whenever the power fails.
//!
//! The new files are written into a folder of their own beside the old ones. One rename says that they count; only then does each take the
//! place of its old one. Where that was cut short, whoever comes next ends it before looking at anything.

use super::Fault;
use super::whole::{is_temporary, not_a_folder, sync_folder};
use std::fs::{self, File};
use std::io::{ErrorKind, Write};
use std::path::Path;

/// Where new files are put together.
const BEGUN: &str = ".twinstrake-new.tmp";
/// The same, once all of them are on the disk and count.
const READY: &str = ".twinstrake-ready";

/// Writes several files of one folder: whoever looks after [`finish`] finds all of them new or all of them old, even when the power
/// fails or the disk is full. What writers before left behind when they were cut short goes.
///
/// Errors: the folder or the disk can't be written to, or a folder has the name of a file.
pub fn write_all(folder: &Path, files: &[(&str, Vec<u8>)]) -> Result<(), Fault> {
    let _alone = alone(folder);
    take_their_names(folder)?;
    clear(folder);
    for (name, _) in files {
        not_a_folder(&folder.join(name))?;
    }
    let begun = folder.join(BEGUN);
    if let Err(fault) = put_together(folder, &begun, files) {
        // What is left of it would go the next time anyway.
        let _ = fs::remove_dir_all(&begun);
        return Err(fault);
    }
    fs::rename(&begun, folder.join(READY)).map_err(|error| Fault::refused(folder, error))?;
    sync_folder(folder)?;
    take_their_names(folder)
}

/// Ends what a writer of [`write_all`] was cut short in, where its files counted already.
///
/// Errors: the folder or the disk can't be written to.
pub fn finish(folder: &Path) -> Result<(), Fault> {
    if !folder.join(READY).exists() {
        return Ok(());
    }
    // A writer that is still at it ends it himself meanwhile.
    let _alone = alone(folder);
    take_their_names(folder)
}

/// Waits until no other writer is at work in a folder. The lock goes with the process, however that ends.
///
/// `None` where a folder can't be locked: then two writers at once are not kept apart.
pub(super) fn alone(folder: &Path) -> Option<File> {
    let folder = File::open(folder).ok()?;
    folder.lock().ok()?;
    Some(folder)
}

/// Takes away what writers left behind that were killed. Nobody else is at work, so nobody needs it.
pub(super) fn clear(folder: &Path) {
    let Ok(entries) = fs::read_dir(folder) else {
        return;
    };
    for entry in entries.flatten() {
        let path = entry.path();
        if is_temporary(&path) {
            // It is in nobody's way: where it can't go, it stays.
            let _ = match path.is_dir() {
                true => fs::remove_dir_all(&path),
                false => fs::remove_file(&path),
            };
        }
    }
}

fn put_together(folder: &Path, begun: &Path, files: &[(&str, Vec<u8>)]) -> Result<(), Fault> {
    fs::create_dir(begun).map_err(|error| Fault::refused(folder, error))?;
    for (name, bytes) in files {
        let refused = |error| Fault::refused(folder.join(name), error);
        let mut file = File::create(begun.join(name)).map_err(refused)?;
        file.write_all(bytes).map_err(refused)?;
        file.sync_all().map_err(refused)?;
    }
    sync_folder(begun)
}

fn take_their_names(folder: &Path) -> Result<(), Fault> {
    let ready = folder.join(READY);
    let entries = match fs::read_dir(&ready) {
        Ok(entries) => entries,
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(()),
        Err(error) => return Err(Fault::refused(ready, error)),
    };
    for entry in entries {
        let entry = entry.map_err(|error| Fault::refused(&ready, error))?;
        let path = folder.join(entry.file_name());
        not_a_folder(&path)?;
        fs::rename(entry.path(), &path).map_err(|error| Fault::refused(path, error))?;
    }
    sync_folder(folder)?;
    fs::remove_dir(&ready).map_err(|error| Fault::refused(&ready, error))?;
    sync_folder(folder)
}
