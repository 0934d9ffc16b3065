//! The rack put in order: what can be used and what can't, pairs together, by wood, length and shade; and, once
//! there is a plan, the stack from which it is laid.

use crate::job::{Job, Stage};
use crate::lines::one_piece;
use crate::plan::{Plan, Rules};
use crate::stock::{Defect, Stock, Strip, StripId};
use crate::units::{Length, U};
use std::collections::{BTreeMap, BTreeSet};

/// A rack put in order.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Sorted {
    /// Wood that can be used, from the lightest to the darkest in each.
    pub groups: Vec<Group>,
    /// What no piece can be cut from, in the order of names.
    pub culls: Vec<Cull>,
}

/// A pair, or a strip that has no sister here.
pub type Place = (StripId, Option<StripId>);

/// Wood of one kind and one class of length.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Group {
    /// As the sheets have it; empty where they don't say.
    pub wood: String,
    /// Their clear length is at most this.
    pub class: Length,
    /// From the lightest to the darkest.
    pub places: Vec<Place>,
}

/// A strip that is of no use to this boat.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Cull {
    /// The strip.
    pub strip: StripId,
    /// Why.
    pub why: Why,
}

/// Why a strip is of no use.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Why {
    /// Narrower than boat.toml's strip, by so much.
    Narrow(Length),
    /// Thinner, by so much.
    Thin(Length),
    /// Shorter than any piece that could be cut from it must be.
    Short {
        /// How long it is.
        long: Length,
        /// How long it should be.
        least: Length,
    },
    /// It would do but for its defects.
    Defects {
        /// Its longest clear stretch.
        clear: Length,
        /// How long that should be.
        least: Length,
        /// The defect that would have to be none.
        but_for: Option<Defect>,
    },
}

/// The longest stretch that is clear on all of some strips, from their marked ends: mates are cut at the same places.
pub fn clear(strips: &[&Strip]) -> Length {
    let end = strips
        .iter()
        .map(|strip| strip.length)
        .min()
        .unwrap_or(Length::ZERO);
    longest(
        &strips
            .iter()
            .flat_map(|strip| strip.gone())
            .collect::<Vec<_>>(),
        end,
    )
}

fn longest(gone: &[Defect], end: Length) -> Length {
    let mut gone = gone.to_vec();
    gone.sort_by_key(|gone| gone.from);
    let (mut from, mut best) = (U::ORIGIN, Length::ZERO);
    for gone in gone {
        best = best.max(gone.from.min(U::at(end)) - from);
        from = from.max(gone.to);
    }
    best.max(U::at(end) - from)
}

/// The shortest piece that any course takes.
fn least(job: &Job) -> Length {
    let whole = job
        .hull
        .courses
        .iter()
        .map(|course| one_piece(course, &job.rules))
        .min();
    let joined = (job.rules.joints.most > 0)
        .then(|| job.rules.joints.shortest_piece + job.rules.scarf() * 0.5);
    whole
        .into_iter()
        .chain(joined)
        .min()
        .unwrap_or(Length::ZERO)
}

/// Puts a rack in order, in classes of length so far apart.
pub fn sorted(job: &Job, class: Length) -> Sorted {
    let least = least(job);
    let mut sorted = Sorted::default();
    let mut good = BTreeSet::new();
    for (strip, wood) in job.stock.strips() {
        match why_not(wood, &job.rules, least) {
            Some(why) => sorted.culls.push(Cull { strip, why }),
            None => drop(good.insert(strip)),
        }
    }
    let mut groups: BTreeMap<(String, Length), Vec<Place>> = BTreeMap::new();
    for place in pairs(&job.stock, good, least) {
        let strips: Vec<&Strip> = ids(place).map(|id| job.stock.strip(id)).collect();
        let upper = clear(&strips).rounded_up(class);
        let wood = strips.first().map_or("", |strip| strip.wood.as_str());
        groups
            .entry((wood.to_lowercase(), upper))
            .or_default()
            .push(place);
    }
    for ((_, class), mut places) in groups {
        let light = |place: &Place| {
            let all: Vec<f64> = ids(*place).map(|id| job.stock.strip(id).colour.l).collect();
            all.iter().sum::<f64>() / all.len() as f64
        };
        places.sort_by(|one, other| light(other).total_cmp(&light(one)).then(one.cmp(other)));
        let wood = places
            .first()
            .map_or(String::new(), |place| job.stock.strip(place.0).wood.clone());
        sorted.groups.push(Group {
            wood,
            class,
            places,
        });
    }
    sorted
}

