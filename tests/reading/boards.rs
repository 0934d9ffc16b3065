//! boards.csv: what all slices of a board have in common, said once; and strips.csv over it.

use crate::folder::{Folder, cases, lines};
use crate::says::Says;
use proptest::prelude::*;
use twinstrake::job::Job;
use twinstrake::stock::Strip;
use twinstrake::units::Length;

pub const BOARDS: &str = "\
board,slices,length,width,thickness,colour,grain,lengths,defects,colours,spoiled,notes
A,6,4300,60,19.5,70 8 24,straight,3: 4120; 5-6: 4280,2-4: 1310-1345; 2: 3920,5: #c4936a,4,from the loft
B,2,3.9 m,,,5,,,850-870,,,
C,,4500,120,,,,,,,,not sawn yet
";

fn folder() -> Folder {
    Folder::good()
        .without("strips.csv")
        .with("boards.csv", BOARDS)
}

fn with_strips(rows: &str) -> Folder {
    folder().with("strips.csv", rows)
}

fn strip(job: &Job, name: &str) -> Strip {
    let strip = job.stock.strips.iter().find(|strip| strip.name == name);
    strip
        .unwrap_or_else(|| panic!("{name} is not in the rack"))
        .clone()
}

fn defects(strip: &Strip) -> Vec<(f64, f64)> {
    strip
        .defects
        .iter()
        .map(|d| (d.from.mm(), d.to.mm()))
        .collect()
}

fn complaint(old: &str, new: &str) -> String {
    folder().change("boards.csv", old, new).complaint()
}

#[test]
fn a_board_gives_its_slices_what_they_have_in_common_and_what_differs() {
    let job = folder().job();
    let names: Vec<&str> = job
        .stock
        .strips
        .iter()
        .map(|strip| strip.name.as_str())
        .collect();
    assert_eq!(
        names,
        ["A1", "A2", "A3", "A5", "A6", "B1", "B2"],
        "A4 is spoiled, C is not sawn"
    );
    let lengths = ["A1", "A3", "A5", "B2"].map(|name| strip(&job, name).length.mm());
    assert_eq!(lengths, [4300.0, 4120.0, 4280.0, 3900.0]);
    assert_eq!(defects(&strip(&job, "A1")), []);
    assert_eq!(
        defects(&strip(&job, "A2")),
        [(1310.0, 1345.0), (3920.0, 3920.0)]
    );
    assert_eq!(
        defects(&strip(&job, "B1")),
        [(850.0, 870.0)],
        "a knot goes through the board"
    );
    assert_ne!(strip(&job, "A5").colour, strip(&job, "A6").colour);
    assert_eq!(
        strip(&job, "A6").width,
        Some(Length::from_mm(19.5)),
        "a strip is as wide as its board is thick"
    );
    assert_eq!(strip(&job, "A6").notes, "from the loft");
    let origin = strip(&job, "A5").origin.unwrap();
    assert_eq!(
        (job.stock.boards[origin.board.0].as_str(), origin.seq),
        ("A", 5),
        "a spoiled slice keeps its number"
    );
}

#[test]
fn a_row_of_strips_counts_before_the_board_field_by_field_and_adds_strays() {
    let job = with_strips(
        "strip,length,colour,defects,sister,notes\n\
         A2,,,none,,\n\
         A6,4010,9,,,trimmed\n\
         B1,3000,,,,\n\
         S1,2000,7,,,stray\n",
    )
    .job();
    assert_eq!(defects(&strip(&job, "A2")), []);
    assert_eq!(strip(&job, "A2").length.mm(), 4300.0);
    let a6 = strip(&job, "A6");
    assert_eq!(
        (a6.length.mm(), a6.notes.as_str(), a6.grain.as_str()),
        (4010.0, "trimmed", "straight")
    );
    assert_eq!(a6.colour, strip(&folder_of_shade(9), "B1").colour);
    assert_eq!(strip(&job, "S1").origin, None);
}

fn folder_of_shade(shade: u8) -> Job {
    folder()
        .change("boards.csv", ",5,,,850", &format!(",{shade},,,850"))
        .job()
}

#[test]
fn a_defect_of_the_whole_board_ends_where_a_slice_does() {
    let short = folder()
        .change(
            "boards.csv",
            "3.9 m,,,5,,,850-870",
            "3.9 m,,,5,,2: 860,850-870; 3000",
        )
        .job();
    assert_eq!(
        defects(&strip(&short, "B1")),
        [(850.0, 870.0), (3000.0, 3000.0)]
    );
    assert_eq!(defects(&strip(&short, "B2")), [(850.0, 860.0)]);
    let cut = with_strips("strip,length\nB1,860\n").job();
    assert_eq!(defects(&strip(&cut, "B1")), [(850.0, 860.0)]);
}

