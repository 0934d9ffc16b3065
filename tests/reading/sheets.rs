//! The same job written in other ways is the same job.

use crate::folder::{BOAT, COURSES, Folder, STRIPS};
use crate::says::Says;
use proptest::prelude::*;
use twinstrake::units::{Colour, Length, Unit};

/// How a spreadsheet writes a sheet.
#[derive(Clone, Debug)]
struct Hand {
    delimiter: char,
    comma: bool,
    mark: bool,
    carriage_return: bool,
    windows_1252: bool,
    quoted: bool,
    shouted: bool,
    /// Blank rows, as spreadsheets leave them: none, empty lines, lines of delimiters.
    blank: u8,
    inches: bool,
}

fn hands() -> impl Strategy<Value = Hand> {
    let half = any::<bool>;
    (
        prop_oneof![Just(','), Just(';'), Just('\t')],
        half(),
        half(),
        half(),
        half(),
        half(),
        half(),
        0_u8..3,
        half(),
    )
        .prop_map(
            |(
                delimiter,
                comma,
                mark,
                carriage_return,
                windows_1252,
                quoted,
                shouted,
                blank,
                inches,
            )| Hand {
                delimiter,
                comma: comma && delimiter == ';',
                mark: mark && !windows_1252,
                carriage_return,
                windows_1252,
                quoted,
                shouted,
                blank,
                inches,
            },
        )
}

/// A strip in the test's own words.
#[derive(Clone, Debug)]
struct Plank {
    name: String,
    /// In 1/64 in, so that it can be written exactly either way.
    sixty_fourths: i64,
    lab: [i32; 3],
    knot: Option<(i64, i64)>,
    notes: String,
}

fn planks() -> impl Strategy<Value = Vec<Plank>> {
    let plank = (
        10_000_i64..13_000,
        [200_i32..900, -200_i32..200, 0_i32..300],
        proptest::option::of((100_i64..4000, 0_i64..900)),
        "[a-zA-Zéüøß½° \"',;-]{0,12}",
    );
    proptest::collection::vec(plank, 1..12).prop_map(|all| {
        all.into_iter()
            .enumerate()
            .map(|(i, (sixty_fourths, lab, knot, notes))| Plank {
                name: format!("É{}", i + 1),
                sixty_fourths,
                lab,
                knot: knot.map(|(from, long)| (from, from + long)),
                // What a sheet keeps of a text: no blanks at its ends.
                notes: notes.trim().to_owned(),
            })
            .collect()
    })
}

impl Hand {
    fn decimal(&self, text: &str) -> String {
        if self.comma {
            text.replace('.', ",")
        } else {
            text.to_owned()
        }
    }

    fn length(&self, sixty_fourths: i64) -> String {
        let length = Length::from_nm(sixty_fourths * 396_875);
        if self.inches {
            let (feet, rest) = (sixty_fourths / 768, sixty_fourths % 768);
            format!("{feet}' {} {}/64\"", rest / 64, rest % 64)
        } else {
            self.decimal(&Unit::Mm.exact(length))
        }
    }

    fn field(&self, text: &str) -> String {
        let must = text.contains(self.delimiter) || text.starts_with('"') || text.contains('\n');
        if must || self.quoted {
            format!("\"{}\"", text.replace('"', "\"\""))
        } else {
            text.to_owned()
        }
    }

    fn write(&self, rows: &[Vec<String>]) -> Vec<u8> {
        let end = if self.carriage_return { "\r\n" } else { "\n" };
        let mut text = String::new();
        for (i, row) in rows.iter().enumerate() {
            let fields: Vec<String> = row.iter().map(|field| self.field(field)).collect();
            text += &fields.join(&self.delimiter.to_string());
            text += end;
            match self.blank {
                1 if i % 2 == 0 => text += end,
                2 if i % 2 == 0 => {
                    text.extend(std::iter::repeat_n(self.delimiter, row.len() - 1));
                    text += end;
                }
                _ => {}
            }
        }
        if self.windows_1252 {
            let (bytes, _, lost) = encoding_rs::WINDOWS_1252.encode(&text);
            assert!(!lost);
            bytes.into_owned()
        } else if self.mark {
            format!("\u{feff}{text}").into_bytes()
        } else {
            text.into_bytes()
        }
    }

