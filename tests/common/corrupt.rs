//! Ways to spoil a good plan: at least one for each way of breaking each of the nine hard rules.
//!
//! A spoiler takes a plan that keeps every rule and breaks one on purpose, at a place drawn from the seed. Some have to
//! change the job under the plan instead (a defect that was overlooked, a strip that was laid already). A spoiler
//! that finds nothing to work on in a plan gives nothing.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;
use twinstrake::hull::{CourseId, Kind, Side, Zone};
use twinstrake::job::Job;
use twinstrake::plan::{BowEnd, Edge, Edges, Face, Facing, Piece, Plan};
use twinstrake::stock::{Defect, StripId};
use twinstrake::units::{Length, S, U};

use super::builder::mm;

/// A good plan spoiled.
pub struct Corruption {
    /// The rule that it breaks now.
    pub rule: u8,
    /// What was done.
    pub what: &'static str,
    pub job: Job,
    pub plan: Plan,
}

/// Spoils a good plan in every way there is, each at a place drawn from the seed.
pub fn corruptions(job: &Job, plan: &Plan, seed: u64) -> Vec<Corruption> {
    SPOILERS
        .iter()
        .filter_map(|(rule, what, spoil)| {
            let mut spoiled = Spoiled {
                job: job.clone(),
                plan: plan.clone(),
                rng: Pcg64::seed_from_u64(seed),
            };
            spoil(&mut spoiled)?;
            Some(Corruption {
                rule: *rule,
                what,
                job: spoiled.job,
                plan: spoiled.plan,
            })
        })
        .collect()
}

/// What every spoiler does, by the rule that it breaks.
pub fn every_way() -> impl Iterator<Item = (u8, &'static str)> {
    SPOILERS.iter().map(|(rule, what, _)| (*rule, *what))
}

type Spoil = fn(&mut Spoiled) -> Option<()>;

const SPOILERS: &[(u8, &str, Spoil)] = &[
    (1, "a row is lost", lose_a_row),
    (1, "a course is lost without a word", lose_a_course),
    (1, "a laid course is listed as left out", list_a_laid_course),
    (1, "a course is listed as left out twice", list_twice),
    (1, "the bow allowance is missing", |s| s.trim(Tip::Bow)),
    (1, "the stern allowance is missing", |s| s.trim(Tip::Stern)),
    (1, "a row is on a side that is not there", other_side),
    (1, "two rows have one number", |s| s.renumber(|n| n - 1)),
    (1, "a piece number is left out", |s| s.renumber(|n| n + 1)),
    (1, "a hole between two pieces", |s| s.stretch_overlap(-1.5)),
    (2, "a joint is moved on one side", joint_on_one_side),
    (2, "one of two mates is cut elsewhere", cut_out_of_register),
    (2, "one of two mates is turned", turn_one_mate),
    (2, "a row names another mate", name_another_mate),
    (2, "a row names no mate", name_no_mate),
    (2, "a centre piece has a mate", mate_on_the_centre),
    (2, "a strip is its own mate", own_mate),
    (3, "a strip is used twice", use_twice),
    (3, "no room for the saw", no_room_for_the_saw),
    (3, "a cut beyond the marked end", beyond_the_marked_end),
    (3, "a cut beyond the plain end", beyond_the_plain_end),
    (3, "a cut into a defect", |s| s.defect(30.0)),
    (3, "a cut over a break", |s| s.defect(0.0)),
    (3, "a piece from a cull", from_a_cull),
    (3, "a piece cut too long", |s| s.recut(0.1)),
    (3, "a piece cut too short", |s| s.recut(-0.1)),
    (3, "a piece that ends before it begins", back_to_front),
    (4, "a scarf too short", |s| s.stretch_overlap(-0.02)),
    (4, "a scarf too long", |s| s.stretch_overlap(0.02)),
    (5, "a joint in a zone kept clear", joint_into_a_zone),
    (5, "a zone kept clear over a joint", zone_over_a_joint),
    (6, "joints side by side", joints_side_by_side),
    (6, "joints a hair too near", joints_a_hair_too_near),
    (7, "a piece too short", too_short_a_piece),
    (
        7,
        "a hair longer asked of the shortest piece",
        longer_shortest_piece,
    ),
    (7, "one joint too many", one_joint_too_many),
    (8, "the other edge to the next course", flip_edge),
    (8, "the other face out", flip_face),
    (8, "mates show their outer faces", swap_faces),
    (8, "bead and cove upside down", upside_down),
    (9, "a laid piece is lost", |s| s.lay(|_| None)),
    (9, "a laid piece is moved", |s| s.lay(shifted)),
    (9, "a laid piece is of another strip", other_strip_laid),
    (9, "a laid piece is turned", |s| s.lay(turned)),
];

