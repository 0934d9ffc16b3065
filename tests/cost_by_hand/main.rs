//! The cost against sums done by hand: the working is in each comment.
//!
//! Colours are greys about L = 50, where CIEDE2000 is the plain difference in L: for two greys ΔE00 = |ΔL| / S_L with
//! S_L = 1 where their mean is 50. PALE and DARK are 4 apart. Courses are 4 m, strips long enough, weights those of the
//! model: board 2, skip 0.6, shift 0.5, foster 12, joint 2, cut 0.25, relabel 1.

use crate::common;

mod joints;
mod mates;
mod moved;
mod nothing;
mod seams;
mod shows;
mod wants;

use common::{Builder, Cut, boat, complete, lay_whole};
use twinstrake::check::{Verdict, check};
use twinstrake::hull::{CourseId, Side, Toward};
use twinstrake::job::Job;
use twinstrake::plan::{Piece, Plan};
use twinstrake::units::{Colour, Length, S};

const PALE: Colour = Colour::lab(52.0, 0.0, 0.0);
const DARK: Colour = Colour::lab(48.0, 0.0, 0.0);

fn hull() -> Builder {
    boat().panel("topside", Toward::Keel)
}

fn board(boat: Builder, name: &str, strips: u32, colour: Colour) -> Builder {
    (1..=strips).fold(boat, |boat, seq| {
        boat.strip(&format!("{name}{seq}"), name, seq, 9000.0, colour)
    })
}

/// Two courses, and a pale and a dark board of eight.
fn two_boards(boat: Builder) -> Job {
    two_boards_of(boat).build()
}

/// One pair a course, cut at the marked end unless turned or shifted.
fn through(job: &Job, cuts: &[Cut]) -> Plan {
    let rows = cuts.iter().enumerate();
    let rows = rows.flat_map(|(course, cut)| lay_whole(job, course, *cut));
    complete(job, rows.collect())
}

/// Judges a plan that must be good: only such a plan has a cost worth working out.
fn judged(job: &Job, plan: &Plan) -> Verdict {
    let verdict = check(job, plan);
    let said: Vec<String> = verdict.breaches.iter().map(|b| b.to_string()).collect();
    assert_eq!(said, Vec::<String>::new());
    verdict
}

fn close(seen: f64, by_hand: f64) {
    assert!((seen - by_hand).abs() < 1e-9, "{seen}, by hand {by_hand}");
}

fn two_boards_of(boat: Builder) -> Builder {
    board(board(boat, "p", 8, PALE), "d", 8, DARK)
}
