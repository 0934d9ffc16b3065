//! What leaves the computer for the bench: labels for the strips' ends, the laying sheet for the wall, the cut list
//! for the rack.
//!
//! Decides what stands where on which page, as scenes of [`crate::draw`]; it knows no file format, reads no file and
//! writes none. Everything is black on white, so that a copier, a thermal printer and an eye that can't tell red from
//! green lose nothing. `mark` is the side mark, `fitting` makes words fit, `facts` and `words` say of a piece what
//! labels, sheets and the screen say; `lying` and `strip` are drawings for that screen; `label` and `labels` are the
//! labels, `card` lies on strips when they are photographed, `places` says where on the page each goes, `sheet` has
//! the sheets. Start with `labels` and `sheet`.

mod card;
#[doc(hidden)]
pub mod facts;
mod fitting;
mod label;
mod labels;
mod lying;
mod mark;
mod names;
mod places;
mod qr;
mod sheet;
mod strip;
mod tags;
#[doc(hidden)]
pub mod words;

pub use card::card;
pub use fitting::Unfit;
pub use label::{Label, Tag};
pub use labels::{Labels, each_page, labels, of_plan, on_a_page};
#[doc(hidden)]
pub use lying::lying;
pub use names::names_unprintable;
pub use sheet::{Swatches, cut_list, laying_sheet, rack_sheet, stack_sheet, to_take_off};
#[doc(hidden)]
pub use strip::strip;
pub use tags::tags;

use crate::draw::scene::{Ink, Item, Line, Outline, Rect, Shape};
use crate::job::Bench;
use crate::stock::StripId;
use std::collections::BTreeSet;

const BLACK: Ink = Ink([0; 3]);
const WHITE: Ink = Ink([255; 3]);
/// For what should stay in the background; still read on a copy.
const GREY: Ink = Ink([90; 3]);
/// For lines that only guide the eye.
const PALE: Ink = Ink([170; 3]);

/// What is known about a plan besides its pieces.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct About {
    /// A short digest of the plan, on every sheet, so that sheets of two plans can't be mixed.
    pub digest: String,
    /// The date to print, as it was handed in; without one a line is left to write it on.
    pub date: Option<String>,
    /// Strips that nothing left in the rack could stand in for.
    pub no_spare: BTreeSet<StripId>,
    /// Whether only what is left to do is printed.
    pub to_do: bool,
    /// How the courses narrow, and what may gape.
    pub bench: Bench,
}

/// A box to tick, `size` high, with its upper left corner there; ticked where what it stands for is done.
fn tick_box((x, y): (f64, f64), size: f64, done: bool) -> Vec<Item> {
    let area = Rect::between(x, y, x + size, y + size);
    let mut items = vec![Shape::drawn(area.outline(), Line::whole(BLACK, 0.35))];
    if done {
        let at = |across: f64, down: f64| (x + across * size, y + down * size);
        let strokes = [
            (at(0.18, 0.5), at(0.42, 0.78)),
            (at(0.42, 0.78), at(0.85, 0.15)),
        ];
        items.extend(
            strokes.map(|(from, to)| {
                Shape::drawn(Outline::Straight(from, to), Line::whole(BLACK, 0.7))
            }),
        );
    }
    items
}
