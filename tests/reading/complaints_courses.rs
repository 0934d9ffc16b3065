//! What can be wrong with courses.csv.

use crate::folder::{COURSES, Folder, cases, lines};
use crate::says::Says;
use twinstrake::hull::{End, Kind, PanelId};
use twinstrake::units::{Length, X};

fn complaint(old: &str, new: &str) -> String {
    Folder::good().change("courses.csv", old, new).complaint()
}

fn warning(old: &str, new: &str) -> String {
    Folder::good().change("courses.csv", old, new).warning()
}

#[test]
fn courses_read_with_their_defaults() {
    let job = Folder::good().job();
    let second = &job.hull.courses[1];
    assert_eq!((second.panel, second.number), (PanelId(0), 2));
    assert_eq!(second.kind, Kind::Mirrored);
    assert_eq!(
        (second.bow_end, second.stern_end),
        (End::Fitted, End::Fitted)
    );
    assert_eq!(second.length, Length::from_mm(3900.0), "3950 - 50");
    assert_eq!(job.hull.courses[0].length, Length::from_mm(4100.0));
    assert_eq!(job.hull.courses[0].stern_end, End::Free);
    assert_eq!(job.hull.courses[2].bow_end, End::Free);
    assert_eq!(job.hull.courses[4].kind, Kind::Centre);
}

#[test]
fn courses_may_come_in_any_order_and_begin_forward_of_the_bow() {
    let mut rows: Vec<&str> = COURSES.lines().collect();
    rows[1..].reverse();
    let turned = Folder::good().with("courses.csv", rows.join("\n")).job();
    assert_eq!(turned.hull, Folder::good().job().hull);
    let job = Folder::good()
        .change("courses.csv", "side,2,,50,", "side,2,,-50,")
        .job();
    assert_eq!(job.hull.courses[1].from, X::from_mm(-50.0));
}

#[test]
fn columns_that_are_not_needed_may_be_left_out() {
    let job = Folder::good()
        .with(
            "courses.csv",
            "to,from,course,panel\n4000,0,1,side\n3950,50,2,side\n3000,100,1,deck\n",
        )
        .job();
    assert_eq!(job.hull.courses.len(), 3);
    assert_eq!(job.hull.courses[2].length, Length::from_mm(2900.0));
}

#[test]
fn a_missing_column_is_told_with_the_one_that_is_like_it() {
    complaint("course,kind,from,to", "course,kind,form,to").is(
        "courses.csv, line 1, from: the column is missing. Rename the column \"form\" to \"from\".",
    );
    complaint("course,kind,from,to", "course,kind,begin,to").is(
        "courses.csv, line 1, from: the column is missing. Add it; the header is then \
         panel,course,kind,from,to,length,bow_end,stern_end.",
    );
    complaint("kind,from,to", "from,from,to")
        .is("courses.csv, line 1, from: the header names this column twice. Keep one of the two.");
}

#[test]
fn an_unknown_panel_is_told_with_the_nearest() {
    complaint("deck,1,mirrored", "dekc,1,mirrored").is(
        "courses.csv, line 5, panel: \"dekc\" is not a panel of boat.toml. Did you mean \"deck\"?",
    );
    complaint("deck,2,centre", "foredeck,1,centre").is(
        "courses.csv, line 6, panel: \"foredeck\" is not a panel of boat.toml. Write side or deck.",
    );
    complaint("deck,2,centre", ",1,centre").is(
        "courses.csv, line 6, panel: the field is empty. Write the name of a panel of boat.toml.",
    );
}

#[test]
fn course_numbers_run_without_a_hole_and_each_is_there_once() {
    complaint("side,2,,50,3950,,,\n", "").is(
        "courses.csv, line 3, course: \"3\" comes after a hole: course 2 of panel \"side\" is missing. Number the \
         courses of a panel 1, 2, 3 and so on from its start line.",
    );
    complaint("deck,2,centre", "deck,5,centre").is(
        "courses.csv, line 6, course: \"5\" comes after a hole: courses 2 to 4 of panel \"deck\" are missing. Number \
         the courses of a panel 1, 2, 3 and so on from its start line.",
    );
    complaint("deck,2,centre", "deck,1,centre").is(
        "courses.csv, line 6, course: \"1\" is there twice: line 5 has the same course of panel \"deck\". Give each \
         course of a panel its own number.",
    );
}

#[test]
fn a_bad_row_does_not_also_make_a_hole() {
    complaint("side,2,,50,3950,,,", "side,2nd,,50,3950,,,")
        .is("courses.csv, line 3, course: \"2nd\" is not a whole number. Write a whole number: 1, 2, 3 and so on.");
    complaint("side,2,,50,3950,,,", "side,2,,50,3950").begins("courses.csv, line 3: ");
}

#[test]
fn a_course_runs_aft_from_its_bow_end() {
    complaint("0,4000,4100", "4000,0,4100").is(
        "courses.csv, line 2, to: \"0\" is not aft of from, \"4000\". Write from and to as distances from the bow, \
         the course's bow end first.",
    );
    complaint("0,4000,4100", "4000,4000,4100").says("is not aft of from");
}

