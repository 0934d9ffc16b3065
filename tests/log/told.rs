//! What is told in the shop's words: what is written, and what is refused with the reason.

use super::{Folder, again, again_quickly, laid, row, rows, tell};
use crate::says::Says;

#[test]
fn a_piece_that_is_laid_is_written_with_all_that_must_not_change() {
    let folder = laid();
    tell(&folder, "laid 1 port").ended(0);
    let planned = row(&folder, "1", "port");
    let logged = &rows(&folder, "log.csv")[0];
    // no, time, event, panel, course, side, piece, strip, at, note, from … face_out.
    assert_eq!(logged[0], "1");
    assert_eq!(
        logged[2..8],
        ["laid", "side", "1", "port", "1", &planned[5]]
    );
    assert_eq!(logged[10..17], planned[7..14]);
    assert_eq!(logged.last().unwrap(), ".");
}

#[test]
fn next_is_the_next_in_the_order_of_laying() {
    let folder = laid();
    for row in rows(&folder, "out/laying-order.csv") {
        tell(&folder, "laid next").ended(0);
        let last = rows(&folder, "log.csv").pop().unwrap();
        assert_eq!(last[3..8], row[1..6]);
    }
    let ran = tell(&folder, "laid next").ended(2);
    ran.warns("Everything in the plan is laid.");
}

#[test]
fn without_a_side_both_are_meant_and_of_a_course_begun_the_rest() {
    let folder = laid();
    tell(&folder, "laid 1").ended(0);
    assert_eq!(rows(&folder, "log.csv").len(), 2);
    tell(&folder, "laid p2").ended(0);
    tell(&folder, "laid 2").ended(0);
    assert_eq!(rows(&folder, "log.csv").len(), 4);
    assert_eq!(rows(&folder, "log.csv")[3][5], "starboard");
}

/// Told after the others, the last is refused: exit status 2, the reason, and the log stays as it was.
#[track_caller]
fn refused(told: &[&str], last: &str, why: &str) {
    let folder = laid();
    for words in told {
        tell(&folder, words).ended(0);
    }
    let before = std::fs::read(folder.path().join("log.csv")).ok();
    let ran = tell(&folder, last).ended(2);
    ran.stderr.begins("Not logged");
    ran.warns(why);
    assert!(std::fs::read(folder.path().join("log.csv")).ok() == before);
}

#[test]
fn what_contradicts_the_record_is_refused_with_the_reason() {
    refused(
        &["laid 1 port"],
        "laid 1 port",
        "it is laid already, by entry 1",
    );
    refused(&[], "taken up 1 port", "Nothing is laid there.");
    refused(&["lost C1"], "lost C1", "C1 was lost before");
    refused(&["lost C1"], "broken C1 1000", "C1 was lost before");
    refused(&[], "found C1", "C1 is in the rack, it was not lost");
    refused(&[], "found C1 3000 5", "there is a strip C1 already");
    refused(
        &[],
        "found X9",
        "X9 is new, and its length and colour are not given",
    );
    refused(
        &["spoiled C1 1000-1200"],
        "broken C1 1100",
        "C1 is known to be bad at 1100 mm",
    );
    refused(&[], "undo", "There is nothing to undo.");
    refused(&[], "undo 3", "there is no entry 3 before this one");
    refused(
        &["lost C1", "undo 1"],
        "undo 1",
        "entry 1 was undone before",
    );
}

#[test]
fn what_is_not_there_or_not_understood_is_refused_with_the_mend() {
    refused(&[], "laid 9", "There is no course 9 there.");
    refused(&[], "laid 3 port", "Course 3 has no port side.");
    refused(&[], "broken Z1 1000", "There is no strip \"Z1\".");
    refused(&[], "broken C1", "broken D4 2210, or broken D4 1200-1260");
    refused(
        &[],
        "broken C1 9000",
        "that is not on C1, which is 3100 mm long",
    );
    refused(&[], "shade C1 12", "is not a shade from 1 to 9");
    refused(&[], "burnt C1", "Begin with laid, cut, broken, spoiled");
}

#[test]
fn wood_that_is_hurt_can_t_be_laid_across_the_hurt() {
    let folder = laid();
    let planned = rows(&folder, "out/laying-order.csv");
    let strip = planned[0][5].clone();
    let (course, side) = (planned[0][2].clone(), planned[0][3].clone());
    let ran = tell(&folder, &format!("broken {strip} 1500")).ended(0);
    ran.says("Find other wood for them");
    let ran = tell(&folder, &format!("laid {course} {side}")).ended(2);
    ran.warns("is broken or spoiled at 1500 mm");
    // And what is laid does not break any more, unless it comes off.
    tell(&folder, "undo").ended(0);
    tell(&folder, &format!("laid {course} {side}")).ended(0);
    let ran = tell(&folder, &format!("broken {strip} 1500")).ended(2);
    ran.warns("If the piece has to come off");
}

#[test]
fn in_a_folder_that_is_no_job_no_log_is_begun() {
    let folder = Folder::small();
    std::fs::remove_file(folder.path().join("boat.toml")).unwrap();
    tell(&folder, "lost A1").ended(2);
    assert!(!folder.has("log.csv"));
    let folder = laid();
    tell(&folder, "lost nothing at all").ended(2);
    // A refused first entry leaves no log behind.
    assert!(!folder.has("log.csv"));
}

#[test]
fn a_strip_that_turned_up_is_planned_with() {
    // Every strip but one is lost: only with what was found can a course be covered.
    let folder = Folder::laid();
    tell(&folder, "lost B1").ended(0);
    again_quickly(&folder).ended(1);
    // A length of several words: 126 in, and a shade behind it.
    tell(&folder, "found X1 10' 6 in 6").ended(0);
    folder.read("log.csv").says(",3200.400,");
    again_quickly(&folder).ended(0);
    let used = rows(&folder, "out/laying-order.csv");
    assert!(used.iter().any(|row| row[5] == "X1"));
    folder.run("check", &[]).ended(0);
}

#[test]
fn what_is_laid_stays_where_it_is_and_the_difference_is_told_first() {
    let folder = laid();
    tell(&folder, "laid 1 port").ended(0);
    let was = row(&folder, "1", "port");
    // Its mate is lost before it is laid.
    tell(&folder, &format!("lost {}", was[6])).ended(0);
    let ran = again_quickly(&folder).ended(0);
    ran.stdout.begins("What changes\n");
    ran.says(&format!("instead of {}", was[6]));
    let now = row(&folder, "1", "port");
    assert_eq!(now[3..6], was[3..6]);
    assert_eq!(now[7..14], was[7..14]);
    assert_ne!(now[6], was[6]);
    folder.run("check", &[]).ended(0);
    assert!(folder.has("out/earlier/plan-1/laying-order.csv"));
    let status = folder.run("status", &[]).ended(0);
    status.says("1 of 5 pieces");
}

#[test]
fn with_nothing_but_laying_as_planned_the_plan_stands() {
    let folder = laid();
    tell(&folder, "laid next").ended(0);
    let before = folder.out();
    let ran = again(&folder).ended(0);
    ran.stdout.begins("Plan 1 stands");
    assert!(folder.out() == before);
}
