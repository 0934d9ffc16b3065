//! Tags for strips, and their pages.

use super::fitting::Unfit;
use super::label::Tag;
use super::labels::{Labels, set};
use super::names::unprintables;
use crate::job::LabelStock;
use crate::plan::Rules;

/// Tags on pages of this stock, the first `skip` places of the first page left free for those that are used up.
///
/// Errors: the names that can't be printed or don't fit their tag, each once.
pub fn tags(
    job: &str,
    rules: &Rules,
    tags: &[Tag],
    stock: &LabelStock,
    skip: usize,
) -> Result<Labels, Vec<Unfit>> {
    let unfit = unprintables(
        tags.iter()
            .flat_map(|tag| [&tag.strip].into_iter().chain(&tag.parts)),
    );
    if !unfit.is_empty() {
        return Err(unfit);
    }
    let mut pages = Vec::new();
    let give = |page| pages.push(page);
    let without_code = set(&format!("Tags, {job}"), rules, tags, stock, skip, give)?;
    Ok(Labels {
        pages,
        without_code,
    })
}
