//! What is written on the wood already: the places of the earlier plan, and what it costs to change them.
//!
//! Source: model, "Moved".

use crate::hull::{CourseId, Kind, Side};
use crate::job::Job;
use std::collections::BTreeMap;

/// A label: this strip goes there.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Label {
    /// The part, from 0 at the bow.
    pub index: usize,
    /// Port or centre 0, starboard 1.
    pub side: usize,
    /// The strip.
    pub strip: u32,
}

/// The labels of the earlier plan that may still be kept or lost, by course.
#[derive(Clone, Debug, Default)]
pub struct Labels {
    rows: Vec<Vec<Label>>,
    /// For each strip, labels that are lost whatever is planned.
    gone: Vec<i64>,
    /// For each strip, labels whose loss counts for nothing, because a piece of it was laid elsewhere.
    spared: Vec<i64>,
}

type Place = (CourseId, Side, u32);

impl Labels {
    /// The labels of a job's earlier plan; none where there was none.
    pub fn of(job: &Job) -> Labels {
        let Some(earlier) = &job.earlier else {
            return Labels::default();
        };
        let (strips, rows) = (job.stock.strips.len(), job.hull.courses.len());
        let mut labels = Labels {
            rows: vec![Vec::new(); rows],
            gone: vec![0; strips],
            spared: vec![0; strips],
        };
        let laid: BTreeMap<Place, usize> = job
            .laid
            .iter()
            .map(|piece| ((piece.course, piece.side, piece.number), piece.strip.0))
            .collect();
        let mut then: BTreeMap<(usize, Place), ()> = BTreeMap::new();
        for piece in &earlier.pieces {
            let place = (piece.course, piece.side, piece.number);
            let strip = piece.strip.0;
            let is_centre = job.hull.course(piece.course).kind == Kind::Centre;
            if is_centre != (piece.side == Side::Centre) {
                // The course has changed its kind since, and the side is gone.
                continue;
            }
            if then.insert((strip, place), ()).is_some() {
                continue;
            }
            match laid.get(&place) {
                Some(there) if *there == strip => {}
                Some(_) => labels.gone[strip] += 1,
                None => labels.rows[piece.course.0].push(Label {
                    index: (piece.number as usize).wrapping_sub(1),
                    side: usize::from(piece.side == Side::Starboard),
                    strip: strip as u32,
                }),
            }
        }
        for (place, strip) in laid {
            if !then.contains_key(&(strip, place)) {
                labels.spared[strip] += 1;
            }
        }
        labels
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// The labels of a course.
    pub fn of_row(&self, row: usize) -> &[Label] {
        self.rows.get(row).map_or(&[], Vec::as_slice)
    }

    /// For each strip, labels lost whatever is planned.
    pub fn gone(&self) -> &[i64] {
        &self.gone
    }

    /// How many labels of a strip count, of so many that are lost.
    pub fn count(&self, strip: u32, lost: i64) -> i64 {
        let spared = self.spared.get(strip as usize).copied().unwrap_or(0);
        (lost - spared).max(0)
    }
}
