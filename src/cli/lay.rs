//! `lay`: from a job to a plan on the disk.

use super::again::{self, Before, Task};
use super::args::Lay;
use super::bar::Bar;
use super::laid;
use super::opened;
use super::say::{self, Drawn};
use super::shown::shown;
use super::status::Status;
use super::stop::Stop;
use super::trying::Trying;
use twinstrake::check::tolerance::costs_agree;
use twinstrake::check::{Verdict, check};
use twinstrake::choices::{self, Choices};
use twinstrake::draw;
use twinstrake::hull::CourseId;
use twinstrake::job::{self, Job, Reading};
use twinstrake::log::Book;
use twinstrake::out::{self, Made, Mill, Short};
use twinstrake::plan::Plan;
use twinstrake::solve::{self, Asked, BoundReason, Ended, Grounds, Joined, Outcome, Remedy, Upset};

pub(super) fn run(typed: &Lay) -> Status {
    let stop = Stop::on_ctrl_c();
    let before = Before::look(&typed.dir);
    let read = job::read(&typed.dir).and_then(|reading| laid::judged(&reading).map(|()| reading));
    let mut reading = match read {
        Ok(reading) => reading,
        Err(complaints) => {
            say::err(&say::complaints(&complaints));
            say::err(&say::nothing_written(complaints.len()));
            return Status::BadInput;
        }
    };
    say::err(&say::warnings(&reading.warnings));
    say::err(&say::promised(&reading.job.stock.promised()));
    if let Err(fault) = out::can_write(&typed.dir) {
        say::err(&say::fault(&fault));
        return Status::Fault;
    }

    if let Err(status) = opened::finish(&typed.dir) {
        return status;
    }
    reading.job.earlier = again::earlier(typed, &reading);

    let job = &reading.job;
    let asked = Asked {
        seed: typed.seed,
        rounds: typed.rounds,
        seconds: typed.seconds,
        threads: typed.threads.map(usize::from),
        trial: false,
    };
    let outcome = match again::task(typed, &before, &reading) {
        Task::Stands(number) => return say::done(&say::stands(&typed.dir, number)),
        Task::Back(number, plan) => {
            say::err(&say::back(number));
            taken_up(job, plan)
        }
        Task::Search => search(typed, job, &asked, stop.clone()),
    };
    // Decided once, of the job: it holds for every plan of it.
    let certain = outcome.shortage.as_ref().map(|shortage| shortage.grounds);
    let choices = typed
        .choices
        .map(|many| to_choose(job, &outcome, usize::from(many), &asked, typed.quiet, stop));
    let outcome = match &choices {
        Some(choices) => choices.cheapest.clone(),
        None => outcome,
    };

    let verdict = check(job, &outcome.plan);
    if let Some(slip) = slip(&outcome, &verdict) {
        say::err(&slip);
        return Status::Fault;
    }
    let drawn = Drawn {
        dir: &typed.dir,
        job,
        outcome: &outcome,
        verdict: &verdict,
    };
    let grounds = outcome
        .shortage
        .as_ref()
        .map(|shortage| again::grounds(job, certain.unwrap_or(shortage.grounds)));
    let missing = missing(job, &outcome, grounds);
    match write(typed, &before, &reading, &drawn, missing.as_ref()) {
        Ok(Written::Yes) => {}
        Ok(Written::LogHasGrown) => {
            say::err(&say::log_has_grown(&typed.dir));
            return Status::BadInput;
        }
        Ok(Written::JobHasChanged(files)) => {
            say::err(&say::job_has_changed(&typed.dir, &files));
            return Status::BadInput;
        }
        Err(fault) => {
            say::err(&say::fault(&fault));
            return Status::Fault;
        }
    }
    if let Some(Err(fault)) = choices
        .as_ref()
        .map(|choices| offer(typed, &before, &reading, choices, missing.as_ref()))
    {
        say::err(&say::fault(&fault));
        return Status::Fault;
    }
    let trade = match choices {
        Some(_) => Ok(String::new()),
        None => trade(typed, &before, &reading, &outcome),
    };
    match trade {
        Ok(trade) => say_how_it_went(&drawn, typed, choices.as_ref(), grounds, &trade),
        Err(fault) => {
            say::err(&say::fault(&fault));
            Status::Fault
        }
    }
}

fn search(typed: &Lay, job: &Job, asked: &Asked, stop: Stop) -> Outcome {
    let bar = Bar::new(job.unit, asked.rounds, typed.quiet, stop);
    let outcome = match typed.keep_order && job.earlier.is_some() {
        true => solve::lay_again(job, Upset::ReplacedOnly, asked, &bar),
        false => solve::lay(job, asked, &bar),
    };
    bar.done();
    outcome
}