#[test]
fn sisters_may_be_named_beside_boards() {
    let job = with_strips("strip,sister\nA1,A2\nA2,A1\n").job();
    let sister = strip(&job, "A1").sister.unwrap();
    assert_eq!(job.stock.strip(sister).name, "A2");
    with_strips("strip,sister\nA1,A2\n").complaint().is(
        "strips.csv, line 2, sister: \"A2\" does not name A1 back: its own sister, in line 2 of boards.csv, is empty. \
         Let A1 and A2 name each other, or leave both empty to go by seq.",
    );
}

#[test]
fn strips_with_a_header_alone_are_good_beside_boards() {
    assert_eq!(
        with_strips("strip,length\n").job().stock,
        folder().job().stock
    );
}

#[test]
fn a_rack_without_a_strip_is_refused() {
    let none = folder().with("boards.csv", "board,slices,width\nC,,120\n");
    none.complaint().is(
        "boards.csv: there is no strip in the rack: no board has a slice yet. Write under slices how many came off each \
         board, or write strips.csv.",
    );
}

#[test]
fn every_mistake_in_a_board_is_answered_with_its_mend() {
    let all = cases(
        r#"
        B,2, => ,2,
            line 3, board: the field is empty. Give every board a name of its own.
        B,2, => A,2,
            line 3, board: "A" is there twice: line 2 has a board of this name. Give every board a name of its own.
        B,2, => B,two,
            line 3, slices: "two" is not a whole number. Write a whole number: 1, 2, 3 and so on.
        B,2, => B,900,
            line 3, slices: "900" is more than 500, which no board gives. Write how many slices came off this board.
        3: 4120 => 4120
            line 2, lengths: "4120" does not say for which slice. Write the slice, a colon and the value, and a
            semicolon between two: 3: 4120; 5-6: 4980.
        3: 4120 => 5: 4120
            line 2, lengths: "5: 4120; 5-6: 4280" names slice 5 twice. Keep one value for each slice.
        3: 4120 => x: 4120
            line 2, lengths: "x: 4120" does not begin with a slice's number. Write slices as 3, as 5-6, or as 3, 5-6.
        3: 4120 => 7: 4120
            line 2, lengths: "7: 4120" speaks of slice 7, but board "A" gave 6 slices. Mend the number, or the count
            under slices.
        3: 4120 => 3: 4.12.0
            line 2, lengths: "4.12.0" has two decimal points. Write 4120, or 4.120 m.
        2: 3920 => 2: 4320
            line 2, defects: "4320" lies outside the strip, which is 4300 mm long. Measure from the marked end.
        2-4: 1310-1345 => 2-4: 1345-1310
            line 2, defects: "1345-1310" ends before it begins. Write the end nearer the marked end first.
        5: #c4936a => 5: brown
            line 2, colours: "brown" is not a colour. Write #c4936a, three numbers L a b as 64.7 13.3 28.8, or a shade
            from 1 (darkest) to 9 (lightest).
        ,4,from => ,9,from
            line 2, spoiled: "9" speaks of slice 9, but board "A" gave 6 slices. Mend the number, or the count under
            slices.
        70 8 24 =>
            line 2, colour: the field is empty, and slices 1-3, 6 have no other colour. Write the colour here for all,
            or under colours for each, as 3: 64.7 13.3 28.8. Or measure it in photographs (twinstrake card, twinstrake
            colours).
        B,2,3.9 m => B,1,
            line 3, length: the field is empty, and slice 1 has no other length. Write the length here for all, or
            under lengths for each, as 3: 4120.
        C,,4500,120,,,,, => C,,4500,120,,,,,2: 400
            line 4, defects: "2: 400" speaks of slice 2, but board "C" is not sawn yet. Mend the number, or the count
            under slices.
        "#,
    );
    for (old, new, told) in all {
        complaint(old, new).is(&format!("boards.csv, {told}"));
    }
}

#[test]
fn two_boards_that_make_strips_of_one_name_are_refused() {
    let both = "board,slices,length,colour\nD,11,4300,5\nD1,1,4300,5\n";
    folder().with("boards.csv", both).complaint().is(
        "boards.csv, line 3, board: \"D1\" makes a strip called D11, and so does the board in line 2. Give one of the two \
         boards another name.",
    );
}

