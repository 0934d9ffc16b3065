//! What `begin`, `mill` and `tags` say.

use super::paper::on;
use super::summary::plain_table;
use super::{CARE, HEAD, TellPath, head, many, styled, written};
use std::path::Path;
use twinstrake::job::{LabelStock, Saw};
use twinstrake::mill::{Board, Tally};
use twinstrake::paper::Labels;
use twinstrake::units::Length;

/// A job that was begun.
pub fn begun(dir: &Path, files: &[String]) -> String {
    let written = written(dir, files);
    let dir = dir.told();
    format!(
        "{written}\
         Put your sizes into boat.toml and your forms into the sheet of forms. Then:\n\
         \x20 twinstrake need {dir}    how much wood the boat takes\n\
         \x20 twinstrake mill {dir}    while you saw: what the rack holds, and which board to open next\n\
         \x20 twinstrake tags {dir}    tags for the strips as they leave the saw\n\
         \x20 twinstrake card {dir}    a card, to measure colours in photographs with twinstrake colours\n\
         \x20 twinstrake lay {dir}     the plan\n"
    )
}

/// There is a job already.
pub fn job_is_there(dir: &Path, files: &[String]) -> String {
    format!(
        "{} holds {} already, and nothing was written. Name a folder that is not there yet, or is empty.\n",
        dir.told(),
        files.join(", ")
    )
}

/// What the rack comes to.
pub fn milled(saw: &Saw, tally: &Tally, next: Option<&Board>, margin: f64) -> String {
    let mut text = head(&saw.lines.name);
    if !saw.boards.is_empty() {
        text += &format!("{}\n\n", boards(saw));
    }
    text += &format!(
        "{}\n{}\n",
        styled(HEAD, "The rack against the boat"),
        classes(saw, tally)
    );
    text += &format!(
        "Lengths are clear of defects{}, pairs are neighbours in a board.\n\
         {:.0} % is added for breakage and culls.\n",
        match saw.lines.rules.allow.end_trim {
            Length::ZERO => "",
            _ => " and of the ends of strips",
        },
        100.0 * margin
    );
    if tally.joined > 0 {
        text += &format!(
            "{} joined from shorter pairs.\n",
            many(tally.joined, "course is", "courses are")
        );
    }
    if tally.unmeasured > 0 {
        text += &format!(
            "{} no length yet, and {} not counted: write it into the sheet of boards.\n",
            many(tally.unmeasured, "strip has", "strips have"),
            if tally.unmeasured == 1 { "is" } else { "are" }
        );
    }
    text += &match (tally.short, next) {
        (0, _) => "\nThat is enough: every course has its wood. What really fits, twinstrake lay finds out.\n".into(),
        (short, Some(board)) => format!(
            "\n{} missing, with what breaks counted. {}\n",
            wood_for(short),
            styled(CARE, &format!("Open board {} next.", board.name))
        ),
        (short, None) => format!(
            "\n{} missing, with what breaks counted, and no board that is left would help.\n\
             The boat may come out without that reserve: twinstrake lay finds out. To be safe, write length and\n\
             width of a board that would help into the sheet of boards, or buy more: twinstrake need says what.\n",
            wood_for(short)
        ),
    };
    text
}

fn wood_for(courses: usize) -> String {
    format!(
        "Wood for {} is",
        many(courses, "more course", "more courses")
    )
}

fn boards(saw: &Saw) -> String {
    let (unit, thickness) = (saw.lines.unit, saw.lines.rules.thickness);
    let mut table = plain_table();
    table.set_header(["board", "length", "width", "gives", "sawn", "spoiled"]);
    for board in &saw.boards {
        let length =
            |length: Option<_>| length.map_or("not known".into(), |length| unit.wood(length));
        let gives = board
            .width
            .map(|width| saw.lines.mill.slices(width, thickness).to_string());
        let spoiled: Vec<String> = board.spoiled.iter().map(u32::to_string).collect();
        table.add_row([
            board.name.clone(),
            length(board.length),
            length(board.width),
            gives.unwrap_or("-".into()),
            board
                .slices
                .map_or("not yet".into(), |slices| slices.to_string()),
            spoiled.join(", "),
        ]);
    }
    table.trim_fmt()
}

fn classes(saw: &Saw, tally: &Tally) -> String {
    let unit = saw.lines.unit;
    let mut table = plain_table();
    table.set_header([
        "length up to",
        "pairs needed",
        "there",
        "singles needed",
        "there",
        "short",
    ]);
    for (upper, count) in &tally.classes {
        let some = |count: usize| {
            if count == 0 {
                "-".into()
            } else {
                count.to_string()
            }
        };
        table.add_row([
            unit.wood(*upper),
            some(count.pairs),
            some(count.pairs_there),
            some(count.singles),
            some(count.singles_there),
            some(count.short),
        ]);
    }
    table.trim_fmt()
}

/// Tags that are written, and how to use them.
pub fn tagged(dir: &Path, stock: &LabelStock, count: usize, pages: &Labels) -> String {
    let mut text = format!(
        "{}\n  {}: {}, {}\n",
        styled(HEAD, "Written"),
        dir.join("out/tags.pdf").told(),
        many(count, "tag", "tags"),
        on(stock, pages.pages.len())
    );
    if pages.without_code > 0 {
        text += &format!(
            "{} too small for a code that could be read.\n",
            many(pages.without_code, "tag is", "tags are")
        );
    }
    text += "Print at 100 %, not fitted to the page. Stick each on the high face, which looked to the next higher \
    number,\n\
             with its bar at the marked end: the arrow then points to edge A. Labels of pieces come later, beside the \
             tag and\n\
             not over it.\n";
    text
}

/// A board that is not in boards.csv.
pub fn no_such_board(name: &str, boards: &[Board]) -> String {
    let names: Vec<&str> = boards.iter().map(|board| board.name.as_str()).collect();
    let there = match names.as_slice() {
        [] => "there is none yet".into(),
        names => format!("there are {}", names.join(", ")),
    };
    format!(
        "--board \"{name}\" is not a board of boards.csv: {there}. Give it a row there; its length may come later.\n"
    )
}

/// No slice to tag.
pub fn nothing_to_tag(boards: &[String]) -> String {
    match boards {
        [] => "No board is sawn yet. Name one with --board to have its tags before it is sawn.\n".into(),
        _ => "It is not known how many slices it gives. Write its width into boards.csv, or say --slices 8.\n".into(),
    }
}
