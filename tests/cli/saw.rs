//! From a fresh folder to the rack: `begin`, `mill`, `tags`.

use crate::folder::{Folder, ran, twinstrake};
use crate::poppler;
use crate::says::Says;
use std::fs;
use twinstrake::job;

/// Two mirrored courses of 3050 mm and a centre course of 2050 mm, ends included.
fn at_the_saw(boards: &str) -> Folder {
    let folder = Folder::small();
    fs::remove_file(folder.path().join("strips.csv")).unwrap();
    folder.write("boards.csv", boards);
    folder
}

#[test]
fn a_job_that_is_begun_needs_only_forms_and_boards_in_either_unit_and_either_kind_of_sheet() {
    for (inches, spreadsheets) in [(false, false), (true, false), (false, true), (true, true)] {
        let parent = tempfile::tempdir().unwrap();
        let dir = parent.path().join("boats/mine");
        let mut begin = twinstrake();
        begin.arg("begin").arg(&dir);
        begin
            .args(inches.then_some("--inches"))
            .args(spreadsheets.then_some("--spreadsheets"));
        let told = ran(&mut begin).ended(0);
        assert!(
            told.stdout.contains("twinstrake lay") && told.stdout.is_ascii(),
            "{}",
            told.stdout
        );
        let ending = if spreadsheets { "xlsx" } else { "csv" };
        let mut names: Vec<String> = fs::read_dir(&dir)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        let sheets = ["boards", "forms", "photos", "strips"].map(|stem| format!("{stem}.{ending}"));
        let (boat, rest): (Vec<String>, Vec<String>) =
            names.into_iter().partition(|name| name == "boat.toml");
        assert_eq!((boat.len(), rest), (1, sheets.to_vec()));
        // Fresh sheets are complained of, but nothing that was written for the builder is.
        let complaints = job::read(&dir).unwrap_err();
        assert!(
            complaints
                .iter()
                .all(|complaint| complaint.file != "boat.toml"),
            "{complaints:?}"
        );
        // Nothing there is ever overwritten.
        let again = ran(&mut begin).ended(2);
        again.warns("holds boat.toml, forms.");
        if spreadsheets {
            continue;
        }
        let (forms, boards) = match inches {
            false => ("0,190,57\n2000,190,57\n", "A,30,2200"),
            true => ("0,7.5,2.25\n80,7.5,2.25\n", "A,30,7' 4\""),
        };
        let rows = |rows: &str| -> String {
            rows.lines()
                .zip(1..)
                .map(|(row, form)| format!("{form},{row}\n"))
                .collect()
        };
        let forms = fs::read_to_string(dir.join("forms.csv")).unwrap() + &rows(forms);
        fs::write(dir.join("forms.csv"), forms).unwrap();
        let header = fs::read_to_string(dir.join("boards.csv")).unwrap();
        let columns = header.trim_end().split(',').count();
        let place = header
            .trim_end()
            .split(',')
            .position(|column| column == "colour")
            .unwrap();
        let mut row: Vec<&str> = boards.split(',').collect();
        row.resize(columns, "");
        row[place] = "5";
        fs::write(
            dir.join("boards.csv"),
            format!("{header}{}\n", row.join(",")),
        )
        .unwrap();
        let ran = ran(twinstrake().arg("lay").arg(&dir).args(["--rounds", "0"])).ended(0);
        ran.stderr.lacks("boat.toml");
    }
}

