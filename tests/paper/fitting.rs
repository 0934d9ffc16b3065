//! Words and their labels: whatever a strip is called, nothing runs over.

use super::{about, common};
use proptest::prelude::*;
use twinstrake::draw::scene::{Group, Item, Outline, Rect, Set, Text, Turn};
use twinstrake::draw::typeface::measured;
use twinstrake::hull::Toward;
use twinstrake::job::stationery::{grid, tape};
use twinstrake::job::{Job, LabelStock};
use twinstrake::paper::{Unfit, labels, of_plan};
use twinstrake::plan::Plan;
use twinstrake::units::{Colour, Unit};

fn boat_of(name: &str, panel: &str) -> (Job, Plan) {
    let boat = common::boat()
        .panel(panel, Toward::Keel)
        .course(0.0, 3000.0);
    let colour = Colour::shade(5);
    let job = boat
        .strip(name, "oak", 1, 3300.0, colour)
        .strip("~~", "oak", 2, 3300.0, colour)
        .build();
    let plan = common::naive::plan(&job, common::naive::Habit::FewJoints);
    (job, plan)
}

fn texts<'a>(item: &'a Item, all: &mut Vec<&'a Text>) {
    match item {
        Item::Text(text) => all.push(text),
        Item::Group(group) => group.items.iter().for_each(|item| texts(item, all)),
        _ => {}
    }
}

fn code(group: &Group) -> Option<Rect> {
    let code = group.items.iter().find_map(|item| match item {
        Item::Group(group) if group.kind == "code" => Some(group),
        _ => None,
    })?;
    let Item::Shape(shape) = &code.items[0] else {
        return None;
    };
    let Outline::Cells(cells) = &shape.outline else {
        return None;
    };
    let edge = |of: fn(&Rect) -> f64, pick: fn(f64, f64) -> f64, start: f64| {
        cells.iter().map(of).fold(start, pick)
    };
    let (left, top) = (
        edge(|c| c.x, f64::min, f64::MAX),
        edge(|c| c.y, f64::min, f64::MAX),
    );
    let (right, bottom) = (
        edge(|c| c.x + c.w, f64::max, 0.0),
        edge(|c| c.y + c.h, f64::max, 0.0),
    );
    Some(Rect::between(left, top, right, bottom))
}

/// The box of a line of words: as wide as measured, as high as capitals and the letters below the line.
fn area(text: &Text) -> Rect {
    let wide = measured(&text.words, text.size, text.weight);
    let (x, y) = text.at;
    let (up, down) = (0.75 * text.size, 0.22 * text.size);
    let from = |at: f64| match text.set {
        Set::Left => at,
        Set::Middle => at - wide / 2.0,
        Set::Right => at - wide,
    };
    match text.turn {
        Turn::Level => Rect::between(from(x), y - up, from(x) + wide, y + down),
        // Reading upwards: what was to the right is up.
        Turn::Upward => {
            let start = y + (x - from(x));
            Rect::between(x - up, start - wide, x + down, start)
        }
    }
}

fn within(inner: Rect, outer: Rect) -> bool {
    const HAIR: f64 = 0.02;
    inner.x >= outer.x - HAIR
        && inner.y >= outer.y - HAIR
        && inner.right() <= outer.right() + HAIR
        && inner.bottom() <= outer.bottom() + HAIR
}

fn apart(one: Rect, other: Rect) -> bool {
    one.right() <= other.x
        || other.right() <= one.x
        || one.bottom() <= other.y
        || other.bottom() <= one.y
}

fn id() -> impl Strategy<Value = String> {
    let letter = prop::sample::select(
        "ABCDEGKMQWXYabdefgijklmpqwxyz0123456789-./ ÄÉÎÕÜÇŁŻŘßøåéčűđþÞ½′″"
            .chars()
            .collect::<Vec<_>>(),
    );
    let ids = prop::collection::vec(letter, 1..=24)
        .prop_map(|all| all.into_iter().collect::<String>().trim().to_owned());
    ids.prop_filter("a name has a letter", |id| !id.is_empty())
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(96) })]

    #[test]
    fn nothing_on_a_label_runs_over_whatever_the_strip_is_called(
        name in id(),
        panel in id(),
        stock in 0..5_usize,
    ) {
        let stock = match stock {
            0 => LabelStock::Sheet(grid("A4 3x7", Unit::Mm).unwrap()),
            1 => LabelStock::Sheet(grid("A4 3x8", Unit::Mm).unwrap()),
            2 => LabelStock::Sheet(grid("Letter 3x10", Unit::Mm).unwrap()),
            3 => LabelStock::Sheet(grid("A4 5x13", Unit::Mm).unwrap()),
            _ => tape("12", Unit::Mm).unwrap(),
        };
        let (job, plan) = boat_of(&name, &panel);
        let all = of_plan(&job, &plan, &about());
        let set = match labels(&job, &all, &stock, 0) {
            Ok(set) => set,
            Err(unfit) => {
                // Refused, not overrun; and never a name that is short, nor any on the larger sheets.
                prop_assert_eq!(&unfit, &[Unfit::Name(name.clone())]);
                prop_assert!(name.chars().count() > 8, "{}", name);
                let large = matches!(&stock, LabelStock::Sheet(grid) if grid.height.mm() > 30.0);
                prop_assert!(!large, "{} on a large label", name);
                return Ok(());
            }
        };
        for (n, page) in set.pages.iter().enumerate() {
            for (place, item) in page.items.iter().enumerate() {
                let Item::Group(group) = item else { continue };
                let cell = match &stock {
                    LabelStock::Sheet(grid) => Rect {
                        x: grid.left.mm() + place as f64 * grid.pitch_x.mm() % (grid.pitch_x.mm() * grid.columns as f64),
                        y: grid.top.mm() + (place / grid.columns) as f64 * grid.pitch_y.mm(),
                        w: grid.width.mm(),
                        h: grid.height.mm(),
                    },
                    _ => Rect::between(0.0, 0.0, page.width, page.height),
                };
                let mut all = Vec::new();
                texts(item, &mut all);
                prop_assert!(all.len() >= 6);
                let level: Vec<&Text> = all.iter().copied().filter(|text| text.turn == Turn::Level && text.words.chars().count() > 1).collect();
                for text in &all {
                    // The letter of a mark may be smaller: its shape says the same.
                    let least = if ["P", "S", "C"].contains(&text.words.as_str()) { 1.3 } else { 1.8 };
                    prop_assert!(text.size >= least, "{:?}", text);
                    prop_assert!(within(area(text), cell), "page {} {:?} in {:?}", n, text, cell);
                    if let Some(code) = code(group) {
                        prop_assert!(apart(area(text), code), "{:?} on {:?}", text, code);
                    }
                }
                for (n, one) in level.iter().enumerate() {
                    for other in &level[n + 1..] {
                        // Capitals alone: the tails of one line may reach to the heads of the next.
                        let tall = |text: &Text| { let a = area(text); Rect { h: 0.72 * text.size, ..a } };
                        prop_assert!(apart(tall(one), tall(other)), "{:?} on {:?}", one, other);
                    }
                }
            }
        }
    }
}
