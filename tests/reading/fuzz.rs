//! Whatever is in the files, it is a job or a list of complaints.

use crate::boards::BOARDS;
use crate::complaints_forms::{FORMS, OFFSETS};
use crate::folder::{BOAT, COURSES, Folder, STRIPS};
use proptest::prelude::*;
use sha2::{Digest as _, Sha256};
use std::collections::BTreeMap;
use std::fs;
use tempfile::TempDir;
use twinstrake::units::Unit;
use twinstrake::{job, out};

const COLOURS: &str = "photo,strip,from,to,colour,spread,change,clear,quality,picture\n\
    a.jpg,D1,10,900,66.9 8.0 24.3,0.5,0.2,97,good,photographs/1-1-1-D1.jpg\n\
    a.jpg,D2,10,900,60 8 24,0.5,0.2,30,doubtful: little,\n";

const PHOTOS: &str = "photo,board,slices,at,turned,grey_card,notes\n\
    a.jpg,A,1-2,400,,18,\nb/c.png,,A1; A2,12 in,yes,,two\n";

const TABLE: &str = include_str!("corpus/table.csv");
const LAYING: &str = "\
order,panel,course,side,piece,strip,mate,from,to,cut_from,cut_to,bow_end,next_edge,face_out
1,side,1,port,1,A1,A4,-25,4150,60,4235,mark,B,high
2,side,1,starboard,1,A4,A1,-25,4150,60,4235,mark,B,low
";

/// What is in the corpus for a file of a job.
fn corpus(file: &str) -> Vec<&'static str> {
    match file {
        "boat.toml" => vec![BOAT, include_str!("corpus/boat.toml")],
        "courses.csv" => vec![COURSES],
        "strips.csv" => vec![STRIPS],
        "colours.csv" => vec![COLOURS],
        "photos.csv" => vec![PHOTOS],
        "boards.csv" => vec![BOARDS],
        "forms.csv" => vec![FORMS],
        "offsets.csv" => vec![OFFSETS, TABLE],
        "log.csv" => vec![
            include_str!("corpus/log.csv"),
            include_str!("corpus/log-by-hand.csv"),
        ],
        "out/laying-order.csv" => vec![LAYING],
        "out/plan.json" => vec![include_str!("corpus/plan.json")],
        "out/labels-printed.csv" => vec![include_str!("corpus/labels-printed.csv")],
        _ => vec![include_str!("corpus/spares.csv")],
    }
}

/// One of these texts with some of its bytes changed, dropped or doubled.
fn any_spoiled(file: &str) -> impl Strategy<Value = Vec<u8>> + use<> {
    prop::sample::select(corpus(file)).prop_flat_map(|text| spoiled(text.as_bytes().to_vec()))
}

/// Some bytes changed, dropped or doubled.
fn spoiled(bytes: Vec<u8>) -> impl Strategy<Value = Vec<u8>> {
    let change = (any::<prop::sample::Index>(), 0_u8..6, odd_bits());
    proptest::collection::vec(change, 0..6).prop_map(move |changes| {
        let mut bytes = bytes.clone();
        for (at, how, odd) in changes {
            let at = at
                .index(bytes.len().max(1))
                .min(bytes.len().saturating_sub(1));
            match how {
                0 if !bytes.is_empty() => {
                    bytes.remove(at);
                }
                1 => bytes.truncate(at),
                2 => {
                    bytes.splice(at..at, odd);
                }
                3 => {
                    let line = bytes[at..]
                        .split(|b| *b == b'\n')
                        .next()
                        .unwrap_or_default();
                    let line = [line, b"\n"].concat();
                    bytes.splice(at..at, line);
                }
                _ => {
                    let end = (at + odd.len()).min(bytes.len());
                    bytes.splice(at..end, odd);
                }
            }
        }
        bytes
    })
}

/// What breaks readers: quotes, delimiters, odd numbers, half a character, zero bytes.
fn odd_bits() -> impl Strategy<Value = Vec<u8>> {
    prop_oneof![
        prop::sample::select(vec![
            "\"",
            "\"\"",
            ",",
            ";",
            "\t",
            "\n",
            "\r",
            "\n\n",
            "'",
            "-",
            ".",
            "..",
            "1e400",
            "-1",
            "nan",
            "½",
            "#",
            "[",
            "]]",
            "= ",
            "99999999999999999999",
            "0",
            "é",
            "\u{feff}",
            "x",
            " ",
            "1/0",
            "4-1/2in",
            "-9223372036854775808",
        ])
        .prop_map(|text| text.as_bytes().to_vec()),
        proptest::collection::vec(any::<u8>(), 1..4),
    ]
}

