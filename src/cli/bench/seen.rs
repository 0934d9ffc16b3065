//! The job as it was last read. It is read anew when one of its files is another than before.

use super::boat::Drawn;
use crate::cli::{again, faces, opened, planned};
use sha2::{Digest as _, Sha256};
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, OnceLock, PoisonError};
use std::thread;
use std::time::UNIX_EPOCH;
use twinstrake::check::{Verdict, check};
use twinstrake::draw::Photographs;
use twinstrake::hull::Side;
use twinstrake::job::{self, Complaint, Job, Reading, Stage};
use twinstrake::out::{self, PlanRecord};
use twinstrake::plan::{Piece, Plan};
use twinstrake::stock::StripId;

/// What besides the job's own files a page is made from.
const BESIDES: [&str; 5] = [
    "laying-order.csv",
    "plan.json",
    "spares.csv",
    "choices/1/plan.json",
    ".twinstrake-ready",
];

/// A job folder that is looked at again and again.
pub struct Watched {
    /// What tells it from every other job: the beginning of each key that its pages give out.
    pub id: String,
    pub dir: PathBuf,
    /// Whether there are others on the bench.
    is_one_of_many: bool,
    last: Mutex<Option<Arc<Seen>>>,
    /// Whether anybody has looked at the pictures of the boat.
    wants_pictures: Arc<AtomicBool>,
}

/// A job folder at one time.
pub struct Seen {
    /// See [`Watched`].
    pub id: String,
    pub dir: PathBuf,
    pub is_one_of_many: bool,
    /// What tells it from the folder at another time.
    pub stamp: String,
    pub state: Result<InShop, Vec<Complaint>>,
    wants_pictures: Arc<AtomicBool>,
    drawn: OnceLock<Option<Drawn>>,
    boards: OnceLock<Vec<String>>,
}

/// A job that can be read.
pub struct InShop {
    /// See [`Watched`].
    pub id: String,
    pub reading: Reading,
    pub dir: PathBuf,
    /// Its plan, or why there is none.
    pub planned: Result<Planned, Vec<Complaint>>,
}

/// A plan.
pub struct Planned {
    pub plan: Plan,
    /// What tells it from every other, as on the sheets.
    pub digest: String,
    pub verdict: Verdict,
    pub told: Option<PlanRecord>,
    pub no_spare: BTreeSet<StripId>,
    /// Made when they are looked at first.
    photographs: OnceLock<Option<Photographs>>,
}

impl InShop {
    /// Its plan, where it has one.
    pub fn plan(&self) -> Option<&Plan> {
        self.planned.as_ref().ok().map(|planned| &planned.plan)
    }

    /// Photographs of the wood of its plan.
    pub fn photographs<'s>(&self, planned: &'s Planned) -> Option<&'s Photographs> {
        let made = || faces::photographs(&self.dir, &self.reading, &planned.plan);
        planned.photographs.get_or_init(made).as_ref()
    }
}

impl Watched {
    pub fn of(dir: &Path, is_one_of_many: bool) -> Watched {
        let path = fs::canonicalize(dir).unwrap_or_else(|_| dir.to_owned());
        Watched {
            id: figures(
                Sha256::digest(path.as_os_str().as_encoded_bytes()).as_slice(),
                4,
            ),
            dir: dir.to_owned(),
            is_one_of_many,
            last: Mutex::new(None),
            wants_pictures: Arc::default(),
        }
    }

    /// Whether a key was given out for this job.
    pub fn knows(&self, key: &str) -> bool {
        key.starts_with(&self.id)
    }

    /// What the folder's files are now, in a few figures; cheap enough to be asked for all day.
    pub fn stamp(&self) -> String {
        let mut all: Vec<(PathBuf, u64, u128)> = Vec::new();
        let here = fs::read_dir(&self.dir).into_iter().flatten().flatten();
        let paths = here.map(|entry| entry.path());
        let besides = BESIDES.iter().map(|name| self.dir.join("out").join(name));
        for path in paths.chain(besides) {
            let Ok(file) = fs::metadata(&path) else {
                continue;
            };
            // A folder changes with what is written into it, and that is looked at by itself.
            if file.is_file() {
                let since = file
                    .modified()
                    .ok()
                    .and_then(|time| time.duration_since(UNIX_EPOCH).ok());
                all.push((path, file.len(), since.map_or(0, |since| since.as_nanos())));
            }
        }
        all.sort();
        let mut sum = Sha256::new();
        for (path, length, time) in all {
            sum.update(path.as_os_str().as_encoded_bytes());
            sum.update(length.to_le_bytes());
            sum.update(time.to_le_bytes());
        }
        figures(sum.finalize().as_slice(), 8)
    }

