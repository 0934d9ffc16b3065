//! The commands that start from the forms: `courses`, `need`, `fit`.

use crate::folder::{Folder, Ran, ran, twinstrake};
use crate::says::Says;
use std::collections::BTreeMap;
use std::fs;

/// Two panels' worth of girths that can be worked out on paper: five courses of 20 mm over the whole 3 m, and a sixth
/// that grows from nothing at the bow to 5 mm at the stern.
const FORMS: &str = "\
form,from_bow,side
1,0,100
2,1500,102.5
3,3000,105
";

fn forms() -> Folder {
    let folder = Folder::small();
    for file in ["courses.csv", "strips.csv"] {
        fs::remove_file(folder.path().join(file)).unwrap();
    }
    let boat = folder.read("boat.toml").replace("width = 19", "width = 20");
    folder.write("boat.toml", &boat);
    folder.write("forms.csv", FORMS);
    folder
}

#[test]
fn courses_are_told_and_written_so_that_a_person_may_edit_them() {
    let folder = forms();
    let ran = folder.run("courses", &[]).ended(0);
    ran.says("side: 6 courses, 36.0 m of strip on both sides");
    let out: BTreeMap<String, String> = folder
        .out()
        .into_iter()
        .map(|(name, bytes)| (name, String::from_utf8(bytes).unwrap()))
        .collect();
    let names: Vec<&str> = out.keys().map(String::as_str).collect();
    assert_eq!(names, ["bevels.csv", "courses.csv", "ends.csv"]);
    assert_eq!(
        out["courses.csv"].lines().nth(6),
        Some("side,6,mirrored,0.000,3000.000,3000.000,fitted,fitted")
    );
    // The sixth grows by 5 mm over the whole length: a straight edge from tip to stern.
    out["ends.csv"].is("panel,course,end,meets,point,from_tip,width,loose\n\
         side,6,bow,fitted,1,0.0,0.0,3000.0\n\
         side,6,bow,fitted,2,3000.0,5.0,3000.0\n");
    // Edited, they count: the sixth is left out.
    let edited: Vec<&str> = out["courses.csv"].lines().take(6).collect();
    folder.write("courses.csv", &(edited.join("\n") + "\n"));
    let ran = folder.run("need", &[]).ended(0);
    ran.says("5, 30.0 m of strip on the boat");
}

#[test]
fn in_a_job_in_inches_the_sheets_of_the_bench_have_fractions_too() {
    let folder = forms();
    let boat = folder.read("boat.toml").replace("\"mm\"", "\"in\"");
    let sizes = [
        ("width = 20", "width = 0.75"),
        ("thickness = 6", "thickness = 0.25"),
        ("clear = 300", "clear = 12"),
        ("shortest_piece = 600", "shortest_piece = 24"),
        ("fitted_end = 25", "fitted_end = 1"),
        ("free_end = 50", "free_end = 2"),
        ("saw = 3", "saw = 0.125"),
    ];
    let boat = sizes
        .iter()
        .fold(boat, |boat, (mm, inch)| boat.replace(mm, inch));
    folder.write("boat.toml", &boat);
    // A course of 3/4 in, and one that grows from nothing to 3/16 in over 100 in.
    folder.write("forms.csv", "form,from_bow,side\n1,0,0.75\n2,100,15/16\n");
    folder.run("courses", &[]).ended(0);
    folder.read("out/ends.csv").is(
        "panel,course,end,meets,point,from_tip,width,loose,from_tip_64,width_64\n\
         side,2,bow,fitted,1,0.00,0.00,100.00,0,0\n\
         side,2,bow,fitted,2,100.00,0.19,100.00,100,3/16\n",
    );
    let bevels = folder.read("out/bevels.csv");
    assert!(
        bevels.starts_with("panel,course,form,s,width,bevel,radius,gape,s_64,width_64\n")
            && bevels.ends_with(",,,,100,3/16\n"),
        "{bevels}"
    );
}

