//! What is said of a piece, alike on labels and sheets.

use crate::hull::{End, Side};
use crate::job::Job;
use crate::plan::{BowEnd, Piece, Plan, form_marks, next_edge_sign};
use crate::units::{Length, U, X};

/// An end of the boat, and of whatever lies along it.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum BoatEnd {
    /// Forward.
    Bow,
    /// Aft.
    Stern,
}

impl BoatEnd {
    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            BoatEnd::Bow => "bow",
            BoatEnd::Stern => "stern",
        }
    }
}

/// How an end of a piece meets what is beyond it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Meets {
    /// Scarfed to the piece of this number in its course.
    Joint(u32),
    /// An end of the course.
    Course(End),
}

/// Which way the next course lies, for whoever looks at the outside with the bow to the left.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Way {
    /// Above.
    Up,
    /// Below.
    Down,
}

/// A form that a piece crosses.
#[derive(Clone, PartialEq, Debug)]
pub struct FormMark {
    /// The form's name.
    pub form: String,
    /// From the piece's bow end, allowance and scarf overlap included.
    pub from_bow_end: Length,
    /// How wide the course is there, where it is narrower than a strip.
    pub narrow: Option<Length>,
    /// How far the skin turns there to the next course, where offsets are known. Unit: degree.
    pub bevel: Option<f64>,
}

/// The number of the course and of the piece in it, as in the mark that is pencilled on the strip.
pub fn course_and_piece(job: &Job, piece: &Piece) -> String {
    let course = job.hull.course(piece.course);
    format!("{}.{}", course.name(), piece.number)
}

/// Which way the next course lies. Source: model, "Frames": with the bow to the left and the outside toward the eye, f
/// × n points up, and e is h times that.
pub fn next_way(job: &Job, piece: &Piece) -> Way {
    let toward = job.hull.panel_of(piece.course).toward;
    match next_edge_sign(piece.side, toward) {
        1 => Way::Up,
        _ => Way::Down,
    }
}

/// Whether a course is glued to the edge of a piece that looks away from the start line.
pub fn has_next(job: &Job, piece: &Piece) -> bool {
    job.hull.has_beside(piece.course)[1]
}

/// What is said of that edge: `A next`, or `A free` where nothing is glued to it.
pub fn next_edge(job: &Job, piece: &Piece) -> String {
    let what = job.hull.next_or_free(piece.course);
    format!("{} {what}", piece.next_edge.name())
}

/// The end of the strip, marked or plain, at an end of a piece.
pub const fn strip_end(piece: &Piece, end: BoatEnd) -> BowEnd {
    match end {
        BoatEnd::Bow => piece.bow_end,
        BoatEnd::Stern => piece.bow_end.other(),
    }
}

/// Where an end of a piece is cut.
pub const fn cut_at(piece: &Piece, end: BoatEnd) -> U {
    match strip_end(piece, end) {
        BowEnd::Mark => piece.cut_from,
        BowEnd::Plain => piece.cut_to,
    }
}

/// Whether a place where a piece ends is an end of its strip, so that no saw is needed.
pub fn needs_no_cut(job: &Job, piece: &Piece, at: U) -> bool {
    at == U::ORIGIN || at == U::at(job.stock.strip(piece.strip).length)
}

/// What is beyond an end of a piece.
pub fn meets(job: &Job, plan: &Plan, piece: &Piece, end: BoatEnd) -> Meets {
    let course = job.hull.course(piece.course);
    let there = |number: u32| {
        let mut pieces = plan.pieces.iter();
        pieces.any(|p| (p.course, p.side, p.number) == (piece.course, piece.side, number))
    };
    match end {
        BoatEnd::Bow if piece.number > 1 => Meets::Joint(piece.number - 1),
        BoatEnd::Bow => Meets::Course(course.bow_end),
        BoatEnd::Stern if there(piece.number + 1) => Meets::Joint(piece.number + 1),
        BoatEnd::Stern => Meets::Course(course.stern_end),
    }
}

/// Where two pieces of a course are joined: the middle of the scarf, from the bow.
pub fn joint_at(job: &Job, fore: &Piece, aft: &Piece) -> X {
    let course = job.hull.course(fore.course);
    course.x_at(aft.from + (fore.to - aft.from) * 0.5)
}

/// Length of a piece as it is cut.
pub fn length(piece: &Piece) -> Length {
    piece.cut_to - piece.cut_from
}

/// The forms that a piece crosses, from its bow end aft; none where no forms are known.
pub fn forms(job: &Job, piece: &Piece) -> Vec<FormMark> {
    let bow_end = cut_at(piece, BoatEnd::Bow);
    let mut forms: Vec<FormMark> = form_marks(&job.hull, piece)
        .into_iter()
        .map(|mark| FormMark {
            form: job.hull.forms[mark.crossing.form.0].name.clone(),
            from_bow_end: (mark.at - bow_end).abs(),
            narrow: Some(mark.crossing.width).filter(|width| *width < job.rules.width),
            bevel: mark.crossing.bevel,
        })
        .collect();
    forms.sort_by_key(|mark| mark.from_bow_end);
    forms
}

/// Whether the side of a mirrored course is laid after the other one.
pub fn laid_second(plan: &Plan, piece: &Piece) -> bool {
    let first = plan.pieces.iter().find(|p| p.course == piece.course);
    piece.side != Side::Centre && first.is_some_and(|first| first.side != piece.side)
}

/// A piece in a few plain letters: `P 12.1`.
pub fn side_and_place(job: &Job, piece: &Piece) -> String {
    let letter = piece.side.letter();
    format!("{letter} {}", course_and_piece(job, piece))
}