#[derive(Clone, Copy, PartialEq, Eq)]
enum Tip {
    Bow,
    Stern,
}

struct Spoiled {
    job: Job,
    plan: Plan,
    rng: Pcg64,
}

/// Half a millimetre: well above the checker's tolerance, and more than any saw cut may be off.
const HAIR: f64 = 0.5;

impl Spoiled {
    /// Draws a row of those that will do.
    fn draw(&mut self, will_do: impl Fn(&Spoiled, &Piece) -> bool) -> Option<usize> {
        let rows: Vec<usize> = (0..self.plan.pieces.len())
            .filter(|row| will_do(self, &self.plan.pieces[*row]))
            .collect();
        (!rows.is_empty()).then(|| rows[self.rng.random_range(0..rows.len())])
    }

    fn any_row(&mut self) -> Option<usize> {
        self.draw(|_, _| true)
    }

    fn row(&mut self, row: usize) -> &mut Piece {
        &mut self.plan.pieces[row]
    }

    fn kind(&self, piece: &Piece) -> Kind {
        self.job.hull.course(piece.course).kind
    }

    /// The row of the mate.
    fn mate_of(&self, piece: &Piece) -> Option<usize> {
        self.plan.pieces.iter().position(|other| {
            (other.course, other.number) == (piece.course, piece.number) && other.side != piece.side
        })
    }

    fn in_one_board(&self, piece: &Piece) -> bool {
        let apart = |mate| self.job.stock.seq_apart(piece.strip, mate);
        piece.mate.and_then(apart).is_some()
    }

    fn pieces_in(&self, course: CourseId, side: Side) -> usize {
        let here = |p: &&Piece| p.course == course && p.side == side;
        self.plan.pieces.iter().filter(here).count()
    }

    /// Whether a joint lies behind the piece.
    fn joint_behind(&self, piece: &Piece) -> bool {
        (piece.number as usize) < self.pieces_in(piece.course, piece.side)
    }

    fn overlap_centre(&self, piece: &Piece) -> S {
        piece.to - self.job.rules.half_scarf()
    }

    /// Moves one end of a piece on the boat, and the cut with it.
    fn move_end(&mut self, row: usize, tip: Tip, by: Length) {
        let piece = self.row(row);
        match tip {
            Tip::Bow => piece.from = piece.from + by,
            Tip::Stern => piece.to = piece.to + by,
        }
        match (tip, piece.bow_end) {
            (Tip::Bow, BowEnd::Mark) => piece.cut_from = piece.cut_from + by,
            (Tip::Bow, BowEnd::Plain) => piece.cut_to = piece.cut_to - by,
            (Tip::Stern, BowEnd::Mark) => piece.cut_to = piece.cut_to + by,
            (Tip::Stern, BowEnd::Plain) => piece.cut_from = piece.cut_from - by,
        }
    }

    /// Moves a joint on all sides or on one.
    fn move_joint(&mut self, course: CourseId, number: u32, only: Option<Side>, by: Length) {
        for row in 0..self.plan.pieces.len() {
            let piece = &self.plan.pieces[row];
            if piece.course != course || only.is_some_and(|side| side != piece.side) {
                continue;
            }
            if piece.number == number {
                self.move_end(row, Tip::Stern, by);
            } else if piece.number == number + 1 {
                self.move_end(row, Tip::Bow, by);
            }
        }
    }

