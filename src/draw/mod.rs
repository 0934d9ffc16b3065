//! Pictures.
//!
//! A picture is decided once, as a [`scene`]: shapes, words and groups in millimetres of paper. What a file format
//! asks for is known to its back end alone ([`svg`], `pdf`, `png`), and both of the latter draw what the first wrote.
//! Nothing here reads or writes a file. Start with `planking`, then `sheet`, which decides what lies where.

mod bands;
mod beside;
pub(crate) mod fit;
mod forms;
mod grain;
mod greys;
pub(crate) mod ink;
mod legend;
mod lines;
pub(crate) mod marks;
mod misprint;
mod moved;
mod pdf;
mod photographed;
mod pieces;
mod planking;
mod png;
mod ruler;
pub mod scene;
mod sheet;
mod skin;
mod stack;
mod steps;
mod strip;
#[doc(hidden)]
pub mod svg;
mod thin;
#[doc(hidden)]
pub mod typeface;
mod wants;
mod wood;
mod words;
mod zones;

pub use beside::beside;
pub use lines::scene as lines;
pub use misprint::Misprint;
pub use pdf::{Pdf, write as pdf};
pub use photographed::{Photographs, Seen, painted, pixels_high};
pub use png::{widest, write as png};
pub use strip::picture as strip;

use crate::check::Verdict;
use crate::job::Job;
use crate::plan::{Piece, Plan};

use scene::{Rect, Scene};

/// A picture of a plan.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Picture {
    /// Every piece with its strip and how it lies, forms, zones, joints and numbers: the drawing for the shop.
    Planking,
    /// The wood alone, in true proportion, as the finished hull would look.
    Wood,
    /// In greys, the line between two courses as strong as the step in colour across it.
    Seams,
}

impl Picture {
    /// All of them.
    pub const ALL: [Picture; 3] = [Picture::Planking, Picture::Wood, Picture::Seams];

    const fn files(self) -> [&'static str; 3] {
        match self {
            Picture::Planking => ["planking.svg", "planking.png", "planking.pdf"],
            Picture::Wood => ["wood.svg", "wood.png", "wood.pdf"],
            Picture::Seams => ["seams.svg", "seams.png", "seams.pdf"],
        }
    }

    /// The name of its SVG file.
    pub const fn svg(self) -> &'static str {
        self.files()[0]
    }

    /// The name of its file in pixels.
    pub const fn png(self) -> &'static str {
        self.files()[1]
    }

    /// The name of its file for the printer.
    pub const fn pdf(self) -> &'static str {
        self.files()[2]
    }

    /// What is on it, in no file format yet; the picture of the wood shows photographs of it, where there are any. The
    /// same job, plan and photographs give the same scene.
    ///
    /// A plan with breaches is drawn as far as its rows make sense; the planking then says so.
    pub fn scene(
        self,
        job: &Job,
        plan: &Plan,
        verdict: &Verdict,
        photographs: Option<&Photographs>,
    ) -> Scene {
        match self {
            Picture::Planking => planking::scene(job, plan, verdict),
            Picture::Wood => wood::scene(job, plan, verdict, photographs),
            Picture::Seams => greys::scene(job, plan, verdict),
        }
    }
}

/// The planking as SVG: both sides of the boat opened flat, mirrored about the centreline, seen from outside.
///
/// The same job and plan give the same bytes. A plan with breaches is drawn as far as its rows make sense, and says so.
pub fn planking(job: &Job, plan: &Plan, verdict: &Verdict) -> String {
    svg::write(&Picture::Planking.scene(job, plan, verdict, None))
}

/// What the pictures tell of a piece, a line each thing; `order` is its number in the order of laying.
pub fn says(job: &Job, order: usize, piece: &Piece) -> String {
    words::told(job, order, piece)
}

/// Which part of the planking is the drawing itself, with its rulers, panels and steps but without heading and legend.
pub fn drawing(job: &Job) -> Rect {
    sheet::Sheet::of(job).drawing()
}

/// Which part of the picture of the wood is the hull.
pub fn hull(job: &Job) -> Rect {
    wood::hull(job)
}
