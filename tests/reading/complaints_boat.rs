//! What can be wrong with boat.toml.

use crate::folder::{Folder, cases, lines};
use crate::says::Says;
use twinstrake::hull::{LayOrder, PanelId, Toward};
use twinstrake::plan::{Edge, Edges, Weights};
use twinstrake::units::{Length, X};

fn complaint(old: &str, new: &str) -> String {
    Folder::good().change("boat.toml", old, new).complaint()
}

fn warning(old: &str, new: &str) -> String {
    Folder::good().change("boat.toml", old, new).warning()
}

#[test]
fn a_good_boat_reads_as_it_is_written() {
    let job = Folder::good().job();
    assert_eq!(job.name, "Skiff");
    assert_eq!(job.rules.width, Length::from_mm(19.0));
    assert_eq!(job.rules.scarf(), Length::from_mm(48.0));
    assert_eq!(job.rules.edges, Edges::Square);
    assert_eq!(job.rules.allow.free_end, Length::from_mm(50.0));
    assert_eq!(job.rules.joints.most, 2);
    let usual = Weights::default();
    assert_eq!(
        job.weights,
        Weights {
            board: 2.5,
            ..usual
        }
    );
    let deck = &job.hull.panels[1];
    assert_eq!(
        (deck.toward, deck.lay, deck.look),
        (Toward::Deck, LayOrder::PortFirst, 0.5)
    );
    assert_eq!(job.hull.panels[0].lay, LayOrder::Alternate);
    assert_eq!(job.hull.keep_clear[0].courses, Some((1, 2)));
    assert_eq!(job.hull.show[0].zone.panel, PanelId(0));
    assert_eq!(job.hull.show[0].zone.to, X::from_mm(3000.0));
    assert_eq!(job.hull.show[0].times, 2.0);
    assert!(job.laid.is_empty() && job.earlier.is_none());
}

#[test]
fn lengths_of_boat_toml_may_carry_a_unit_or_be_written_as_toml_writes_numbers() {
    let width = |text: &str| {
        Folder::good()
            .change("boat.toml", "width = 19", &format!("width = {text}"))
            .job()
            .rules
            .width
    };
    assert_eq!(width("\"3/4 in\""), Length::from_nm(19_050_000));
    assert_eq!(width("\"1.9 cm\""), Length::from_mm(19.0));
    assert_eq!(width("19.05"), Length::from_nm(19_050_000));
    assert_eq!(width("1_9"), Length::from_mm(19.0));
    assert_eq!(width("0x13"), Length::from_mm(19.0));
    assert_eq!(width("1.9e1"), Length::from_mm(19.0));
    assert_eq!(width("+19"), Length::from_mm(19.0));
}

#[test]
fn bare_numbers_are_in_inches_where_the_job_is() {
    let job = Folder::good()
        .change("boat.toml", "units = \"mm\"", "units = \"in\"")
        .change("boat.toml", "thickness = 6", "thickness = 0.25")
        .with(
            "courses.csv",
            "panel,course,from,to\nside,1,0,157.5\nside,2,1/2,157.5\ndeck,1,0,100\n",
        )
        .with(
            "strips.csv",
            "strip,board,seq,length,colour\nA1,A,1,160 1/4,5\n",
        )
        .job();
    assert_eq!(job.rules.thickness, Length::from_nm(6_350_000));
    assert_eq!(job.hull.courses[0].length, Length::from_mm(4000.5));
    assert_eq!(job.hull.courses[1].from, X::from_mm(12.7));
    assert_eq!(job.stock.strips[0].length, Length::from_nm(4_070_350_000));
}

#[test]
fn a_missing_key_or_table_is_told_with_an_example() {
    complaint("slope = 8\n", "")
        .is("boat.toml, line 9, joint.slope: the key is missing. Write slope = 8.");
    complaint("saw = 3\n", "")
        .is("boat.toml, line 16, allow.saw: the key is missing. Write saw = 3.");
    complaint("name = \"Skiff\"\n", "")
        .is("boat.toml, line 1, name: the key is missing. Write name = \"a name\".");
    complaint("units = \"mm\"\n", "")
        .is("boat.toml, line 1, units: the key is missing. Write units = \"mm\" or \"in\".");
    complaint("toward = \"deck\"\n", "")
        .is("boat.toml, line 28, panel.toward: the key is missing. Write toward = \"keel\" or \"deck\".");
    complaint("[allow]\nfitted_end = 25\nfree_end = 50\nsaw = 3\n", "")
        .is("boat.toml, allow: the table is missing. Add [allow], as docs/formats.md says.");
}

#[test]
fn a_job_without_a_panel_is_no_boat() {
    let boat = crate::folder::BOAT.split("[[panel]]").next().unwrap();
    let all = Folder::good().with("boat.toml", boat).complaints();
    lines(&all)
        .is("boat.toml, panel: there is no panel. Add [[panel]] with name = \"topside\" and toward = \"keel\".");
}