    fn trim(&mut self, tip: Tip) -> Option<()> {
        let row = self.draw(|s, piece| match tip {
            Tip::Bow => piece.number == 1,
            Tip::Stern => !s.joint_behind(piece),
        })?;
        let piece = self.plan.pieces[row].clone();
        let by = mm(if tip == Tip::Bow { HAIR } else { -HAIR });
        self.move_end(row, tip, by);
        if let Some(mate) = self.mate_of(&piece) {
            self.move_end(mate, tip, by);
        }
        Some(())
    }

    fn renumber(&mut self, other: impl Fn(u32) -> u32) -> Option<()> {
        let row = self.any_row()?;
        // Only the last of a run, so that the order of the others stays.
        let piece = self.plan.pieces[row].clone();
        let last = self
            .draw(|s, p| (p.course, p.side) == (piece.course, piece.side) && !s.joint_behind(p))?;
        let number = self.plan.pieces[last].number;
        self.row(last).number = other(number);
        Some(())
    }

    /// Makes the overlap at a joint longer, on all sides, by so many scarfs.
    fn stretch_overlap(&mut self, scarfs: f64) -> Option<()> {
        let row = self.draw(|s, piece| s.joint_behind(piece))?;
        let piece = self.plan.pieces[row].clone();
        let by = self.job.rules.scarf() * scarfs;
        for side in self.job.hull.course(piece.course).sides() {
            let at =
                |p: &Piece| (p.course, p.side, p.number) == (piece.course, *side, piece.number);
            let row = self.plan.pieces.iter().position(at)?;
            self.move_end(row, Tip::Stern, by);
        }
        Some(())
    }

    fn defect(&mut self, length: f64) -> Option<()> {
        let row = self.any_row()?;
        let piece = &self.plan.pieces[row];
        let from = piece.cut_from + (piece.cut_to - piece.cut_from) * 0.4;
        let to = from + mm(length);
        let strip = piece.strip;
        self.job.stock.strips[strip.0]
            .defects
            .push(Defect { from, to });
        Some(())
    }

    fn recut(&mut self, by: f64) -> Option<()> {
        let row = self.any_row()?;
        self.row(row).cut_to = self.row(row).cut_to + mm(by);
        Some(())
    }

    /// Lays a piece for good, and gives the plan another row, or none, in its place.
    fn lay(&mut self, instead: impl Fn(Piece) -> Option<Piece>) -> Option<()> {
        let row = self.any_row()?;
        let piece = self.plan.pieces[row].clone();
        self.job.laid.push(piece.clone());
        match instead(piece) {
            Some(piece) => *self.row(row) = piece,
            None => drop(self.plan.pieces.remove(row)),
        }
        Some(())
    }
}

fn lose_a_row(s: &mut Spoiled) -> Option<()> {
    let row = s.any_row()?;
    s.plan.pieces.remove(row);
    Some(())
}

fn lose_a_course(s: &mut Spoiled) -> Option<()> {
    let row = s.any_row()?;
    let course = s.plan.pieces[row].course;
    s.plan.pieces.retain(|piece| piece.course != course);
    Some(())
}

fn list_a_laid_course(s: &mut Spoiled) -> Option<()> {
    let row = s.any_row()?;
    s.plan.uncovered.push(s.plan.pieces[row].course);
    Some(())
}

fn list_twice(s: &mut Spoiled) -> Option<()> {
    let open = *s.plan.uncovered.first()?;
    s.plan.uncovered.push(open);
    Some(())
}

fn other_side(s: &mut Spoiled) -> Option<()> {
    let row = s.any_row()?;
    let piece = s.row(row);
    piece.side = match piece.side {
        Side::Centre => Side::Port,
        Side::Port | Side::Starboard => Side::Centre,
    };
    Some(())
}

