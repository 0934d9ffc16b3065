//! From a plan to paper.

use crate::folder::Folder;
use crate::poppler;
use crate::says::Says;
use std::fs;

const PDF: &str = "labels.pdf";

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
#[cfg_attr(no_zbar, ignore = "zbar-tools is missing")]
fn the_codes_of_the_labels_are_the_strips_of_plan_json_in_the_order_of_the_rack() {
    let folder = Folder::laid();
    let ran = folder.run("labels", &[]).ended(0);
    ran.says("10 labels, on 1 sheet of 3 x 7\n");
    assert!(ran.stdout.is_ascii() && ran.stdout.lines().all(|line| line.len() <= 120));
    assert_eq!(ran.stderr, "");
    let plan: serde_json::Value = serde_json::from_str(&folder.read("out/plan.json")).unwrap();
    let rows = plan["laying_order"].as_array().unwrap();
    let mut strips: Vec<&str> = rows
        .iter()
        .map(|row| row["strip"].as_str().unwrap())
        .collect();
    strips.sort_unstable();
    let both_ends: Vec<&str> = strips.iter().flat_map(|strip| [*strip, *strip]).collect();
    let page = poppler::greys(&folder.path().join("out").join(PDF), 1, 150);
    let cells = (0..10).map(poppler::cell);
    assert_eq!(poppler::codes(&page, cells), both_ends);
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
fn when_one_strip_is_changed_for_another_only_its_labels_are_printed_again() {
    let folder = Folder::laid();
    folder.run("labels", &[]).ended(0);
    let ran = folder.run("labels", &["--changed"]).ended(0);
    ran.stdout.begins("Nothing has changed");
    folder.change("strips.csv", "S1,,,2100", "S2,,,2100");
    folder.lay().ended(0);
    let ran = folder
        .run("labels", &["--changed", "--from", "11"])
        .ended(0);
    ran.says("2 labels of 10");
    ran.says("Take these labels off\n  S1: (C)3.1 bow, (C)3.1 stern\n");
    let words = poppler::words(&folder.path().join("out").join(PDF));
    let names: Vec<&str> = words
        .iter()
        .map(|word| word.text.as_str())
        .filter(|word| word.starts_with('S') && word.len() == 2)
        .collect();
    assert_eq!(names, ["S2", "S2"]);
    // Begun behind the ten labels that were used: in the second column of the fourth row.
    let first = words.iter().find(|word| word.text == "S2").unwrap();
    assert!(first.left > 73.25 && first.top > 129.0, "{first:?}");
    folder.run("labels", &["--taken-off"]).ended(0);
    let ran = folder.run("labels", &["--changed"]).ended(0);
    ran.stdout.begins("Nothing has changed");
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
fn what_has_to_come_off_stays_on_its_page_through_every_plan_until_it_is_told_off() {
    let folder = Folder::laid();
    folder.run("labels", &[]).ended(0);
    let page = || {
        let words = poppler::words(&folder.path().join("out/labels-to-take-off.pdf"));
        let words = words.into_iter().map(|word| word.text);
        let strips = words.filter(|word| word.len() == 2 && word.starts_with('S'));
        strips.collect::<Vec<String>>()
    };
    // The centre course is planned with another strip three times; only the first time labels are not printed.
    for (was, is) in [("S1", "S2"), ("S2", "S3"), ("S3", "S4")] {
        folder.change(
            "strips.csv",
            &format!("{was},,,2100"),
            &format!("{is},,,2100"),
        );
        folder.lay().ended(0);
        if is != "S2" {
            let told = folder.run("labels", &["--changed"]).ended(0).stdout;
            told.says("  S1: (C)3.1 bow, (C)3.1 stern\n");
        }
    }
    assert_eq!(page(), ["S1", "S1", "S3", "S3"]);
    // Printing all labels anew takes none off.
    let told = folder.run("labels", &[]).ended(0).stdout;
    told.says("the 4 labels printed earlier to take off");
    assert_eq!(page(), ["S1", "S1", "S3", "S3"]);
    let told = folder.run("labels", &["--taken-off"]).ended(0).stdout;
    told.is("Noted: 4 labels are off. Every label on the wood is right.\n");
    assert!(page().is_empty());
    let told = folder.run("labels", &["--taken-off"]).ended(0).stdout;
    told.begins("There was no label to take off");
}

#[test]
fn the_same_plan_gives_the_same_paper_to_the_last_byte() {
    let folder = Folder::laid();
    let print = || {
        folder.run("labels", &[]).ended(0);
        folder.run("sheets", &["--date", "25 November"]).ended(0);
        folder.out()
    };
    let first = print();
    assert!(first.contains_key("laying-sheet.pdf") && first.contains_key("cut-list.pdf"));
    assert!(print() == first);
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
fn what_is_said_of_the_sheets_names_the_plan_that_stands_at_their_foot() {
    let folder = Folder::laid();
    let ran = folder.run("sheets", &[]).ended(0);
    assert!(ran.stdout.is_ascii());
    let (_, after) = ran.stdout.split_once("Both are of plan ").unwrap();
    let digest = &after[..8];
    for file in ["laying-sheet.pdf", "cut-list.pdf"] {
        let path = folder.path().join("out").join(file);
        let words = poppler::words(&path);
        assert!(words.iter().any(|word| word.text == digest), "{file}");
        assert!(
            poppler::fonts(&path).iter().all(|(_, embedded)| *embedded),
            "{file}"
        );
    }
}

#[test]
fn words_on_the_command_line_that_are_no_paper_are_answered_with_the_mend() {
    let folder = Folder::laid();
    let before = folder.out();
    for (options, said) in [
        (
            &["--sheet", "A4 4x9"][..],
            "\"A4 4x9\" is not a grid that we know by name. Known: A4 3x8,",
        ),
        (&["--sheet", "A4 3x7 label 70 x 38"], "is 217.2 mm wide"),
        (&["--sheet", "blue"], "\"blue\" is not a sheet of labels."),
        (&["--tape", "wide"], "\"wide\" has a length in it"),
        (&["--from", "22"], "--from 22: a sheet has 21 labels."),
        (
            &["--sheet", "A4 3x7 label 20 x 8"],
            "too small for what a label says",
        ),
    ] {
        let ran = folder.run("labels", options).ended(2);
        ran.warns(said);
        assert_eq!(ran.stdout, "");
    }
    assert!(folder.out() == before, "nothing was written");
}

#[test]
fn before_a_boat_is_laid_there_is_nothing_to_print() {
    let folder = Folder::small();
    for command in ["labels", "sheets"] {
        let ran = folder.run(command, &[]).ended(2);
        ran.stderr
            .is("out/laying-order.csv: there is no plan yet. Lay the job first.\n");
    }
}

#[test]
fn a_name_that_has_no_room_on_its_label_is_refused_by_name_and_nothing_is_written() {
    let folder = Folder::small();
    let name = "a-strip-with-a-name-that-goes-on-and-on-and-on-to-the-stern";
    folder.change("strips.csv", "S1,", &format!("{name},"));
    folder.lay().ended(0);
    let before = folder.out();
    let ran = folder.run("labels", &[]).ended(2);
    ran.stderr.begins(&format!(
        "\"{name}\" does not fit at a size that can be read."
    ));
    assert!(ran.stderr.ends_with("Nothing was written.\n"));
    assert!(folder.out() == before);
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
fn labels_are_printed_on_what_boat_toml_names() {
    let folder = Folder::laid();
    let boat = folder.read("boat.toml");
    folder.write(
        "boat.toml",
        &format!("{boat}\n[paper]\npage = \"Letter\"\nlabels = \"tape 18\"\n"),
    );
    let ran = folder.run("labels", &[]).ended(0);
    ran.says("10 labels, on tape of 18 mm");
    folder.run("sheets", &[]).ended(0);
    let (w, h) = poppler::page_sizes(&folder.path().join("out/cut-list.pdf"))[0];
    assert!(
        (w - 215.9).abs() < 0.05 && (h - 279.4).abs() < 0.05,
        "{w} x {h}"
    );
    let size = fs::metadata(folder.path().join("out").join(PDF))
        .unwrap()
        .len();
    assert!(size > 0);
}
