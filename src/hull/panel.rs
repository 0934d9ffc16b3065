//! A panel, and the sides of the boat.

/// A panel's place in [`super::Hull::panels`].
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct PanelId(pub usize);

/// Which way the courses of a panel run from the first to the last.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Toward {
    /// Down to the keel.
    Keel,
    /// Up and in, to the centreline of the deck.
    Deck,
}

/// Which side of a panel is laid when.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum LayOrder {
    /// Course by course on both sides, the side that goes first changing with every course.
    #[default]
    Alternate,
    /// All of port, then all of starboard.
    PortFirst,
    /// All of starboard, then all of port.
    StarboardFirst,
}

/// Where on the boat a piece is laid.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Side {
    /// Left, looking forward.
    Port,
    /// Right, looking forward.
    Starboard,
    /// On the centreline: a centre course has no sides.
    Centre,
}

impl Side {
    /// The word written in files.
    pub const fn name(self) -> &'static str {
        match self {
            Side::Port => "port",
            Side::Starboard => "starboard",
            Side::Centre => "centre",
        }
    }

    /// The letter marked on wood and on paper.
    pub const fn letter(self) -> &'static str {
        match self {
            Side::Port => "P",
            Side::Starboard => "S",
            Side::Centre => "C",
        }
    }

    /// The letter in its shape, in plain ASCII: `[P]` in a square, `/S\` in a triangle, `(C)` in a circle.
    ///
    /// Source of the shapes: IALA Maritime Buoyage System; the port-hand mark is a can, which looks square from the
    /// side, the starboard-hand mark a cone, in both of its regions. The circle is our own.
    pub const fn pencilled(self) -> &'static str {
        match self {
            Side::Port => "[P]",
            Side::Starboard => "/S\\",
            Side::Centre => "(C)",
        }
    }

    /// The side that mirrors it; a centre course mirrors itself.
    pub const fn across(self) -> Side {
        match self {
            Side::Port => Side::Starboard,
            Side::Starboard => Side::Port,
            Side::Centre => Side::Centre,
        }
    }
}

/// Which way the colour of a panel goes, from the start line on.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Shade {
    /// L* falls.
    Darker,
    /// L* rises.
    Lighter,
}

/// A panel whose colour is to go one way. Source: model, "Drift".
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Drift {
    /// The way that is wanted.
    pub shade: Shade,
    /// What each unit of L* in the wrong direction costs, ΔE00.
    pub against: f64,
}

/// A region planked between a start line and a stop line.
#[derive(Clone, PartialEq, Debug)]
pub struct Panel {
    /// Its name in the files.
    pub name: String,
    /// Which way its courses run.
    pub toward: Toward,
    /// How much its looks count; 1 is usual.
    pub look: f64,
    /// Which side is laid when.
    pub lay: LayOrder,
    /// Which way its colour is to go from course to course; `None` where it may go either way.
    pub drift: Option<Drift>,
}
