//! Lengths as people write them.

use proptest::prelude::*;
use twinstrake::units::parse::{Decimal, length, number};
use twinstrake::units::{Length, Slip, Unit};

/// In nanometres. An inch is 25 400 000 nm, a sixty-fourth of it 396 875 nm.
const IN: i64 = 25_400_000;

#[test]
fn a_length_reads_to_the_nanometre_however_it_is_written() {
    let cases: &[(&str, Unit, i64)] = &[
        ("4978", Unit::Mm, 4_978_000_000),
        ("4978", Unit::Inch, 4978 * IN),
        ("4978 mm", Unit::Inch, 4_978_000_000),
        ("4978mm", Unit::Inch, 4_978_000_000),
        ("4978 MM", Unit::Mm, 4_978_000_000),
        ("4.978 m", Unit::Mm, 4_978_000_000),
        ("497.8 cm", Unit::Mm, 4_978_000_000),
        (" 0.5 ", Unit::Mm, 500_000),
        (".5", Unit::Mm, 500_000),
        ("5.", Unit::Mm, 5_000_000),
        ("-25", Unit::Mm, -25_000_000),
        ("−25", Unit::Mm, -25_000_000),
        ("+25", Unit::Mm, 25_000_000),
        ("0.000001", Unit::Mm, 1),
        ("0.0000005", Unit::Mm, 1),
        ("0.0000004", Unit::Mm, 0),
        ("3.33333333333333333333333", Unit::Mm, 3_333_333),
        ("007", Unit::Mm, 7_000_000),
        // 16 ft 4 1/2 in = 192 + 4.5 = 196.5 in.
        ("16' 4 1/2\"", Unit::Mm, 393 * IN / 2),
        ("16'4 1/2\"", Unit::Mm, 393 * IN / 2),
        ("16' 4-1/2\"", Unit::Mm, 393 * IN / 2),
        ("16'-4 1/2\"", Unit::Mm, 393 * IN / 2),
        ("16ft 4-1/2in", Unit::Mm, 393 * IN / 2),
        ("16 ft. 4 1/2 in.", Unit::Mm, 393 * IN / 2),
        ("16 feet 4.5 inches", Unit::Mm, 393 * IN / 2),
        ("16′ 4½″", Unit::Mm, 393 * IN / 2),
        ("16’ 4½”", Unit::Mm, 393 * IN / 2),
        ("16' 4½''", Unit::Mm, 393 * IN / 2),
        ("16' 4 1/2", Unit::Mm, 393 * IN / 2),
        ("196.5", Unit::Inch, 393 * IN / 2),
        ("196 1/2", Unit::Inch, 393 * IN / 2),
        ("196½", Unit::Inch, 393 * IN / 2),
        ("16'", Unit::Mm, 192 * IN),
        ("3/4\"", Unit::Mm, 3 * IN / 4),
        ("3/4 in", Unit::Mm, 3 * IN / 4),
        ("¾\"", Unit::Mm, 3 * IN / 4),
        ("3⁄4\"", Unit::Mm, 3 * IN / 4),
        ("3/4", Unit::Inch, 3 * IN / 4),
        ("1/64 in", Unit::Mm, 396_875),
        ("-3/4\"", Unit::Mm, -3 * IN / 4),
        ("1/2 m", Unit::Mm, 500_000_000),
        // A third of an inch is 8 466 666.67 nm.
        ("1/3 in", Unit::Mm, 8_466_667),
        ("⅓\"", Unit::Mm, 8_466_667),
        ("11 15/16\"", Unit::Mm, 191 * IN / 16),
        ("1000 m", Unit::Mm, 1_000_000_000_000),
    ];
    for (text, unit, nm) in cases {
        assert_eq!(
            length(text, *unit, Decimal::Point),
            Ok(Length::from_nm(*nm)),
            "{text} in {unit:?}"
        );
    }
}

