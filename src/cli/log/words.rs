//! The shop's words: what was typed, and the events that it means.

use std::collections::BTreeSet;
use twinstrake::hull::{CourseId, CourseName, Side};
use twinstrake::job::{Reading, place_or_stretch, typed_colour};
use twinstrake::log::{Event, Facts, Measured, Spot, live};
use twinstrake::plan::{Piece, Plan};
use twinstrake::stock::Defect;
use twinstrake::units::Colour;
use twinstrake::units::parse::{Decimal, length};

/// What the words are understood against.
pub(super) struct Shop<'a> {
    pub(super) reading: &'a Reading,
    pub(super) plan: Option<&'a Plan>,
    /// Whether what is taken up is as good as before.
    pub(super) whole: bool,
    /// Board and seq of a new strip.
    pub(super) origin: Option<(String, u32)>,
}

/// The events that the words tell.
///
/// Errors: what could not be understood, and the mend.
pub(super) fn events(shop: &Shop<'_>, words: &[String]) -> Result<Vec<Event>, String> {
    let words: Vec<&str> = words
        .iter()
        .flat_map(|word| word.split_whitespace())
        .collect();
    let Some((first, rest)) = words.split_first() else {
        return Err("Nothing was told.".into());
    };
    match (first.to_lowercase().as_str(), rest) {
        ("laid" | "lay" | "l", rest) => laid(shop, rest),
        ("taken", ["up", rest @ ..]) | ("takenup" | "up", rest) => taken_up(shop, rest),
        ("broken" | "broke" | "b", rest) => {
            let (strip, at) = strip_and_stretch(shop, "broken", rest)?;
            Ok(vec![Event::Broken { strip, at }])
        }
        ("spoiled" | "spoilt" | "s", rest) => {
            let (strip, at) = strip_and_stretch(shop, "spoiled", rest)?;
            Ok(vec![Event::Spoiled { strip, at }])
        }
        ("lost", [strip]) => Ok(vec![Event::Lost {
            strip: known(shop, strip)?,
        }]),
        ("lost", _) => Err("Write the strip that is lost: lost D4.".into()),
        ("found" | "added", rest) => found(shop, rest),
        ("shade" | "colour", [strip, colour @ ..]) if !colour.is_empty() => {
            Ok(vec![Event::Shade {
                strip: known(shop, strip)?,
                colour: read_colour(colour)?,
            }])
        }
        ("shade" | "colour", _) => Err("Write the strip and its colour: shade D4 6.".into()),
        ("undo" | "undone", rest) => undo(shop, rest),
        (word, _) => Err(format!(
            "\"{word}\" is not something that can be told. Begin with laid, broken, spoiled, lost, found, shade, taken up or undo."
        )),
    }
}

fn laid(shop: &Shop<'_>, words: &[&str]) -> Result<Vec<Event>, String> {
    let Some(plan) = shop.plan else {
        return Err(
            "There is no plan to lay from, or it can't be read. Lay the job first: twinstrake lay."
                .into(),
        );
    };
    let is_laid = |piece: &Piece| at(shop, &Spot::of(piece)).is_some();
    let pieces: Vec<&Piece> = match words {
        ["next"] => match plan.pieces.iter().find(|piece| !is_laid(piece)) {
            Some(next) => vec![next],
            None => return Err("Everything in the plan is laid.".into()),
        },
        words => {
            let spots = spots(shop, words)?;
            let all = plan.pieces.iter();
            let here: Vec<&Piece> = all
                .filter(|piece| spots.iter().any(|spot| spot.covers(&Spot::of(piece))))
                .collect();
            // "12 is laid" means the rest of it, where some of it was laid before.
            let rest: Vec<&Piece> = here.iter().copied().filter(|p| !is_laid(p)).collect();
            if rest.is_empty() { here } else { rest }
        }
    };
    if pieces.is_empty() {
        return Err(
            "The plan has nothing there: the course is left out, or it has fewer pieces.".into(),
        );
    }
    let stock = &shop.reading.job.stock;
    let event = |piece: &&Piece| Event::Laid {
        spot: Spot::of(piece),
        facts: Some(Facts::of(piece, stock)),
    };
    Ok(pieces.iter().map(event).collect())
}

fn at(shop: &Shop<'_>, spot: &Spot) -> Option<Facts> {
    let log = shop.reading.log.as_ref()?;
    log.standing.at(spot)?.facts.clone()
}

fn taken_up(shop: &Shop<'_>, words: &[&str]) -> Result<Vec<Event>, String> {
    let spots = spots(shop, words)?;
    let laid = shop.reading.job.laid.iter();
    let here: Vec<&Piece> = laid
        .filter(|piece| spots.iter().any(|spot| spot.covers(&Spot::of(piece))))
        .collect();
    if here.is_empty() {
        return Err("Nothing is laid there.".into());
    }
    let event = |piece: &&Piece| Event::TakenUp {
        spot: Spot::of(piece),
        spoiled: (!shop.whole).then_some(Defect {
            from: piece.cut_from,
            to: piece.cut_to,
        }),
    };
    Ok(here.iter().map(event).collect())
}