fn joint_on_one_side(s: &mut Spoiled) -> Option<()> {
    let row = s.draw(|s, p| s.kind(p) == Kind::Mirrored && s.joint_behind(p))?;
    let piece = s.plan.pieces[row].clone();
    s.move_joint(piece.course, piece.number, Some(piece.side), mm(HAIR));
    Some(())
}

fn cut_out_of_register(s: &mut Spoiled) -> Option<()> {
    let row = s.draw(Spoiled::in_one_board)?;
    let piece = s.row(row);
    piece.cut_from = piece.cut_from + mm(HAIR);
    piece.cut_to = piece.cut_to + mm(HAIR);
    Some(())
}

fn turn_one_mate(s: &mut Spoiled) -> Option<()> {
    let row = s.draw(Spoiled::in_one_board)?;
    turn(s, row);
    Some(())
}

/// Turns a piece end for end about the line that looks out of the planking: the same face stays out.
fn turn(s: &mut Spoiled, row: usize) {
    let toward = s.job.hull.panel_of(s.plan.pieces[row].course).toward;
    let piece = s.row(row);
    piece.bow_end = piece.bow_end.other();
    piece.next_edge = facing(piece).next_edge(piece.side, toward);
}

fn facing(piece: &Piece) -> Facing {
    Facing {
        bow_end: piece.bow_end,
        face_out: piece.face_out,
    }
}

fn name_another_mate(s: &mut Spoiled) -> Option<()> {
    let strips = s.job.stock.strips.len();
    let row = s.draw(|_, p| p.mate.is_some())?;
    let mate = s.row(row).mate?;
    s.row(row).mate = Some(StripId((mate.0 + 1) % strips));
    (strips > 1).then_some(())
}

fn name_no_mate(s: &mut Spoiled) -> Option<()> {
    let row = s.draw(|_, p| p.mate.is_some())?;
    s.row(row).mate = None;
    Some(())
}

fn mate_on_the_centre(s: &mut Spoiled) -> Option<()> {
    let row = s.draw(|_, p| p.side == Side::Centre)?;
    s.row(row).mate = Some(StripId(0));
    Some(())
}

fn own_mate(s: &mut Spoiled) -> Option<()> {
    let row = s.draw(|_, p| p.mate.is_some())?;
    let piece = s.plan.pieces[row].clone();
    let mate = s.mate_of(&piece)?;
    s.row(mate).strip = piece.strip;
    s.row(row).mate = Some(piece.strip);
    Some(())
}

/// Draws a row, and another one from another strip.
fn two_strips(s: &mut Spoiled) -> Option<(usize, usize)> {
    let one = s.any_row()?;
    let strip = s.plan.pieces[one].strip;
    let other = s.draw(|_, p| p.strip != strip)?;
    Some((one, other))
}

/// Cuts a piece from another strip, beginning here. The strip is made long enough, so that nothing else is wrong.
fn cut_from(s: &mut Spoiled, row: usize, strip: StripId, at: U) {
    let piece = s.row(row);
    let length = piece.cut_to - piece.cut_from;
    (piece.strip, piece.cut_from, piece.cut_to) = (strip, at, at + length);
    let wood = &mut s.job.stock.strips[strip.0];
    wood.length = wood.length.max((at + length).from_origin());
}

fn use_twice(s: &mut Spoiled) -> Option<()> {
    let (one, other) = two_strips(s)?;
    let used = s.plan.pieces[one].clone();
    cut_from(s, other, used.strip, used.cut_to - mm(HAIR));
    Some(())
}

fn no_room_for_the_saw(s: &mut Spoiled) -> Option<()> {
    let saw = s.job.rules.allow.saw;
    if saw < mm(2.0 * HAIR) {
        return None;
    }
    let (one, other) = two_strips(s)?;
    let strip = s.plan.pieces[one].strip;
    let pieces = s.plan.pieces.iter();
    let last = pieces
        .filter(|p| p.strip == strip)
        .map(|p| p.cut_to)
        .max()?;
    cut_from(s, other, strip, last + saw - mm(HAIR));
    Some(())
}

