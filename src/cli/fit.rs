//! `fit`: how many more passes of the plane.

use super::args::Fit;
use super::say;
use super::status::Ended;
use twinstrake::lines::Plane;

pub fn run(typed: &Fit) -> Ended {
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
            return Err(say::bad_input(&say::how_was_it_planed()));
        }
    };
    let forward = typed.forward;
    Ok(say::told(&say::passes(plane, forward.length, forward.unit)))
}
