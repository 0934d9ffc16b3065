//! What the checker says of a plan.

use super::breach::Breach;
use crate::hull::{CourseId, PanelId, Side};
use crate::plan::Cost;
use crate::units::{Length, of_guesses_to_the_eye, to_the_eye};

/// The whole judgement of one plan.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Verdict {
    /// Everything that breaks a rule: rule by rule, and in each by course. Empty for a good plan.
    pub breaches: Vec<Breach>,
    /// What the plan costs, reckoned from its rows. Of a plan with breaches: of those rows that make sense.
    pub cost: Cost,
    /// The seams between neighbouring courses, by course and side; only those that have a length.
    pub seams: Vec<SeamFigure>,
    /// The mates of every mirrored course that is covered, by course.
    pub matches: Vec<MatchFigure>,
    /// How many joints there are; one on both sides of the boat counts once.
    pub joints: usize,
    /// How many strips are cut into.
    pub strips_cut: usize,
    /// How many pieces need new labels because the plan was made again: one at each end.
    pub relabelled: usize,
}

impl Verdict {
    /// What the eye will meet: the cost, labels aside. Unit: ΔE00·metre.
    pub fn looks(&self) -> f64 {
        self.cost.total() - self.cost.moved
    }

    /// The seams at which no contrast is wanted: all but the edges of accent bands.
    pub fn seams_to_hide(&self) -> impl Iterator<Item = &SeamFigure> {
        self.seams.iter().filter(|seam| seam.accent.is_none())
    }

    /// Whether the plan keeps every rule.
    pub fn is_good(&self) -> bool {
        self.breaches.is_empty()
    }
}

/// The seam between two neighbouring courses on one side.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct SeamFigure {
    /// The panel.
    pub panel: PanelId,
    /// The course with the lower number.
    pub upper: CourseId,
    /// The next one.
    pub lower: CourseId,
    /// The side; that of the mirrored course where the other is a centre course.
    pub side: Side,
    /// The step in colour alone, averaged over the length met. Unit: ΔE00.
    pub step: f64,
    /// The largest step in colour alone. Unit: ΔE00.
    pub worst: f64,
    /// The length over which they meet. Frame: along the boat.
    pub length: Length,
    /// Its part of the plan's cost. Unit: ΔE00·metre.
    pub cost: f64,
    /// Where a line is meant to stand out here: up to how large a step is welcome. Unit: ΔE00.
    pub accent: Option<f64>,
    /// Whether all that meets here was taken by eye, nowhere more than a shade apart.
    pub guessed: bool,
}

impl SeamFigure {
    /// What a step on this seam means to the eye. Unit: ΔE00.
    pub fn to_the_eye(&self, step: f64) -> &'static str {
        match self.guessed {
            true => of_guesses_to_the_eye(step),
            false => to_the_eye(step),
        }
    }
}

/// The match between the two sides of a mirrored course.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct MatchFigure {
    /// The course.
    pub course: CourseId,
    /// The step in colour alone, averaged over the course. Unit: ΔE00.
    pub step: f64,
    /// The largest step in colour alone. Unit: ΔE00.
    pub worst: f64,
    /// Its part of the plan's cost. Unit: ΔE00·metre.
    pub cost: f64,
}
