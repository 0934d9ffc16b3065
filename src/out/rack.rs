//! out/rack.csv and out/stack.csv: the rack in order, and the stack from which a plan is laid.

use super::Fault;
use super::mark::side_mark;
use super::sheet::sheet;
use crate::job::Job;
use crate::plan::Plan;
use crate::sorting::{Layer, Sorted, clear, ids};
use crate::stock::{Strip, StripId};

/// The rack: groups in their order, pairs in order of shade, culls at the end with why and what would rescue them.
///
/// Errors: the csv writer failed, which is a bug.
pub fn rack_csv(
    job: &Job,
    sorted: &Sorted,
    why: &dyn Fn(StripId) -> (String, String),
) -> Result<Vec<u8>, Fault> {
    let unit = job.unit;
    let strip = |id: StripId| job.stock.strip(id);
    let row = |order: String,
               id: StripId,
               mate: &str,
               class: String,
               clear: String,
               (why, rescue): (String, String)| {
        let Strip {
            name,
            wood,
            length,
            colour,
            ..
        } = strip(id);
        let state = if order.is_empty() { "culled" } else { "usable" };
        vec![
            order,
            name.clone(),
            mate.to_owned(),
            wood.clone(),
            class,
            unit.exact(*length),
            clear,
            format!("{:.2} {:.2} {:.2}", colour.l, colour.a, colour.b),
            state.into(),
            why,
            rescue,
        ]
    };
    let mut rows = Vec::new();
    let mut order = 0;
    for group in &sorted.groups {
        for place in &group.places {
            order += 1;
            let both: Vec<StripId> = ids(*place).collect();
            let strips: Vec<&Strip> = both.iter().map(|id| strip(*id)).collect();
            for id in &both {
                let mate = both
                    .iter()
                    .find(|other| *other != id)
                    .map_or("", |mate| strip(*mate).name.as_str());
                let (class, clear) = (unit.exact(group.class), unit.exact(clear(&strips)));
                rows.push(row(
                    order.to_string(),
                    *id,
                    mate,
                    class,
                    clear,
                    Default::default(),
                ));
            }
        }
    }
    for cull in &sorted.culls {
        let clear = unit.exact(clear(&[strip(cull.strip)]));
        rows.push(row(
            String::new(),
            cull.strip,
            "",
            String::new(),
            clear,
            why(cull.strip),
        ));
    }
    let header = [
        "place", "strip", "mate", "wood", "class", "length", "clear", "colour", "state", "why",
        "rescue",
    ];
    sheet("out/rack.csv", &header, rows)
}

/// The stack from the bottom up: what is laid first is the last row.
///
/// Errors: as for [`rack_csv`].
pub fn stack_csv(job: &Job, plan: &Plan, layers: &[Layer]) -> Result<Vec<u8>, Fault> {
    let rows = layers.iter().zip(1..).map(|(layer, number): (_, usize)| {
        let pieces: Vec<String> = layer
            .pieces
            .iter()
            .filter_map(|n| plan.pieces.get(*n))
            .map(|piece| {
                format!(
                    "{} {}",
                    job.hull.panel_of(piece.course).name,
                    side_mark(&job.hull, piece)
                )
            })
            .collect();
        let strip = job.stock.strip(layer.strip);
        vec![number.to_string(), strip.name.clone(), pieces.join("; ")]
    });
    sheet(
        "out/stack.csv",
        &["from_the_bottom", "strip", "pieces"],
        rows,
    )
}
