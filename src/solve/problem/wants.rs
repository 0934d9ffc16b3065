//! What may lie where, as the builder wants it. Source: model, rule 10.

use super::NONE;
use crate::hull::{Course, Kind, Side};
use crate::job::Job;
use crate::plan::Want;
use crate::stock::{Stock, StripId};
use std::collections::BTreeMap;
use std::sync::Arc;

/// What may lie where. Empty for a job without wants.
#[derive(Clone, Debug, Default)]
pub struct Allowed {
    /// For each course, on port (or the centreline) and on starboard, whether each strip may lie there.
    rows: Vec<[Arc<[bool]>; 2]>,
    /// The strips that may lie on a course that a want is for.
    choice: Vec<Option<Arc<[u32]>>>,
    /// Strips of one number are named by the same wants.
    like: Vec<u32>,
    /// Courses of one number are those of the same wants.
    band: Vec<u32>,
}

impl Allowed {
    /// What the wants of a job allow.
    pub fn of(job: &Job) -> Allowed {
        if job.wants.is_empty() {
            return Allowed::default();
        }
        let strips = || (0..job.stock.strips.len()).map(StripId);
        let courses = &job.hull.courses;
        let band = numbered(
            courses
                .iter()
                .map(|course| job.wants.iter().map(|want| want.covers(course)).collect()),
        );
        let on = |course: &Course, side: Side| -> Arc<[bool]> {
            strips()
                .map(|strip| may_lie(&job.wants, &job.stock, course, strip, side))
                .collect()
        };
        let both = |course: &Course| match course.kind {
            Kind::Mirrored => [on(course, Side::Port), on(course, Side::Starboard)],
            Kind::Centre => [on(course, Side::Centre), Arc::new([])],
        };
        let choice = |course: &Course, [port, starboard]: &[Arc<[bool]>; 2]| {
            let wanted = job.wants.iter().any(|want| want.covers(course));
            let may = |strip: &StripId| {
                let on = |side: &[bool]| side.get(strip.0).copied().unwrap_or(false);
                (on(port) || on(starboard)) && !job.stock.strip(*strip).cull
            };
            wanted.then(|| -> Arc<[u32]> {
                strips().filter(may).map(|strip| strip.0 as u32).collect()
            })
        };
        // Courses of the same wants share what may lie there.
        let mut shared = BTreeMap::new();
        for (course, band) in courses.iter().zip(&band) {
            shared
                .entry((*band, course.kind == Kind::Centre))
                .or_insert_with(|| {
                    let rows = both(course);
                    (choice(course, &rows), rows)
                });
        }
        let of =
            |(course, band): (&Course, &u32)| shared[&(*band, course.kind == Kind::Centre)].clone();
        let (choice, rows) = courses.iter().zip(&band).map(of).unzip();
        let named = |want: &Want, strip| {
            (
                want.names(&job.stock, strip),
                want.allows(&job.stock, strip, Side::Port),
            )
        };
        Allowed {
            choice,
            like: numbered(
                strips().map(|strip| job.wants.iter().map(|want| named(want, strip)).collect()),
            ),
            band,
            rows,
        }
    }

    /// Whether a strip may lie on one side of a course. Strips that were added to the problem may lie anywhere.
    #[inline]
    pub fn on(&self, row: usize, side: usize, strip: u32) -> bool {
        let sides = self.rows.get(row);
        sides.is_none_or(|sides| sides[side].get(strip as usize).copied().unwrap_or(true))
    }

    /// Whether wood may lie on a course, this way round.
    #[inline]
    pub fn wood(&self, row: usize, wood: [u32; 2]) -> bool {
        self.rows.is_empty()
            || self.on(row, 0, wood[0]) && (wood[1] == NONE || self.on(row, 1, wood[1]))
    }

    /// The strips that may lie on a course that a want is for; `None` where no want says what lies there.
    pub fn choice(&self, row: usize) -> Option<&[u32]> {
        self.choice.get(row)?.as_deref()
    }

    /// Strips of which this is the same are as good as each other to every want.
    pub fn like(&self, strip: u32) -> u32 {
        self.like.get(strip as usize).copied().unwrap_or(0)
    }

    /// Courses of which this is the same are those of the same wants.
    pub fn band(&self, row: usize) -> u32 {
        self.band.get(row).copied().unwrap_or(0)
    }
}

fn may_lie(wants: &[Want], stock: &Stock, course: &Course, strip: StripId, side: Side) -> bool {
    let (mut kept, mut kept_here) = (false, false);
    for want in wants {
        let covers = want.covers(course);
        if covers && !want.allows(stock, strip, side) {
            return false;
        }
        if want.keep && want.names(stock, strip) {
            kept = true;
            kept_here |= covers;
        }
    }
    !kept || kept_here
}

/// Numbers from 0, the same for what is the same.
fn numbered<T: Ord>(all: impl Iterator<Item = Vec<T>>) -> Vec<u32> {
    let mut seen: BTreeMap<Vec<T>, u32> = BTreeMap::new();
    all.map(|one| {
        let next = seen.len() as u32;
        *seen.entry(one).or_insert(next)
    })
    .collect()
}
