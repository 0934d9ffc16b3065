//! `colours`: from photographs to the colours of strips.

mod one;

pub use one::{Why, run as measure_one};

use super::args::Colours;
use super::bar::progress_bar;
use super::opened;
use super::planned::failed;
use super::say;
use super::status::{Ended, Status};
use one::{MeasuredStretch, ToMeasure, measured};
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::num::NonZero;
use std::path::Path;
use std::thread;
use twinstrake::job::{Photo, Photos};
use twinstrake::out::{self, Seen};
use twinstrake::photographs::Shown;
use twinstrake::solve::on_threads;
use twinstrake::units::{Colour, Length, delta_e};

/// Photographs that are measured side by side: each takes some 100 MB.
const SIDE_BY_SIDE: usize = 2;
/// Two places of a strip are one if they lie no further apart. Unit: mm.
const SAME_PLACE: f64 = 25.0;

type Outcome = Result<Vec<Vec<MeasuredStretch>>, Why>;

pub fn run(typed: &Colours) -> Ended {
    let photos = opened::photos(&typed.dir)?;
    let all = all(&typed.dir, &photos, typed.quiet);
    let unmeasured: Vec<(&str, &Why)> = photos
        .photos
        .iter()
        .zip(&all)
        .filter_map(|(photo, outcome)| Some((photo.file.as_str(), outcome.as_ref().err()?)))
        .collect();
    say::err(&say::not_measured(&unmeasured));
    if unmeasured.len() == photos.photos.len() {
        return Err(say::bad_input(&say::no_photo_measured()));
    }
    let (seen, pictures) = seen(&photos, &all);
    // The pictures first: colours.csv names only what is there.
    let sheet = out::colours_csv(photos.unit, &seen);
    sheet
        .and_then(|sheet| out::write_colours(&typed.dir, &pictures, &sheet))
        .map_err(failed)?;
    let told = say::Measured {
        dir: &typed.dir,
        photos: photos.photos.len() - unmeasured.len(),
        of: photos.photos.len(),
        strips: strips(&photos, &all),
        repeat: &repeat(&photos, &all),
    };
    let status = Status::good_if(unmeasured.is_empty());
    Ok(say::last(
        &say::measured(&told),
        status,
        "This could not be printed",
    ))
}

/// What came of each photograph, in their order.
fn all(dir: &Path, photos: &Photos, quiet: bool) -> Vec<Outcome> {
    let template = "Measuring [{bar:16}] {pos} of {len} photographs  {elapsed}";
    let bar = progress_bar(Some(photos.photos.len() as u64), quiet, template);
    bar.tick();
    let hands = thread::available_parallelism().map_or(1, NonZero::get);
    let one = |photo: &Photo| {
        let outcome = measured(&asked(dir, photos, photo));
        bar.inc(1);
        outcome
    };
    let all = on_threads(Some(hands.min(SIDE_BY_SIDE)), || {
        photos.photos.par_iter().map(one).collect()
    });
    bar.finish_and_clear();
    all
}

fn asked(dir: &Path, photos: &Photos, photo: &Photo) -> ToMeasure {
    ToMeasure {
        path: dir.join(&photo.file),
        shown: Shown {
            lengths: photo
                .strips
                .iter()
                .map(|(_, length)| length.map(Length::mm))
                .collect(),
            width: photos.width.mm(),
            at: photo.at.mm(),
            turned: photo.turned,
            grey_card: photo.grey_card,
        },
    }
}

/// The rows of colours.csv, and the pictures by their paths in the folder of the job.
fn seen<'a>(photos: &Photos, all: &'a [Outcome]) -> (Vec<Seen>, Vec<(String, &'a [u8])>) {
    let (mut rows, mut pictures) = (Vec::new(), Vec::new());
    for ((photo, outcome), number) in photos.photos.iter().zip(all).zip(1..) {
        let Ok(slices) = outcome else { continue };
        for (((strip, _), stretches), place) in photo.strips.iter().zip(slices).zip(1..) {
            for (told, part) in stretches.iter().zip(1..) {
                let picture = out::picture_of_strip(strip, number, place, part);
                pictures.push((picture.clone(), told.jpeg.as_slice()));
                rows.push(Seen {
                    photo: photo.file.clone(),
                    strip: strip.clone(),
                    from: Length::from_mm(told.from),
                    to: Length::from_mm(told.to),
                    colour: told.colour(),
                    spread: told.spread,
                    change: change(told),
                    clear: told.clear,
                    quality: say::quality(told.doubt).to_owned(),
                    picture,
                });
            }
        }
    }
    (rows, pictures)
}

/// How the colour changes along a stretch: the step from its first third to its last.
fn change(told: &MeasuredStretch) -> f64 {
    let third = (told.to - told.from) / 3.0;
    let part = |from: f64, to: f64| {
        mean(
            told.places()
                .filter(|(place, _)| (from..=to).contains(place))
                .map(|(_, colour)| colour),
        )
    };
    let (first, last) = (
        part(told.from, told.from + third),
        part(told.to - third, told.to),
    );
    first
        .zip(last)
        .map_or(0.0, |(first, last)| delta_e(first, last))
}

fn mean(colours: impl Iterator<Item = Colour>) -> Option<Colour> {
    let (mut sum, mut many) = ([0.0; 3], 0.0);
    for colour in colours {
        sum = [sum[0] + colour.l, sum[1] + colour.a, sum[2] + colour.b];
        many += 1.0;
    }
    let [l, a, b] = sum.map(|sum| sum / many);
    (many > 0.0).then_some(Colour::lab(l, a, b))
}

/// By how much stretches of strips differ that are seen in two photographs.
fn repeat(photos: &Photos, all: &[Outcome]) -> Vec<f64> {
    let mut by_strip: BTreeMap<&str, Vec<Vec<(f64, Colour)>>> = BTreeMap::new();
    for (photo, outcome) in photos.photos.iter().zip(all) {
        let Ok(slices) = outcome else { continue };
        for ((strip, _), stretches) in photo.strips.iter().zip(slices) {
            let places = stretches.iter().flat_map(MeasuredStretch::places).collect();
            by_strip.entry(strip).or_default().push(places);
        }
    }
    let mut steps = Vec::new();
    for seen in by_strip.values() {
        for (n, one) in seen.iter().enumerate() {
            for other in &seen[n + 1..] {
                let same = |place: f64, of: &[(f64, Colour)]| {
                    of.iter()
                        .any(|(other, _)| (other - place).abs() <= SAME_PLACE)
                };
                let of_both = |one: &[(f64, Colour)], other: &[(f64, Colour)]| {
                    mean(
                        one.iter()
                            .filter(|(place, _)| same(*place, other))
                            .map(|(_, colour)| *colour),
                    )
                };
                let both = of_both(one, other).zip(of_both(other, one));
                steps.extend(both.map(|(one, other)| delta_e(one, other)));
            }
        }
    }
    steps
}

fn strips(photos: &Photos, all: &[Outcome]) -> usize {
    let good = photos
        .photos
        .iter()
        .zip(all)
        .filter(|(_, outcome)| outcome.is_ok());
    let mut names: Vec<&str> = good
        .flat_map(|(photo, _)| &photo.strips)
        .map(|(name, _)| name.as_str())
        .collect();
    names.sort_unstable();
    names.dedup();
    names.len()
}