/// An earlier plan taken up again, as if it had been found just now.
fn taken_up(job: &Job, plan: Plan) -> Outcome {
    Outcome {
        cost: check(job, &plan).cost,
        plan,
        rounds: 0,
        bound: None,
        bound_reason: BoundReason::TakenUpAgain,
        ended: Ended::Stalled,
        shortage: None,
        others: Vec::new(),
    }
}

/// Plans to choose from, besides the one that was found.
fn to_choose(
    job: &Job,
    outcome: &Outcome,
    many: usize,
    asked: &Asked,
    quiet: bool,
    stop: Stop,
) -> Choices {
    let trying = Trying::new(quiet, stop);
    let choices = choices::choices(job, outcome.clone(), many, asked, &trying, &|leaning| {
        trying.now(say::leaning(leaning))
    });
    trying.done();
    choices
}

fn offer(
    typed: &Lay,
    before: &Before,
    reading: &Reading,
    choices: &Choices,
    missing: Option<&Short>,
) -> Result<(), out::Fault> {
    let job = &reading.job;
    let outcome = &choices.cheapest;
    let all: Vec<(&Plan, Made<'_>, String)> = choices
        .all
        .iter()
        .map(|choice| {
            let verdict = check(job, &choice.plan);
            let drawing = draw::planking(job, &choice.plan, &verdict);
            let as_short = choice.plan.uncovered == outcome.plan.uncovered;
            let missing = missing.filter(|_| as_short);
            let made = made(typed, before, reading, outcome, &verdict, missing);
            (&choice.plan, made, drawing)
        })
        .collect();
    out::offer(&typed.dir, job, &all)
}

/// Where the boat was planned again: offers the plan that is taken, numbered among those with fewer labels and with
/// better looks, and says so. Plans offered before go: they don't know what happened since.
fn trade(
    typed: &Lay,
    before: &Before,
    reading: &Reading,
    outcome: &Outcome,
) -> Result<String, out::Fault> {
    let job = &reading.job;
    if job.earlier.is_none() {
        return Ok(String::new());
    }
    let plans = outcome.others.iter().chain([&outcome.plan]);
    let mut all: Vec<(&Plan, Verdict)> = plans.map(|plan| (plan, check(job, plan))).collect();
    all.retain(|(_, verdict)| verdict.is_good());
    all.sort_by(|(_, a), (_, b)| {
        a.relabelled
            .cmp(&b.relabelled)
            .then(b.looks().total_cmp(&a.looks()))
    });
    if all.len() < 2 {
        out::offer(&typed.dir, job, &[])?;
        return Ok(String::new());
    }
    let offers: Vec<(&Plan, Made<'_>, String)> = all
        .iter()
        .map(|(plan, verdict)| {
            let made = made(typed, before, reading, outcome, verdict, None);
            (*plan, made, draw::planking(job, plan, verdict))
        })
        .collect();
    out::offer(&typed.dir, job, &offers)?;
    let taken = all.iter().position(|(plan, _)| **plan == outcome.plan);
    let verdicts: Vec<&Verdict> = all.iter().map(|(_, verdict)| verdict).collect();
    Ok(say::trade(&typed.dir, &verdicts, taken.unwrap_or_default()))
}

/// What the planner got wrong, by the checker's reckoning: a bug, and nothing is written then.
fn slip(outcome: &Outcome, verdict: &Verdict) -> Option<String> {
    if !verdict.is_good() {
        let breaches: Vec<String> = verdict.breaches.iter().map(ToString::to_string).collect();
        let what = format!(
            "the plan that was found breaks a rule:\n  {}\nNothing was written",
            breaches.join("\n  ")
        );
        return Some(say::bug(&what));
    }
    let (ours, theirs) = (outcome.cost, verdict.cost);
    let terms = [
        ("seams", ours.seam, theirs.seam),
        ("mates", ours.matching, theirs.matching),
        ("joints", ours.joint, theirs.joint),
        ("drift", ours.drift, theirs.drift),
        ("strips cut", ours.thrift, theirs.thrift),
        ("moved", ours.moved, theirs.moved),
    ];
    let (name, ours, theirs) = terms
        .into_iter()
        .find(|(_, ours, theirs)| !costs_agree(*ours, *theirs))?;
    Some(say::bug(&format!(
        "the search reckons {ours} for the cost of {name} and the checker {theirs}. Nothing was written"
    )))
}

/// Whether the plan was written.
enum Written {
    Yes,
    /// Something was logged while the plan was made, which it does not know of.
    LogHasGrown,
    /// These files were changed meanwhile.
    JobHasChanged(Vec<String>),
}

fn write(
    typed: &Lay,
    before: &Before,
    reading: &Reading,
    drawn: &Drawn<'_>,
    missing: Option<&Short>,
) -> Result<Written, out::Fault> {
    let (job, outcome) = (drawn.job, drawn.outcome);
    let made = made(typed, before, reading, outcome, drawn.verdict, missing);
    let shortage = say::shortage(job, outcome).as_deref().map(say::plain);
    let shown = shown(
        &typed.dir,
        reading,
        &outcome.plan,
        drawn.verdict,
        &say::facts(drawn),
        shortage.as_deref(),
    )?;
    // Held until the plan is written: whoever logs meanwhile waits, and goes by the new plan.
    let mut book = Book::open_if_there(&typed.dir)?;
    let changed = job::changed_since(&typed.dir, &reading.digests);
    if typed.dir.exists() && !changed.is_empty() {
        let changed = changed.into_iter().map(str::to_owned);
        return Ok(Written::JobHasChanged(changed.collect()));
    }
    if let Some(book) = &mut book {
        if before.has_grown(book) {
            return Ok(Written::LogHasGrown);
        }
        again::set_torn_aside(book)?;
        if reading.log.is_some() {
            again::keep(&typed.dir, before, reading, book)?;
        }
    }
    out::write(&typed.dir, job, &outcome.plan, &made, shown)?;
    Ok(Written::Yes)
}

/// How a plan was made: what was asked for and found is the outcome's, what it costs the verdict's.
fn made<'a>(
    typed: &Lay,
    before: &Before,
    reading: &'a Reading,
    outcome: &'a Outcome,
    verdict: &Verdict,
    missing: Option<&'a Short>,
) -> Made<'a> {
    Made {
        digests: &reading.digests,
        seed: typed.seed,
        rounds: outcome.rounds,
        seconds: ceiling(typed.seconds, outcome.ended),
        ended: outcome.ended.name(),
        cost: verdict.cost,
        bound: outcome.bound,
        bound_reason: say::bound_reason(outcome.bound_reason),
        again: before.again(reading),
        shortage: missing,
    }
}

