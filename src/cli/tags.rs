//! `tags`: tags for strips as they leave the saw.

use super::args::Tags as Typed;
use super::opened;
use super::planned::{NotMade, fault};
use super::say;
use super::status::Ended;
use super::stock::stock;
use twinstrake::job::{LabelStock, Saw};
use twinstrake::mill::Board;
use twinstrake::paper::{self, Labels, Tag};
use twinstrake::{draw, out};

pub const FILE: &str = "tags.pdf";

/// Tags that are written.
pub struct Made {
    pub stock: LabelStock,
    pub count: usize,
    pub pages: Labels,
}

pub fn run(typed: &Typed) -> Ended {
    let saw = opened::saw(&typed.dir)?;
    let made = print(typed, &saw).map_err(|not| not.said(&say::nothing_to_tag(&typed.board)))?;
    let said = say::tagged(&typed.dir, &made.stock, made.count, &made.pages);
    Ok(say::told(&said))
}

/// Makes the tags that are asked for, and writes them to `out/`.
///
/// Errors: why there are none.
pub fn print(typed: &Typed, saw: &Saw) -> Result<Made, NotMade> {
    let lines = &saw.lines;
    let (stock, skip) =
        stock(&typed.on, lines.unit, &lines.stationery, &lines.rules).map_err(NotMade::NotSo)?;
    let mut unknown = typed
        .board
        .iter()
        .filter(|name| saw.boards.iter().all(|board| board.name != **name));
    if let Some(name) = unknown.next() {
        return Err(NotMade::NotSo(say::no_such_board(name, &saw.boards)));
    }
    let tags = tags(typed, saw);
    if tags.is_empty() {
        return Err(NotMade::Nothing);
    }
    let pages = paper::tags(&lines.name, &lines.rules, &tags, &stock, skip)
        .map_err(|unfit| NotMade::NotSo(say::unfit(&unfit)))?;
    let pdf = draw::pdf(&pages.pages).map_err(|slip| fault("out/tags.pdf", &slip))?;
    out::write_files(&typed.dir, &[(FILE, pdf)])?;
    Ok(Made {
        stock,
        count: tags.len(),
        pages,
    })
}

/// Of the boards that were named, all slices, sawn or to be sawn; where none was, of everything in the rack.
fn tags(typed: &Typed, saw: &Saw) -> Vec<Tag> {
    let named = |board: &&Board| typed.board.is_empty() || typed.board.contains(&board.name);
    let mut tags = Vec::new();
    for board in saw.boards.iter().filter(named) {
        let gives = || {
            Some(
                saw.lines
                    .mill
                    .slices(board.width?, saw.lines.rules.thickness) as u32,
            )
        };
        // What is not sawn is printed for only when it is asked for by name.
        let promised = || {
            typed
                .slices
                .or_else(gives)
                .filter(|_| !typed.board.is_empty())
        };
        let count = board.slices.or_else(promised).unwrap_or(0);
        for seq in (1..=count).filter(|seq| !board.spoiled.contains(seq)) {
            let strip = format!("{}{seq}", board.name);
            let mut parts = vec![format!("board {}, slice {seq} of {count}", board.name)];
            let slice = saw.rack.iter().find(|slice| slice.name == strip);
            let length = slice.and_then(|slice| slice.length).or(board.length);
            parts.extend(length.map(|length| format!("length {}", saw.lines.unit.shop(length))));
            tags.push(Tag { strip, parts });
        }
    }
    if typed.board.is_empty() {
        let of_boards = |name: &str| tags.iter().any(|tag| tag.strip == name);
        let others = saw.rack.iter().filter(|slice| !of_boards(&slice.name));
        let others: Vec<Tag> = others
            .map(|slice| {
                let from = match &slice.origin {
                    Some((board, seq)) => format!("board {board}, slice {seq}"),
                    None => "stray".into(),
                };
                let length = slice
                    .length
                    .map(|length| format!("length {}", saw.lines.unit.shop(length)));
                let parts = [from].into_iter().chain(length).collect();
                Tag {
                    strip: slice.name.clone(),
                    parts,
                }
            })
            .collect();
        tags.extend(others);
    }
    tags
}
