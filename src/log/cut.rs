//! Cuts that were made: what was told of them, and what that means by the plan.

use super::event::Spot;
use crate::plan::{Piece, Plan};
use crate::stock::{Stock, Strip};
use crate::units::{Length, U};

/// A piece that was cut from its strip, or one end of it: exact, so that the log alone can tell it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Cut {
    /// The strip.
    pub strip: String,
    /// Where the piece begins, nearer the marked end; `None` where it is not cut there yet.
    pub from: Option<U>,
    /// Where it ends; `None` where it is not cut there yet.
    pub to: Option<U>,
    /// The place it was cut for, for whoever reads the log.
    pub spot: Option<Spot>,
}

/// What is said of cuts: which of those that the plan in force has were made, or where one was.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum ToldCut {
    /// Every piece of the plan that comes from a strip.
    Strip(String),
    /// The pieces of the plan at a place.
    Spot(Spot),
    /// A cut across a strip, as measured with a rule.
    Place(String, U),
}

/// A place told by the builder is that of the plan if no further from it: the cut list shows rounded figures. Unit:
/// length; 1 mm.
const NEAR: Length = Length::from_nm(1_000_000);

impl ToldCut {
    /// Whether a cut is one of those that are told.
    pub(super) fn means(&self, cut: &Cut) -> bool {
        match self {
            ToldCut::Strip(strip) => *strip == cut.strip,
            ToldCut::Spot(spot) => cut.spot.is_some_and(|at| spot.covers(&at)),
            ToldCut::Place(strip, at) => {
                let mut ends = cut.from.into_iter().chain(cut.to);
                *strip == cut.strip && ends.any(|end| (end - *at).abs() <= NEAR)
            }
        }
    }

    /// The cuts it means by the plan in force: those of its pieces that are neither laid nor cut yet. A place that
    /// the plan has no cut at is taken as it was told, as the end of what lies nearer the marked end.
    ///
    /// Gives nothing where the plan has nothing there, or all of it is cut.
    pub fn by(&self, plan: Option<&Plan>, stock: &Stock, laid: &[Piece]) -> Vec<Cut> {
        let strip_of = |piece: &Piece| stock.strip(piece.strip);
        let open = plan.iter().flat_map(|plan| &plan.pieces).filter(|piece| {
            let mut laid = laid.iter();
            laid.all(|other| Spot::of(other) != Spot::of(piece))
                && !strip_of(piece).is_cut(piece.cut_from, piece.cut_to)
        });
        match self {
            ToldCut::Strip(strip) => open
                .filter(|piece| strip_of(piece).name == *strip)
                .filter_map(|piece| whole(piece, strip_of(piece)))
                .collect(),
            ToldCut::Spot(spot) => open
                .filter(|piece| spot.covers(&Spot::of(piece)))
                .filter_map(|piece| whole(piece, strip_of(piece)))
                .collect(),
            ToldCut::Place(strip, at) => {
                let near = |place: &U| (*place - *at).abs() <= NEAR;
                let here: Vec<&Piece> = open
                    .filter(|piece| strip_of(piece).name == *strip)
                    .collect();
                let ends = here.iter().map(|piece| piece.cut_to).find(near);
                let begins = here.iter().map(|piece| piece.cut_from).find(near);
                let (from, to) = match (ends, begins) {
                    (Some(to), _) => (None, Some(to)),
                    (None, Some(from)) => (Some(from), None),
                    (None, None) => (None, Some(*at)),
                };
                let strip = strip.clone();
                vec![Cut {
                    strip,
                    from,
                    to,
                    spot: None,
                }]
            }
        }
    }
}

/// The cuts of a piece; `None` where it is as long as its strip.
fn whole(piece: &Piece, strip: &Strip) -> Option<Cut> {
    let inside = |at: U| (U::ORIGIN < at && at < U::at(strip.length)).then_some(at);
    let (from, to) = (inside(piece.cut_from), inside(piece.cut_to));
    (from.is_some() || to.is_some()).then(|| Cut {
        strip: strip.name.clone(),
        from,
        to,
        spot: Some(Spot::of(piece)),
    })
}