pub fn is_judged(folder: &Folder) {
    match folder.read() {
        Ok(reading) => {
            let stock = &reading.job.stock;
            for (i, strip) in stock.strips.iter().enumerate() {
                assert!(strip.length.nm() > 0);
                if let Some(sister) = strip.sister {
                    assert_eq!(
                        stock.strip(sister).sister.map(|s| s.0),
                        Some(i),
                        "sisters name each other"
                    );
                }
                for defect in &strip.defects {
                    assert!(defect.from <= defect.to && defect.to.from_origin() <= strip.length);
                }
                assert!(
                    strip
                        .origin
                        .is_none_or(|origin| origin.board.0 < stock.boards.len())
                );
            }
            for course in &reading.job.hull.courses {
                assert!(course.from < course.to && course.length.nm() > 0);
                assert!(course.panel.0 < reading.job.hull.panels.len());
            }
        }
        Err(all) => {
            assert!(!all.is_empty());
            for complaint in all {
                let line = complaint.to_string();
                assert!(!line.contains('\n') && line.ends_with(['.', '?']), "{line}");
            }
        }
    }
}

/// How often each reader is tried: `TWINSTRAKE_FUZZ`.
pub fn cases() -> u32 {
    let asked = std::env::var("TWINSTRAKE_FUZZ").ok();
    asked.and_then(|count| count.parse().ok()).unwrap_or(400)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(), ..ProptestConfig::default() })]

    #[test]
    fn a_spoiled_sheet_of_strips_is_judged(bytes in any_spoiled("strips.csv")) {
        is_judged(&Folder::good().with("strips.csv", bytes));
    }

    #[test]
    fn a_spoiled_sheet_of_boards_is_judged(bytes in any_spoiled("boards.csv")) {
        is_judged(&Folder::good().without("strips.csv").with("boards.csv", bytes));
    }

    #[test]
    fn a_spoiled_sheet_of_strips_over_boards_is_judged(bytes in any_spoiled("strips.csv")) {
        is_judged(&Folder::good().with("boards.csv", BOARDS).with("strips.csv", bytes));
    }

    #[test]
    fn a_spoiled_sheet_of_measured_colours_is_judged(bytes in any_spoiled("colours.csv")) {
        let boards = Folder::good().without("strips.csv").with("boards.csv", BOARDS);
        is_judged(&boards.with("colours.csv", bytes));
    }

    #[test]
    fn a_spoiled_sheet_of_photographs_is_read_or_complained_of(bytes in any_spoiled("photos.csv")) {
        let folder = Folder::good().with("photos.csv", bytes);
        match folder.on_disk(job::read_photos) {
            Ok(photos) => prop_assert!(photos.photos.iter().all(|photo| !photo.strips.is_empty())),
            Err(all) => prop_assert!(!all.is_empty()),
        }
    }

    #[test]
    fn a_spoiled_sheet_of_courses_is_judged(bytes in any_spoiled("courses.csv")) {
        is_judged(&Folder::good().with("courses.csv", bytes));
    }

    #[test]
    fn a_spoiled_sheet_of_forms_is_judged(bytes in any_spoiled("forms.csv")) {
        is_judged(&Folder::good().without("courses.csv").with("forms.csv", bytes));
    }

    #[test]
    fn a_spoiled_table_of_offsets_in_either_layout_is_judged(bytes in any_spoiled("offsets.csv")) {
        let forms = Folder::good().without("courses.csv").with("forms.csv", FORMS);
        is_judged(&forms.with("offsets.csv", bytes));
    }

    #[test]
    fn a_spoiled_boat_is_judged(bytes in any_spoiled("boat.toml")) {
        is_judged(&Folder::good().with("boat.toml", bytes));
    }

    #[test]
    fn a_spoiled_log_is_judged(bytes in any_spoiled("log.csv"), order in any_spoiled("out/laying-order.csv")) {
        let folder = Folder::good().with("log.csv", bytes.clone());
        is_judged(&folder);
        is_judged(&folder.with("out/laying-order.csv", order));
    }

    #[test]
    fn any_bytes_at_all_are_judged(bytes in proptest::collection::vec(any::<u8>(), 0..300), file in 0_usize..5) {
        let file = ["boat.toml", "courses.csv", "strips.csv", "log.csv", "boards.csv"][file];
        is_judged(&Folder::good().with(file, bytes));
    }

    #[test]
    fn a_spoiled_laying_order_is_a_plan_or_complaints(bytes in any_spoiled("out/laying-order.csv")) {
        let folder = Folder::good().with("out/laying-order.csv", bytes);
        if let Err(all) = folder.on_disk(|dir| job::read_plan(dir, &folder.job())) {
            prop_assert!(!all.is_empty());
        }
    }

    #[test]
    fn what_was_told_and_printed_before_is_read_or_said_to_be_spoiled(
        plan in any_spoiled("out/plan.json"),
        labels in any_spoiled("out/labels-printed.csv"),
        spares in any_spoiled("out/spares.csv"),
    ) {
        let folder = Folder::good()
            .with("out/plan.json", plan)
            .with("out/labels-printed.csv", labels)
            .with("out/spares.csv", spares);
        folder.on_disk(|dir| {
            let reasons = [out::told(dir).err(), out::printed_before(dir, Unit::Mm).err()];
            out::number_in_force(dir);
            out::no_spare(dir);
            reasons.into_iter().flatten().for_each(|why| assert!(!why.is_empty()));
        });
    }

    /// Files that a writer was cut short in, some of them not what its list says, or none of ours: either all that
    /// are listed take their names, or nothing at all is touched.
    #[test]
    fn a_writing_that_was_cut_short_is_ended_whole_or_not_touched(
        waiting in proptest::collection::btree_set(prop::sample::select(WAITING.to_vec()), 0..5),
        list in (0_u8..8, any::<prop::sample::Index>()),
    ) {
        let old: BTreeMap<&str, Vec<u8>> = WAITING.iter().map(|name| (*name, b"old".to_vec())).collect();
        let mut text: String = { waiting.iter() }
            .map(|name| format!("{:x}  {name}\n", Sha256::digest(format!("new {name}"))))
            .collect();
        match list.0 {
            0 => text.truncate(list.1.index(text.len() + 1)),
            1 => text = text.replacen('a', "b", 1),
            _ => {}
        }
        let dir = TempDir::new().unwrap();
        let out = dir.path().join("out");
        let ready = out.join(".twinstrake-ready");
        fs::create_dir_all(&ready).unwrap();
        old.iter().for_each(|(name, bytes)| fs::write(out.join(name), bytes).unwrap());
        waiting.iter().for_each(|name| fs::write(ready.join(name), format!("new {name}")).unwrap());
        fs::write(ready.join("files.sha256"), text).unwrap();
        fs::write(dir.path().join("letters.csv"), "dear").unwrap();
        let ended = out::finish(dir.path());
        for name in old.keys() {
            let now = fs::read(out.join(name)).unwrap();
            let new = waiting.contains(name) && ended.is_ok();
            prop_assert_eq!(now, if new { format!("new {name}").into_bytes() } else { b"old".to_vec() });
        }
        prop_assert_eq!(ready.exists(), ended.is_err());
        prop_assert_eq!(fs::read(dir.path().join("letters.csv")).unwrap(), b"dear");
        if list.0 > 1 && waiting.iter().all(|name| !name.ends_with("exe")) {
            prop_assert!(ended.is_ok());
        }
    }
}

/// Names that could wait in a folder of ours, and one that could not.
const WAITING: [&str; 5] = [
    "laying-order.csv",
    "plan.json",
    "wood.svg",
    "labels.pdf",
    "twinstrake.exe",
];

#[test]
fn every_file_of_the_corpus_is_judged_as_it_is() {
    for file in [
        "boat.toml",
        "courses.csv",
        "strips.csv",
        "boards.csv",
        "log.csv",
        "out/laying-order.csv",
    ] {
        for text in corpus(file) {
            is_judged(&Folder::good().with(file, text));
        }
    }
    for text in corpus("offsets.csv") {
        is_judged(
            &Folder::good()
                .without("courses.csv")
                .with("forms.csv", FORMS)
                .with("offsets.csv", text),
        );
    }
    // And what looks like a good log is one: otherwise only complaints would be tried.
    let told = corpus("log.csv")[0];
    let reading = Folder::good()
        .with("out/laying-order.csv", LAYING)
        .with("log.csv", told)
        .reading();
    assert_eq!(reading.log.unwrap().entries.len(), 9);
}
