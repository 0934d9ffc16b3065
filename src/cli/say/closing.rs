//! A last course that would be a sliver, and what to do about it.

use super::look_at_this;
use twinstrake::job::Lines;
use twinstrake::lines::Closing;

/// A sliver and its remedies, for every panel that ends in one.
pub fn closings(lines: &Lines, all: &[Closing]) -> String {
    all.iter().map(|closing| one(lines, closing)).collect()
}

fn one(lines: &Lines, closing: &Closing) -> String {
    let name = &lines.hull.panel(closing.panel).name;
    // A strip is milled by it, with a calliper.
    let fine = |mm: f64| format!("{} {}", lines.unit.gauge(mm), lines.unit.name());
    format!(
        "{} course {} of panel \"{name}\", its last, is a sliver: {} at its widest. Before strips are milled,\n\
         any one of these makes it come out:\n\
         \x20 strips that cover {} (one course fewer) or {} (as many)\n\
         \x20 the start line moved by {} toward the stop line (no sliver), or by {} away from it (a whole course)\n\
         \x20 courses {} and {} as a pair that tapers alike: each {} at its widest\n",
        look_at_this(),
        closing.number,
        fine(closing.widest),
        fine(closing.even[0]),
        fine(closing.even[1]),
        fine(closing.shift[0]),
        fine(closing.shift[1]),
        closing.number - 1,
        closing.number,
        fine(closing.pair),
    )
}
