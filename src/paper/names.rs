//! Whether the typeface has every character of the names that are printed: one rule for labels, sheets and pictures.

use super::fitting::Unfit;
use crate::draw::typeface::unprintable;
use crate::job::Job;

/// The names of a job that can't be printed, each once: of the boat, its panels, forms and zones, of boards and strips.
pub fn names_unprintable(job: &Job) -> Vec<Unfit> {
    let (hull, stock) = (&job.hull, &job.stock);
    let zones = { hull.keep_clear.iter() }.chain(hull.show.iter().map(|show| &show.zone));
    let names = [&job.name]
        .into_iter()
        .chain(hull.panels.iter().map(|panel| &panel.name))
        .chain(hull.forms.iter().map(|form| &form.name))
        .chain(zones.filter_map(|zone| zone.name.as_ref()))
        .chain(&stock.boards)
        .chain(stock.strips.iter().map(|strip| &strip.name));
    unprintables(names)
}

/// Which of these can't be printed, each once.
pub(super) fn unprintables<'a>(names: impl Iterator<Item = &'a String>) -> Vec<Unfit> {
    let mut unfit: Vec<Unfit> = names
        .filter_map(|name| Some(Unfit::Unprintable(unprintable(name)?, name.clone())))
        .collect();
    unfit.sort();
    unfit.dedup();
    unfit
}
