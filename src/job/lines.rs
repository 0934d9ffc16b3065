//! The lines of a job without its wood: for what is asked before any strip exists.

use super::complaint::Complaint;
use super::files::{is_a_folder, is_there};
use super::folder;
use super::found::Found;
use super::shape::{self, Shape};
use super::{Stationery, courses};
use crate::hull::{Course, Hull};
use crate::lines::{Closing, Laid, Measured, PanelShape, Scantling, closing};
use crate::mill::Mill;
use crate::plan::Rules;
use crate::units::{Length, Unit};
use std::path::Path;

/// What is asked at the bench of courses that were worked out, and not by the planner.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Bench {
    /// The courses worked out from forms and offsets, whether or not the planner goes by them.
    pub laid: Vec<Laid>,
    /// How far a joint between two courses may gape before it is worth a word.
    pub gape: Length,
}

impl Bench {
    /// How a course was worked out; `None` where it was not, or where its length was changed by hand.
    pub fn of(&self, course: &Course) -> Option<&Laid> {
        let mut laid = self.laid.iter();
        let own = laid.find(|laid| {
            (laid.course.panel, laid.course.name()) == (course.panel, course.name())
        })?;
        let apart = (own.course.length - course.length).abs();
        (apart <= course.length * BY_HAND).then_some(own)
    }
}

/// A course whose length was changed by hand by more than this part of it narrows elsewhere than was worked out. Common
/// practice, no source.
const BY_HAND: f64 = 0.01;

/// The boat of a job, and how its courses came about.
#[derive(Clone, PartialEq, Debug)]
pub struct Lines {
    /// The job's name.
    pub name: String,
    /// What bare numbers mean, and what lengths are written in.
    pub unit: Unit,
    /// Sizes and rules.
    pub rules: Rules,
    /// What saw and plane take.
    pub mill: Mill,
    /// What is printed on.
    pub stationery: Stationery,
    /// How far a joint between two courses may gape before it is worth a word.
    pub gape: Length,
    /// How far a bead lies in its cove: a strip is milled so much wider than it covers. Nothing with square edges.
    pub overlap: Length,
    /// The boat as the planner sees it.
    pub hull: Hull,
    /// What forms and offsets tell of each panel; empty where there are none.
    pub told: Vec<PanelShape>,
    /// The courses worked out from that, whether or not the planner goes by them.
    pub laid: Vec<Laid>,
    /// The points of offsets.csv.
    pub points: Vec<Measured>,
    /// Whether offsets.csv is a table as it is printed, with forms for columns.
    pub wide: bool,
    /// Whether a person's courses.csv is there, which counts then.
    pub by_hand: bool,
    /// What is odd but can be read, sorted by file and line.
    pub warnings: Vec<Complaint>,
}

impl Lines {
    /// A course in words: `topside course 3`.
    pub(crate) fn named(&self, laid: &Laid) -> String {
        let panel = &self.hull.panel(laid.course.panel).name;
        format!("{panel} course {}", laid.course.name())
    }

    /// The strips that the courses are made of.
    pub fn strip(&self) -> Scantling {
        Scantling::of(&self.rules)
    }

    /// How each panel closes that would end in a sliver, and what makes it come out.
    pub fn closings(&self) -> Vec<Closing> {
        let strip = self.strip();
        self.told
            .iter()
            .filter_map(|told| closing(told, strip))
            .collect()
    }
}

/// Reads everything of a job folder but the wood.
///
/// Errors: everything that is wrong with those files, sorted by file and line.
pub fn read_lines(dir: &Path) -> Result<Lines, Vec<Complaint>> {
    is_a_folder(dir)?;
    let mut found = Found::default();
    let shape = shape::read(dir, &mut Vec::new(), &mut found);
    let lines = of(dir, shape, &mut found);
    let (lines, warnings) = found.whole(lines)?;
    Ok(Lines { warnings, ..lines })
}

/// The lines without their warnings; `None` where they could not be read.
pub(super) fn of(dir: &Path, shape: Shape, found: &mut Found) -> Option<Lines> {
    let hull = folder::hull(&shape, found);
    let boat = shape.boat?;
    Some(Lines {
        name: boat.name?,
        unit: boat.unit?,
        rules: boat.rules?,
        mill: boat.mill?,
        stationery: boat.stationery?,
        gape: boat.gape?,
        overlap: boat.overlap?,
        hull: hull?,
        told: shape.lined.told,
        laid: shape.lined.laid,
        points: shape.lined.points,
        wide: shape.lined.wide,
        by_hand: is_there(dir, courses::FILE),
        warnings: Vec::new(),
    })
}
