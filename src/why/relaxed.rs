//! One thing about a job made easier.

use super::more_wood;
use crate::hull::Zone;
use crate::job::Job;
use crate::stock::{BoardId, Origin, Strip, StripId};
use crate::units::Length;

/// One thing made easier. Every plan for the job is a plan for the easier job too.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Relaxed {
    /// Without a zone kept clear: its place in [`crate::hull::Hull::keep_clear`].
    NoZone(usize),
    /// Without a want: its place in [`Job::wants`]. With its accent goes a way to reckon the cost.
    NoWant(usize),
    /// With joints of near courses so much closer: this is the distance that is left.
    Clear(Length),
    /// With one more joint allowed in a course.
    OneMoreJoint,
    /// With more wood.
    MorePairs(MorePairs),
}

/// Pairs that are not in the rack.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct MorePairs {
    /// How many.
    pub pairs: usize,
    /// How long each is, clear of defects.
    pub length: Length,
    /// The strip that they look like.
    pub like: StripId,
}

impl Relaxed {
    /// Everything worth trying on a job: each zone, smaller distances between joints, one more joint, more wood.
    pub fn all(job: &Job) -> Vec<Relaxed> {
        let joints = &job.rules.joints;
        let mut all: Vec<Relaxed> = Vec::new();
        if joints.most > 0 {
            all.extend((0..job.hull.keep_clear.len()).map(Relaxed::NoZone));
            if joints.clear > Length::ZERO && joints.clear_courses > 0 {
                all.push(Relaxed::Clear(joints.clear * 0.5));
                all.push(Relaxed::Clear(Length::ZERO));
            }
        }
        all.extend((0..job.wants.len()).map(Relaxed::NoWant));
        all.push(Relaxed::OneMoreJoint);
        all.extend(more_wood::useful(job).into_iter().map(Relaxed::MorePairs));
        all
    }

    /// The easier job. What is in the rack keeps its place; new strips follow.
    pub fn job(&self, job: &Job) -> Job {
        let mut easier = job.clone();
        match *self {
            Relaxed::NoZone(zone) => {
                easier.hull.keep_clear.remove(zone);
            }
            Relaxed::NoWant(want) => {
                easier.wants.remove(want);
            }
            Relaxed::Clear(clear) => easier.rules.joints.clear = clear,
            Relaxed::OneMoreJoint => {
                easier.rules.joints.most = easier.rules.joints.most.saturating_add(1);
            }
            Relaxed::MorePairs(more) => add(&mut easier, &more),
        }
        easier
    }

    /// Whether every plan that makes use of the other ease is a plan for this one too.
    pub fn includes(&self, other: &Relaxed) -> bool {
        match (self, other) {
            (Relaxed::Clear(clear), Relaxed::Clear(other)) => clear <= other,
            (Relaxed::MorePairs(more), Relaxed::MorePairs(other)) => {
                more.pairs >= other.pairs && (more.length, more.like) == (other.length, other.like)
            }
            (one, other) => one == other,
        }
    }

    /// Whether a plan costs as much for the easier job as for the job as it is.
    pub fn keeps_costs(&self, job: &Job) -> bool {
        match self {
            Relaxed::NoWant(want) => job.wants[*want].accent.is_none(),
            _ => true,
        }
    }

    /// The zone that it goes without.
    pub fn zone<'j>(&self, job: &'j Job) -> Option<&'j Zone> {
        match self {
            Relaxed::NoZone(zone) => job.hull.keep_clear.get(*zone),
            _ => None,
        }
    }
}

/// Puts pairs into the rack, each from a board of its own.
fn add(job: &mut Job, more: &MorePairs) {
    for pair in 1..=more.pairs {
        let board = BoardId(job.stock.boards.len());
        let name = format!("more {pair}");
        for seq in 1..=2 {
            let like = job.stock.strip(more.like);
            let strip = Strip {
                wood: like.wood.clone(),
                ..Strip::plain(
                    format!("{name} {seq}"),
                    Some(Origin { board, seq }),
                    more.length,
                    like.colour,
                )
            };
            job.stock.strips.push(strip);
        }
        job.stock.boards.push(name);
    }
}
