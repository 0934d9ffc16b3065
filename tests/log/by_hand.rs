//! A log that a person has written, in an editor or a spreadsheet, and one that broke off.

use super::{again_quickly, laid, row, rows, tell};
use crate::says::Says;

#[test]
fn a_row_by_hand_lies_as_planned_and_that_is_written_down() {
    let folder = laid();
    let planned = row(&folder, "1", "port");
    let by_hand = "event;course;side;mine\nlaid;1;port;my own column\n";
    folder.write("log.csv", by_hand);
    let status = folder.run("status", &[]).ended(0);
    status.says("1 of 5 pieces");
    assert_eq!(
        folder.read("log.csv"),
        by_hand,
        "whoever only looks changes nothing"
    );
    let ran = tell(&folder, "lost C1").ended(0);
    ran.warns("log-by-hand-1.csv");
    assert_eq!(folder.read("log-by-hand-1.csv"), by_hand);
    let logged = rows(&folder, "log.csv");
    let events: Vec<&str> = logged.iter().map(|row| row[2].as_str()).collect();
    assert_eq!(events, ["laid", "laid", "lost"]);
    assert_eq!(logged[1][7], planned[5]);
    assert_eq!(logged[1][9], "as planned");
    assert_eq!(logged[1][10..17], planned[7..14]);
    // From here on the log alone knows it, whatever becomes of the plan.
    std::fs::remove_dir_all(folder.path().join("out")).unwrap();
    folder.lay().ended(0);
    let now = row(&folder, "1", "port");
    assert_eq!((&now[5], &now[9..14]), (&planned[5], &planned[9..14]));
}

#[test]
fn a_log_saved_by_a_spreadsheet_can_be_added_to() {
    let folder = laid();
    tell(&folder, "lost C1").ended(0);
    let saved = folder
        .read("log.csv")
        .replace(',', ";")
        .replace('\n', "\r\n");
    folder.write("log.csv", &saved);
    tell(&folder, "lost C2").ended(0);
    let strips: Vec<String> = rows(&folder, "log.csv")
        .iter()
        .map(|row| row[7].clone())
        .collect();
    assert_eq!(strips, ["C1", "C2"]);
}

#[test]
fn a_last_line_that_broke_off_is_told_and_set_aside() {
    let folder = laid();
    tell(&folder, "lost C1").ended(0);
    let whole = folder.read("log.csv");
    folder.write(
        "log.csv",
        &format!("{whole}2,2026-05-02 10:31:05,lost,,,,,C"),
    );
    // Whoever only looks is told, and nothing is changed.
    let ran = folder.run("status", &[]).ended(0);
    ran.warns("log.csv, line 3");
    ran.warns("breaks off");
    assert!(folder.read("log.csv").ends_with(",C"));
    // Whoever writes sets it aside.
    let ran = tell(&folder, "lost D1").ended(0);
    ran.warns("log-torn-1.csv");
    folder
        .read("log-torn-1.csv")
        .is("2,2026-05-02 10:31:05,lost,,,,,C");
    let now = folder.read("log.csv");
    assert!(now.starts_with(&whole));
    assert_eq!(rows(&folder, "log.csv").len(), 2);
    // A second one gets a file of its own; lay sets it aside as well.
    folder.write("log.csv", &format!("{now}3,"));
    let ran = again_quickly(&folder);
    ran.warns("log-torn-2.csv");
    assert_eq!(folder.read("log.csv"), now);
}

/// A sheet that a person wrote has no column that says that a row is whole, and many editors write no last line end.
#[test]
fn the_last_row_of_a_log_by_hand_counts_without_a_line_end() {
    let folder = laid();
    folder.write("log.csv", "event,strip\nlost,C1\nlost,D1");
    let ran = folder.run("status", &[]).ended(0);
    ran.stderr.lacks("breaks off");
    tell(&folder, "lost D2").ended(0);
    let lost: Vec<String> = rows(&folder, "log.csv")
        .iter()
        .map(|row| row[7].clone())
        .collect();
    assert_eq!(lost, ["C1", "D1", "D2"]);
}

