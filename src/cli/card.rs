//! `card`: the card that lies on strips when they are photographed.

use super::args::Card;
use super::opened::unreadable;
use super::planned::{failed, fault};
use super::say;
use super::status::Ended;
use twinstrake::{draw, job, out, paper};

const FILE: &str = "card.pdf";

pub fn run(typed: &Card) -> Ended {
    let page = job::read_stationery(&typed.dir)
        .map_err(|all| unreadable(&all))?
        .page;
    let pdf = draw::pdf(&[paper::card(page)]).map_err(|slip| fault("out/card.pdf", &slip));
    pdf.and_then(|pdf| out::write_files(&typed.dir, &[(FILE, pdf)]))
        .map_err(failed)?;
    Ok(say::told(&say::card(&typed.dir)))
}
