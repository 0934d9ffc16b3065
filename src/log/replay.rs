//! From the entries of the log to what is so now: what is laid, and what is left of the wood.

use super::cut::{Cut, ToldCut};
use super::event::{Entry, Event, Facts, Measured, Spot, live};
use super::refusal::{Refusal, Refused};
use crate::hull::Hull;
use crate::plan::Piece;
use crate::stock::{BoardId, Defect, Origin, Stock, Strip, StripId, merged, natural};
use crate::units::{Length, U};
use std::collections::{BTreeMap, BTreeSet};

/// A piece on the boat.
#[derive(Clone, PartialEq, Debug)]
pub struct Glued {
    /// The number of the entry that says so.
    pub entry: usize,
    /// How it lies; `None` where that is still to be read out of the plan.
    pub facts: Option<Facts>,
}

/// What is so after some entries.
#[derive(Clone, PartialEq, Debug)]
pub struct Standing {
    laid: BTreeMap<Spot, Glued>,
    /// Cuts that were told by the plan, with their entries, and are not written out yet.
    told: Vec<(usize, ToldCut)>,
    strips: BTreeMap<String, Wood>,
    boards: Vec<String>,
}

/// A strip by its names, so that strips can come and go.
#[derive(Clone, PartialEq, Debug)]
struct Wood {
    strip: Strip,
    board: Option<String>,
    sister: Option<String>,
    /// Where pieces that were cut begin, and where they end.
    begins: BTreeSet<U>,
    ends: BTreeSet<U>,
    lost: bool,
}

impl Wood {
    /// A place where it is cut that a piece would lie across.
    fn across(&self, piece: Defect) -> Option<U> {
        let mut cuts = self.begins.iter().chain(&self.ends).copied();
        cuts.find(|at| piece.from < *at && *at < piece.to)
    }

    /// What the saw took: ahead of each piece that was cut, and behind it.
    fn kerfs(&self, saw: Length) -> Vec<Defect> {
        let ahead = self.begins.iter().map(|at| Defect {
            from: (*at - saw).max(U::ORIGIN),
            to: *at,
        });
        let behind = self.ends.iter().map(|at| Defect {
            from: *at,
            to: (*at + saw).min(U::at(self.strip.length)),
        });
        let mut all: Vec<Defect> = ahead.chain(behind).collect();
        all.sort_by_key(|kerf| (kerf.from, kerf.to));
        all.dedup();
        all
    }
}

/// What a log amounts to: replays the entries that hold, one by one.
///
/// Errors: every entry that contradicts those before it, the boat or the wood.
pub fn replay(hull: &Hull, stock: &Stock, entries: &[Entry]) -> Result<Standing, Vec<Refused>> {
    let mut standing = Standing::before(stock);
    let mut refused = Vec::new();
    let holds = live(entries);
    let mut undone: BTreeSet<usize> = BTreeSet::new();
    for (i, entry) in entries.iter().enumerate() {
        let told = match entry.event {
            // An undoing is judged even where it was undone itself: it must make sense as it stands.
            Event::Undone { entry } => undo(i, entry, holds[i], &mut undone),
            _ if holds[i] => standing.take(hull, i + 1, &entry.event),
            _ => Ok(()),
        };
        if let Err(why) = told {
            refused.push(Refused { entry: i + 1, why });
        }
    }
    if refused.is_empty() {
        Ok(standing)
    } else {
        Err(refused)
    }
}

fn undo(at: usize, entry: usize, holds: bool, undone: &mut BTreeSet<usize>) -> Result<(), Refusal> {
    if !(1..=at).contains(&entry) {
        return Err(Refusal::NoSuchEntry(entry));
    }
    if holds && !undone.insert(entry) {
        return Err(Refusal::UndoneAlready(entry));
    }
    Ok(())
}

impl Standing {
    /// Nothing has happened yet.
    fn before(stock: &Stock) -> Standing {
        let name = |id: StripId| stock.strip(id).name.clone();
        let wood = |strip: &Strip| Wood {
            board: strip.origin.map(|o| stock.boards[o.board.0].clone()),
            sister: strip.sister.map(name),
            strip: strip.clone(),
            begins: BTreeSet::new(),
            ends: BTreeSet::new(),
            lost: false,
        };
        Standing {
            laid: BTreeMap::new(),
            told: Vec::new(),
            strips: stock
                .strips
                .iter()
                .map(|strip| (strip.name.clone(), wood(strip)))
                .collect(),
            boards: stock.boards.clone(),
        }
    }

    /// What is on the boat, by course, side and piece.
    pub fn laid(&self) -> impl Iterator<Item = (&Spot, &Glued)> {
        self.laid.iter()
    }

