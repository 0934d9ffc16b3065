//! What the builder asks of every plan, and what each fault in its looks is worth.

use super::Edge;
use crate::stock::{Defect, merged};
use crate::units::{Length, U};

/// The shape of the strips' edges.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Edges {
    /// Either edge may look to the next course.
    Square,
    /// One edge is hollow and the other round: the given edge looks to the next course.
    BeadAndCove {
        /// The edge that looks to the next course.
        next_edge: Edge,
    },
}

/// How pieces of one course are joined.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Joints {
    /// Scarf length is slope × thickness.
    pub slope: f64,
    /// Least distance along the boat between scarf centres of near courses.
    pub clear: Length,
    /// Courses whose numbers differ by at most this much are near.
    pub clear_courses: u32,
    /// Least length of a piece between its nominal ends.
    pub shortest_piece: Length,
    /// Most joints in one course.
    pub most: u32,
}

/// Extra wood at ends and cuts.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Allow {
    /// At an end that is cut to fit.
    pub fitted_end: Length,
    /// At an end that runs past a line and is trimmed later.
    pub free_end: Length,
    /// Lost at each cross-cut.
    pub saw: Length,
    /// Kept clear on each side of a defect.
    pub defect: Length,
    /// Never used at each end of a strip.
    pub end_trim: Length,
}

impl Allow {
    /// Where no piece may be cut from a strip of this length: its defects with what is kept clear beside them, its
    /// ends, and what the saw took; in order along it and not overlapping. Source: model, rule 3.
    pub fn barred(&self, length: Length, defects: &[Defect], kerfs: &[Defect]) -> Vec<Defect> {
        let end = U::at(length);
        let mut barred: Vec<Defect> = kerfs.to_vec();
        barred.extend(defects.iter().map(|defect| Defect {
            from: (defect.from - self.defect).max(U::ORIGIN),
            to: (defect.to + self.defect).min(end),
        }));
        if self.end_trim > Length::ZERO {
            let trim = self.end_trim.min(length);
            barred.push(Defect {
                from: U::ORIGIN,
                to: U::at(trim),
            });
            barred.push(Defect {
                from: end - trim,
                to: end,
            });
        }
        merged(barred)
    }
}

/// The sizes and rules of boat.toml.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Rules {
    /// Width that one course covers.
    pub width: Length,
    /// Thickness of the strips.
    pub thickness: Length,
    /// Shape of the edges.
    pub edges: Edges,
    /// How pieces are joined.
    pub joints: Joints,
    /// Extra wood.
    pub allow: Allow,
}

impl Rules {
    /// How far each of two joined pieces reaches past the joint: half the scarf. Source: model, rule 4.
    pub fn half_scarf(&self) -> Length {
        self.scarf() * 0.5
    }

    /// The length of a scarf along the strip. Source: model, rule 4.
    pub fn scarf(&self) -> Length {
        self.thickness * self.joints.slope
    }

    /// The allowance of an end.
    pub fn allowance(&self, end: crate::hull::End) -> Length {
        match end {
            crate::hull::End::Fitted => self.allow.fitted_end,
            crate::hull::End::Free => self.allow.free_end,
        }
    }
}

/// Weights of the cost. Unit of each: see the model, "Cost".
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Weights {
    /// Seam between two boards, ΔE00.
    pub board: f64,
    /// For each slice further apart in one board, ΔE00.
    pub skip: f64,
    /// For figure out of register by a metre or more, ΔE00.
    pub shift: f64,
    /// Mates that are not from one board, ΔE00.
    pub foster: f64,
    /// A joint, ΔE00·metre.
    pub joint: f64,
    /// A strip cut into, ΔE00·metre.
    pub cut: f64,
    /// A piece that moves when planning again, ΔE00·metre.
    pub relabel: f64,
}

impl Default for Weights {
    fn default() -> Weights {
        Weights {
            board: 2.0,
            skip: 0.6,
            shift: 0.5,
            foster: 12.0,
            joint: 2.0,
            cut: 0.25,
            relabel: 1.0,
        }
    }
}
