//! What a photograph says of each of its slices.

use super::card::{self, encoded};
use super::find::{self, Code};
use super::flatten::Picture;
use super::ill::{Doubt, Ill};
use super::light::Light;
use super::refine::Fitted;
use super::slices::{self, Slices, on_the_card};
use crate::units::{Colour, delta_e};

/// What a photograph shows, as it was typed.
#[derive(Clone, PartialEq, Debug, serde::Serialize, serde::Deserialize)]
pub struct Shown {
    /// The length of each slice, from the top, where it is known. Unit: mm.
    pub lengths: Vec<Option<f64>>,
    /// The width of a slice as it lies. Unit: mm.
    pub width: f64,
    /// From the marked ends to the left edge of the card. Unit: mm.
    pub at: f64,
    /// Whether the picture is upside down, and the card is not.
    pub turned: bool,
    /// How much of the light the bought grey card gives back, where one lies in its box. Unit: a part.
    pub grey_card: Option<f64>,
}

/// What was measured in a photograph.
#[derive(Clone, PartialEq, Debug)]
pub struct Measured {
    /// The stretches of each slice, from the top.
    pub slices: Vec<Vec<Stretch>>,
    /// Pixels a millimetre, at the card.
    pub per_mm: f64,
}

/// A stretch of a slice.
#[derive(Clone, PartialEq, Debug)]
pub struct Stretch {
    /// From the marked end. Unit: mm.
    pub from: f64,
    /// Unit: mm.
    pub to: f64,
    /// The median of its clear wood.
    pub colour: Colour,
    /// How far half of the clear wood lies from that. Unit: ΔE00.
    pub spread: f64,
    /// How much of it is clear wood, as a part.
    pub clear: f64,
    /// Its colour place by place, to be held against another photograph's. Unit: mm from the marked end.
    pub places: Vec<(f64, Colour)>,
    /// What makes it doubtful.
    pub doubt: Option<Doubt>,
    /// It from straight above, evened: marked end to the left, `FINE` pixels a millimetre.
    pub picture: Picture,
}

/// Pixels a millimetre of a flattened picture.
const FINE: f64 = 2.0;
/// The longest stretch and the shortest that are worth a row. Unit: mm.
const LONGEST: f64 = 1000.0;
const SHORTEST: f64 = 60.0;
/// What is left out at either end of a strip. Unit: mm. Why: sawn ends are frayed and dark, and the card's place is
/// typed by hand.
const END: f64 = 10.0;
/// What is left out at either edge of a slice, as a part of its width.
const EDGE: f64 = 0.15;
/// Modules of more pixels than this are halved: twice what is needed.
const LARGE: f64 = 9.0;
/// From place to place. Unit: mm.
const PLACE: f64 = 50.0;
/// Steps in which it is looked whether a slice is seen. Unit: mm.
const STEP: f64 = 5.0;
/// More light or less than at the card by this factor is steep.
const STEEP: f64 = 1.6;
/// A colour this far from the wood's is none of wood, and over this length it is no knot. Units: ΔE00, mm.
const OTHER: f64 = 14.0;
const NO_KNOT: f64 = 80.0;
/// A colour this far from that near the card, over `NO_KNOT` up to the end of what is seen, may be that of a desk.
/// Unit: ΔE00. Common practice, no source.
const CHANGED: f64 = 6.0;
/// What lies no further than this to either side of the card is near it. Unit: mm.
const NEAR: f64 = 300.0;
/// Places whose standard error is more than this are not measured. Unit: mm. Why: in 200 rendered photographs places
/// were off by up to 5.8 times their standard error, by 1 at the median; so what is measured is known to 5 mm.
const MOST_UNKNOWN: f64 = 0.85;
/// How far the end of the wood may lie from where it should. Unit: mm.
const MOST_OFF: f64 = 15.0;

/// Measures the slices of a photograph by the codes that were read in it.
///
/// Errors: why nothing of it counts.
pub fn measure(picture: &Picture, codes: &[Code], shown: &Shown) -> Result<Measured, Ill> {
    // From very near, nothing is gained by all those pixels, and the card is found the better without them.
    if codes.iter().any(|code| code.module() > LARGE) {
        let codes: Vec<Code> = codes.iter().map(Code::halved).collect();
        return measure(&picture.halved(), &codes, shown);
    }
    let fitted = find::card(picture, codes, shown.turned)?;
    let plane = fitted.plane;
    let light = Light::on(picture, &plane, shown.grey_card)?;
    let slices = slices::find(picture, &plane, shown.lengths.len(), shown.width)?;
    let eye = Eye {
        picture,
        fitted: &fitted,
        light: &light,
        slices: &slices,
        shown,
    };
    let all: Vec<Vec<Stretch>> = (0..shown.lengths.len())
        .map(|slice| eye.stretches(slice))
        .collect();
    if all.iter().any(Vec::is_empty) {
        return Err(Ill::NoWood);
    }
    let (left, right) = (plane.at((0.0, 33.0)), plane.at((100.0, 33.0)));
    let per_mm = (right.0 - left.0).hypot(right.1 - left.1) / 100.0;
    Ok(Measured {
        slices: all,
        per_mm,
    })
}

