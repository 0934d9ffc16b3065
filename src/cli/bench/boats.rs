//! The boats on the bench: one job folder, or all those in a folder.

use super::seen::Watched;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};
use twinstrake::job;

/// The job folders.
pub struct Boats {
    /// The folder that they are in, where it is not itself one.
    pub shelf: Option<PathBuf>,
    all: Mutex<Vec<Arc<Watched>>>,
}

impl Boats {
    /// A job folder, or the job folders in a folder.
    pub fn of(dir: &Path) -> Boats {
        let is_one = !job::files_there(dir).is_empty() || !dir.is_dir();
        let boats = Boats {
            shelf: (!is_one).then(|| dir.to_owned()),
            all: Mutex::new(Vec::new()),
        };
        if is_one {
            boats.held().push(Arc::new(Watched::of(dir, false)));
        }
        boats.look();
        boats
    }

    /// Takes up what has come into the folder since, and forgets what is gone.
    fn look(&self) {
        let Some(shelf) = &self.shelf else {
            return;
        };
        let there = fs::read_dir(shelf).into_iter().flatten().flatten();
        let folders = there.filter(|one| one.file_type().is_ok_and(|kind| kind.is_dir()));
        let mut dirs: Vec<PathBuf> = folders
            .map(|one| one.path())
            .filter(|dir| !job::files_there(dir).is_empty())
            .collect();
        dirs.sort();
        let mut all = self.held();
        let known = |dir: PathBuf| {
            let same = all.iter().find(|boat| boat.dir == dir);
            same.map_or_else(|| Arc::new(Watched::of(&dir, true)), Arc::clone)
        };
        *all = dirs.into_iter().map(known).collect();
    }

    fn held(&self) -> std::sync::MutexGuard<'_, Vec<Arc<Watched>>> {
        self.all.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// All of them as they are now, by the names of their folders.
    pub fn all(&self) -> Vec<Arc<Watched>> {
        self.look();
        self.held().clone()
    }

    /// That of this name, or the only one there is.
    pub fn chosen(&self, id: Option<&str>) -> Option<Arc<Watched>> {
        let all = self.held();
        let named = all.iter().find(|boat| Some(boat.id.as_str()) == id);
        let only = all.first().filter(|_| all.len() == 1);
        named.or(only).map(Arc::clone)
    }

    /// That for which a key was given out.
    pub fn of_key(&self, key: &str) -> Option<Arc<Watched>> {
        let all = self.held();
        all.iter().find(|boat| boat.knows(key)).map(Arc::clone)
    }
}
