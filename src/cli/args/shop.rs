//! What is typed in the shop while planking.

use clap::Args;
use std::path::PathBuf;

/// Tell what has happened in the shop, or see what was told
#[derive(Args, Debug)]
#[command(after_help = "\
What can be told, and how little has to be typed:
  laid next                     the next piece in the order of laying is glued on
  laid 12 port                  course 12 is laid on port; without a side: on both
  laid bottom 3 port 2          the panel where two have such a course; one piece of several
  laid B11, laid [P]7.1         the piece from that strip, or of that mark
  cut D4                        D4 is cut as the plan has it; cut 12 port: that piece
  cut D4 2210                   it is cut across, so far from its marked end
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
pub struct Log {
    /// What happened
    #[arg(value_name = "WORD", allow_negative_numbers = true)]
    pub words: Vec<String>,

    /// The folder of the job
    #[arg(long, value_name = "DIR", default_value = ".")]
    pub job: PathBuf,

    /// Your own words, kept with the entry
    #[arg(long, value_name = "TEXT", default_value = "")]
    pub note: String,

    /// With taken up: the piece is as good as before, but for its two cuts
    #[arg(long)]
    pub whole: bool,

    /// With found: the board that a new strip comes from
    #[arg(long, value_name = "NAME", requires = "seq")]
    pub board: Option<String>,

    /// With found: its place in the board
    #[arg(long, value_name = "N", requires = "board")]
    pub seq: Option<u32>,
}

/// Which strips must not break: what the loss of each would do, and how likely the boat still closes
#[derive(Args, Debug)]
#[command(after_help = "\
Exit status:
  0  done; out/spares.csv is written, unless it was ended before all strips were looked at roughly
  2  the job or its plan can't be read
  3  the disk can't be written to")]
pub struct Spares {
    /// The folder of the job, with a plan in its out folder
    #[arg(default_value = ".")]
    pub dir: PathBuf,

    /// How likely each strip breaks before it is laid: 3% or 0.03
    #[arg(long, value_name = "P", value_parser = probability, default_value = "3%")]
    pub breaks: f64,

    /// How many times the strips are thrown to find the chance
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=1_000_000), default_value_t = 1000)]
    pub samples: u32,

    /// Where chance begins: the same seed gives the same figures
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub seed: u64,

    /// Take no longer than this: strips that are not done by then keep the rough answer [usually: no limit]
    #[arg(long, value_name = "S", value_parser = super::seconds)]
    pub seconds: Option<f64>,

    /// Work on so many processor cores [usually: all]; the figures do not depend on it
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub threads: Option<u16>,
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
pub struct Standing {
    /// The folder of the job
    #[arg(default_value = ".")]
    pub dir: PathBuf,
}

/// Open the job on a page, for this machine or for the telephones in the shop
#[derive(Args, Debug)]
#[command(after_help = "\
The page shows the next piece to lay and takes what happens, as log does. It also plans, prints, reads labels by the
camera, and edits the files of the job. It is closed by Ctrl-C.

Exit status:
  0  closed by Ctrl-C
  2  there is no such folder
  3  no port could be opened")]
pub struct Bench {
    /// The folder of the job, or a folder of several
    #[arg(default_value = ".")]
    pub dir: PathBuf,

    /// Let telephones in the same network in, by an address that can't be guessed
    #[arg(long)]
    pub lan: bool,

    /// To look at only: nothing can be told
    #[arg(long)]
    pub look_only: bool,

    /// The port of the address; 0 is any free one [usually: the first free one from 4179]
    #[arg(long, value_name = "N")]
    pub port: Option<u16>,
}
