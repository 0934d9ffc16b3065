//! What can be wrong with strips.csv.

use crate::folder::{Folder, STRIPS, cases, lines};
use crate::says::Says;
use twinstrake::stock::{Defect, StripId};
use twinstrake::units::{Length, U};

fn complaint(old: &str, new: &str) -> String {
    Folder::good().change("strips.csv", old, new).complaint()
}

fn warning(old: &str, new: &str) -> String {
    Folder::good().change("strips.csv", old, new).warning()
}

fn defects(text: &str) -> Vec<(f64, f64)> {
    let job = Folder::good()
        .change("strips.csv", "1200-1260; 2210", text)
        .job();
    let strip = job.stock.strips.iter().find(|s| s.name == "A2").unwrap();
    strip
        .defects
        .iter()
        .map(|d| (d.from.mm(), d.to.mm()))
        .collect()
}

#[test]
fn strips_and_boards_come_in_the_order_of_their_names_whatever_the_order_of_rows() {
    let job = Folder::good().job();
    let names: Vec<&str> = job.stock.strips.iter().map(|s| s.name.as_str()).collect();
    assert_eq!(names, ["A1", "A2", "A3", "A4", "A10", "B1", "B2", "S"]);
    assert_eq!(job.stock.boards, ["A", "B"]);
    let mut rows: Vec<&str> = STRIPS.lines().collect();
    rows[1..].reverse();
    assert_eq!(
        Folder::good().with("strips.csv", rows.join("\n")).job(),
        job
    );
    rows[1..].sort_by_key(|row| row.len());
    assert_eq!(
        Folder::good().with("strips.csv", rows.join("\n")).job(),
        job
    );
}

#[test]
fn a_strip_reads_as_it_is_written() {
    let job = Folder::good().job();
    let strip = &job.stock.strips[1];
    assert_eq!(strip.length, Length::from_mm(4310.0));
    assert_eq!(
        (strip.grain.as_str(), strip.notes.as_str()),
        ("straight", "knot")
    );
    assert_eq!(
        strip.defects,
        [
            Defect {
                from: U::from_mm(1200.0),
                to: U::from_mm(1260.0)
            },
            Defect {
                from: U::from_mm(2210.0),
                to: U::from_mm(2210.0)
            },
        ]
    );
    let origin = strip.origin.unwrap();
    assert_eq!(
        (job.stock.boards[origin.board.0].as_str(), origin.seq),
        ("A", 2)
    );
    assert_eq!(job.stock.strips[0].width, Some(Length::from_mm(19.0)));
    assert_eq!(strip.width, None);
    assert_eq!(
        job.stock.strips[6].length,
        Length::from_mm(25.4 * 153.5),
        "12 ft 9 1/2 in is 153.5 in"
    );
    assert_eq!(job.stock.strips[7].origin, None);
}

#[test]
fn sisters_are_named_or_else_neighbours_in_seq() {
    let stock = Folder::good().job().stock;
    assert_eq!(stock.strips[2].sister, Some(StripId(3)));
    assert!(
        stock.are_sisters(StripId(0), StripId(1)),
        "A1 and A2 are neighbours"
    );
    assert!(
        stock.are_sisters(StripId(2), StripId(3)),
        "A3 and A4 name each other"
    );
    assert!(
        !stock.are_sisters(StripId(1), StripId(2)),
        "A3 has another sister"
    );
}

#[test]
fn a_sister_must_be_a_slice_of_the_same_board_that_names_back() {
    let cases = [
        (
            "straight,A3,,",
            "straight,,,",
            "strips.csv, line 4, sister: \"A4\" does not name A3 back: its own sister, in line 6, is empty. Let A3 and \
             A4 name each other, or leave both empty to go by seq.",
        ),
        (
            "straight,A3,,",
            "straight,A33,,",
            "strips.csv, line 4, sister: \"A4\" does not name A3 back: in line 6 it names A33. Let A3 and A4 name each \
             other, or leave both empty to go by seq.\n\
             strips.csv, line 6, sister: \"A33\" is not a strip in the rack. Did you mean \"A3\"? Leave it empty to \
             go by seq.",
        ),
        (
            "A4,A,4",
            "A4,B,4",
            "strips.csv, line 4, sister: \"A4\" comes from another board, \"B\", where this strip is from \"A\". Sisters \
             are slices of one board: mend the board, or the sister.\n\
             strips.csv, line 6, sister: \"A3\" comes from another board, \"A\", where this strip is from \"B\". Sisters \
             are slices of one board: mend the board, or the sister.",
        ),
        (
            "A4,A,4",
            "A4,,",
            "strips.csv, line 4, sister: \"A4\" is a stray, whose board is not known. Give its board and seq, or leave \
             sister empty.\n\
             strips.csv, line 6, sister: \"A3\" is named by a stray, whose board is not known. Give board and seq, or \
             leave sister empty.",
        ),
        (
            "B1,B,1,3.9 m,,,5,wavy,,",
            "B1,B,1,3.9 m,,,5,wavy,B1,",
            "strips.csv, line 7, sister: \"B1\" is the strip itself. Name the slice that shared its saw cut, or leave it \
             empty to go by seq.",
        ),
    ];
    for (old, new, told) in cases {
        let all = Folder::good().change("strips.csv", old, new).complaints();
        assert_eq!(lines(&all), told);
    }
}

