//! The last course of a panel: whether it would be a sliver, and what makes it come out even.

use super::{Centre, PanelShape, Scantling, bands};
use crate::hull::{Kind, PanelId};

/// A last course narrower than this part of a strip everywhere is a sliver. Common practice, no source.
const SLIVER: f64 = 1.0 / 3.0;

/// A panel whose last course would be a sliver, and the remedies. Unit of all lengths: mm.
#[derive(Clone, PartialEq, Debug)]
pub struct Closing {
    /// The panel.
    pub panel: PanelId,
    /// The number of the sliver.
    pub number: u32,
    /// How wide it is at its widest.
    pub widest: f64,
    /// Strip widths with which the courses come out even at the widest form: one course fewer, and as many.
    pub even: [f64; 2],
    /// By how much to move the start line so that the sliver is gone (toward the stop line), and so that it becomes a
    /// whole course (away from it).
    pub shift: [f64; 2],
    /// How wide at the widest the sliver and the course before it are, where they share their width evenly: a pair
    /// that is tapered alike.
    pub pair: f64,
}

/// Whether the last mirrored course of a panel is a sliver at its widest; `None` where it is not, or where there is no
/// other to do without it.
pub fn closing(told: &PanelShape, strip: Scantling) -> Option<Closing> {
    let all = bands(told, strip.width, super::MOST);
    let mut mirrored = all.iter().filter(|band| band.kind == Kind::Mirrored).rev();
    let (last, before) = (mirrored.next()?, mirrored.next());
    before?;
    let places = told.girth.places().iter();
    let widest = places.map(|x| last.width(told, *x)).fold(0.0, f64::max);
    if widest >= SLIVER * strip.width {
        return None;
    }
    let whole = last.number - u32::from(told.centre == Centre::First) - 1;
    let half = if told.centre == Centre::None {
        0.0
    } else {
        0.5
    };
    let even = [whole, whole + 1].map(|count| told.girth.most() / (f64::from(count) + half));
    Some(Closing {
        panel: told.panel,
        number: last.number,
        widest,
        even,
        shift: [widest, strip.width - widest],
        pair: 0.5 * (strip.width + widest),
    })
}