    /// What is on the boat at a place.
    pub fn at(&self, spot: &Spot) -> Option<&Glued> {
        self.laid.get(spot)
    }

    /// The names of all strips.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.strips.keys().map(String::as_str)
    }

    /// How much of a strip is left beside what is laid, defects not taken off.
    pub fn length(&self, strip: &str) -> Option<Length> {
        self.strips.get(strip).map(|wood| wood.strip.length)
    }

    /// Spots that the log says are laid as planned, without saying how that was, with their entries.
    pub fn unsettled(&self) -> Vec<(Spot, usize)> {
        let open = self.laid.iter().filter(|(_, glued)| glued.facts.is_none());
        open.map(|(spot, glued)| (*spot, glued.entry)).collect()
    }

    /// Takes a piece as it was planned for one that was said to be laid so.
    ///
    /// Errors: it can't be.
    pub fn settle(
        &mut self,
        hull: &Hull,
        entry: usize,
        spot: Spot,
        facts: &Facts,
    ) -> Result<(), Refusal> {
        self.lay(hull, entry, spot, Some(facts))
    }

    fn take(&mut self, hull: &Hull, entry: usize, event: &Event) -> Result<(), Refusal> {
        match event {
            Event::Laid { spot, facts } => self.lay(hull, entry, *spot, facts.as_ref()),
            Event::Cut(cut) => self.cut(cut),
            Event::ToldCut(told) => {
                self.told.push((entry, told.clone()));
                Ok(())
            }
            Event::TakenUp { spot, spoiled } => self.take_up(*spot, *spoiled),
            Event::Broken { strip, at } | Event::Spoiled { strip, at } => self.spoil(strip, *at),
            Event::Lost { strip } => {
                let wood = self.wood(strip)?;
                if wood.lost {
                    return Err(Refusal::LostAlready(strip.clone()));
                }
                wood.lost = true;
                Ok(())
            }
            Event::Found { strip, measured } => self.find(strip, measured.as_ref()),
            Event::Shade { strip, colour } => {
                self.wood(strip)?.strip.colour = *colour;
                Ok(())
            }
            Event::Undone { .. } => Ok(()),
        }
    }

    /// Cuts that the log tells by the plan, without saying where they are, with their entries.
    pub fn told_cuts(&self) -> &[(usize, ToldCut)] {
        &self.told
    }

    /// Takes a cut; also one as it was planned for one that was told so.
    ///
    /// Errors: it can't be.
    pub fn cut(&mut self, cut: &Cut) -> Result<(), Refusal> {
        let strip = cut.strip.clone();
        let laid: Vec<(Spot, Defect)> = self.cuts(&strip).collect();
        let wood = self.wood(&strip)?;
        let length = wood.strip.length;
        if wood.lost {
            return Err(Refusal::GoneAlready(strip));
        }
        let (from, to) = (
            cut.from.unwrap_or(U::ORIGIN),
            cut.to.unwrap_or(U::at(length)),
        );
        let whole = cut.from.is_some() && cut.to.is_some();
        if from < U::ORIGIN || U::at(length) < to || to <= from {
            return Err(Refusal::Outside { strip, length });
        }
        let new = |(begins, at): (bool, U)| {
            let known = if begins { &wood.begins } else { &wood.ends };
            U::ORIGIN < at && at < U::at(length) && !known.contains(&at)
        };
        let [begin, end] =
            [(true, cut.from), (false, cut.to)].map(|(b, at)| at.filter(|at| new((b, *at))));
        if begin.is_none() && end.is_none() {
            return Err(Refusal::CutAlready(strip));
        }
        for at in begin.into_iter().chain(end) {
            let through = |(_, piece): &&(Spot, Defect)| piece.from < at && at < piece.to;
            if let Some((spot, _)) = laid.iter().find(through) {
                let spot = *spot;
                return Err(Refusal::CutWhereLaid { strip, spot });
            }
        }
        // One end alone says nothing of what lies beyond: only a whole piece can be across something.
        if whole || cut.spot.is_some() {
            let piece = Defect { from, to };
            if let Some(at) = wood.across(piece) {
                return Err(Refusal::AcrossCut { strip, at });
            }
            if let Some(at) = wood.strip.defects.iter().find(|d| overlap(**d, piece)) {
                let at = *at;
                return Err(Refusal::LayingSpoiled { strip, at });
            }
        }
        wood.begins.extend(begin);
        wood.ends.extend(end);
        self.told.retain(|(_, told)| !told.means(cut));
        Ok(())
    }

    fn wood(&mut self, strip: &str) -> Result<&mut Wood, Refusal> {
        self.strips
            .get_mut(strip)
            .ok_or_else(|| Refusal::NoSuchStrip(strip.to_owned()))
    }

    fn lay(
        &mut self,
        hull: &Hull,
        entry: usize,
        spot: Spot,
        facts: Option<&Facts>,
    ) -> Result<(), Refusal> {
        if !hull.course(spot.course).sides().contains(&spot.side) {
            return Err(Refusal::NoSuchSide(spot.side));
        }
        let there = self
            .laid
            .iter()
            .find(|(at, _)| at.covers(&spot) || spot.covers(at));
        let told = there.map(|(at, glued)| (*at, glued.entry, glued.facts.is_some()));
        let entry = match (told, facts) {
            (None, _) => entry,
            // What is laid as planned may be told again with its facts, once.
            (Some((_, first, false)), Some(_)) => first,
            (Some((_, first, _)), _) => return Err(Refusal::LaidAlready(first)),
        };
        if let Some(facts) = facts {
            self.can_lie(spot, facts)?;
        }
        if let Some((at, ..)) = told {
            self.laid.remove(&at);
        }
        let facts = facts.cloned();
        self.laid.insert(spot, Glued { entry, facts });
        Ok(())
    }

    /// Whether such a piece can have been cut from the strip as it is.
    fn can_lie(&mut self, spot: Spot, facts: &Facts) -> Result<(), Refusal> {
        let strip = facts.strip.clone();
        let cut = Defect {
            from: facts.cut_from,
            to: facts.cut_to,
        };
        let others: Vec<(Spot, Defect)> = self.cuts(&strip).filter(|(at, _)| *at != spot).collect();
        let wood = self.wood(&strip)?;
        if wood.lost {
            return Err(Refusal::GoneAlready(strip));
        }
        if facts.from >= facts.to || cut.from >= cut.to || outside(&wood.strip, cut) {
            return Err(Refusal::Outside {
                length: wood.strip.length,
                strip,
            });
        }
        if let Some(defect) = wood.strip.defects.iter().find(|d| overlap(**d, cut)) {
            let at = *defect;
            return Err(Refusal::LayingSpoiled { strip, at });
        }
        if let Some(at) = wood.across(cut) {
            return Err(Refusal::AcrossCut { strip, at });
        }
        if let Some((spot, _)) = others.into_iter().find(|(_, other)| overlap(*other, cut)) {
            return Err(Refusal::CutWhereLaid { strip, spot });
        }
        Ok(())
    }

    /// What has been cut from a strip and is laid.
    fn cuts(&self, strip: &str) -> impl Iterator<Item = (Spot, Defect)> {
        self.laid.iter().filter_map(move |(spot, glued)| {
            let facts = glued.facts.as_ref().filter(|facts| facts.strip == strip)?;
            let (from, to) = (facts.cut_from, facts.cut_to);
            Some((*spot, Defect { from, to }))
        })
    }

    fn take_up(&mut self, spot: Spot, spoiled: Option<Defect>) -> Result<(), Refusal> {
        let here: Vec<Spot> = self
            .laid
            .keys()
            .filter(|at| spot.covers(at))
            .copied()
            .collect();
        if here.is_empty() {
            return Err(Refusal::NotLaid);
        }
        for at in here {
            // Where it was never told how a piece lay, it goes back as if it had not been laid.
            let Some(facts) = self.laid.remove(&at).and_then(|glued| glued.facts) else {
                continue;
            };
            let wood = self.wood(&facts.strip)?;
            // A cut at the very end of the strip is no cut.
            let inside = |at: U| (U::ORIGIN < at && at < U::at(wood.strip.length)).then_some(at);
            wood.begins.extend(inside(facts.cut_from));
            wood.ends.extend(inside(facts.cut_to));
            wood.strip.defects.extend(spoiled);
            wood.strip.defects = merged(std::mem::take(&mut wood.strip.defects));
        }
        Ok(())
    }

    fn spoil(&mut self, strip: &str, at: Defect) -> Result<(), Refusal> {
        let inside = self.cuts(strip).find(|(_, cut)| overlap(at, *cut));
        let wood = self.wood(strip)?;
        let strip = strip.to_owned();
        if wood.lost {
            return Err(Refusal::GoneAlready(strip));
        }
        if at.from > at.to || outside(&wood.strip, at) {
            return Err(Refusal::Outside {
                length: wood.strip.length,
                strip,
            });
        }
        if let Some((spot, _)) = inside {
            return Err(Refusal::SpoiltWhereLaid { strip, spot });
        }
        if wood
            .strip
            .defects
            .iter()
            .any(|d| d.from <= at.from && at.to <= d.to)
        {
            return Err(Refusal::SpoiltAlready { strip, at });
        }
        wood.strip.defects.push(at);
        wood.strip.defects = merged(std::mem::take(&mut wood.strip.defects));
        Ok(())
    }

    fn find(&mut self, strip: &str, measured: Option<&Measured>) -> Result<(), Refusal> {
        let name = strip.to_owned();
        match (self.strips.get_mut(strip), measured) {
            (Some(wood), None) if wood.lost => wood.lost = false,
            (Some(_), None) => return Err(Refusal::NotLost(name)),
            (Some(_), Some(_)) => return Err(Refusal::NameTaken(name)),
            (None, None) => return Err(Refusal::Unmeasured(name)),
            (None, Some(measured)) => {
                if let Some((board, seq)) = &measured.origin {
                    self.no_such_slice(board, *seq)?;
                    if !self.boards.contains(board) {
                        self.boards.push(board.clone());
                    }
                }
                self.strips.insert(name.clone(), new_wood(name, measured));
            }
        }
        Ok(())
    }

    fn no_such_slice(&self, board: &str, seq: u32) -> Result<(), Refusal> {
        let there = self.strips.values().find(|wood| {
            wood.board.as_deref() == Some(board)
                && wood.strip.origin.is_some_and(|origin| origin.seq == seq)
        });
        match there {
            Some(wood) => Err(Refusal::SliceTaken {
                board: board.to_owned(),
                seq,
                strip: wood.strip.name.clone(),
            }),
            None => Ok(()),
        }
    }

    /// The rack as it is now, and the pieces on the boat. Pieces that are not settled yet are left out.
    ///
    /// What is lost of a strip is as good as a defect: all of it that is not laid. `saw` is what a cut takes beside
    /// the piece.
    pub fn wood_and_laid(&self, saw: Length) -> (Stock, Vec<Piece>) {
        let mut woods: Vec<&Wood> = self.strips.values().collect();
        woods.sort_by(|one, other| natural(&one.strip.name, &other.strip.name));
        let mut boards: Vec<String> = woods.iter().filter_map(|w| w.board.clone()).collect();
        boards.sort_by(|one, other| natural(one, other));
        boards.dedup();
        let ids: BTreeMap<&str, StripId> = woods
            .iter()
            .enumerate()
            .map(|(i, wood)| (wood.strip.name.as_str(), StripId(i)))
            .collect();
        let strips = woods
            .iter()
            .map(|wood| {
                let origin = wood.board.as_ref().zip(wood.strip.origin);
                let mut strip = wood.strip.clone();
                strip.kerfs = wood.kerfs(saw);
                strip.origin = origin.and_then(|(board, origin)| {
                    let at = boards.iter().position(|name| name == board)?;
                    let board = BoardId(at);
                    Some(Origin { board, ..origin })
                });
                strip.sister = wood
                    .sister
                    .as_ref()
                    .and_then(|s| ids.get(s.as_str()).copied());
                if wood.lost {
                    strip.defects = self.all_but_laid(&strip);
                }
                strip
            })
            .collect();
        let laid = self.pieces(&ids);
        (Stock { boards, strips }, laid)
    }

    fn all_but_laid(&self, strip: &Strip) -> Vec<Defect> {
        let cuts: Vec<Defect> = self.cuts(&strip.name).map(|(_, cut)| cut).collect();
        Defect::all_but(&cuts, U::at(strip.length))
    }

    fn pieces(&self, ids: &BTreeMap<&str, StripId>) -> Vec<Piece> {
        let strip_at = |spot: &Spot| {
            let facts = self.laid.get(spot)?.facts.as_ref()?;
            ids.get(facts.strip.as_str()).copied()
        };
        self.laid
            .iter()
            .filter_map(|(spot, glued)| {
                let facts = glued.facts.as_ref()?;
                let across = Spot {
                    side: spot.side.across(),
                    ..*spot
                };
                let mate = (across != *spot).then(|| strip_at(&across)).flatten();
                Some(facts.piece(*spot, strip_at(spot)?, mate))
            })
            .collect()
    }
}

fn new_wood(name: String, measured: &Measured) -> Wood {
    let origin = measured.origin.as_ref().map(|(_, seq)| Origin {
        // Its board is known by name; the id is given when the rack is put together.
        board: BoardId(0),
        seq: *seq,
    });
    Wood {
        strip: Strip::plain(name, origin, measured.length, measured.colour),
        board: measured.origin.as_ref().map(|(board, _)| board.clone()),
        sister: None,
        begins: BTreeSet::new(),
        ends: BTreeSet::new(),
        lost: false,
    }
}

/// Whether a stretch reaches into another. A single place is inside only strictly so: a piece may end at a break.
fn overlap(one: Defect, other: Defect) -> bool {
    one.from < other.to && other.from < one.to
}

fn outside(strip: &Strip, at: Defect) -> bool {
    at.from < U::ORIGIN || at.to > U::at(strip.length)
}