/// The ceiling on the time that was asked for, or the usual one where that is what ended the search.
fn ceiling(asked: Option<f64>, ended: Ended) -> Option<f64> {
    let usual = (ended == Ended::Seconds).then_some(solve::CEILING);
    asked.or(usual)
}

/// What is missing where courses stay open, as it goes into plan.json.
fn missing(job: &Job, outcome: &Outcome, grounds: Option<Grounds>) -> Option<Short> {
    let (shortage, grounds) = outcome.shortage.as_ref().zip(grounds)?;
    let name = |id: &CourseId| {
        let (panel, course) = (job.hull.panel_of(*id), job.hull.course(*id));
        format!("{} {}", panel.name, course.name())
    };
    let mill = |remedy: &Remedy| Mill {
        pairs: remedy.pairs,
        strips: remedy.strips,
        length: out::number(job.unit, remedy.length),
        scarfed: remedy.joined == Joined::Scarfed,
        courses: remedy.courses.iter().map(name).collect(),
    };
    Some(Short {
        proven: grounds != Grounds::NotFound,
        why: say::because(grounds).into(),
        mill: shortage.remedies.iter().map(mill).collect(),
    })
}

fn say_how_it_went(
    drawn: &Drawn<'_>,
    typed: &Lay,
    choices: Option<&Choices>,
    grounds: Option<Grounds>,
    trade: &str,
) -> Status {
    let told = say::shortage(drawn.job, drawn.outcome);
    let changes = drawn
        .job
        .earlier
        .as_ref()
        .map(|earlier| say::changes(drawn, earlier));
    let mut said = if typed.quiet {
        told.unwrap_or_default()
    } else {
        changes.unwrap_or_default() + &say::summary(drawn, told.as_deref())
    };
    if let (Some(_), Some(grounds)) = (&drawn.job.earlier, grounds) {
        said += &say::no_replacement(&typed.dir, grounds);
    }
    if !typed.quiet {
        said += trade;
    }
    if let (Some(choices), Some(asked)) = (choices, typed.choices) {
        said += &format!(
            "\n{}",
            say::choices(&typed.dir, usize::from(asked), choices)
        );
    }
    let status = Status::good_if(drawn.outcome.plan.uncovered.is_empty());
    let unsaid = "The plan is written, but its summary could not be printed";
    say::last(&said, status, unsaid)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_search_that_the_usual_time_ended_says_which_time_that_was() {
        assert_eq!(ceiling(None, Ended::Seconds), Some(solve::CEILING));
        assert_eq!(ceiling(Some(1.0), Ended::Seconds), Some(1.0));
        assert_eq!(ceiling(None, Ended::Stalled), None);
    }
}
