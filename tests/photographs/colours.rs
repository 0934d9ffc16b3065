//! Colour arithmetic against published values.

use twinstrake::units::Colour;

/// Light to CIELAB by the table of sRGB colours that is kept with its source (tests/reference/srgb_to_lab_d65.csv).
#[test]
fn light_has_the_colour_that_is_published_for_it() {
    let table = include_str!("../reference/srgb_to_lab_d65.csv");
    for row in table.lines().skip(1) {
        let cells: Vec<&str> = row.split(',').collect();
        let hex = cells[1].trim_start_matches('#');
        let light = [0, 2, 4].map(|at| {
            let value = f64::from(u8::from_str_radix(&hex[at..at + 2], 16).unwrap()) / 255.0;
            if value <= 0.04045 {
                value / 12.92
            } else {
                ((value + 0.055) / 1.055).powf(2.4)
            }
        });
        let colour = Colour::light(light);
        let exact = [2, 3, 4].map(|n| cells[n].parse::<f64>().unwrap());
        for (seen, exact) in [colour.l, colour.a, colour.b].into_iter().zip(exact) {
            assert!((seen - exact).abs() < 0.02, "{row}: {colour:?}");
        }
    }
}
