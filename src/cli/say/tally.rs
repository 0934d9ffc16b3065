//! What a plan uses, counted.

use std::collections::BTreeSet;
use twinstrake::check::Verdict;
use twinstrake::hull::Side;
use twinstrake::job::Job;
use twinstrake::plan::Plan;

/// Counts over the rows of a plan.
#[derive(Default)]
pub struct Tally<'j> {
    /// Mates that shared a saw cut.
    pub sisters: usize,
    /// Mates from one board that did not.
    pub near: usize,
    /// Mates from different boards.
    pub foster: usize,
    /// Names of the strips that are whole and stay so.
    pub whole: Vec<&'j str>,
}

impl<'j> Tally<'j> {
    pub fn of(job: &'j Job, plan: &Plan) -> Tally<'j> {
        let mut tally = Tally::default();
        let mut pairs = BTreeSet::new();
        for piece in &plan.pieces {
            let Some(mate) = piece.mate.filter(|_| piece.side == Side::Port) else {
                continue;
            };
            if !pairs.insert((piece.strip.min(mate), piece.strip.max(mate))) {
                continue;
            }
            if job.stock.are_sisters(piece.strip, mate) {
                tally.sisters += 1;
            } else if job.stock.seq_apart(piece.strip, mate).is_some() {
                tally.near += 1;
            } else {
                tally.foster += 1;
            }
        }
        let used: BTreeSet<_> = plan.pieces.iter().map(|piece| piece.strip.0).collect();
        let strips = job.stock.strips.iter().enumerate();
        tally.whole = strips
            .filter(|(i, strip)| strip.is_whole() && !used.contains(i))
            .map(|(_, strip)| strip.name.as_str())
            .collect();
        tally
    }

    pub fn pairs(&self) -> usize {
        self.sisters + self.near + self.foster
    }
}

/// The step in colour between neighbours, over all seams. Unit: ΔE00.
pub struct Steps {
    /// Averaged over the length of the seams.
    pub mean: f64,
    /// The largest anywhere.
    pub worst: f64,
    /// What that means to the eye.
    pub worst_is: &'static str,
}

impl Steps {
    /// `None` where no two courses meet.
    pub fn of(verdict: &Verdict) -> Option<Steps> {
        let length: f64 = verdict
            .seams_to_hide()
            .map(|seam| seam.length.metres())
            .sum();
        let steps = verdict.seams_to_hide();
        let all: f64 = steps.map(|seam| seam.step * seam.length.metres()).sum();
        let mut seams = verdict.seams_to_hide();
        let first = seams.next()?;
        let worst = seams.fold(first, |worst, seam| match seam.worst > worst.worst {
            true => seam,
            false => worst,
        });
        (length > 0.0).then(|| Steps {
            mean: all / length,
            worst: worst.worst,
            worst_is: worst.to_the_eye(worst.worst),
        })
    }
}
