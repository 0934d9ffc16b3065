//! `status`: how far the boat is.

use super::args::Standing;
use super::opened;
use super::say;
use super::status::Ended;
use twinstrake::check::check;
use twinstrake::out;

pub fn run(typed: &Standing) -> Ended {
    let (reading, plan) = opened::job_and_plan(&typed.dir)?;
    let told = out::told(&typed.dir).ok().flatten();
    let verdict = check(&reading.job, &plan);
    let text = say::standing(&typed.dir, &reading, &plan, &verdict, told.as_ref());
    Ok(say::done(&text))
}
