//! How much wood a boat takes, before there is any.
//!
//! A reckoning to buy by, not a plan: pieces are packed into strips by the first that has room, the longest first, and
//! joints are taken to fall where the wood ends. `lay` finds out what really fits.

use crate::hull::{Course, Kind};
use crate::plan::Rules;
use crate::units::Length;
use std::collections::BTreeMap;

/// A size of board, as thick as a strip is wide.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct BoardSize {
    /// Along the grain.
    pub length: Length,
    /// Across: the slices are sawn off this way.
    pub width: Length,
}

/// What is asked of the reckoning.
#[derive(Clone, PartialEq, Debug)]
pub struct NeedTerms {
    /// Added for breakage and culls, as a part: 0.15 is 15 %.
    pub margin: f64,
    /// Lost at each cut of the ripping saw.
    pub kerf: Length,
    /// Lost of each slice when its sawn faces are planed.
    pub planing: Length,
    /// Pairs are counted in classes of this length.
    pub class: Length,
}

/// What every course takes, whatever the boards.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Need {
    /// Skin of all courses on all sides, end to end.
    pub net: Length,
    /// The same with the allowances of the ends, and what is not used at the ends of strips.
    pub with_ends: Length,
    /// Strips for courses in one piece, from end to end, by length class: the class's upper end, pairs, and single
    /// strips for the centreline.
    pub classes: BTreeMap<Length, (usize, usize)>,
}

/// What it comes to in boards of one size.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Boards {
    /// The size.
    pub size: BoardSize,
    /// Slices that a board gives.
    pub slices: usize,
    /// Joints, one on both sides of the boat counting once.
    pub joints: usize,
    /// Courses that would need more joints than are allowed.
    pub over_jointed: usize,
    /// Pairs of strips of the board's length, margin included.
    pub pairs: usize,
    /// Single strips of that length, margin included.
    pub singles: usize,
    /// Boards to buy; `None` where one does not even give a pair.
    pub boards: Option<usize>,
}

/// What the courses take.
pub fn need(courses: &[Course], rules: &Rules, asked: &NeedTerms) -> Need {
    let mut need = Need {
        net: Length::ZERO,
        with_ends: Length::ZERO,
        classes: BTreeMap::new(),
    };
    for course in courses {
        let whole = one_piece(course, rules) + rules.allow.end_trim * 2.0;
        let sides = course.sides().len() as f64;
        need.net += course.length * sides;
        need.with_ends += whole * sides;
        let upper = whole.rounded_up(asked.class);
        let count = need.classes.entry(upper).or_default();
        match course.kind {
            Kind::Mirrored => count.0 += 1,
            Kind::Centre => count.1 += 1,
        }
    }
    need
}

/// What the courses come to in boards of one size.
pub fn boards(courses: &[Course], rules: &Rules, asked: &NeedTerms, size: BoardSize) -> Boards {
    let mut pieces: [Vec<Length>; 2] = Default::default();
    let (mut joints, mut over_jointed) = (0, 0);
    let usable = size.length - rules.allow.end_trim * 2.0;
    for course in courses {
        let cut = cut(course, rules, usable);
        joints += cut.len() - 1;
        over_jointed += usize::from(cut.len() - 1 > rules.joints.most as usize);
        let kind = match course.kind {
            Kind::Mirrored => 0,
            Kind::Centre => 1,
        };
        pieces[kind].extend(cut);
    }
    let with_margin = |lanes: usize| (lanes as f64 * (1.0 + asked.margin) - 1e-9).ceil() as usize;
    let [pairs, singles] =
        pieces.map(|pieces| with_margin(packed(pieces, usable, rules.allow.saw)));
    let slices = slices(size.width, rules.thickness + asked.planing, asked.kerf);
    Boards {
        size,
        slices,
        joints,
        over_jointed,
        pairs,
        singles,
        boards: to_buy(pairs, singles, slices),
    }
}

/// How many slices a board of this width gives: between two there is a cut.
pub fn slices(width: Length, each: Length, kerf: Length) -> usize {
    ((width + kerf).nm().max(0) / (each + kerf).nm().max(1)) as usize
}

/// How many boards give so many pairs, each of one board, and so many strips more.
fn to_buy(pairs: usize, singles: usize, slices: usize) -> Option<usize> {
    let of_a_board = slices / 2;
    if pairs > 0 && of_a_board == 0 || slices == 0 {
        return None;
    }
    let mut boards = match of_a_board {
        0 => 0,
        _ => pairs.div_ceil(of_a_board),
    };
    let left = boards * slices - 2 * pairs;
    boards += singles.saturating_sub(left).div_ceil(slices);
    Some(boards)
}

/// What a course takes in one piece, with the allowances of its ends.
pub fn one_piece(course: &Course, rules: &Rules) -> Length {
    course.length + rules.allowance(course.bow_end) + rules.allowance(course.stern_end)
}

/// The pieces of a course from strips of one length: as long as the wood is, and what is left. Where that would be
/// too short a piece, the one before it gives some of its own.
fn cut(course: &Course, rules: &Rules, stock: Length) -> Vec<Length> {
    let whole = one_piece(course, rules);
    let scarf = rules.scarf();
    // A strip that is not longer than its scarf gets nobody anywhere.
    if whole <= stock || stock <= scarf {
        return vec![whole];
    }
    let (gain, most) = ((stock - scarf).nm(), (whole - scarf).nm());
    let count = (most + gain - 1) / gain;
    let mut pieces = vec![stock; count as usize];
    let least = rules.joints.shortest_piece + scarf * 0.5 + rules.allowance(course.stern_end);
    let last = Length::from_nm(whole.nm() + (count - 1) * scarf.nm() - (count - 1) * stock.nm());
    let short = Length::from_nm((least - last).nm().max(0));
    if let [.., before, end] = pieces.as_mut_slice() {
        *before = *before - short;
        *end = last + short;
    }
    pieces
}

/// How many strips the pieces fill: each goes into the first that has room, the longest first.
fn packed(mut pieces: Vec<Length>, stock: Length, saw: Length) -> usize {
    pieces.sort_by(|one, other| other.cmp(one));
    let mut used: Vec<Length> = Vec::new();
    for piece in pieces {
        match used.iter_mut().find(|used| **used + saw + piece <= stock) {
            Some(used) => *used += saw + piece,
            None => used.push(piece),
        }
    }
    used.len()
}
