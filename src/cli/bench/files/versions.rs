//! A file of the job as it is on the disk, and its versions before.

use sha2::{Digest as _, Sha256};
use std::fs;
use std::path::{Path, PathBuf};
use twinstrake::disk;
use twinstrake::job;
use twinstrake::out::Fault;

/// A file of the job as it is on the disk.
pub struct OnDisk {
    /// What it is called: a sheet may be a spreadsheet.
    pub name: String,
    /// Its bytes; `None` where it is not there.
    pub bytes: Option<Vec<u8>>,
}

impl OnDisk {
    pub fn of(dir: &Path, file: &str) -> OnDisk {
        let names = job::names_there(dir, file);
        let name = names.first().map_or(file, String::as_str).to_owned();
        let bytes = disk::read(&dir.join(&name)).ok();
        OnDisk { name, bytes }
    }

    /// What tells it from every other version.
    pub fn digest(&self) -> String {
        match &self.bytes {
            Some(bytes) => format!("{:x}", Sha256::digest(bytes)),
            None => "none".into(),
        }
    }
}

/// The name of a file without its folders.
pub fn named(path: &Path) -> String {
    let name = path.file_name().unwrap_or_default();
    name.to_string_lossy().into_owned()
}

fn kept(dir: &Path) -> PathBuf {
    dir.join("out/earlier/files")
}

/// The versions before of a file with their numbers, the oldest first.
pub fn before(dir: &Path, file: &str) -> Vec<(usize, PathBuf)> {
    let stem = file.split('.').next().unwrap_or_default();
    let there = fs::read_dir(kept(dir)).into_iter().flatten().flatten();
    let mut all: Vec<(usize, PathBuf)> = there
        .filter_map(|one| {
            let name = one.file_name().into_string().ok()?;
            let (number, _) = name
                .strip_prefix(stem)?
                .strip_prefix('-')?
                .split_once('.')?;
            Some((number.parse().ok()?, one.path()))
        })
        .collect();
    all.sort();
    all
}

/// Keeps the version that is on the disk.
pub fn keep(dir: &Path, file: &str, there: &OnDisk) -> Result<(), Fault> {
    let Some(bytes) = &there.bytes else {
        return Ok(());
    };
    let number = before(dir, file).last().map_or(1, |(last, _)| last + 1);
    let (stem, ending) = there.name.split_once('.').unwrap_or((&there.name, ""));
    let folder = disk::folder(dir, Path::new("out/earlier/files"))?;
    disk::write_whole(&folder.join(format!("{stem}-{number}.{ending}")), bytes)
}
