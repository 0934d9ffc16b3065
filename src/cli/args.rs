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
    Pick(Pick),
    Why(Why),
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

    /// Plan so many plans to choose from besides, from the best-looking to the thriftiest: see pick
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u8).range(2..=9))]
    pub(super) choices: Option<u8>,

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

/// Make one of the plans that lay --choices laid the plan in DIR/out
#[derive(Args, Debug)]
#[command(after_help = "\
Exit status:
  0  picked; the plan covers every course
  1  picked; the plan leaves a course open
  2  there is no such plan, the job has changed since, or something is wrong with the command; nothing was written
  3  the disk can't be written to, or the program has a bug")]
pub(super) struct Pick {
    /// The folder of the job
    pub(super) dir: PathBuf,

    /// The number of the plan
    #[arg(value_parser = clap::value_parser!(u8).range(1..=9))]
    pub(super) number: u8,
}

/// Say what each rule costs, what a little more wood would gain, and which demands clash
#[derive(Args, Debug)]
#[command(after_help = "\
The plan in DIR/out is planned again with one thing made easier at a time: without each zone kept clear, with joints closer
together, with one more joint in a course, with a pair or two more in the rack. Nothing is written.

Exit status:
  0  done; the plan covers every course
  1  done; the plan leaves a course open, and the demands that clash are told
  2  the job or the plan can't be read, or something is wrong with the command
  3  the program has a bug

Ctrl-C ends it, and tells what was found so far.")]
pub(super) struct Why {
    /// The folder of the job, with a plan in its out folder
    pub(super) dir: PathBuf,

    /// Where chance begins: the same seed and rounds give the same answer
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub(super) seed: u64,

    /// Search for so many rounds each time
    #[arg(long, value_name = "N", default_value_t = 2)]
    pub(super) rounds: u64,

    /// Work on so many processor cores [usually: all]; the answer does not depend on it
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub(super) threads: Option<u16>,

    /// Show no line that says what is being tried
    #[arg(long, short)]
    pub(super) quiet: bool,
}

fn seconds(typed: &str) -> Result<f64, String> {
    match typed.parse::<f64>() {
        Ok(seconds) if seconds.is_finite() && seconds >= 0.0 => Ok(seconds),
        _ => Err("write a number of seconds, as 30 or 2.5".into()),
    }
}
