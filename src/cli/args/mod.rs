//! What was typed, by what it is about.

mod bench;
mod papers;
mod photos;
mod plan;
mod rack;
mod shop;

pub use bench::{Courses, Fit, Need};
pub use papers::{Hull, Labels, On, Pictures, Sheets};
pub use photos::{Card, Colours, MeasureOne, ReadOne, Sort};
pub use plan::{Check, Lay, Pick, Swap, Why};
pub use rack::{Begin, Mill, Tags};
pub use shop::{Bench, Log, Spares, Standing};

use plan::seconds;

use clap::{Parser, Subcommand};

/// Plans the planking of a strip-built boat: which pair goes on which course, cut where, which way round.
#[derive(Parser, Debug)]
#[command(name = "twinstrake", version, about, arg_required_else_help = true)]
pub struct Typed {
    #[command(subcommand)]
    pub command: Command,
}

#[derive(Subcommand, Debug)]
pub enum Command {
    Begin(Begin),
    Lay(Lay),
    Check(Check),
    Pictures(Pictures),
    Hull(Hull),
    Courses(Courses),
    Need(Need),
    Fit(Fit),
    Mill(Mill),
    Tags(Tags),
    Card(Card),
    Colours(Colours),
    Sort(Sort),
    MeasureOne(MeasureOne),
    ReadOne(ReadOne),
    Labels(Labels),
    Sheets(Sheets),
    Pick(Pick),
    Swap(Swap),
    Why(Why),
    Log(Log),
    Status(Standing),
    Bench(Bench),
    Spares(Spares),
}