struct Eye<'p> {
    picture: &'p Picture,
    fitted: &'p Fitted,
    light: &'p Light,
    slices: &'p Slices,
    shown: &'p Shown,
}

/// What is seen of a slice. Unit: mm; frame: along the slices from the left edge of the card.
struct Wood {
    /// From where to where there is wood.
    from: f64,
    to: f64,
    /// From where to where it is like that near the card.
    like: (f64, f64),
    /// Whether it ends elsewhere than its length says.
    elsewhere: bool,
}

impl Eye<'_> {
    fn stretches(&self, slice: usize) -> Vec<Stretch> {
        let wood = self.wood(slice);
        let mut runs: Vec<(f64, f64)> = Vec::new();
        for n in (wood.from / STEP).ceil() as i64..=(wood.to / STEP).floor() as i64 {
            let s = n as f64 * STEP;
            if !self.is_seen(slice, s) {
                continue;
            }
            match runs.last_mut() {
                Some(last) if s - last.1 < STEP * 1.5 => last.1 = s,
                _ => runs.push((s, s)),
            }
        }
        let (first, last) = wood.like;
        let parts = runs.into_iter().flat_map(|(from, to)| {
            let inside = |s: f64| s.clamp(from, to);
            let all = [from, inside(first), inside(last), to];
            [0, 1, 2].map(|n| (all[n], all[n + 1], n == 1))
        });
        let mut stretches = Vec::new();
        for (from, to, like) in parts.filter(|(from, to, _)| to - from >= SHORTEST) {
            let doubt = match (wood.elsewhere, like) {
                (true, _) => Some(Doubt::EndsElsewhere),
                (false, false) => Some(Doubt::OtherColour),
                (false, true) => None,
            };
            let parts = ((to - from) / LONGEST).ceil();
            let long = (to - from) / parts;
            for n in 0..parts as usize {
                let from = from + n as f64 * long;
                stretches.push(self.stretch(slice, from, from + long, doubt));
            }
        }
        stretches
    }

    /// Whether all of a slice's width is seen at a place that is known, and no card on it.
    fn is_seen(&self, slice: usize, s: f64) -> bool {
        [0.0, 0.25, 0.5, 0.75, 1.0].into_iter().all(|across| {
            let place = self.slices.card(slice, s, across);
            !on_the_card(place, 5.0)
                && self.picture.holds(self.fitted.plane.at(place), 2.0)
                && self.fitted.off(place) <= MOST_UNKNOWN
        })
    }

    fn light(&self, slice: usize, s: f64, across: f64) -> Option<[f64; 3]> {
        let place = self.slices.card(slice, s, across);
        Some(
            self.light
                .at(self.picture.at(self.fitted.plane.at(place))?, place),
        )
    }

    /// What there is of wood, by its length and by its looks.
    fn wood(&self, slice: usize) -> Wood {
        let (from, to) = self.slices.reach();
        let told_from = -self.shown.at;
        let told_to = self.shown.lengths[slice].map(|length| length - self.shown.at);
        let inside = |s: f64| s >= told_from && told_to.is_none_or(|to| s <= to);
        let colours: Vec<(f64, Colour)> = ((from / STEP).ceil() as i64
            ..=(to / STEP).floor() as i64)
            .map(|n| n as f64 * STEP)
            .filter(|s| self.is_seen(slice, *s))
            .filter_map(|s| {
                let across = (0..9).map(|n| EDGE + (1.0 - 2.0 * EDGE) * f64::from(n) / 8.0);
                let seen: Vec<Colour> = across
                    .filter_map(|across| self.light(slice, s, across).map(Colour::light))
                    .collect();
                Some((s, median(&seen)?))
            })
            .collect();
        // What lies near the card is wood: the card lies on it.
        let near = (-NEAR, card::SIZE.0 + NEAR);
        let of_wood: Vec<Colour> = colours
            .iter()
            .filter(|(s, _)| inside(*s) && (near.0..=near.1).contains(s))
            .map(|(_, colour)| *colour)
            .collect();
        let Some(usual) = median(&of_wood) else {
            let (from, like) = (told_from + END, (told_from, to));
            return Wood {
                from,
                to,
                like,
                elsewhere: false,
            };
        };
        let (first, last) = (
            colours.first().map_or(0.0, |seen| seen.0),
            colours.last().map_or(0.0, |seen| seen.0),
        );
        // The innermost place at either end of what is seen, up to which all is this far from the usual colour.
        let ends = |far: f64| {
            let other = |(_, colour): &&(f64, Colour)| delta_e(*colour, usual) > far;
            let before = colours.iter().take_while(other).last();
            let after = colours.iter().rev().take_while(other).last();
            (before.map(|seen| seen.0), after.map(|seen| seen.0))
        };
        let long = |one: Option<f64>, end: f64| one.filter(|seen| (seen - end).abs() >= NO_KNOT);
        let (before, after) = ends(OTHER);
        let far =
            |one: Option<f64>, told: f64| one.is_some_and(|seen| (seen - told).abs() > MOST_OFF);
        let elsewhere = far(long(before, first), told_from)
            || told_to.is_some_and(|told| far(long(after, last), told));
        let begins = before.map_or(from, |seen| seen + STEP).max(told_from);
        let ended = after.map_or(to, |seen| seen - STEP);
        let changes = ends(CHANGED);
        let like = (
            long(changes.0, begins).map_or(f64::NEG_INFINITY, |seen| seen + STEP),
            long(changes.1, ended).map_or(f64::INFINITY, |seen| seen - STEP),
        );
        Wood {
            from: begins + END,
            to: ended.min(told_to.unwrap_or(f64::INFINITY)) - END,
            like,
            elsewhere,
        }
    }

    fn stretch(&self, slice: usize, from: f64, to: f64, doubt: Option<Doubt>) -> Stretch {
        let wide = ((to - from) * FINE).round().max(1.0) as usize;
        let high = (self.shown.width * FINE).round().max(1.0) as usize;
        let mut rgb = vec![0; 3 * wide * high];
        let (mut colours, mut places, mut begun) = (Vec::new(), Vec::new(), 0);
        let edge = (EDGE * high as f64).ceil() as usize;
        for column in 0..wide {
            let s = from + (column as f64 + 0.5) / FINE;
            for row in 0..high {
                let Some(light) = self.light(slice, s, (row as f64 + 0.5) / high as f64) else {
                    continue;
                };
                let at = 3 * (row * wide + column);
                let bytes =
                    light.map(|value| (encoded(value.clamp(0.0, 1.0)) * 255.0).round() as u8);
                rgb[at..at + 3].copy_from_slice(&bytes);
                if column % 2 == 0 && row % 2 == 0 && row >= edge && row + edge < high {
                    colours.push(Colour::light(light));
                }
            }
            let each = (PLACE * FINE) as usize;
            if (column + 1) % each == 0 {
                let middle = self.shown.at + s - PLACE / 2.0;
                places.extend(median(&colours[begun..]).map(|colour| (middle, colour)));
                begun = colours.len();
            }
        }
        let (colour, spread, clear) = clear_wood(colours);
        let steep = [from, to].into_iter().any(|s| {
            let level = self.light.level(1, self.slices.card(slice, s, 0.5));
            !(1.0 / STEEP..=STEEP).contains(&level)
        });
        let little = (clear < 0.5).then_some(Doubt::LittleWood);
        let doubt = doubt.or(steep.then_some(Doubt::SteepLight)).or(little);
        let at = self.shown.at;
        let picture = Picture { wide, high, rgb };
        Stretch {
            from: at + from,
            to: at + to,
            colour,
            spread,
            clear,
            places,
            doubt,
            picture,
        }
    }
}

