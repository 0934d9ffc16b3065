//! Wood that is cut: told in the shop's words or by hand, kept by every later plan, shown on paper and in pictures,
//! and undone.

use super::{Folder, again, again_quickly, laid, row, rows, tell};
use crate::says::Says;

/// The rows of the plan for a strip: cut_from and cut_to as they are written.
fn cuts(folder: &Folder, strip: &str) -> Vec<(String, String)> {
    rows(folder, "out/laying-order.csv")
        .into_iter()
        .filter(|row| row[5] == strip)
        .map(|row| (row[9].clone(), row[10].clone()))
        .collect()
}

/// The strip of the second row of the plan.
fn a_strip(folder: &Folder) -> String {
    rows(folder, "out/laying-order.csv")[1][5].clone()
}

#[test]
fn a_strip_is_told_as_cut_all_of_it_as_planned() {
    let folder = laid();
    let strip = a_strip(&folder);
    let planned = cuts(&folder, &strip);
    let ran = tell(&folder, &format!("cut {strip}")).ended(0);
    ran.says(&format!("cut: {strip} "));
    let logged = rows(&folder, "log.csv").pop().unwrap();
    assert_eq!((&*logged[2], &*logged[7]), ("cut", &*strip));
    // An end of the piece that is the end of the strip stays empty.
    let (from, to) = planned[0].clone();
    assert!(logged[12].is_empty() && from.parse::<f64>() == Ok(0.0) || logged[12] == from);
    assert!(logged[13] == to || logged[13].is_empty());
    let ran = tell(&folder, &format!("cut {strip}")).ended(2);
    ran.warns("There is nothing left to cut there");
    let status = folder.run("status", &[]).ended(0).stdout;
    status.says("1 piece ready to lay");
    // Nothing else has happened: the plan stands.
    let ran = again(&folder).ended(0);
    ran.says("stands");
}

#[test]
fn a_piece_and_a_place_are_told_as_cut_as_well() {
    let folder = laid();
    tell(&folder, "cut 2 port").ended(0);
    let logged = rows(&folder, "log.csv").pop().unwrap();
    assert_eq!(logged[3..7], ["side", "2", "port", "1"]);
    tell(&folder, "cut C1 1000").ended(0);
    let logged = rows(&folder, "log.csv").pop().unwrap();
    assert_eq!((&*logged[7], &*logged[13]), ("C1", "1000.000"));
    let ran = tell(&folder, "cut C1 9000").ended(2);
    ran.warns("that is not on C1");
    tell(&folder, "lost D1").ended(0);
    let ran = tell(&folder, "cut D1 1000").ended(2);
    ran.warns("D1 was lost before");
}

#[test]
fn by_hand_a_cut_is_told_by_the_plan_and_written_out_by_the_next_entry() {
    let folder = laid();
    let strip = a_strip(&folder);
    let planned = cuts(&folder, &strip);
    folder.write("log.csv", &format!("event,strip\ncut,{strip}\n"));
    let status = folder.run("status", &[]).ended(0).stdout;
    status.says("1 piece ready to lay");
    tell(&folder, "shade D1 5").ended(0);
    let log = rows(&folder, "log.csv");
    assert_eq!((&*log[1][2], &*log[1][9]), ("cut", "as planned"));
    let wanted = [planned[0].0.clone(), planned[0].1.clone()];
    let written = [log[1][12].clone(), log[1][13].clone()];
    assert!(
        written
            .iter()
            .zip(wanted)
            .all(|(is, was)| *is == was || is.is_empty()),
        "{written:?}"
    );
    // A place a hair from the plan's own is the plan's own.
    let end: f64 = planned[0].1.parse().unwrap();
    let folder = laid();
    folder.write(
        "log.csv",
        &format!("event,strip,at\ncut,{strip},{}\n", end + 0.4),
    );
    again_quickly(&folder).ended(0);
    folder.run("check", &[]).ended(0);
    assert_eq!(cuts(&folder, &strip), planned);
}