    /// The job as it is now.
    pub fn now(&self) -> Arc<Seen> {
        // Before it is read: what changes meanwhile is seen the next time.
        let stamp = self.stamp();
        let mut last = self.last.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(seen) = last.as_ref().filter(|seen| seen.stamp == stamp) {
            return Arc::clone(seen);
        }
        let seen = Arc::new(Seen {
            id: self.id.clone(),
            dir: self.dir.clone(),
            is_one_of_many: self.is_one_of_many,
            stamp,
            state: read(&self.dir, &self.id),
            wants_pictures: Arc::clone(&self.wants_pictures),
            drawn: OnceLock::new(),
            boards: OnceLock::new(),
        });
        *last = Some(Arc::clone(&seen));
        if self.wants_pictures.load(Ordering::Relaxed) {
            self.draw(&seen);
        }
        seen
    }

    /// Makes what takes longest before anybody asks for it.
    pub fn draw(&self, seen: &Arc<Seen>) {
        let seen = Arc::clone(seen);
        thread::spawn(move || {
            seen.drawn.get_or_init(|| drawn(&seen));
            seen.boards();
        });
    }
}

fn drawn(seen: &Seen) -> Option<Drawn> {
    let shop = seen.state.as_ref().ok()?;
    let planned = shop.planned.as_ref().ok()?;
    Some(Drawn::of(shop, planned))
}

impl Seen {
    /// What a page goes by that shows no job.
    pub fn nothing() -> Seen {
        Seen {
            id: String::new(),
            dir: PathBuf::new(),
            is_one_of_many: true,
            stamp: String::new(),
            state: Err(Vec::new()),
            wants_pictures: Arc::default(),
            drawn: OnceLock::new(),
            boards: OnceLock::new(),
        }
    }

    /// The boards of the job by their names, sawn or not.
    pub fn boards(&self) -> &[String] {
        self.boards.get_or_init(|| {
            let saw = job::read_saw(&self.dir);
            let boards = saw.map(|saw| saw.boards).unwrap_or_default();
            boards.into_iter().map(|board| board.name).collect()
        })
    }

    /// The pictures of the boat, drawn once as long as no file changes.
    pub fn drawn(&self) -> Option<&Drawn> {
        self.wants_pictures.store(true, Ordering::Relaxed);
        self.drawn.get_or_init(|| drawn(self)).as_ref()
    }
}

/// The first bytes in hexadecimal.
fn figures(bytes: &[u8], many: usize) -> String {
    bytes
        .iter()
        .take(many)
        .map(|byte| format!("{byte:02x}"))
        .collect()
}

fn read(dir: &Path, id: &str) -> Result<InShop, Vec<Complaint>> {
    let mut reading = opened::judged(dir)?;
    let planned = job::read_plan(dir, &reading.job).and_then(|plan| {
        let told = out::told(dir).ok().flatten();
        again::judge_against_earlier(dir, told.as_ref(), &mut reading);
        let digest = out::plan_digest(&reading.job, &plan).map_err(|fault| {
            vec![Complaint::of(
                out::LAYING_ORDER,
                fault.to_string(),
                "Plan the boat again.",
            )]
        })?;
        Ok(Planned {
            no_spare: planned::no_spare(dir, &reading.job),
            verdict: check(&reading.job, &plan),
            plan,
            digest,
            told,
            photographs: OnceLock::new(),
        })
    });
    Ok(InShop {
        id: id.to_owned(),
        reading,
        dir: dir.to_owned(),
        planned,
    })
}

impl Planned {
    /// The piece of that number in the order of laying.
    pub fn piece(&self, order: usize) -> Option<&Piece> {
        self.plan.pieces.get(order.checked_sub(1)?)
    }

    /// The numbers of the pieces that are not laid yet.
    pub fn to_do<'s>(&'s self, job: &'s Job) -> impl Iterator<Item = usize> + 's {
        let all = self.plan.pieces.iter().enumerate();
        all.filter(|(_, piece)| job.stage(piece) != Stage::Laid)
            .map(|(i, _)| i + 1)
    }

    /// The next one on each side that has one.
    pub fn next_by_side(&self, job: &Job) -> Vec<(Side, usize)> {
        let on = |side: Side| {
            let mut here = self.to_do(job);
            here.find(|order| self.piece(*order).is_some_and(|piece| piece.side == side))
                .map(|order| (side, order))
        };
        [Side::Port, Side::Starboard, Side::Centre]
            .into_iter()
            .filter_map(on)
            .collect()
    }
}

/// Whether the wood of a piece is all there.
pub fn has_wood(job: &Job, piece: &Piece) -> bool {
    job.stock
        .strip(piece.strip)
        .has(piece.cut_from, piece.cut_to)
}
