//! The ruler along the boat, in the job's own unit.

use super::ink;
use super::scene::{Group, Item, Line, Outline, Set, Shape, Text};
use super::sheet::Sheet;
use crate::units::{Length, Unit, X};

/// Least distance between two figures. Unit: millimetre of paper.
const APART: f64 = 16.0;

/// The rulers above and below the drawing, with their figures away from it.
pub fn rulers(sheet: &Sheet, unit: Unit) -> [Item; 2] {
    let (top, bottom) = sheet.span;
    [(top - 4.0, -1.0), (bottom + 4.0, 1.0)].map(|(y, out)| ruler(sheet, unit, y, out))
}

/// A ruler at this height; `out` is down where it is 1, up where it is -1.
fn ruler(sheet: &Sheet, unit: Unit, y: f64, out: f64) -> Item {
    let line = Line::whole(ink::SOFT, 0.2);
    let (left, right) = sheet.sides();
    let mut items = vec![Shape::drawn(Outline::Straight((left, y), (right, y)), line)];
    let paper_per_unit = unit.nm() as f64 / 1e6 / sheet.scale().max(1e-9);
    let (step, parts) = step(unit, paper_per_unit);
    let first = (sheet.ends.0.nm() as f64 / unit.nm() as f64 * f64::from(parts) / step).ceil();
    let last = (sheet.ends.1.nm() as f64 / unit.nm() as f64 * f64::from(parts) / step).floor();
    for tick in first as i64..=last as i64 {
        let value = tick as f64 * step / f64::from(parts);
        let x = sheet.x(X::at(Length::from_nm((value * unit.nm() as f64) as i64)));
        let whole = tick % i64::from(parts) == 0;
        let long = if whole { 2.0 } else { 1.0 };
        items.push(Shape::drawn(
            Outline::Straight((x, y), (x, y + out * long)),
            line,
        ));
        if whole {
            let base = if out > 0.0 { y + 4.8 } else { y - 2.8 };
            let text = Text::new(format!("{value}"), (x, base), 2.4, ink::SOFT);
            items.push(text.set(Set::Middle).into());
        }
    }
    let base = if out > 0.0 { y + 4.8 } else { y - 2.8 };
    let named = format!("{} from the bow", unit.name());
    items.push(Text::new(named, (right + 6.0, base), 2.4, ink::SOFT).into());
    Item::Group(Group::of("ruler", items))
}

/// Distance between figures, and into how many parts it is divided.
fn step(unit: Unit, paper_per_unit: f64) -> (f64, u32) {
    let ladder: &[(f64, u32)] = match unit {
        Unit::Mm => &[(1.0, 10), (2.0, 4), (5.0, 5)],
        Unit::Inch => &[(6.0, 6), (12.0, 4), (24.0, 4), (60.0, 5)],
    };
    let mut by = 1.0;
    for _ in 0..12 {
        for (step, parts) in ladder {
            if step * by * paper_per_unit >= APART {
                return (step * by, *parts);
            }
        }
        by *= 10.0;
    }
    (by, 1)
}