/// The median, component by component.
fn median(colours: &[Colour]) -> Option<Colour> {
    let middle = |of: fn(&Colour) -> f64| {
        let mut values: Vec<f64> = colours.iter().map(of).collect();
        let at = values.len() / 2;
        let (_, middle, _) =
            (at < values.len()).then(|| values.select_nth_unstable_by(at, f64::total_cmp))?;
        Some(*middle)
    };
    Some(Colour::lab(
        middle(|c| c.l)?,
        middle(|c| c.a)?,
        middle(|c| c.b)?,
    ))
}

/// What is no clear wood lies further from the median than so many usual distances, and than this. Unit of the
/// latter: as L*, a* and b*.
const FAR_TIMES: f64 = 4.0;
const FAR: f64 = 4.0;

/// The median of what is left when knots and glare are left out, how far half of that lies from it, and how much it is.
fn clear_wood(mut colours: Vec<Colour>) -> (Colour, f64, f64) {
    let all = colours.len().max(1) as f64;
    for _ in 0..3 {
        let Some(middle) = median(&colours) else {
            break;
        };
        let away = |c: &Colour| {
            ((c.l - middle.l).powi(2) + (c.a - middle.a).powi(2) + (c.b - middle.b).powi(2)).sqrt()
        };
        let mut distances: Vec<f64> = colours.iter().map(away).collect();
        let at = distances.len() / 2;
        let (_, usual, _) = distances.select_nth_unstable_by(at, f64::total_cmp);
        let most = (FAR_TIMES * *usual).max(FAR);
        colours.retain(|colour| away(colour) <= most);
    }
    let colour = median(&colours).unwrap_or(Colour::lab(0.0, 0.0, 0.0));
    let mut steps: Vec<f64> = colours
        .iter()
        .map(|other| delta_e(colour, *other))
        .collect();
    let at = steps.len() / 2;
    let spread = match at < steps.len() {
        true => *steps.select_nth_unstable_by(at, f64::total_cmp).1,
        false => 0.0,
    };
    (colour, spread, colours.len() as f64 / all)
}
