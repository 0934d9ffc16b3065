//! The drawing of the planking, read back as whoever looks at it would.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use crate::common;
mod pictures;
mod pieces;
mod reader;
mod sheet;
mod stretches;
mod typeface;
mod words;

use common::{Cut, Size, boat, complete, lay_course, lay_whole, naive, random_job};
use twinstrake::check::check;
use twinstrake::draw::{Picture, planking, svg};
use twinstrake::hull::{CourseId, Toward};
use twinstrake::job::Job;
use twinstrake::plan::Plan;
use twinstrake::units::S;

fn drawn(job: &Job, plan: &Plan) -> String {
    planking(job, plan, &check(job, plan))
}

fn picture(which: Picture, job: &Job, plan: &Plan) -> String {
    svg::write(&which.scene(job, plan, &check(job, plan), None))
}

/// Three mirrored courses and one on the centreline. Course 1 has a joint in the middle of its skin, course 3 is open.
fn small_boat() -> (Job, Plan) {
    let job = boat()
        .panel("topside", Toward::Keel)
        .course(0.0, 4000.0)
        .skin(4400.0)
        .course(100.0, 3900.0)
        .course(200.0, 3800.0)
        .centre(400.0, 3600.0)
        .keep_clear("mast", 1000.0, 1500.0)
        .show(0.0, 2500.0, 2.0)
        .board("oak", 6, 4800.0, 2)
        .board("ash", 2, 4800.0, 8)
        .build();
    let half = S::from_mm(2200.0);
    let joined = [
        Cut::pair(&job, "oak-01", "oak-02", 10.0),
        Cut::pair(&job, "oak-03", "oak-04", 10.0).turned(),
    ];
    let rows = [
        lay_course(&job, CourseId(0), &[half], &joined),
        lay_whole(&job, 1, Cut::pair(&job, "oak-05", "oak-06", 20.0)),
        lay_whole(&job, 3, Cut::single(&job, "ash-01", 0.0)),
    ];
    let plan = complete(&job, rows.concat());
    (job, plan)
}

fn random_plans() -> impl Iterator<Item = (Job, Plan)> {
    (0..24).map(|seed| {
        let job = random_job(
            seed,
            if seed % 2 == 0 {
                Size::Small
            } else {
                Size::Medium
            },
        );
        let habit = if seed % 3 == 0 {
            naive::Habit::FewJoints
        } else {
            naive::Habit::ManyJoints
        };
        let plan = naive::plan(&job, habit);
        (job, plan)
    })
}
