//! What was typed.

use clap::{Args, Parser, Subcommand};
use std::path::PathBuf;

use crate::units::parse::{self, Decimal};
use crate::units::{Length, Unit};

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
    Courses(Courses),
    Need(Need),
    Fit(Fit),
    Labels(Labels),
    Sheets(Sheets),
    Pick(Pick),
    Why(Why),
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
    /// The folder of the job: boat.toml, forms.csv or courses.csv, strips.csv
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

/// Work out the courses from forms.csv and offsets.csv, show them, and write them to DIR/out
#[derive(Args, Debug)]
#[command(after_help = "\
Writes out/courses.csv (copy it beside boat.toml to edit it: it counts then), out/ends.csv (how to mark
the ends that narrow) and out/bevels.csv (width and bevel of every course at every form).

Exit status:
  0  worked out and written
  2  something is wrong with the job's files or the command; nothing was written
  3  the disk can't be written to, or the program has a bug")]
pub(super) struct Courses {
    /// The folder of the job: boat.toml and forms.csv, perhaps offsets.csv
    pub(super) dir: PathBuf,
}

/// Reckon how much wood the boat takes, before there is any
#[derive(Args, Debug)]
#[command(after_help = "\
Writes the table to DIR/out/need.csv as well. It is a reckoning to buy by; lay finds out what really fits.

Exit status:
  0  reckoned and written
  2  something is wrong with the job's files or the command; nothing was written
  3  the disk can't be written to, or the program has a bug")]
pub(super) struct Need {
    /// The folder of the job: boat.toml, forms.csv or courses.csv; no strips.csv is needed
    pub(super) dir: PathBuf,

    /// Boards on sale, as thick as a strip is wide: length x width, as 4200x150 or \"14ft x 6in\"; once for each size
    #[arg(long, value_name = "LxW")]
    pub(super) board: Vec<String>,

    /// Lost at each cut when strips are ripped [usually: 3.2 mm, 1/8 in]
    #[arg(long, value_name = "WIDTH")]
    pub(super) kerf: Option<String>,

    /// Added for breakage and culls, in percent
    #[arg(long, value_name = "PERCENT", default_value_t = 15.0, value_parser = percent)]
    pub(super) margin: f64,
}

/// At the bench: how many passes of the plane until a tapered end has moved home
#[derive(Args, Debug)]
#[command(after_help = "\
Either from what the last passes did:      twinstrake fit 6mm --passes 3 --moved 6mm
or from the taper and the shaving:         twinstrake fit 6mm --taper 19x240 --shaving 0.1
A bare number is in millimetres; write the unit behind any other: 1/4in.")]
pub(super) struct Fit {
    /// How far the end still has to move
    #[arg(value_parser = more_than_nothing)]
    pub(super) forward: Length,

    /// So far the last passes moved it
    #[arg(long = "moved", value_name = "DISTANCE", value_parser = more_than_nothing, conflicts_with = "taper")]
    pub(super) seen: Option<Length>,

    /// So many passes those were
    #[arg(long, value_name = "N", default_value_t = 1, requires = "seen", value_parser = clap::value_parser!(u16).range(1..=1000))]
    pub(super) passes: u16,

    /// By how much the end narrows, x, over which length: 19x240
    #[arg(long, value_name = "WxL", value_parser = taper)]
    pub(super) taper: Option<Taper>,

    /// How thick a shaving is
    #[arg(long, value_name = "THICKNESS", default_value = "0.1mm", value_parser = more_than_nothing)]
    pub(super) shaving: Length,
}

/// A taper as typed.
#[derive(Clone, Copy, Debug)]
pub(super) struct Taper {
    /// By how much it narrows.
    pub(super) narrows: Length,
    /// Over which length.
    pub(super) over: Length,
}

fn more_than_nothing(typed: &str) -> Result<Length, String> {
    match parse::length(typed, Unit::Mm, Decimal::Point) {
        Ok(length) if length > Length::ZERO => Ok(length),
        Ok(_) => Err("write a length of more than 0, as 6mm or 1/4in".into()),
        Err(slip) => Err(format!("{slip}. {}", slip.mend_length(typed, Unit::Mm))),
    }
}

fn taper(typed: &str) -> Result<Taper, String> {
    let (narrows, over) = typed
        .split_once(['x', 'X', '×'])
        .ok_or("write by how much it narrows, x, and over which length, as 19x240")?;
    Ok(Taper {
        narrows: more_than_nothing(narrows)?,
        over: more_than_nothing(over)?,
    })
}

fn percent(typed: &str) -> Result<f64, String> {
    match typed.trim_end_matches('%').trim().parse::<f64>() {
        Ok(percent) if (0.0..=500.0).contains(&percent) => Ok(percent),
        _ => Err("write a percentage from 0 to 500, as 15".into()),
    }
}

/// Print labels for the ends of all pieces: from the plan in DIR/out to DIR/out/labels.pdf
#[derive(Args, Debug)]
#[command(after_help = "\
A sheet of labels is named (\"A4 3x7\", \"Letter 3x10\"), or given by its sizes:
  \"A4 3x7 label 63.5 mm x 38.1 mm from 7.25 mm, 15.15 mm pitch 66 mm x 38.1 mm\"
from: the left and upper margin to the first label; pitch: from one label to the next. The same words may stand in
boat.toml, behind labels = in [paper]. Bare numbers are in the job's units.

Exit status:
  0  written, or nothing has changed
  1  there is no piece in the plan to print a label for
  2  the job or the plan can't be read, a name does not fit its label, or something is wrong with the command
  3  the disk can't be written to, or the program has a bug")]
pub(super) struct Labels {
    /// The folder of the job, with a plan in its out folder
    pub(super) dir: PathBuf,

    /// Sheets of labels of this grid [usually: what boat.toml says, else A4 3x7 or Letter 3x10]
    #[arg(long, value_name = "GRID")]
    pub(super) sheet: Option<String>,

    /// Continuous tape of this width: a page for each label
    #[arg(long, value_name = "WIDTH", conflicts_with = "sheet")]
    pub(super) tape: Option<String>,

    /// Plain paper, to be cut into flags that fold round the end of a strip
    #[arg(long, conflicts_with_all = ["sheet", "tape"])]
    pub(super) flags: bool,

    /// Begin at the K-th label of the first sheet: those before it are used up
    #[arg(long, value_name = "K", value_parser = clap::value_parser!(u32).range(1..=10_000))]
    pub(super) from: Option<u32>,

    /// Only labels that differ from those printed last
    #[arg(long)]
    pub(super) changed: bool,
}

/// Print the laying sheet and the cut list: from the plan in DIR/out to DIR/out
#[derive(Args, Debug)]
#[command(after_help = "\
Exit status:
  0  written
  1  written, but the plan leaves a course open
  2  the job or the plan can't be read, or something is wrong with the command
  3  the disk can't be written to, or the program has a bug")]
pub(super) struct Sheets {
    /// The folder of the job, with a plan in its out folder
    pub(super) dir: PathBuf,

    /// A date to print at the foot, as you write it [usually: a line to write it on]
    #[arg(long, value_name = "DATE")]
    pub(super) date: Option<String>,
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
    #[arg(long, value_name = "N", default_value_t = 3)]
    pub(super) rounds: u64,

    /// Work on so many processor cores [usually: all]; the answer does not depend on it
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub(super) threads: Option<u16>,

    /// Show no line that says what is being tried
    #[arg(long, short)]
    pub(super) quiet: bool,
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
    #[arg(value_name = "WORD", allow_negative_numbers = true)]
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