#[test]
fn a_slice_that_is_spoiled_or_of_another_board_is_refused_in_strips() {
    with_strips("strip,length\nA4,4000\n").complaint().is(
        "strips.csv, line 2, strip: \"A4\" is spoiled, as boards.csv says in line 2. Take it out of spoiled there, or out of \
         this file.",
    );
    with_strips("strip,board,seq,length\nA2,B,2,4000\n").complaint().is(
        "strips.csv, line 2, board: \"B\" is not what boards.csv makes of A2: there it is slice 2 of board \"A\". Leave board \
         and seq empty, or give the strip another name.",
    );
    with_strips("strip,board,seq,length,colour\nX,A,2,4000,5\n").complaint().is(
        "strips.csv, line 2, seq: \"2\" is there twice in board \"A\": strip A2 in line 2 of boards.csv has it. Number the \
         slices of a board 1, 2, 3 and so on as they came off.",
    );
}

#[test]
fn a_stray_beside_boards_needs_its_length_and_colour() {
    let all = lines(&with_strips("strip,notes\nS1,stray\n").complaints());
    all.says("strips.csv, line 2, length: the field is empty");
    all.says("strips.csv, line 2, colour: the field is empty");
}

#[test]
fn a_thin_board_gives_culls_and_a_narrow_one_is_odd() {
    let thin = folder().change("boards.csv", "19.5", "18");
    thin.warning().is(
        "boards.csv, line 2, thickness: \"18\" is less than the width of a strip, 19 mm, so nothing is cut from its slices. \
         Measure again, or leave the board out of the rack.",
    );
    assert!(strip(&thin.job(), "A1").cull && !strip(&thin.job(), "B1").cull);
    let narrow = folder().change("boards.csv", "4300,60,", "4300,30,");
    narrow.warning().is(
        "boards.csv, line 2, width: \"30\" is too narrow for 6 slices of 6 mm. Look at the width and the number of \
        slices.",
    );
}

/// A slice in the test's own words.
#[derive(Clone, Debug)]
struct Slice {
    length: u32,
    shade: u8,
    knots: Vec<(u32, u32)>,
    spoiled: bool,
}

fn boards() -> impl Strategy<Value = Vec<Vec<Slice>>> {
    let knot = (100_u32..3000, 0_u32..900).prop_map(|(from, long)| (from, from + long));
    let slice = (
        prop_oneof![Just(4300_u32), 3900_u32..4400],
        prop_oneof![Just(5_u8), 1_u8..10],
        proptest::collection::vec(knot, 0..3),
        proptest::bool::weighted(0.1),
    )
        .prop_map(|(length, shade, knots, spoiled)| Slice {
            length,
            shade,
            knots,
            spoiled,
        });
    proptest::collection::vec(proptest::collection::vec(slice, 1..12), 1..5)
}

/// The same slices as boards with exceptions, and strip by strip.
fn written(boards: &[Vec<Slice>]) -> (String, String) {
    let mut by_board =
        String::from("board;slices;length;colour;notes;lengths;colours;defects;spoiled\n");
    let mut by_strip = String::from("strip,board,seq,length,colour,defects,notes\n");
    for (board, slices) in boards.iter().enumerate() {
        let name = ["A", "B12", "Ç", "larch-"][board % 4];
        let some = |what: &dyn Fn(&Slice) -> Option<String>| {
            let each = slices
                .iter()
                .zip(1..)
                .filter_map(|(slice, seq)| Some(format!("{seq}: {}", what(slice)?)));
            each.collect::<Vec<_>>().join("; ")
        };
        let lengths = some(&|slice| (slice.length != 4300).then(|| slice.length.to_string()));
        let colours = some(&|slice| (slice.shade != 5).then(|| slice.shade.to_string()));
        let mut defects = Vec::new();
        let mut spoiled = Vec::new();
        for (slice, seq) in slices.iter().zip(1..) {
            let knots: Vec<String> = slice
                .knots
                .iter()
                .map(|(from, to)| format!("{from}-{to}"))
                .collect();
            defects.extend(knots.iter().map(|knot| format!("{seq}: {knot}")));
            if slice.spoiled {
                spoiled.push(seq.to_string());
                continue;
            }
            let Slice { length, shade, .. } = slice;
            by_strip += &format!(
                "{name}{seq},{name},{seq},{length},{shade},{},N\n",
                knots.join("; ")
            );
        }
        by_board += &format!(
            "{name};{};4300;5;N;\"{lengths}\";\"{colours}\";\"{}\";\"{}\"\n",
            slices.len(),
            defects.join("; "),
            spoiled.join("; ")
        );
    }
    (by_board, by_strip)
}

proptest! {
    #[test]
    fn boards_with_exceptions_are_the_rack_written_strip_by_strip(boards in boards()) {
        prop_assume!(boards.iter().flatten().any(|slice| !slice.spoiled));
        let (by_board, by_strip) = written(&boards);
        let by_board = Folder::good().without("strips.csv").with("boards.csv", by_board).job();
        prop_assert_eq!(by_board, Folder::good().with("strips.csv", by_strip).job());
    }
}
