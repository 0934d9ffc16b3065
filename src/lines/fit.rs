//! At the bench: how many more passes of the plane until a tapered end has moved home.

/// How the plane has been moving the end.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Plane {
    /// From the taper and the shaving: an edge that loses a shaving all along lets a taper move forward by the
    /// shaving's thickness over its slope. Unit: mm.
    Shaving {
        /// By how much the end narrows.
        narrows: f64,
        /// Over which length.
        over: f64,
        /// How thick a shaving is.
        shaving: f64,
    },
    /// From how far the last passes moved it. Unit of the distance: mm.
    Seen {
        /// So many passes.
        passes: f64,
        /// Moved it so far.
        moved: f64,
    },
}

impl Plane {
    /// How far one pass moves the end forward. Unit: mm.
    pub fn a_pass(self) -> f64 {
        match self {
            Plane::Shaving {
                narrows,
                over,
                shaving,
            } => shaving * over / narrows,
            Plane::Seen { passes, moved } => moved / passes,
        }
    }

    /// How many passes move it forward by a distance, in parts of a pass: whoever planes stops one short of it and
    /// tries. Unit: mm.
    pub fn passes(self, forward: f64) -> f64 {
        forward / self.a_pass()
    }
}
