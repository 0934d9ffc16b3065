//! What the builder wants: which wood goes where, and which lines are meant to stand out.

use crate::hull::{Course, PanelId, Side};
use crate::stock::{Stock, StripId};

/// A want: some courses of one panel, and the wood that may lie there. Source: model, rule 10.
#[derive(Clone, PartialEq, Debug)]
pub struct Want {
    /// What the builder calls it.
    pub name: String,
    /// The panel.
    pub panel: PanelId,
    /// First and last course; `None` for all.
    pub courses: Option<(u32, u32)>,
    /// The word under `wood` of the strips that may lie there.
    pub wood: Option<String>,
    /// Boards whose strips may lie there.
    pub boards: Vec<String>,
    /// Strips that may lie there.
    pub strips: Vec<String>,
    /// What it names lies nowhere else.
    pub keep: bool,
    /// Up to how large a step at its outer edges is welcome; `None` where it is not meant to stand out. Unit: ΔE00.
    pub accent: Option<f64>,
    /// Of two strips, the one that goes to port.
    pub port: Option<String>,
}

impl Want {
    /// Whether a course is one of its own.
    pub fn covers(&self, course: &Course) -> bool {
        self.panel == course.panel && self.covers_number(course.number)
    }

    /// Whether a course of its panel with this number is one of its own.
    pub fn covers_number(&self, number: u32) -> bool {
        self.courses
            .is_none_or(|(first, last)| (first..=last).contains(&number))
    }

    /// Whether it names a strip: by its wood, by its board or by its own name.
    pub fn names(&self, stock: &Stock, strip: StripId) -> bool {
        let strip = stock.strip(strip);
        let of_wood = |wood: &String| wood.to_lowercase() == strip.wood.to_lowercase();
        let board = strip
            .origin
            .and_then(|origin| stock.boards.get(origin.board.0));
        self.wood.as_ref().is_some_and(of_wood)
            || board.is_some_and(|board| self.boards.contains(board))
            || self.strips.contains(&strip.name)
    }

    /// Whether it allows a strip on one side of its courses.
    pub fn allows(&self, stock: &Stock, strip: StripId, side: Side) -> bool {
        let to_port = || self.port.as_ref() == Some(&stock.strip(strip).name);
        self.names(stock, strip) && (self.port.is_none() || to_port() == (side == Side::Port))
    }

    /// What it names, in words: `walnut, boards N, P or strip D3`.
    pub fn named(&self) -> String {
        let mut all: Vec<String> = self.wood.iter().cloned().collect();
        for (kind, names) in [("board", &self.boards), ("strip", &self.strips)] {
            let before = all.len();
            all.extend(names.iter().cloned());
            if let Some(first) = all.get_mut(before) {
                let many = if names.len() > 1 { "s" } else { "" };
                *first = format!("{kind}{many} {first}");
            }
        }
        match all.split_last() {
            Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
            Some((last, _)) => last.clone(),
            None => String::new(),
        }
    }
}