#[test]
fn no_later_plan_lies_across_a_cut_and_check_says_so_of_one_that_does() {
    let folder = laid();
    let strip = a_strip(&folder);
    let first = folder.read("out/laying-order.csv");
    tell(&folder, &format!("cut {strip} 1500")).ended(0);
    let checked = folder.run("check", &[]).ended(1);
    checked.says("is cut at 1500");
    again_quickly(&folder).ended(0);
    folder.run("check", &[]).ended(0);
    for (from, to) in cuts(&folder, &strip) {
        let (from, to): (f64, f64) = (from.parse().unwrap(), to.parse().unwrap());
        assert!(to <= 1500.0 || from >= 1503.0, "from {from} to {to}");
    }
    tell(&folder, "undo").ended(0);
    again(&folder).ended(0);
    assert_eq!(folder.read("out/laying-order.csv"), first);
}

#[test]
fn a_piece_that_is_cut_stays_where_it_is_when_another_strip_breaks() {
    let folder = laid();
    let planned = rows(&folder, "out/laying-order.csv");
    tell(&folder, "cut 1 port").ended(0);
    tell(&folder, "cut 1 starboard").ended(0);
    let other = planned.iter().find(|row| row[2] == "2").unwrap()[5].clone();
    tell(&folder, &format!("lost {other}")).ended(0);
    again_quickly(&folder).ended(0);
    folder.run("check", &[]).ended(0);
    let now = rows(&folder, "out/laying-order.csv");
    let of_first = |rows: &[Vec<String>]| -> Vec<Vec<String>> {
        let first = rows.iter().filter(|row| row[2] == "1");
        first.map(|row| row[5..15].to_vec()).collect()
    };
    assert_eq!(of_first(&now), of_first(&planned));
}

#[test]
fn every_name_the_program_prints_is_understood_by_log() {
    let planned = row(&laid(), "2", "port");
    let (strip, mark) = (planned[5].clone(), planned[14].clone());
    assert_eq!(mark, "[P]2.1");
    let lower = strip.to_lowercase();
    let spellings = [
        strip.as_str(),
        &lower,
        &mark,
        "[p]2.1",
        "P2.1",
        "[P]2.1 bow",
        "[P] 2.1",
        "side 2 port, piece 1",
        "side 2 port 1",
        "Port 2",
    ];
    for words in spellings {
        let folder = laid();
        tell(&folder, &format!("laid {words}")).ended(0);
        let logged = rows(&folder, "log.csv");
        assert_eq!(logged.len(), 1, "{words}");
        assert_eq!(
            logged[0][3..8],
            ["side", "2", "port", "1", &*strip],
            "{words}"
        );
    }
    for words in ["/S\\2.1", "(C)3.1", "S2.1 stern", "C3.1"] {
        tell(&laid(), &format!("laid {words}")).ended(0);
    }
}

#[test]
fn a_name_that_could_mean_two_things_is_asked_back() {
    let folder = Folder::small();
    let strips = folder.read("strips.csv");
    folder.write("strips.csv", &strips.replace("S1,,,2100,5", "C3,,,2100,5"));
    folder.lay().ended(0);
    let ran = tell(&folder, "laid C3").ended(2);
    ran.warns("Write strip C3, or side 3 centre");
    tell(&folder, "laid strip C3").ended(0);
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
fn sheets_and_pictures_show_what_is_cut_and_what_is_laid() {
    let folder = laid();
    let before = folder.read("out/planking.svg");
    tell(&folder, "laid 1 port").ended(0);
    tell(&folder, "cut 2 port").ended(0);
    folder.run("pictures", &[]).ended(0);
    let drawn = folder.read("out/planking.svg");
    assert_ne!(drawn, before);
    assert_eq!(drawn.matches("laid already").count(), 1);
    assert_eq!(drawn.matches("cut already").count(), 1);
    folder.run("sheets", &["--to-do"]).ended(0);
    let text = |file: &str| {
        let out = std::process::Command::new("pdftotext")
            .args([
                "-layout",
                &folder.path().join(file).display().to_string(),
                "-",
            ])
            .output()
            .unwrap();
        String::from_utf8(out.stdout).unwrap()
    };
    let strip_of = |course: &str| row(&folder, course, "port").swap_remove(5);
    let list = text("out/cut-list.pdf");
    list.lacks(&strip_of("1"));
    list.lacks(&strip_of("2"));
    let sheet = text("out/laying-sheet.pdf");
    sheet.lacks(&strip_of("1"));
    sheet.says(&strip_of("2"));
    folder.run("sheets", &[]).ended(0);
    text("out/cut-list.pdf").says("is cut");
    text("out/laying-sheet.pdf").says("laid");
}
