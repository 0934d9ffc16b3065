//! Colours from photographs, held against pictures of slices whose colours are known.
//!
//! No real photographs were to be had. What is rendered here has perspective, light that falls off, white balance, a
//! tone curve, noise and JPEG of its own, in other forms than the reckoning supposes; it has no lens, no sensor and
//! no printer.

mod camera;
mod colours;
mod desk;
mod fuzz;
mod ill;

use camera::Camera;
use desk::Desk;
use rand::{RngExt as _, SeedableRng};
use rand_pcg::Pcg64Mcg;
use twinstrake::photographs::{Ill, Measured, Picture, codes, measure, open};
use twinstrake::units::delta_e;

fn measured(picture: &Picture, desk: &Desk) -> Result<Measured, Ill> {
    let read = codes(picture.luma(), picture.wide, picture.high);
    measure(picture, &read, &desk.shown())
}

/// What came of many photographs.
#[derive(Default)]
struct Count {
    photographs: usize,
    found: usize,
    steps: Vec<f64>,
    places: Vec<f64>,
    refused: Vec<String>,
}

impl Count {
    fn one(&mut self, seed: u64, wide: u32) {
        let mut rng = Pcg64Mcg::seed_from_u64(seed);
        let desk = Desk::any(&mut rng);
        let camera = Camera::any(&mut rng, wide);
        let jpeg = camera.jpeg(&desk, &mut rng);
        let picture = open(&jpeg).unwrap();
        self.photographs += 1;
        match measured(&picture, &desk) {
            Ok(measured) => self.hold(&measured, &desk),
            Err(ill) => self.refused.push(format!("{seed}: {ill:?}")),
        }
    }

    /// Holds what was measured against what lay there.
    fn hold(&mut self, measured: &Measured, desk: &Desk) {
        self.found += 1;
        assert_eq!(measured.slices.len(), desk.slices.len());
        for (slice, stretches) in desk.slices.iter().zip(&measured.slices) {
            for stretch in stretches {
                self.steps.push(delta_e(stretch.colour, slice.colour));
                self.places.extend(desk::marks_off(slice, stretch));
            }
        }
    }

    fn told(&mut self) -> String {
        self.steps.sort_by(f64::total_cmp);
        self.places.sort_by(f64::total_cmp);
        let part = |all: &[f64], part: f64| {
            all.get((all.len() as f64 * part) as usize)
                .copied()
                .unwrap_or(f64::NAN)
        };
        format!(
            "{} of {} found; colours: {} stretches, median {:.2}, 95 % {:.2}, most {:.2}; places: {} marks, median \
                 {:.2} mm, \
             95 % {:.2}, most {:.2}; refused: {:?}",
            self.found,
            self.photographs,
            self.steps.len(),
            part(&self.steps, 0.5),
            part(&self.steps, 0.95),
            self.steps.last().unwrap_or(&f64::NAN),
            self.places.len(),
            part(&self.places, 0.5),
            part(&self.places, 0.95),
            self.places.last().unwrap_or(&f64::NAN),
            self.refused,
        )
    }
}

/// A dozen, or as many as `TWINSTRAKE_PHOTOGRAPHS` says; then each of up to 12 megapixels. A slice under another's
/// number would be off in its colour: neighbours on the desk differ by 3 and more.
#[test]
fn slices_are_found_and_have_their_colours_and_places() {
    let asked = std::env::var("TWINSTRAKE_PHOTOGRAPHS")
        .ok()
        .and_then(|count| count.parse().ok());
    let mut count = Count::default();
    for seed in 0..asked.unwrap_or(12) {
        let wide = match asked {
            None => 1500,
            Some(_) => Pcg64Mcg::seed_from_u64(seed + 1_000_000).random_range(1500..4000),
        };
        count.one(seed, wide);
    }
    let told = count.told();
    println!("{told}");
    let many = |part: f64, all: &[f64]| all[(all.len() as f64 * part) as usize];
    assert!(
        count.found as f64 >= 0.98 * count.photographs as f64,
        "{told}"
    );
    assert!(
        many(0.5, &count.steps) <= 1.0 && many(0.95, &count.steps) <= 2.5,
        "{told}"
    );
    assert!(
        count.places.last().unwrap() <= &5.0 && count.places.len() > 3 * count.found,
        "{told}"
    );
}
