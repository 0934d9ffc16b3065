//! Other weights than the job's: what a builder would write who leans toward looks, or toward thrift.

use crate::job::Job;
use crate::units::delta_e;

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
    /// From looks to thrift, and back: coming from the other side, the search halts at other plans.
    pub fn all() -> [Leaning; 9] {
        [
            Leaning::Looks,
            Leaning::Thrift(0.02),
            Leaning::Thrift(0.08),
            Leaning::Thrift(0.3),
            Leaning::FewStrips,
            Leaning::FewJoints,
            Leaning::Thrift(0.3),
            Leaning::Thrift(0.08),
            Leaning::Thrift(0.02),
        ]
    }

    /// Whether it leans so far that a plan from nothing is worth a try.
    pub const fn is_far(self) -> bool {
        matches!(self, Leaning::FewJoints | Leaning::FewStrips)
    }

    /// The job with the weights of this leaning, measured by what a course costs that is laid blindly.
    pub fn job(self, job: &Job) -> Job {
        let blind = blindly(job);
        let mut leant = job.clone();
        let weights = &mut leant.weights;
        match self {
            Leaning::Looks => weights.cut = 0.0,
            Leaning::Thrift(by) => {
                weights.joint += by * blind;
                weights.cut += 0.5 * by * blind;
            }
            Leaning::FewJoints => {
                weights.joint += WHATEVER * blind;
                weights.cut += 0.05 * WHATEVER * blind;
            }
            Leaning::FewStrips => {
                weights.joint += 0.05 * WHATEVER * blind;
                weights.cut += WHATEVER * blind;
            }
        }
        leant
    }
}

/// How many blind courses a joint or a strip weighs where it is to be saved whatever it takes. Much more, and looks
/// would count for nothing beside it in the search.
const WHATEVER: f64 = 4.0;

/// What a course costs, about, whose wood is taken from the rack blindly: the mean step between two strips, on both
/// sides.
fn blindly(job: &Job) -> f64 {
    let strips: Vec<_> = job
        .stock
        .strips
        .iter()
        .filter(|strip| !strip.cull)
        .collect();
    let steps = strips.iter().enumerate().flat_map(|(i, one)| {
        strips[..i]
            .iter()
            .map(|other| delta_e(one.colour, other.colour))
    });
    let (sum, count) = steps.fold((0.0, 0), |(sum, count), step| (sum + step, count + 1));
    let step = sum / f64::from(count.max(1)) + job.weights.board;
    let courses = &job.hull.courses;
    let length: f64 = courses.iter().map(|course| course.length.metres()).sum();
    2.0 * step * length / courses.len().max(1) as f64
}
