//! `why`: what each rule costs, what more wood would gain, and which demands can't be met together.

use super::args::Why;
use super::opened;
use super::say;
use super::status::{Ended, Status};
use super::stop::Stop;
use super::trying::Trying;
use std::path::Path;
use twinstrake::draw;
use twinstrake::job::{Job, Reading};
use twinstrake::out::{self, Again, Fault, Made};
use twinstrake::plan::Plan;
use twinstrake::solve::{self, Asked, BoundReason, Watch};
use twinstrake::why::{self, Clashes, Judged, Prices};

/// How many rounds each search takes where nothing else is said.
pub const ROUNDS: u64 = 2;

pub fn run(typed: &Why) -> Ended {
    let stop = Stop::on_ctrl_c();
    let (reading, plan) = opened::job_and_plan(&typed.dir)?;
    let asked = asked(typed.seed, typed.rounds, typed.threads.map(usize::from));
    let bar = Trying::new(typed.quiet, stop);
    let answer = Answer::found(&reading.job, plan, asked, &bar, &|what| bar.now(what));
    bar.done();
    let offered = answer.offer(&typed.dir, &reading);
    let offered = offered.map_err(|fault| say::at_fault(&say::fault(&fault)))?;
    let status = Status::good_if(answer.covers());
    let said = say::reasons(&reading.job, &answer, offered, Some(&typed.dir));
    Ok(say::last(&said, status, "The answer could not be printed"))
}

/// What is asked of each search.
pub fn asked(seed: u64, rounds: u64, threads: Option<usize>) -> Asked {
    Asked {
        seed,
        rounds: Some(rounds),
        seconds: None,
        threads,
        trial: true,
    }
}

/// What was found out.
pub struct Answer {
    pub asked: Asked,
    /// The plan in out/.
    pub written: Judged,
    pub prices: Prices,
    /// Where the wood does not cover every course.
    pub clashes: Option<Clashes>,
    /// Whether somebody stopped it before it was done.
    pub stopped: bool,
}

impl Answer {
    /// Finds it out. `now` is told what is tried.
    pub fn found(
        job: &Job,
        plan: Plan,
        asked: Asked,
        watch: &dyn Watch,
        now: &dyn Fn(String),
    ) -> Answer {
        let written = Judged::of(job, plan);
        let prices = why::prices(job, &written.plan, &asked, watch, &|relaxed| {
            now(say::trying(job, relaxed));
        });
        let open = &prices.plan.plan.uncovered;
        let clashes = (!open.is_empty()).then(|| {
            why::clashes(job, open, &asked, watch, &|demands| {
                now(say::demanding(job, demands));
            })
        });
        Answer {
            asked,
            written,
            prices,
            clashes,
            stopped: watch.stop(),
        }
    }

    pub fn covers(&self) -> bool {
        self.prices.plan.plan.uncovered.is_empty()
    }

    /// Offers a better plan that turned up on the way. Whether one did.
    ///
    /// Errors: the disk can't be written to.
    pub fn offer(&self, dir: &Path, reading: &Reading) -> Result<bool, Fault> {
        let better = &self.prices.plan;
        if !(better.beats(&self.written) && better.verdict.is_good()) {
            return Ok(false);
        }
        let (number, entries) = (out::number_in_force(dir), reading.log.as_ref());
        let made = Made {
            inputs: reading.digests.clone(),
            seed: self.asked.seed,
            rounds: self.asked.rounds.unwrap_or_default(),
            ended: solve::Ended::Rounds.name().into(),
            cost: better.verdict.cost,
            bound_reason: say::bound_reason(BoundReason::TakenUpAgain).into(),
            again: Again {
                number: number.map_or(1, |number| number + 1),
                earlier: None,
                log_entries: entries.map_or(0, |log| log.entries.len() + log.settled.len()),
            },
            ..Made::default()
        };
        let drawing = draw::planking(&reading.job, &better.plan, &better.verdict);
        out::offer(dir, &reading.job, &[(&better.plan, made, drawing)])?;
        Ok(true)
    }
}
