//! Which more wood is worth asking about: pairs of the commonest shade, in the lengths that courses take.

use super::relaxed::MorePairs;
use crate::hull::Kind;
use crate::job::Job;
use crate::stock::{Strip, StripId};
use crate::units::{Colour, Length, delta_e};

/// Courses whose lengths differ by less than this part are served by one length of wood.
const ONE_LENGTH: f64 = 0.85;
/// Lengths are asked for in full centimetres.
const GRAIN: Length = Length::from_mm(10.0);
/// Lengths of wood asked about, the longest first. More would only say the same again.
const LENGTHS: usize = 3;

/// One pair more, and two, of each useful length.
pub fn useful(job: &Job) -> Vec<MorePairs> {
    let Some(like) = commonest(job) else {
        return Vec::new();
    };
    lengths(job)
        .into_iter()
        .flat_map(|length| {
            [1, 2].map(|pairs| MorePairs {
                pairs,
                length,
                like,
            })
        })
        .collect()
}

/// Lengths that lay mirrored courses in one piece, one for all courses of about that length; the longest first.
fn lengths(job: &Job) -> Vec<Length> {
    let mirrored = job.hull.courses.iter().filter(|c| c.kind == Kind::Mirrored);
    let mut all: Vec<Length> = mirrored
        .map(|course| {
            let ends = job.rules.allowance(course.bow_end) + job.rules.allowance(course.stern_end);
            course.length + ends + job.rules.allow.end_trim * 2
        })
        .collect();
    all.sort_unstable_by_key(|length| std::cmp::Reverse(*length));
    let mut useful: Vec<Length> = Vec::new();
    for length in all {
        let served = |last: &Length| length.mm() >= ONE_LENGTH * last.mm();
        if !useful.last().is_some_and(served) {
            useful.push(length);
        }
    }
    useful.truncate(LENGTHS);
    let useful = useful.into_iter();
    useful.map(|length| length.rounded_up(GRAIN)).collect()
}

/// The strip in the middle of the shade that the rack has most of, by length; `None` where the rack is empty.
fn commonest(job: &Job) -> Option<StripId> {
    let strips = job.stock.strips().filter(|(_, strip)| !strip.cull);
    let strips: Vec<(StripId, &Strip)> = strips.collect();
    let of_shade = |shade: u8| {
        strips
            .iter()
            .filter(move |(_, s)| nearest(s.colour) == shade)
    };
    let amount = |shade: u8| of_shade(shade).map(|(_, s)| s.length).sum::<Length>();
    // The darkest of equals.
    let shade = (1..=9).rev().max_by_key(|&shade| amount(shade))?;
    let apart = |one: &Strip| -> f64 {
        of_shade(shade)
            .map(|(_, other)| delta_e(one.colour, other.colour))
            .sum()
    };
    of_shade(shade)
        .map(|(id, strip)| (apart(strip), *id))
        .min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)))
        .map(|(_, id)| id)
}

/// The step of the nine-step scale that a colour is nearest to; the darker of equals.
fn nearest(colour: Colour) -> u8 {
    let step = |shade: u8| delta_e(colour, Colour::shade(shade));
    (1..=9)
        .min_by(|a, b| step(*a).total_cmp(&step(*b)))
        .unwrap_or(1)
}
