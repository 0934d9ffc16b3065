//! The laying order, read back.

use crate::folder::{Folder, cases, lines, only};
use crate::says::Says;
use twinstrake::hull::{CourseId, Side};
use twinstrake::job::{self, Complaint};
use twinstrake::plan::{BowEnd, Edge, Face, Plan};
use twinstrake::stock::StripId;
use twinstrake::units::{S, U};

const LAYING: &str = "\
order,panel,course,side,piece,strip,mate,from,to,cut_from,cut_to,bow_end,next_edge,face_out
2,side,1,starboard,1,A2,A1,-25,4150,60,4235,mark,B,low
1,side,1,port,1,A1,A2,-25.000,4150.000,60.000,4235.000,mark,B,high
3,deck,2,centre,1,B1,,-25,3725,0,3750,plain,A,high
";

fn read(laying: &str) -> Result<Plan, Vec<Complaint>> {
    let folder = Folder::good().with("out/laying-order.csv", laying);
    folder.on_disk(|dir| job::read_plan(dir, &folder.job()))
}

fn complaint(old: &str, new: &str) -> String {
    assert_eq!(LAYING.matches(old).count(), 1, "{old}");
    only(&read(&LAYING.replace(old, new)).unwrap_err())
}

#[test]
fn rows_come_back_as_pieces_in_the_order_of_laying() {
    let plan = read(LAYING).unwrap();
    let sides: Vec<Side> = plan.pieces.iter().map(|p| p.side).collect();
    assert_eq!(sides, [Side::Port, Side::Starboard, Side::Centre]);
    let first = &plan.pieces[0];
    assert_eq!((first.strip, first.mate), (StripId(0), Some(StripId(1))));
    assert_eq!(
        (first.from, first.to),
        (S::from_mm(-25.0), S::from_mm(4150.0))
    );
    assert_eq!(
        (first.cut_from, first.cut_to),
        (U::from_mm(60.0), U::from_mm(4235.0))
    );
    assert_eq!(
        (first.bow_end, first.next_edge, first.face_out),
        (BowEnd::Mark, Edge::B, Face::High)
    );
    assert_eq!(plan.pieces[2].mate, None);
    assert_eq!(plan.pieces[2].bow_end, BowEnd::Plain);
    // side 1 and deck 2 have rows; side 2, side 3 and deck 1 have none.
    assert_eq!(plan.uncovered, [CourseId(1), CourseId(2), CourseId(3)]);
}

#[test]
fn a_laying_order_saved_again_by_a_spreadsheet_is_the_same_plan() {
    let saved = format!(
        "\u{feff}{}",
        LAYING
            .replace(',', ";")
            .replace("25.000", "25,000")
            .replace('\n', "\r\n")
    );
    assert_eq!(read(&saved).unwrap(), read(LAYING).unwrap());
}

#[test]
fn a_plan_that_covers_nothing_is_a_header_alone() {
    let plan = read(LAYING.lines().next().unwrap()).unwrap();
    assert_eq!((plan.pieces.len(), plan.uncovered.len()), (0, 5));
}

#[test]
fn without_a_plan_one_is_told_to_lay_first() {
    let folder = Folder::good();
    let all = folder
        .on_disk(|dir| job::read_plan(dir, &folder.job()))
        .unwrap_err();
    only(&all).is("out/laying-order.csv: there is no plan yet. Lay the job first.");
}

#[test]
fn rows_that_name_nothing_are_told() {
    let all = cases(
        r#"
        2,side,1,starboard => 2,sida,1,starboard
            line 2, panel: "sida" is not a panel of boat.toml. Did you mean "side"?
        2,side,1,starboard => 2,side,9,starboard
            line 2, course: "9" is not a course of panel "side" in courses.csv.
        2,side,1,starboard => 2,side,1,leeward
            line 2, side: "leeward" is not a side that we know. Write port, starboard or centre.
        A2,A1 => A22,A1
            line 2, strip: "A22" is not a strip in the rack. Did you mean "A2"?
        A2,A1 => ,A1
            line 2, strip: the field is empty. Write the name of a strip in the rack.
        A2,A1 => A2,Q77
            line 2, mate: "Q77" is not a strip in the rack.
        4235,mark => 4235,marked
            line 2, bow_end: "marked" is not a bow_end that we know. Did you mean "mark"?
        B,low => C,low
            line 2, next_edge: "C" is not a next_edge that we know.
        B,low => B,down
            line 2, face_out: "down" is not a face_out that we know. Write high or low.
        -25,4150,60 => -2.5.0,4150,60
            line 2, from: "-2.5.0" has two decimal points.
        2,side,1,starboard,1 => 2,side,1,starboard,0
            line 2, piece: "0" is not counted from 1.
        2,side => 1,side
            line 3, order: "1" is there twice: line 2 has the same number.
        3,deck => 4,deck
            line 4, order: "4" comes after a hole: row 3 is missing.
        mark,B,low => mark,B
            line 2: "2" begins a row of 13 fields where the header has 14.
        bow_end,next_edge => bow_end,edge
            line 1, next_edge: the column is missing.
        "#,
    );
    for (old, new, told) in all {
        complaint(old, new).begins(&format!("out/laying-order.csv, {told}"));
    }
}

#[test]
fn all_complaints_about_a_plan_come_at_once() {
    let laying = LAYING.replace("A2,A1", "A22,A1").replace("B1,,", "B11,,");
    let all = read(&laying).unwrap_err();
    assert_eq!(all.len(), 2, "{}", lines(&all));
}
