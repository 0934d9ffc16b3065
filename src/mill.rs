//! What boards give at the saw, and whether what is in the rack is enough.
//!
//! A reckoning, like [`crate::lines::need`]: every course takes a pair of its own, in one piece where one is
//! long enough, else joined from shorter ones.

use crate::hull::{Course, Kind};
use crate::lines::{one_piece, slices};
use crate::plan::Rules;
use crate::stock::{Defect, natural};
use crate::units::{Length, U};
use std::collections::{BTreeMap, BTreeSet};

/// What the saw and the plane take. Lengths.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Mill {
    /// Lost at each cut when boards are ripped.
    pub kerf: Length,
    /// Lost of each slice when its sawn faces are planed.
    pub planing: Length,
}

impl Mill {
    /// How many slices a board of this width gives: each takes its thickness and what is planed off, and between two
    /// there is a cut.
    pub fn slices(&self, width: Length, thickness: Length) -> usize {
        slices(width, thickness + self.planing, self.kerf)
    }
}

/// A board, sawn or not.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Board {
    /// Its name.
    pub name: String,
    /// How many slices came off; `None` where it is not sawn yet.
    pub slices: Option<u32>,
    /// Slices that are never used.
    pub spoiled: BTreeSet<u32>,
    /// Of its slices.
    pub length: Option<Length>,
    /// Planed, before it is sawn.
    pub width: Option<Length>,
}

/// A strip in the rack, as far as it matters here.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Slice {
    /// Its name.
    pub name: String,
    /// Board and place in it; `None` for a stray.
    pub origin: Option<(String, u32)>,
    /// From end to end; `None` where it is not measured yet.
    pub length: Option<Length>,
    /// Where no piece may be cut.
    pub defects: Vec<Defect>,
    /// Too narrow or too thin.
    pub cull: bool,
}

/// How many of a class there are and are needed.
#[derive(Clone, Copy, PartialEq, Eq, Default, Debug)]
pub struct Count {
    /// Pairs that courses of this length take, margin included.
    pub pairs: usize,
    /// Single strips for the centreline, margin included.
    pub singles: usize,
    /// Pairs in the rack whose usable length is in this class.
    pub pairs_there: usize,
    /// Other strips in the rack.
    pub singles_there: usize,
    /// Courses of this length for which no pair or strip is left, joined ones included.
    pub short: usize,
}

/// What the rack holds against what the boat takes.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Tally {
    /// By length class, named by its upper end.
    pub classes: BTreeMap<Length, Count>,
    /// Courses that are joined from shorter pairs.
    pub joined: usize,
    /// Courses for which there is no wood, margin included.
    pub short: usize,
    /// Strips whose length is not known yet.
    pub unmeasured: usize,
}

/// Wood that is there: the usable lengths of pairs and of single strips.
#[derive(Clone, Default)]
struct There {
    pairs: Vec<Length>,
    singles: Vec<Length>,
}

/// What the rack comes to. Unit of the margin: a part, 0.15 is 15 %.
pub fn tally(
    courses: &[Course],
    rules: &Rules,
    rack: &[Slice],
    margin: f64,
    class: Length,
) -> Tally {
    reckoned(
        courses,
        rules,
        there(rack, rules),
        margin,
        class,
        rack.iter().filter(|slice| slice.length.is_none()).count(),
    )
}

/// The board to saw next: of those that are not sawn yet, the one after which the least is short; of equals the
/// shortest.
pub fn open_next<'b>(
    courses: &[Course],
    rules: &Rules,
    mill: &Mill,
    rack: &[Slice],
    boards: &'b [Board],
    margin: f64,
) -> Option<&'b Board> {
    let class = Length::from_mm(1000.0);
    let wood = there(rack, rules);
    let short = |wood: There| reckoned(courses, rules, wood, margin, class, 0).short;
    let now = short(wood.clone());
    let after = |board: &Board| {
        let length = usable(&[board.length?], &[], rules)?;
        let width = board.width?;
        let slices = mill.slices(width, rules.thickness);
        let mut more = wood.clone();
        more.pairs.extend(vec![length; slices / 2]);
        more.singles.extend(vec![length; slices % 2]);
        Some((short(more), length))
    };
    let unsawn = boards.iter().filter(|board| board.slices.is_none());
    let all = unsawn.filter_map(|board| Some((after(board)?, board)));
    let least = all.min_by(|((short, length), board), (other, of_other)| {
        (short, length)
            .cmp(&(&other.0, &other.1))
            .then_with(|| natural(&board.name, &of_other.name))
    });
    least
        .filter(|((short, _), _)| now > 0 && *short < now)
        .map(|(_, board)| board)
}

