//! Ctrl-C, and what else may come while a plan is made.
#![cfg(unix)]

use crate::folder::Folder;
use crate::says::Says;
use std::fs::File;
use std::io::{BufRead, BufReader, Read};
use std::process::{Child, ChildStderr, Command, Stdio};
use std::thread::sleep;
use std::time::Duration;

/// A child that lays the folder, minds Ctrl-C by now and has read all files: it has told what is odd in boat.toml.
fn laying(folder: &Folder, limit: [&str; 2]) -> (Child, BufReader<ChildStderr>) {
    let odd = folder
        .read("boat.toml")
        .replacen("[joint]", "[joint]\nodd = 1", 1);
    folder.write("boat.toml", &odd);
    let mut child = Command::new(env!("CARGO_BIN_EXE_twinstrake"))
        .arg("lay")
        .arg(folder.path())
        .args(limit)
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut told = BufReader::new(child.stderr.take().unwrap());
    let mut line = String::new();
    told.read_line(&mut line).unwrap();
    line.begins("Look at this: boat.toml");
    (child, told)
}

/// A log in which nothing stands, locked by us: whoever has found a plan waits for it.
fn locked_log(folder: &Folder) -> File {
    folder.write("log.csv", "event,strip\n");
    let log = File::open(folder.path().join("log.csv")).unwrap();
    log.lock().unwrap();
    log
}

/// Presses Ctrl-C, and gives the child the time to notice.
fn press_ctrl_c(child: &Child) {
    let pressed = Command::new("kill")
        .args(["-INT", &child.id().to_string()])
        .status()
        .unwrap();
    assert!(pressed.success());
    sleep(Duration::from_millis(300));
}

/// What a child that ends with this status has told on its way.
fn ended(child: Child, mut told: BufReader<ChildStderr>, status: i32) -> String {
    let output = child.wait_with_output().unwrap();
    let mut stderr = String::new();
    told.read_to_string(&mut stderr).unwrap();
    assert_eq!(output.status.code(), Some(status), "{stderr}");
    stderr
}

#[test]
fn stopped_by_hand_the_best_plan_so_far_is_written_and_marked() {
    let folder = Folder::demo();
    let (child, _told) = laying(&folder, ["--seconds", "600"]);
    press_ctrl_c(&child);
    let output = child.wait_with_output().unwrap();
    let stdout = String::from_utf8(output.stdout).unwrap();
    assert_eq!(output.status.code(), Some(0), "{stdout}");
    stdout.says("Stopped by hand: this is the best plan so far.");
    let plan: serde_json::Value = serde_json::from_str(&folder.read("out/plan.json")).unwrap();
    assert_eq!(plan["ended"], "stopped");
}

#[test]
fn pressed_twice_the_program_leaves_at_once_and_writes_nothing() {
    let folder = Folder::small();
    let log = locked_log(&folder);
    let (child, _told) = laying(&folder, ["--seconds", "600"]);
    press_ctrl_c(&child);
    press_ctrl_c(&child);
    let output = child.wait_with_output().unwrap();
    drop(log);
    assert_eq!(output.status.code(), Some(130));
    assert!(!folder.has("out"));
}

#[test]
fn a_sheet_that_is_changed_while_the_plan_is_made_is_noticed_and_nothing_is_written() {
    let folder = Folder::small();
    let log = locked_log(&folder);
    let (child, told) = laying(&folder, ["--rounds", "1"]);
    folder.change("strips.csv", "S1,,,2100,5", "S1,,,2100,6");
    drop(log);
    ended(child, told, 2).says("strips.csv changed while the plan was made");
    assert!(!folder.has("out"));
}

#[test]
fn a_folder_that_is_gone_when_the_plan_is_found_is_told_and_not_made_anew() {
    let folder = Folder::small();
    let log = locked_log(&folder);
    let (child, told) = laying(&folder, ["--rounds", "1"]);
    // The child may be trying out whether it can write there.
    while folder.path().exists() {
        let _ = std::fs::remove_dir_all(folder.path());
    }
    drop(log);
    ended(child, told, 3).says("the folder is not there any more");
    assert!(!folder.path().exists());
}

#[test]
fn what_was_known_of_every_strip_stays_when_spares_is_ended_before_it_knows_as_much() {
    let folder = Folder::laid();
    let ran = folder.run("spares", &["--samples", "20"]).ended(0);
    ran.stderr.begins("Roughly, after ");
    ran.warns("of 5 strips 5 may have no spare");
    let known = folder.read("out/spares.csv");
    assert_eq!(
        known.lines().filter(|row| row.ends_with(",full")).count(),
        5
    );
    let ended = folder.run("spares", &["--seconds", "0"]).ended(0).stdout;
    ended.begins("The time was up: 0 of 5 strips looked into.\nOf 5 nothing is known.\n");
    ended.says("spares.csv was not written");
    assert_eq!(folder.read("out/spares.csv"), known);
}
