//! What can be wrong with a photograph.

use super::card::Side;

/// Why nothing could be measured in a photograph.
#[derive(Clone, Copy, PartialEq, Debug, serde::Serialize, serde::Deserialize)]
pub enum Ill {
    /// Almost black.
    Dark,
    /// So bright that the white of the card is burnt out.
    Bright,
    /// No code can be read, and nothing in it is sharp.
    Blurred,
    /// No code of a card can be read.
    NoCard,
    /// Only the code on this side can be read.
    OneCode(Side),
    /// The card reaches over the edge of the picture; the code on this side can be read.
    CardCutOff(Side),
    /// More than one card.
    TwoCards,
    /// A card of another make than this program prints, or two codes that do not go together.
    OtherCard,
    /// The card stands on its head.
    UpsideDown,
    /// A module of the codes has fewer pixels than are needed.
    Far {
        /// Pixels a millimetre.
        per_mm: f64,
    },
    /// The codes do not lie where they should: the card is bent, or not all of it is seen.
    Bent,
    /// Edges of slices can't be seen at all.
    NoSlices,
    /// Another number of slices is seen than was named.
    Slices {
        /// As named.
        named: usize,
        /// As seen.
        seen: usize,
    },
    /// The slices run over the upper or lower edge of the picture.
    SlicesCutOff(Cut),
    /// The slices are wider or narrower than boat.toml says: most likely the card was not printed at its true size.
    OtherWidth {
        /// As boat.toml has it. Unit: mm.
        named: f64,
        /// As seen. Unit: mm.
        seen: f64,
    },
    /// No stretch of wood is seen that is long enough to be measured.
    NoWood,
}

/// Which edge of a picture.
#[derive(Clone, Copy, PartialEq, Eq, Debug, serde::Serialize, serde::Deserialize)]
pub enum Cut {
    /// The upper one.
    Top,
    /// The lower one.
    Foot,
}

/// What makes a stretch doubtful.
#[derive(Clone, Copy, PartialEq, Eq, Debug, serde::Serialize, serde::Deserialize)]
pub enum Doubt {
    /// Less than half of it is clear wood.
    LittleWood,
    /// The light slopes steeply here: what is measured is mostly light.
    SteepLight,
    /// Its colour is another than that of the slice near the card: it may be no wood, or no more of this slice.
    OtherColour,
    /// The wood ends elsewhere than the place of the card says.
    EndsElsewhere,
}
