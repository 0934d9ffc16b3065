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
use twinstrake::photographs::{
    Doubt, Ill, Measured, Picture, Shown, Stretch, codes, measure, open,
};
use twinstrake::units::{Colour, delta_e};

fn measured(picture: &Picture, shown: &Shown) -> Result<Measured, Ill> {
    let read = codes(picture.luma(), picture.wide, picture.high);
    measure(picture, &read, shown)
}

/// What came of many photographs.
#[derive(Default)]
struct Count {
    photographs: usize,
    found: usize,
    /// Of stretches that are marked good.
    steps: Vec<f64>,
    doubtful: usize,
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
        match measured(&picture, &desk.shown()) {
            Ok(measured) => self.hold(&measured, &desk),
            Err(ill) => self.refused.push(format!("{seed}: {ill:?}")),
        }
    }

    /// Holds what was measured against what lay there.
    fn hold(&mut self, measured: &Measured, desk: &Desk) {
        self.found += 1;
        let many = desk.slices.len();
        assert_eq!(measured.slices.len(), many);
        // How far off the colours would be if each slice were its neighbour above, itself, or its neighbour below.
        let mut as_numbered = [0.0; 3];
        for (n, stretches) in measured.slices.iter().enumerate() {
            for stretch in stretches {
                let step = |n: usize| delta_e(stretch.colour, desk.slices[n].colour);
                for (sum, by) in as_numbered.iter_mut().zip(0..) {
                    *sum += step((n + by + many - 1) % many);
                }
                self.places
                    .extend(desk::marks_off(&desk.slices[n], stretch));
                match stretch.doubt {
                    None => self.steps.push(step(n)),
                    Some(_) => self.doubtful += 1,
                }
            }
        }
        let [above, own, below] = as_numbered;
        assert!(own < above && own < below, "misnumbered: {as_numbered:?}");
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
            "{} of {} found; colours: {} stretches, median {:.2}, 95 % {:.2}, most {:.2}, and {} doubtful; places: {} \
                 marks, median {:.2} mm, 95 % {:.2}, most {:.2}; refused: {:?}",
            self.found,
            self.photographs,
            self.steps.len(),
            part(&self.steps, 0.5),
            part(&self.steps, 0.95),
            self.steps.last().unwrap_or(&f64::NAN),
            self.doubtful,
            self.places.len(),
            part(&self.places, 0.5),
            part(&self.places, 0.95),
            self.places.last().unwrap_or(&f64::NAN),
            self.refused,
        )
    }
}

/// Eight, or as many as `TWINSTRAKE_PHOTOGRAPHS` says (`200`, or from and to: `50-100`); then each of up to 12
/// megapixels.
#[test]
fn slices_are_found_and_have_their_colours_and_places() {
    let asked = std::env::var("TWINSTRAKE_PHOTOGRAPHS").ok().map(|asked| {
        let (from, to) = asked.split_once('-').unwrap_or(("0", &asked));
        from.parse::<u64>().unwrap()..to.parse().unwrap()
    });
    let mut count = Count::default();
    for seed in asked.clone().unwrap_or(0..8) {
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
    // None is silently wrong.
    assert!(count.steps.last().unwrap() <= &5.0, "{told}");
    assert!(
        count.places.last().unwrap() <= &5.0 && count.places.len() > 3 * count.found,
        "{told}"
    );
}

/// Slices of unknown lengths that end in the picture, on a desk that looks much like them.
#[test]
fn a_desk_beyond_the_end_of_a_slice_is_never_silently_its_wood() {
    let mut rng = Pcg64Mcg::seed_from_u64(4);
    let mut desk = Desk::any(&mut rng);
    for (slice, n) in desk.slices.iter_mut().zip(0..) {
        slice.length = desk.at + [700.0, 1090.0, 2500.0][n % 3];
    }
    let wood = desk.slices[0].colour;
    for (by, alike) in [(-12.0, true), (-40.0, false)] {
        desk.desk = Colour::lab(wood.l + by, wood.a, wood.b);
        let camera = Camera {
            wide: 2200,
            high: 500,
            per_mm: 1.9,
            middle: (0.2, 0.5),
            ..Camera::good()
        };
        let mut shown = desk.shown();
        shown.lengths.fill(None);
        let picture = camera.picture(&desk, &mut rng);
        let measured = measured(&picture, &shown).unwrap();
        let mut doubted = 0;
        for (slice, stretches) in desk.slices.iter().zip(&measured.slices) {
            let good = |stretch: &&Stretch| stretch.doubt.is_none();
            doubted += stretches
                .iter()
                .filter(|all| all.doubt == Some(Doubt::OtherColour))
                .count();
            for stretch in stretches.iter().filter(good) {
                assert!(delta_e(stretch.colour, slice.colour) < 2.5, "{stretch:?}");
                // What is much unlike it is cut off to the hair, however short it is.
                let spare = if alike { 80.0 } else { 0.0 };
                assert!(stretch.to < slice.length + spare, "{stretch:?}");
            }
        }
        assert_eq!(doubted > 0, alike);
    }
}

/// From far away the card tells little of what lies a metre and a half beside it.
#[test]
fn a_place_too_far_from_the_card_to_be_known_is_not_measured() {
    let mut rng = Pcg64Mcg::seed_from_u64(4);
    let mut desk = Desk::any(&mut rng);
    desk.slices
        .iter_mut()
        .for_each(|slice| slice.length = desk.at + 4000.0);
    let camera = Camera {
        wide: 3000,
        high: 330,
        per_mm: 1.25,
        middle: (0.1, 0.5),
        ..Camera::good()
    };
    let measured = measured(&camera.picture(&desk, &mut rng), &desk.shown()).unwrap();
    for (slice, stretches) in desk.slices.iter().zip(&measured.slices) {
        for stretch in stretches {
            // The picture reaches two metres to the right.
            assert!(stretch.to < desk.at + 1700.0, "{stretch:?}");
            assert!(
                desk::marks_off(slice, stretch)
                    .iter()
                    .all(|off| *off <= 5.0)
            );
        }
    }
}
