//! What was typed.

use clap::{Args, Parser, Subcommand};
use std::path::PathBuf;

/// Plans the planking of a strip-built boat: which pair goes on which course, cut where, which way round.
#[derive(Parser, Debug)]
#[command(name = "twinstrake", version, about, arg_required_else_help = true)]
pub(super) struct Typed {
    #[command(subcommand)]
    pub(super) command: Command,
}

#[derive(Subcommand, Debug)]
pub(super) enum Command {
    Lay(Lay),
    Check(Check),
    Pictures(Pictures),
}

/// Plan a boat: read the job in DIR, and write the plan to DIR/out
#[derive(Args, Debug)]
#[command(after_help = "\
Exit status:
  0  planned, and every course is covered
  1  planned, but the wood does not cover every course
  2  something is wrong with the job's files or the command; nothing was written
  3  the disk can't be written to, or the program has a bug; no plan was written

Ctrl-C ends the search, and the best plan so far is written. A second Ctrl-C leaves at once, with status 130.")]
pub(super) struct Lay {
    /// The folder of the job: boat.toml, courses.csv, strips.csv
    pub(super) dir: PathBuf,

    /// Where chance begins: the same seed and rounds give the same plan
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub(super) seed: u64,

    /// Search for so many rounds exactly [usually: until nothing better turns up]
    #[arg(long, value_name = "N")]
    pub(super) rounds: Option<u64>,

    /// Search for so many seconds at most
    #[arg(long, value_name = "S", value_parser = seconds, allow_negative_numbers = true)]
    pub(super) seconds: Option<f64>,

    /// Work on so many processor cores [usually: all]; the plan does not depend on it
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub(super) threads: Option<u16>,

    /// Say nothing but what is wrong or missing
    #[arg(long, short)]
    pub(super) quiet: bool,
}

/// Judge the plan in DIR/out against every rule, and reckon its cost anew
#[derive(Args, Debug)]
#[command(after_help = "\
Exit status:
  0  the plan keeps every rule and covers every course
  1  the plan breaks a rule, or leaves a course open
  2  the job or the plan can't be read, or something is wrong with the command
  3  the program has a bug")]
pub(super) struct Check {
    /// The folder of the job, with a plan in its out folder
    pub(super) dir: PathBuf,
}

/// Make the pictures of the plan in DIR/out for the printer (PDF) and in pixels (PNG)
#[derive(Args, Debug)]
#[command(after_help = "\
The planking, the wood alone, and the steps in colour, each as .pdf (its true size, A3 on its side) and .png. Where the plan was
changed by hand since it was laid, the .svg pictures and report.html are made anew as well.

Exit status:
  0  made
  1  made, of a plan that breaks a rule; twinstrake check tells which
  2  the job or the plan can't be read, or something is wrong with the command
  3  the disk can't be written to, or the program has a bug")]
pub(super) struct Pictures {
    /// The folder of the job, with a plan in its out folder
    pub(super) dir: PathBuf,

    /// How many pixels across the .png files are; 4961 is A3 at 300 dots to the inch
    #[arg(long, value_name = "PIXELS", default_value_t = 3508, value_parser = clap::value_parser!(u16).range(200..=20000))]
    pub(super) wide: u16,
}

fn seconds(typed: &str) -> Result<f64, String> {
    match typed.parse::<f64>() {
        Ok(seconds) if seconds.is_finite() && seconds >= 0.0 => Ok(seconds),
        _ => Err("write a number of seconds, as 30 or 2.5".into()),
    }
}
