//! A piece as it will lie on the boat: its outside toward the eye, the bow to the left. For a screen that is read at
//! arm's length.
//!
//! Lengths are to a scale of the piece's own, widths are not. What is in the group `frame` takes the ink of the page
//! that it stands on.

use super::facts::{self, BoatEnd, Meets, Way};
use super::{BLACK, WHITE};
use crate::draw::ink;
use crate::draw::scene::{
    Group, Ink, Item, Line, Outline, Point, Rect, Scene, Set, Shape, Stroke, Text, Weight,
};
use crate::draw::typeface::{CAPITAL, measured};
use crate::hull::Side;
use crate::job::Job;
use crate::plan::{BowEnd, Piece, Plan};

/// The picture. Unit: mm; on a phone held upright one is about two pixels.
const WIDTH: f64 = 150.0;
const HEIGHT: f64 = 66.0;
/// So much of its height is shown: what is on the side of the arrow, and the names of forms on the other.
const SHOWN: f64 = 55.0;
/// The strip.
const STRIP: Rect = Rect {
    x: 14.0,
    y: 23.0,
    w: 122.0,
    h: 20.0,
};
/// How far a scarf leans, and how far from the end it is trimmed. Drawn, not measured.
const LEAN: f64 = 7.0;
const OVER: f64 = 3.5;
/// Types.
const NAME: f64 = 10.0;
const LARGE: f64 = 7.0;
const SMALL: f64 = 5.4;

/// The picture of a piece, and the part of it that is shown.
pub fn lying(job: &Job, plan: &Plan, piece: &Piece) -> (Scene, Rect) {
    let strip = job.stock.strip(piece.strip);
    let way = facts::next_way(job, piece);
    let title = format!(
        "{} as it will lie, its {} face toward you and the bow to the left: {} end to the bow, edge {} {}, where \
            the next course comes",
        strip.name,
        piece.face_out.name(),
        piece.bow_end.spoken(),
        piece.next_edge.name(),
        match way {
            Way::Up => "above",
            Way::Down => "below",
        }
    );
    let wood = ink::of_wood(strip.colour);
    let mut frame = ends_of_the_boat();
    frame.extend(next(way, piece));
    frame.extend(forms(job, piece, way));
    let view = Rect {
        x: 0.0,
        y: match way {
            Way::Up => 0.0,
            Way::Down => HEIGHT - SHOWN,
        },
        w: WIDTH,
        h: SHOWN,
    };
    let scene = Scene {
        title,
        width: WIDTH,
        height: HEIGHT,
        paper: WHITE,
        items: vec![
            Group::of("frame", frame).into(),
            Group::of("wood", on_the_wood(job, plan, piece, wood)).into(),
        ],
    };
    (scene, view)
}

fn ends_of_the_boat() -> Vec<Item> {
    let middle = STRIP.y + STRIP.h / 2.0;
    let left = vec![(1.0, middle), (5.0, STRIP.y), (5.0, STRIP.y + STRIP.h)];
    let words = |text: &str, x: f64| {
        let text = Text::new(text, (x, middle), SMALL, BLACK).set(Set::Middle);
        Item::from(text.bold().upward())
    };
    vec![
        Shape::filled(Outline::Closed(left), BLACK),
        words("BOW", 11.0),
        words("STERN", STRIP.x + STRIP.w + 8.0),
    ]
}

/// The arrow to the next course.
fn next(way: Way, piece: &Piece) -> Vec<Item> {
    let x = STRIP.x + STRIP.w * 0.5;
    let (tip, neck, tail) = match way {
        Way::Up => (1.5, 11.5, STRIP.y - 1.5),
        Way::Down => (HEIGHT - 1.5, HEIGHT - 11.5, STRIP.bottom() + 1.5),
    };
    let arrow: Vec<Point> = vec![
        (x, tip),
        (x + 10.0, neck),
        (x + 5.0, neck),
        (x + 5.0, tail),
        (x - 5.0, tail),
        (x - 5.0, neck),
        (x - 10.0, neck),
    ];
    let base = (tip + tail) / 2.0 + LARGE * CAPITAL / 2.0;
    let words = format!("edge {} next", piece.next_edge.name());
    vec![
        Shape::filled(Outline::Closed(arrow), BLACK),
        Text::new(words, (x + 13.0, base), LARGE, BLACK)
            .bold()
            .into(),
    ]
}

