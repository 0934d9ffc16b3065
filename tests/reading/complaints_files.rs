//! Folders and files that are not what they should be.

use crate::folder::{BOAT, COURSES, Folder, STRIPS, lines, only};
use crate::says::Says;
use std::path::Path;
use twinstrake::job;

#[test]
fn a_folder_that_is_not_there_is_named() {
    let all = job::read(Path::new("no/such/boat")).unwrap_err();
    only(&all)
        .is("no/such/boat: there is no such folder. Name the folder that has boat.toml in it.");
}

#[test]
fn a_path_that_is_a_file_is_no_job() {
    let all = Folder::good()
        .on_disk(|dir| job::read(&dir.join("boat.toml")))
        .unwrap_err();
    assert!(only(&all).ends_with(
        "boat.toml: the path leads to a file, not a folder. Name the folder that has boat.toml in it."
    ));
}

#[test]
fn every_file_that_is_missing_is_told_at_once() {
    let all = Folder::good()
        .without("boat.toml")
        .without("courses.csv")
        .without("strips.csv")
        .complaints();
    lines(&all).is(
        "boat.toml: the file is not there. Write it as docs/formats.md says; demo-stock has an example.\n\
         courses.csv: there is neither this file nor forms.csv. Write one of them as docs/formats.md says; demo-stock has an example.\n\
         strips.csv: there is neither this file nor boards.csv. Write one of them as docs/formats.md says; demo-stock has an example.",
    );
}

#[test]
fn a_log_that_tells_of_what_nobody_knows_is_refused_with_the_line() {
    let log = "event,strip,at\nburied,A1,\n";
    Folder::good().with("log.csv", log).complaint().is(
        "log.csv, line 2, event: \"buried\" is not an event that we know. Write laid, cut, taken up, broken, spoiled, lost, \
         found, added, shade or undone.",
    );
}

#[test]
fn an_empty_file_is_told_as_empty() {
    for file in ["boat.toml", "courses.csv", "strips.csv"] {
        for nothing in ["", "\n \n", "\u{feff}"] {
            let complaint = Folder::good().with(file, nothing).complaint();
            assert_eq!(
                complaint,
                format!("{file}: the file is empty. Fill it as docs/formats.md says.")
            );
        }
    }
}

#[test]
fn a_sheet_of_only_a_header_or_not_even_that_has_nothing_to_plan() {
    let header = STRIPS.lines().next().unwrap();
    Folder::good().with("strips.csv", header).complaint().is(
        "strips.csv, line 1: the file has a header and no rows. Write one row under it for each of the things it \
         lists.",
    );
    let complaint = Folder::good().with("strips.csv", ",,,\n,,\n").complaint();
    complaint.begins("strips.csv: the file has no header. Begin it with strip,board,seq,");
}

#[test]
fn a_file_that_is_not_text_is_refused_with_its_line() {
    let complaint = Folder::good()
        .with("strips.csv", b"strip,board\nA1,\x00\x01\x02".as_slice())
        .complaint();
    complaint
        .is("strips.csv, line 2: the file is not text. Save the sheet as CSV UTF-8, or the file as plain text.");
    let complaint = Folder::good()
        .with("courses.csv", b"PK\x03\x04\x14\x00\x06\x00".as_slice())
        .complaint();
    complaint
        .is("courses.csv: the file is a spreadsheet or an archive, not text. Save the sheet as CSV UTF-8.");
}

#[test]
fn utf_16_is_refused_by_name_with_its_mark_or_without() {
    let low: Vec<u8> = STRIPS.encode_utf16().flat_map(u16::to_le_bytes).collect();
    let high: Vec<u8> = STRIPS.encode_utf16().flat_map(u16::to_be_bytes).collect();
    let marked = |mark: [u8; 2], text: &[u8]| [&mark, text].concat();
    for bytes in [
        marked([0xff, 0xfe], &low),
        marked([0xfe, 0xff], &high),
        low.clone(),
        high.clone(),
    ] {
        Folder::good()
            .with("strips.csv", bytes)
            .complaint()
            .is("strips.csv: the file is UTF-16. Save it as CSV UTF-8, or as UTF-8 text.");
    }
}

#[test]
fn complaints_of_all_files_come_at_once_sorted_by_file_and_line() {
    let all = Folder::good()
        .change("boat.toml", "slope = 8", "slope = 0")
        .change("courses.csv", "deck,1,mirrored", "deck,1,doubled")
        .change("strips.csv", "A3,A,3,4305", "A3,A,3,-4305")
        .change("strips.csv", "B1,B,1", "B1,B,first")
        .complaints();
    let places: Vec<(String, Option<usize>)> =
        all.iter().map(|c| (c.file.clone(), c.line)).collect();
    assert_eq!(
        places,
        [
            ("boat.toml".into(), Some(10)),
            ("courses.csv".into(), Some(5)),
            ("strips.csv".into(), Some(4)),
            ("strips.csv".into(), Some(7)),
        ],
        "\n{}",
        lines(&all)
    );
}

#[test]
fn a_long_run_of_one_kind_is_told_five_times_and_then_counted() {
    let mut sheet = String::from("strip,board,seq,length,colour\n");
    for seq in 1..=46 {
        sheet += &format!("X{seq},X,{seq},4.97.{seq},5\n");
    }
    let all = Folder::good().with("strips.csv", sheet).complaints();
    assert_eq!(all.len(), 5, "\n{}", lines(&all));
    assert_eq!(all[3].mend, "Write 4974, or 4.974 m.");
    all[4]
        .mend
        .is("Write 4975, or 4.975 m. And 41 more like this.");
}

#[test]
fn digests_are_of_the_bytes_as_they_are() {
    let reading = Folder::good().reading();
    let files: Vec<&str> = reading.digests.iter().map(|d| d.file.as_str()).collect();
    assert_eq!(files, ["boat.toml", "courses.csv", "strips.csv"]);
    // SHA-256 of "abc" is the first example of FIPS 180-2, appendix B.1.
    let abc = Folder::good().with("notes.txt", "abc");
    assert_eq!(
        abc.reading().digests,
        reading.digests,
        "only what is read has a digest"
    );
    let marked = Folder::good()
        .with("courses.csv", format!("\u{feff}{COURSES}"))
        .reading();
    assert_ne!(marked.digests[1], reading.digests[1]);
    assert_eq!(marked.digests[2], reading.digests[2]);
    assert_eq!(marked.job, reading.job);
    assert!(!BOAT.is_empty());
}