fn beyond_the_marked_end(s: &mut Spoiled) -> Option<()> {
    let row = s.any_row()?;
    let piece = s.row(row);
    let length = piece.cut_to - piece.cut_from;
    piece.cut_from = U::from_mm(-HAIR);
    piece.cut_to = piece.cut_from + length;
    Some(())
}

fn beyond_the_plain_end(s: &mut Spoiled) -> Option<()> {
    let row = s.any_row()?;
    let (strip, to) = (s.plan.pieces[row].strip, s.plan.pieces[row].cut_to);
    s.job.stock.strips[strip.0].length = to.from_origin() - mm(HAIR);
    Some(())
}

fn from_a_cull(s: &mut Spoiled) -> Option<()> {
    let row = s.any_row()?;
    let strip = s.plan.pieces[row].strip;
    s.job.stock.strips[strip.0].cull = true;
    Some(())
}

fn back_to_front(s: &mut Spoiled) -> Option<()> {
    let row = s.any_row()?;
    let piece = s.row(row);
    (piece.from, piece.to) = (piece.to, piece.from);
    (piece.cut_from, piece.cut_to) = (piece.cut_to, piece.cut_from);
    Some(())
}

fn joint_into_a_zone(s: &mut Spoiled) -> Option<()> {
    let over = |s: &Spoiled, p: &Piece| -> Option<S> {
        let course = s.job.hull.course(p.course);
        let zones = s.job.hull.keep_clear.iter();
        let mut over = zones.filter(|zone| zone.covers(course));
        over.find_map(|zone| {
            let middle = course.s_at(zone.from + (zone.to - zone.from) * 0.5);
            let inside = middle > S::ORIGIN && middle < S::at(course.length);
            inside.then_some(middle)
        })
    };
    let row = s.draw(|s, p| s.joint_behind(p) && over(s, p).is_some())?;
    let piece = s.plan.pieces[row].clone();
    let by = over(s, &piece)? - s.overlap_centre(&piece);
    s.move_joint(piece.course, piece.number, None, by);
    Some(())
}

fn zone_over_a_joint(s: &mut Spoiled) -> Option<()> {
    let row = s.draw(|s, p| s.joint_behind(p))?;
    let piece = s.plan.pieces[row].clone();
    let course = s.job.hull.course(piece.course);
    let edge = course.x_at(piece.to);
    let zone = Zone {
        name: Some("thwart".into()),
        panel: course.panel,
        courses: Some((course.number, course.number)),
        from: edge - mm(HAIR),
        to: edge + mm(200.0),
    };
    s.job.hull.keep_clear.push(zone);
    Some(())
}

/// Draws a joint that has a neighbour it must keep clear of, and gives how far apart they are along the boat.
fn near_joints(s: &mut Spoiled) -> Option<(Piece, Piece)> {
    let neighbour = |s: &Spoiled, p: &Piece| -> Option<Piece> {
        let course = s.job.hull.course(p.course);
        let near = s.job.rules.joints.clear_courses;
        let mut pieces = s.plan.pieces.iter();
        let found = pieces.find(|other| {
            let there = s.job.hull.course(other.course);
            let apart = there.number.abs_diff(course.number);
            let meet = other.side == p.side || other.side == Side::Centre || p.side == Side::Centre;
            there.panel == course.panel
                && (1..=near).contains(&apart)
                && meet
                && s.joint_behind(other)
        });
        found.cloned()
    };
    let row = s.draw(|s, p| s.joint_behind(p) && neighbour(s, p).is_some())?;
    let piece = s.plan.pieces[row].clone();
    let other = neighbour(s, &piece)?;
    Some((piece, other))
}

