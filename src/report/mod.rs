//! out/report.html: the whole plan on one page that needs nothing else. No network, no other file; it can be read
//! without script, and prints.
//!
//! Decides what a reader is told and in which order; pictures come from `draw`, figures from the checker's verdict. It
//! must not know how a plan was found beyond what it is handed. One file here makes one part of the page; start with
//! `page`.

mod cost;
mod cuts;
mod marks;
mod order;
mod page;
mod picture;
mod seams;
mod spare;
mod table;

pub(crate) use page::head;

use crate::check::Verdict;
use crate::draw::Photographs;
use crate::draw::scene::Scene;
use crate::job::{Digest, Job};
use crate::plan::Plan;

/// What the page is made from.
#[derive(Clone, Copy, Debug)]
pub struct Report<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its plan.
    pub plan: &'a Plan,
    /// The judgement of the plan.
    pub verdict: &'a Verdict,
    /// The files that the plan was made from.
    pub inputs: &'a [Digest],
    /// SHA-256 of the laying order as it is written.
    pub sha256: &'a str,
    /// What is said of the plan in short: a word and what there is to it.
    pub facts: &'a [(&'static str, String)],
    /// What to mill or buy where courses stay open, in plain lines; those that are set in are ways and courses.
    pub shortage: Option<&'a str>,
    /// Photographs of its wood, where there are such.
    pub photographs: Option<&'a Photographs>,
    /// The picture of the planking.
    pub planking: &'a Scene,
    /// The picture of the wood.
    pub wood: &'a Scene,
}

/// The bytes of the page. The same plan gives the same bytes.
pub fn html(report: &Report<'_>) -> String {
    page::page(report).into_string()
}
