//! The shop's words: what was typed, and the events that it means.

use super::names::{Named, known, named};
use twinstrake::job::{Reading, place_or_stretch, typed_colour};
use twinstrake::log::{Event, Facts, Measured, Spot, ToldCut, holding, place};
use twinstrake::plan::{Piece, Plan};
use twinstrake::stock::Defect;
use twinstrake::units::Colour;
use twinstrake::units::parse::{Decimal, length};
use twinstrake::untrusted::slip_in_name;

/// What the words are understood against.
pub struct Shop<'a> {
    pub reading: &'a Reading,
    pub plan: Option<&'a Plan>,
    /// Whether what is taken up is as good as before.
    pub whole: bool,
    /// Board and seq of a new strip.
    pub origin: Option<(String, u32)>,
}

/// The events that the words tell.
///
/// Errors: what could not be understood, and the mend.
pub fn events(shop: &Shop<'_>, words: &[String]) -> Result<Vec<Event>, String> {
    let words: Vec<&str> = words
        .iter()
        .flat_map(|word| word.split_whitespace())
        .collect();
    let Some((first, rest)) = words.split_first() else {
        return Err("Nothing was told.".into());
    };
    match (first.to_lowercase().as_str(), rest) {
        ("laid" | "lay" | "l", rest) => laid(shop, rest),
        ("cut" | "c", rest) => cut(shop, rest),
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
            "\"{word}\" is not something that can be told. Begin with laid, cut, broken, spoiled, lost, found, shade, \
            taken up or undo."
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
            Some(next) => {
                let strip = shop.reading.job.stock.strip(next.strip);
                if !strip.has(next.cut_from, next.cut_to) {
                    return Err(format!(
                        "Next is {}, but its wood in {} is gone. Find other wood for it first: twinstrake lay.",
                        place(&shop.reading.job.hull, &Spot::of(next)),
                        strip.name
                    ));
                }
                vec![next]
            }
            None => return Err("Everything in the plan is laid.".into()),
        },
        words => {
            let here = pieces_of(shop, plan, words)?;
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

/// The pieces of a plan that words name. A strip stands for the piece that is cut from it; where it gives several, it
/// is asked which.
fn pieces_of<'p>(
    shop: &Shop<'_>,
    plan: &'p Plan,
    words: &[&str],
) -> Result<Vec<&'p Piece>, String> {
    let all = plan.pieces.iter();
    match named(shop, words)? {
        Named::Places(spots) => Ok(all
            .filter(|piece| spots.iter().any(|spot| spot.covers(&Spot::of(piece))))
            .collect()),
        Named::Strip(name) => {
            let stock = &shop.reading.job.stock;
            let here: Vec<&Piece> = all
                .filter(|piece| stock.strip(piece.strip).name == name)
                .collect();
            let open: Vec<&Piece> = here
                .iter()
                .copied()
                .filter(|p| at(shop, &Spot::of(p)).is_none())
                .collect();
            match open.as_slice() {
                [] => Ok(here),
                [_] => Ok(open),
                _ => {
                    let hull = &shop.reading.job.hull;
                    let places: Vec<String> = open
                        .iter()
                        .map(|piece| place(hull, &Spot::of(piece)))
                        .collect();
                    Err(format!(
                        "{name} gives several pieces: {}. Write which: 12 port 1.",
                        places.join("; ")
                    ))
                }
            }
        }
    }
}