#[test]
fn a_word_that_is_not_understood_changes_nothing_not_even_a_torn_line() {
    let folder = laid();
    tell(&folder, "lost C1").ended(0);
    let torn = folder.read("log.csv") + "2,2026-05-02 10:31:05,lost,,,,,C";
    folder.write("log.csv", &torn);
    tell(&folder, "lost X9").ended(2);
    folder.run("pick", &["3"]).ended(2);
    assert_eq!(folder.read("log.csv"), torn);
    assert!(!folder.has("log-torn-1.csv"));
    // A log in which nothing but a torn row stands is not thrown away either.
    folder.write("log.csv", "no,time,eve");
    tell(&folder, "lost X9").ended(2);
    assert_eq!(folder.read("log.csv"), "no,time,eve");
}

#[test]
fn wherever_the_last_line_breaks_off_nothing_before_it_is_lost() {
    let folder = laid();
    tell(&folder, "lost C1").ended(0);
    let first = folder.read("log.csv");
    tell(&folder, "lost C2").ended(0);
    let both = folder.read("log.csv");
    for cut in first.len()..=both.len() {
        let (whole, torn) = twinstrake::log::whole_and_torn(&both.as_bytes()[..cut]);
        match cut {
            // All but the line end is there: the full stop says that nothing is missing.
            _ if cut >= both.len() - 1 => assert_eq!((whole.len(), torn.len()), (cut, 0)),
            _ => assert_eq!((whole, torn.len()), (first.as_bytes(), cut - first.len())),
        }
        // What the disk left as zeros is torn off as well.
        let zeros = [&both.as_bytes()[..cut], [0u8; 7].as_slice()].concat();
        let (whole, _) = twinstrake::log::whole_and_torn(&zeros);
        assert!(whole.len() == first.len() || whole.len() == both.len());
    }
}

#[test]
fn a_row_taken_out_is_noticed() {
    let folder = laid();
    tell(&folder, "lost C1").ended(0);
    tell(&folder, "lost C2").ended(0);
    let text = folder.read("log.csv");
    let kept: Vec<&str> = text
        .lines()
        .enumerate()
        .filter(|(i, _)| *i != 1)
        .map(|(_, l)| l)
        .collect();
    folder.write("log.csv", &(kept.join("\n") + "\n"));
    let ran = folder.run("status", &[]).ended(2);
    ran.warns("is out of order: this is entry 1");
}

/// The header of the laying order's columns that say how a piece lies, and the first piece on port as a row by hand,
/// with some text changed.
fn row_by_hand(folder: &super::Folder, change: impl Fn(&mut Vec<String>)) -> String {
    let planned = rows(folder, "out/laying-order.csv");
    let mut row = planned.into_iter().find(|row| row[3] == "port").unwrap();
    change(&mut row);
    let cells = [&row[1..6], &row[7..14]].concat().join(",");
    format!(
        "event,panel,course,side,piece,strip,from,to,cut_from,cut_to,bow_end,next_edge,face_out\nlaid,{cells}\n"
    )
}

#[test]
fn a_piece_by_hand_that_can_t_have_been_glued_on_like_that_is_refused_with_its_line() {
    let folder = laid();
    folder.write("log.csv", &row_by_hand(&folder, |_| {}));
    folder.run("status", &[]).ended(0);
    // The edge that looks to the next course is the other one: the strip would have to be reflected.
    let reflected = row_by_hand(&folder, |row| {
        row[12] = if row[12] == "A" { "B" } else { "A" }.into();
    });
    // It ends a hand's breadth before the bow end of the course.
    let short = row_by_hand(&folder, |row| {
        (row[7], row[9]) = ("100".into(), "100".into());
        let to: f64 = row[8].parse().unwrap();
        row[10] = to.to_string();
    });
    for (by_hand, rule) in [(reflected, "rule 8"), (short, "rule 1")] {
        folder.write("log.csv", &by_hand);
        for command in ["status", "lay", "labels", "check"] {
            let ran = folder.run(command, &[]).ended(2);
            let told = "log.csv, line 2: \"laid\" can't be. side course";
            ran.stderr.begins(told);
            ran.warns(rule);
            ran.warns("Write the row as the piece really lies");
        }
        // The log itself can still be mended by the log.
        tell(&folder, "undone 1").ended(0);
        folder.run("status", &[]).ended(0);
        std::fs::remove_file(folder.path().join("log.csv")).unwrap();
    }
}

