//! The labels that have to come off: strip by strip, with a box for each.

use super::pages::{Block, Frame, Section};
use crate::draw::scene::{Line, Outline, Rect, Scene, Shape, Text, Weight};
use crate::job::{Job, Page};
use crate::paper::fitting::cut_off;
use crate::paper::{About, BLACK, PALE};
use crate::units::Length;

const NOTE: &str =
    "Tick each label that you have taken off. What is printed anew goes on in its stead.";
/// Height of a line, and where its words begin. Unit: mm.
const HIGH: f64 = 6.4;
const WORDS: f64 = 8.0;
const MARK: f64 = 70.0;
const CUT: f64 = 120.0;

/// The pages that list labels by strip, mark, and where they say that the end is cut: where a piece was only cut anew,
/// that alone tells the old label from the new one.
pub fn to_take_off(
    job: &Job,
    about: &About,
    page: Page,
    labels: &[(&str, &str, Option<Length>)],
) -> Vec<Scene> {
    let frame = Frame {
        kind: "Labels to take off",
        note: NOTE,
        job,
        about,
        page,
    };
    let words = |words: &str, x: f64, room: f64| {
        let fitted = cut_off(words, 4.2, Weight::Bold, room);
        Text::new(fitted, (x, 4.6), 4.2, BLACK)
    };
    let line = |(strip, mark, cut): &(&str, &str, Option<Length>)| {
        let cut = cut.map_or(String::new(), |cut| {
            format!("cut at {}", job.unit.shop(cut))
        });
        let tick = Rect::between(0.4, 0.8, 5.2, 5.6);
        let under = Outline::Straight((0.0, HIGH), (frame.wide(), HIGH));
        Block {
            height: HIGH,
            items: vec![
                Shape::drawn(tick.outline(), Line::whole(BLACK, 0.35)),
                words(strip, WORDS, MARK - WORDS - 2.0).bold().into(),
                words(mark, MARK, CUT - MARK - 2.0).into(),
                words(&cut, CUT, frame.wide() - CUT).into(),
                Shape::drawn(under, Line::whole(PALE, 0.15)),
            ],
        }
    };
    let none = Block {
        height: HIGH,
        items: vec![words("None: every label on the wood is right.", 0.0, frame.wide()).into()],
    };
    let blocks = match labels.is_empty() {
        true => vec![none],
        false => labels.iter().map(line).collect(),
    };
    let head = Block::default();
    frame.pages(vec![Section { head, blocks }])
}