/// `cut D4`, `cut D4 2210`, `cut 12 port`.
fn cut(shop: &Shop<'_>, words: &[&str]) -> Result<Vec<Event>, String> {
    if words.is_empty() {
        return Err("Write the strip or the piece that was cut: cut D4, cut 12 port, or cut D4 2210 for one \
        cut.".into());
    }
    let job = &shop.reading.job;
    if let [name, at @ ..] = words
        && let Ok(name) = known(shop, name)
        && let Some(at) = place_or_stretch(&at.join(" ").replace("at ", ""), job.unit)
        && at.from == at.to
    {
        let told = ToldCut::Place(name, at.from);
        return Ok(made(shop, &told));
    }
    if shop.plan.is_none() {
        return Err("There is no plan that could say where. Write the place: cut D4 2210.".into());
    }
    let told: Vec<ToldCut> = match named(shop, words)? {
        Named::Strip(name) => vec![ToldCut::Strip(name)],
        Named::Places(spots) => spots.into_iter().map(ToldCut::Spot).collect(),
    };
    let events: Vec<Event> = told.iter().flat_map(|told| made(shop, told)).collect();
    match events.is_empty() {
        true => Err(
            "There is nothing left to cut there: it is cut or laid already, is a whole strip, or the plan has nothing \
            there."
                .into(),
        ),
        false => Ok(events),
    }
}

fn made(shop: &Shop<'_>, told: &ToldCut) -> Vec<Event> {
    let job = &shop.reading.job;
    let cuts = told.by(shop.plan, &job.stock, &job.laid);
    cuts.into_iter().map(Event::Cut).collect()
}

fn at(shop: &Shop<'_>, spot: &Spot) -> Option<Facts> {
    let log = shop.reading.log.as_ref()?;
    log.standing.at(spot)?.facts.clone()
}

fn taken_up(shop: &Shop<'_>, words: &[&str]) -> Result<Vec<Event>, String> {
    let job = &shop.reading.job;
    let named = named(shop, words)?;
    let is_meant = |piece: &&Piece| match &named {
        Named::Strip(name) => job.stock.strip(piece.strip).name == *name,
        Named::Places(spots) => spots.iter().any(|spot| spot.covers(&Spot::of(piece))),
    };
    let here: Vec<&Piece> = job.laid.iter().filter(is_meant).collect();
    if let (Named::Strip(name), [_, _, ..]) = (&named, here.as_slice()) {
        return Err(format!(
            "{name} is laid at several places. Write which: taken up 12 port 1."
        ));
    }
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
    let board = shop.origin.as_ref().map(|(board, _)| board.as_str());
    if let Some((wrong, mend)) = words
        .first()
        .copied()
        .into_iter()
        .chain(board)
        .find_map(slip_in_name)
    {
        return Err(format!("The name {wrong}. {mend}"));
    }
    let event = match words {
        [] => return Err("Write the strip that was found: found D4.".into()),
        [strip] => Event::Found {
            strip: known(shop, strip).unwrap_or_else(|_| (*strip).to_owned()),
            measured: None,
        },
        [strip, typed @ ..] => {
            let unit = shop.reading.job.unit;
            // A length may be several words, as 17' 2 1/2"; at least one is left for the colour.
            let read = |words: usize| {
                let length = length(&typed[..words].join(" "), unit, Decimal::Point).ok()?;
                (length.nm() > 0).then_some((length, &typed[words..]))
            };
            let splits = 1..=typed.len().saturating_sub(1).max(1);
            let (length, colour) = splits.rev().find_map(read).ok_or_else(|| {
                format!(
                    "\"{}\" is no length. Write name, length and colour: found S9 3200 7.",
                    typed[0]
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

pub fn read_colour(words: &[&str]) -> Result<Colour, String> {
    typed_colour(&words.join(" ")).map_err(|wrong| {
        format!(
            "The colour {wrong}. Write a shade from 1 (darkest) to 9 (lightest), #c4936a, or L a b as 64.7 13.3 28.8."
        )
    })
}

fn undo(shop: &Shop<'_>, words: &[&str]) -> Result<Vec<Event>, String> {
    let entries = shop.reading.entries();
    let entry = match words {
        [] => {
            let last = holding(entries).pop();
            last.ok_or("There is nothing to undo.")? + 1
        }
        [number] | ["entry", number] => number
            .parse()
            .map_err(|_| format!("\"{number}\" is no number of an entry. Write undo 7."))?,
        _ => return Err("Write undo, or undo and the number of an entry: undo 7.".into()),
    };
    Ok(vec![Event::Undone { entry }])
}
