//! Proofs that a job can't be laid, each from a little of what it demands.

use super::demand::only;
use super::reach::{self, Stretches, Supplies};
use crate::hull::CourseId;
use crate::job::Job;
use crate::solve::problem::{Allowed, Problem};
use crate::solve::{TooShort, too_short};
use crate::units::Length;
use std::collections::BTreeMap;

/// Why no plan can cover every course.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Proof {
    /// A course could not be laid were the whole rack there for it alone.
    Course(CourseId),
    /// Every way to lay these courses brings joints nearer to each other than they may be.
    TooClose(CourseId, CourseId),
    /// In one piece each, the courses ask for more long strips than there are.
    TooFewLong,
    /// All clear wood together is shorter than the courses are: so much is missing.
    TooLittle(Length),
}

impl Proof {
    /// A proof for a job, where one of ours holds. Where none does, nothing follows.
    pub fn of(job: &Job) -> Option<Proof> {
        Proof::of_all(job).or_else(|| Proof::of_wants(job))
    }

    /// A proof for the courses of the same wants, with only the wood that may lie there.
    fn of_wants(job: &Job) -> Option<Proof> {
        let allowed = Allowed::of(job);
        let mut bands: BTreeMap<u32, Vec<CourseId>> = BTreeMap::new();
        for (id, _) in job.hull.courses() {
            // What is laid counts as it lies, whatever is wanted.
            if job.laid.iter().all(|piece| piece.course != id) {
                bands.entry(allowed.band(id.0)).or_default().push(id);
            }
        }
        let proofs = bands
            .values()
            .filter(|_| !job.wants.is_empty())
            .map(|courses| {
                let mut band = only(job, courses);
                for (i, strip) in band.stock.strips.iter_mut().enumerate() {
                    let may = |course: &CourseId| {
                        let sides = job.hull.course(*course).sides().len();
                        (0..sides).any(|side| allowed.on(course.0, side, i as u32))
                    };
                    strip.cull |= !courses.iter().any(may);
                }
                Some(match Proof::of_all(&band)? {
                    Proof::Course(id) => Proof::Course(courses[id.0]),
                    Proof::TooClose(one, other) => {
                        Proof::TooClose(courses[one.0], courses[other.0])
                    }
                    Proof::TooFewLong => Proof::TooFewLong,
                    Proof::TooLittle(missing) => Proof::TooLittle(missing),
                })
            });
        proofs.flatten().next()
    }

    fn of_all(job: &Job) -> Option<Proof> {
        let problem = Problem::new(job);
        let (mut joints, mut supplies) = (Vec::new(), Supplies::default());
        for (i, row) in problem.rows.iter().enumerate() {
            match reach::joints(&problem, row, &mut supplies) {
                None => return Some(Proof::Course(CourseId(i))),
                Some(places) => joints.push(places),
            }
        }
        let too_short = || {
            too_short(&problem).map(|lack| match lack {
                TooShort::TooFewLong => Proof::TooFewLong,
                TooShort::TooLittle(missing) => Proof::TooLittle(missing),
            })
        };
        too_close(&problem, &joints).or_else(too_short)
    }
}

/// Near courses that all need a joint, in places that lie too close together.
fn too_close(problem: &Problem, joints: &[Stretches]) -> Option<Proof> {
    let places = |row: usize| -> Vec<(f64, f64)> {
        let r = &problem.rows[row];
        let stretches = joints[row].iter();
        stretches.map(|&(a, b)| (r.x(a), r.x(b))).collect()
    };
    for row in 0..joints.len() {
        if joints[row].is_empty() {
            continue;
        }
        // Courses that are near to each other, all of them: this one and those after it, as far as they are near to it.
        let mut group = vec![row];
        for (other, places) in joints.iter().enumerate().skip(row + 1) {
            let near = |member: &usize| problem.rows[*member].near.contains(&other);
            if !places.is_empty() && group.iter().all(near) {
                group.push(other);
            }
        }
        group.truncate(ORDERED);
        let all: Vec<Vec<(f64, f64)>> = group.iter().map(|&row| places(row)).collect();
        if group.len() > 1 && !apart(&all, problem.clear - 1e-6, f64::NEG_INFINITY) {
            let last = group[group.len() - 1];
            return Some(Proof::TooClose(CourseId(row), CourseId(last)));
        }
    }
    None
}

/// Courses whose joints are tried in every order.
const ORDERED: usize = 5;

/// Whether a place can be chosen from each list so that all are so far apart, the first no nearer the bow than `from`:
/// in some order along the boat, each as far forward as it can be.
fn apart(all: &[Vec<(f64, f64)>], clear: f64, from: f64) -> bool {
    if all.is_empty() {
        return true;
    }
    (0..all.len()).any(|first| {
        let place = all[first]
            .iter()
            .filter(|(_, end)| *end >= from)
            .map(|(start, _)| start.max(from))
            .fold(f64::INFINITY, f64::min);
        let rest: Vec<Vec<(f64, f64)>> = (0..all.len())
            .filter(|i| *i != first)
            .map(|i| all[i].clone())
            .collect();
        place.is_finite() && apart(&rest, clear, place + clear)
    })
}