#[test]
fn named_sisters_that_are_not_neighbours_are_warned_of() {
    warning("A4,A,4", "A4,A,7").is(
        "strips.csv, line 4, sister: \"A4\" is 4 slices away in seq, where sisters are neighbours. Look at the seq of \
         both.",
    );
}

#[test]
fn a_strip_that_could_not_be_read_is_still_somebodys_sister() {
    let text = complaint("A4,A,4,4300", "A4,A,four,4300");
    text.begins("strips.csv, line 6, seq: \"four\" is not a whole number.");
}

#[test]
fn every_strip_has_a_name_of_its_own() {
    complaint("B2,B,2", "A1,B,2").is(
        "strips.csv, line 8, strip: \"A1\" is there twice: line 2 has a strip of this name. Give every strip a name of \
         its own.",
    );
    complaint("B2,B,2", ",B,2")
        .is("strips.csv, line 8, strip: the field is empty. Give every strip a name of its own.");
}

#[test]
fn a_board_has_each_seq_once_and_board_goes_with_seq() {
    complaint("A10,A,5", "A10,A,2").is(
        "strips.csv, line 5, seq: \"2\" is there twice in board \"A\": strip A2 in line 3 has it. Number the slices of a \
         board 1, 2, 3 and so on as they came off.",
    );
    complaint("B2,B,2", "B2,B,").is(
        "strips.csv, line 8, seq: the field is empty, but board is \"B\". Write the strip's place in the board, 1, 2, 3 \
         and so on, or empty both for a stray.",
    );
    complaint("B2,B,2", "B2,,2").is(
        "strips.csv, line 8, board: the field is empty, but seq is \"2\". Write the board, or empty both for a \
         stray.",
    );
    complaint("B2,B,2", "B2,B,0").says("seq: \"0\" is not counted from 1");
}

#[test]
fn a_length_that_can_not_be_is_told() {
    let all = cases(
        r#"
        4310 => 4.97.8
            "4.97.8" has two decimal points. Write 4978, or 4.978 m.
        4310 => -4310
            "-4310" is negative. Write a length of more than 0.
        4310 => 0
            "0" is nothing. Write a length of more than 0.
        4310 =>
            the field is empty. Write 4978, or 4.978 m.
        4310 => nan
            "nan" is not a length. Write 4978, or 4.978 m.
        4310 => 4 310
            "4 310" has two numbers side by side. Write 4310.
        4310 => 3/4
            "3/4" is a fraction without a unit, in a job in mm. Write 3/4 in, or the length in mm.
        4310 => 9999999999999999999
            "9999999999999999999" is far too large. Write a length in mm, as 4978, or with its unit, as 4.978 m.
        "#,
    );
    let rest = ",,,70.5 8 24,straight,,";
    for (old, new, told) in all {
        let (old, new) = (
            format!("{old}{rest}1200-1260; 2210"),
            format!("{new}{rest}"),
        );
        let folder = Folder::good().change("strips.csv", &old, &new);
        lines(&folder.complaints()).is(&format!("strips.csv, line 3, length: {told}"));
    }
    complaint("4310,,,70.5", "\"4310,5\",,,70.5").is(
        "strips.csv, line 3, length: \"4310,5\" has a comma in a number. Write 4310.5; a decimal comma is read where \
         semicolons stand between the fields.",
    );
}

#[test]
fn a_length_that_is_hardly_meant_is_warned_of() {
    warning("A1,A,1,4300", "A1,A,1,49780").is(
        "strips.csv, line 2, length: \"49780\" is 49.78 m, most likely a slip of units. Bare numbers are in mm; write \
         the unit behind a number in another.",
    );
    warning("A1,A,1,4300", "A1,A,1,4.3").is(
        "strips.csv, line 2, length: \"4.3\" is only 4.3 mm, most likely a slip of units. Bare numbers are in mm; write \
         the unit behind a number in another.",
    );
    // The longest course of this boat is 1000 mm, four times that 4000 mm.
    let small = Folder::good()
        .with(
            "courses.csv",
            "panel,course,from,to\nside,1,1000,2000\ndeck,1,1000,2000\n",
        )
        .change("boat.toml", "courses = [1, 2]\n", "")
        .with(
            "strips.csv",
            "strip,board,seq,length,colour\nA1,A,1,4000,5\nA2,A,2,4001,5\n",
        );
    small.warning().is(
        "strips.csv, line 3, length: \"4001\" is 4.00 m, more than 4 times the longest course, 1.00 m: most likely a \
         slip of units. Bare numbers are in mm; write the unit behind a number in another.",
    );
}