    fn strips(&self, planks: &[Plank]) -> Vec<u8> {
        let header = [
            "strip", "board", "seq", "length", "colour", "defects", "notes",
        ];
        let header = header.map(|name| {
            if self.shouted {
                name.to_uppercase()
            } else {
                name.into()
            }
        });
        let mut rows = vec![header.to_vec()];
        for (i, plank) in planks.iter().enumerate() {
            let lab = plank
                .lab
                .map(|tenths| self.decimal(&format!("{:.1}", f64::from(tenths) / 10.0)));
            rows.push(vec![
                plank.name.clone(),
                "Ø".into(),
                (i + 1).to_string(),
                self.length(plank.sixty_fourths),
                lab.join(" "),
                plank.knot.map_or(String::new(), |(from, to)| {
                    let (from, to) = (self.length(from), self.length(to));
                    format!("{from} - {to}")
                }),
                plank.notes.clone(),
            ]);
        }
        self.write(&rows)
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    #[test]
    fn a_rack_is_the_same_rack_in_any_hand(hand in hands(), planks in planks()) {
        let job = Folder::good().with("strips.csv", hand.strips(&planks)).job();
        prop_assert_eq!(job.stock.strips.len(), planks.len());
        for (strip, plank) in job.stock.strips.iter().zip(&planks) {
            prop_assert_eq!(&strip.name, &plank.name);
            prop_assert_eq!(strip.length, Length::from_nm(plank.sixty_fourths * 396_875));
            let [l, a, b] = plank.lab.map(|tenths| f64::from(tenths) / 10.0);
            prop_assert_eq!(strip.colour, Colour::lab(l, a, b));
            prop_assert_eq!(&strip.notes, &plank.notes);
            let knots: Vec<(i64, i64)> = strip.defects.iter().map(|d| (d.from.nm(), d.to.nm())).collect();
            let meant = plank.knot.map(|(from, to)| (from * 396_875, to * 396_875));
            prop_assert_eq!(knots, meant.into_iter().collect::<Vec<_>>());
        }
        prop_assert_eq!(&job.stock.boards, &["Ø"]);
    }

    #[test]
    fn the_order_of_rows_plays_no_part(rows in Just(STRIPS.lines().skip(1).collect::<Vec<_>>()).prop_shuffle()) {
        let header = STRIPS.lines().next().unwrap();
        let sheet = format!("{header}\n{}\n", rows.join("\n"));
        prop_assert_eq!(Folder::good().with("strips.csv", sheet).job(), Folder::good().job());
    }
}

#[test]
fn a_field_with_an_inch_mark_needs_no_quotes() {
    let sheet = "strip,board,seq,length,colour,notes\nA1,A,1,13' 4 1/2\",5,\"the \"\"best\"\" one\"\n\
                 A2,A,2,\"13' 4 1/2\"\"\",5,\nA3,A,3,13' 4 1/2\",5,6\" short\n";
    let job = Folder::good().with("strips.csv", sheet).job();
    // 13 ft 4 1/2 in is 160.5 in.
    for strip in &job.stock.strips {
        assert_eq!(
            strip.length,
            Length::from_mm(25.4 * 160.5),
            "{}",
            strip.name
        );
    }
    assert_eq!(job.stock.strips[0].notes, "the \"best\" one");
    assert_eq!(job.stock.strips[2].notes, "6\" short");
}

#[test]
fn a_quote_that_is_never_closed_is_told_with_its_line() {
    let sheet = STRIPS
        .replace("A3,A,3", "\"A3,A,3")
        .replace("12' 9 1/2\"", "3.9 m");
    Folder::good().with("strips.csv", sheet).complaint().is(
        "strips.csv, line 4: a field begins with a quote that is never closed. Close it, and write a quote inside a \
         quoted field twice, as in \"16' 4 1/2\"\"\".",
    );
}

#[test]
fn a_quote_that_swallows_rows_up_to_the_next_inch_mark_is_told_with_its_line() {
    let sheet = STRIPS.replace("A3,A,3", "\"A3,A,3");
    let complaint = Folder::good().with("strips.csv", sheet).complaint();
    complaint.begins("strips.csv, line 4: a field begins with a quote that closes only in a later row. Close it,");
}

#[test]
fn lines_are_counted_as_an_editor_counts_them() {
    // Blank rows, a note of two lines and all three line ends: the bad length stands in line 8.
    let sheet = "\n\nstrip,board,seq,length,colour,notes\n\nA1,A,1,4300,5,\"two\nlines\"\n,,,,,\nA2,A,2,x4,5,\n";
    for end in ["\n", "\r\n", "\r"] {
        let all = Folder::good()
            .with("strips.csv", sheet.replace('\n', end))
            .complaints();
        assert_eq!((all.len(), all[0].line), (1, Some(8)), "{end:?} {}", all[0]);
    }
}

#[test]
fn headers_may_be_in_any_case_and_with_spaces() {
    let sheet = COURSES.replace("bow_end,stern_end", " Bow end ,STERN-END");
    assert_eq!(
        Folder::good().with("courses.csv", sheet).job(),
        Folder::good().job()
    );
}

#[test]
fn a_decimal_comma_in_a_sheet_of_semicolons_is_a_decimal_mark() {
    let sheet = COURSES.replace(',', ";").replace("4100", "4100,5");
    let job = Folder::good().with("courses.csv", sheet).job();
    assert_eq!(job.hull.courses[0].length, Length::from_mm(4100.5));
    let twice = Folder::good().with(
        "strips.csv",
        "strip;board;seq;length;colour\nA1;A;1;4.300,5;5\n",
    );
    twice
        .complaint()
        .says("length: \"4.300,5\" has two decimal points");
}

/// A bare number of millimetres as a bare number of inches; anything else as it is.
fn in_inches(text: &str) -> String {
    match text.trim().parse::<f64>() {
        Ok(mm) => Unit::Inch.exact(Length::from_mm(mm)),
        Err(_) => text.to_owned(),
    }
}

#[test]
fn a_job_in_inches_is_the_same_job_as_in_millimetres() {
    let plain = [
        "slope",
        "clear_courses",
        "most",
        "board",
        "look",
        "times",
        "courses",
        "name",
    ];
    let boat: Vec<String> = BOAT
        .lines()
        .map(|row| match row.split_once(" = ") {
            Some((key, value)) if !plain.contains(&key) => format!("{key} = {}", in_inches(value)),
            _ => row.to_owned(),
        })
        .collect();
    let sheet = |text: &str, lengths: &[usize]| {
        let rows = text.lines().map(|row| {
            let fields = row.split(',').enumerate();
            let fields = fields.map(|(i, field)| {
                if lengths.contains(&i) {
                    in_inches(field)
                } else {
                    field.to_owned()
                }
            });
            fields.collect::<Vec<_>>().join(",")
        });
        rows.collect::<Vec<_>>().join("\n")
    };
    let strips = sheet(STRIPS, &[3, 4, 5]).replace(
        "1200-1260; 2210",
        &format!(
            "{}-{}; {}",
            in_inches("1200"),
            in_inches("1260"),
            in_inches("2210")
        ),
    );
    let inches = Folder::good()
        .with(
            "boat.toml",
            boat.join("\n").replace("units = \"mm\"", "units = \"in\""),
        )
        .with("courses.csv", sheet(COURSES, &[3, 4, 5]))
        .with("strips.csv", strips)
        .job();
    let mm = Folder::good().job();
    assert_eq!(inches.unit, Unit::Inch);
    assert_eq!((inches.hull, inches.stock), (mm.hull, mm.stock));
    assert_eq!((inches.rules, inches.weights), (mm.rules, mm.weights));
}
