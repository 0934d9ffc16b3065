//! The card that lies on slices when they are photographed, on a page to be cut out.

use super::{BLACK, GREY, PALE, qr};
use crate::draw::scene::{Ink, Item, Line, Outline, Rect, Scene, Set, Shape, Text};
use crate::job::Page;
use crate::photographs::card::{self, GREY_CARD, MODULES, SCALE, SIDE, SIZE, Side};

/// From the upper edge of the page, which lies on its side, to the card. Unit: mm.
const TOP: f64 = 20.0;

const HOW: [&str; 9] = [
    "Print at 100 %, not fitted to the page, on matt white paper; the scale on the card must measure 80 mm. Cut the \
         card out along its line.",
    "Glue it on something thin, flat and stiff. Keep this one card for all strips of a boat: its greys are what \
         colours are compared by.",
    "Lay slices of a board edge to edge on a clean desk of another colour: high faces up, marked ends to the left \
         and flush, in order from the top.",
    "Lay the card flat on them, square to within a few degrees, its arrow toward the marked ends; the words read as \
         the slices are counted.",
    "Measure from the marked ends to the left edge of the card: that is \"at\" in photos.csv.",
    "Photograph from straight above, without flash, in even daylight, with no shadow of your own: the card in the \
         middle, a metre or two of wood.",
    "Let photos of a board overlap. Where you have a grey card from a shop, lay it in the box in every photo and \
         write what it gives back, as 18.",
    "Photograph all strips on one day, freshly planed and dry, with the same telephone. Then: twinstrake colours, \
         and the folder of the job.",
    "Nothing here makes a colorimeter of a telephone: colours are comparable within one card and one set of \
         photographs.",
];

/// The page with the card on it, on its side.
pub fn card(page: Page) -> Scene {
    let (wide, high) = (page.height.mm(), page.width.mm());
    let left = (wide - SIZE.0) / 2.0;
    let mut items: Vec<Item> = on_the_card()
        .into_iter()
        .map(|item| item.moved((left, TOP)))
        .collect();
    let edge = Rect::between(
        left - 0.15,
        TOP - 0.15,
        left + SIZE.0 + 0.15,
        TOP + SIZE.1 + 0.15,
    );
    items.push(Shape::drawn(edge.outline(), Line::whole(PALE, 0.3)));
    let title = Text::new(
        "Card for photographs of strips",
        (left, TOP - 6.0),
        5.0,
        BLACK,
    );
    items.push(title.bold().into());
    for (n, words) in (0..).zip(HOW) {
        let base = TOP + SIZE.1 + 14.0 + 8.0 * f64::from(n);
        items.push(
            Text::new(format!("{}", n + 1), (left, base), 3.6, BLACK)
                .bold()
                .into(),
        );
        items.push(Text::new(words, (left + 7.0, base), 3.6, BLACK).into());
    }
    Scene {
        title: "Card for photographs of strips".into(),
        width: wide,
        height: high,
        paper: Ink([255; 3]),
        items,
    }
}

fn on_the_card() -> Vec<Item> {
    let mut items = Vec::new();
    for side in [Side::Left, Side::Right] {
        let (x, y) = card::corner(side);
        let module = SIDE / MODULES as f64;
        let blank = 4.0 * module;
        // A code of this length always has room here.
        let cells = qr::cells(
            &card::words(side),
            (x - blank, y - blank),
            SIDE + 2.0 * blank,
        )
        .unwrap_or_default();
        items.push(Shape::filled(Outline::Cells(cells), BLACK));
    }
    for patch in card::ladders()
        .into_iter()
        .flatten()
        .chain(card::ends())
        .filter(|patch| patch.grey < 255)
    {
        let [x, y, w, h] = patch.area;
        items.push(Shape::filled(
            Rect { x, y, w, h }.outline(),
            Ink([patch.grey; 3]),
        ));
    }
    let arrow = Outline::Closed(vec![(1.0, 33.0), (6.0, 30.0), (6.0, 36.0)]);
    items.push(Shape::filled(arrow, BLACK));
    items.extend(scale());
    let [x, y, w, h] = GREY_CARD;
    items.push(Shape::drawn(
        Rect { x, y, w, h }.outline(),
        Line::whole(PALE, 0.3),
    ));
    let said = |words: &str, (x, y): (f64, f64), size: f64| Text::new(words, (x, y), size, BLACK);
    items.push(said("Twinstrake", (SCALE[0], 7.6), 4.4).bold().into());
    items.push(
        said(
            "arrow to the marked ends; at: from there to the left edge",
            (SCALE[0], 12.8),
            2.6,
        )
        .into(),
    );
    items.push(said("the scale above measures 80 mm", (SCALE[0], 60.4), 2.6).into());
    let room = Text::new(
        "room for a bought grey card",
        (x + w / 2.0, y + h + 4.0),
        2.6,
        GREY,
    );
    items.push(room.set(Set::Middle).into());
    items
}

fn scale() -> Vec<Item> {
    let [left, y, long] = SCALE;
    let line = |from, to| Shape::drawn(Outline::Straight(from, to), Line::whole(BLACK, 0.15));
    let mut items = vec![line((left, y), (left + long, y))];
    for mm in 0..=long as u32 {
        let x = left + f64::from(mm);
        let tick = match (mm % 10, mm % 5) {
            (0, _) => 3.4,
            (_, 0) => 2.6,
            _ => 1.7,
        };
        items.push(line((x, y), (x, y - tick)));
        if mm % 10 == 0 {
            let words = Text::new(mm.to_string(), (x, y + 2.6), 2.2, BLACK);
            items.push(words.set(Set::Middle).into());
        }
    }
    items
}
