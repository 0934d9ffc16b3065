//! What is undone never was: the plan after it is the plan before.

use super::{again, again_quickly, laid, rows, tell};

#[test]
fn after_undoing_a_break_the_plan_is_to_the_letter_what_it_was() {
    let folder = laid();
    tell(&folder, "laid 1").ended(0);
    let plan = folder.read("out/laying-order.csv");
    let planned = rows(&folder, "out/laying-order.csv");
    let strip = planned.iter().find(|row| row[2] == "2").unwrap()[5].clone();
    for words in [
        format!("lost {strip}"),
        format!("broken {strip} 1500"),
        format!("spoiled {strip} 100-3000"),
    ] {
        tell(&folder, &words).ended(0);
        again_quickly(&folder).ended(0);
        assert_ne!(folder.read("out/laying-order.csv"), plan, "{words}");
        folder.run("check", &[]).ended(0);
        tell(&folder, "undo").ended(0);
        let ran = again(&folder).ended(0);
        ran.warns("that plan comes back");
        assert_eq!(folder.read("out/laying-order.csv"), plan, "{words}");
        folder.run("check", &[]).ended(0);
    }
}

#[test]
fn a_plan_comes_back_only_for_what_it_was_made_for() {
    let folder = laid();
    tell(&folder, "laid 1 port").ended(0);
    let plan = folder.read("out/laying-order.csv");
    tell(&folder, "undo").ended(0);
    tell(&folder, "undo 2").ended(0);
    let strip = rows(&folder, "out/laying-order.csv")[2][5].clone();
    tell(&folder, &format!("lost {strip}")).ended(0);
    again_quickly(&folder).ended(0);
    assert_ne!(folder.read("out/laying-order.csv"), plan);
    // What held at first holds again after the first of these, under the plan for the loss.
    for words in ["undo 4", "undo 3", "undo 2"] {
        tell(&folder, words).ended(0);
    }
    let ran = again(&folder).ended(0);
    ran.warns("that plan comes back");
    assert_eq!(folder.read("out/laying-order.csv"), plan);
}

#[test]
fn every_kind_of_entry_can_be_undone_an_undoing_too() {
    let folder = laid();
    let status = |folder: &super::Folder| folder.run("status", &[]).ended(0).stdout;
    let nothing = status(&folder);
    for words in [
        "laid 1 port",
        "laid 1 port 1",
        "broken C1 1000",
        "spoiled C1 1000-1200",
        "lost C1",
        "found X1 3000 4",
        "shade C1 9",
    ] {
        tell(&folder, words).ended(0);
        let done = status(&folder);
        tell(&folder, "undo").ended(0);
        assert_eq!(status(&folder), nothing, "{words}");
        let last = rows(&folder, "log.csv").len();
        tell(&folder, &format!("undo {last}")).ended(0);
        assert_eq!(status(&folder), done, "{words}, done again");
        tell(&folder, &format!("undo {}", last - 1)).ended(0);
    }
    tell(&folder, "laid 1 port").ended(0);
    let done = status(&folder);
    tell(&folder, "taken up 1 port").ended(0);
    assert_ne!(status(&folder), done);
    tell(&folder, "undo").ended(0);
    assert_eq!(status(&folder), done);
}

#[test]
fn what_later_entries_rest_on_can_t_be_undone() {
    // A piece was cut from the strip that turned up: it did turn up.
    let folder = super::Folder::laid();
    tell(&folder, "lost B1").ended(0);
    tell(&folder, "found X1 3200 6").ended(0);
    again_quickly(&folder).ended(0);
    let planned = rows(&folder, "out/laying-order.csv");
    let row = planned.iter().find(|row| row[5] == "X1").unwrap();
    tell(&folder, &format!("laid {} {}", row[2], row[3])).ended(0);
    let ran = tell(&folder, "undo 2").ended(2);
    ran.warns("X1 is not a strip");
}

#[test]
fn a_plan_that_is_picked_keeps_the_one_before_and_waits_for_the_log() {
    let folder = laid();
    tell(&folder, "shade C1 6").ended(0);
    folder
        .run("lay", &["--rounds", "0", "--choices", "2"])
        .ended(0);
    let before = folder.read("out/laying-order.csv");
    let number = twinstrake::out::number_in_force(folder.path()).unwrap();
    let book = twinstrake::log::Book::open(folder.path()).unwrap();
    let mut pick = std::process::Command::new(env!("CARGO_BIN_EXE_twinstrake"))
        .arg("pick")
        .arg(folder.path())
        .arg("1")
        .stdout(std::process::Stdio::null())
        .spawn()
        .unwrap();
    std::thread::sleep(std::time::Duration::from_millis(200));
    assert_eq!(pick.try_wait().unwrap(), None, "it did not wait");
    drop(book);
    assert!(pick.wait().unwrap().success());
    let kept = folder.read(&twinstrake::out::earlier_laying_order(number));
    assert_eq!(kept, before);
    assert_eq!(
        twinstrake::out::number_in_force(folder.path()),
        Some(number + 1)
    );
}
