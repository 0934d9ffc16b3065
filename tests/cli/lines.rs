//! The commands that start from the forms: `courses`, `need`, `fit`.

use crate::folder::{Folder, Ran, ran, twinstrake};
use std::collections::BTreeMap;
use std::fs;

/// Two panels' worth of girths that can be worked out on paper: five courses of 20 mm over the whole 3 m, and a sixth
/// that grows from nothing at the bow to 5 mm at the stern.
const FORMS: &str = "\
form,from_bow,side
1,0,100
2,1500,102.5
3,3000,105
";

fn forms() -> Folder {
    let folder = Folder::small();
    for file in ["courses.csv", "strips.csv"] {
        fs::remove_file(folder.path().join(file)).unwrap();
    }
    let boat = folder.read("boat.toml").replace("width = 19", "width = 20");
    folder.write("boat.toml", &boat);
    folder.write("forms.csv", FORMS);
    folder
}

#[test]
fn courses_are_told_and_written_so_that_a_person_may_edit_them() {
    let folder = forms();
    let ran = folder.run("courses", &[]).ended(0);
    assert!(
        ran.stdout
            .contains("side: 6 courses, 36.0 m of strip on both sides"),
        "{}",
        ran.stdout
    );
    let out: BTreeMap<String, String> = folder
        .out()
        .into_iter()
        .map(|(name, bytes)| (name, String::from_utf8(bytes).unwrap()))
        .collect();
    let names: Vec<&str> = out.keys().map(String::as_str).collect();
    assert_eq!(names, ["bevels.csv", "courses.csv", "ends.csv"]);
    assert_eq!(
        out["courses.csv"].lines().nth(6),
        Some("side,6,mirrored,0.000,3000.000,3000.000,fitted,fitted")
    );
    // The sixth grows by 5 mm over the whole length: a straight edge from tip to stern.
    assert_eq!(
        out["ends.csv"],
        "panel,course,end,meets,point,from_tip,width,loose\n\
         side,6,bow,fitted,1,0.0,0.0,3000.0\n\
         side,6,bow,fitted,2,3000.0,5.0,3000.0\n"
    );
    // Edited, they count: the sixth is left out.
    let edited: Vec<&str> = out["courses.csv"].lines().take(6).collect();
    folder.write("courses.csv", &(edited.join("\n") + "\n"));
    let ran = folder.run("need", &[]).ended(0);
    assert!(
        ran.stdout.contains("5, 30 m of strip on the boat"),
        "{}",
        ran.stdout
    );
}

#[test]
fn a_sliver_is_told_before_strips_are_milled_with_what_mends_it() {
    let ran = forms().run("courses", &[]).ended(0);
    // 105 mm are five courses of 21 mm, or six of 17.5; 5 mm of the sixth are there, 15 are not; and 20 + 5 mm shared
    // evenly are 12.5 each.
    for words in [
        "course 6 of panel \"side\", its last, is a sliver: 5.0 mm at its widest",
        "strips that cover 21.0 mm (one course fewer) or 17.5 mm (as many)",
        "moved by 5.0 mm toward the stop line (no sliver), or by 15.0 mm away from it",
        "courses 5 and 6 as a pair that tapers alike: each 12.5 mm at its widest",
    ] {
        assert!(ran.stdout.contains(words), "{words}\n{}", ran.stdout);
    }
}

#[test]
fn a_strip_width_that_was_advised_comes_out_even() {
    let folder = forms();
    for (width, count) in [("21", 5), ("17.5", 6)] {
        let boat = folder.read("boat.toml");
        let old = boat
            .lines()
            .find(|line| line.starts_with("width"))
            .unwrap()
            .to_owned();
        folder.write(
            "boat.toml",
            &boat.replace(&old, &format!("width = {width}")),
        );
        let ran = folder.run("courses", &[]).ended(0);
        assert!(
            ran.stdout.contains(&format!("side: {count} courses")),
            "{}",
            ran.stdout
        );
        assert!(!ran.stdout.contains("sliver"), "{}", ran.stdout);
    }
}

#[test]
fn need_counts_boards_by_hand_reckoning() {
    let folder = forms();
    // Six courses of 3 m, 25 mm at each end: six pairs of 3050 mm. A board 100 mm wide gives slices of 6 mm and a kerf
    // of 3 between: (100 + 3) / 9 = 11, that is five pairs; six pairs with 50 % more are nine, so two boards.
    let asked = ["--board", "3100x100", "--kerf", "3", "--margin", "50"];
    let ran = folder.run("need", &asked).ended(0);
    let row = ran
        .stdout
        .lines()
        .find(|line| line.contains("3100 mm x 100 mm"))
        .unwrap();
    let cells: Vec<&str> = row.split_whitespace().collect();
    assert_eq!(cells[5..], ["2", "11", "9", "0", "0"], "{row}");
    // Of boards of 1.6 m every course takes two: 2·1600 − 48 of scarf = 3152 ≥ 3050, one joint each.
    let ran = folder
        .run(
            "need",
            &["--board", "1600x100", "--kerf", "3", "--margin", "0"],
        )
        .ended(0);
    let row = ran
        .stdout
        .lines()
        .find(|line| line.contains("1600 mm x 100 mm"))
        .unwrap();
    let cells: Vec<&str> = row.split_whitespace().collect();
    assert_eq!(cells[5..], ["3", "11", "12", "0", "6"], "{row}");
    assert!(folder.out()["need.csv"].starts_with(b"what,size,count,unit\n"));
}

#[test]
fn sizes_that_are_none_are_answered_with_the_mend() {
    let folder = forms();
    for (board, words) in [
        ("4200", "has no x in it. Write its length and its width"),
        ("150x4200", "is wider than long. Write the length first"),
        ("0x0", "has no size"),
        ("4200x15o", "\"15o\""),
    ] {
        let ran = folder.run("need", &["--board", board]).ended(2);
        assert!(ran.stderr.contains(words), "{}", ran.stderr);
    }
    assert!(!folder.path().join("out").exists());
}

#[test]
fn a_job_without_forms_is_told_what_to_write() {
    let ran = Folder::small().run("courses", &[]).ended(2);
    assert!(ran.stderr.contains("Write forms.csv"), "{}", ran.stderr);
}

fn fit(typed: &[&str]) -> Ran {
    ran(twinstrake().args(typed))
}

/// Check values: common practice, no source: on one taper six passes moved a strip about 1/2 in, three passes about 1/4
/// in.
#[test]
fn six_passes_move_an_end_half_an_inch_where_three_moved_it_a_quarter() {
    let ran = fit(&["fit", "1/2in", "--moved", "1/4in", "--passes", "3"]).ended(0);
    assert!(ran.stdout.starts_with("6 more passes"), "{}", ran.stdout);
    // 19 mm over 240 mm: a shaving of 0.1 mm lets it forward by 240/190 mm; 6 mm take 4.75 of them.
    let ran = fit(&["fit", "6", "--taper", "19x240", "--shaving", "0.1"]).ended(0);
    assert!(ran.stdout.starts_with("5 more passes"), "{}", ran.stdout);
    let ran = fit(&["fit", "6"]).ended(2);
    assert!(
        ran.stderr.contains("--passes 3 --moved 6mm"),
        "{}",
        ran.stderr
    );
    let ran = fit(&["fit", "0"]).ended(2);
    assert!(ran.stderr.contains("more than 0"), "{}", ran.stderr);
}
