//! A job: the boat, the wood and the rules, as one immutable thing, and its folder read and judged.
//!
//! [`read`] decides what a job's files mean and complains, all at once, where they mean nothing. It must not know how a
//! plan is found. One file here reads one file of a job; `table` and `cell` are what the sheets share, `keys` is the
//! same for boat.toml, `values` reads what stands behind them. Start with `folder`.

mod boards;
mod boat;
mod cell;
mod cells;
mod colours;
mod complaint;
mod courses;
mod defects;
mod edited;
mod facts;
mod files;
mod folder;
mod forms;
mod found;
mod keys;
mod laying;
mod lined;
mod lines;
mod log;
mod measured;
mod names;
mod nearest;
mod offsets;
mod panels;
mod photos;
mod rack;
mod saw;
mod shape;
mod sisters;
mod slices;
mod split;
mod spreadsheet;
#[doc(hidden)]
pub mod stationery;
mod stretches;
mod strips;
mod table;
mod text;
mod values;
mod wants;
mod wide;
mod zones;

// Only the program of this package needs these.
#[doc(hidden)]
pub use cells::{BY_HAND, Cells, cells, columns, is_spreadsheet, names_there, text};
#[doc(hidden)]
pub use colours::typed_colour;
pub use complaint::Complaint;
#[doc(hidden)]
pub use defects::place_or_stretch;
pub use files::Digest;
#[doc(hidden)]
pub use files::changed_since;
#[doc(hidden)]
pub use folder::files_there;
pub use folder::{Reading, read};
pub use laying::{COLUMNS as LAYING_ORDER_COLUMNS, read_plan};
#[doc(hidden)]
pub use laying::{read_choice, read_earlier};
#[doc(hidden)]
pub use lines::{Bench, Lines, read_lines};
pub use log::Log;
#[doc(hidden)]
pub use measured::{FILE as COLOURS, GOOD, Pictured};
#[doc(hidden)]
pub use photos::{Photo, Photos, read_photos};
#[doc(hidden)]
pub use saw::{Saw, read_saw};
pub use stationery::{Grid, LabelStock, Page, Stationery, read_stationery};

use crate::hull::Hull;
use crate::plan::{Piece, Plan, Rules, Want, Weights};
use crate::stock::Stock;
use crate::units::Unit;

/// The sheets of a job that is begun, by the name of the file without its ending, and their columns. The girths of
/// each panel are a column of the forms.
#[doc(hidden)]
pub fn fresh_sheets<'p>(panels: &[&'p str]) -> [(&'static str, Vec<&'p str>); 4] {
    let mut of_forms = forms::COLUMNS.to_vec();
    of_forms.extend(panels);
    [
        ("forms", of_forms),
        ("boards", boards::FORM.columns.to_vec()),
        ("strips", strips::FORM.columns.to_vec()),
        ("photos", photos::FORM.columns.to_vec()),
    ]
}

/// Everything that the planner and the checker are told.
#[derive(Clone, PartialEq, Debug)]
pub struct Job {
    /// The job's name.
    pub name: String,
    /// What bare numbers mean, and what lengths are written in.
    pub unit: Unit,
    /// The boat.
    pub hull: Hull,
    /// The wood.
    pub stock: Stock,
    /// Sizes and rules.
    pub rules: Rules,
    /// What each fault in looks is worth.
    pub weights: Weights,
    /// What the builder wants where, as boat.toml lists it.
    pub wants: Vec<Want>,
    /// What is glued on already and stays as it is.
    pub laid: Vec<Piece>,
    /// The plan before this one, when planning again.
    pub earlier: Option<Plan>,
}

/// How far a piece of a plan is.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Stage {
    /// Still to be cut.
    Planned,
    /// Cut from its strip.
    Cut,
    /// Glued on.
    Laid,
}

impl Stage {
    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Stage::Planned => "planned",
            Stage::Cut => "cut",
            Stage::Laid => "laid",
        }
    }
}

impl Job {
    /// How far a piece of a plan is, by what the log says.
    pub fn stage(&self, piece: &Piece) -> Stage {
        let place = |piece: &Piece| (piece.course, piece.side, piece.number);
        if self.laid.iter().any(|laid| place(laid) == place(piece)) {
            return Stage::Laid;
        }
        let strip = self.stock.strip(piece.strip);
        match strip.is_cut(piece.cut_from, piece.cut_to) {
            true => Stage::Cut,
            false => Stage::Planned,
        }
    }
}
