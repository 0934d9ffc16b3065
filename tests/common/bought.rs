//! The wood of a remedy, bought.

use twinstrake::job::Job;
use twinstrake::solve::Remedy;
use twinstrake::stock::{BoardId, Origin, Strip};
use twinstrake::units::Colour;

/// The job with the wood of some remedies added: each pair a board of its own, each single strip as well. Where a
/// want asks for other wood, it is of that: the want names it.
pub fn bought(job: &Job, remedies: &[&Remedy]) -> Job {
    let mut job = job.clone();
    for remedy in remedies {
        let pairs = std::iter::repeat_n(2, remedy.pairs);
        for slices in pairs.chain(std::iter::repeat_n(1, remedy.strips)) {
            let board = BoardId(job.stock.boards.len());
            job.stock.boards.push(format!("bought {}", board.0));
            for seq in 1..=slices {
                let name = format!("bought {}-{seq}", board.0);
                for want in &mut job.wants {
                    let of_remedy = remedy.courses.iter().map(|id| &job.hull.courses[id.0]);
                    if of_remedy.into_iter().any(|course| want.covers(course)) {
                        want.strips.push(name.clone());
                        want.port = None;
                    }
                }
                job.stock.strips.push(Strip::plain(
                    name,
                    Some(Origin { board, seq }),
                    remedy.length,
                    Colour::shade(5),
                ));
            }
        }
    }
    job
}
