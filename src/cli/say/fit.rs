//! What the bench is told.

use twinstrake::lines::Plane;
use twinstrake::units::{Length, Unit};

/// Neither way of knowing was given.
pub fn how_was_it_planed() -> String {
    "Tell how the plane works on this end: --passes 3 --moved 6mm (what the last passes did), or --taper 19x240\n\
     --shaving 0.1 (how it narrows, and how thick a shaving is).\n"
        .into()
}

/// How many passes more.
pub fn passes(plane: Plane, forward: Length, unit: Unit) -> String {
    let all = plane.passes(forward.mm());
    let pass = Length::from_mm(plane.a_pass());
    let whole = all.round().max(0.0);
    let count = match whole as u64 {
        0 => "Less than one pass".to_owned(),
        1 => "1 more pass".to_owned(),
        n => format!("{n} more passes"),
    };
    let try_it = if all >= 2.5 {
        format!(
            "Take {}, try the end, and reckon again from what they did.\n",
            whole as u64 - 1
        )
    } else {
        "Take it slowly, and try the end after it.\n".to_owned()
    };
    format!(
        "{count} of the plane, full length and even: each moves the end forward by {}.\n{try_it}",
        unit.rule(pass)
    )
}
