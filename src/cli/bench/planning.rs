//! The search that is under way, if one is: one at a time for all boats. It goes on whoever looks on; what it finds is
//! offered among the plans to choose from, on the disk, so that nothing of it is lost.

use super::seen::Watched;
use crate::cli::again::{self, Task};
use crate::cli::args::Lay;
use crate::cli::lay::{Begun, Found, beside, offer, search, to_choose};
use crate::cli::{opened, say, why};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};
use std::thread::{self, JoinHandle};
use std::time::{Duration, Instant};
use tokio::sync::watch;
use twinstrake::job::{self, Complaint};
use twinstrake::out;
use twinstrake::plan::Plan;
use twinstrake::solve::{Progress, Watch};
use twinstrake::units::Unit;

/// How long a search may take to end when the program is left.
const LAST: Duration = Duration::from_secs(8);

/// The search, and what came of the last one.
pub struct Planning {
    state: Mutex<State>,
    /// Goes up whenever there is something new.
    news: watch::Sender<u64>,
}

#[derive(Default)]
struct State {
    run: Option<Run>,
    came: Option<Came>,
    hand: Option<JoinHandle<()>>,
}

/// A search under way.
#[derive(Clone)]
pub struct Run {
    /// The boat.
    pub boat: String,
    /// How far it is, in words.
    said: String,
    began: Instant,
    /// The best plan so far, and which it is.
    pub best: Option<(usize, Arc<Plan>)>,
    stop: Arc<AtomicBool>,
}

/// What came of a search.
#[derive(Clone)]
pub struct Came {
    /// The boat.
    pub boat: String,
    pub what: What,
}

