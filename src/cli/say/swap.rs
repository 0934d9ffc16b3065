//! What changing places by hand would do, and what came of it.

use super::TellPath as _;
use super::changes::moved_and_recut;
use super::cost::terms;
use super::courses::courses;
use super::{CARE, HEAD, by_part, head, styled};
use std::path::Path;
use twinstrake::check::Verdict;
use twinstrake::job::Job;
use twinstrake::plan::{Cost, Piece, Plan, Want};
use twinstrake::solve::{Spot, Unmoved};

/// A plan, and the same with places changed.
pub struct Swapped<'a> {
    pub dir: &'a Path,
    pub job: &'a Job,
    pub before: (&'a Plan, &'a Verdict),
    pub after: (&'a Plan, &'a Verdict),
}

/// Rules, cost, labels, and where the pictures are.
pub fn swapped(swapped: &Swapped<'_>) -> String {
    let (before, after) = (swapped.before.1, swapped.after.1);
    let mut text = match after.breaches.is_empty() {
        true => format!("{}\n\n", styled(HEAD, "Every rule is kept.")),
        false => {
            let lines =
                after
                    .breaches
                    .iter()
                    .map(|breach| match before.breaches.contains(breach) {
                        true => format!("  {breach} It does so already.\n"),
                        false => format!("  {breach}\n"),
                    });
            format!(
                "{}\n{}\n",
                styled(CARE, "This breaks a rule:"),
                lines.collect::<String>()
            )
        }
    };
    text += &head("The plan would be");
    let (a, b) = (before.cost, after.cost);
    let all = |cost: &Cost| terms(cost).into_iter().chain([("together", cost.total())]);
    for ((name, now), (_, then)) in all(&a).zip(all(&b)) {
        // What neither has is no news. Each is told as a part of the whole, so that they add up.
        if now != 0.0 || then != 0.0 {
            let by = by_part(a.total() + then - now, a.total());
            text += &format!("  {name:<24}{by:>16}\n");
        }
    }
    text += &format!("\n{}\n", styled(HEAD, "Labels that change"));
    for line in moved_and_recut(swapped.job, swapped.before.0, swapped.after.0) {
        text += &format!("  {line}\n");
    }
    text += &format!(
        "\nBefore and after: {}\n",
        swapped.dir.join("out/swap.svg").told()
    );
    text
}

/// What can be done with it.
pub fn not_kept(sound: bool) -> String {
    match sound {
        true => "The plan is as it was. --keep makes this the plan; --pin writes it into boat.toml as well.\n".into(),
        false => "The plan is as it was. A plan that breaks a rule can't be kept.\n".into(),
    }
}

pub fn breaks_a_rule() -> String {
    "A plan that breaks a rule can't be kept. Nothing was changed.\n".into()
}

pub fn pin_breaks_a_rule() -> String {
    "With these wants in boat.toml the plan would break a rule. Nothing was changed; --keep keeps it without \
    them.\n".into()
}

pub fn no_room_for_pins() -> String {
    "boat.toml can't be read any more. Nothing was changed; twinstrake check tells what is wrong.\n"
        .into()
}

/// It is the plan now.
pub fn kept(dir: &Path, number: u32, pins: &[Want]) -> String {
    let mut text = head(&format!("This is plan {number} now."));
    for Want { name, .. } in pins {
        text += &format!("boat.toml has the want \"{name}\": plans to come keep to it.\n");
    }
    text + &format!(
        "The plan before is kept: twinstrake swap {} --back\n",
        dir.told()
    )
}

pub fn took_back(number: u32, pins: &[String]) -> String {
    let mut text = head(&format!("Plan {number} is the plan again."));
    for name in pins {
        text += &format!("The want \"{name}\" is out of boat.toml again.\n");
    }
    text
}

pub fn no_plan_before() -> String {
    "There is no plan before this one in out/earlier. Nothing was changed.\n".into()
}

pub fn earlier_breaks_a_rule(number: u32) -> String {
    format!(
        "Plan {number} breaks a rule of the job as it is now. Nothing was changed. Where a want is in the way, take \
        it out of \
         boat.toml first.\n"
    )
}

/// A text that names nothing.
pub fn neither_place_nor_wood(job: &Job, text: &str) -> String {
    let panel = job
        .hull
        .panels
        .first()
        .map_or("topside", |panel| panel.name.as_str());
    format!(
        "\"{text}\" is no place on this boat and no strip in the rack. Write a course as \"{panel} 3\", a piece of it \
        as \
         \"{panel} 3.2\", a pair as D3+D4, a single strip as D3.\n"
    )
}

pub fn no_place_named() -> String {
    "Both are wood. Name a course or a piece for it, as \"topside 3\".\n".into()
}

/// Wood that lies elsewhere.
pub fn not_in_the_rack(job: &Job, piece: &Piece) -> String {
    format!(
        "Strip {} is planned for {}. Name that course, and the two change places.\n",
        job.stock.strip(piece.strip).name,
        courses(&job.hull, &[piece.course])
    )
}

/// Why places can't be changed.
pub fn unmoved(job: &Job, why: Unmoved) -> String {
    let place = |spot: Spot| {
        let course = courses(&job.hull, &[spot.course]);
        match spot.piece {
            Some(piece) => format!("{course}, piece {piece}"),
            None => course,
        }
    };
    match why {
        Unmoved::Bare(spot) => format!("Nothing lies on {}.\n", place(spot)),
        Unmoved::GluedOn(spot) => format!("{} is glued on already, and stays.\n", place(spot)),
        Unmoved::OtherSides(spot) => format!(
            "{} takes another number of strips: a course on the centreline takes one, every other two.\n",
            place(spot)
        ),
        Unmoved::Same => "Both are the same place.\n".into(),
    }
}
