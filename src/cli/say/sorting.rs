//! What `sort` says.

use super::TellPath as _;
use super::{CARE, HEAD, head, look_at_this, many, styled};
use std::path::Path;
use twinstrake::job::Job;
use twinstrake::sorting::{Cull, Sorted, Why, ids};

/// Why a strip is of no use, and what would rescue it.
pub fn culled(job: &Job, cull: &Cull) -> (String, String) {
    let unit = job.unit;
    match &cull.why {
        Why::Narrow(by) => (
            format!("too narrow by {}", unit.rule(*by)),
            "Measure again; it would do for a boat of narrower strips".into(),
        ),
        Why::Thin(by) => (
            format!("too thin by {}", unit.rule(*by)),
            "Measure again; it would do for a boat of thinner strips".into(),
        ),
        Why::Short { long, least } => (
            format!(
                "too short: {}, where {} is the least",
                unit.shop(*long),
                unit.shop(*least)
            ),
            "Scarf it to another before planning, and write the two as one strip".into(),
        ),
        Why::Defects {
            clear,
            least,
            but_for,
        } => {
            let why = format!(
                "clear for {} only, where {} is the least",
                unit.shop(*clear),
                unit.shop(*least)
            );
            let rescue = match but_for {
                Some(defect) => format!(
                    "If what is at {} is sound after all, or can be let in, take it out of the sheet",
                    place(job, defect.from.from_origin(), defect.to.from_origin())
                ),
                None => "Cut the good lengths out and scarf them before planning".into(),
            };
            (why, rescue)
        }
    }
}

fn place(job: &Job, from: twinstrake::units::Length, to: twinstrake::units::Length) -> String {
    match from == to {
        true => job.unit.shop(from),
        false => format!("{} to {}", job.unit.shop(from), job.unit.shop(to)),
    }
}

/// Boards that are planned with and not sawn yet.
pub fn promised(boards: &[&str]) -> String {
    match boards {
        [] => String::new(),
        boards => format!(
            "{} planned with boards that are not sawn yet: {}. How many slices they give, how long, how clear and \
                 of what colour, is only\n\
             promised: cut nothing for a pair of which one is not sawn.\n",
            look_at_this(),
            boards.join(", ")
        ),
    }
}

/// The rack is put in order.
pub fn sorted(dir: &Path, job: &Job, sorted: &Sorted) -> String {
    let mut text = head(&job.name);
    for group in &sorted.groups {
        let pairs = group
            .places
            .iter()
            .filter(|place| place.1.is_some())
            .count();
        let wood = if group.wood.is_empty() {
            "wood not told"
        } else {
            &group.wood
        };
        let strips = group.places.iter().flat_map(|place| ids(*place)).count();
        text += &format!(
            "  {wood}, clear up to {}: {} and {}\n",
            job.unit.shop(group.class),
            many(pairs, "pair", "pairs"),
            many(strips - 2 * pairs, "single strip", "single strips")
        );
    }
    for cull in &sorted.culls {
        let (why, rescue) = culled(job, cull);
        let name = &job.stock.strip(cull.strip).name;
        text += &format!(
            "  {} {name}: {why}. {rescue}.\n",
            styled(CARE, "Of no use:")
        );
    }
    text + &format!(
        "{}\n  {}\n  {}: for the wall\n",
        styled(HEAD, "Written"),
        dir.join("out/rack.csv").told(),
        dir.join("out/rack.pdf").told()
    )
}

/// The stack is told.
pub fn stacked(dir: &Path, strips: usize) -> String {
    format!(
        "{}\n  {}\n  {}: {} from the top of the stack down; what is laid first lies on top\n",
        styled(HEAD, "Written"),
        dir.join("out/stack.csv").told(),
        dir.join("out/stack.pdf").told(),
        many(strips, "strip", "strips")
    )
}
