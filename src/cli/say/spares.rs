//! Which strips must not break.

use super::TellPath as _;
use super::courses::courses;
use super::summary::plain_table;
use super::{CARE, by_part, head, many, styled, written};
use std::path::Path;
use std::time::Duration;
use twinstrake::job::Job;
use twinstrake::out::{Proven, Spare};
use twinstrake::solve::{Care, Chance, Effect, Loss};

/// How many of those whose loss would show are named, the worst first.
const TOLD: usize = 12;

/// What was found out.
pub struct Found<'a> {
    pub job: &'a Job,
    pub losses: Vec<Loss>,
    /// The rows of the file, one for each loss.
    pub rows: Vec<Spare>,
    /// How many strips can be lost; as many as losses, but where it was ended early.
    pub strips: usize,
    /// What the eye meets of the plan in force. Unit: ΔE00·metre.
    pub looks: f64,
    pub chance: Chance,
    /// How likely each strip breaks.
    pub breaks: f64,
    /// Whether a hand ended it.
    pub by_hand: bool,
}

impl Found<'_> {
    /// Whether something is known of every strip.
    pub fn is_whole(&self) -> bool {
        self.losses.len() == self.strips
    }
}

/// How many strips have no spare, show when they are lost, or don't, as it looks at first.
pub fn rough_spares(losses: &[Loss], after: Duration) -> String {
    let of = |effect: Effect| losses.iter().filter(|loss| loss.effect == effect).count();
    let told = [
        (of(Effect::NoSpare), "may have no spare"),
        (of(Effect::Worse), "would be missed in looks"),
        (of(Effect::None), "would not"),
    ];
    let told = told.iter().filter(|(count, _)| *count > 0);
    let told: Vec<String> = told.map(|(n, what)| format!("{n} {what}")).collect();
    format!(
        "Roughly, after {:.1} s: of {} {}. Each is looked into now; Ctrl-C takes what is known by then.\n",
        after.as_secs_f64(),
        many(losses.len(), "strip", "strips"),
        super::listed(&told)
    )
}

/// What is tried at this moment.
pub fn drawing_lots(samples: u32) -> String {
    format!("what breaks by chance, {samples} times")
}

/// The same.
pub fn losing(done: usize, of: usize) -> String {
    format!("the boat without one strip: {done} of {of} done")
}

/// The strips without a spare, those whose loss would show, the others, and the chance that the boat closes.
pub fn spares(dir: &Path, found: &Found<'_>) -> String {
    let of = |effect: Effect| -> Vec<&Loss> {
        let all = found.losses.iter();
        all.filter(|loss| loss.effect == effect).collect()
    };
    let (critical, mut worse, none) = (of(Effect::NoSpare), of(Effect::Worse), of(Effect::None));
    worse.sort_by(|a, b| b.worse.total_cmp(&a.worse));
    let mut text = ended_early(found);
    if !critical.is_empty() {
        let head = format!("No spare for {}:", many(critical.len(), "strip", "strips"));
        text += &format!("{}\n", styled(CARE, &head));
        text += "If one of these is lost, no way was found to cover the course named beside it.\n";
        text += &table(found, &critical);
        text += &proven(found, critical.len());
    }
    if !worse.is_empty() {
        text += &head("Looks worse without");
        text += &table(found, &worse[..worse.len().min(TOLD)]);
        if worse.len() > TOLD {
            let more = worse.len() - TOLD;
            text += &format!("  and {more} more, less so; out/spares.csv has them all\n");
        }
    }
    if !none.is_empty() {
        let names = none.iter().map(|loss| name(found.job, loss));
        text += &head("Can be lost, and the boat looks as good");
        text += &format!("  {}\n", names.collect::<Vec<_>>().join(" "));
    }
    if found.strips == 0 {
        text += "Everything is cut and laid: there is nothing left to lose.\n";
        return text + &next(dir, found, 0);
    }
    text + "\n" + &chance(found) + &next(dir, found, critical.len())
}

/// That not every strip was looked into in full, where that is so.
fn ended_early(found: &Found<'_>) -> String {
    let short = |loss: &&Loss| loss.care == Care::Short;
    let short = found.losses.iter().filter(short).count();
    let left = found.strips - found.losses.len();
    if short + left == 0 {
        return String::new();
    }
    let why = match found.by_hand {
        true => "Stopped by hand",
        false => "The time was up",
    };
    let head = format!(
        "{why}: {} of {} looked into.",
        found.strips - short - left,
        many(found.strips, "strip", "strips")
    );
    let short = match short {
        0 => String::new(),
        n => format!("Of {n} the first way that was found is told; there may be a better one.\n"),
    };
    let left = match left {
        0 => String::new(),
        n => format!("Of {n} nothing is known.\n"),
    };
    format!("{}\n{short}{left}", styled(CARE, &head))
}

/// For how many of those without a spare that is proven.
fn proven(found: &Found<'_>, critical: usize) -> String {
    let yes = found
        .rows
        .iter()
        .filter(|row| row.proven == Some(Proven::Yes))
        .count();
    match yes {
        0 => "That is not proven.\n".into(),
        all if all == critical => "That is proven: there is no way without them.\n".into(),
        some => format!("That is proven for {some} of them: there is no way without those.\n"),
    }
}

fn name<'j>(job: &'j Job, loss: &Loss) -> &'j str {
    &job.stock.strip(loss.strip).name
}

fn table(found: &Found<'_>, losses: &[&Loss]) -> String {
    let (job, mut table) = (found.job, plain_table());
    for loss in losses {
        let worse = match loss.effect {
            Effect::NoSpare => format!("{} open", courses(&job.hull, &loss.open)),
            _ => by_part(found.looks + loss.worse, found.looks),
        };
        let names: Vec<&str> = loss
            .replacement
            .iter()
            .map(|id| job.stock.strip(*id).name.as_str())
            .collect();
        let with = match names.as_slice() {
            [] => "from what is in use".to_owned(),
            names => format!("with {}", names.join(" ")),
        };
        let labels = many(loss.labels, "label", "labels");
        let with = if loss.effect == Effect::NoSpare {
            String::new()
        } else {
            format!("{with}, {labels} to print")
        };
        table.add_row([name(job, loss), &worse, &with]);
    }
    format!("{}\n", table.trim_fmt())
}

fn chance(found: &Found<'_>) -> String {
    let Chance {
        closes,
        error,
        samples,
    } = found.chance;
    if samples == 0 {
        return "How likely the boat still closes was not worked out.\n".into();
    }
    format!(
        "If each strip breaks with a chance of {:.1} % before it is laid, and is lost then, every course can still be\n\
         covered with a chance of {:.1} % (give or take {:.1} %; tried {samples} times).\n",
        100.0 * found.breaks,
        100.0 * closes,
        100.0 * error
    )
}

fn next(dir: &Path, found: &Found<'_>, critical: usize) -> String {
    let care = match critical {
        0 => "",
        _ => "Handle those without a spare last and with care, or mill more before you begin.\n",
    };
    let file = "out/spares.csv";
    match found.is_whole() {
        true => care.to_owned() + &written(dir, [file]),
        false => format!(
            "{care}{} was not written, since too little is known.\n",
            dir.join(file).told()
        ),
    }
}

/// The plan in force is none to ask this of.
pub fn no_plan_to_lose(dir: &Path) -> String {
    let dir = dir.told();
    format!(
        "The plan on the disk breaks a rule as things are now, so it can't be said what a lost strip would do to it.\n\
         First plan again: twinstrake lay {dir}\n\
         Which rule it breaks: twinstrake check {dir}\n"
    )
}