#[test]
fn need_counts_what_the_bead_and_the_plane_take() {
    let folder = forms();
    let boat = folder.read("boat.toml");
    let round = |more: &str| {
        let edges = format!("[strip]\nedges = \"bead-and-cove\"\nnext_edge = \"A\"{more}");
        boat.replace("[strip]", &edges) + "\n[mill]\nkerf = 3\nplaning = 1\n"
    };
    // A bead of a strip of 6 mm has a radius of 3 mm, if nothing else is said.
    for (more, milled) in [("", "23.0"), ("\noverlap = 2.5", "22.5")] {
        folder.write("boat.toml", &round(more));
        let ran = folder
            .run("need", &["--board", "3100x100", "--margin", "0"])
            .ended(0);
        for words in [
            format!("covers 20 mm, is milled {milled} mm wide for the bead and is 6 mm thick"),
            format!("Boards are as thick as a strip is milled wide, {milled} mm"),
            "a saw cut takes 3.0 mm, planing a slice 1.0 mm".to_owned(),
        ] {
            ran.stdout.says(&words);
        }
        // (100 + 3) / (6 + 1 + 3): ten slices.
        assert_eq!(ran.row("3100x100")[1..3], ["2", "10"]);
        let table = folder.read("out/need.csv");
        let milled = format!("width of a strip as milled,,{milled}00,mm");
        table.says(&milled);
    }
}

#[test]
fn a_sliver_is_told_before_strips_are_milled_with_what_mends_it() {
    let ran = forms().run("courses", &[]).ended(0);
    // 105 mm are five courses of 21 mm, or six of 17.5; 5 mm of the sixth are there, 15 are not; and 20 + 5 mm shared
    // evenly are 12.5 each.
    for words in [
        "course 6 of panel \"side\", its last, is a sliver: 5.0 mm at its widest",
        "strips that cover 21.0 mm (one course fewer) or 17.5 mm (as many)",
        "moved by 5.0 mm toward the stop line (no sliver), or by 15.0 mm away from it",
        "courses 5 and 6 as a pair that tapers alike: each 12.5 mm at its widest",
    ] {
        ran.stdout.says(words);
    }
}

#[test]
fn a_strip_width_that_was_advised_comes_out_even() {
    let folder = forms();
    for (width, count) in [("21", 5), ("17.5", 6)] {
        let boat = folder.read("boat.toml");
        let old = boat
            .lines()
            .find(|line| line.starts_with("width"))
            .unwrap()
            .to_owned();
        folder.write(
            "boat.toml",
            &boat.replace(&old, &format!("width = {width}")),
        );
        let ran = folder.run("courses", &[]).ended(0);
        ran.says(&format!("side: {count} courses"));
        ran.stdout.lacks("sliver");
    }
}

#[test]
fn need_counts_boards_by_hand_reckoning() {
    let folder = forms();
    // Six courses of 3 m, 25 mm at each end: six pairs of 3050 mm. A board 100 mm wide gives slices of 6 mm and a kerf
    // of 3 between: (100 + 3) / 9 = 11, that is five pairs; six pairs with 50 % more are nine, so two boards.
    let asked = ["--board", "3100x100", "--kerf", "3", "--margin", "50"];
    let ran = folder.run("need", &asked).ended(0);
    assert_eq!(ran.row("3100x100")[1..], ["2", "11", "9", "0", "0"]);
    // Of boards of 1.6 m every course takes two: 2·1600 − 48 of scarf = 3152 ≥ 3050, one joint each.
    let asked = ["--board", "1600x100", "--kerf", "3", "--margin", "0"];
    let ran = folder.run("need", &asked).ended(0);
    assert_eq!(ran.row("1600x100")[1..], ["3", "11", "12", "0", "6"]);
    assert!(folder.out()["need.csv"].starts_with(b"what,size,count,unit\n"));
    // With 30 mm left at each end of a strip, 3110 mm are just enough for 3050, and pairs of 3100 are not.
    folder.change("boat.toml", "[allow]", "[allow]\nend_trim = 30");
    for (board, joints) in [("3110x100", "0"), ("3100x100", "6")] {
        let asked = ["--board", board, "--kerf", "3", "--margin", "0"];
        let ran = folder.run("need", &asked).ended(0);
        assert_eq!(ran.row(board).last(), Some(&joints));
        // Twelve strips of 3110 mm.
        let ends = "37.3 m with the allowances, and 30 mm left at each end of a strip";
        ran.says(ends);
    }
}