#[test]
fn a_decimal_comma_is_read_only_where_commas_are_not_delimiters() {
    let cases = [
        ("4978,5", 4_978_500_000),
        ("4,9785 m", 4_978_500_000),
        ("4978.5", 4_978_500_000),
    ];
    for (text, nm) in cases {
        let read = length(text, Unit::Mm, Decimal::PointOrComma);
        assert_eq!(read, Ok(Length::from_nm(nm)), "{text}");
    }
    assert_eq!(length("4978,5", Unit::Mm, Decimal::Point), Err(Slip::Comma));
}

#[test]
fn a_text_that_is_no_length_says_why() {
    let cases: &[(&str, Slip)] = &[
        ("", Slip::Empty),
        ("   ", Slip::Empty),
        ("4.97.8", Slip::TwoPoints),
        ("4..978", Slip::TwoPoints),
        ("4,978", Slip::Comma),
        ("4 978", Slip::TwoNumbers),
        ("4.5 1/2", Slip::TwoNumbers),
        ("49x8 mm", Slip::UnknownUnit("x".into())),
        ("16 yd", Slip::UnknownUnit("yd".into())),
        ("1e3", Slip::UnknownUnit("e".into())),
        ("nan", Slip::NotALength),
        ("inf", Slip::NotALength),
        ("long", Slip::UnknownUnit("long".into())),
        ("12 1/0 in", Slip::ZeroDivisor),
        ("4 in 2 ft", Slip::UnitsMixed),
        ("4 m 20 cm", Slip::UnitsMixed),
        ("16' 4 mm", Slip::UnitsMixed),
        ("16' 12\"", Slip::TooManyInches),
        ("4'978", Slip::TooManyInches),
        ("3/4", Slip::BareFraction),
        ("½", Slip::BareFraction),
        (".", Slip::NotANumber),
        ("mm", Slip::NotALength),
        ("-", Slip::NotALength),
        ("4978 mm mm", Slip::NotALength),
        ("4/", Slip::NotALength),
        ("#4978", Slip::NotALength),
        ("1000.1 m", Slip::TooLarge),
        ("1000000000000000000000000000000", Slip::TooLarge),
        ("999999999999 999999999999/1 m", Slip::TooLarge),
    ];
    for (text, slip) in cases {
        let read = length(text, Unit::Mm, Decimal::Point);
        assert_eq!(read.as_ref(), Err(slip), "{text:?}");
    }
}

#[test]
fn a_plain_number_is_finite_and_has_no_unit() {
    assert_eq!(number("8", Decimal::Point), Ok(8.0));
    assert_eq!(number(" -0,5 ", Decimal::PointOrComma), Ok(-0.5));
    for text in ["", "nan", "inf", "1e3", "8 mm", "1.2.3", "0x10", "--1"] {
        assert!(number(text, Decimal::Point).is_err(), "{text:?}");
    }
}

proptest! {
    #[test]
    fn what_is_written_to_a_file_reads_back_to_the_same_nanometre(nm in -20_000_000_000_i64..20_000_000_000) {
        let measured = Length::from_nm(nm);
        for unit in [Unit::Mm, Unit::Inch] {
            let text = unit.exact(measured);
            prop_assert_eq!(length(&text, unit, Decimal::Point), Ok(measured), "{} {:?}", text, unit);
        }
    }

    #[test]
    fn what_a_tape_shows_in_sixteenths_reads_back_exactly(sixteenths in 0_i64..6000) {
        let measured = Length::from_nm(sixteenths * IN / 16);
        let text = Unit::Inch.shop(measured);
        prop_assert_eq!(length(&text, Unit::Mm, Decimal::Point), Ok(measured), "{}", text);
    }

    #[test]
    fn any_text_is_a_length_or_a_slip(text in "[-0-9.,/ '\"½mftincØ″′]{0,24}|\\PC{0,12}") {
        for unit in [Unit::Mm, Unit::Inch] {
            for decimal in [Decimal::Point, Decimal::PointOrComma] {
                if let Ok(read) = length(&text, unit, decimal) {
                    prop_assert!(read.abs() <= Length::from_nm(1_100_000_000_000));
                    prop_assert!(text.chars().any(char::is_numeric));
                }
            }
        }
    }
}
