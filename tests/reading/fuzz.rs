//! Whatever is in the files, it is a job or a list of complaints.

use crate::boards::BOARDS;
use crate::complaints_forms::{FORMS, OFFSETS};
use crate::folder::{BOAT, COURSES, Folder, STRIPS};
use proptest::prelude::*;
use twinstrake::job;

/// A text with some of its bytes changed, dropped or doubled.
fn spoiled(text: &'static str) -> impl Strategy<Value = Vec<u8>> {
    let change = (any::<prop::sample::Index>(), 0_u8..4, odd_bits());
    proptest::collection::vec(change, 0..6).prop_map(move |changes| {
        let mut bytes = text.as_bytes().to_vec();
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
    fn a_spoiled_sheet_of_strips_is_judged(bytes in spoiled(STRIPS)) {
        is_judged(&Folder::good().with("strips.csv", bytes));
    }

    #[test]
    fn a_spoiled_sheet_of_boards_is_judged(bytes in spoiled(BOARDS)) {
        is_judged(&Folder::good().without("strips.csv").with("boards.csv", bytes));
    }

    #[test]
    fn a_spoiled_sheet_of_strips_over_boards_is_judged(bytes in spoiled(STRIPS)) {
        is_judged(&Folder::good().with("boards.csv", BOARDS).with("strips.csv", bytes));
    }

    #[test]
    fn a_spoiled_sheet_of_courses_is_judged(bytes in spoiled(COURSES)) {
        is_judged(&Folder::good().with("courses.csv", bytes));
    }

    #[test]
    fn a_spoiled_sheet_of_forms_is_judged(bytes in spoiled(FORMS)) {
        is_judged(&Folder::good().without("courses.csv").with("forms.csv", bytes));
    }

    #[test]
    fn a_spoiled_table_of_offsets_is_judged(bytes in spoiled(OFFSETS)) {
        let forms = Folder::good().without("courses.csv").with("forms.csv", FORMS);
        is_judged(&forms.with("offsets.csv", bytes));
    }

    #[test]
    fn a_spoiled_boat_is_judged(bytes in spoiled(BOAT)) {
        is_judged(&Folder::good().with("boat.toml", bytes));
    }

    #[test]
    fn any_bytes_at_all_are_judged(bytes in proptest::collection::vec(any::<u8>(), 0..300), file in 0_usize..3) {
        let file = ["boat.toml", "courses.csv", "strips.csv"][file];
        is_judged(&Folder::good().with(file, bytes));
    }

    #[test]
    fn a_spoiled_laying_order_is_a_plan_or_complaints(bytes in spoiled(
        "order,panel,course,side,piece,strip,mate,from,to,cut_from,cut_to,bow_end,next_edge,face_out\n\
         1,side,1,port,1,A1,A2,-25,4150,60,4235,mark,B,high\n\
         2,side,1,starboard,1,A2,A1,-25,4150,60,4235,mark,B,low\n"
    )) {
        let folder = Folder::good().with("out/laying-order.csv", bytes);
        if let Err(all) = folder.on_disk(|dir| job::read_plan(dir, &folder.job())) {
            prop_assert!(!all.is_empty());
        }
    }
}
