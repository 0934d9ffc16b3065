//! What shows a plan: the pictures and the report.

use crate::check::Verdict;
use crate::draw::{Picture, svg};
use crate::job::Reading;
use crate::plan::Plan;
use crate::report::{self, Report};

/// The files that show a plan, by name, as they go to `out/`.
pub(super) fn shown(
    reading: &Reading,
    plan: &Plan,
    verdict: &Verdict,
    facts: &[(&'static str, String)],
    shortage: Option<&str>,
) -> Vec<(&'static str, Vec<u8>)> {
    let report = Report {
        job: &reading.job,
        plan,
        verdict,
        inputs: &reading.digests,
        facts,
        shortage,
    };
    let picture = |picture: Picture| {
        let scene = picture.scene(&reading.job, plan, verdict);
        svg::write(&scene).into_bytes()
    };
    vec![
        ("planking.svg", picture(Picture::Planking)),
        ("wood.svg", picture(Picture::Wood)),
        ("seams.svg", picture(Picture::Seams)),
        ("report.html", report::html(&report).into_bytes()),
    ]
}
