//! Demands that can't be met together: sets that clash, and don't with any one of them dropped.
//!
//! A set is found by QuickXplain (U. Junker, "QuickXplain: Preferred Explanations and Relaxations for Over-Constrained
//! Problems", AAAI 2004; citation from memory), and then tried: without each of its demands a plan must turn up, or the
//! demand is dropped from it. So that a set is the smallest of its kind is shown by plans; that it clashes may be
//! proven, or only found.

use super::demand::{Demand, courses, with};
use super::proof::Proof;
use super::trial::{Trial, trial};
use crate::hull::CourseId;
use crate::job::Job;
use crate::plan::Plan;
use crate::solve::{Asked, Watch};

/// Sets told for one course, or for the whole job. Most jobs have one or two.
const SETS: usize = 4;
/// Trials after which sets are told as they are. Why: each may take as long as a search.
const TRIALS: usize = 120;

/// Demands that can't be met together.
#[derive(Clone, PartialEq, Debug)]
pub struct Clash {
    /// The demands, rules first and then courses.
    pub demands: Vec<Demand>,
    /// Why they clash; `None` where it is only that no plan was found.
    pub proof: Option<Proof>,
    /// Whether the set could be a smaller one.
    pub size: Minimality,
}

/// Whether each demand of a set was tried.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Minimality {
    /// Without any one of its demands there is a plan.
    Smallest,
    /// Time or patience ran out before that was known.
    Unknown,
}

/// What was found out about a job that can't be laid.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Clashes {
    /// The smallest first.
    pub sets: Vec<Clash>,
    /// A plan that covers every course, where one turned up: then nothing clashes.
    pub possible: Option<Plan>,
}

/// Looks for the demands that keep these courses open. `before` is told of each set of demands before it is tried.
pub fn clashes(
    job: &Job,
    open: &[CourseId],
    asked: &Asked,
    watch: &dyn Watch,
    before: &dyn Fn(&[Demand]),
) -> Clashes {
    let mut judge = Judge {
        job,
        asked,
        watch,
        before,
        known: Vec::new(),
    };
    let rules = Demand::rules(job);
    let mut sets: Vec<Clash> = Vec::new();
    for &course in open {
        sets.extend(judge.sets(&rules, &[Demand::Course(course)]));
    }
    if sets.is_empty() {
        let all: Vec<Demand> = job
            .hull
            .courses()
            .map(|(id, _)| Demand::Course(id))
            .collect();
        if let Trial::Possible(plan) = judge.judge(&[rules.clone(), all.clone()].concat()) {
            return Clashes {
                sets,
                possible: Some(plan),
            };
        }
        sets = judge.sets(&rules, &all);
    }
    sets.sort_by_key(|clash| clash.demands.len());
    Clashes {
        sets,
        possible: None,
    }
}

struct Judge<'a> {
    job: &'a Job,
    asked: &'a Asked,
    watch: &'a dyn Watch,
    before: &'a dyn Fn(&[Demand]),
    known: Vec<(Vec<Demand>, Trial)>,
}

impl Judge<'_> {
    /// What is known of a set of demands, tried out where nothing is yet.
    fn judge(&mut self, demands: &[Demand]) -> Trial {
        let mut demands = demands.to_vec();
        demands.sort_unstable();
        if let Some((_, trial)) = self.known.iter().find(|(known, _)| *known == demands) {
            return trial.clone();
        }
        (self.before)(&demands);
        let found = trial(&with(self.job, &demands), self.asked, self.watch);
        self.known.push((demands, found.clone()));
        found
    }

    fn clash(&mut self, demands: &[Demand]) -> bool {
        !self.judge(demands).is_possible()
    }

    fn is_weary(&self) -> bool {
        self.watch.stop() || self.known.len() >= TRIALS
    }

    /// Sets of some rules and courses that clash. After the first, each leaves out a rule of the ones before it.
    fn sets(&mut self, rules: &[Demand], courses: &[Demand]) -> Vec<Clash> {
        let mut sets: Vec<Clash> = Vec::new();
        // Rules left out: a set that is found without them is another one.
        let mut left_out: Vec<Vec<Demand>> = vec![Vec::new()];
        let mut at = 0;
        while at < left_out.len() && sets.len() < SETS && !self.is_weary() {
            let out = left_out[at].clone();
            at += 1;
            let rest: Vec<Demand> = rules.iter().copied().filter(|r| !out.contains(r)).collect();
            if !self.clash(&[&rest, courses].concat()) {
                continue;
            }
            let found = self.smallest(&rest, courses);
            for demand in found.demands.iter().filter(|demand| rules.contains(demand)) {
                let mut more = out.clone();
                more.push(*demand);
                more.sort_unstable();
                if !left_out.contains(&more) {
                    left_out.push(more);
                }
            }
            if sets.iter().all(|known| known.demands != found.demands) {
                sets.push(found);
            }
        }
        sets
    }

    /// A smallest set out of some that clash: as few rules as can be for all the courses, then as few courses.
    fn smallest(&mut self, rules: &[Demand], courses: &[Demand]) -> Clash {
        let few_rules = self.quick(courses, true, rules);
        let few_courses = match courses.len() {
            0 | 1 => courses.to_vec(),
            _ => self.quick(&few_rules, true, courses),
        };
        let mut demands = [few_rules, few_courses].concat();
        demands.sort_unstable();
        let mut size = Minimality::Smallest;
        // Proof by plan, demand for demand.
        let mut i = 0;
        while i < demands.len() {
            if self.is_weary() {
                size = Minimality::Unknown;
                break;
            }
            let mut fewer = demands.clone();
            fewer.remove(i);
            if self.clash(&fewer) {
                demands = fewer;
                i = 0;
            } else {
                i += 1;
            }
        }
        let proof = match self.judge(&demands) {
            Trial::Impossible(proof) => Some(self.in_the_job(proof, &demands)),
            _ => None,
        };
        Clash {
            demands,
            proof,
            size,
        }
    }

    /// QuickXplain: those of the candidates that clash with the background. `news` says whether the background has
    /// grown since it was last known to be possible.
    fn quick(&mut self, background: &[Demand], news: bool, candidates: &[Demand]) -> Vec<Demand> {
        if candidates.is_empty() || (news && self.clash(background)) {
            return Vec::new();
        }
        if candidates.len() == 1 || self.is_weary() {
            return candidates.to_vec();
        }
        let (one, other) = candidates.split_at(candidates.len() / 2);
        let second = self.quick(&[background, one].concat(), true, other);
        let first = self.quick(&[background, &second].concat(), !second.is_empty(), one);
        [first, second].concat()
    }

    /// A proof about the courses of a trial, told of the job's.
    fn in_the_job(&self, proof: Proof, demands: &[Demand]) -> Proof {
        let courses = courses(demands);
        let id = |of: CourseId| courses.get(of.0).copied().unwrap_or(of);
        match proof {
            Proof::Course(course) => Proof::Course(id(course)),
            Proof::TooClose(first, last) => Proof::TooClose(id(first), id(last)),
            other => other,
        }
    }
}