#[test]
fn sizes_that_are_none_are_answered_with_the_mend() {
    let folder = forms();
    for (board, words) in [
        ("4200", "has no x in it. Write its length and its width"),
        ("150x4200", "is wider than long. Write the length first"),
        ("0x0", "has no size"),
        ("4200x15o", "\"15o\""),
    ] {
        let ran = folder.run("need", &["--board", board]).ended(2);
        ran.warns(words);
    }
    assert!(!folder.has("out"));
}

fn fit(typed: &[&str]) -> Ran {
    ran(twinstrake().args(typed))
}

/// Check values: common practice, no source: on one taper six passes moved a strip about 1/2 in, three passes about 1/4
/// in.
#[test]
fn six_passes_move_an_end_half_an_inch_where_three_moved_it_a_quarter() {
    let ran = fit(&["fit", "1/2in", "--moved", "1/4in", "--passes", "3"]).ended(0);
    ran.stdout.begins("6 more passes");
    // Asked in inches, it is answered in inches; the unit behind the length of a taper holds for what it narrows, too.
    ran.stdout.says("by 5/64\"");
    ran.stdout.lacks("mm");
    let asked = [
        "fit",
        "1/4in",
        "--taper",
        "3/4x9 1/2in",
        "--shaving",
        "0.004in",
    ];
    let ran = fit(&asked).ended(0);
    ran.stdout.begins("5 more passes");
    // 19 mm over 240 mm: a shaving of 0.1 mm lets it forward by 240/190 mm; 6 mm take 4.75 of them.
    let ran = fit(&["fit", "6", "--taper", "19x240", "--shaving", "0.1"]).ended(0);
    ran.stdout.begins("5 more passes");
    let ran = fit(&["fit", "6"]).ended(2);
    ran.warns("--passes 3 --moved 6mm");
    let ran = fit(&["fit", "0"]).ended(2);
    ran.warns("more than 0");
}

/// The printed offsets of an American canoe of 1883, as feet, inches and eighths. Source: tests/reference.
fn canoe() -> (Folder, String) {
    let folder = forms();
    let boat = folder
        .read("boat.toml")
        .replace("units = \"mm\"", "units = \"in\"");
    let boat = boat
        .replace("width = 20", "width = \"3/4\"")
        .replace("thickness = 6", "thickness = \"1/4\"")
        .replace("clear = 300", "clear = 12")
        .replace("shortest_piece = 600", "shortest_piece = 24")
        .replace("fitted_end = 25", "fitted_end = 1")
        .replace("free_end = 50", "free_end = 2")
        .replace("saw = 3", "saw = 0.125");
    folder.write("boat.toml", &boat);
    let path = format!(
        "{}/tests/reference/offsets_american_cruising_canoe_1883.csv",
        env!("CARGO_MANIFEST_DIR")
    );
    let mut reader = csv::Reader::from_path(path).unwrap();
    let header = reader.headers().unwrap().clone();
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let stations: Vec<usize> = (1..=13).collect();
    let row = |label: &str, column: &str| {
        let cells = stations.iter().map(|station| {
            let cell = |name: &str| {
                rows[*station]
                    .get(header.iter().position(|c| c == name).unwrap())
                    .unwrap()
            };
            let suspect = cell("suspect");
            let eighths = match !suspect.is_empty() && suspect == column {
                true => cell("suggested_eighths"),
                false => cell(&format!("{column}_eighths")),
            };
            let all: u32 = eighths.parse().unwrap_or(0);
            format!("{}-{}-{}", all / 96, all % 96 / 8, all % 8)
        });
        format!("{label},{}\n", cells.collect::<Vec<_>>().join(","))
    };
    let names: Vec<String> = stations.iter().map(usize::to_string).collect();
    let forms = names.iter().map(|name| format!("{name},{name} ft\n"));
    folder.write(
        "forms.csv",
        &("form,from_bow\n".to_owned() + &forms.collect::<String>()),
    );
    let table = format!("station,{}\nHeights\n", names.join(","))
        + &row("deck", "deck_height")
        + &row("rabbet", "rabbet_height")
        + "Half-breadths\n"
        + &row("deck", "deck_half_breadth")
        + &row("6 in", "half_breadth_at_6in")
        + &row("4 in", "half_breadth_at_4in")
        + &row("2 in", "half_breadth_at_2in");
    folder.write("offsets.csv", &table);
    (folder, table)
}

