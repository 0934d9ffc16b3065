//! What is typed for colours from photographs, and for the rack.

use clap::Args;
use std::path::PathBuf;

/// Print the card that lies on strips when they are photographed: to DIR/out/card.pdf
#[derive(Args, Debug)]
#[command(after_help = "\
On the page of boat.toml's [paper], A4 or Letter, on its side; what to do with it is printed under it.

Exit status:
  0  written
  2  boat.toml can't be read, or something is wrong with the command
  3  the disk can't be written to, or the program has a bug")]
pub struct Card {
    /// The folder of the job
    pub dir: PathBuf,
}

/// Measure the colours of strips in photographs: by DIR/photos.csv, to DIR/colours.csv
#[derive(Args, Debug)]
#[command(after_help = "\
Every photo shows slices of a board edge to edge with the printed card on them (twinstrake card). photos.csv says
which, and where along them the card lay. A photo is measured whole or not at all. colours.csv is written anew from
those that could be measured, and a picture of each stretch of strip goes into DIR/photographs.

Exit status:
  0  every photo was measured
  1  written, but some photos could not be measured
  2  no photo could be measured, or something is wrong with the job's files or the command; nothing was written
  3  the disk can't be written to, or the program has a bug")]
pub struct Colours {
    /// The folder of the job
    pub dir: PathBuf,

    /// No progress bar
    #[arg(long)]
    pub quiet: bool,
}

/// Put the rack in order after milling: to DIR/out/rack.csv and, for the wall, DIR/out/rack.pdf
#[derive(Args, Debug)]
#[command(after_help = "\
Pairs stay together; they are put by wood and length, and from light to dark. What no piece can be cut from is told
with the reason and what would rescue it.

Exit status:
  0  written
  2  the job or the plan can't be read, or something is wrong with the command
  3  the disk can't be written to, or the program has a bug")]
pub struct Sort {
    /// The folder of the job
    pub dir: PathBuf,

    /// Once there is a plan: the stack from which it is laid, to out/stack.csv and out/stack.pdf; what is laid first
    /// lies on top
    #[arg(long)]
    pub stack: bool,
}

/// Measures one photograph for `colours`, in a process of its own: what is asked comes on stdin, what was measured
/// goes to stdout.
#[derive(Args, Debug)]
#[command(hide = true)]
pub struct MeasureOne {}

/// Reads the codes in one photograph for the page at the bench, in a process of its own: the photograph comes on
/// stdin, what was read goes to stdout.
#[derive(Args, Debug)]
#[command(hide = true)]
pub struct ReadOne {}
