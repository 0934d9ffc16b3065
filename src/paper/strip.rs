//! A strip from its marked end to its plain end, for a screen on which it is touched where something happened.

use super::sheet::{HIGH, strip_bar};
use super::{BLACK, WHITE};
use crate::draw::scene::{Group, Item, Line, Outline, Rect, Scene, Set, Shape, Text};
use crate::job::Job;
use crate::plan::{Piece, Plan};
use crate::stock::StripId;

/// The strip is so long. Unit: mm; on a telephone held upright one is about four pixels.
const LONG: f64 = 76.0;
/// Beside it, over it and under it.
const BESIDE: f64 = 4.0;
const OVER: f64 = 3.0;
const UNDER: f64 = 10.0;
/// Type.
const SIZE: f64 = 3.4;

/// The picture, all of it, and where in it the strip lies.
pub fn strip(job: &Job, plan: Option<&Plan>, id: StripId) -> (Scene, Rect, Rect) {
    let strip = job.stock.strip(id);
    let all = plan.iter().flat_map(|plan| &plan.pieces);
    let pieces: Vec<&Piece> = all.filter(|piece| piece.strip == id).collect();
    let per_mm = LONG / strip.length.mm().max(1.0);
    let bar = strip_bar(job, strip, &pieces, OVER, per_mm);
    let mut items: Vec<Item> = bar
        .into_iter()
        .map(|item| item.moved((BESIDE, 0.0)))
        .collect();
    let bottom = OVER + HIGH;
    let mut frame = Vec::new();
    let said = |words: String, x: f64, set: Set| {
        Item::from(Text::new(words, (x, bottom + 2.0 + SIZE), SIZE, BLACK).set(set))
    };
    for (x, from) in [
        (BESIDE, 0.0),
        (BESIDE + LONG / 2.0, 0.5),
        (BESIDE + LONG, 1.0),
    ] {
        let tick = Outline::Straight((x, bottom + 0.4), (x, bottom + 1.8));
        frame.push(Shape::drawn(tick, Line::whole(BLACK, 0.3)));
        let at = job.unit.shop(strip.length * from);
        frame.push(match from {
            0.0 => said("marked end".into(), x, Set::Left),
            1.0 => said(format!("{at} plain"), x, Set::Right),
            _ => said(at, x, Set::Middle),
        });
    }
    items.push(Group::of("frame", frame).into());
    let view = Rect::between(0.0, 0.0, LONG + 2.0 * BESIDE, bottom + UNDER);
    let scene = Scene {
        title: format!(
            "{} from its marked end at the left to its plain end",
            strip.name
        ),
        width: view.w,
        height: view.h,
        paper: WHITE,
        items,
    };
    (
        scene,
        view,
        Rect::between(BESIDE, OVER, BESIDE + LONG, bottom),
    )
}
