//! Bad input and bad usage: status 2, every complaint on stderr, nothing written.

use crate::folder::{Folder, ran, twinstrake};
use crate::says::Says;

#[test]
fn a_folder_that_is_not_there_is_named() {
    for command in ["lay", "check"] {
        let ran = ran(twinstrake().args([command, "no-such-boat"])).ended(2);
        ran.stderr.begins("no-such-boat: there is no such folder.");
        assert_eq!(ran.stdout, "");
    }
    assert!(!std::path::Path::new("no-such-boat").exists());
}

#[test]
fn a_slip_in_a_sheet_is_told_with_its_place_and_mend_and_an_earlier_plan_stays() {
    let folder = Folder::laid();
    let before = folder.out();
    folder.change("strips.csv", "A2,A,2,3100", "A2,A,2,3.10.0");
    folder.change("strips.csv", "S1,,,2100,5", "S1,,,2100,blue");
    let ran = folder.lay().ended(2);
    let lines: Vec<&str> = ran.stderr.lines().collect();
    lines[0].is(
        "strips.csv, line 3, length: \"3.10.0\" has two decimal points. Write 3100, or 3.100 m.",
    );
    lines[1].begins("strips.csv, line 6, colour: \"blue\"");
    lines[3].is(
        "There are 2 things to mend before this boat can be planned. Nothing was written. Mend them, and try \
         again.",
    );
    assert_eq!(ran.stdout, "");
    assert_eq!(folder.out(), before);
}

#[test]
fn a_job_that_can_not_be_read_gets_no_out_folder() {
    let folder = Folder::small();
    folder.write("courses.csv", "");
    folder.lay().ended(2);
    assert!(!folder.has("out"));
}

#[test]
fn a_warning_is_told_on_stderr_and_stops_nothing() {
    let folder = Folder::small();
    folder.change("boat.toml", "slope = 8", "slope = 8\nslop = 3");
    let ran = folder.lay().ended(0);
    ran.stderr.begins("Look at this: boat.toml");
    ran.warns("slop");
}

#[test]
fn what_was_typed_wrong_is_told_before_anything_is_read() {
    let wrong: [&[&str]; 5] = [
        &["lay"],
        &["lay", "x", "--rounds", "some"],
        &["lay", "x", "--seconds", "-1"],
        &["lay", "x", "--threads", "0"],
        &["float", "x"],
    ];
    for typed in wrong {
        let ran = ran(twinstrake().args(typed)).ended(2);
        assert!(
            ran.stderr.starts_with("error:"),
            "{typed:?}: {}",
            ran.stderr
        );
    }
    ran(twinstrake().arg("--help")).ended(0);
}

#[test]
fn less_than_no_time_is_refused_as_a_time_and_not_as_a_switch() {
    let ran = ran(twinstrake().args(["lay", "x", "--seconds", "-1"])).ended(2);
    let mend = "write a number of seconds, as 30 or 2.5";
    ran.warns(mend);
}

#[test]
fn checking_without_a_plan_says_to_lay_first() {
    let ran = Folder::small().run("check", &[]).ended(2);
    ran.stderr
        .is("out/laying-order.csv: there is no plan yet. Lay the job first.\n");
}
