//! What a name means: a strip, or places on the boat. Every name that the program prints is understood, in any
//! spelling, and where one could mean two things it is asked back.

use super::words::Shop;
use std::collections::BTreeSet;
use twinstrake::hull::{CourseId, CourseName, Side};
use twinstrake::log::Spot;

/// What some words name.
pub enum Named {
    /// A strip of the rack.
    Strip(String),
    /// Places on the boat.
    Places(Vec<Spot>),
}

/// What the words name: `B11`, `12 port`, `bottom 3 s`, `p12.1`, `[P]7.1 bow`.
///
/// Errors: what could not be understood, or could mean two things.
pub fn named(shop: &Shop<'_>, words: &[&str]) -> Result<Named, String> {
    if let ["strip", name] = words {
        return known(shop, name).map(Named::Strip);
    }
    let bare: Vec<String> = words.iter().map(|word| plain(word)).collect();
    let bare: Vec<&str> = bare
        .iter()
        .flat_map(|word| word.split_whitespace())
        .collect();
    let as_place = spots(shop, &bare);
    let as_strip = match words {
        [name] => known(shop, name).ok(),
        _ => None,
    };
    match (as_strip, as_place) {
        (Some(name), Ok(places)) => Err(format!(
            "\"{}\" is a strip, and a place on the boat as well. Write strip {name}, or {}.",
            words.join(" "),
            spelt(shop, &places)
        )),
        (Some(name), Err(_)) => Ok(Named::Strip(name)),
        (None, places) => places.map(Named::Places),
    }
}

/// A place as it can be typed: `topside 12 port`.
fn spelt(shop: &Shop<'_>, places: &[Spot]) -> String {
    let hull = &shop.reading.job.hull;
    let place = |spot: &Spot| format!("{} {}", hull.full_name(spot.course), spot.side.name());
    places.first().map_or(String::new(), place)
}

/// The strip of that name. The case is a slip of the finger, as long as only one strip can be meant.
///
/// Errors: there is none, or there are two.
pub fn known(shop: &Shop<'_>, name: &str) -> Result<String, String> {
    let stock = &shop.reading.job.stock;
    if stock.named(name).is_some() {
        return Ok(name.to_owned());
    }
    let like: Vec<&str> = stock
        .strips
        .iter()
        .map(|strip| strip.name.as_str())
        .filter(|other| other.eq_ignore_ascii_case(name))
        .collect();
    match like.as_slice() {
        [one] => Ok((*one).to_owned()),
        [] => Err(format!(
            "There is no strip \"{name}\". Look at the name on the strip."
        )),
        [one, other, ..] => Err(format!(
            "\"{name}\" could be {one} or {other}. Write it as it is on the strip."
        )),
    }
}

/// A mark without its shape: `[P]7.1` and `/S\7.1` as `p7.1` and `s7.1`; a comma between names is none.
fn plain(word: &str) -> String {
    let shape = |c: char| matches!(c, '[' | ']' | '(' | ')' | '/' | '\\');
    let bare: String = word.chars().filter(|c| !shape(*c)).collect();
    bare.replace(',', " ").trim().to_lowercase()
}

/// The places that words like `bottom 3 port 2` or `p12.1` name. Without a side: every side that the course has.
fn spots(shop: &Shop<'_>, words: &[&str]) -> Result<Vec<Spot>, String> {
    let hull = &shop.reading.job.hull;
    let (mut side, mut course, mut pieces, mut panels) = (None, None, Vec::new(), None);
    for word in words {
        let word = *word;
        // As it is said of a place, and at the end of a label's mark.
        if course.is_some() && matches!(word, "piece" | "bow" | "stern") {
            continue;
        }
        if let Some((on, rest)) = side_and_rest(word) {
            side = Some(on);
            if rest.is_empty() {
                continue;
            }
            let (name, piece) = figures(rest).ok_or_else(|| not_understood(word))?;
            course = Some(name);
            pieces.extend(piece);
        } else if let (Some(_), Ok(piece)) = (course, word.parse::<u32>()) {
            pieces.push(piece);
        } else if let (None, Some((name, piece))) = (course, figures(word)) {
            course = Some(name);
            pieces.extend(piece);
        } else {
            let like: BTreeSet<usize> = (0..hull.panels.len())
                .filter(|i| hull.panels[*i].name.to_lowercase().starts_with(word))
                .collect();
            if like.is_empty() {
                return Err(not_understood(word));
            }
            panels = Some(like);
        }
    }
    let (course, piece) = match (course, pieces.as_slice()) {
        (Some(course), []) => (course, Spot::ALL),
        (Some(course), [piece]) if *piece > 0 => (course, *piece),
        _ => return Err("Write a course, and perhaps a side and a piece: 12 port 1.".into()),
    };
    let here: Vec<CourseId> = hull
        .courses()
        .filter(|(_, c)| c.name() == course)
        .filter(|(_, c)| panels.as_ref().is_none_or(|like| like.contains(&c.panel.0)))
        // A mark with a side names a course that has it.
        .filter(|(_, c)| side.is_none_or(|side| c.sides().contains(&side)))
        .map(|(id, _)| id)
        .collect();
    let id = match here.as_slice() {
        [one] => *one,
        [] => {
            let known = hull.courses().any(|(_, c)| c.name() == course);
            return Err(match side.filter(|_| known && panels.is_none()) {
                Some(side) => format!("Course {course} has no {} side.", side.name()),
                None => format!("There is no course {course} there."),
            });
        }
        _ => {
            let names: Vec<&str> = here
                .iter()
                .map(|id| hull.panel_of(*id).name.as_str())
                .collect();
            return Err(format!(
                "There is a course {course} in {}. Write the panel as well: {} {course}.",
                names.join(" and in "),
                names[0]
            ));
        }
    };
    let sides = hull.course(id).sides().iter();
    let wanted = sides.filter(|on| side.is_none_or(|side| side == **on));
    let spot = |side: &Side| Spot {
        course: id,
        side: *side,
        number: piece,
    };
    Ok(wanted.map(spot).collect())
}

fn not_understood(word: &str) -> String {
    format!(
        "\"{word}\" is no strip, side, panel or number. Write a strip, or a course and a side: D4, or 12 port."
    )
}

/// `port`, `p`, `p12`; what follows a single letter must be figures.
fn side_and_rest(word: &str) -> Option<(Side, &str)> {
    let whole = [
        ("port", Side::Port),
        ("starboard", Side::Starboard),
        ("star", Side::Starboard),
        ("centre", Side::Centre),
        ("center", Side::Centre),
    ];
    if let Some((_, side)) = whole.iter().find(|(name, _)| *name == word) {
        return Some((*side, ""));
    }
    let letter = [
        ('p', Side::Port),
        ('s', Side::Starboard),
        ('c', Side::Centre),
    ];
    let (_, side) = letter
        .iter()
        .find(|(letter, _)| word.starts_with(*letter))?;
    let rest = &word[1..];
    (rest.is_empty() || figures(rest).is_some()).then_some((*side, rest))
}

/// `12`, `12.1` or `7a`: a course, and perhaps a piece of it.
fn figures(word: &str) -> Option<(CourseName, Option<u32>)> {
    match word.split_once('.') {
        None => Some((word.parse().ok()?, None)),
        Some((course, piece)) => Some((course.parse().ok()?, Some(piece.parse().ok()?))),
    }
}
