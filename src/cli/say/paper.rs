//! What `labels` and `sheets` say.

use super::TellPath as _;
use super::{HEAD, head, look_at_this, many, styled};
use crate::cli::labels::Made;
use std::path::Path;
use twinstrake::job::LabelStock;
use twinstrake::job::stationery::NotPaper;
use twinstrake::out::PrintedLabel;
use twinstrake::paper::{About, Unfit};

/// A line for each strip.
fn by_strip(labels: &[PrintedLabel]) -> String {
    let mut strips: Vec<(&str, Vec<&str>)> = Vec::new();
    for label in labels {
        match strips.iter_mut().find(|(strip, _)| *strip == label.strip) {
            Some((_, marks)) => marks.push(&label.mark),
            None => strips.push((&label.strip, vec![&label.mark])),
        }
    }
    let line = |(strip, marks): &(&str, Vec<&str>)| format!("  {strip}: {}\n", marks.join(", "));
    strips.iter().map(line).collect()
}

/// Where the labels are, and how to use them.
pub fn printed(dir: &Path, printed: &Made) -> String {
    let file = dir.join("out/labels.pdf");
    let labels = many(printed.count, "label", "labels");
    let of = match printed.changed {
        true => format!(
            " of {}: the others are as they were printed last",
            printed.all
        ),
        false => String::new(),
    };
    let mut text = head("Written");
    text += &match printed.count {
        0 => "  No label to print: those on the wood are right, but for those to take off\n"
            .to_owned(),
        _ => format!(
            "  {}: {labels}{of}, {}\n",
            file.told(),
            on(&printed.stock, printed.pages)
        ),
    };
    text += &to_take_off(dir, printed);
    if printed.without_code > 0 {
        text += &format!(
            "{} too small for a code that could be read, and {} printed without.\n",
            many(printed.without_code, "label is", "labels are"),
            if printed.without_code == 1 {
                "is"
            } else {
                "are"
            }
        );
    }
    text += "Print at 100 %, not fitted to the page. Try one sheet on plain paper first, held against the labels.\n";
    text += match printed.stock {
        LabelStock::Flags(_) => {
            "Cut along the lines and fold round the end of the strip, bar and arrow on the face that will be outside.\n"
        }
        _ => {
            "Stick each on the face that will be outside, its bar toward the end of the strip: the arrow then points \
            to\n\
             the edge that the next course is glued to.\n"
        }
    };
    text
}

/// The labels that have to come off, one by one only where it was asked what has changed: whoever prints all of them
/// may never have put the others on.
fn to_take_off(dir: &Path, printed: &Made) -> String {
    if printed.gone.is_empty() {
        return String::new();
    }
    let list = match printed.changed {
        true => format!(
            "{}\n{}",
            styled(HEAD, "Take these labels off"),
            by_strip(&printed.gone)
        ),
        false => String::new(),
    };
    // The page at the bench has a button for it, and no folder to type.
    let how = match dir.as_os_str().is_empty() {
        true => ".".into(),
        false => format!(": twinstrake labels {} --taken-off", dir.told()),
    };
    format!(
        "  {}: the {} printed earlier to take off, a box for each\n{list}\
         They stay on that list until you say that they are off, or never were on{how}\n",
        dir.join("out/labels-to-take-off.pdf").told(),
        many(printed.gone.len(), "label", "labels"),
    )
}

/// That labels are off.
pub fn taken_off(count: usize) -> String {
    match count {
        0 => "There was no label to take off. Nothing was changed.\n".into(),
        _ => format!(
            "Noted: {} off. Every label on the wood is right.\n",
            many(count, "label is", "labels are")
        ),
    }
}

/// On what, and how many sheets of it.
pub fn on(stock: &LabelStock, pages: usize) -> String {
    match stock {
        LabelStock::Sheet(grid) => format!(
            "on {} of {} x {}",
            many(pages, "sheet", "sheets"),
            grid.columns,
            grid.rows
        ),
        LabelStock::Tape { width, .. } => format!("on tape of {} mm", width.mm()),
        LabelStock::Flags(_) => format!(
            "as flags on {} of plain paper",
            many(pages, "sheet", "sheets")
        ),
    }
}

/// Where the sheets are.
pub fn sheets(dir: &Path, laying: usize, cuts: usize, about: &About) -> String {
    let file = |name: &str| dir.join("out").join(name).told();
    format!(
        "{}\n  {}: {}, for the wall\n  {}: {}, for the rack\n\
         Both are of plan {}: it stands at the foot of every page. Sheets with another do not belong to them.\n",
        styled(HEAD, "Written"),
        file("laying-sheet.pdf"),
        many(laying, "page", "pages"),
        file("cut-list.pdf"),
        many(cuts, "page", "pages"),
        about.digest
    )
}

/// Nothing differs from the labels printed last.
pub fn nothing_changed() -> String {
    "Nothing has changed since the labels were printed last. To print them all again, leave out --changed.\n".into()
}

/// A plan without a piece.
pub fn nothing_to_print(dir: &Path) -> String {
    format!(
        "There is no piece in the plan to print a label for. Lay the job first: twinstrake lay {}\n",
        dir.told()
    )
}

/// out/labels-printed.csv is not what we wrote.
pub fn not_printed_before(why: &str) -> String {
    format!(
        "out/labels-printed.csv can't be understood: {why}. Print all labels anew: leave out --changed.\n"
    )
}

/// Words on the command line that are no paper.
pub fn not_paper(text: &str, slip: &NotPaper) -> String {
    format!("\"{text}\" {}. {}\n", slip.wrong, slip.mend)
}

/// A label to begin at that the sheet does not have.
pub fn past_the_sheet(from: usize, many: usize) -> String {
    format!(
        "--from {from}: a sheet has {many} labels. Count them row by row, from the upper left.\n"
    )
}

/// Words that have no room, each on a line of its own.
pub fn unfit(all: &[Unfit]) -> String {
    let line = |unfit: &Unfit| match unfit {
        Unfit::Unprintable(c, words) => format!(
            "\"{words}\" has \"{}\" in it, which can't be printed. Latin, Greek and Cyrillic letters, figures and \
            common signs can.\n",
            c.escape_debug()
        ),
        Unfit::Name(name) => format!(
            "\"{name}\" does not fit at a size that can be read. Take larger labels (--sheet), or a shorter name.\n"
        ),
        Unfit::Label => {
            "The labels are too small for what a label says. Take larger ones (--sheet or \
        --tape).\n"
                .into()
        }
    };
    all.iter().map(line).collect::<String>() + "Nothing was written.\n"
}

/// The plan breaks a rule.
pub fn unsound(dir: &Path) -> String {
    format!(
        "{} the plan breaks a rule. Before you cut by it: twinstrake check {}\n",
        look_at_this(),
        dir.told()
    )
}
