//! The log on the disk: appended to under a lock, brought to the disk before anybody is told that it is written, and
//! never written over.
//!
//! Why the file itself is locked and not one beside it: whoever writes it holds it open, and the lock goes with the
//! process, however that ends.

use super::sheet::{END, FILE};
use crate::disk::{Fault, sync_folder, write_whole};
use std::fs::{File, OpenOptions};
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

/// Splits the bytes of a log into what is whole and what was torn off at the end: a last line without its line end, unless
/// it is closed by the mark of the last column; and whatever the disk left as zeros.
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
    if closed && sound == bytes.len() {
        return (bytes, &[]);
    }
    bytes.split_at(begin)
}

/// The log of a job, held open and locked: nobody else appends until this is dropped.
#[derive(Debug)]
pub struct Book {
    file: File,
    path: PathBuf,
    bytes: Vec<u8>,
    /// Where a torn last line was put, where there was one.
    torn: Option<PathBuf>,
}

impl Book {
    /// Opens the log of a job and waits for its lock; makes an empty one where there is none. A torn last line is put into a
    /// file of its own.
    ///
    /// Errors: the system refused.
    pub fn open(dir: &Path) -> Result<Book, Fault> {
        let path = dir.join(FILE);
        let is_new = !path.exists();
        let refused = |error| Fault::refused(&path, error);
        let file = locked(&path).map_err(refused)?;
        let mut book = Book {
            file,
            path: path.clone(),
            bytes: Vec::new(),
            torn: None,
        };
        if is_new {
            sync_folder(dir)?;
        }
        book.read().map_err(refused)?;
        book.set_torn_aside(dir)?;
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

    /// Where a torn last line was put, where there was one.
    pub fn torn(&self) -> Option<&Path> {
        self.torn.as_deref()
    }

    /// Appends rows, with the header first where the log is empty. When this returns, they are on the disk.
    ///
    /// Errors: the system refused; the log is then as it was.
    pub fn append(&mut self, header: &[u8], rows: &[u8]) -> Result<(), Fault> {
        let was = self.bytes.len() as u64;
        let mut more = Vec::new();
        if self.bytes.iter().all(u8::is_ascii_whitespace) {
            more.extend_from_slice(header);
        } else if !self.bytes.ends_with(b"\n") {
            more.push(b'\n');
        }
        more.extend_from_slice(rows);
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

    fn read(&mut self) -> io::Result<()> {
        self.bytes.clear();
        self.file.seek(SeekFrom::Start(0))?;
        self.file.read_to_end(&mut self.bytes)?;
        Ok(())
    }

    fn set_torn_aside(&mut self, dir: &Path) -> Result<(), Fault> {
        let (whole, torn) = whole_and_torn(&self.bytes);
        if torn.is_empty() {
            return Ok(());
        }
        let aside = (1_u32..)
            .map(|n| dir.join(format!("log-torn-{n}.csv")))
            .find(|path| !path.exists());
        let Some(aside) = aside else { return Ok(()) };
        // First kept elsewhere, then cut off: at no moment is it nowhere.
        write_whole(&aside, torn)?;
        let length = whole.len();
        self.file
            .set_len(length as u64)
            .and_then(|()| self.file.sync_data())
            .map_err(|error| Fault::refused(&self.path, error))?;
        self.bytes.truncate(length);
        self.torn = Some(aside);
        Ok(())
    }
}

/// Opens and locks the file that has the name, even where somebody puts another in its place meanwhile.
fn locked(path: &Path) -> io::Result<File> {
    loop {
        let file = OpenOptions::new()
            .read(true)
            .write(true)
            .create(true)
            .truncate(false)
            .open(path)?;
        file.lock()?;
        if is_still(&file, path) {
            return Ok(file);
        }
    }
}

impl Drop for Book {
    /// A log in which nothing was written in the end is not left behind.
    fn drop(&mut self) {
        if self.bytes.is_empty() {
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
