//! What shows a plan: the pictures and the report. Whatever command writes a plan writes these with it.

use super::faces::photographs;
use std::path::Path;
use twinstrake::check::Verdict;
use twinstrake::draw::scene::Scene;
use twinstrake::draw::{Picture, svg};
use twinstrake::job::Reading;
use twinstrake::out::{self, Fault};
use twinstrake::plan::Plan;
use twinstrake::report::{self, Report};

/// A file of `out/`: its name in it, and its bytes.
pub type File = (&'static str, Vec<u8>);

/// The files that show a plan, by name, as they go to `out/`.
///
/// Errors: the laying order can't be put together, which is a bug.
pub fn shown(
    dir: &Path,
    reading: &Reading,
    plan: &Plan,
    verdict: &Verdict,
    facts: &[(&'static str, String)],
    shortage: Option<&str>,
) -> Result<Vec<File>, Fault> {
    let photographs = photographs(dir, reading, plan);
    let (job, photographs) = (&reading.job, photographs.as_ref());
    let scene = |picture: Picture| picture.scene(job, plan, verdict, photographs);
    let (wood, (planking, seams)) = rayon::join(
        || scene(Picture::Wood),
        || (scene(Picture::Planking), scene(Picture::Seams)),
    );
    let report = Report {
        job,
        plan,
        verdict,
        inputs: &reading.digests,
        sha256: &out::plan_sha256(job, plan)?,
        facts,
        shortage,
        photographs,
        planking: &planking,
        wood: &wood,
    };
    let pictures = || -> Vec<File> {
        let all = [
            (Picture::Planking, &planking),
            (Picture::Wood, &wood),
            (Picture::Seams, &seams),
        ];
        let written =
            |(picture, scene): (Picture, &Scene)| (picture.svg(), svg::write(scene).into_bytes());
        all.into_iter().map(written).collect()
    };
    let (page, mut files) = rayon::join(|| report::html(&report), pictures);
    files.push(("report.html", page.into_bytes()));
    Ok(files)
}
