//! What is typed for paper and pictures.

use clap::Args;
use std::path::PathBuf;

/// Make the pictures of the plan in DIR/out for the printer (PDF) and in pixels (PNG)
#[derive(Args, Debug)]
#[command(after_help = "\
The planking, the wood alone, and the steps in colour, each as .pdf (its true size, A3 on its side) and .png. Where \
the plan was
changed by hand since it was laid, the .svg pictures and report.html are made anew as well.

Exit status:
  0  made
  1  made, of a plan that breaks a rule; twinstrake check tells which
  2  the job or the plan can't be read, or something is wrong with the command
  3  the disk can't be written to, or the program has a bug")]
pub struct Pictures {
    /// The folder of the job, with a plan in its out folder
    pub dir: PathBuf,

    /// How many pixels across the .png files are; 4961 is A3 at 300 dots to the inch
    #[arg(long, value_name = "PIXELS", default_value_t = 3508)]
    #[arg(value_parser = clap::value_parser!(u16).range(200..=8000))]
    pub wide: u16,
}

/// Make the hull in three dimensions with the wood of the plan on it: DIR/out/hull.html to turn it, and hull.glb
#[derive(Args, Debug)]
#[command(after_help = "\
hull.html is one page for any browser and needs no network: the hull is turned by hand, in a light that can be moved,
planked piece by piece in the order of laying, and a piece that is tapped says what it is. Plans to choose from, and the
plan before, can be seen beside it. hull.glb is the same hull as glTF 2.0. Both need offsets.csv: girths alone don't say where the skin lies.

Exit status:
  0  made
  1  made, of a plan that breaks a rule; twinstrake check tells which
  2  the job or the plan can't be read, has no offsets, or something is wrong with the command
  3  the disk can't be written to, or the program has a bug")]
pub struct Hull {
    /// The folder of the job, with a plan in its out folder
    pub dir: PathBuf,
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
pub struct Labels {
    /// The folder of the job, with a plan in its out folder
    pub dir: PathBuf,

    #[command(flatten)]
    pub on: On,

    /// Only labels of pieces that are not glued on yet
    #[arg(long)]
    pub to_do: bool,

    /// Only labels that differ from those printed last
    #[arg(long)]
    pub changed: bool,

    /// Print nothing: all labels that were to be taken off are off
    #[arg(long, conflicts_with_all = ["changed", "to_do", "sheet", "tape", "flags", "from"])]
    pub taken_off: bool,
}

/// Print the laying sheet and the cut list: from the plan in DIR/out to DIR/out
#[derive(Args, Debug)]
#[command(after_help = "\
Exit status:
  0  written
  1  written, but the plan leaves a course open
  2  the job or the plan can't be read, or something is wrong with the command
  3  the disk can't be written to, or the program has a bug")]
pub struct Sheets {
    /// The folder of the job, with a plan in its out folder
    pub dir: PathBuf,

    /// A date to print at the foot, as you write it [usually: a line to write it on]
    #[arg(long, value_name = "DATE")]
    pub date: Option<String>,

    /// Only what is left: courses that are not glued on, strips that are not cut
    #[arg(long)]
    pub to_do: bool,
}

/// What labels and tags are printed on.
#[derive(Args, Debug)]
pub struct On {
    /// Sheets of labels of this grid [usually: what boat.toml says, else A4 3x7 or Letter 3x10]
    #[arg(long, value_name = "GRID")]
    pub sheet: Option<String>,

    /// Continuous tape of this width: a page for each label
    #[arg(long, value_name = "WIDTH", conflicts_with = "sheet")]
    pub tape: Option<String>,

    /// Plain paper, to be cut into flags that fold round the end of a strip
    #[arg(long, conflicts_with_all = ["sheet", "tape"])]
    pub flags: bool,

    /// Begin at the K-th label of the first sheet: those before it are used up
    #[arg(long, value_name = "K", value_parser = clap::value_parser!(u32).range(1..=10_000))]
    pub from: Option<u32>,
}
