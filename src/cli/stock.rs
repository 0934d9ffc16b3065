//! What labels and tags are printed on, as it was typed.

use super::args::On;
use super::say;
use twinstrake::job::LabelStock;
use twinstrake::job::stationery::{self, NotPaper, Stationery};
use twinstrake::paper;
use twinstrake::plan::Rules;
use twinstrake::units::Unit;

/// What is printed on, and how many places of the first sheet are used up.
///
/// Errors: what is wrong with the words, in words.
pub fn stock(
    on: &On,
    unit: Unit,
    paper: &Stationery,
    rules: &Rules,
) -> Result<(LabelStock, usize), String> {
    let stock = named(on, unit, paper).map_err(|(text, slip)| say::not_paper(&text, &slip))?;
    let skip = on.from.map_or(0, |from| from.max(1) as usize - 1);
    match paper::on_a_page(rules, &stock).filter(|many| skip >= *many) {
        Some(many) => Err(say::past_the_sheet(skip + 1, many)),
        None => Ok((stock, skip)),
    }
}

/// Errors: the words that were typed, and what is wrong with them.
fn named(on: &On, unit: Unit, paper: &Stationery) -> Result<LabelStock, (String, NotPaper)> {
    let slip = |text: &str| {
        let text = text.to_owned();
        move |slip| (text, slip)
    };
    match (&on.sheet, &on.tape) {
        (Some(text), _) => stationery::grid(text, unit)
            .map(LabelStock::Sheet)
            .map_err(slip(text)),
        (_, Some(text)) => stationery::tape(text, unit).map_err(slip(text)),
        _ if on.flags => Ok(LabelStock::Flags(paper.page)),
        _ => Ok(paper.labels),
    }
}
