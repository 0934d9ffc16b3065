//! `why`: what each rule costs, what more wood would gain, and which demands can't be met together.

use super::args::Why;
use super::opened;
use super::say::{self, Reasons};
use super::status::Status;
use super::stop::Stop;
use super::trying::Trying;
use twinstrake::draw;
use twinstrake::out::{self, Again, Made};
use twinstrake::solve::{Asked, BoundReason, Ended};
use twinstrake::why;

pub(super) fn run(typed: &Why) -> Status {
    let stop = Stop::on_ctrl_c();
    let (reading, plan) = match opened::job_and_plan(&typed.dir) {
        Ok(both) => both,
        Err(status) => return status,
    };
    let job = &reading.job;
    let asked = Asked {
        seed: typed.seed,
        rounds: Some(typed.rounds),
        seconds: None,
        threads: typed.threads.map(usize::from),
        trial: true,
    };
    let bar = Trying::new(typed.quiet, stop);
    let written = why::Judged::of(job, plan);
    let prices = why::prices(job, &written.plan, &asked, &bar, &|relaxed| {
        bar.now(say::trying(job, relaxed));
    });
    let open = &prices.plan.plan.uncovered;
    let clashes = (!open.is_empty()).then(|| {
        why::clashes(job, open, &asked, &bar, &|demands| {
            bar.now(say::demanding(job, demands));
        })
    });
    bar.done();
    let better = &prices.plan;
    let offered = better.beats(&written) && better.verdict.is_good();
    if offered {
        let (number, entries) = (out::number_in_force(&typed.dir), reading.log.as_ref());
        let made = Made {
            digests: &reading.digests,
            seed: typed.seed,
            rounds: typed.rounds,
            seconds: None,
            ended: Ended::Rounds.name(),
            cost: better.verdict.cost,
            bound: None,
            bound_reason: say::bound_reason(BoundReason::TakenUpAgain),
            again: Again {
                number: number.map_or(1, |number| number + 1),
                earlier: None,
                log_entries: entries.map_or(0, |log| log.entries.len() + log.settled.len()),
            },
            shortage: None,
        };
        let drawing = draw::planking(job, &better.plan, &better.verdict);
        if let Err(fault) = out::offer(&typed.dir, job, &[(&better.plan, made, drawing)]) {
            say::err(&say::fault(&fault));
            return Status::Fault;
        }
    }
    let reasons = Reasons {
        job,
        asked: &asked,
        written: &written,
        prices: &prices,
        clashes: clashes.as_ref(),
        dir: &typed.dir,
        offered,
        stopped: bar.stopped(),
    };
    let status = Status::good_if(open.is_empty());
    let said = say::reasons(&reasons);
    say::last(&said, status, "The answer could not be printed")
}
