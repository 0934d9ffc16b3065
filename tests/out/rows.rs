//! The laying order and plan.json say the plan to the nanometre.

use crate::common::{Size, boat, first_plan, random_job};
use serde_json::Value;
use std::fs;
use tempfile::TempDir;
use twinstrake::check::check;
use twinstrake::hull::{CourseId, Side, Toward};
use twinstrake::job::{Job, read_plan};
use twinstrake::out::{Made, gap, laying_order, plan_json, side_mark};
use twinstrake::plan::{BowEnd, Edge, Face, Piece, Plan};
use twinstrake::stock::StripId;
use twinstrake::units::{Length, S, U, Unit};

fn json(job: &Job, plan: &Plan) -> Value {
    let made = Made {
        again: twinstrake::out::Again::FIRST,
        shortage: None,
        inputs: Vec::new(),
        seed: 1,
        rounds: 0,
        seconds: None,
        ended: "rounds".into(),
        cost: check(job, plan).cost,
        bound: None,
        bound_without_joints: None,
        bound_reason: "not asked for".into(),
    };
    serde_json::from_slice(&plan_json(job, plan, &made).unwrap()).unwrap()
}

#[test]
fn a_laying_order_reads_back_as_the_plan_it_was_written_from() {
    let mut pieces = 0;
    for seed in 0..40 {
        for unit in [Unit::Mm, Unit::Inch] {
            let mut job = random_job(seed, Size::Small);
            job.unit = unit;
            let plan = first_plan(&job, seed);
            pieces += plan.pieces.len();
            let folder = TempDir::new().unwrap();
            fs::create_dir(folder.path().join("out")).unwrap();
            let bytes = laying_order(&job, &plan).unwrap();
            fs::write(folder.path().join("out/laying-order.csv"), bytes).unwrap();
            assert_eq!(read_plan(folder.path(), &job).unwrap(), plan, "seed {seed}");
        }
    }
    assert!(pieces > 200, "{pieces} pieces tell little");
}

#[test]
fn plan_json_holds_the_same_rows_as_the_laying_order_to_the_nanometre() {
    for seed in 0..20 {
        for unit in [Unit::Mm, Unit::Inch] {
            let mut job = random_job(seed, Size::Small);
            job.unit = unit;
            let plan = first_plan(&job, seed);
            let json = json(&job, &plan);
            let bytes = laying_order(&job, &plan).unwrap();
            let mut sheet = csv::Reader::from_reader(bytes.as_slice());
            let header = sheet.headers().unwrap().clone();
            let rows = json["laying_order"].as_array().unwrap();
            assert_eq!(rows.len(), plan.pieces.len());
            for (record, row) in sheet.records().zip(rows) {
                // What a rule shows is for people alone.
                let record = record.unwrap();
                let cells = header.iter().zip(&record);
                for (column, cell) in cells.filter(|(column, _)| !column.ends_with("_64")) {
                    match &row[column] {
                        Value::String(text) => assert_eq!(text, cell, "{column}"),
                        Value::Null => assert_eq!(cell, "", "{column}"),
                        number => {
                            let nm = |value: f64| (value * unit.nm() as f64).round();
                            let (there, here) = (number.as_f64().unwrap(), cell.parse().unwrap());
                            assert_eq!(nm(there), nm(here), "{column}");
                        }
                    }
                }
            }
            assert_eq!(
                json["uncovered"].as_array().unwrap().len(),
                plan.uncovered.len()
            );
        }
    }
}

#[test]
fn a_row_says_where_the_piece_goes_in_the_words_of_the_formats() {
    let job = boat()
        .panel("side", Toward::Keel)
        .course(0.0, 3000.0)
        .board("oak", 2, 4000.0, 5)
        .build();
    let plan = Plan {
        pieces: vec![Piece {
            course: CourseId(0),
            side: Side::Starboard,
            number: 1,
            strip: StripId(1),
            mate: Some(StripId(0)),
            from: S::from_mm(-25.0),
            to: S::from_mm(3025.0),
            // A sixty-fourth of an inch, 396 875 nm: six decimals of a millimetre.
            cut_from: U::at(Length::from_nm(396_875)),
            cut_to: U::at(Length::from_nm(3_050_396_875)),
            bow_end: BowEnd::Plain,
            next_edge: Edge::A,
            face_out: Face::Low,
        }],
        uncovered: Vec::new(),
    };
    let text = String::from_utf8(laying_order(&job, &plan).unwrap()).unwrap();
    assert_eq!(
        text,
        "order,panel,course,side,piece,strip,mate,from,to,cut_from,cut_to,bow_end,next_edge,face_out,mark\n\
         1,side,1,starboard,1,oak-02,oak-01,-25.000,3025.000,0.396875,3050.396875,plain,A,low,/S\\1.1\n"
    );
}

#[test]
fn side_marks_differ_in_letter_and_in_shape() {
    let job = boat()
        .panel("side", Toward::Keel)
        .course(0.0, 3000.0)
        .build();
    let mark = |side| {
        let piece = Piece {
            course: CourseId(0),
            side,
            number: 2,
            strip: StripId(0),
            mate: None,
            from: S::ORIGIN,
            to: S::ORIGIN,
            cut_from: U::ORIGIN,
            cut_to: U::ORIGIN,
            bow_end: BowEnd::Mark,
            next_edge: Edge::A,
            face_out: Face::High,
        };
        side_mark(&job.hull, &piece)
    };
    assert_eq!(
        [Side::Port, Side::Starboard, Side::Centre].map(mark),
        ["[P]1.2", "/S\\1.2", "(C)1.2"]
    );
}

#[test]
fn the_gap_is_told_in_parts_of_the_bound() {
    // 105 is a twentieth above 100.
    assert_eq!(gap(105.0, Some(100.0)), Some(0.05));
    assert_eq!(gap(100.0, Some(100.0)), Some(0.0));
    // The bound and the total are summed in another order.
    assert_eq!(gap(100.0, Some(100.0 + 1e-12)), Some(0.0));
    assert_eq!(gap(100.0 + 5e-5, Some(100.0)), Some(0.0));
    assert!(gap(100.0 + 5e-3, Some(100.0)).unwrap() > 0.0);
    assert_eq!(gap(0.0, Some(0.0)), Some(0.0));
    assert_eq!(gap(3.0, Some(0.0)), None);
    assert_eq!(gap(3.0, None), None);
}
