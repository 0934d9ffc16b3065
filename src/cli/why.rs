//! `why`: what each rule costs, what more wood would gain, and which demands can't be met together.

use super::args::Why;
use super::opened;
use super::say::{self, Reasons};
use super::status::Status;
use super::stop::Stop;
use super::trying::Trying;
use twinstrake::solve::Asked;
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
    let written = why::Standing::of(job, plan);
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
    let reasons = Reasons {
        job,
        asked: &asked,
        written: &written,
        prices: &prices,
        clashes: clashes.as_ref(),
        stopped: bar.stopped(),
    };
    let status = Status::good_if(open.is_empty());
    let said = say::reasons(&reasons);
    say::last(&said, status, "The answer could not be printed")
}
