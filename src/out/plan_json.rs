//! out/plan.json: everything in the laying order, and what the plan was made from and is worth.

use super::{Fault, side_mark};
use crate::hull::{CourseId, Kind};
use crate::job::{Digest, Job};
use crate::plan::{Cost, Piece, Plan};
use crate::units::{Length, Unit};
use serde::{Deserialize, Serialize};

const FILE: &str = "out/plan.json";
/// The version of the format. Raised where an old reader would go wrong.
const FORMAT: u32 = 1;

/// A gap below this part of the total counts as none. Why: bound and total are summed in different orders, and the
/// checker lets two reckonings of one cost differ by as much.
const CLOSED: f64 = 1e-6;

/// How a plan was made, as its plan.json tells.
#[derive(Clone, PartialEq, Debug, Default, Deserialize)]
pub struct Made {
    /// Where it stands among the plans of this boat.
    #[serde(flatten)]
    pub again: Again,
    /// The files it was made from.
    pub inputs: Vec<Digest>,
    /// The seed.
    pub seed: u64,
    /// Rounds done.
    pub rounds: u64,
    /// The ceiling on the time that was asked for. Unit: seconds.
    pub seconds: Option<f64>,
    /// Why the search ended, in a word.
    pub ended: String,
    /// The cost, by the checker's reckoning.
    pub cost: Cost,
    /// A proven lower bound on the total. Unit: ΔE00·metre.
    pub bound: Option<f64>,
    /// The same for plans without joints alone, where joints are allowed.
    #[serde(default)]
    pub bound_without_joints: Option<f64>,
    /// How `bound` was found, or why there is none.
    pub bound_reason: String,
    /// What is missing, where it leaves courses out.
    #[serde(default)]
    pub shortage: Option<Short>,
}

/// What is missing where courses are left out, as it stands in plan.json.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
pub struct Short {
    /// Whether it is proven that the wood does not cover every course.
    pub proven: bool,
    /// How that is known, or that it is not.
    pub why: String,
    /// What to mill or buy; where two name the same course, either will do.
    pub mill: Vec<Mill>,
}

/// Wood that would cover some courses.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
pub struct Mill {
    /// Pairs of sisters.
    pub pairs: usize,
    /// Single strips.
    pub strips: usize,
    /// How long each must be, clear of defects; in the job's unit.
    pub length: f64,
    /// Whether the courses are laid from it alone, or scarfed with what is left in the rack.
    pub scarfed: bool,
    /// The courses that it covers.
    pub courses: Vec<String>,
}

/// Where a plan stands among the plans of one boat.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Deserialize)]
pub struct Again {
    /// Its number: 1 for the first, and where plan.json says none.
    #[serde(default = "first")]
    pub number: u32,
    /// The number of the plan before it, where it was planned again.
    #[serde(default)]
    pub earlier: Option<u32>,
    /// How many entries of the log it knows of.
    #[serde(default)]
    pub log_entries: usize,
}

const fn first() -> u32 {
    1
}

impl Default for Again {
    fn default() -> Again {
        Again::FIRST
    }
}

impl Again {
    /// The first plan of a boat of which nothing is laid yet.
    pub const FIRST: Again = Again {
        number: 1,
        earlier: None,
        log_entries: 0,
    };
}

/// How far a total is above a bound, as a part of the bound; nothing where they differ by a millionth or less. `None`
/// without a bound, or where the bound is nothing and the total is more.
pub fn gap(total: f64, bound: Option<f64>) -> Option<f64> {
    let bound = bound?;
    let above = (total - bound).max(0.0);
    if above <= CLOSED * total.abs().max(1.0) {
        Some(0.0)
    } else if bound > 0.0 {
        Some(above / bound)
    } else {
        None
    }
}

#[derive(Serialize)]
struct File<'a> {
    format: u32,
    number: u32,
    earlier: Option<u32>,
    log_entries: usize,
    job: &'a str,
    unit: &'static str,
    inputs: &'a [Digest],
    seed: u64,
    rounds: u64,
    seconds: Option<f64>,
    ended: &'a str,
    cost: Total,
    bound: Option<f64>,
    gap: Option<f64>,
    bound_without_joints: Option<f64>,
    bound_reason: &'a str,
    uncovered: Vec<Uncovered<'a>>,
    shortage: Option<&'a Short>,
    laying_order: Vec<Row<'a>>,
}

