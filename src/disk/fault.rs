//! What can go wrong when files are written.

use crate::untrusted::shown;
use std::io;
use std::path::PathBuf;

/// A file that could not be written. Its `Display` says which, why, and the mend.
#[derive(thiserror::Error, Debug)]
#[non_exhaustive]
pub enum Fault {
    /// The system refused.
    #[error("{} can't be written: {}", shown(path), why(source))]
    Refused {
        /// The file or folder.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// A folder stands where a file should go.
    #[error(
        "{} can't be written: a folder of that name is there. Move it away, and try again.",
        shown(.0)
    )]
    FolderInTheWay(PathBuf),
    /// A link stands where a file or folder of the job should be.
    #[error(
        "{} is a link. Nothing is written through a link, since it may lead anywhere. Take it away, and try again.",
        shown(.0)
    )]
    Link(PathBuf),
    /// Something has the name under which a plan waits that was cut short, and is none.
    #[error(
        "{} was not made by twinstrake, and is in its way. Look what it is, move it away, and try again.",
        shown(.0)
    )]
    NotOurs(PathBuf),
    /// What was to be written could not be put into its format.
    #[error("{file} could not be put together: {why}. This is a bug in twinstrake.")]
    Format {
        /// The file's name.
        file: &'static str,
        /// What the writer of the format said.
        why: String,
    },
}

impl Fault {
    /// What the disk refused.
    pub fn refused(path: impl Into<PathBuf>, source: io::Error) -> Fault {
        Fault::Refused {
            path: path.into(),
            source,
        }
    }
}

fn why(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => {
            "the disk is full. Make room on it, and try again.".into()
        }
        io::ErrorKind::PermissionDenied => {
            "you may not write there. Look at the permissions of the folder, and try again.".into()
        }
        io::ErrorKind::ReadOnlyFilesystem => {
            "the disk is for reading only. Copy the job folder elsewhere, and try again.".into()
        }
        io::ErrorKind::NotFound => "the folder is not there any more.".into(),
        io::ErrorKind::NotADirectory => {
            "a file stands where its folder should be. Move it away, and try again.".into()
        }
        _ => format!("{error}."),
    }
}
