//! What a plan costs, term by term.

use serde::{Deserialize, Serialize};

/// The cost of a plan, and as it stands in plan.json. Unit of every term: ΔE00·metre. Source: model, "Cost".
#[derive(Clone, Copy, PartialEq, Debug, Default, Serialize, Deserialize)]
pub struct Cost {
    /// Steps between neighbouring courses.
    pub seam: f64,
    /// Steps between mates across the centreplane.
    #[serde(rename = "match")]
    pub matching: f64,
    /// Joints.
    pub joint: f64,
    /// Colour that goes the wrong way from course to course.
    #[serde(default)]
    pub drift: f64,
    /// Strips cut into.
    pub thrift: f64,
    /// Pieces that moved since the earlier plan.
    pub moved: f64,
}

impl Cost {
    /// All terms together.
    pub fn total(&self) -> f64 {
        self.seam + self.matching + self.joint + self.drift + self.thrift + self.moved
    }
}
