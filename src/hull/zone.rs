//! A stretch of a panel that is kept clear of scarfs, or shown.

use super::{Course, PanelId};
use crate::units::X;

/// A stretch of the boat over some courses of one panel.
#[derive(Clone, PartialEq, Debug)]
pub struct Zone {
    /// The name given in boat.toml, where one is given.
    pub name: Option<String>,
    /// The panel.
    pub panel: PanelId,
    /// First and last course; `None` for all.
    pub courses: Option<(u32, u32)>,
    /// Its forward edge.
    pub from: X,
    /// Its after edge.
    pub to: X,
}

impl Zone {
    /// Whether the zone lies over this course at all.
    pub fn covers(&self, course: &Course) -> bool {
        self.panel == course.panel
            && self
                .courses
                .is_none_or(|(first, last)| (first..=last).contains(&course.number))
    }
}

/// A zone where looks count `times` as much.
#[derive(Clone, PartialEq, Debug)]
pub struct Show {
    /// Where.
    pub zone: Zone,
    /// By how much the weight is multiplied; 0 where nobody will look.
    pub times: f64,
}