/// The strips of a place in the rack.
pub fn ids((one, other): Place) -> impl Iterator<Item = StripId> {
    [Some(one), other].into_iter().flatten()
}

/// Sisters together, each with the first of its sisters that is free and with which it shares a stretch that is long
/// enough.
fn pairs(stock: &Stock, mut good: BTreeSet<StripId>, least: Length) -> Vec<Place> {
    let order = |id: &StripId| {
        stock
            .strip(*id)
            .origin
            .map(|origin| (origin.board, origin.seq))
    };
    let mut in_order: Vec<StripId> = good.iter().copied().collect();
    in_order.sort_by_key(|id| (order(id), *id));
    let mut places = Vec::new();
    for id in &in_order {
        if !good.remove(id) {
            continue;
        }
        let sister = in_order.iter().find(|other| {
            let both = [stock.strip(*id), stock.strip(**other)];
            good.contains(other) && stock.are_sisters(*id, **other) && clear(&both) >= least
        });
        if let Some(sister) = sister {
            good.remove(sister);
        }
        places.push((*id, sister.copied()));
    }
    places
}

fn why_not(strip: &Strip, rules: &Rules, least: Length) -> Option<Why> {
    if strip.cull {
        let short =
            |measured: Option<Length>, wanted: Length| measured.map(|measured| wanted - measured);
        let narrow = short(strip.width, rules.width).unwrap_or(Length::ZERO);
        let thin = short(strip.thickness, rules.thickness).unwrap_or(Length::ZERO);
        return Some(if narrow > thin {
            Why::Narrow(narrow)
        } else {
            Why::Thin(thin)
        });
    }
    let clear = clear(&[strip]);
    if clear >= least && clear > Length::ZERO {
        return None;
    }
    if strip.length < least {
        let long = strip.length;
        return Some(Why::Short { long, least });
    }
    let gone = strip.gone();
    let but_for = gone.iter().copied().find(|defect| {
        let others: Vec<Defect> = gone
            .iter()
            .copied()
            .filter(|other| other != defect)
            .collect();
        strip.defects.contains(defect) && longest(&others, strip.length) >= least
    });
    Some(Why::Defects {
        clear,
        least,
        but_for,
    })
}

/// A place in the stack from which a plan is laid.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Layer {
    /// The strip.
    pub strip: StripId,
    /// Its pieces that are not laid yet, as their places in the plan, the first to be laid first.
    pub pieces: Vec<usize>,
}

/// The stack, from the bottom up: what is laid first comes last, and lies on top. What is laid already is not in it.
pub fn stack(job: &Job, plan: &Plan) -> Vec<Layer> {
    let mut layers: BTreeMap<StripId, Layer> = BTreeMap::new();
    let to_lay = plan
        .pieces
        .iter()
        .enumerate()
        .filter(|(_, piece)| job.stage(piece) != Stage::Laid);
    for (n, piece) in to_lay {
        let strip = piece.strip;
        let pieces = Vec::new();
        layers
            .entry(strip)
            .or_insert(Layer { strip, pieces })
            .pieces
            .push(n);
    }
    let mut all: Vec<Layer> = layers.into_values().collect();
    all.sort_by(|one, other| other.pieces.first().cmp(&one.pieces.first()));
    all
}
