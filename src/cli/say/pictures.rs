//! What `pictures` says.

use super::written;
use std::path::Path;
use twinstrake::job::Job;
use twinstrake::solid::Missing;
use twinstrake::units::Unit;

/// Which files were made, and how to print them.
pub fn shown(unit: Unit, dir: &Path, names: &[&str]) -> String {
    let mut names = names.to_vec();
    names.sort_unstable();
    let files = written(&dir.join("out"), names);
    let paper = match unit {
        Unit::Mm => "A3 on its side: print them at their true size, or fitted to A4",
        Unit::Inch => "on their side: print them fitted to 11 x 17, or to Letter",
    };
    format!("{files}The .pdf files are for the printer, {paper}.\n")
}

/// What to do with the hull in three dimensions.
pub fn hull(dir: &Path) -> String {
    let files = written(&dir.join("out"), ["hull.glb", "hull.html"]);
    files
        + "Open hull.html in a browser and turn the boat. hull.glb is the same hull for other programs.\n"
}

/// Why there is no hull to turn.
pub fn no_shape(job: &Job, missing: Missing) -> String {
    match missing {
        Missing::Offsets(panel) => format!(
            "Panel \"{}\" has no offsets, so nobody can tell where its skin lies. Write them into offsets.csv; girths \
            and courses alone are enough for the plan, not for the shape.\n",
            job.hull.panel(panel).name
        ),
        Missing::Lines(course) => {
            let course = job.hull.course(course);
            format!(
                "Course {} of panel \"{}\" stands in courses.csv, but the forms and offsets give no such course, so \
                nobody can tell where it lies. Mend the one or the other: twinstrake courses shows both.\n",
                course.name(),
                job.hull.panel(course.panel).name
            )
        }
    }
}

/// A picture is so tall that it has fewer pixels across than were asked for.
pub fn narrower(file: &str, across: u32, asked: u32) -> String {
    format!(
        "{file} is {across} pixels across instead of {asked}: with so many courses it is so tall that it would be too \
        large. The \
        .svg and .pdf files are as sharp as ever.\n"
    )
}
