//! `lay`: from a job to a plan on the disk. `find` looks for it, `keep` writes it; the page at the bench does both as
//! well.

mod find;
mod keep;

pub use find::{Begun, Found, search, to_choose};
pub use keep::{beside, offer};

use super::again::{self, Task};
use super::args::Lay;
use super::bar::Bar;
use super::say;
use super::status::{Ended, Status};
use super::stop::Stop;
use super::trying::Trying;
use keep::{Written, write};
use twinstrake::check::Verdict;
use twinstrake::job::Job;
use twinstrake::out::Fault;
use twinstrake::plan::Plan;
use twinstrake::solve::Outcome;

pub fn run(typed: &Lay) -> Ended {
    let stop = Stop::on_ctrl_c();
    let mut begun = Begun::read(&typed.dir).map_err(|complaints| {
        say::err(&say::complaints(&complaints));
        say::bad_input(&say::nothing_written(complaints.len()))
    })?;
    say::err(&say::warnings(&begun.reading.warnings));
    say::err(&say::promised(&begun.reading.job.stock.promised()));
    begun.ready(typed).map_err(|why| say::at_fault(&why))?;
    let job = &begun.reading.job;
    let task = again::task(typed, &begun.before, &begun.reading);
    let (outcome, back) = match task {
        Task::Stands(number) => return Ok(say::done(&say::stands(&typed.dir, number))),
        Task::Back(back) => {
            say::err(&say::back(back.number));
            (back.outcome(job), Some(back))
        }
        Task::Search => (watched(typed, job, stop.clone()), None),
    };
    let choices = typed.choices.map(|many| {
        let trying = Trying::new(typed.quiet, stop);
        let choices = to_choose(typed, job, &outcome, many, &trying, &|leaning| {
            trying.now(say::leaning(leaning));
        });
        trying.done();
        choices
    });
    let found = Found::judged(job, outcome, choices).map_err(|slip| say::at_fault(&slip))?;
    let fault = |fault: Fault| say::at_fault(&say::fault(&fault));
    match write(typed, &begun, &found, back.as_deref()).map_err(fault)? {
        Written::Yes => {}
        Written::LogHasGrown => return Err(say::bad_input(&say::log_has_grown(&typed.dir))),
        Written::JobHasChanged(files) => {
            return Err(say::bad_input(&say::job_has_changed(&typed.dir, &files)));
        }
    }
    let trade = offered(typed, &begun, &found).map_err(fault)?;
    Ok(say_how_it_went(typed, &begun, &found, &trade))
}

fn watched(typed: &Lay, job: &Job, stop: Stop) -> Outcome {
    let bar = Bar::new(job.unit, typed.rounds, typed.quiet, stop);
    let outcome = search(typed, job, &bar);
    bar.done();
    outcome
}

/// Offers the plans to choose from. What is to be said of those on either side of the one that is taken.
fn offered(typed: &Lay, begun: &Begun, found: &Found) -> Result<String, Fault> {
    let Some(choices) = &found.choices else {
        return trade(typed, begun, found);
    };
    let plans = choices.all.iter().map(|choice| &choice.plan);
    offer(typed, begun, found, plans)?;
    Ok(String::new())
}

/// Where the boat was planned again: offers the plan that is taken, numbered among those with fewer labels and with
/// better looks, and says so.
fn trade(typed: &Lay, begun: &Begun, found: &Found) -> Result<String, Fault> {
    if begun.reading.job.earlier.is_none() {
        return Ok(String::new());
    }
    let all = beside(begun, found);
    let is_trade = all.len() > 1;
    let plans = all.iter().map(|(plan, _)| plan).filter(|_| is_trade);
    offer(typed, begun, found, plans)?;
    if !is_trade {
        return Ok(String::new());
    }
    let is_taken = |(plan, _): &(Plan, Verdict)| *plan == found.outcome.plan;
    let taken = all.iter().position(is_taken);
    let verdicts: Vec<&Verdict> = all.iter().map(|(_, verdict)| verdict).collect();
    Ok(say::trade(&typed.dir, &verdicts, taken.unwrap_or_default()))
}

fn say_how_it_went(typed: &Lay, begun: &Begun, found: &Found, trade: &str) -> Status {
    let drawn = found.drawn(&typed.dir, &begun.reading.job);
    let told = say::shortage(drawn.job, drawn.outcome);
    let earlier = drawn.job.earlier.as_ref();
    let changes = earlier.map(|earlier| say::changes(&drawn, earlier));
    let mut said = if typed.quiet {
        told.unwrap_or_default()
    } else {
        changes.unwrap_or_default() + &say::summary(&drawn, told.as_deref())
    };
    if let (Some(_), Some(grounds)) = (earlier, found.grounds) {
        said += &say::no_replacement(&typed.dir, grounds);
    }
    if !typed.quiet {
        said += trade;
    }
    if let (Some(choices), Some(asked)) = (&found.choices, typed.choices) {
        said += &format!(
            "\n{}",
            say::choices(&typed.dir, usize::from(asked), choices)
        );
    }
    let status = Status::good_if(found.outcome.plan.uncovered.is_empty());
    let unsaid = "The plan is written, but its summary could not be printed";
    say::last(&said, status, unsaid)
}
