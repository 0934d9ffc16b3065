//! `status`: how far the boat is.

use super::args::Standing;
use super::say;
use super::status::Status;
use crate::check::check;
use crate::job;
use crate::out;

pub(super) fn run(typed: &Standing) -> Status {
    let reading = match job::read(&typed.dir) {
        Ok(reading) => reading,
        Err(complaints) => {
            say::err(&say::complaints(&complaints));
            return Status::BadInput;
        }
    };
    say::err(&say::warnings(&reading.warnings));
    let plan = match job::read_plan(&typed.dir, &reading.job) {
        Ok(plan) => plan,
        Err(complaints) => {
            say::err(&say::complaints(&complaints));
            return Status::BadInput;
        }
    };
    let told = out::told(&typed.dir).ok().flatten();
    let verdict = check(&reading.job, &plan);
    let text = say::standing(&typed.dir, &reading, &plan, &verdict, told.as_ref());
    match say::out(&text) {
        Ok(()) => Status::Good,
        Err(error) => {
            say::err(&say::unsaid(&error));
            Status::Fault
        }
    }
}
