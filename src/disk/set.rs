//! Several files of one folder, all new or all old, whenever the power fails.
//!
//! The new files are written into a folder of their own beside the old ones, with a list of their names and digests.
//! One rename says that they count; only then does each take the place of its old one. Where that was cut short,
//! readers go by the new files where they are ([`read`]), and the next writer ends it.
//!
//! A folder may come from a stranger. So only what is listed and is what the list says is taken up: no links, no
//! folders, no other names.

use super::Fault;
use super::lock::{alone, wait_for};
use super::whole::{clear, not_a_folder, sync_folder};
use sha2::{Digest as _, Sha256};
use std::collections::BTreeMap;
use std::fs::{self, File, Metadata};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

/// Where new files are put together.
const BEGUN: &str = ".twinstrake-new.tmp";
/// The same, once all of them are on the disk and count.
const READY: &str = ".twinstrake-ready";
/// The list in it: a line for each file, its SHA-256 and its name.
const LIST: &str = "files.sha256";
/// How the files that are written together may end.
const KINDS: [&str; 10] = [
    "csv", "glb", "html", "json", "ods", "pdf", "png", "svg", "toml", "xlsx",
];
/// Writes several files of one folder: whoever looks by [`read`] finds all of them new or all of them old, even when
/// the power fails or the disk is full. What writers before left behind when they were cut short goes.
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
    if fs::symlink_metadata(folder.join(READY)).is_err() {
        return Ok(());
    }
    // A writer that is still at it ends it himself meanwhile.
    let _alone = alone(folder);
    take_their_names(folder)
}

/// The path of a folder inside another, which is made where it is not there.
///
/// Errors: a link is on the way, which may lead anywhere, or the system refused.
pub fn folder(dir: &Path, inside: &Path) -> Result<PathBuf, Fault> {
    let mut path = dir.to_path_buf();
    // One after the other: a job folder that is gone meanwhile is not made anew.
    for part in inside {
        path.push(part);
        not_a_link(&path)?;
        match fs::create_dir(&path) {
            Err(error) if error.kind() != ErrorKind::AlreadyExists => {
                return Err(Fault::refused(path, error));
            }
            _ => {}
        }
    }
    Ok(path)
}

/// The path of a folder inside another, made or not.
///
/// Errors: a link is on the way.
pub fn no_link_to(dir: &Path, inside: &Path) -> Result<PathBuf, Fault> {
    let mut path = dir.to_path_buf();
    for part in inside {
        path.push(part);
        not_a_link(&path)?;
    }
    Ok(path)
}

/// Reads a file, or the new one that was about to take its name when its writer was cut short.
///
/// Errors: the system refused, or what has the name is no file. A pipe or a device is not waited for.
pub fn read(path: &Path) -> io::Result<Vec<u8>> {
    let Some((folder, name)) = path.parent().zip(path.file_name()) else {
        return fs::read(path);
    };
    let ready = folder.join(READY);
    if fs::symlink_metadata(&ready).is_ok() {
        let folder = File::open(folder)?;
        // A writer that is still at it ends it himself meanwhile.
        wait_for(path, || folder.try_lock_shared())?;
        if let Ok(files) = listed(&ready)
            && let Some(waiting) = name.to_str().and_then(|name| files.get(name))
        {
            return fs::read(waiting);
        }
    }
    is_a_file(&fs::metadata(path)?)?;
    fs::read(path)
}

/// Errors: it is a folder, or a pipe or a device, on which a reader would wait for ever.
pub(crate) fn is_a_file(there: &Metadata) -> io::Result<()> {
    match there.is_file() {
        true => Ok(()),
        false if there.is_dir() => Err(ErrorKind::IsADirectory.into()),
        false => Err(io::Error::other("it is a pipe or a device, not a file")),
    }
}

/// A link may lead anywhere: nothing is written through one.
pub(crate) fn not_a_link(path: &Path) -> Result<(), Fault> {
    match fs::symlink_metadata(path) {
        Ok(there) if there.is_symlink() => Err(Fault::Link(path.into())),
        _ => Ok(()),
    }
}

fn put_together(folder: &Path, begun: &Path, files: &[(&str, Vec<u8>)]) -> Result<(), Fault> {
    // Else nobody would take them up.
    debug_assert!(files.iter().all(|(name, _)| is_name_of_ours(name)));
    fs::create_dir(begun).map_err(|error| Fault::refused(folder, error))?;
    let line = |(name, bytes): &(&str, Vec<u8>)| format!("{:x}  {name}\n", Sha256::digest(bytes));
    let list: String = files.iter().map(line).collect();
    let named = files.iter().map(|(name, bytes)| (*name, bytes.as_slice()));
    for (name, bytes) in named.chain([(LIST, list.as_bytes())]) {
        let refused = |error| Fault::refused(folder.join(name), error);
        let mut file = File::create(begun.join(name)).map_err(refused)?;
        file.write_all(bytes).map_err(refused)?;
        file.sync_all().map_err(refused)?;
    }
    sync_folder(begun)
}

/// The files that wait in a folder of ours for their names, with their paths.
///
/// Errors: the system refused, or the folder is none of ours.
fn listed(ready: &Path) -> io::Result<BTreeMap<String, PathBuf>> {
    let not_ours = || io::Error::other("this program has not made it");
    if !fs::symlink_metadata(ready)?.is_dir() {
        return Err(not_ours());
    }
    let mut there = BTreeMap::new();
    for entry in fs::read_dir(ready)? {
        let entry = entry?;
        let name = entry.file_name().into_string().map_err(|_| not_ours())?;
        if !entry.file_type()?.is_file() || !is_name_of_ours(&name) {
            return Err(not_ours());
        }
        there.insert(name, entry.path());
    }
    // The list goes last.
    let Some(list) = there.remove(LIST) else {
        return if there.is_empty() {
            Ok(there)
        } else {
            Err(not_ours())
        };
    };
    let list = fs::read_to_string(list)?;
    let digests: BTreeMap<&str, &str> = list
        .lines()
        .filter_map(|line| line.split_once("  "))
        .map(|(digest, name)| (name, digest))
        .collect();
    for (name, path) in &there {
        let digest = format!("{:x}", Sha256::digest(fs::read(path)?));
        if digests.get(name.as_str()) != Some(&digest.as_str()) {
            return Err(not_ours());
        }
    }
    Ok(there)
}

/// Whether a name is one that this program gives its files: small letters, figures and hyphens, and how they are
/// written.
fn is_name_of_ours(name: &str) -> bool {
    let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
    name.split_once('.').is_some_and(|(stem, kind)| {
        !stem.is_empty() && stem.chars().all(plain) && (name == LIST || KINDS.contains(&kind))
    })
}

fn take_their_names(folder: &Path) -> Result<(), Fault> {
    let ready = folder.join(READY);
    let files = match listed(&ready) {
        Ok(files) => files,
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(()),
        Err(error) if error.kind() == ErrorKind::Other => {
            return Err(Fault::NotOurs(ready));
        }
        Err(error) => return Err(Fault::refused(ready, error)),
    };
    for (name, waiting) in files {
        let path = folder.join(name);
        not_a_folder(&path)?;
        fs::rename(waiting, &path).map_err(|error| Fault::refused(path, error))?;
    }
    sync_folder(folder)?;
    match fs::remove_file(ready.join(LIST)) {
        Err(error) if error.kind() != ErrorKind::NotFound => {
            return Err(Fault::refused(&ready, error));
        }
        _ => {}
    }
    fs::remove_dir(&ready).map_err(|error| Fault::refused(&ready, error))?;
    sync_folder(folder)
}
