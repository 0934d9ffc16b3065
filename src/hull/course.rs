//! A course, and how places along its skin answer to places on the boat.

use super::{CourseName, Crossing, PanelId, Side, Stretch};
use crate::units::{Length, S, X};

/// A course's place in [`super::Hull::courses`].
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct CourseId(pub usize);

/// Whether a course is laid once or twice.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Kind {
    /// On both sides.
    #[default]
    Mirrored,
    /// Once, on the centreline.
    Centre,
}

/// How an end of a course is treated.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum End {
    /// Cut to fit: needs the allowance of a fitted end.
    #[default]
    Fitted,
    /// Runs past the line and is trimmed later: needs the allowance of a free end.
    Free,
}

impl End {
    /// The word for it, in files and on paper.
    pub const fn name(self) -> &'static str {
        match self {
            End::Fitted => "fitted",
            End::Free => "free",
        }
    }
}

/// One row of planking in a panel.
#[derive(Clone, PartialEq, Debug)]
pub struct Course {
    /// The panel it belongs to.
    pub panel: PanelId,
    /// 1, 2, 3 … from the start line.
    pub number: u32,
    /// Which part of its band of girth it is, where the stop line cuts the band; written behind the number.
    pub stretch: Stretch,
    /// Mirrored or centre.
    pub kind: Kind,
    /// Where its bow end lies on the boat.
    pub from: X,
    /// Where its stern end lies on the boat; always aft of `from`.
    pub to: X,
    /// Its length along the skin, without allowances.
    pub length: Length,
    /// How its bow end is treated.
    pub bow_end: End,
    /// How its stern end is treated.
    pub stern_end: End,
    /// Where it crosses the forms, from the bow aft; empty where no forms are known.
    pub crossings: Vec<Crossing>,
}

impl Course {
    /// What it is called in its panel: the one way to print a course.
    pub const fn name(&self) -> CourseName {
        CourseName {
            number: self.number,
            stretch: self.stretch,
        }
    }

    /// Whether the other course lies on the next band of the same panel, so that the two share a seam where they lie
    /// abreast. Stretches of one band are nobody's neighbours but those of the bands before and after.
    pub const fn lies_before(&self, other: &Course) -> bool {
        self.panel.0 == other.panel.0 && self.number.saturating_add(1) == other.number
    }

    /// The sides on which the course is laid.
    pub const fn sides(&self) -> &'static [Side] {
        match self.kind {
            Kind::Mirrored => &[Side::Port, Side::Starboard],
            Kind::Centre => &[Side::Centre],
        }
    }

    /// Where a place on the skin lies on the boat: linear between the course's ends, slope 1 beyond them.
    ///
    /// Source: the formats, courses.csv.
    pub fn x_at(&self, s: S) -> X {
        let along = s.from_origin();
        if along < Length::ZERO || self.length == Length::ZERO {
            self.from + along
        } else if along > self.length {
            self.to + (along - self.length)
        } else {
            let part = along.nm() as f64 / self.length.nm() as f64;
            self.from + (self.to - self.from) * part
        }
    }

    /// Where on the skin a place on the boat lies: the way back from [`Course::x_at`].
    pub fn s_at(&self, x: X) -> S {
        let aft = x - self.from;
        let span = self.to - self.from;
        if aft < Length::ZERO || span == Length::ZERO {
            S::at(aft)
        } else if aft > span {
            S::at(self.length + (aft - span))
        } else {
            S::at(self.length * (aft.nm() as f64 / span.nm() as f64))
        }
    }
}
