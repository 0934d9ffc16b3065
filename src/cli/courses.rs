//! `courses`: from forms and offsets to the table of courses.

use super::args::Courses;
use super::say;
use super::status::Status;
use twinstrake::job;
use twinstrake::out;

pub(super) fn run(typed: &Courses) -> Status {
    let lines = match job::read_lines(&typed.dir) {
        Ok(lines) => lines,
        Err(complaints) => {
            say::err(&say::complaints(&complaints));
            return Status::BadInput;
        }
    };
    say::err(&say::warnings(&lines.warnings));
    if lines.told.is_empty() {
        say::err(&say::no_forms(&typed.dir));
        return Status::BadInput;
    }
    if let Err(fault) = out::write_lines(&typed.dir, &lines) {
        say::err(&say::unwritten(&fault));
        return Status::Fault;
    }
    say::told(&say::lines(&typed.dir, &lines, &lines.closings()))
}
