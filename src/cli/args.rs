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
    Log(Log),
    Status(Standing),
    Spares(Spares),
}

/// Plan a boat: read the job in DIR, and write the plan to DIR/out. With a log, plan again with the least upset
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

    /// With a log: move nothing but what lost its wood; everything else keeps its place
    #[arg(long)]
    pub(super) keep_order: bool,

    /// With a log: forget the earlier plan and its labels; what is laid stays all the same
    #[arg(long, conflicts_with = "keep_order")]
    pub(super) afresh: bool,

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

/// Tell what has happened in the shop, or see what was told
#[derive(Args, Debug)]
#[command(after_help = "\
What can be told, and how little has to be typed:
  laid next                     the next piece in the order of laying is glued on
  laid 12 port                  course 12 is laid on port; without a side: on both
  laid bottom 3 port 2          the panel where two have such a course; one piece of several
  broken D4 2210                a strip broke, so far from its marked end
  spoiled D4 1200-1260          a stretch of it is no good any more
  lost D4                       all of it that is not laid is gone
  found D4                      it turned up again
  found S9 3200 7               a new strip: its length and its colour
  shade D4 6                    its colour was taken wrong
  taken up 12 port              a laid piece came off again, and is spoiled (--whole: it is not)
  undo                          the last entry does not hold; undo 7: entry 7 does not
  -                             a line of such words after the other, from standard input

Without words: what is in the log. With strips broken or lost, plan again: twinstrake lay DIR.

Exit status:
  0  written, and on the disk
  2  it can't be so, or could not be understood; nothing was written
  3  the disk can't be written to; nothing was written")]
pub(super) struct Log {
    /// What happened
    #[arg(value_name = "WORD", allow_hyphen_values = true)]
    pub(super) words: Vec<String>,

    /// The folder of the job
    #[arg(long, value_name = "DIR", default_value = ".")]
    pub(super) job: PathBuf,

    /// Your own words, kept with the entry
    #[arg(long, value_name = "TEXT", default_value = "")]
    pub(super) note: String,

    /// With taken up: the piece is as good as before, but for its two cuts
    #[arg(long)]
    pub(super) whole: bool,

    /// With found: the board that a new strip comes from
    #[arg(long, value_name = "NAME", requires = "seq")]
    pub(super) board: Option<String>,

    /// With found: its place in the board
    #[arg(long, value_name = "N", requires = "board")]
    pub(super) seq: Option<u32>,
}

/// Which strips must not break: what the loss of each would do, and how likely the boat still closes
#[derive(Args, Debug)]
#[command(after_help = "\
Exit status:
  0  done; out/spares.csv is written
  2  the job or its plan can't be read
  3  the disk can't be written to")]
pub(super) struct Spares {
    /// The folder of the job, with a plan in its out folder
    #[arg(default_value = ".")]
    pub(super) dir: PathBuf,

    /// How likely each strip breaks before it is laid: 3% or 0.03
    #[arg(long, value_name = "P", value_parser = probability, default_value = "3%")]
    pub(super) breaks: f64,

    /// How many times the strips are thrown to find the chance
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=1_000_000), default_value_t = 1000)]
    pub(super) samples: u32,

    /// Where chance begins: the same seed gives the same figures
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub(super) seed: u64,

    /// Work on so many processor cores [usually: all]; the figures do not depend on it
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub(super) threads: Option<u16>,
}

fn probability(typed: &str) -> Result<f64, String> {
    let (figures, times) = match typed.strip_suffix('%') {
        Some(percent) => (percent.trim(), 0.01),
        None => (typed, 1.0),
    };
    match figures.parse::<f64>() {
        Ok(number) if (0.0..=1.0).contains(&(number * times)) => Ok(number * times),
        _ => Err("write a part from 0 to 1, as 0.03, or 3%".into()),
    }
}

/// How far the boat is: what is laid, what comes next, what wood is left
#[derive(Args, Debug)]
pub(super) struct Standing {
    /// The folder of the job
    #[arg(default_value = ".")]
    pub(super) dir: PathBuf,
}

fn seconds(typed: &str) -> Result<f64, String> {
    match typed.parse::<f64>() {
        Ok(seconds) if seconds.is_finite() && seconds >= 0.0 => Ok(seconds),
        _ => Err("write a number of seconds, as 30 or 2.5".into()),
    }
}