/// The cost of a plan as it stands in plan.json. Unit: ΔE00·metre.
#[derive(Clone, Copy, PartialEq, Debug, Serialize, Deserialize)]
pub struct Total {
    /// All terms together.
    pub total: f64,
    /// Term by term.
    #[serde(flatten)]
    pub terms: Cost,
}

#[derive(Serialize)]
struct Uncovered<'a> {
    panel: &'a str,
    course: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    stretch: Option<char>,
    length: f64,
    reason: String,
}

#[derive(Serialize)]
struct Row<'a> {
    order: usize,
    panel: &'a str,
    course: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    stretch: Option<char>,
    side: &'static str,
    piece: u32,
    strip: &'a str,
    mate: Option<&'a str>,
    from: f64,
    to: f64,
    cut_from: f64,
    cut_to: f64,
    bow_end: &'static str,
    next_edge: &'static str,
    face_out: &'static str,
    mark: String,
}

/// The bytes of plan.json. Source of the keys: the formats, out/plan.json.
///
/// Errors: the writer failed, which is a bug.
pub fn plan_json(job: &Job, plan: &Plan, made: &Made) -> Result<Vec<u8>, Fault> {
    let file = File {
        format: FORMAT,
        number: made.again.number,
        earlier: made.again.earlier,
        log_entries: made.again.log_entries,
        job: &job.name,
        unit: job.unit.name(),
        inputs: &made.inputs,
        seed: made.seed,
        rounds: made.rounds,
        seconds: made.seconds,
        ended: &made.ended,
        cost: Total {
            total: made.cost.total(),
            terms: made.cost,
        },
        bound: made.bound,
        gap: gap(made.cost.total(), made.bound),
        bound_without_joints: made.bound_without_joints,
        bound_reason: &made.bound_reason,
        uncovered: plan
            .uncovered
            .iter()
            .map(|id| uncovered(job, *id))
            .collect(),
        shortage: made.shortage.as_ref(),
        laying_order: plan
            .pieces
            .iter()
            .enumerate()
            .map(|(i, piece)| row(job, i + 1, piece))
            .collect(),
    };
    let mut bytes = serde_json::to_vec_pretty(&file).map_err(|error| Fault::Format {
        file: FILE,
        why: error.to_string(),
    })?;
    bytes.push(b'\n');
    Ok(bytes)
}

fn uncovered(job: &Job, id: CourseId) -> Uncovered<'_> {
    let course = job.hull.course(id);
    let ends = job.rules.allowance(course.bow_end) + job.rules.allowance(course.stern_end);
    let wood = match course.kind {
        Kind::Mirrored => "a pair",
        Kind::Centre => "a strip",
    };
    Uncovered {
        panel: &job.hull.panel(course.panel).name,
        course: course.number,
        stretch: course.stretch.letter(),
        length: number(job.unit, course.length),
        reason: format!(
            "no wood was found for it; in one piece it takes {wood} of {} clear",
            job.unit.shop(course.length + ends)
        ),
    }
}

fn row<'a>(job: &'a Job, order: usize, piece: &Piece) -> Row<'a> {
    let name = |strip| job.stock.strip(strip).name.as_str();
    let length = |at| number(job.unit, at);
    let course = job.hull.course(piece.course);
    Row {
        order,
        panel: &job.hull.panel_of(piece.course).name,
        course: course.number,
        stretch: course.stretch.letter(),
        side: piece.side.name(),
        piece: piece.number,
        strip: name(piece.strip),
        mate: piece.mate.map(name),
        from: length(piece.from.from_origin()),
        to: length(piece.to.from_origin()),
        cut_from: length(piece.cut_from.from_origin()),
        cut_to: length(piece.cut_to.from_origin()),
        bow_end: piece.bow_end.name(),
        next_edge: piece.next_edge.name(),
        face_out: piece.face_out.name(),
        mark: side_mark(&job.hull, piece),
    }
}

/// A length as a number in the job's unit: the double nearest to it, which is written with the fewest digits that give
/// it back.
pub fn number(unit: Unit, length: Length) -> f64 {
    length.nm() as f64 / unit.nm() as f64
}
