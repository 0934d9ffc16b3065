//! A strip as it lies in the rack, and which strips are its sisters.

use crate::units::{Colour, Length, U};

/// A strip's place in [`Stock::strips`].
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct StripId(pub usize);

/// A board's place in [`Stock::boards`].
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct BoardId(pub usize);

/// Where a strip came from: its board, and its place in the order in which the slices came off.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Origin {
    /// The board.
    pub board: BoardId,
    /// 1, 2, 3 … from the near edge going away.
    pub seq: u32,
}

/// A stretch of a strip that no piece may touch. A break or a check right across has both places the same.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Defect {
    /// Where it begins.
    pub from: U,
    /// Where it ends; never before `from`.
    pub to: U,
}

impl Defect {
    /// What of it lies on a strip of this length; `None` where nothing does.
    pub fn within(self, length: Length) -> Option<Defect> {
        let (from, to) = (self.from, self.to.min(U::at(length)));
        (from <= to).then_some(Defect { from, to })
    }

    /// Everything of a strip of this length that lies in none of some stretches: what is gone when only they are left.
    pub fn all_but(left: &[Defect], length: U) -> Vec<Defect> {
        let mut left = left.to_vec();
        left.sort_by_key(|stretch| stretch.from);
        let mut gone = Vec::new();
        let mut from = U::ORIGIN;
        for stretch in left {
            if from < stretch.from {
                let to = stretch.from;
                gone.push(Defect { from, to });
            }
            from = from.max(stretch.to);
        }
        if from < length {
            gone.push(Defect { from, to: length });
        }
        gone
    }
}

/// One sawn slice of a board.
#[derive(Clone, PartialEq, Debug)]
pub struct Strip {
    /// The name written on it. Unique in the stock.
    pub name: String,
    /// Board and seq; `None` for a stray.
    pub origin: Option<Origin>,
    /// From marked end to plain end.
    pub length: Length,
    /// Measured width, where given.
    pub width: Option<Length>,
    /// Measured thickness, where given.
    pub thickness: Option<Length>,
    /// Colour of the face, measured dry and planed, all strips alike.
    pub colour: Colour,
    /// The species, or any word of the builder's that wants may name; empty where none is given.
    pub wood: String,
    /// The builder's word for the figure: plays no part in planning.
    pub grain: String,
    /// The sister named in the inventory, where one is named. Always mutual, always of the same board.
    pub sister: Option<StripId>,
    /// Where no piece may be cut, in order along the strip and not overlapping.
    pub defects: Vec<Defect>,
    /// What the saw took where the strip is cut already, in order along it: a piece may begin and end there, but not
    /// lie across.
    pub kerfs: Vec<Defect>,
    /// The builder's notes.
    pub notes: String,
    /// Too narrow or too thin for the job: no piece may be cut from it.
    pub cull: bool,
    /// Its board is not sawn yet: what is known of it is only promised.
    pub promised: bool,
}

/// Everything in the rack.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Stock {
    /// The names of the boards, in the order of their names.
    pub boards: Vec<String>,
    /// All strips, in the order of their names, so that the order of rows in the inventory plays no part.
    pub strips: Vec<Strip>,
}

impl Strip {
    /// A strip of which nothing else is known: sound, whole, of the boat's width and thickness.
    pub fn plain(
        name: impl Into<String>,
        origin: Option<Origin>,
        length: Length,
        colour: Colour,
    ) -> Strip {
        Strip {
            name: name.into(),
            origin,
            length,
            width: None,
            thickness: None,
            colour,
            wood: String::new(),
            grain: String::new(),
            sister: None,
            defects: Vec::new(),
            kerfs: Vec::new(),
            notes: String::new(),
            cull: false,
            promised: false,
        }
    }

    /// Where no piece may be cut: its defects, and what the saw took; in order along the strip and not overlapping.
    pub fn gone(&self) -> Vec<Defect> {
        merged([self.defects.as_slice(), &self.kerfs].concat())
    }

    /// How much of it can still be used, all stretches together.
    pub fn clear(&self) -> Length {
        let gone: Length = self.gone().iter().map(|gone| gone.to - gone.from).sum();
        self.length - gone
    }

    /// Whether nothing is known to be wrong with it, and it is not cut yet.
    pub fn is_whole(&self) -> bool {
        !self.cull && self.gone().is_empty()
    }

    /// Whether a stretch of it lies clear of what is gone: it can be laid, or was cut for it.
    pub fn has(&self, from: U, to: U) -> bool {
        self.gone()
            .iter()
            .all(|gone| gone.to <= from || to <= gone.from)
    }

    /// Whether a stretch is cut out of it already: at each of its ends is a cut, or the end of the strip.
    pub fn is_cut(&self, from: U, to: U) -> bool {
        let begins = from <= U::ORIGIN || self.kerfs.iter().any(|kerf| kerf.to == from);
        let ends = to >= U::at(self.length) || self.kerfs.iter().any(|kerf| kerf.from == to);
        !self.kerfs.is_empty() && begins && ends
    }
}

impl Stock {
    /// The strip with this id.
    pub fn strip(&self, id: StripId) -> &Strip {
        &self.strips[id.0]
    }

    /// Every strip with its id.
    pub fn strips(&self) -> impl Iterator<Item = (StripId, &Strip)> {
        (0..).map(StripId).zip(&self.strips)
    }

    /// The strip of this name.
    pub fn named(&self, name: &str) -> Option<StripId> {
        let mut all = self.strips();
        all.find(|(_, strip)| strip.name == name).map(|(id, _)| id)
    }

    /// The boards that are planned with but not sawn yet, by name.
    pub fn promised(&self) -> Vec<&str> {
        let promised = self.strips.iter().filter(|strip| strip.promised);
        let mut boards: Vec<BoardId> = promised
            .filter_map(|strip| Some(strip.origin?.board))
            .collect();
        boards.sort();
        boards.dedup();
        boards
            .iter()
            .map(|board| self.boards[board.0].as_str())
            .collect()
    }

    /// How far apart two strips lay in one board: `None` where the boards differ or one strip is a stray.
    pub fn seq_apart(&self, one: StripId, other: StripId) -> Option<u32> {
        let (one, other) = (self.strip(one).origin?, self.strip(other).origin?);
        (one.board == other.board).then(|| one.seq.abs_diff(other.seq))
    }

    /// Whether two strips shared a saw cut: named as sisters, or neighbours in seq where neither names another.
    pub fn are_sisters(&self, one: StripId, other: StripId) -> bool {
        let named = (self.strip(one).sister, self.strip(other).sister);
        match named {
            (Some(of_one), _) => of_one == other,
            (None, Some(of_other)) => of_other == one,
            (None, None) => self.seq_apart(one, other) == Some(1),
        }
    }
}

/// Defects in order along the strip, those that overlap or touch made one.
pub fn merged(mut defects: Vec<Defect>) -> Vec<Defect> {
    defects.sort_by_key(|defect| (defect.from, defect.to));
    let mut all: Vec<Defect> = Vec::new();
    for defect in defects {
        match all.last_mut() {
            Some(last) if defect.from <= last.to => last.to = last.to.max(defect.to),
            _ => all.push(defect),
        }
    }
    all
}