/// What it was.
#[derive(Clone)]
pub enum What {
    /// A plan: what there is to know of it, a word and what is said of it; and what else is to be told.
    Plan(Vec<(&'static str, String)>, String),
    /// Words: the plan in force stands, or why the plan is as it is.
    Words(String),
    /// The job can't be read.
    Complaints(Vec<Complaint>),
}

/// What is to be looked for.
pub enum Wanted {
    /// A plan.
    Plan(Lay),
    /// Why the plan in force is as it is.
    Why,
}

impl What {
    fn told(text: String) -> What {
        What::Words(say::plain(&text))
    }
}

impl Run {
    /// How far it is and since when, in words.
    pub fn told(&self) -> String {
        format!("{} s: {}", self.began.elapsed().as_secs(), self.said)
    }
}

impl Planning {
    pub fn new() -> Planning {
        Planning {
            state: Mutex::default(),
            news: watch::Sender::new(0),
        }
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// What is under way, and what came of the last search for a boat.
    pub fn now(&self, boat: &str) -> (Option<Run>, Option<Came>) {
        let state = self.state();
        let came = state.came.as_ref().filter(|came| came.boat == boat);
        (state.run.clone(), came.cloned())
    }

    /// Tells of everything new.
    pub fn news(&self) -> watch::Receiver<u64> {
        self.news.subscribe()
    }

    fn tell(&self, change: impl FnOnce(&mut State)) {
        change(&mut self.state());
        self.news.send_modify(|news| *news += 1);
    }

    /// Begins, where nothing is under way.
    pub fn start(self: &Arc<Planning>, boat: &Arc<Watched>, wanted: Wanted) {
        let mut state = self.state();
        if state.run.is_some() {
            return;
        }
        let stop = Arc::new(AtomicBool::new(false));
        state.came = None;
        state.run = Some(Run {
            boat: boat.id.clone(),
            said: "laying a first plan".into(),
            began: Instant::now(),
            best: None,
            stop: Arc::clone(&stop),
        });
        let (planning, boat) = (Arc::clone(self), Arc::clone(boat));
        state.hand = Some(thread::spawn(move || {
            let eye = Eye {
                planning: &planning,
                stop,
                unit: Mutex::new(Unit::Mm),
                first: OnceLock::new(),
            };
            let what = catch_unwind(AssertUnwindSafe(|| match wanted {
                Wanted::Plan(lay) => plan(&lay, &eye).unwrap_or_else(What::told),
                Wanted::Why => reasons(&boat, &eye),
            }));
            let fell = "the search met something that it was sure could not be";
            let what = what.unwrap_or_else(|_| What::told(say::bug(fell)));
            planning.tell(|state| {
                state.run = None;
                state.came = Some(Came {
                    boat: boat.id.clone(),
                    what,
                });
            });
        }));
        drop(state);
        self.news.send_modify(|news| *news += 1);
    }

    /// Ends the search with the best plan so far.
    pub fn stop(&self) {
        if let Some(run) = &self.state().run {
            run.stop.store(true, Ordering::Relaxed);
        }
    }

    /// Forgets what came of the last search.
    pub fn forget(&self) {
        self.tell(|state| state.came = None);
    }

    /// The program is left: the search ends, and what it found so far is offered.
    pub fn end(&self) {
        self.stop();
        let until = Instant::now() + LAST;
        let hand = self.state().hand.take();
        while hand.as_ref().is_some_and(|hand| !hand.is_finished()) && Instant::now() < until {
            thread::sleep(Duration::from_millis(20));
        }
    }
}

/// Looks for a plan as `lay` does, and offers what it finds.
///
/// Errors: what is wrong with the disk or with us, in words.
fn plan(lay: &Lay, eye: &Eye<'_>) -> Result<What, String> {
    let mut begun = match Begun::read(&lay.dir) {
        Ok(begun) => begun,
        Err(complaints) => return Ok(What::Complaints(complaints)),
    };
    begun.ready(lay)?;
    let job = &begun.reading.job;
    eye.measures_in(job.unit);
    let outcome = match again::task(lay, &begun.before, &begun.reading) {
        Task::Stands(number) => return Ok(What::Words(say::it_stands(number))),
        Task::Back(back) => {
            eye.says(say::back(back.number));
            back.outcome(job)
        }
        Task::Search => search(lay, job, eye),
    };
    let leaning = |leaning| eye.says(format!("To choose from: {}", say::leaning(leaning)));
    let choices = lay
        .choices
        .map(|many| to_choose(lay, job, &outcome, many, eye, &leaning));
    let found = Found::judged(job, outcome, choices)?;
    let offered = match &found.choices {
        Some(choices) => offer(
            lay,
            &begun,
            &found,
            choices.all.iter().map(|choice| &choice.plan),
        ),
        None => {
            let all = beside(&begun, &found);
            offer(lay, &begun, &found, all.iter().map(|(plan, _)| plan))
        }
    };
    offered.map_err(|fault| say::fault(&fault))?;
    let drawn = found.drawn(&lay.dir, job);
    let short = say::shortage(job, &found.outcome).unwrap_or_default();
    Ok(What::Plan(say::facts(&drawn), say::plain(&short)))
}

/// Looks into the plan in force as `why` does.
fn reasons(boat: &Watched, eye: &Eye<'_>) -> What {
    let both = opened::judged(&boat.dir).and_then(|reading| {
        let plan = job::read_plan(&boat.dir, &reading.job)?;
        Ok((reading, plan))
    });
    let (reading, plan) = match both {
        Ok(both) => both,
        Err(complaints) => return What::Complaints(complaints),
    };
    let (job, asked) = (&reading.job, why::asked(1, why::ROUNDS, None));
    eye.measures_in(job.unit);
    let answer = why::Answer::found(job, plan, asked, eye, &|what| eye.says(what));
    match answer.offer(&boat.dir, &reading) {
        Ok(offered) => What::told(say::reasons(job, &answer, offered, None)),
        Err(fault) => What::told(say::fault(&fault)),
    }
}

/// Puts away the plans to choose from.
///
/// Errors: the disk can't be written to.
pub fn put_away(boat: &Watched) -> Result<(), out::Fault> {
    match opened::judged(&boat.dir) {
        Ok(reading) => out::offer(&boat.dir, &reading.job, &[]),
        Err(_) => Ok(()),
    }
}

/// Whoever looks on.
struct Eye<'p> {
    planning: &'p Planning,
    stop: Arc<AtomicBool>,
    unit: Mutex<Unit>,
    first: OnceLock<f64>,
}

impl Eye<'_> {
    fn measures_in(&self, unit: Unit) {
        *self.unit.lock().unwrap_or_else(PoisonError::into_inner) = unit;
    }

    fn says(&self, what: String) {
        self.planning.tell(|state| {
            if let Some(run) = &mut state.run {
                run.said = what;
            }
        });
    }
}

impl Watch for Eye<'_> {
    fn progress(&self, at: &Progress) {
        let unit = *self.unit.lock().unwrap_or_else(PoisonError::into_inner);
        self.says(say::progress(unit, at, &self.first));
    }

    fn plan(&self, best: &dyn Fn() -> Plan) {
        let best = best();
        self.planning.tell(|state| {
            if let Some(run) = &mut state.run {
                let before = run.best.as_ref();
                if before.is_none_or(|(_, before)| **before != best) {
                    let number = before.map_or(1, |(number, _)| number + 1);
                    run.best = Some((number, Arc::new(best)));
                }
            }
        });
    }

    fn stop(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }
}