/// A piece by hand: course, side, number, and from where to where it reaches along the course.
type Begun<'a> = (&'a str, &'a str, u32, i64, i64);

/// A log by hand that begins courses with shorter pieces of the strips that were planned there.
fn begun(folder: &super::Folder, pieces: &[Begun]) -> String {
    let mut log = String::from(
        "event,panel,course,side,piece,strip,from,to,cut_from,cut_to,bow_end,next_edge,face_out\n",
    );
    for &(course, side, number, from, to) in pieces {
        let row = row(folder, course, side);
        let length = to - from;
        log += &format!(
            "laid,side,{course},{side},{number},{},{from},{to},0,{length},",
            row[5]
        );
        log += &format!("{}\n", row[11..14].join(","));
    }
    log
}

#[test]
fn a_course_begun_so_that_it_can_t_be_finished_is_refused_with_its_line() {
    // Courses of 3000 mm, half a scarf is 24 mm, no piece under 600 mm, joints 300 mm apart; clear of scarfs from
    // 1000 to 2000 mm.
    let folder = laid();
    let boat = folder.read("boat.toml");
    let zone = "\n[[keep_clear]]\npanel = \"side\"\nfrom = 1000\nto = 2000\n";
    folder.write("boat.toml", &(boat.clone() + zone));
    folder.lay().ended(0);
    let refused: [(&[Begun], &str, &str); 7] = [
        // Its free end is a joint at 1476 mm, in the zone, whatever comes behind it.
        (&[("1", "port", 1, -25, 1500)], "2", "rule 5"),
        // Forward of a piece that begins at 1424 mm as well.
        (&[("1", "starboard", 2, 1400, 3025)], "2", "rule 5"),
        // Behind a joint at 2676 mm only 324 mm are left.
        (&[("1", "port", 1, -25, 2700)], "2", "rule 7"),
        // It is itself only 376 mm long between bow and joint.
        (&[("1", "port", 1, -25, 400)], "2", "rule 7"),
        // Two pieces are to come before it, on a course that has one joint at most.
        (&[("1", "port", 3, 2100, 3025)], "2", "rule 7"),
        // Joints at 2276 and 2376 mm of courses side by side.
        (
            &[
                ("1", "port", 1, -25, 2300),
                ("2", "starboard", 1, -25, 2400),
            ],
            "3",
            "rule 6",
        ),
        // To port the joint is at 2276 mm, to starboard at 2224 mm.
        (
            &[
                ("1", "port", 1, -25, 2300),
                ("1", "starboard", 2, 2200, 3025),
            ],
            "2",
            "rule 4",
        ),
    ];
    for (pieces, line, rule) in refused {
        folder.write("log.csv", &begun(&folder, pieces));
        for command in ["lay", "status"] {
            let ran = folder.run(command, &[]).ended(2);
            let told = format!("log.csv, line {line}: \"laid\" can't be. side course");
            for words in [&told, rule, "Write the row as the piece really lies"] {
                ran.warns(words);
            }
        }
    }
}

#[test]
fn a_course_begun_so_that_it_can_be_finished_is_planned_round_what_lies() {
    let folder = laid();
    // Joints at 1476 mm and at 2276 mm; the other sides are still to come.
    let begun = begun(
        &folder,
        &[
            ("1", "port", 1, -25, 1500),
            ("2", "starboard", 2, 2252, 3025),
        ],
    );
    folder.write("log.csv", &begun);
    again_quickly(&folder).ended(0);
    folder.run("check", &[]).ended(0);
    for (course, side, ends) in [("1", "starboard", 1500.0), ("2", "port", 2300.0)] {
        let mate = row(&folder, course, side);
        assert_eq!((mate[4].as_str(), mate[8].parse()), ("1", Ok(ends)));
    }
}

#[test]
fn contradictions_by_hand_are_told_with_their_line() {
    let folder = laid();
    folder.write(
        "log.csv",
        "event,strip,at\nlost,C1,\nlost,C1,\nbroken,Z9,100\n",
    );
    let ran = folder.run("lay", &[]).ended(2);
    ran.warns("log.csv, line 3: \"lost\" can't be: C1 was lost before.");
    ran.warns("log.csv, line 4: \"broken\" can't be: Z9 is not a strip");
}
