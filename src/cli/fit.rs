//! `fit`: how many more passes of the plane.

use super::args::Fit;
use super::say;
use super::status::Status;
use twinstrake::lines::Plane;

pub(super) fn run(typed: &Fit) -> Status {
    let plane = match (&typed.seen, &typed.taper) {
        (Some(moved), _) => Plane::Seen {
            passes: f64::from(typed.passes),
            moved: moved.mm(),
        },
        (None, Some(taper)) => Plane::Shaving {
            narrows: taper.narrows.mm(),
            over: taper.over.mm(),
            shaving: typed.shaving.mm(),
        },
        (None, None) => {
            say::err(&say::how_was_it_planed());
            return Status::BadInput;
        }
    };
    say::told(&say::passes(
        plane,
        typed.forward.length,
        typed.forward.unit,
    ))
}
