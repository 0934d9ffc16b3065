//! The three ways to write a colour.

use super::cell::Cell;
use super::found::Found;
use crate::units::Colour;
use crate::units::parse::{Decimal, number};

const MEND: &str = "Write #c4936a, three numbers L a b as 64.7 13.3 28.8, or a shade from 1 (darkest) to 9 (lightest).";

/// Reads `#rrggbb`, `L a b`, or a shade from 1 to 9.
pub(super) fn read(cell: &Cell<'_>, found: &mut Found) -> Option<Colour> {
    match colour(cell.text, cell.decimal) {
        Ok(colour) => Some(colour),
        Err(wrong) => cell.refuse(found, wrong, MEND),
    }
}

/// A colour as it is typed: `#rrggbb`, `L a b`, or a shade from 1 to 9.
///
/// Errors: what is wrong with it, to go behind "the colour".
pub fn typed_colour(text: &str) -> Result<Colour, &'static str> {
    colour(text, Decimal::Point)
}

fn colour(text: &str, decimal: Decimal) -> Result<Colour, &'static str> {
    if text.is_empty() {
        return Err("is empty");
    }
    if let Some(hex) = text.strip_prefix('#') {
        return srgb(hex)
            .map(Colour::srgb)
            .ok_or("is not six figures of colour");
    }
    let is_gap = |c: char| c.is_whitespace() || (c == ',' && decimal == Decimal::Point);
    let parts: Vec<&str> = text.split(is_gap).filter(|part| !part.is_empty()).collect();
    let numbers: Option<Vec<f64>> = parts
        .iter()
        .map(|part| number(part, decimal).ok())
        .collect();
    match numbers.as_deref() {
        Some([l, a, b]) => {
            if !(0.0..=100.0).contains(l) {
                Err("has an L outside 0 to 100")
            } else if a.abs() > 128.0 || b.abs() > 128.0 {
                Err("has an a or b outside -128 to 128")
            } else {
                Ok(Colour::lab(*l, *a, *b))
            }
        }
        Some([step]) => match step {
            1.0..=9.0 => Ok(Colour::between_shades(*step)),
            _ if srgb(text).is_some() => Err("has no # before it"),
            _ => Err("is not a shade from 1 to 9"),
        },
        _ if srgb(text).is_some() => Err("has no # before it"),
        _ => Err("is not a colour"),
    }
}

fn srgb(hex: &str) -> Option<[u8; 3]> {
    if hex.len() != 6 || !hex.bytes().all(|b| b.is_ascii_hexdigit()) {
        return None;
    }
    let all = u32::from_str_radix(hex, 16).ok()?;
    let [_, red, green, blue] = all.to_be_bytes();
    Some([red, green, blue])
}
