//! The log on the disk: appended to under a lock, brought to the disk before anybody is told that it is written, and
//! never written over.
//!
//! Why the file itself is locked and not one beside it: whoever writes it holds it open, and the lock goes with the
//! process, however that ends.

use super::event::Entry;
use super::sheet::{COLUMNS, END, FILE, Script};
use crate::disk::{Fault, is_a_file, not_a_link, sync_folder, wait_for, write_whole};
use std::fs::{File, OpenOptions};
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

/// Splits the bytes of a log into what is whole and what was torn off at the end: a last line without its line end,
/// unless it is closed by the mark of the last column; and whatever the disk left as zeros. A sheet without that
/// column was written by hand: its last row counts, line end or not.
pub fn whole_and_torn(bytes: &[u8]) -> (&[u8], &[u8]) {
    let sound = bytes.iter().position(|b| *b == 0).unwrap_or(bytes.len());
    let begin = bytes[..sound]
        .iter()
        .rposition(|b| *b == b'\n' || *b == b'\r')
        .map_or(0, |at| at + 1);
    let last = &bytes[begin..sound];
    let closed = last.len() > 1 && {
        let (before, mark) = last.split_at(last.len() - END.len());
        mark == END.as_bytes() && matches!(before.last(), Some(b',' | b';' | b'\t'))
    };
    // A spreadsheet may have saved UTF-16, which is all zeros: that is refused where the file is read, not here.
    if sound < bytes.len() && begin == 0 {
        return (bytes, &[]);
    }
    if (closed || is_by_hand(bytes)) && sound == bytes.len() {
        return (bytes, &[]);
    }
    bytes.split_at(begin)
}

/// Whether a log has a whole header, and not the column that we close our rows with.
fn is_by_hand(bytes: &[u8]) -> bool {
    let text = String::from_utf8_lossy(bytes);
    let mut lines = text.split(['\n', '\r']).map(str::trim);
    let Some(header) = lines.find(|line| !line.is_empty()) else {
        return false;
    };
    let has_end = header
        .split([',', ';', '\t'])
        .any(|name| name.trim_matches([' ', '"']).eq_ignore_ascii_case("end"));
    // What is left of our own header where the power failed on the very first entry.
    let is_begun = lines.next().is_none() && COLUMNS.join(",").starts_with(header);
    !has_end && !is_begun
}

/// The log of a job, held open and locked: nobody else appends until this is dropped.
#[derive(Debug)]
pub struct Book {
    file: File,
    path: PathBuf,
    /// What is whole in it.
    bytes: Vec<u8>,
    /// What is torn behind that.
    torn: Vec<u8>,
}

impl Book {
    /// Opens the log of a job and waits for its lock; makes an empty one where there is none.
    ///
    /// Errors: it is a link, or the system refused.
    pub fn open(dir: &Path) -> Result<Book, Fault> {
        let path = dir.join(FILE);
        not_a_link(&path)?;
        let is_new = !path.exists();
        let refused = |error| Fault::refused(&path, error);
        let file = locked(&path).map_err(refused)?;
        let mut book = Book {
            file,
            path: path.clone(),
            bytes: Vec::new(),
            torn: Vec::new(),
        };
        if is_new {
            sync_folder(dir)?;
        }
        book.read().map_err(refused)?;
        Ok(book)
    }

    /// The same where there is a log; `None` where there is none.
    ///
    /// Errors: the system refused.
    pub fn open_if_there(dir: &Path) -> Result<Option<Book>, Fault> {
        match dir.join(FILE).exists() {
            true => Book::open(dir).map(Some),
            false => Ok(None),
        }
    }

    /// What is in it, the torn line aside.
    pub fn bytes(&self) -> &[u8] {
        &self.bytes
    }

    /// Puts a torn last line into a file of its own and cuts it off the log; the path of that file, where there was
    /// one.
    ///
    /// Errors: the system refused. At no moment is it nowhere.
    pub fn set_torn_aside(&mut self) -> Result<Option<PathBuf>, Fault> {
        if self.torn.is_empty() {
            return Ok(None);
        }
        let aside = self.free_name("log-torn");
        // First kept elsewhere, then cut off.
        write_whole(&aside, &self.torn)?;
        self.file
            .set_len(self.bytes.len() as u64)
            .and_then(|()| self.file.sync_data())
            .map_err(|error| Fault::refused(&self.path, error))?;
        self.torn.clear();
        Ok(Some(aside))
    }