#[test]
fn a_table_of_offsets_is_read_as_it_is_printed_and_means_what_it_means_point_by_point() {
    let (folder, table) = canoe();
    // Nine rows typed, where the long form has one for each of 65 points and a header.
    assert_eq!(table.lines().count(), 9);
    let ran = folder.run("courses", &["--offsets"]).ended(0);
    ran.stderr.lacks("off its neighbours");
    ran.says("65 points on 13 forms of side, in this order round the section:\ndeck, 6 in, 4 in, 2 in, rabbet.");
    let long = folder.read("out/offsets.csv");
    assert_eq!(long.lines().count(), 66);
    // Station 3, 2 in above the base line: 4 1/2 in.
    long.says("\n3,side,4,4.5000,2.0000,,2 in\n");
    let courses = folder.read("out/courses.csv");
    folder.write("offsets.csv", &long);
    folder.run("courses", &[]).ended(0);
    assert_eq!(folder.read("out/courses.csv"), courses);
}

#[test]
fn diagonals_are_measured_along_themselves_and_put_in_order_round_the_section() {
    // A quarter of a circle of 10 in round the middle of the deck: every diagonal from there is 10 in long. Its points
    // by sine and cosine of 22.5, 45 and 67.5 degrees.
    let (folder, _) = canoe();
    folder.write("forms.csv", "form,from_bow\n1,0\n2,50\n3,100\n");
    folder.write(
        "offsets.csv",
        "station,1,2,3\n\
         Heights\ndeck,0-10-0,0-10-0,0-10-0\nkeel,0-0-0,0-0-0,0-0-0\n\
         Half-breadths\ndeck,0-10-0,0-10-0,0-10-0\n\
         Diagonals\nC 10 at 67.5,10,10,10\nA 10 at 22.5,10,10,10\nB 10 at 45,10,10,10\n",
    );
    let ran = folder.run("courses", &["--offsets"]).ended(0);
    let long = folder.read("out/offsets.csv");
    let second: Vec<&str> = long.lines().filter(|row| row.starts_with("2,")).collect();
    let hundredths = |text: &str| (text.parse::<f64>().unwrap() * 100.0).round() / 100.0;
    let places: Vec<(f64, f64)> = second
        .iter()
        .map(|row| {
            let cells: Vec<&str> = row.split(',').collect();
            (hundredths(cells[3]), hundredths(cells[4]))
        })
        .collect();
    let round = [
        (10.0, 10.0),
        (9.24, 6.17),
        (7.07, 2.93),
        (3.83, 0.76),
        (0.0, 0.0),
    ];
    assert_eq!(places, round, "{long}");
    // Half the circumference over two: 15.71 in, 21 courses of 3/4 in.
    ran.says("side: 21 courses");
}

