//! The card that lies on the slices: two codes a known distance apart, greys, and room for a bought grey card.
//!
//! The same on every paper, so that cards from two printers can be told from one another by their greys alone.

/// Width and height of the card. Unit: mm.
pub const SIZE: (f64, f64) = (266.0, 66.0);
/// Side of a code without its blank edge: 25 modules of 1.8 mm, version 2. Unit: mm.
pub const SIDE: f64 = 45.0;
/// Modules along the side of a code. Source: ISO/IEC 18004, version 2.
pub const MODULES: usize = 25;
/// From the middle of one code to that of the other. Unit: mm.
pub const APART: f64 = 193.0;
/// The middle of the left code. Unit: mm.
pub const LEFT: (f64, f64) = (36.5, 33.0);
/// The room for a bought grey card: left, top, width, height. Unit: mm.
pub const GREY_CARD: [f64; 4] = [153.0, 8.0, 46.0, 50.0];
/// The scale: left, y and length. Unit: mm.
pub const SCALE: [f64; 3] = [68.0, 36.5, 80.0];

/// The greys of a ladder, from the bare paper down, as they are told to the printer. Unit: sRGB.
pub const GREYS: [u8; 9] = [255, 232, 209, 186, 163, 140, 115, 85, 45];
/// The grey of the patches at the ends of the card. Unit: sRGB.
pub const END_GREY: u8 = 186;
/// How light the bare paper is taken to be. Unit: L*. Common practice, no source: office paper has 93 to 97.
pub const PAPER: f64 = 95.0;

/// A patch of one grey.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Patch {
    /// Left, top, width, height. Unit: mm, frame of the card.
    pub area: [f64; 4],
    /// Unit: sRGB; 255 is the bare paper.
    pub grey: u8,
}

impl Patch {
    /// How much of the light it gives back, as the card says: the printer may have made something else of it.
    pub fn gives_back(&self) -> f64 {
        gives_back(self.grey)
    }
}

/// How much of the light a printed grey gives back.
pub fn gives_back(grey: u8) -> f64 {
    let paper = ((PAPER + 16.0) / 116.0).powi(3);
    paper * linear(f64::from(grey) / 255.0)
}

/// From sRGB, 0 to 1, to light. Source: IEC 61966-2-1.
pub(super) fn linear(value: f64) -> f64 {
    match value <= 0.04045 {
        true => value / 12.92,
        false => ((value + 0.055) / 1.055).powf(2.4),
    }
}

/// From light to sRGB, both 0 to 1. Source: IEC 61966-2-1.
pub(super) fn encoded(light: f64) -> f64 {
    match light <= 0.003_130_8 {
        true => light * 12.92,
        false => 1.055 * light.powf(1.0 / 2.4) - 0.055,
    }
}

/// The greys twice, the second time in reverse order: the same grey lies on opposite sides of the middle, so that
/// their mean has no slope of the light in it.
pub fn ladders() -> [[Patch; 9]; 2] {
    let row = |top: f64, reverse: bool| {
        std::array::from_fn(|n| Patch {
            area: [68.0 + 9.0 * n as f64, top, 9.0, 14.0],
            grey: GREYS[if reverse { 8 - n } else { n }],
        })
    };
    [row(16.0, false), row(41.0, true)]
}

/// The patches at the ends, which tell most of how the light slopes.
pub fn ends() -> [Patch; 4] {
    let patch = |left, top| Patch {
        area: [left, top, 5.0, 22.0],
        grey: END_GREY,
    };
    [
        patch(1.0, 6.0),
        patch(1.0, 38.0),
        patch(260.0, 6.0),
        patch(260.0, 38.0),
    ]
}

/// Which of the two codes.
#[derive(Clone, Copy, PartialEq, Eq, Debug, serde::Serialize, serde::Deserialize)]
pub enum Side {
    /// Toward the marked ends.
    Left,
    /// Away from them.
    Right,
}

/// The geometry of a card, as its codes say it: cards of another size are read as well.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Geometry {
    /// Side of a code. Unit: mm.
    pub side: f64,
    /// From middle to middle. Unit: mm.
    pub apart: f64,
}

/// What the code on this side says: whose card, which side, the side of a code and how far apart the two are, in
/// millimetres.
pub fn words(side: Side) -> String {
    let side = match side {
        Side::Left => 'L',
        Side::Right => 'R',
    };
    format!("TWINSTRAKE CARD {side} {SIDE} {APART}")
}

/// What a code says; `None` where it is none of a card.
pub fn understood(words: &str) -> Option<(Side, Geometry)> {
    let mut words = words.strip_prefix("TWINSTRAKE CARD ")?.split(' ');
    let side = match words.next()? {
        "L" => Side::Left,
        "R" => Side::Right,
        _ => return None,
    };
    let mut number = |least: f64, most: f64| -> Option<f64> {
        let value: f64 = words.next()?.parse().ok()?;
        (least..=most).contains(&value).then_some(value)
    };
    let (side_of_code, apart) = (number(10.0, 200.0)?, number(20.0, 1000.0)?);
    let geometry = Geometry {
        side: side_of_code,
        apart,
    };
    (words.next().is_none() && apart > side_of_code).then_some((side, geometry))
}

/// The corners of the code on a side: upper left, upper right, lower left, lower right. Frame of the card.
pub(super) fn corners(side: Side) -> [(f64, f64); 4] {
    let (left, top) = corner(side);
    [(0.0, 0.0), (SIDE, 0.0), (0.0, SIDE), (SIDE, SIDE)].map(|(x, y)| (left + x, top + y))
}

/// The upper left corner of the code on a side.
pub fn corner(side: Side) -> (f64, f64) {
    let x = match side {
        Side::Left => LEFT.0,
        Side::Right => LEFT.0 + APART,
    };
    (x - SIDE / 2.0, LEFT.1 - SIDE / 2.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_says_what_card_it_is_on_and_another_code_says_nothing() {
        let here = Geometry {
            side: SIDE,
            apart: APART,
        };
        assert_eq!(understood(&words(Side::Left)), Some((Side::Left, here)));
        assert_eq!(understood(&words(Side::Right)), Some((Side::Right, here)));
        for odd in [
            "D3",
            "TWINSTRAKE CARD",
            "TWINSTRAKE CARD X 45 193",
            "TWINSTRAKE CARD L nan 193",
            "TWINSTRAKE CARD L 45 1e9",
            "TWINSTRAKE CARD L 45 193 7",
            "TWINSTRAKE CARD L 45 30",
        ] {
            assert_eq!(understood(odd), None, "{odd}");
        }
    }

    #[test]
    fn nothing_on_the_card_lies_over_a_code_or_its_blank_edge() {
        let quiet = 4.0 * SIDE / MODULES as f64;
        let all = ladders()
            .into_iter()
            .flatten()
            .chain(ends())
            .map(|patch| patch.area);
        for [x, y, w, h] in all.chain([GREY_CARD]) {
            assert!(x >= 0.0 && y >= 0.0 && x + w <= SIZE.0 && y + h <= SIZE.1);
            for side in [Side::Left, Side::Right] {
                let (left, top) = corner(side);
                let beside = x + w <= left - quiet || x >= left + SIDE + quiet;
                assert!(beside || y + h <= top - quiet || y >= top + SIDE + quiet);
            }
        }
    }
}
