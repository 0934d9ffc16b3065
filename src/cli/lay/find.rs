//! A plan is found and judged, and nothing of it is written yet.

use crate::cli::again::{self, Before};
use crate::cli::args::Lay;
use crate::cli::opened;
use crate::cli::say::{self, Drawn};
use std::path::Path;
use twinstrake::check::tolerance::costs_agree;
use twinstrake::check::{Verdict, check};
use twinstrake::choices::{self, Choices, Leaning};
use twinstrake::hull::CourseId;
use twinstrake::job::{Complaint, Job, Reading};
use twinstrake::out::{self, Mill, Short};
use twinstrake::solve::{self, Asked, Grounds, Joined, Outcome, Remedy, Upset, Watch};

/// A job that a plan is to be found for.
pub struct Begun {
    pub before: Before,
    pub reading: Reading,
}

/// A plan that was found, and what is known of it.
pub struct Found {
    pub outcome: Outcome,
    pub verdict: Verdict,
    /// Plans to choose from, where they were asked for.
    pub choices: Option<Choices>,
    /// How certain it is that what is open must stay so, where something is.
    pub grounds: Option<Grounds>,
    /// What is missing then.
    pub missing: Option<Short>,
}

impl Begun {
    /// Reads the job.
    ///
    /// Errors: everything that is wrong with it.
    pub fn read(dir: &Path) -> Result<Begun, Vec<Complaint>> {
        let before = Before::look(dir);
        let reading = opened::judged(dir)?;
        Ok(Begun { before, reading })
    }

    /// Sees to it that a plan could be written, and takes up the plan before.
    ///
    /// Errors: why none could be, in words.
    pub fn ready(&mut self, typed: &Lay) -> Result<(), String> {
        out::can_write(&typed.dir).map_err(|fault| say::fault(&fault))?;
        out::finish(&typed.dir).map_err(|fault| say::cut_short(&typed.dir, &fault))?;
        self.reading.job.earlier = again::earlier(typed, &self.reading);
        Ok(())
    }
}

fn asked(typed: &Lay) -> Asked {
    Asked {
        seed: typed.seed,
        rounds: typed.rounds,
        seconds: typed.seconds,
        threads: typed.threads.map(usize::from),
        trial: false,
    }
}

/// Searches, as little being moved as was asked for.
pub fn search(typed: &Lay, job: &Job, watch: &dyn Watch) -> Outcome {
    let asked = asked(typed);
    match typed.keep_order && job.earlier.is_some() {
        true => solve::lay_again(job, Upset::ReplacedOnly, &asked, watch),
        false => solve::lay(job, &asked, watch),
    }
}

/// Plans to choose from, besides the one that was found.
pub fn to_choose(
    typed: &Lay,
    job: &Job,
    outcome: &Outcome,
    many: u8,
    watch: &dyn Watch,
    before: &dyn Fn(Leaning),
) -> Choices {
    let (many, first) = (usize::from(many), outcome.clone());
    choices::choices(job, first, many, &asked(typed), watch, before)
}

impl Found {
    /// What was found, judged: where there are plans to choose from, the cheapest of them is the plan.
    ///
    /// Errors: what the planner got wrong, in words: a bug, and nothing must be written.
    pub fn judged(job: &Job, outcome: Outcome, choices: Option<Choices>) -> Result<Found, String> {
        // Decided once, of the job: it holds for every plan of it.
        let certain = outcome.shortage.as_ref().map(|shortage| shortage.grounds);
        let outcome = match &choices {
            Some(choices) => choices.cheapest.clone(),
            None => outcome,
        };
        let verdict = check(job, &outcome.plan);
        if let Some(slip) = slip(&outcome, &verdict) {
            return Err(slip);
        }
        let grounds = outcome
            .shortage
            .as_ref()
            .map(|shortage| again::grounds(job, certain.unwrap_or(shortage.grounds)));
        let missing = missing(job, &outcome, grounds);
        Ok(Found {
            outcome,
            verdict,
            choices,
            grounds,
            missing,
        })
    }

    pub fn drawn<'f>(&'f self, dir: &'f Path, job: &'f Job) -> Drawn<'f> {
        Drawn {
            dir,
            job,
            outcome: &self.outcome,
            verdict: &self.verdict,
        }
    }
}

/// What the planner got wrong, by the checker's reckoning.
fn slip(outcome: &Outcome, verdict: &Verdict) -> Option<String> {
    if !verdict.is_good() {
        let breaches: Vec<String> = verdict.breaches.iter().map(ToString::to_string).collect();
        let what = format!(
            "the plan that was found breaks a rule:\n  {}\nNothing was written",
            breaches.join("\n  ")
        );
        return Some(say::bug(&what));
    }
    let (ours, theirs) = (say::terms(&outcome.cost), say::terms(&verdict.cost));
    let mut both = ours.into_iter().zip(theirs);
    let ((name, ours), (_, theirs)) =
        both.find(|((_, ours), (_, theirs))| !costs_agree(*ours, *theirs))?;
    Some(say::bug(&format!(
        "the search reckons {ours} for the cost of {name} and the checker {theirs}. Nothing was written"
    )))
}

/// What is missing where courses stay open, as it goes into plan.json.
fn missing(job: &Job, outcome: &Outcome, grounds: Option<Grounds>) -> Option<Short> {
    let (shortage, grounds) = outcome.shortage.as_ref().zip(grounds)?;
    let name = |id: &CourseId| job.hull.full_name(*id);
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
