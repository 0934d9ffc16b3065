//! `courses`: from forms and offsets to the table of courses.

use super::args::Courses;
use super::opened;
use super::planned::{failed, fault};
use super::say;
use super::status::Ended;
use twinstrake::draw;
use twinstrake::job::Lines;
use twinstrake::out::{self, Fault};
use twinstrake::solid;

pub fn run(typed: &Courses) -> Ended {
    let lines = opened::lines(&typed.dir)?;
    say::err(&say::warnings(&lines.warnings));
    if lines.told.is_empty() {
        if lines.by_hand {
            return Ok(say::told(&say::nothing_to_work_out(&typed.dir, &lines)));
        }
        return Err(say::bad_input(&say::no_forms(&typed.dir)));
    }
    let points = typed.offsets && !lines.points.is_empty();
    let written = drawn(&lines).and_then(|drawn| {
        let files: Vec<&str> = out::LINES_FILES
            .into_iter()
            .chain(points.then_some(out::OFFSETS_FILE))
            .chain(out::DRAWN_LINES.into_iter().take(drawn.len()))
            .collect();
        out::write_lines(&typed.dir, &lines, points, drawn).map(|()| files)
    });
    let files = written.map_err(failed)?;
    let said = say::lines(&typed.dir, &lines, &lines.closings(), &files);
    Ok(say::told(&said))
}

/// The drawing of the lines, and the shape to be turned, where there are offsets.
fn drawn(lines: &Lines) -> Result<Vec<(&'static str, Vec<u8>)>, Fault> {
    let Some(scene) = draw::lines(lines) else {
        return Ok(Vec::new());
    };
    let svg = draw::svg::write(&scene).into_bytes();
    let page = solid::shape(lines).map(|glb| solid::shape_page(lines, &scene, &glb));
    let pdf = draw::pdf(&[scene]).map_err(|slip| fault("lines.pdf", &slip))?;
    let mut files = vec![("lines.svg", svg), ("lines.pdf", pdf)];
    files.extend(page.map(|page| ("lines.html", page.into_bytes())));
    Ok(files)
}