#[test]
fn numbers_and_words_that_make_no_sense_are_told() {
    let all = cases(
        r#"
        side,1,mirrored => side,0,mirrored
            line 2, course: "0" is not counted from 1. Write 1 for the first.
        side,1,mirrored => side,-1,mirrored
            line 2, course: "-1" is not a whole number
        side,1,mirrored => side,1.0,mirrored
            line 2, course: "1.0" is not a whole number
        side,1,mirrored => side,99999999999,mirrored
            line 2, course: "99999999999" is far too large a number
        side,1,mirrored => side,,mirrored
            line 2, course: the field is empty
        side,1,mirrored => side,1,mirored
            line 2, kind: "mirored" is not a kind that we know. Did you mean "mirrored"?
        side,1,mirrored => side,1,center
            line 2, kind: "center" is not a kind that we know. Did you mean "centre"?
        fitted,free => fitted,loose
            line 2, stern_end: "loose" is not a stern_end that we know. Write fitted or free.
        0,4000,4100 => 0,4.0.00,4100
            line 2, to: "4.0.00" has two decimal points. Write 4000, or 4.000 m.
        0,4000,4100 => ,4000,4100
            line 2, from: the field is empty. Write 4978, or 4.978 m.
        0,4000,4100 => 0,4000,0
            line 2, length: "0" is nothing. Write a length of more than 0.
        0,4000,4100 => 0,4000,-4100
            line 2, length: "-4100" is negative. Write a length of more than 0.
        0,4000,4100 => 0,1e99,4100
            line 2, to: "1e99" has an unknown unit, e.
        0,4000,4100 => 0,4000,999999999999999
            line 2, length: "999999999999999" is far too large.
        "#,
    );
    for (old, new, told) in all {
        complaint(old, new).begins(&format!("courses.csv, {told}"));
    }
}

#[test]
fn rows_with_too_few_or_too_many_fields_are_told() {
    complaint(
        "deck,1,mirrored,200,3800,3600,fitted,fitted",
        "deck,1,mirrored,200"
    ).is(
        "courses.csv, line 5: \"deck\" begins a row of 4 fields where the header has 8. Give every row as many fields \
         as the header, empty ones too; or take columns that you don't fill out of the header.",
    );
    complaint("3600,fitted,fitted", "3600,5,fitted,fitted").is(
        "courses.csv, line 5: \"deck\" begins a row of 9 fields where the header has 8. Put a field that has the \
         delimiter inside it in quotes; with decimal commas, use semicolons between the fields.",
    );
    let more = Folder::good().change("courses.csv", "3600,fitted,fitted", "3600,fitted,fitted,,,");
    assert_eq!(
        more.job(),
        Folder::good().job(),
        "empty fields behind a row say nothing"
    );
}

#[test]
fn a_skin_shorter_than_the_straight_way_is_warned_of() {
    warning("0,4000,4100", "0,4000,3100").is(
        "courses.csv, line 2, length: \"3100\" is shorter than the 4000 mm from one end of the course to the other. A \
         skin can't be shorter than the straight way: measure again, or leave length empty.",
    );
    warning("0,4000,4100", "0,4000,41000").says("is more than twice the 4000 mm");
    assert!(
        Folder::good()
            .change("courses.csv", "0,4000,4100", "0,4000,3999.6")
            .reading()
            .warnings
            .is_empty()
    );
}

#[test]
fn a_course_of_fifty_metres_is_most_likely_a_slip_of_units() {
    warning("side,2,,50,3950", "side,2,,50,50 m").is(
        "courses.csv, line 3, to: \"50 m\" makes a course of 49.95 m, most likely a slip of units. Bare numbers are in \
         mm; write the unit behind a number in another.",
    );
}

#[test]
fn a_centre_course_between_others_is_warned_of() {
    warning("side,2,,50", "side,2,Centre,50").is(
        "courses.csv, line 3, kind: a centre course stands between two others, where only the first or the last of a \
         panel can lie on the centreline. Look at its number and kind.",
    );
}

#[test]
fn a_panel_without_a_course_is_warned_of() {
    let rows: Vec<&str> = COURSES
        .lines()
        .filter(|row| !row.starts_with("deck"))
        .collect();
    let warning = Folder::good()
        .with("courses.csv", rows.join("\n"))
        .warning();
    warning
        .is("courses.csv: panel \"deck\" has no course. Write its courses, or take the panel out of boat.toml.");
}

#[test]
fn rows_are_judged_even_where_boat_toml_is_not_there() {
    let all = Folder::good()
        .without("boat.toml")
        .change("courses.csv", "side,2,,50,", "side,2,,5.0.0,")
        .complaints();
    assert_eq!(all.len(), 2, "{}", lines(&all));
    assert_eq!(
        (all[1].line, all[1].column.as_deref()),
        (Some(3), Some("from"))
    );
}
