//! Colours, in the three ways to write them.

use crate::folder::Folder;
use twinstrake::units::Colour;

fn colour_of(text: &str) -> Colour {
    let job = Folder::good()
        .change(
            "strips.csv",
            "A1,A,1,4300,19,6,70 8 24",
            &format!("A1,A,1,4300,19,6,{text}"),
        )
        .job();
    job.stock.strips[0].colour
}

fn is_near(one: Colour, other: Colour, within: f64) -> bool {
    (one.l - other.l).abs() <= within
        && (one.a - other.a).abs() <= within
        && (one.b - other.b).abs() <= within
}

#[test]
fn a_colour_may_be_three_numbers_or_six_figures_or_a_shade() {
    assert_eq!(colour_of("64.7 13.3 28.8"), Colour::lab(64.7, 13.3, 28.8));
    assert_eq!(
        colour_of("  64.7   -1   28.8 "),
        Colour::lab(64.7, -1.0, 28.8)
    );
    assert_eq!(
        colour_of("\"64.7, 13.3, 28.8\""),
        Colour::lab(64.7, 13.3, 28.8)
    );
    assert_eq!(colour_of("#C4936A"), Colour::srgb([0xc4, 0x93, 0x6a]));
    assert_eq!(colour_of("#c4936a"), Colour::srgb([0xc4, 0x93, 0x6a]));
    assert_eq!(colour_of("1"), Colour::shade(1));
    assert_eq!(colour_of("9"), Colour::shade(9));
    // Half way from 4 to 5.
    let (four, five, between) = (Colour::shade(4), Colour::shade(5), colour_of("4.5"));
    assert!((between.l - 0.5 * (four.l + five.l)).abs() < 1e-9);
    assert!((between.a - 0.5 * (four.a + five.a)).abs() < 1e-9);
    assert!(Colour::shade(1).l < Colour::shade(9).l, "1 is the darkest");
}

#[test]
fn three_numbers_may_have_decimal_commas_where_semicolons_part_the_fields() {
    let sheet = "strip;board;seq;length;colour\nA1;A;1;4300,5;64,7 13,3 28,8\n";
    let job = Folder::good().with("strips.csv", sheet).job();
    assert_eq!(job.stock.strips[0].colour, Colour::lab(64.7, 13.3, 28.8));
}

#[test]
fn what_is_no_colour_is_complained_of_with_the_three_ways() {
    let cases = [
        ("", "the field is empty"),
        ("0", "\"0\" is not a shade from 1 to 9"),
        ("12", "\"12\" is not a shade from 1 to 9"),
        ("9.5", "\"9.5\" is not a shade from 1 to 9"),
        ("-3", "\"-3\" is not a shade from 1 to 9"),
        ("c4936a", "\"c4936a\" has no # before it"),
        ("123456", "\"123456\" has no # before it"),
        ("#c49", "\"#c49\" is not six figures of colour"),
        ("#c4936g", "\"#c4936g\" is not six figures of colour"),
        ("#ééé", "\"#ééé\" is not six figures of colour"),
        ("brown", "\"brown\" is not a colour"),
        ("64 13", "\"64 13\" is not a colour"),
        ("64 13 28 1", "\"64 13 28 1\" is not a colour"),
        ("104 13 28", "\"104 13 28\" has an L outside 0 to 100"),
        ("-1 13 28", "\"-1 13 28\" has an L outside 0 to 100"),
        (
            "64 130 28",
            "\"64 130 28\" has an a or b outside -128 to 128",
        ),
        ("nan 13 28", "\"nan 13 28\" is not a colour"),
    ];
    for (text, wrong) in cases {
        let complaint = Folder::good()
            .change(
                "strips.csv",
                "A1,A,1,4300,19,6,70 8 24",
                &format!("A1,A,1,4300,19,6,{text}"),
            )
            .complaint();
        assert_eq!(
            complaint,
            format!(
                "strips.csv, line 2, colour: {wrong}. Write #c4936a, three numbers L a b as 64.7 13.3 28.8, \
                 or a shade from 1 (darkest) to 9 (lightest)."
            )
        );
    }
}

#[test]
fn screen_colours_turn_into_the_published_lab() {
    // Source and tolerance: tests/reference/srgb_to_lab_d65.md.
    let mut reader = csv::Reader::from_path("tests/reference/srgb_to_lab_d65.csv").unwrap();
    let mut rows = 0;
    for row in reader.records() {
        let row = row.unwrap();
        let exact: Vec<f64> = (2..5).map(|i| row[i].parse().unwrap()).collect();
        let read = colour_of(&row[1]);
        let exact = Colour::lab(exact[0], exact[1], exact[2]);
        assert!(
            is_near(read, exact, 0.03),
            "{}: {read:?}, exact {exact:?}",
            &row[0]
        );
        rows += 1;
    }
    assert_eq!(rows, 23);
}
