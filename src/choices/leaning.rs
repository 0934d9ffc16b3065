//! Other weights than the job's: what a builder would write who leans toward looks, or toward thrift.

use crate::job::Job;
use crate::solve::Outcome;

/// Which way a plan leans.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Leaning {
    /// Looks alone: strips cost nothing.
    Looks,
    /// Fewer joints and fewer strips cut into, by so much.
    Thrift(f64),
    /// Fewer joints, whatever it takes.
    FewJoints,
    /// Fewer strips cut into, whatever it takes.
    FewStrips,
}

impl Leaning {
    /// From looks to thrift.
    pub fn all() -> [Leaning; 6] {
        [
            Leaning::Looks,
            Leaning::Thrift(0.1),
            Leaning::Thrift(0.4),
            Leaning::Thrift(1.6),
            Leaning::FewStrips,
            Leaning::FewJoints,
        ]
    }

    /// Whether it leans so far that a plan from nothing is worth a try.
    pub const fn is_far(self) -> bool {
        matches!(self, Leaning::FewJoints | Leaning::FewStrips)
    }

    /// The job with the weights of this leaning, measured by what a course costs in a plan for it.
    pub fn job(self, job: &Job, first: &Outcome) -> Job {
        let laid = job.hull.courses.len() - first.plan.uncovered.len();
        let a_course = first.cost.total() / laid.max(1) as f64;
        let mut leant = job.clone();
        let weights = &mut leant.weights;
        match self {
            Leaning::Looks => weights.cut = 0.0,
            Leaning::Thrift(by) => {
                weights.joint += by * a_course;
                weights.cut += 0.5 * by * a_course;
            }
            Leaning::FewJoints => {
                weights.joint += 8.0 * a_course;
                weights.cut += 0.5 * a_course;
            }
            Leaning::FewStrips => {
                weights.joint += 0.5 * a_course;
                weights.cut += 8.0 * a_course;
            }
        }
        leant
    }
}
