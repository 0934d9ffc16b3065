//! What a job demands of every plan, one by one, so that each can be left out for a trial.

use crate::hull::CourseId;
use crate::job::Job;
use crate::units::Length;

/// One demand on every plan.
///
/// Zones that are shown are none: they make a plan dearer, never impossible. Scarfs, saw cuts and strips that are too
/// narrow are taken as given: nobody can plan them away.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Demand {
    /// A zone is kept clear: its place in [`crate::hull::Hull::keep_clear`].
    Zone(usize),
    /// Joints of near courses keep apart.
    Clear,
    /// No course has more joints than `most`.
    Most,
    /// No piece is shorter than `shortest_piece`.
    ShortestPiece,
    /// Ends have an allowance.
    Allowances,
    /// Pieces touch no defect.
    Defects,
    /// The ends of strips are not used.
    EndTrim,
    /// A want is met: its place in [`Job::wants`].
    Want(usize),
    /// A course is covered.
    Course(CourseId),
}

impl Demand {
    /// Every demand of a job that could be dropped, but for its courses.
    pub fn rules(job: &Job) -> Vec<Demand> {
        let rules = &job.rules;
        let joined = rules.joints.most > 0;
        let mut all = Vec::new();
        if joined {
            all.extend((0..job.hull.keep_clear.len()).map(Demand::Zone));
        }
        if joined && rules.joints.clear > Length::ZERO && rules.joints.clear_courses > 0 {
            all.push(Demand::Clear);
        }
        all.extend((0..job.wants.len()).map(Demand::Want));
        all.push(Demand::Most);
        if rules.joints.shortest_piece > rules.scarf() {
            all.push(Demand::ShortestPiece);
        }
        if rules.allow.fitted_end > Length::ZERO || rules.allow.free_end > Length::ZERO {
            all.push(Demand::Allowances);
        }
        if job
            .stock
            .strips
            .iter()
            .any(|strip| !strip.defects.is_empty())
        {
            all.push(Demand::Defects);
        }
        if rules.allow.end_trim > Length::ZERO {
            all.push(Demand::EndTrim);
        }
        all
    }
}

/// Joints in a course where their number is free. Unit: joints. More than any boat has, and few enough to count with.
const FREE: u32 = 1000;

/// The job with these demands alone: every other rule that could be dropped is dropped, and only the courses among
/// them are laid.
pub fn with(job: &Job, demands: &[Demand]) -> Job {
    let dropped: Vec<Demand> = Demand::rules(job)
        .into_iter()
        .filter(|demand| !demands.contains(demand))
        .collect();
    only(&without(job, &dropped), &courses(demands))
}

/// The courses among the demands, in their order.
pub fn courses(demands: &[Demand]) -> Vec<CourseId> {
    let course = |demand: &Demand| match demand {
        Demand::Course(id) => Some(*id),
        _ => None,
    };
    demands.iter().filter_map(course).collect()
}

/// The job without some of its demands. A course that is not demanded is not there.
pub fn without(job: &Job, dropped: &[Demand]) -> Job {
    let mut easier = job.clone();
    let mut zone = 0;
    easier.hull.keep_clear.retain(|_| {
        zone += 1;
        !dropped.contains(&Demand::Zone(zone - 1))
    });
    let mut want = 0;
    easier.wants.retain(|_| {
        want += 1;
        !dropped.contains(&Demand::Want(want - 1))
    });
    let rules = &mut easier.rules;
    let mut gone = Vec::new();
    for demand in dropped {
        match demand {
            Demand::Zone(_) | Demand::Want(_) => {}
            Demand::Clear => rules.joints.clear = Length::ZERO,
            Demand::Most => rules.joints.most = FREE,
            // A piece is never shorter than its scarf: it would begin behind the next.
            Demand::ShortestPiece => rules.joints.shortest_piece = rules.scarf(),
            Demand::Allowances => {
                rules.allow.fitted_end = Length::ZERO;
                rules.allow.free_end = Length::ZERO;
            }
            Demand::Defects => {
                for strip in &mut easier.stock.strips {
                    strip.defects.clear();
                }
            }
            Demand::EndTrim => rules.allow.end_trim = Length::ZERO,
            Demand::Course(id) => gone.push(*id),
        }
    }
    if gone.is_empty() {
        return easier;
    }
    let kept: Vec<CourseId> = job
        .hull
        .courses()
        .map(|(id, _)| id)
        .filter(|id| !gone.contains(id))
        .collect();
    only(&easier, &kept)
}

/// The job with some of its courses alone, in order.
pub fn only(job: &Job, courses: &[CourseId]) -> Job {
    let mut smaller = job.clone();
    let place = |id: CourseId| courses.iter().position(|kept| *kept == id).map(CourseId);
    smaller.hull.courses = courses
        .iter()
        .map(|id| job.hull.course(*id).clone())
        .collect();
    smaller.earlier = None;
    smaller.laid = job
        .laid
        .iter()
        .filter_map(|piece| {
            let course = place(piece.course)?;
            Some(crate::plan::Piece {
                course,
                ..piece.clone()
            })
        })
        .collect();
    smaller
}
