//! `mill`: what boards give, and whether the rack is enough.

use super::args::Mill;
use super::need::class;
use super::opened;
use super::say;
use super::status::{Ended, Status};
use twinstrake::mill::{open_next, tally};

pub fn run(typed: &Mill) -> Ended {
    let saw = opened::saw(&typed.dir)?;
    let lines = &saw.lines;
    let margin = typed.margin / 100.0;
    let (courses, rules) = (&lines.hull.courses, &lines.rules);
    let tally = tally(courses, rules, &saw.rack, margin, class(lines.unit));
    let next = open_next(courses, rules, &lines.mill, &saw.rack, &saw.boards, margin);
    let enough = Status::good_if(tally.short == 0);
    let said = say::milled(&saw, &tally, next, margin);
    Ok(say::last(&said, enough, "This could not be printed"))
}
