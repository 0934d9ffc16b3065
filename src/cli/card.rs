//! `card`: the card that lies on strips when they are photographed.

use super::args::Card;
use super::opened::unreadable;
use super::planned::{failed, fault};
use super::say;
use super::status::Status;
use twinstrake::{draw, job, out, paper};

const FILE: &str = "card.pdf";

pub(super) fn run(typed: &Card) -> Status {
    let page = match job::read_stationery(&typed.dir) {
        Ok(stationery) => stationery.page,
        Err(complaints) => return unreadable(&complaints),
    };
    let pdf = draw::pdf(&[paper::card(page)]).map_err(|slip| fault("out/card.pdf", &slip));
    if let Err(fault) = pdf.and_then(|pdf| out::write_paper(&typed.dir, &[(FILE, pdf)])) {
        return failed(&fault);
    }
    say::told(&say::card(&typed.dir))
}
