//! How much of a course a board covers: what that costs and takes, and what edge lies between two of them.

use super::course::Course;
use super::seam::Seam;

/// How much of a course is laid from the board.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Level {
    /// Nothing of it.
    Nothing,
    /// All of it, as far as it is accounted for.
    All,
    /// One end of the course, so many steps long.
    End(usize),
    /// Parts with two ends at least, so many steps together.
    Inner(usize),
}

/// What it costs to have one level on a course.
pub fn entry(course: &Course, level: Level, price: f64, joint: f64, unit: f64) -> f64 {
    match level {
        Level::Nothing => 0.0,
        Level::All => -price * course.metres,
        Level::End(k) if !course.ends[k - course.parts.0] => f64::INFINITY,
        Level::End(k) => joint - price * k as f64 * unit,
        Level::Inner(k) => 2.0 * joint - price * k as f64 * unit,
    }
}

/// Steps of wood that a level counts for at least.
pub fn takes(course: &Course, level: Level) -> usize {
    let pairs = match level {
        Level::Nothing => 0,
        Level::All => course.units,
        // Between this step and the one below.
        Level::End(k) | Level::Inner(k) => k.saturating_sub(1),
    };
    if course.mirrored { pairs } else { pairs / 2 }
}

/// The level of a course by its number.
pub fn level(course: &Course, number: usize) -> Level {
    match number {
        0 => Level::Nothing,
        1 => Level::All,
        _ => {
            let parts = parts(course);
            let at = number - 2;
            match at < parts {
                true => Level::End(course.parts.0 + at),
                false => Level::Inner(course.parts.0 + at - parts),
            }
        }
    }
}

/// How many lengths a part of a course can have.
pub fn parts(course: &Course) -> usize {
    (course.parts.1 + 1).saturating_sub(course.parts.0)
}

/// How many levels a course has.
pub fn levels(course: &Course) -> usize {
    2 + 2 * parts(course)
}

/// Metres of a seam at which the board lies on one side of it only, at least.
pub fn edge(seam: &Seam, one: Level, next: Level, unit: f64) -> f64 {
    use Level::{All, End, Inner, Nothing};
    // That the upper of two parts has two ends is not made use of.
    let stagger = match (one, next) {
        (End(_) | Inner(_), End(_)) => seam.stagger[0].max(seam.stagger[1]),
        (End(_) | Inner(_), Inner(_)) => seam.stagger[0].max(seam.both[1]),
        (End(_), _) => seam.stagger[0],
        (_, End(_)) => seam.stagger[1],
        (Inner(_), _) => seam.both[0],
        (_, Inner(_)) => seam.both[1],
        _ => 0,
    };
    let apart = match (one, next) {
        (Nothing, Nothing) | (All, All) => return 0.0,
        (Nothing, All) | (All, Nothing) => return seam.metres,
        (Nothing, End(k) | Inner(k)) => k.saturating_sub(seam.beyond[1]),
        (End(k) | Inner(k), Nothing) => k.saturating_sub(seam.beyond[0]),
        (All, End(k) | Inner(k)) | (End(k) | Inner(k), All) => seam.units.saturating_sub(k),
        (End(k) | Inner(k), End(m) | Inner(m)) if k >= m => (k - m).saturating_sub(seam.beyond[0]),
        (End(k) | Inner(k), End(m) | Inner(m)) => (m - k).saturating_sub(seam.beyond[1]),
    };
    stagger.max(apart) as f64 * unit
}
