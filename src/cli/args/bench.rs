//! What is typed before there is any wood, and at the bench.

use clap::Args;
use std::path::PathBuf;
use twinstrake::units::parse::{self, Decimal};
use twinstrake::units::{Length, Unit};

/// Work out the courses from forms.csv and offsets.csv, show them, and write them to DIR/out
#[derive(Args, Debug)]
#[command(after_help = "\
Writes out/courses.csv (copy it beside boat.toml to edit it: it counts then), out/ends.csv (how to mark
the ends that narrow) and out/bevels.csv (width and bevel of every course at every form). With offsets.csv also
out/lines.svg and out/lines.pdf, a drawing of it, and out/lines.html, the shape to be turned in a browser.

Exit status:
  0  worked out and written
  2  something is wrong with the job's files or the command; nothing was written
  3  the disk can't be written to, or the program has a bug")]
pub struct Courses {
    /// The folder of the job: boat.toml and forms.csv, perhaps offsets.csv
    pub dir: PathBuf,

    /// Write the points of offsets.csv one by one as well, to out/offsets.csv: what was understood of a printed table
    #[arg(long)]
    pub offsets: bool,
}

/// Reckon how much wood the boat takes, before there is any
#[derive(Args, Debug)]
#[command(after_help = "\
Writes the table to DIR/out/need.csv as well. It is a reckoning to buy by; lay finds out what really fits.

Exit status:
  0  reckoned and written
  2  something is wrong with the job's files or the command; nothing was written
  3  the disk can't be written to, or the program has a bug")]
pub struct Need {
    /// The folder of the job: boat.toml, forms.csv or courses.csv; no strips.csv is needed
    pub dir: PathBuf,

    /// Boards on sale, as thick as a strip is wide: length x width, as 4200x150 or \"14ft x 6in\"; once for each size
    #[arg(long, value_name = "LxW")]
    pub board: Vec<String>,

    /// Lost at each cut when strips are ripped [usually: what boat.toml says, else 3.2 mm, 1/8 in]
    #[arg(long, value_name = "WIDTH")]
    pub kerf: Option<String>,

    /// Added for breakage and culls, in percent
    #[arg(long, value_name = "PERCENT", default_value_t = 15.0, value_parser = percent)]
    pub margin: f64,
}

/// At the bench: how many passes of the plane until a tapered end has moved home
#[derive(Args, Debug)]
#[command(after_help = "\
Either from what the last passes did:      twinstrake fit 6mm --passes 3 --moved 6mm
or from the taper and the shaving:         twinstrake fit 6mm --taper 19x240 --shaving 0.1
A bare number is in millimetres; write the unit behind any other: 1/4in.")]
pub struct Fit {
    /// How far the end still has to move
    #[arg(value_parser = distance)]
    pub forward: Distance,

    /// So far the last passes moved it
    #[arg(long = "moved", value_name = "DISTANCE", value_parser = more_than_nothing, conflicts_with = "taper")]
    pub seen: Option<Length>,

    /// So many passes those were
    #[arg(long, value_name = "N", default_value_t = 1, requires = "seen")]
    #[arg(value_parser = clap::value_parser!(u16).range(1..=1000))]
    pub passes: u16,

    /// By how much the end narrows, x, over which length: 19x240
    #[arg(long, value_name = "WxL", value_parser = taper)]
    pub taper: Option<Taper>,

    /// How thick a shaving is
    #[arg(long, value_name = "THICKNESS", default_value = "0.1mm", value_parser = more_than_nothing)]
    pub shaving: Length,
}

/// A length, and the unit that it is answered in.
#[derive(Clone, Copy, Debug)]
pub struct Distance {
    /// How long.
    pub length: Length,
    /// Inches where it was typed in inches or feet, else millimetres.
    pub unit: Unit,
}

fn distance(typed: &str) -> Result<Distance, String> {
    let length = more_than_nothing(typed)?;
    Ok(Distance {
        length,
        unit: unit_of(typed),
    })
}

/// The unit of a length that could be read.
fn unit_of(typed: &str) -> Unit {
    let inches = ["in", "ft", "feet", "foot", "\"", "'", "″", "′"];
    match inches.iter().any(|mark| typed.contains(mark)) {
        true => Unit::Inch,
        false => Unit::Mm,
    }
}

/// A taper as typed.
#[derive(Clone, Copy, Debug)]
pub struct Taper {
    /// By how much it narrows.
    pub narrows: Length,
    /// Over which length.
    pub over: Length,
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
    let bare = !narrows.contains(|c: char| c.is_alphabetic() || "\"'″′".contains(c));
    Ok(Taper {
        // The unit behind the length holds for both: 3/4x9in.
        narrows: match unit_of(over) {
            Unit::Inch if bare => more_than_nothing(&format!("{narrows}in"))?,
            _ => more_than_nothing(narrows)?,
        },
        over: more_than_nothing(over)?,
    })
}

pub fn percent(typed: &str) -> Result<f64, String> {
    match typed.trim_end_matches('%').trim().parse::<f64>() {
        Ok(percent) if (0.0..=500.0).contains(&percent) => Ok(percent),
        _ => Err("write a percentage from 0 to 500, as 15".into()),
    }
}
