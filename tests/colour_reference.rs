//! Colours against published figures; see the `.source.md` beside each file in tests/reference.
#![allow(clippy::unwrap_used)]

use twinstrake::units::{Colour, delta_e};

fn rows(file: &str) -> Vec<Vec<String>> {
    let path = format!("{}/tests/reference/{file}", env!("CARGO_MANIFEST_DIR"));
    let mut reader = csv::Reader::from_path(path).unwrap();
    let rows = reader.records().map(|record| {
        let record = record.unwrap();
        record.iter().map(str::to_owned).collect()
    });
    rows.collect()
}

fn number(text: &str) -> f64 {
    text.trim().parse().unwrap()
}

/// Source: Sharma, Wu and Dalal, Color Res. Appl. 30 (2005) 21-30, table 1, all 34 pairs, to the four decimals given.
#[test]
fn the_step_between_two_colours_is_the_published_ciede2000_both_ways_round() {
    let rows = rows("ciede2000_sharma2005.csv");
    assert_eq!(rows.len(), 34);
    for row in rows {
        let n: Vec<f64> = row.iter().map(|cell| number(cell)).collect();
        let (one, other) = (Colour::lab(n[1], n[2], n[3]), Colour::lab(n[4], n[5], n[6]));
        for step in [delta_e(one, other), delta_e(other, one)] {
            assert!(
                (step - n[7]).abs() < 1e-4,
                "pair {}: {step}, published {}",
                row[0],
                n[7]
            );
        }
    }
}

#[test]
fn a_colour_is_no_step_from_itself() {
    for shade in 1..=9 {
        assert_eq!(delta_e(Colour::shade(shade), Colour::shade(shade)), 0.0);
    }
}

/// Source: IEC 61966-2-1 with D65, computed at 40 digits; the tolerance is what rounded matrices and white points are
/// worth (0.022 between two widely used libraries).
#[test]
fn an_srgb_colour_has_the_cielab_coordinates_of_the_standard() {
    let rows = rows("srgb_to_lab_d65.csv");
    assert!(rows.len() > 12);
    for row in rows {
        let hex = u32::from_str_radix(row[1].trim_start_matches('#'), 16).unwrap();
        let [_, r, g, b] = hex.to_be_bytes();
        let colour = Colour::srgb([r, g, b]);
        let exact = [&row[2], &row[3], &row[4]].map(|cell| number(cell));
        for (ours, exact) in [colour.l, colour.a, colour.b].iter().zip(exact) {
            assert!(
                (ours - exact).abs() < 0.03,
                "{}: {ours}, exact {exact}",
                row[0]
            );
        }
        assert_eq!(colour.to_srgb(), [r, g, b], "{} and back", row[0]);
    }
}