    /// Writes the entries from the `known`-th on, which are not in the file yet. When this returns, they are on the
    /// disk. What is torn must have been set aside.
    ///
    /// A log with other columns than ours, or one that a spreadsheet has saved again, can't be appended to as it is:
    /// it is put into a file of its own, whose path comes back, and the log is written anew with all entries.
    ///
    /// Errors: the system refused; the log is then as it was.
    pub fn add(
        &mut self,
        script: &Script<'_>,
        entries: &[Entry],
        known: usize,
    ) -> Result<Option<PathBuf>, Fault> {
        let header = script.header();
        let rows = |from: usize| -> Vec<u8> {
            let new = entries.iter().enumerate().skip(from);
            new.flat_map(|(i, entry)| script.row(i + 1, entry))
                .collect()
        };
        if self.bytes.iter().all(u8::is_ascii_whitespace) {
            self.append([header, rows(known)].concat())?;
        } else if self.bytes.starts_with(&header) && !self.bytes.contains(&b'\r') {
            self.append(rows(known))?;
        } else {
            return self.write_anew([header, rows(0)].concat()).map(Some);
        }
        Ok(None)
    }

    fn append(&mut self, rows: Vec<u8>) -> Result<(), Fault> {
        let was = self.bytes.len() as u64;
        let mut more = Vec::new();
        if !self.bytes.is_empty() && !self.bytes.ends_with(b"\n") {
            more.push(b'\n');
        }
        more.extend(rows);
        let written = self
            .file
            .seek(SeekFrom::Start(was))
            .and_then(|_| self.file.write_all(&more))
            .and_then(|()| self.file.sync_data());
        if let Err(error) = written {
            // Nobody is told of rows that may not last. Where even this fails, the rest is found torn next time.
            let _ = self.file.set_len(was).and_then(|()| self.file.sync_data());
            return Err(Fault::refused(&self.path, error));
        }
        self.bytes.extend_from_slice(&more);
        Ok(())
    }

    /// Whoever waits for the lock of the old file finds that another has its name by then, and opens that.
    fn write_anew(&mut self, bytes: Vec<u8>) -> Result<PathBuf, Fault> {
        let aside = self.free_name("log-by-hand");
        write_whole(&aside, &self.bytes)?;
        write_whole(&self.path, &bytes)?;
        self.bytes = bytes;
        Ok(aside)
    }

    /// A name beside the log that no file has yet.
    fn free_name(&self, stem: &str) -> PathBuf {
        let mut number = 1_u32;
        loop {
            let path = self.path.with_file_name(format!("{stem}-{number}.csv"));
            if std::fs::symlink_metadata(&path).is_err() {
                return path;
            }
            number += 1;
        }
    }

    fn read(&mut self) -> io::Result<()> {
        self.bytes.clear();
        self.file.seek(SeekFrom::Start(0))?;
        self.file.read_to_end(&mut self.bytes)?;
        let whole = whole_and_torn(&self.bytes).0.len();
        self.torn = self.bytes.split_off(whole);
        Ok(())
    }
}

/// Opens and locks the file that has the name, even where somebody puts another in its place meanwhile.
fn locked(path: &Path) -> io::Result<File> {
    loop {
        if let Ok(there) = std::fs::metadata(path) {
            is_a_file(&there)?;
        }
        let file = OpenOptions::new()
            .read(true)
            .write(true)
            .create(true)
            .truncate(false)
            .open(path)?;
        wait_for(path, || file.try_lock())?;
        if is_still(&file, path) {
            return Ok(file);
        }
    }
}

impl Drop for Book {
    /// A log in which nothing was written in the end is not left behind.
    fn drop(&mut self) {
        if self.bytes.is_empty() && self.torn.is_empty() {
            let _ = std::fs::remove_file(&self.path);
        }
    }
}

#[cfg(unix)]
fn is_still(file: &File, path: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    match (file.metadata(), std::fs::metadata(path)) {
        (Ok(ours), Ok(there)) => (ours.dev(), ours.ino()) == (there.dev(), there.ino()),
        _ => false,
    }
}

/// Elsewhere an open file can't be replaced.
#[cfg(not(unix))]
fn is_still(_: &File, _: &Path) -> bool {
    true
}
