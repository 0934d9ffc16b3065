//! What is typed to plan a boat, and to look into plans.

use clap::Args;
use std::path::PathBuf;

/// Plan a boat: read the job in DIR, and write the plan to DIR/out. With a log, plan again with the least upset
#[derive(Args, Debug)]
#[command(after_help = "\
Exit status:
  0  planned, and every course is covered
  1  planned, but the wood does not cover every course
  2  something is wrong with the job's files or the command; nothing was written
  3  the disk can't be written to, or the program has a bug; no plan was written

Ctrl-C ends the search, and the best plan so far is written. A second Ctrl-C leaves at once, with status 130.")]
pub struct Lay {
    /// The folder of the job: boat.toml, forms.csv or courses.csv, strips.csv
    pub dir: PathBuf,

    /// Where chance begins: the same seed and rounds give the same plan
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub seed: u64,

    /// Search for so many rounds exactly [usually: until nothing better turns up]
    #[arg(long, value_name = "N")]
    pub rounds: Option<u64>,

    /// Search for so many seconds at most
    #[arg(long, value_name = "S", value_parser = seconds, allow_negative_numbers = true)]
    pub seconds: Option<f64>,

    /// Work on so many processor cores [usually: all]; the plan does not depend on it
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub threads: Option<u16>,

    /// With a log: move nothing but what lost its wood; everything else keeps its place
    #[arg(long)]
    pub keep_order: bool,

    /// With a log: forget the earlier plan and its labels; what is laid stays all the same
    #[arg(long, conflicts_with = "keep_order")]
    pub afresh: bool,
    /// Plan so many plans to choose from besides, from the best-looking to the thriftiest: see pick
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u8).range(2..=9))]
    pub choices: Option<u8>,

    /// Say nothing but what is wrong or missing
    #[arg(long, short)]
    pub quiet: bool,
}

/// Judge the plan in DIR/out against every rule, and reckon its cost anew
#[derive(Args, Debug)]
#[command(after_help = "\
Exit status:
  0  the plan keeps every rule and covers every course
  1  the plan breaks a rule, or leaves a course open
  2  the job or the plan can't be read, or something is wrong with the command
  3  the program has a bug")]
pub struct Check {
    /// The folder of the job, with a plan in its out folder
    pub dir: PathBuf,
}

/// Make one of the plans that lay --choices laid the plan in DIR/out
#[derive(Args, Debug)]
#[command(after_help = "\
Exit status:
  0  picked; the plan covers every course
  1  picked; the plan leaves a course open
  2  there is no such plan, the job has changed since, or something is wrong with the command; nothing was written
  3  the disk can't be written to, or the program has a bug")]
pub struct Pick {
    /// The folder of the job
    pub dir: PathBuf,

    /// The number of the plan
    #[arg(value_parser = clap::value_parser!(u8).range(1..=9))]
    pub number: u8,
}

/// Let two courses change places by hand: show what it does, and keep it where you say so
#[derive(Args, Debug)]
#[command(after_help = "\
Places are written \"topside 3\" for a course and \"topside 3.2\" for its second piece; on a boat of one panel 3 and \
3.2 will
do. Wood in the rack is written D3+D4 for a pair and D3 for a single strip.

Rules, cost before and after and labels that change are told, and out/swap.svg shows both. The plan stays as it is \
without
--keep or --pin.

Exit status:
  0  shown, or kept
  1  shown, and it breaks a rule; or kept, and a course is open
  2  no such place or wood, or it can't be kept; the plan is as it was
  3  the disk can't be written to, or the program has a bug")]
pub struct Swap {
    /// The folder of the job, with a plan in its out folder
    pub dir: PathBuf,

    /// A course or a piece
    #[arg(required_unless_present = "back")]
    pub one: Option<String>,

    /// Another, or a pair or strip in the rack
    #[arg(required_unless_present = "back")]
    pub other: Option<String>,

    /// Make it the plan; the plan before is kept in out/earlier
    #[arg(long)]
    pub keep: bool,

    /// Make it the plan, and add it to the wants of boat.toml, so that every plan to come keeps to it
    #[arg(long)]
    pub pin: bool,

    /// Take up the plan before this one again
    #[arg(long, conflicts_with_all = ["one", "other", "keep", "pin"])]
    pub back: bool,
}

/// Say what each rule costs, what a little more wood would gain, and which demands clash
#[derive(Args, Debug)]
#[command(after_help = "\
The plan in DIR/out is planned again with one thing made easier at a time: without each zone kept clear,
without each want, with joints closer together, with one more joint in a course, with a pair or two more in
the rack. The plan in DIR/out stays; a better one that turns up on the way is kept for twinstrake pick.

Exit status:
  0  done; the plan covers every course
  1  done; the plan leaves a course open, and the demands that clash are told
  2  the job or the plan can't be read, or something is wrong with the command
  3  the program has a bug

Ctrl-C ends it, and tells what was found so far.")]
pub struct Why {
    /// The folder of the job, with a plan in its out folder
    pub dir: PathBuf,

    /// Where chance begins: the same seed and rounds give the same answer
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub seed: u64,

    /// Search for so many rounds each time
    #[arg(long, value_name = "N", default_value_t = 2)]
    pub rounds: u64,

    /// Work on so many processor cores [usually: all]; the answer does not depend on it
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub threads: Option<u16>,

    /// Show no line that says what is being tried
    #[arg(long, short)]
    pub quiet: bool,
}

pub fn seconds(typed: &str) -> Result<f64, String> {
    match typed.parse::<f64>() {
        Ok(seconds) if seconds.is_finite() && seconds >= 0.0 => Ok(seconds),
        _ => Err("write a number of seconds, as 30 or 2.5".into()),
    }
}
