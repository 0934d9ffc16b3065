//! The wood of a remedy, bought.

use twinstrake::job::Job;
use twinstrake::solve::Remedy;
use twinstrake::stock::{BoardId, Origin, Strip};
use twinstrake::units::Colour;

/// The job with the wood of some remedies added: each pair a board of its own, each single strip as well.
pub fn bought(job: &Job, remedies: &[&Remedy]) -> Job {
    let mut job = job.clone();
    let pairs = remedies
        .iter()
        .flat_map(|r| std::iter::repeat_n((2, r.length), r.pairs));
    let singles = remedies
        .iter()
        .flat_map(|r| std::iter::repeat_n((1, r.length), r.strips));
    for (slices, length) in pairs.chain(singles) {
        let board = BoardId(job.stock.boards.len());
        job.stock.boards.push(format!("bought {}", board.0));
        for seq in 1..=slices {
            job.stock.strips.push(Strip {
                name: format!("bought {}-{seq}", board.0),
                origin: Some(Origin { board, seq }),
                length,
                width: None,
                thickness: None,
                colour: Colour::shade(5),
                wood: String::new(),
                grain: String::new(),
                sister: None,
                defects: Vec::new(),
                kerfs: Vec::new(),
                notes: String::new(),
                cull: false,
            });
        }
    }
    job
}
