//! What is typed between the saw and the rack.

use clap::Args;
use std::path::PathBuf;

/// Begin a job: a fresh folder with a commented boat.toml and empty sheets, ready to be filled
#[derive(Args, Debug)]
#[command(after_help = "\
Exit status:
  0  begun
  2  the folder holds files of a job already; nothing was written
  3  the disk can't be written to, or the program has a bug")]
pub struct Begin {
    /// The folder to make; one that is there must not hold a job
    pub dir: PathBuf,

    /// A job in inches [usually: in millimetres]
    #[arg(long)]
    pub inches: bool,

    /// Sheets as .xlsx, whose cells stay text, so that 3/4 is not turned into a date [usually: .csv]
    #[arg(long)]
    pub spreadsheets: bool,
}

/// While boards are sawn: what each gives, what the rack holds against what the boat takes, which board to open next
#[derive(Args, Debug)]
#[command(after_help = "\
Reads boards.csv as it is filled while the saw runs; lengths count once they are there, colours play no part. A
reckoning to saw by: lay finds out what really fits.

Exit status:
  0  reckoned, and the wood in the rack is enough
  1  reckoned, and more wood must be sawn or bought
  2  something is wrong with the job's files or the command
  3  the program has a bug")]
pub struct Mill {
    /// The folder of the job
    pub dir: PathBuf,

    /// Added for breakage and culls, in percent
    #[arg(long, value_name = "PERCENT", default_value_t = 15.0, value_parser = super::bench::percent)]
    pub margin: f64,
}

/// Print tags for strips as they leave the saw, before there is any plan: to DIR/out/tags.pdf
#[derive(Args, Debug)]
#[command(after_help = "\
A tag says the strip's name and board, which end is the marked one and where edge A is. It is stuck on the high face, \
at the
marked end. Labels of pieces come later and are stuck beside it. Sheets of labels are named as for labels.

Exit status:
  0  written
  1  there is no slice to print a tag for
  2  something is wrong with the job's files or the command, or a name does not fit its tag
  3  the disk can't be written to, or the program has a bug")]
pub struct Tags {
    /// The folder of the job
    pub dir: PathBuf,

    /// Only the slices of this board; once for each board [usually: every strip of boards.csv and strips.csv]
    #[arg(long, value_name = "BOARD")]
    pub board: Vec<String>,

    /// For a board that is not sawn yet: so many slices [usually: as many as its width gives]
    #[arg(long, value_name = "N", requires = "board", value_parser = clap::value_parser!(u32).range(1..=500))]
    pub slices: Option<u32>,

    #[command(flatten)]
    pub on: super::papers::On,
}
