//! The log as a builder meets it: told, written by hand, torn, undone, and written to by two at once.

#![allow(clippy::unwrap_used, reason = "a test that can't go on stops")]

mod by_hand;
mod changed_boat;
mod cut;
mod edits;
#[cfg(unix)]
mod faults;
use crate::folder;
mod random;
mod told;
mod undo;
mod whole_boat;

use folder::{Folder, Ran, ran, twinstrake};
use std::sync::LazyLock;

/// Two pairs more than the small boat needs.
const SPARES: &str = "C1,C,1,3100,5\nC2,C,2,3100,5\nD1,D,1,3100,6\nD2,D,2,3100,6\n";

/// The small boat with two spare pairs, laid: once, and then copied.
fn laid() -> Folder {
    static LAID: LazyLock<Folder> = LazyLock::new(|| {
        let folder = Folder::small();
        let strips = folder.read("strips.csv");
        folder.write("strips.csv", &(strips + SPARES));
        folder.run("lay", &["--rounds", "1"]).ended(0);
        folder
    });
    LAID.copy()
}

/// The same with a want, an accent and a panel that is to go darker.
fn wanted() -> Folder {
    let folder = laid();
    let boat = folder.read("boat.toml");
    folder.write("boat.toml", &(boat + WISHES));
    folder.lay().ended(0);
    folder
}

const WISHES: &str = "shade = \"darker\"\nagainst = 0.7\n\n[[want]]\nname = \"line\"\npanel = \"side\"\ncourse = 1\n\
                      boards = [\"B\", \"C\", \"D\"]\naccent = 6\nkeep = false\n";

/// Tells the log of a folder something.
fn tell(folder: &Folder, words: &str) -> Ran {
    let words = words.split(' ');
    ran(twinstrake()
        .arg("log")
        .arg("--job")
        .arg(folder.path())
        .args(words))
}

/// Plans again, as a builder would: where the plan stands, nothing is searched.
fn again(folder: &Folder) -> Ran {
    folder.run("lay", &[])
}

/// Plans again in as little time as can be, whether the plan stands or not.
fn again_quickly(folder: &Folder) -> Ran {
    folder.run("lay", &["--rounds", "0"])
}

/// The row of the first piece of a course on a side, in the order of laying.
#[track_caller]
fn row(folder: &Folder, course: &str, side: &str) -> Vec<String> {
    let mut rows = rows(folder, "out/laying-order.csv").into_iter();
    rows.find(|row| row[2] == course && row[3] == side).unwrap()
}

/// The rows of a sheet of the folder, without the header, each split at its commas.
fn rows(folder: &Folder, file: &str) -> Vec<Vec<String>> {
    let text = folder.read(file);
    let fields = |line: &str| line.split(',').map(str::to_owned).collect();
    text.lines().skip(1).map(fields).collect()
}
