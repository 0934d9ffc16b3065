//! Strips as the search sees them.

use super::{NONE, Span};
use crate::plan::Allow;
use crate::stock::{Stock, Strip, StripId};
use crate::units::Length;
use std::collections::BTreeMap;

/// A strip as the search sees it.
#[derive(Clone, Debug)]
pub struct Wood {
    /// Board; a stray has one of its own.
    pub board: u32,
    /// Place in the board; 0 for a stray.
    pub seq: i64,
    /// Stretches that pieces may be cut from, in order, from the marked end.
    pub clear: Vec<Span>,
}

/// Where a strip was sawn: the little of [`Wood`] that is looked up at every step of the search, close together.
#[derive(Clone, Copy, Debug)]
pub struct Sawn {
    /// Board; a stray has one of its own.
    pub board: u32,
    /// Place in the board; 0 for a stray.
    pub seq: u32,
}

impl From<&Wood> for Sawn {
    fn from(wood: &Wood) -> Sawn {
        Sawn {
            board: wood.board,
            // An inventory has no seq that would not fit.
            seq: wood.seq as u32,
        }
    }
}

impl Sawn {
    /// How many slices further on in the board the other was sawn; `None` where it is from another board.
    #[inline]
    pub fn apart(self, other: Sawn) -> Option<u32> {
        (self.board == other.board).then(|| self.seq.abs_diff(other.seq))
    }
}

/// Every strip of the stock.
pub fn woods(stock: &Stock, allow: &Allow) -> Vec<Wood> {
    let strays = stock.boards.len() as u32;
    let wood = |(i, strip): (usize, &Strip)| {
        let mut clear = Vec::new();
        let mut from = Length::ZERO;
        for barred in allow.barred(strip.length, &strip.defects, &strip.kerfs) {
            if barred.from.from_origin() > from {
                clear.push((from, barred.from.from_origin()));
            }
            from = from.max(barred.to.from_origin());
        }
        if strip.length > from {
            clear.push((from, strip.length));
        }
        if strip.cull {
            clear.clear();
        }
        Wood {
            board: strip.origin.map_or(strays + i as u32, |o| o.board.0 as u32),
            seq: strip.origin.map_or(0, |o| i64::from(o.seq)),
            clear,
        }
    };
    stock.strips.iter().enumerate().map(wood).collect()
}

/// For each strip, the sister that the inventory names; [`NONE`] where it names none.
pub fn named_sisters(stock: &Stock) -> Vec<u32> {
    stock
        .strips
        .iter()
        .map(|s| s.sister.map_or(NONE, |id| id.0 as u32))
        .collect()
}

/// For each strip, the others of its board, sisters first and then by distance in the board: those that lay nearest
/// to it, so many on either side of it.
pub fn mates(stock: &Stock, woods: &[Wood], most: usize) -> Vec<Vec<u32>> {
    let mut by_board: BTreeMap<u32, Vec<u32>> = BTreeMap::new();
    for (i, wood) in woods.iter().enumerate() {
        by_board.entry(wood.board).or_default().push(i as u32);
    }
    let mut mates = vec![Vec::new(); woods.len()];
    for board in by_board.values_mut() {
        board.sort_by_key(|&strip| woods[strip as usize].seq);
        for (at, &a) in board.iter().enumerate() {
            let to = at.saturating_add(most).saturating_add(1).min(board.len());
            let near = &board[at.saturating_sub(most)..to];
            let sister = stock.strips[a as usize]
                .sister
                .map(|sister| sister.0 as u32);
            let one_board = |sister: &u32| woods[*sister as usize].board == woods[a as usize].board;
            let far = sister.filter(|sister| one_board(sister) && !near.contains(sister));
            let mut list: Vec<u32> = near
                .iter()
                .copied()
                .filter(|&b| b != a)
                .chain(far)
                .collect();
            list.sort_by_cached_key(|&b| {
                let sisters = stock.are_sisters(StripId(a as usize), StripId(b as usize));
                let apart = (woods[a as usize].seq - woods[b as usize].seq).abs();
                (!sisters, apart, b)
            });
            mates[a as usize] = list;
        }
    }
    mates
}