#[test]
fn forms_that_cross_the_profile_of_a_stem_get_a_point_on_it() {
    // A straight stem from 10 in above the base line at the bow to the base line 10 in aft: at 5 in it is 5 in high.
    let (folder, _) = canoe();
    folder.write("forms.csv", "form,from_bow\n1,5\n2,50\n3,100\n");
    folder.write(
        "offsets.csv",
        "station,1,2,3\n\
         Heights\ndeck,10,10,10\nkeel,,0,0\n\
         Half-breadths\ndeck,3,10,10\n\
         Bow profile\n10,0\n0,10\n",
    );
    folder.run("courses", &["--offsets"]).ended(0);
    let long = folder.read("out/offsets.csv");
    let first: Vec<&str> = long.lines().filter(|row| row.starts_with("1,")).collect();
    assert_eq!(
        first,
        [
            "1,side,1,3.0000,10.0000,,deck",
            "1,side,2,0.0000,5.0000,,stem"
        ],
        "{long}"
    );
    // The other forms stand abaft the stem.
    assert_eq!(long.matches("stem").count(), 1, "{long}");
}

#[test]
fn lines_with_more_courses_than_a3_can_show_are_drawn_on_larger_paper_and_say_so() {
    let (folder, _) = canoe();
    folder.run("courses", &[]).ended(0);
    let svg = folder.read("out/lines.svg");
    svg.says("width=\"420mm\"");
    svg.lacks("Print this");
    // 22.5 in round: two hundred courses, which on A3 would be 0.8 mm apart.
    let boat = folder.read("boat.toml");
    folder.write(
        "boat.toml",
        &boat.replace("width = \"3/4\"", "width = \"7/64\""),
    );
    folder.run("courses", &[]).ended(0);
    let svg = folder.read("out/lines.svg");
    // A2, 594 x 420 mm.
    let words = "Print this at its size, 23 3/8&quot; x 16 9/16&quot;: on 11 x 17 the courses run together.";
    let plain = svg.replace("&quot;", "\"");
    assert!(
        plain.contains(&words.replace("&quot;", "\"")),
        "{}",
        &svg[..2000]
    );
    svg.says("width=\"594mm\"");
}

#[test]
fn a_misprint_is_told_with_what_would_fit_and_ringed_in_the_drawing() {
    let (folder, table) = canoe();
    folder.run("courses", &[]).ended(0);
    folder.read("out/lines.svg").lacks("class=\"doubt\"");
    folder.write(
        "offsets.csv",
        &table.replace("0-2-3,0-4-4,", "0-2-3,0-0-4,"),
    );
    let ran = folder.run("courses", &[]).ended(0);
    ran.warns("offsets.csv, line 9, 3: \"0-0-4\" at form 3, \"2 in\", is 3 7/8\" off its neighbours. 4 3/8\" would fit");
    folder.read("out/lines.svg").says("class=\"doubt\"");
    folder.write("offsets.csv", &table.replace("1-2-7", "2001-02-07"));
    let ran = folder.run("courses", &[]).ended(2);
    ran.warns("is a date that a spreadsheet made of an offset");
}

#[test]
fn a_table_in_the_wrong_unit_is_one_complaint() {
    let (folder, table) = canoe();
    let boat = folder
        .read("boat.toml")
        .replace("units = \"in\"", "units = \"mm\"");
    folder.write(
        "boat.toml",
        &boat.replace("\"3/4\"", "19").replace("\"1/4\"", "6"),
    );
    let fractions = |cell: &str| {
        let parts: Vec<u32> = cell
            .split('-')
            .filter_map(|part| part.parse().ok())
            .collect();
        match parts[..] {
            [feet, inches, eighths] => format!("{} {eighths}/8", 12 * feet + inches),
            _ => cell.to_owned(),
        }
    };
    let rows = table
        .lines()
        .map(|row| row.split(',').map(fractions).collect::<Vec<_>>().join(","));
    folder.write("offsets.csv", &rows.collect::<Vec<_>>().join("\n"));
    let ran = folder.run("courses", &[]).ended(2);
    assert_eq!(
        ran.stderr.matches("offsets.csv").count(),
        1,
        "{}",
        ran.stderr
    );
    ran.warns("the table is in inches");
}

#[test]
fn where_courses_are_written_by_hand_there_is_nothing_to_work_out() {
    let ran = Folder::small().run("courses", &[]).ended(0);
    ran.says("There is nothing to work out");
}
