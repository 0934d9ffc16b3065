//! Ctrl-C.
#![cfg(unix)]

use crate::folder::Folder;
use std::fs::{self, File, OpenOptions};
use std::io::Write;
use std::process::{Child, Command, Stdio};
use std::thread::sleep;
use std::time::Duration;

/// A child that minds Ctrl-C by now and waits for its boat.toml: a pipe, here with the end that we write to.
fn waiting(folder: &Folder) -> (Child, File) {
    let path = folder.path().join("boat.toml");
    fs::remove_file(&path).unwrap();
    let made = Command::new("mkfifo").arg(&path).status().unwrap();
    assert!(made.success());
    let child = Command::new(env!("CARGO_BIN_EXE_twinstrake"))
        .arg("lay")
        .arg(folder.path())
        .args(["--seconds", "600"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // Opening the pipe waits until the child has opened it.
    let pipe = OpenOptions::new().write(true).open(&path).unwrap();
    (child, pipe)
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

#[test]
fn stopped_by_hand_the_best_plan_so_far_is_written_and_marked() {
    let folder = Folder::small();
    let boat = folder.read("boat.toml");
    let (child, mut pipe) = waiting(&folder);
    press_ctrl_c(&child);
    pipe.write_all(boat.as_bytes()).unwrap();
    drop(pipe);
    let output = child.wait_with_output().unwrap();
    let stdout = String::from_utf8(output.stdout).unwrap();
    assert_eq!(output.status.code(), Some(0), "{stdout}");
    assert!(
        stdout.contains("Stopped by hand: this is the best plan so far."),
        "{stdout}"
    );
    let plan: serde_json::Value = serde_json::from_str(&folder.read("out/plan.json")).unwrap();
    assert_eq!(plan["ended"], "stopped");
}

#[test]
fn pressed_twice_the_program_leaves_at_once_and_writes_nothing() {
    let folder = Folder::small();
    let (child, pipe) = waiting(&folder);
    press_ctrl_c(&child);
    press_ctrl_c(&child);
    let output = child.wait_with_output().unwrap();
    drop(pipe);
    assert_eq!(output.status.code(), Some(130));
    assert!(!folder.path().join("out").exists());
}
