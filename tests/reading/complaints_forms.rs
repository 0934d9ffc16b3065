//! What can be wrong with forms.csv and offsets.csv, and what becomes of courses.csv beside them.

use crate::folder::{Folder, lines};
use crate::says::Says;
use twinstrake::hull::Stretch;

pub const FORMS: &str = "\
form,from_bow,side,deck
1,0,30,38
2,1000,38,38
3,2000,38,38
4,4000,20,30
";

fn good() -> Folder {
    Folder::good()
        .without("courses.csv")
        .with("forms.csv", FORMS)
}

fn complaint(old: &str, new: &str) -> String {
    good().change("forms.csv", old, new).complaint()
}

#[test]
fn forms_alone_make_the_courses() {
    let reading = good().reading();
    let hull = reading.job.hull;
    let names: Vec<String> = hull
        .courses
        .iter()
        .map(|course| format!("{} {}", hull.panel(course.panel).name, course.name()))
        .collect();
    assert_eq!(names, ["side 1", "side 2", "deck 1", "deck 2"]);
    assert_eq!(hull.forms.len(), 4);
    assert_eq!(hull.courses[0].crossings.len(), 4);
    let files: Vec<&str> = reading
        .digests
        .iter()
        .map(|digest| digest.file.as_str())
        .collect();
    assert_eq!(files, ["boat.toml", "forms.csv", "strips.csv"]);
}

#[test]
fn forms_in_inches_are_the_same_forms() {
    let boat = |units: &str| {
        good().change(
            "boat.toml",
            "units = \"mm\"",
            &format!("units = \"{units}\""),
        )
    };
    let inches = "form,from_bow,side\n1,0 mm,\"1 1/2\"\"\"\n2,\"78 3/4\"\"\",38.1 mm\n3,\"157 1/2\"\"\",19.05 mm\n";
    let mm = "form,from_bow,side\n1,0,38.1\n2,2000.25,38.1\n3,4000.5,19.05\n";
    let read = |sheet: &str| boat("mm").with("forms.csv", sheet).job().hull;
    assert_eq!(read(inches), read(mm));
}

#[test]
fn forms_out_of_order_or_on_one_spot_are_told() {
    complaint("3,2000", "3,900").is(
        "forms.csv, line 4, from_bow: \"900\" is forward of form \"2\" on line 3. Write the forms from the bow aft, each \
         farther from the bow than the one before.",
    );
    complaint("3,2000", "3,1000").is(
        "forms.csv, line 4, from_bow: \"1000\" is where form \"2\" on line 3 stands already. Write the forms from the \
         bow aft, each farther from the bow than the one before.",
    );
    complaint("3,2000", "2,2000")
        .is("forms.csv, line 4, form: \"2\" is there twice: line 3 has the same form. Give each form its own name.");
}

#[test]
fn a_girth_that_is_missing_in_the_middle_is_told() {
    complaint("3,2000,38,", "3,2000,,").is(
        "forms.csv, line 4, side: the field is empty, though the panel is there at forms \"2\" and \"4\". Tape the girth \
         of this form too; where the panel comes to nothing, write 0.",
    );
}

#[test]
fn a_single_girth_is_no_panel() {
    let one = good().with(
        "forms.csv",
        "form,from_bow,side,deck\n1,0,30,38\n2,1000,,38\n",
    );
    one.complaint().is(
        "forms.csv, line 2, side: is the only girth of this panel. Give the panel a girth at two forms at least, at the \
         forward one and the after one of which it ends.",
    );
}

#[test]
fn girths_in_the_wrong_unit_are_told_before_they_make_thousands_of_courses() {
    complaint("2,1000,38,", "2,1000,38 m,").is(
        "forms.csv: panel \"side\" comes to more than 1000 courses. Look whether the girths, and strip.width in \
         boat.toml, are in the job's units.",
    );
    complaint("2,1000,38,", "2,1000,-38,").says("is negative");
}

#[test]
fn a_panel_without_a_girth_is_warned_of() {
    let warning = good()
        .with("forms.csv", "form,from_bow,side\n1,0,30\n2,4000,38\n")
        .warning();
    warning.begins("forms.csv: panel \"deck\" has no course. Write its girths under its name");
}

pub const OFFSETS: &str = "\
form,panel,point,half_breadth,height
1,side,1,0,400
1,side,2,0,370
2,side,1,300,400
2,side,2,295,362
3,side,1,300,400
3,side,2,295,362
4,side,1,0,400
4,side,2,0,380
";

fn drawn() -> Folder {
    good().with("offsets.csv", OFFSETS)
}

fn of_offsets(old: &str, new: &str) -> String {
    lines(&drawn().change("offsets.csv", old, new).complaints())
}