#[test]
fn an_unknown_key_is_warned_of_once_with_the_nearest_that_is_known() {
    warning("slope = 8", "slope = 8\nslop = 8").is(
        "boat.toml, line 11, joint.slop: the key is not one that we read, and is passed over. Did you mean \
         \"slope\"?",
    );
    warning("[cost]", "[paint]\ncoats = 3\n[cost]").is(
        "boat.toml, line 21, paint: the key is not one that we read, and is passed over. Known here: name, units, \
         strip, joint, allow, cost, panel, keep_clear, show, want, paper, mill.",
    );
}

#[test]
fn a_word_that_is_not_known_is_told_with_the_nearest() {
    complaint("toward = \"keel\"", "toward = \"keal\"")
        .is("boat.toml, line 26, panel.toward: \"keal\" is not a word that toward can be. Did you mean \"keel\"?");
    complaint("units = \"mm\"", "units = \"furlong\"").is(
        "boat.toml, line 2, units: \"furlong\" is not a word that units can be. Write mm or in.",
    );
}

#[test]
fn wrong_types_and_values_are_told_with_their_line() {
    let all = cases(
        r#"
        name = "Skiff" => name = 3
            line 1, name: "3" is not a text in quotes
        name = "Skiff" => name = " "
            line 1, name: " " is empty
        width = 19 => width = true
            line 5, strip.width: "true" is not a length
        width = 19 => width = "19 furlong"
            line 5, strip.width: "19 furlong" has an unknown unit, furlong
        width = 19 => width = "1.9.0"
            line 5, strip.width: "1.9.0" has two decimal points
        width = 19 => width = 0
            line 5, strip.width: "0" is nothing
        width = 19 => width = nan
            line 5, strip.width: "nan" is not a length
        width = 19 => width = inf
            line 5, strip.width: "inf" is not a length
        width = 19 => width = 1e300
            line 5, strip.width: "1e300" is far too large
        thickness = 6 => thickness = -6
            line 6, strip.thickness: "-6" is negative
        slope = 8 => slope = 0
            line 10, joint.slope: "0" is nothing
        slope = 8 => slope = -8.0
            line 10, joint.slope: "-8.0" is negative
        slope = 8 => slope = nan
            line 10, joint.slope: "nan" is not a number
        slope = 8 => slope = -inf
            line 10, joint.slope: "-inf" is not a number
        slope = 8 => slope = "8"
            line 10, joint.slope: "8" is not a number
        slope = 8 => slope = 1e7
            line 10, joint.slope: "1e7" is far too large
        slope = 8 => slope = 800
            line 10, joint.slope: "800" makes a scarf more than a hundred times
        clear_courses = 2 => clear_courses = -1
            line 12, joint.clear_courses: "-1" is not a whole number
        clear_courses = 2 => clear_courses = 1.5
            line 12, joint.clear_courses: "1.5" is not a whole number
        most = 2 => most = 99999999999
            line 14, joint.most: "99999999999" is not a whole number
        saw = 3 => saw = -3
            line 19, allow.saw: "-3" is negative
        board = 2.5 => board = -2.5
            line 22, cost.board: "-2.5" is negative
        look = 0.5 => look = -1
            line 31, panel.look: "-1" is negative
        times = 2.0 => times = -1
            line 44, show.times: "-1" is negative
        name = "deck" => name = "side"
            line 29, panel.name: "side" is there twice
        [1, 2] => [2, 1]
            line 36, keep_clear.courses: "[2, 1]" is not a first and a last course
        [1, 2] => [0, 1]
            line 36, keep_clear.courses: "[0, 1]" is not a first and a last course
        [1, 2] => [1, 2, 3]
            line 36, keep_clear.courses: "[1, 2, 3]" is not a first and a last course
        [1, 2] => 3
            line 36, keep_clear.courses: "3" is not a first and a last course
        to = 2000 => to = 1500
            line 38, keep_clear.to: "1500" is not aft of from
        "#,
    );
    for (old, new, told) in all {
        let all = Folder::good().change("boat.toml", old, new).complaints();
        all[0].to_string().begins(&format!("boat.toml, {told}"));
    }
    // A key that slid into the table above it is only unknown there.
    warning("[cost]\nboard = 2.5", "cost = 2.5").says("allow.cost");
}

#[test]
fn a_table_written_as_something_else_is_told() {
    let all = Folder::good()
        .change(
            "boat.toml",
            "name = \"Skiff\"",
            "name = \"Skiff\"\nkeep_clear = 3\nshow = [1]",
        )
        .change("boat.toml", "[[keep_clear]]", "[[keep]]")
        .change("boat.toml", "[[show]]", "[[shown]]")
        .complaints();
    lines(&all).is(
        "boat.toml, line 2, keep_clear: has the wrong shape. Write [[keep_clear]] on a line of its own for each one, \
         and its keys under it.\n\
         boat.toml, line 3, show: has the wrong shape. Write [[show]] on a line of its own for each one, and its keys \
         under it.",
    );
}

