//! Writing a file so that whoever looks finds the old one or the new one, whole, even when the power fails.

use super::Fault;
use super::lock::alone;
use std::fs::{self, File};
use std::io::Write;
use std::path::Path;
use tempfile::{Builder, NamedTempFile};

/// Writes a file whole or not at all: into a temporary file beside it, onto the disk, then under its name.
///
/// Errors: the folder or the disk can't be written to, or a folder has the file's name. The old file, if any, is then
/// as it was.
pub fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), Fault> {
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    not_a_folder(path)?;
    let _alone = alone(folder);
    clear(folder);
    let file = on_disk(folder, path, bytes)?;
    under_its_name(file, path)?;
    sync_folder(folder)
}

const PREFIX: &str = ".twinstrake-";
const SUFFIX: &str = ".tmp";

/// Whether a path has a name that only what is being written has.
fn is_temporary(path: &Path) -> bool {
    let name = path.file_name().and_then(|name| name.to_str());
    name.is_some_and(|name| name.starts_with(PREFIX) && name.ends_with(SUFFIX))
}

/// Takes away what writers left behind that were killed. Nobody else is at work, so nobody needs it.
pub(super) fn clear(folder: &Path) {
    let Ok(entries) = fs::read_dir(folder) else {
        return;
    };
    for entry in entries.flatten() {
        let path = entry.path();
        if is_temporary(&path) {
            let is_folder = entry.file_type().is_ok_and(|kind| kind.is_dir());
            // It is in nobody's way: where it can't go, it stays.
            let _ = match is_folder {
                true => fs::remove_dir_all(&path),
                false => fs::remove_file(&path),
            };
        }
    }
}

/// A temporary file in a folder. It is gone when dropped.
pub(crate) fn temporary(folder: &Path) -> std::io::Result<NamedTempFile> {
    let mut builder = Builder::new();
    builder.prefix(PREFIX).suffix(SUFFIX);
    // A temporary file is for its owner's eyes alone unless told otherwise; a plan is as open as the folder's habits.
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    builder.tempfile_in(folder)
}

fn on_disk(folder: &Path, path: &Path, bytes: &[u8]) -> Result<NamedTempFile, Fault> {
    let refused = |error| Fault::refused(path, error);
    let mut file = temporary(folder).map_err(refused)?;
    file.write_all(bytes).map_err(refused)?;
    file.as_file().sync_all().map_err(refused)?;
    Ok(file)
}

fn under_its_name(file: NamedTempFile, path: &Path) -> Result<(), Fault> {
    match file.persist(path) {
        Ok(_) => Ok(()),
        Err(error) => Err(Fault::refused(path, error.error)),
    }
}

/// Asked before anything is written, so that nothing is begun that can't be ended.
pub(super) fn not_a_folder(path: &Path) -> Result<(), Fault> {
    match fs::symlink_metadata(path) {
        Ok(there) if there.is_dir() => Err(Fault::FolderInTheWay(path.into())),
        _ => Ok(()),
    }
}

/// The new name itself must reach the disk as well. Elsewhere than on Unix a folder can't be opened for that.
pub(crate) fn sync_folder(folder: &Path) -> Result<(), Fault> {
    if cfg!(unix) {
        File::open(folder)
            .and_then(|folder| folder.sync_all())
            .map_err(|error| Fault::refused(folder, error))?;
    }
    Ok(())
}