/// The places that words like `bottom 3 port 2` or `p12.1` name. Without a side: every side that the course has.
fn spots(shop: &Shop<'_>, words: &[&str]) -> Result<Vec<Spot>, String> {
    let hull = &shop.reading.job.hull;
    let (mut side, mut course, mut pieces, mut panels) = (None, None, Vec::new(), None);
    for word in words {
        let word = word.to_lowercase();
        if let Some((on, rest)) = side_and_rest(&word) {
            side = Some(on);
            if rest.is_empty() {
                continue;
            }
            let (name, piece) = figures(rest).ok_or_else(|| not_understood(&word))?;
            course = Some(name);
            pieces.extend(piece);
        } else if let (Some(_), Ok(piece)) = (course, word.parse::<u32>()) {
            pieces.push(piece);
        } else if let (None, Some((name, piece))) = (course, figures(&word)) {
            course = Some(name);
            pieces.extend(piece);
        } else {
            let like: BTreeSet<usize> = (0..hull.panels.len())
                .filter(|i| hull.panels[*i].name.to_lowercase().starts_with(&word))
                .collect();
            if like.is_empty() {
                return Err(not_understood(&word));
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
        .map(|(id, _)| id)
        .collect();
    let id = match here.as_slice() {
        [one] => *one,
        [] => return Err(format!("There is no course {course} there.")),
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
    let sides = hull.course(id).sides();
    match side {
        Some(side) if !sides.contains(&side) => {
            Err(format!("Course {course} has no {} side.", side.name()))
        }
        _ => Ok(sides
            .iter()
            .filter(|on| side.is_none_or(|side| side == **on))
            .map(|side| Spot {
                course: id,
                side: *side,
                number: piece,
            })
            .collect()),
    }
}

fn not_understood(word: &str) -> String {
    format!("\"{word}\" is no side, panel or number. Write a course and a side: 12 port.")
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

fn known(shop: &Shop<'_>, name: &str) -> Result<String, String> {
    let strips = &shop.reading.job.stock.strips;
    if strips.iter().any(|strip| strip.name == name) {
        return Ok(name.to_owned());
    }
    // The case is a slip of the finger, as long as only one strip can be meant.
    let like: Vec<&str> = strips
        .iter()
        .map(|strip| strip.name.as_str())
        .filter(|other| other.eq_ignore_ascii_case(name))
        .collect();
    match like.as_slice() {
        [one] => Ok((*one).to_owned()),
        _ => Err(format!(
            "There is no strip \"{name}\". Look at the name on the strip."
        )),
    }
}

fn strip_and_stretch(
    shop: &Shop<'_>,
    word: &str,
    words: &[&str],
) -> Result<(String, Defect), String> {
    let mend = format!(
        "Write the strip and the place from its marked end: {word} D4 2210, or {word} D4 1200-1260."
    );
    let [strip, at @ ..] = words else {
        return Err(mend);
    };
    let at = at
        .iter()
        .filter(|word| **word != "at")
        .copied()
        .collect::<Vec<_>>()
        .join(" ");
    match place_or_stretch(&at, shop.reading.job.unit) {
        Some(at) => Ok((known(shop, strip)?, at)),
        None => Err(mend),
    }
}

fn found(shop: &Shop<'_>, words: &[&str]) -> Result<Vec<Event>, String> {
    let event = match words {
        [] => return Err("Write the strip that was found: found D4.".into()),
        [strip] => Event::Found {
            strip: known(shop, strip).unwrap_or_else(|_| (*strip).to_owned()),
            measured: None,
        },
        [strip, typed, colour @ ..] => {
            let unit = shop.reading.job.unit;
            let length = length(typed, unit, Decimal::Point)
                .ok()
                .filter(|length| length.nm() > 0)
                .ok_or_else(|| {
                    format!(
                        "\"{typed}\" is no length. Write name, length and colour: found S9 3200 7."
                    )
                })?;
            Event::Found {
                strip: (*strip).to_owned(),
                measured: Some(Measured {
                    length,
                    colour: read_colour(colour)?,
                    origin: shop.origin.clone(),
                }),
            }
        }
    };
    Ok(vec![event])
}

fn read_colour(words: &[&str]) -> Result<Colour, String> {
    typed_colour(&words.join(" ")).map_err(|wrong| {
        format!(
            "The colour {wrong}. Write a shade from 1 (darkest) to 9 (lightest), #c4936a, or L a b as 64.7 13.3 28.8."
        )
    })
}

fn undo(shop: &Shop<'_>, words: &[&str]) -> Result<Vec<Event>, String> {
    let entries = shop
        .reading
        .log
        .as_ref()
        .map_or(&[][..], |log| &log.entries);
    let entry = match words {
        [] => {
            let holds = live(entries);
            (0..entries.len())
                .rev()
                .find(|i| holds[*i] && !matches!(entries[*i].event, Event::Undone { .. }))
                .map(|i| i + 1)
                .ok_or("There is nothing to undo.")?
        }
        [number] | ["entry", number] => number
            .parse()
            .map_err(|_| format!("\"{number}\" is no number of an entry. Write undo 7."))?,
        _ => return Err("Write undo, or undo and the number of an entry: undo 7.".into()),
    };
    Ok(vec![Event::Undone { entry }])
}