#[test]
fn the_mill_says_what_is_short_which_board_to_open_and_when_it_is_enough() {
    // Slices of 6 mm and cuts of 3.2 mm: 60 mm give (60 + 3.2) / 9.2, six.
    let unsawn = "board,slices,length,width\nA,,3100,60\nB,,2900,60\nC,,4000,60\n";
    let folder = at_the_saw(unsawn);
    let ran = folder.run("mill", &["--margin", "0"]).ended(1);
    ran.says("Wood for 3 more courses is missing, with what breaks counted. Open board A next.");
    let row = ["A", "3100", "mm", "60", "mm", "6", "not", "yet"];
    assert_eq!(ran.row("A "), row);

    // Four slices, two pairs: the centre course is open still, and a strip of B or of C would do; B is
    // the shorter board.
    folder.write("boards.csv", &unsawn.replace("A,,", "A,4,"));
    let ran = folder.run("mill", &["--margin", "0"]).ended(1);
    ran.says("Wood for 1 more course is missing, with what breaks counted. Open board B next.");

    folder.write("boards.csv", &unsawn.replace("A,,", "A,5,"));
    let ran = folder.run("mill", &["--margin", "0"]).ended(0);
    ran.says("That is enough");

    // A defect in the middle of a slice breaks its pair in two: 3100 long, clear for 1600.
    folder.write(
        "boards.csv",
        "board,slices,length,width,defects\nA,5,3100,60,2: 1500\n",
    );
    let ran = folder.run("mill", &["--margin", "0"]).ended(1);
    ran.says("no board that is left would help");

    // Two pairs and a strip of 3100: 50 mm are to spare for each course, and no more.
    for (trim, status) in [("25", 0), ("26", 1)] {
        let folder = at_the_saw("board,slices,length,width\nA,5,3100,60\n");
        folder.change(
            "boat.toml",
            "[allow]",
            &format!("[allow]\nend_trim = {trim}"),
        );
        folder.run("mill", &["--margin", "0"]).ended(status);
    }

    // What saw and plane take is said in boat.toml: (60 + 2) / (6 + 1 + 2).
    folder.write("boards.csv", unsawn);
    let boat = folder.read("boat.toml") + "\n[mill]\nkerf = 2\nplaning = 1\n";
    folder.write("boat.toml", &boat);
    let ran = folder.run("mill", &[]).ended(1);
    assert!(ran.row("A ").contains(&"6"));
    assert!(
        ran.stdout.is_ascii() && ran.stdout.lines().all(|line| line.len() <= 120),
        "{}",
        ran.stdout
    );
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
#[cfg_attr(no_zbar, ignore = "zbar-tools is missing")]
fn tags_are_there_before_lengths_and_colours_and_their_codes_are_the_strips() {
    let folder = at_the_saw("board,slices,width,spoiled\nD,4,60,3\nE,,60,\n");
    let told = folder.run("tags", &[]).ended(0);
    told.says("3 tags, on 1 sheet of 3 x 7\n");
    let pdf = folder.path().join("out/tags.pdf");
    let page = poppler::greys(&pdf, 1, 300);
    let cells = || (0..6).map(poppler::cell);
    assert_eq!(poppler::codes(&page, cells().take(3)), ["D1", "D2", "D4"]);
    let words = poppler::words(&pdf);
    // The black bars of neighbouring tags lie as far apart as the labels of the sheet.
    let mut bars: Vec<(f64, f64)> = words
        .iter()
        .filter(|word| word.text == "MARKED")
        .map(|word| page.dark_span(((word.left + word.right) / 2.0, word.top - 0.5), (1.0, 0.0)))
        .collect();
    bars.sort_by(|one, other| one.0.total_cmp(&other.0));
    let near = |one: f64, other: f64| (one - other).abs() < 0.15;
    assert!(
        bars.windows(2).all(|two| near(two[1].0 - two[0].0, 66.0)),
        "{bars:?}"
    );
    // Nothing is printed within 1.5 mm of the edge of a label.
    assert!(near(bars[0].0, 7.25 + 1.5), "{bars:?}");
    let words: Vec<String> = words.into_iter().map(|word| word.text).collect();
    assert_eq!(words.iter().filter(|word| *word == "MARKED").count(), 3);
    assert_eq!(words.iter().filter(|word| *word == "edge").count(), 3);

    // One that is to be sawn next, while the others are on the bench.
    let told = folder
        .run("tags", &["--board", "E", "--from", "2"])
        .ended(0);
    assert!(
        told.stdout.contains("6 tags"),
        "as many as its width gives: {}",
        told.stdout
    );
    let page = poppler::greys(&pdf, 1, 150);
    assert_eq!(
        poppler::codes(&page, cells().skip(1)),
        ["E1", "E2", "E3", "E4", "E5"]
    );
    let told = folder
        .run("tags", &["--board", "E", "--slices", "2", "--flags"])
        .ended(0);
    told.says("2 tags, as flags");
    let ran = folder.run("tags", &["--board", "X"]).ended(2);
    ran.stderr.is(
        "--board \"X\" is not a board of boards.csv: there are D, E. Give it a row there; its length may come \
         later.\n",
    );
}