fn reckoned(
    courses: &[Course],
    rules: &Rules,
    mut wood: There,
    margin: f64,
    class: Length,
    unmeasured: usize,
) -> Tally {
    let upper = |length: Length| length.rounded_up(class);
    let mut tally = Tally {
        classes: BTreeMap::new(),
        joined: 0,
        short: 0,
        unmeasured,
    };
    for pair in &wood.pairs {
        tally.classes.entry(upper(*pair)).or_default().pairs_there += 1;
    }
    for single in &wood.singles {
        tally
            .classes
            .entry(upper(*single))
            .or_default()
            .singles_there += 1;
    }
    for kind in [Kind::Mirrored, Kind::Centre] {
        let needs = needs(courses, rules, kind, margin);
        for need in &needs {
            let count = tally.classes.entry(upper(*need)).or_default();
            match kind {
                Kind::Mirrored => count.pairs += 1,
                Kind::Centre => count.singles += 1,
            }
        }
        if kind == Kind::Centre {
            // What pairs are left over may lie on the centreline as well.
            let left: Vec<Length> = std::mem::take(&mut wood.pairs);
            wood.singles.extend(left.iter().chain(&left));
        }
        let wood = match kind {
            Kind::Mirrored => &mut wood.pairs,
            Kind::Centre => &mut wood.singles,
        };
        wood.sort();
        // The longest courses first, each from the shortest that is long enough: whatever is taken would have served
        // all later ones too.
        let mut open = Vec::new();
        for need in needs {
            match wood.iter().position(|there| *there >= need) {
                Some(place) => {
                    wood.remove(place);
                }
                None => open.push(need),
            }
        }
        for need in open {
            match joined(wood, need, rules) {
                true => tally.joined += 1,
                false => {
                    tally.short += 1;
                    tally.classes.entry(upper(need)).or_default().short += 1;
                }
            }
        }
    }
    tally
}

/// What the courses of a kind take in one piece, the longest first. For the margin, every so-many-th is there twice.
fn needs(courses: &[Course], rules: &Rules, kind: Kind, margin: f64) -> Vec<Length> {
    let of_kind = courses.iter().filter(|course| course.kind == kind);
    let mut needs: Vec<Length> = of_kind.map(|course| one_piece(course, rules)).collect();
    needs.sort_by(|one, other| other.cmp(one));
    let mut all = Vec::new();
    let mut owed = 0.0;
    for need in needs {
        all.push(need);
        owed += margin;
        while owed >= 1.0 - 1e-9 {
            all.push(need);
            owed -= 1.0;
        }
    }
    // What is owed at the end is a strip too, of the longest.
    if owed > 1e-9 {
        all.extend(all.first().copied());
        all.sort_by(|one, other| other.cmp(one));
    }
    all
}

/// Takes the longest that are left until together they are long enough, as far as joints are allowed.
fn joined(wood: &mut Vec<Length>, need: Length, rules: &Rules) -> bool {
    let most = rules.joints.most as usize + 1;
    let scarf = rules.scarf();
    let mut long = Length::ZERO;
    for taken in 1..=most.min(wood.len()) {
        let Some(next) = wood.get(wood.len() - taken) else {
            return false;
        };
        long = if taken == 1 {
            *next
        } else {
            long + *next - scarf
        };
        if taken > 1 && long >= need {
            wood.truncate(wood.len() - taken);
            return true;
        }
    }
    false
}

/// Pairs of neighbours in a board, and what is left over.
fn there(rack: &[Slice], rules: &Rules) -> There {
    let mut boards: BTreeMap<&str, BTreeMap<u32, &Slice>> = BTreeMap::new();
    let mut all = There::default();
    for slice in rack
        .iter()
        .filter(|slice| !slice.cull && slice.length.is_some())
    {
        match &slice.origin {
            Some((board, seq)) => {
                boards.entry(board).or_default().insert(*seq, slice);
            }
            None => all.singles.extend(clear(&[slice], rules)),
        }
    }
    for slices in boards.values() {
        let mut last: Option<(u32, &Slice)> = None;
        for (seq, slice) in slices {
            match last.take() {
                Some((before, other)) if before + 1 == *seq => {
                    all.pairs.extend(clear(&[other, slice], rules))
                }
                Some((_, other)) => {
                    all.singles.extend(clear(&[other], rules));
                    last = Some((*seq, slice));
                }
                None => last = Some((*seq, slice)),
            }
        }
        all.singles
            .extend(last.and_then(|(_, slice)| clear(&[slice], rules)));
    }
    all
}

/// The longest stretch that all of these have at one place; mates are cut at the same places.
fn clear(slices: &[&Slice], rules: &Rules) -> Option<Length> {
    let lengths: Vec<Length> = slices.iter().filter_map(|slice| slice.length).collect();
    let defects = slices
        .iter()
        .flat_map(|slice| slice.defects.iter().copied());
    usable(&lengths, &defects.collect::<Vec<_>>(), rules)
}

/// The longest stretch that may be used of strips of these lengths that lie side by side, with these defects in any of
/// them.
fn usable(lengths: &[Length], defects: &[Defect], rules: &Rules) -> Option<Length> {
    let end = *lengths.iter().min()?;
    let (mut from, mut best) = (U::ORIGIN, Length::ZERO);
    for barred in rules.allow.barred(end, defects, &[]) {
        best = best.max(barred.from.min(U::at(end)) - from);
        from = from.max(barred.to);
    }
    let longest = best.max(U::at(end) - from);
    (longest > Length::ZERO).then_some(longest)
}
