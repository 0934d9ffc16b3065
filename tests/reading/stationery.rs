//! What a job is printed on: `[paper]` of boat.toml, and the words for a grid.

use crate::folder::Folder;
use crate::says::Says;
use twinstrake::job::stationery::{grid, label_stock, tape};
use twinstrake::job::{LabelStock, Page, Stationery};
use twinstrake::units::{Length, Unit};

fn mm(length: f64) -> Length {
    Length::from_mm(length)
}

#[test]
fn a_grid_may_be_named_or_measured_in_the_jobs_unit_or_any_other() {
    let by_name = grid("Letter 3x10", Unit::Mm).unwrap();
    let measured = "letter 3 x 10 label 2 5/8 x 1 from 3/16, 1/2 pitch 2 3/4 x 1";
    assert_eq!(grid(measured, Unit::Inch).unwrap().width, mm(66.675));
    assert_eq!(grid(measured, Unit::Inch).unwrap().pitch_x, by_name.pitch_x);
    let metric = "A4 2x5 label 9 cm x 50 mm from 10, 20 pitch 95 x 52";
    let of_ours = grid(metric, Unit::Mm).unwrap();
    assert_eq!((of_ours.columns, of_ours.rows), (2, 5));
    assert_eq!((of_ours.width, of_ours.height), (mm(90.0), mm(50.0)));
    assert_eq!((of_ours.left, of_ours.top), (mm(10.0), mm(20.0)));
    assert_eq!((of_ours.pitch_x, of_ours.pitch_y), (mm(95.0), mm(52.0)));
    // A known grid whose make lies a little off: only what differs need be told.
    let shifted = grid("a4-3x7 from 7.5, 14.8", Unit::Mm).unwrap();
    assert_eq!(
        (shifted.left, shifted.top, shifted.width),
        (mm(7.5), mm(14.8), mm(63.5))
    );
}

#[test]
fn tape_has_a_width_and_may_have_a_length_and_flags_need_no_size() {
    let read = |text| label_stock(text, Unit::Mm, Page::A4).unwrap();
    assert_eq!(
        read("tape 24"),
        LabelStock::Tape {
            width: mm(24.0),
            length: mm(70.0)
        }
    );
    assert_eq!(
        read("Tape 1/2 in x 3 in"),
        LabelStock::Tape {
            width: mm(12.7),
            length: mm(76.2)
        }
    );
    assert_eq!(read("flags"), LabelStock::Flags(Page::A4));
    assert!(tape("0", Unit::Mm).is_err() && tape("-3", Unit::Mm).is_err());
}

#[test]
fn a_sheet_that_can_not_be_is_refused_with_what_is_wrong() {
    let wrong = |text: &str| grid(text, Unit::Mm).unwrap_err().wrong;
    wrong("A4 3x7 label 80 x 30 from 5, 5").says("is 245.0 mm wide on a page of 210.0 mm");
    wrong("A4 3x7 label 60 x 50 from 5, 5").says("is 355.0 mm high on a page of 297.0 mm");
    wrong("A4 3x7 label 60 x 30 from 5, 5 pitch 50 x 30").says("lie over each other");
    wrong("A4 0x7 label 60 x 30 from 5, 5").says("not a sheet of labels");
    wrong("A5 3x7").says("not a sheet of labels");
    wrong("A4 6x9").says("not a grid that we know");
    wrong("A4 3x7 label 6o x 30 from 5, 5").says("6o");
    wrong("").says("not a sheet of labels");
}

#[test]
fn without_a_word_about_paper_a_job_in_mm_takes_a4_and_one_in_inches_letter() {
    assert_eq!(Stationery::usual(Unit::Mm).page, Page::A4);
    assert_eq!(Stationery::usual(Unit::Inch).page, Page::LETTER);
}

#[test]
fn a_slip_in_the_table_paper_is_complained_of_at_its_line() {
    let with = |paper: &str| {
        let folder = Folder::good();
        folder.change(
            "boat.toml",
            "[strip]",
            &format!("[paper]\n{paper}\n[strip]"),
        )
    };
    let complaint = with("labels = \"A4 9x9\"").complaint();
    complaint.says("paper.labels: \"A4 9x9\" is not a grid that we know by name.");
    let complaint = with("page = \"A3\"").complaint();
    complaint.says("paper.page: \"A3\"");
    let warning = with("pages = \"A4\"").warning();
    warning.says("Did you mean \"page\"?");
}