#[test]
fn offsets_make_courses_longer_than_the_boat_is() {
    let bare = good().job().hull;
    let hull = drawn().job().hull;
    // From (0, 0) to (1000, 300), on to (2000, 300), and in to (4000, 0): the chords alone are 1044 + 1000 + 2022.
    assert!(
        hull.courses[0].length.mm() > 4066.0,
        "{:?}",
        hull.courses[0].length
    );
    assert_eq!(bare.courses[0].length.mm(), 4000.0);
    // The deck has none, and goes by its girths.
    assert_eq!(hull.courses[2], bare.courses[2]);
}

#[test]
fn offsets_that_double_back_or_stand_still_are_told() {
    let three = "2,side,2,295,362\n2,side,3,297,390\n";
    of_offsets("2,side,2,295,362\n", three).says(
        "offsets.csv, line 6: the section doubles back at the point before this one. Write the points in order from \
         start line to stop line",
    );
    of_offsets("2,side,2,295,362", "2,side,2,300,400").says("lies where the one before it lies");
}

#[test]
fn a_knuckle_is_marked_in_words_that_are_known() {
    let marked = |word: &str| {
        let mut sheet = OFFSETS.replace('\n', ",\n");
        sheet = sheet.replacen("height,", "height,knuckle", 1);
        drawn().with(
            "offsets.csv",
            sheet.replacen("362,\n", &format!("362,{word}\n"), 1),
        )
    };
    for word in ["", "yes", "X", "no"] {
        marked(word).job();
    }
    marked("perhaps")
        .complaint()
        .says("\"perhaps\" is not a knuckle that we know");
}

#[test]
fn offsets_of_no_form_no_panel_or_out_of_number_are_told() {
    of_offsets("4,side,2,", "44,side,2,").says("\"44\" is not a form of forms.csv");
    of_offsets("4,side,2,", "4,sid,2,").says("Did you mean \"side\"?");
    of_offsets("4,side,2,", "4,side,3,")
        .says("comes after a hole: point 2 of its section is missing");
    of_offsets("4,side,2,", "4,side,1,").says("is there twice: line 8 has the same point");
    of_offsets("3,side,2,295", "3,side,2,-295").says("is negative");
}

#[test]
fn a_tape_and_offsets_that_differ_are_told_apart() {
    let warning = drawn()
        .change("forms.csv", "2,1000,38,", "2,1000,48,")
        .warning();
    warning.is(
        "forms.csv, line 3, side: \"48 mm\" differs from the offsets, which make it 38 mm. The tape counts; look \
         whether both are of the same line.",
    );
    let without = OFFSETS.replace("4,side,1,0,400\n4,side,2,0,380\n", "");
    let complaint = drawn().with("offsets.csv", without).complaint();
    complaint.says("has a girth at form \"4\" and no offsets there");
}

#[test]
fn offsets_without_forms_have_nowhere_to_stand() {
    let complaint = Folder::good().with("offsets.csv", OFFSETS).complaint();
    complaint.begins("offsets.csv: is there without forms.csv");
}

#[test]
fn courses_written_by_hand_count_and_keep_the_marks_of_the_forms() {
    let by_hand =
        "panel,course,from,to,length\nside,1,0,4000,4100\nside,2,100,3900,\ndeck,1,0,4000,\n";
    let hull = good().with("courses.csv", by_hand).job().hull;
    assert_eq!(hull.courses.len(), 3);
    // Course 1 was worked out as 4000 mm long and is said to be 4100: every form moves along in proportion.
    let at: Vec<f64> = hull.courses[0]
        .crossings
        .iter()
        .map(|c| c.at.mm())
        .collect();
    assert_eq!(at, [0.0, 1025.0, 2050.0, 4100.0]);
    let at: Vec<f64> = hull.courses[1]
        .crossings
        .iter()
        .map(|c| c.at.mm())
        .collect();
    assert_eq!(at, [900.0, 1900.0]);
}

#[test]
fn stretches_written_by_hand_are_lettered_from_the_bow() {
    let sheet = |rows: &str| {
        Folder::good().with(
            "courses.csv",
            format!("panel,course,from,to\ndeck,1,0,4000\nside,1,0,4000\n{rows}"),
        )
    };
    let hull = sheet("side,2a,0,1500\nside,2B,2000,4000\n").job().hull;
    assert_eq!(hull.courses[2].stretch, Stretch::Part(1));
    let told = |rows: &str| sheet(rows).complaint();
    told("side,2a,0,1500\nside,2,2000,4000\n")
        .says("is a stretch of course 2, which is there whole");
    told("side,2b,2000,4000\n").says("comes after a hole in the letters");
    told("side,2a,0,2500\nside,2b,2000,4000\n").says("begins before stretch 2a ends");
    told("side,2ab,0,2500\n").says("is not a whole number");
}
