//! What `need` says.

use super::closing::closings;
use super::summary::{plain_table, to_the_right};
use super::{HEAD, many, styled, written};
use std::path::Path;
use twinstrake::job::Lines;
use twinstrake::lines::{Boards, Closing, Need, NeedTerms, area};
use twinstrake::out;
use twinstrake::units::{Length, Unit};

/// Everything that `need` found.
pub struct Needed<'a> {
    /// The job folder, as typed.
    pub dir: &'a Path,
    pub lines: &'a Lines,
    pub asked: &'a NeedTerms,
    pub need: &'a Need,
    pub boards: &'a [Boards],
    /// The sizes of those boards as they were typed.
    pub typed: &'a [String],
    pub closings: &'a [Closing],
}

/// The table to take to the yard.
pub fn need(needed: &Needed<'_>) -> String {
    let lines = needed.lines;
    let mut text = format!("{}\n{}\n", styled(HEAD, &lines.name), running(needed));
    text += &format!(
        "\n{}\n{}\n",
        styled(HEAD, "Courses in one piece, ends included"),
        classes(needed)
    );
    if needed.boards.is_empty() {
        text += "\nGive the boards on sale with --board (length x width, as 4200x150) to have them counted.\n";
    } else {
        text += &format!("\n{}\n{}\n", styled(HEAD, "Boards"), boards(needed));
    }
    let slivers = closings(lines, needed.closings);
    if !slivers.is_empty() {
        text += &format!("\n{slivers}");
    }
    text + &format!(
        "\n{}\
         A reckoning to buy by: what really fits shows when the strips are sawn, measured and laid (twinstrake lay).\n",
        written(needed.dir, [out::NEED_FILE])
    )
}

fn running(needed: &Needed<'_>) -> String {
    let lines = needed.lines;
    let mut table = plain_table();
    table.add_row([
        "Strip",
        &format!(
            "covers {}{} and is {} thick",
            lines.unit.shop(lines.rules.width),
            match lines.overlap {
                Length::ZERO => String::new(),
                overlap => format!(
                    ", is milled {} wide for the bead",
                    lines.unit.rule(lines.rules.width + overlap)
                ),
            },
            lines.unit.shop(lines.rules.thickness)
        ),
    ]);
    table.add_row([
        "Courses",
        &format!(
            "{}, {} of strip on the boat",
            lines.hull.courses.len(),
            lines.unit.running(needed.need.net)
        ),
    ]);
    table.add_row([
        "With ends",
        &format!(
            "{} with the allowances{}",
            lines.unit.running(needed.need.with_ends),
            match lines.rules.allow.end_trim {
                Length::ZERO => String::new(),
                trim => format!(
                    ", and {} left at each end of a strip",
                    lines.unit.shop(trim)
                ),
            }
        ),
    ]);
    let skin: Option<f64> = lines.told.iter().map(area).sum();
    if let Some(skin) = skin.filter(|skin| *skin > 0.0) {
        // Both sides.
        table.add_row(["Skin", &square(lines.unit, 2.0 * skin)]);
    }
    table.trim_fmt()
}

fn classes(needed: &Needed<'_>) -> String {
    let unit = needed.lines.unit;
    let mut table = plain_table();
    table.set_header(["length", "pairs", "single strips"]);
    for (upper, (pairs, singles)) in &needed.need.classes {
        let lower = *upper - needed.asked.class;
        table.add_row([
            format!("{} to {}", unit.wood(lower), unit.wood(*upper)),
            count(*pairs),
            count(*singles),
        ]);
    }
    to_the_right(&mut table, 1..=2);
    table.trim_fmt()
}

fn boards(needed: &Needed<'_>) -> String {
    let unit = needed.lines.unit;
    let mut table = plain_table();
    table.set_header([
        "if all are",
        "boards",
        "slices each",
        "pairs to saw",
        "single strips",
        "joints",
    ]);
    for (of_size, typed) in needed.boards.iter().zip(needed.typed) {
        let boards = match of_size.boards {
            Some(boards) => boards.to_string(),
            None => "too narrow".into(),
        };
        table.add_row([
            typed.trim().to_owned(),
            boards,
            of_size.slices.to_string(),
            of_size.pairs.to_string(),
            of_size.singles.to_string(),
            of_size.joints.to_string(),
        ]);
    }
    to_the_right(&mut table, 1..=5);
    let mut text = format!(
        "{}\n{:.0} % is added for breakage and culls; a saw cut takes {}{}.\n\
         Boards are as thick as a strip is milled wide, {}, and a pair comes from one board.\n",
        table.trim_fmt(),
        100.0 * needed.asked.margin,
        unit.rule(needed.asked.kerf),
        match needed.asked.planing {
            Length::ZERO => String::new(),
            planing => format!(", planing a slice {}", unit.rule(planing)),
        },
        unit.rule(needed.lines.rules.width + needed.lines.overlap),
    );
    let all = needed.boards.iter().zip(needed.typed);
    for (of_size, typed) in all.filter(|(of_size, _)| of_size.over_jointed > 0) {
        text += &format!(
            "In boards of {} {} more than the {} that boat.toml allows.\n",
            typed.trim(),
            many(
                of_size.over_jointed,
                "course would need joints,",
                "courses would need joints,"
            ),
            needed.lines.rules.joints.most,
        );
    }
    text.trim_end().to_owned()
}

fn count(count: usize) -> String {
    match count {
        0 => "-".into(),
        n => n.to_string(),
    }
}

/// Square metres, or square feet. Unit of the argument: mm².
fn square(unit: Unit, area: f64) -> String {
    match unit {
        Unit::Mm => format!("{:.1} square metres on both sides", area / 1e6),
        Unit::Inch => format!("{:.0} square feet on both sides", area / 304.8 / 304.8),
    }
}