#[test]
fn a_job_in_inches_is_told_so_in_inches() {
    let with = |strips: &str| {
        Folder::good()
            .change("boat.toml", "units = \"mm\"", "units = \"in\"")
            .change("boat.toml", "width = 19", "width = 0.75")
            .change("boat.toml", "thickness = 6", "thickness = 0.25")
            .with(
                "courses.csv",
                "panel,course,from,to\nside,1,0,157.5\ndeck,1,0,100\n",
            )
            .change("boat.toml", "courses = [1, 2]\n", "")
            .with("strips.csv", strips)
    };
    let told = with("strip,board,seq,length,colour\nA1,A,1,5233,5\n")
        .reading()
        .warnings;
    let told = lines(&told);
    let slip = "strips.csv, line 2, length: \"5233\" is 436' 1\", most likely a slip of units. Bare numbers are in \
        inches; write the unit behind a number in another.";
    told.says(slip);
    let told = with("strip,board,seq,length,width,colour\nA1,A,1,160 1/4,0.7,5\n")
        .reading()
        .warnings;
    let told = lines(&told);
    let narrow = "width: \"0.7\" is more than 1/64\" less than the 3/4\" of boat.toml";
    told.says(narrow);
}

#[test]
fn defects_are_stretches_or_places_and_those_that_meet_are_one() {
    assert_eq!(defects(""), []);
    assert_eq!(defects("1200-1260"), [(1200.0, 1260.0)]);
    assert_eq!(
        defects("2210; 1200 - 1260;"),
        [(1200.0, 1260.0), (2210.0, 2210.0)]
    );
    assert_eq!(defects("1200–1260"), [(1200.0, 1260.0)]);
    assert_eq!(defects("1.2 m - 1.26 m"), [(1200.0, 1260.0)]);
    assert_eq!(
        defects("1.2-1.26 m"),
        [(1200.0, 1260.0)],
        "the unit holds for both"
    );
    assert_eq!(defects("47-50in"), [(1193.8, 1270.0)]);
    assert_eq!(
        defects("4-1/2in"),
        [(114.3, 114.3)],
        "four and a half inches"
    );
    assert_eq!(defects("4-1/2in - 5-1/2in"), [(114.3, 139.7)]);
    assert_eq!(defects("0-1/2in"), [(0.0, 12.7)]);
    assert_eq!(defects("4' - 4' 2\""), [(1219.2, 1270.0)]);
    assert_eq!(
        defects("1200-1260; 1250-1300; 1300; 1310-1320"),
        [(1200.0, 1300.0), (1310.0, 1320.0)]
    );
    assert_eq!(defects("1200-1400; 1250-1300"), [(1200.0, 1400.0)]);
    assert_eq!(defects("0-4310"), [(0.0, 4310.0)], "the whole strip");
}

#[test]
fn a_defect_lies_on_the_strip_and_runs_from_the_marked_end() {
    let change = |text: &str| complaint("1200-1260; 2210", text);
    change("1200-1260; 4300-4400").is(
        "strips.csv, line 3, defects: \"4300-4400\" lies outside the strip, which is 4310 mm long. Measure from the \
         marked end.",
    );
    change("-5").says("defects: \"-5\" lies outside the strip");
    change("5000").says("defects: \"5000\" lies outside the strip");
    change("1260-1200").is(
        "strips.csv, line 3, defects: \"1260-1200\" ends before it begins. Write the end nearer the marked end \
         first.",
    );
    change("1200-12.6.0").is(
        "strips.csv, line 3, defects: \"1200-12.6.0\" can't be read. Write a stretch as 1200-1260, a break as 2210, and \
         a semicolon between two.",
    );
    change("knot").says("defects: \"knot\" can't be read");
}

#[test]
fn a_strip_too_narrow_or_too_thin_is_a_cull() {
    // Half a millimetre is what sanding takes off: 18.5 of 19 will do, 18.4 won't.
    let job = |old: &str, new: &str| Folder::good().change("strips.csv", old, new).job();
    assert!(!job("4300,19,6", "4300,18.5,5.5").stock.strips[0].cull);
    assert!(job("4300,19,6", "4300,18.4,6").stock.strips[0].cull);
    assert!(job("4300,19,6", "4300,19,5.4").stock.strips[0].cull);
    warning("4300,19,6", "4300,19,5.4").is(
        "strips.csv, line 2, thickness: \"5.4\" is more than 0.5 mm less than the 6 mm of boat.toml, so nothing is cut \
         from this strip. Measure again, or leave it out of the rack.",
    );
    complaint("4300,19,6", "4300,-19,6")
        .says("width: \"-19\" is negative. Write a width of more than 0.");
}

#[test]
fn unknown_columns_are_reported_once() {
    warning("grain,sister", "figure,sister").is(
        "strips.csv, line 1: \"figure\" is not a column that we read, and is passed over. Nothing to do, if that was \
         meant.",
    );
    warning("grain,sister,defects,notes", "grian,sister,defects,bin").is(
        "strips.csv, line 1: \"grian, bin\" are not columns that we read, and are passed over. Did you mean \"grain\" by \
         \"grian\"?",
    );
}

#[test]
fn american_spelling_of_colour_is_helped() {
    complaint("thickness,colour", "thickness,color")
        .is("strips.csv, line 1, colour: the column is missing. Rename the column \"color\" to \"colour\".");
}