fn joints_side_by_side(s: &mut Spoiled) -> Option<()> {
    let (piece, other) = near_joints(s)?;
    let there = s
        .job
        .hull
        .course(other.course)
        .x_at(s.overlap_centre(&other));
    let here = s.job.hull.course(piece.course).s_at(there);
    let by = here - s.overlap_centre(&piece);
    s.move_joint(piece.course, piece.number, None, by);
    Some(())
}

fn joints_a_hair_too_near(s: &mut Spoiled) -> Option<()> {
    let (piece, other) = near_joints(s)?;
    let on_boat = |p: &Piece| s.job.hull.course(p.course).x_at(s.overlap_centre(p));
    s.job.rules.joints.clear = (on_boat(&piece) - on_boat(&other)).abs() + mm(HAIR);
    Some(())
}

fn too_short_a_piece(s: &mut Spoiled) -> Option<()> {
    let shortest = s.job.rules.joints.shortest_piece;
    let row = s.draw(|s, p| p.number == 1 && s.joint_behind(p))?;
    let piece = s.plan.pieces[row].clone();
    let by = S::at(shortest) - mm(HAIR) - s.overlap_centre(&piece);
    s.move_joint(piece.course, 1, None, by);
    Some(())
}

fn longer_shortest_piece(s: &mut Spoiled) -> Option<()> {
    let row = s.draw(|s, p| p.number == 1 && s.joint_behind(p))?;
    let piece = s.plan.pieces[row].clone();
    s.job.rules.joints.shortest_piece = s.overlap_centre(&piece).from_origin() + mm(HAIR);
    Some(())
}

fn one_joint_too_many(s: &mut Spoiled) -> Option<()> {
    let row = s.draw(|s, p| s.joint_behind(p))?;
    let piece = &s.plan.pieces[row];
    let joints = s.pieces_in(piece.course, piece.side) as u32 - 1;
    s.job.rules.joints.most = joints - 1;
    Some(())
}

fn flip_edge(s: &mut Spoiled) -> Option<()> {
    let row = s.any_row()?;
    let piece = s.row(row);
    piece.next_edge = match piece.next_edge {
        Edge::A => Edge::B,
        Edge::B => Edge::A,
    };
    Some(())
}

fn flip_face(s: &mut Spoiled) -> Option<()> {
    let row = s.any_row()?;
    let piece = s.row(row);
    piece.face_out = other_face(piece.face_out);
    Some(())
}

fn other_face(face: Face) -> Face {
    match face {
        Face::High => Face::Low,
        Face::Low => Face::High,
    }
}

/// Both mates roll over: each lies as wood can, but the shared saw cut is inside.
fn swap_faces(s: &mut Spoiled) -> Option<()> {
    let row = s.draw(Spoiled::in_one_board)?;
    let mate = s.mate_of(&s.plan.pieces[row])?;
    let toward = s.job.hull.panel_of(s.plan.pieces[row].course).toward;
    for row in [row, mate] {
        let piece = s.row(row);
        piece.face_out = other_face(piece.face_out);
        piece.next_edge = facing(piece).next_edge(piece.side, toward);
    }
    Some(())
}

fn upside_down(s: &mut Spoiled) -> Option<()> {
    if s.job.rules.edges == Edges::Square {
        return None;
    }
    let row = s.any_row()?;
    let mate = s.mate_of(&s.plan.pieces[row]);
    turn(s, row);
    if let Some(mate) = mate {
        turn(s, mate);
    }
    Some(())
}

fn shifted(piece: Piece) -> Option<Piece> {
    Some(Piece {
        cut_from: piece.cut_from + mm(HAIR),
        cut_to: piece.cut_to + mm(HAIR),
        ..piece
    })
}

fn turned(piece: Piece) -> Option<Piece> {
    Some(Piece {
        bow_end: piece.bow_end.other(),
        ..piece
    })
}

fn other_strip_laid(s: &mut Spoiled) -> Option<()> {
    let (one, other) = two_strips(s)?;
    let strip = s.plan.pieces[other].strip;
    let mut laid = s.plan.pieces[one].clone();
    laid.strip = strip;
    s.job.laid.push(laid);
    Some(())
}
