//! What is left in the rack: whole strips, and lengths long enough for a piece.

use super::{Report, cuts};
use crate::plan::Piece;
use crate::stock::{Strip, StripId};
use crate::units::Length;
use maud::{Markup, html};

pub(super) fn section(report: &Report<'_>) -> Markup {
    let job = report.job;
    let shortest = job.rules.joints.shortest_piece;
    let all = job.stock.strips.iter().enumerate();
    let (culls, sound): (Vec<_>, Vec<_>) = all.partition(|(_, strip)| strip.cull);
    let mut whole = Vec::new();
    let mut lengths: Vec<(Length, &Strip)> = Vec::new();
    for (n, strip) in sound {
        let cut = |piece: &&Piece| piece.strip == StripId(n);
        let pieces: Vec<&Piece> = report.plan.pieces.iter().filter(cut).collect();
        let left = cuts::left(job, strip, &pieces);
        if pieces.is_empty() {
            whole.push((left, strip));
        } else if left >= shortest {
            lengths.push((left, strip));
        }
    }
    lengths.sort_by_key(|length| std::cmp::Reverse(length.0));
    let shop = |length| job.unit.shop(length);
    html! {
        section #spare aria-labelledby="spare-title" {
            h2 #spare-title { "Spare wood" }
            h3 { "Whole strips" }
            @if whole.is_empty() { p { "None: every sound strip is cut into." } }
            @else { ul.short { @for (left, strip) in &whole {
                li { strong { (strip.name) } ", " (shop(*left)) " clear" }
            } } }
            h3 { "Lengths of " (shop(shortest)) " and more" }
            @if lengths.is_empty() { p { "None." } }
            @else { ul.short { @for (left, strip) in &lengths {
                li { (shop(*left)) " of " strong { (strip.name) } }
            } } }
            @if !culls.is_empty() {
                h3 { "Too narrow or too thin" }
                p { @for (n, (_, strip)) in culls.iter().enumerate() { @if n > 0 { ", " } (strip.name) } }
            }
        }
    }
}