/// Where the forms fall, on the side away from the arrow; names as far as there is room.
fn forms(job: &Job, piece: &Piece, way: Way) -> Vec<Item> {
    let length = facts::length(piece).mm().max(1.0);
    let (edge, out) = match way {
        Way::Up => (STRIP.bottom(), 1.0),
        Way::Down => (STRIP.y, -1.0),
    };
    let base = match way {
        Way::Up => edge + 4.5 + SMALL * CAPITAL,
        Way::Down => edge - 4.5,
    };
    let mut items = Vec::new();
    let mut free = f64::MIN;
    for form in facts::forms(job, piece) {
        let x = STRIP.x + STRIP.w * form.from_bow_end.mm() / length;
        let tick = Outline::Straight((x, edge), (x, edge + 3.5 * out));
        items.push(Shape::drawn(tick, Line::whole(BLACK, 0.7)));
        let half = measured(&form.form, SMALL, Weight::Plain) / 2.0;
        if x - half > free {
            let name = Text::new(form.form, (x, base), SMALL, BLACK);
            items.push(name.set(Set::Middle).into());
            free = x + half + 2.5;
        }
    }
    items
}

fn on_the_wood(job: &Job, plan: &Plan, piece: &Piece, wood: Ink) -> Vec<Item> {
    let pen = ink::readable_on(wood);
    let joint = |end| matches!(facts::meets(job, plan, piece, end), Meets::Joint(_));
    let (bow, stern) = (joint(BoatEnd::Bow), joint(BoatEnd::Stern));
    let line = Line::whole(BLACK, 0.6);
    let mut items = vec![Shape::outlined(outline(piece, bow, stern), wood, line)];
    for (is_joint, x) in [(bow, STRIP.x + OVER), (stern, STRIP.right() - OVER)] {
        if !is_joint {
            let trim = Line {
                ink: pen,
                width: 0.5,
                stroke: Stroke::Broken(1.6, 1.4),
            };
            let across = Outline::Straight((x, STRIP.y), (x, STRIP.bottom()));
            items.push(Shape::drawn(across, trim));
        }
    }
    let (left, right) = (STRIP.x + LEAN + 2.5, STRIP.right() - LEAN - 2.5);
    let middle = STRIP.y + STRIP.h / 2.0;
    let dot = match piece.bow_end {
        BowEnd::Mark => left,
        BowEnd::Plain => right,
    };
    items.push(Shape::filled(Outline::Circle((dot, middle), 1.7), pen));
    let base = middle + SMALL * CAPITAL / 2.0;
    let said = |end: BowEnd, x: f64, set: Set| {
        let text = Text::new(end.spoken(), (x, base), SMALL, pen);
        Item::from(text.set(set))
    };
    items.push(said(piece.bow_end, left + 3.0, Set::Left));
    items.push(said(piece.bow_end.other(), right - 3.0, Set::Right));
    let name = &job.stock.strip(piece.strip).name;
    let room = 2.0 * (STRIP.w / 2.0 - LEAN - 26.0);
    let size = NAME * (room / measured(name, NAME, Weight::Bold).max(1.0)).min(1.0);
    let x = STRIP.x + STRIP.w / 2.0;
    let name = Text::new(name, (x, STRIP.y + 10.0), size, pen);
    let face = format!("{} face", piece.face_out.name());
    let face = Text::new(face, (x, STRIP.bottom() - 3.2), SMALL, pen);
    items.push(name.set(Set::Middle).bold().into());
    items.push(face.set(Set::Middle).into());
    items
}

/// Scarfs lean as on the drawing of the planking: their forward end on the outer edge of the opened skin.
fn outline(piece: &Piece, bow: bool, stern: bool) -> Outline {
    let (top, bottom) = (STRIP.y, STRIP.bottom());
    let (outer, inner) = match piece.side {
        Side::Starboard => (bottom, top),
        Side::Port | Side::Centre => (top, bottom),
    };
    let lean = |is_joint: bool| if is_joint { LEAN } else { 0.0 };
    Outline::Closed(vec![
        (STRIP.x, outer),
        (STRIP.right() - lean(stern), outer),
        (STRIP.right(), inner),
        (STRIP.x + lean(bow), inner),
    ])
}
