//! A tag for a strip as it leaves the saw: what it is called, and which way round it lay in the board.
//!
//! It is stuck on the high face, its bar at the marked end. Seen so, with the marked end to the left, u points to the
//! right and the high face to the eye; and u x high = A points down. Source: model, "Marking a board".

use super::arrangement::{Arrangement, Code, lower, split, upper};
use super::face::{Room, SMALL, arrow_to, arrow_wide, best, code, strip, with_bar};
use crate::draw::scene::{Group, Item, Rect};
use crate::paper::facts::Way;
use crate::paper::fitting::{Phrase, Unfit, block};
use crate::paper::labels::OnStrip;
use crate::plan::{Edge, Face};

/// What a tag says.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Tag {
    /// The strip.
    pub strip: String,
    /// Where it came from, and what is known of it, in parts that can stand in one line or in several.
    pub parts: Vec<String>,
}

impl OnStrip for Tag {
    fn front(&self, room: Room) -> Result<Item, Unfit> {
        self.face(room, Face::High, true)
    }

    fn back(&self, room: Room) -> Result<Item, Unfit> {
        self.face(room, Face::Low, false)
    }

    fn ends_left(&self) -> bool {
        true
    }
}

impl Tag {
    /// One face. On the low one the marked end lies to the right, with edge A below as well: a flag is folded about an
    /// upright line.
    fn face(&self, room: Room, face: Face, left: bool) -> Result<Item, Unfit> {
        let (bar, rest) = with_bar("marked", room.safe, left);
        let (arrow, rest) = split(rest, arrow_wide(rest));
        let mut items = vec![bar];
        items.extend(arrow_to(Way::Down, Edge::A, "edge", arrow));
        let heads = [Phrase::bold(format!("{} face", face.name()))];
        let full: Vec<Phrase> = self.parts.iter().map(Phrase::plain).collect();
        let tries = [
            (full.as_slice(), Code::Printed),
            (&[], Code::Printed),
            (&[], Code::LeftOut),
        ];
        let words = |name: &str| {
            let mut tries = tries.into_iter();
            tries.find_map(|(parts, code)| best(rest, code, |way| set(name, &heads, parts, way)))
        };
        items.extend(words(&self.strip).ok_or_else(|| match words("A1") {
            Some(_) => Unfit::Name(self.strip.clone()),
            None => Unfit::Label,
        })?);
        Ok(Item::Group(Group {
            kind: "tag",
            facts: vec![("face", face.name().into()), ("strip", self.strip.clone())],
            told: None,
            items,
        }))
    }
}

/// Everything arranged in one way, and the size of the smallest type; the name has the room of head and name together.
fn set(
    name: &str,
    heads: &[Phrase],
    parts: &[Phrase],
    way: &Arrangement,
) -> Option<(f64, Vec<Item>)> {
    let mut items = Vec::new();
    if let Some(area) = way.code {
        items.push(code(name, area)?);
    }
    let (name, strip) = strip(name, together(way.head, way.name))?;
    let (small, lines) = block(heads, parts, way.lines, SMALL)?;
    items.extend([strip, lines].concat());
    Some((name.min(small * 2.0), items))
}

fn together(one: Rect, other: Rect) -> Rect {
    let both = Rect::between(
        one.x.min(other.x),
        one.y.min(other.y),
        one.right().max(other.right()),
        one.bottom().max(other.bottom()),
    );
    // Not so large that it touches what stands above and below.
    lower(upper(both, 0.95), 0.95)
}
