//! What is known of a panel before its courses are worked out.

use super::{Bend, Curve, Fair};
use crate::hull::{End, FormId, PanelId, Toward};
use crate::plan::Rules;
use crate::units::Length;

/// What an end of a course, or the edge it runs out on, meets.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Fit {
    /// Cut to fit, to whatever is there.
    #[default]
    Fitted,
    /// Cut to fit a stem.
    Stem,
    /// Cut to fit the edge of another panel.
    Edge,
    /// Cut to fit the other side at the centreline.
    Centreline,
    /// Runs past and is trimmed later.
    Free,
}

impl Fit {
    /// Which allowance it takes.
    pub const fn end(self) -> End {
        match self {
            Fit::Free => End::Free,
            Fit::Fitted | Fit::Stem | Fit::Edge | Fit::Centreline => End::Fitted,
        }
    }

    /// The word in boat.toml.
    pub const fn name(self) -> &'static str {
        match self {
            Fit::Fitted => "fitted",
            Fit::Stem => "stem",
            Fit::Edge => "edge",
            Fit::Centreline => "centreline",
            Fit::Free => "free",
        }
    }
}

/// Whether a course of the panel lies on the centreline, once for both sides.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Centre {
    /// None: the panel's courses are all on both sides.
    #[default]
    None,
    /// The first: the start line is the centreline.
    First,
    /// The last: the stop line is the centreline.
    Last,
}

/// Everything that is known of one panel: its girths at the forms, its sections where there are offsets, and how its
/// ends are treated. Unit of all lengths: mm.
#[derive(Clone, PartialEq, Debug)]
pub struct PanelShape {
    /// The panel.
    pub panel: PanelId,
    /// Which way its courses run.
    pub toward: Toward,
    /// The forms at which it is there, from the bow aft, two at least.
    pub forms: Vec<FormId>,
    /// Girth from start line to stop line along the boat, through the girths at the forms.
    pub girth: Fair,
    /// The section at each form, from start line to stop line; `None` where only girths are known.
    pub sections: Option<Vec<Curve>>,
    /// Where its ends and its stop line are treated how.
    pub bow_end: Fit,
    /// The same at the stern.
    pub stern_end: Fit,
    /// The same where courses run out on the stop line.
    pub stop: Fit,
    /// Courses that run out forward of here end as at the bow: the stop line is the stem there.
    pub bow_end_to: Option<f64>,
    /// Courses that run out aft of here end as at the stern.
    pub stern_end_from: Option<f64>,
    /// Whether a course lies on the centreline.
    pub centre: Centre,
    /// The length of the start line along the skin, as measured, from the panel's first form to its last.
    pub start_length: Option<f64>,
    /// The same of the stop line.
    pub stop_length: Option<f64>,
}

/// A point of the table of offsets.
#[derive(Clone, PartialEq, Debug)]
pub struct Measured {
    /// The panel.
    pub panel: PanelId,
    /// The form.
    pub form: FormId,
    /// Its number in the section, from 1 at the start line.
    pub number: u32,
    /// What the line of the drawing is called that it lies on; empty where that is not told.
    pub line: String,
    /// Out from the centreplane.
    pub half_breadth: Length,
    /// Up from the base line.
    pub height: Length,
    /// Whether the skin has a corner there.
    pub bend: Bend,
    /// Whether one of its figures stands out from its neighbours.
    pub doubtful: bool,
}

/// The strips that a panel is to be planked with. Unit: mm.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Scantling {
    /// Width that one course covers.
    pub width: f64,
    /// Thickness.
    pub thickness: f64,
}

impl Scantling {
    /// The strips of a job.
    pub fn of(rules: &Rules) -> Scantling {
        Scantling {
            width: rules.width.mm(),
            thickness: rules.thickness.mm(),
        }
    }
}

impl PanelShape {
    /// Where the panel begins.
    pub fn from(&self) -> f64 {
        self.girth.places().first().copied().unwrap_or(0.0)
    }

    /// Where the panel ends.
    pub fn to(&self) -> f64 {
        self.girth.places().last().copied().unwrap_or(0.0)
    }
}