#[test]
fn what_is_not_toml_is_told_line_by_line() {
    let all = Folder::good()
        .change("boat.toml", "width = 19", "width = 19 mm")
        .change("boat.toml", "saw = 3", "saw : 3")
        .complaints();
    let places: Vec<Option<usize>> = all.iter().map(|c| c.line).collect();
    assert!(
        places.contains(&Some(5)) && places.contains(&Some(19)),
        "{}",
        lines(&all)
    );
    assert!(all.iter().all(|c| c.file == "boat.toml"), "{}", lines(&all));
}

#[test]
fn bead_and_cove_needs_its_next_edge_and_square_edges_pass_over_it() {
    let job = Folder::good()
        .change(
            "boat.toml",
            "edges = \"square\"",
            "edges = \"bead-and-cove\"\nnext_edge = \"b\"",
        )
        .job();
    assert_eq!(job.rules.edges, Edges::BeadAndCove { next_edge: Edge::B });
    complaint("edges = \"square\"", "edges = \"bead-and-cove\"").is(
        "boat.toml, line 4, strip.next_edge: the key is missing. Write next_edge = \"A\" or \"B\".",
    );
    warning(
        "edges = \"square\"",
        "edges = \"square\"\nnext_edge = \"A\""
    ).is(
        "boat.toml, line 8, strip.next_edge: \"A\" is passed over: with square edges either edge may look to the next \
         course. Leave it out, or write edges = \"bead-and-cove\".",
    );
}

#[test]
fn rules_that_make_little_sense_are_warned_of() {
    warning("slope = 8", "slope = 3").begins("boat.toml, line 10, joint.slope: \"3\" makes a scarf less than four times as long as the strip is thick.");
}

#[test]
fn a_piece_that_could_be_all_scarf_is_refused_where_there_are_joints() {
    complaint("shortest_piece = 600", "shortest_piece = 40")
        .begins("boat.toml, line 13, joint.shortest_piece: \"40\" is shorter than a scarf");
    Folder::good()
        .change("boat.toml", "shortest_piece = 600", "shortest_piece = 0")
        .change("boat.toml", "most = 2", "most = 0")
        .job();
}

#[test]
fn strips_of_a_size_that_is_hardly_meant_are_warned_of() {
    // 19 inches is 482.6 mm.
    let wide = Folder::good()
        .change("boat.toml", "width = 19", "width = \"19 in\"")
        .change("strips.csv", "4300,19,6", "4300,,");
    wide.warning().is(
        "boat.toml, line 5, strip.width: \"19 in\" is 483 mm, most likely a slip of units. Bare numbers are in the job's \
         units; a length may carry its own, as \"3/4 in\".",
    );
    warning("width = 19", "width = 5")
        .begins("boat.toml, line 6, strip.thickness: \"6\" is more than the strip is wide.");
}

#[test]
fn a_zone_must_name_a_panel_and_a_course_that_are_there() {
    complaint("panel = \"side\"\ncourses", "panel = \"sides\"\ncourses")
        .is("boat.toml, line 35, keep_clear.panel: \"sides\" is not a panel of boat.toml. Did you mean \"side\"?");
    complaint("[1, 2]", "[7, 9]").is(
        "boat.toml, line 36, keep_clear.courses: \"[7, 9]\" names no course of panel \"side\", which has 1 to 3. \
         Write the first and last of courses that are in courses.csv, or leave courses out for all.",
    );
    warning("from = 1500\nto = 2000", "from = 6500\nto = 7000").begins("boat.toml, line 37, keep_clear.from: \"6500\" begins a zone that meets none of its courses.");
    warning("[1, 2]", "[1, 12]").begins("boat.toml, line 36, keep_clear.courses: \"[1, 12]\" reaches past the last course of panel \"side\", which is \
        3.");
}

#[test]
fn zones_may_have_a_name_and_courses_of_both_kinds() {
    let job = Folder::good()
        .change(
            "boat.toml",
            "[[show]]",
            "[[show]]\nname = \"foredeck\"\ncourses = [2, 3]",
        )
        .change(
            "boat.toml",
            "[[keep_clear]]",
            "[[keep_clear]]\nname = \"mast\"",
        )
        .job();
    assert_eq!(job.hull.keep_clear[0].name.as_deref(), Some("mast"));
    assert_eq!(job.hull.show[0].zone.name.as_deref(), Some("foredeck"));
    assert_eq!(job.hull.show[0].zone.courses, Some((2, 3)));
}

#[test]
fn curly_quotes_are_told_once_for_what_they_are() {
    let boat = Folder::good().change("boat.toml", "units = \"mm\"", "units = “mm”");
    let complaint = boat.complaint();
    complaint.says(
        "\"“mm”\" stands in curly quotes, as word processors write them. Write straight quotes",
    );
}
