//! Demands that can't be met together.

use super::courses::courses;
use super::eased::{demand, parted};
use super::{CARE, HEAD, styled};
use twinstrake::hull::CourseId;
use twinstrake::job::Job;
use twinstrake::units::Unit;
use twinstrake::why::{Clash, Clashes, Demand, Minimality, Proof};

/// Each smallest set of demands that clash; courses with the same rules together.
pub fn clashing(job: &Job, clashes: &Clashes) -> String {
    if clashes.possible.is_some() {
        return "A plan that covers every course turned up on the way. To find it, plan with another --seed, \
            or give it more --seconds.\n".into();
    }
    let mut text = format!(
        "{}\n",
        styled(
            CARE,
            "These demands can't all be met. Drop any one of a group, and its others can:"
        )
    );
    for group in &grouped(&clashes.sets) {
        text += &one(job, group);
    }
    if clashes.sets.is_empty() {
        text += "  none were found in the time there was\n";
    }
    text
}

/// Sets that differ in their one course only.
struct Group<'c> {
    clash: &'c Clash,
    rules: Vec<Demand>,
    courses: Vec<CourseId>,
    alternatives: bool,
}

fn grouped(sets: &[Clash]) -> Vec<Group<'_>> {
    let mut groups: Vec<Group<'_>> = Vec::new();
    for clash in sets {
        let (rules, ids) = parted(&clash.demands);
        let single = ids.len() == 1;
        let like = |group: &&mut Group<'_>| {
            single
                && (group.alternatives || group.courses.len() == 1)
                && group.rules == rules
                && same_kind(group.clash.proof, clash.proof)
                && group.clash.size == clash.size
        };
        match groups.iter_mut().find(like) {
            Some(group) => {
                group.courses.extend(ids);
                group.alternatives = true;
            }
            None => groups.push(Group {
                clash,
                rules,
                courses: ids,
                alternatives: false,
            }),
        }
    }
    groups
}

fn same_kind(one: Option<Proof>, other: Option<Proof>) -> bool {
    match (one, other) {
        (Some(Proof::Course(_)), Some(Proof::Course(_))) => true,
        (one, other) => one == other,
    }
}

fn one(job: &Job, group: &Group<'_>) -> String {
    let each = if group.alternatives {
        ", each by itself"
    } else {
        ""
    };
    let covered = format!("{} covered{each}", courses(&job.hull, &group.courses));
    let mut lines = vec![format!("  {}", styled(HEAD, &covered))];
    lines.extend(
        group
            .rules
            .iter()
            .map(|rule| format!("  + {}", demand(job, *rule))),
    );
    lines.push(format!("    {}", because(job.unit, group)));
    if group.clash.size == Minimality::Unknown {
        lines.push("    The group may be larger than it need be: the search was cut short.".into());
    }
    lines.join("\n") + "\n"
}

/// Of which wood, where a want says it.
fn wanted(group: &Group<'_>) -> &'static str {
    let of_want = |rule: &Demand| matches!(rule, Demand::Want(_));
    match group.rules.iter().any(of_want) {
        true => " of what is wanted",
        false => "",
    }
}

fn because(unit: Unit, group: &Group<'_>) -> String {
    match group.clash.proof {
        Some(Proof::Course(_)) if group.rules.is_empty() => {
            "Proven: no wood in the rack makes it, even were all of it there for this alone.".into()
        }
        Some(Proof::Course(_)) => "Proven, even were the whole rack there for this alone.".into(),
        Some(Proof::TooClose(..)) => {
            "Proven: each of these courses needs a joint, and their joints can't keep apart.".into()
        }
        Some(Proof::TooFewLong) => format!(
            "Proven: in one piece each, they take more long strips than there are{}.",
            wanted(group)
        ),
        Some(Proof::TooLittle(length)) => format!(
            "Proven: all clear wood together{} is {} too short.",
            wanted(group),
            unit.running(length)
        ),
        None => "Not proven: no plan was found that meets them all.".into(),
    }
}
