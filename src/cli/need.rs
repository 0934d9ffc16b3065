//! `need`: how much wood, from the forms alone.

use super::args::Need;
use super::opened;
use super::planned::failed;
use super::say;
use super::status::Ended;
use twinstrake::job::Lines;
use twinstrake::lines::{BoardSize, NeedTerms, boards, need};
use twinstrake::out;
use twinstrake::units::parse::{self, Decimal};
use twinstrake::units::{Length, Unit};

pub fn run(typed: &Need) -> Ended {
    let lines = opened::lines(&typed.dir)?;
    let asked = asked(typed, &lines);
    let (asked, sizes) = asked.map_err(|wrong| say::bad_input(&format!("{wrong}\n")))?;
    say::err(&say::warnings(&lines.warnings));
    let courses = &lines.hull.courses;
    let all = need(courses, &lines.rules, &asked);
    let of_sizes: Vec<_> = sizes
        .into_iter()
        .map(|size| boards(courses, &lines.rules, &asked, size))
        .collect();
    let table = out::need_csv(&lines, &all, &of_sizes);
    let written = table.and_then(|bytes| out::write_need(&typed.dir, bytes));
    written.map_err(failed)?;
    Ok(say::told(&say::need(&say::Needed {
        dir: &typed.dir,
        lines: &lines,
        asked: &asked,
        need: &all,
        boards: &of_sizes,
        typed: &typed.board,
        closings: &lines.closings(),
    })))
}

/// What was typed, in the units of the job.
///
/// Errors: what is wrong with it.
fn asked(typed: &Need, lines: &Lines) -> Result<(NeedTerms, Vec<BoardSize>), String> {
    let kerf = match &typed.kerf {
        Some(text) => length("--kerf", text, lines.unit)?,
        None => lines.mill.kerf,
    };
    if kerf < Length::ZERO {
        return Err(format!(
            "--kerf \"{}\" is negative. Write 0 or more.",
            lines.unit.rule(kerf)
        ));
    }
    let sizes = typed.board.iter().map(|text| size(text, lines.unit));
    let asked = NeedTerms {
        margin: typed.margin / 100.0,
        kerf,
        planing: lines.mill.planing,
        class: class(lines.unit),
    };
    Ok((asked, sizes.collect::<Result<_, _>>()?))
}

/// Pairs are counted in classes of this length.
pub fn class(unit: Unit) -> Length {
    match unit {
        Unit::Mm => Length::from_mm(500.0),
        Unit::Inch => Length::from_mm(25.4 * 24.0),
    }
}

fn size(text: &str, unit: Unit) -> Result<BoardSize, String> {
    let Some((long, wide)) = text.split_once(['x', 'X', '×']) else {
        return Err(format!(
            "--board \"{text}\" has no x in it. Write its length and its width, as 4200x150 or \"14ft x 6in\"."
        ));
    };
    let size = BoardSize {
        length: length("--board", long, unit)?,
        width: length("--board", wide, unit)?,
    };
    if size.length <= Length::ZERO || size.width <= Length::ZERO {
        return Err(format!(
            "--board \"{text}\" has no size. Write more than 0 on both sides of the x."
        ));
    }
    if size.width > size.length {
        return Err(format!(
            "--board \"{text}\" is wider than long. Write the length first, then the width."
        ));
    }
    Ok(size)
}

fn length(option: &str, text: &str, unit: Unit) -> Result<Length, String> {
    let text = text.trim();
    parse::length(text, unit, Decimal::Point).map_err(|slip| {
        format!(
            "{option} \"{text}\" {slip}. {}",
            slip.mend_length(text, unit)
        )
    })
}
