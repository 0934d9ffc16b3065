//! The sheet of paper: which course lies where on it.
//!
//! The whole skin is opened flat along its upper edges and seen from outside, bow to the left: port above, starboard
//! below, the keel between. Seen so, courses toward the keel run inwards and courses toward the deck outwards on both
//! sides, which is the frame f × n = h·e of the model. Lengths are to scale; widths are as wide as they can be read.

use super::ink;
use super::scene::{Item, Rect, Scene, Set, Text};
use super::stack::Stack;
use crate::hull::{Course, CourseId, Hull, Kind, PanelId, Side};
use crate::job::Job;
use crate::units::X;

/// Width of the sheet: an A3 page on its side. Unit: millimetre of paper, as everywhere here.
pub const WIDTH: f64 = 420.0;
/// Least height of the sheet: the same page.
const HEIGHT: f64 = 297.0;
/// Blank paper along the edges.
pub const MARGIN: f64 = 12.0;
/// Where the drawing begins: below the heading and the upper ruler.
const ABOVE: f64 = 38.0;
/// What is left below the drawing for the lower ruler and the legend.
const BELOW: f64 = 53.0;
/// Room for the names of the panels and the marks at the bow.
const FORWARD: f64 = 32.0;
/// Room for course numbers and colour steps at the stern.
const AFT: f64 = 30.0;
/// What the rulers take above and below.
const RULERS: f64 = 11.0;
/// Between two panels.
const BETWEEN_PANELS: f64 = 2.4;
/// Between the two sides where no centre course lies between them, and on each side of one that does.
const BETWEEN_SIDES: f64 = 1.6;
/// Narrowest and widest that a course is drawn. Why 3.2: the letter in its mark is then about 2 mm.
const PITCH: (f64, f64) = (3.2, 8.0);

/// One course on one side.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Row {
    /// The course.
    pub course: CourseId,
    /// The side.
    pub side: Side,
    /// Its upper edge.
    pub top: f64,
}

/// All courses of a panel on one side.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Band {
    /// The panel.
    pub panel: PanelId,
    /// The side.
    pub side: Side,
    /// Its upper edge.
    pub top: f64,
    /// Its lower edge.
    pub bottom: f64,
}

/// What stands at the head of a sheet: its name, what is seen on it, and some figures.
pub fn heading(name: String, told: &str, figures: String) -> Vec<Item> {
    let right = Text::new(figures, (WIDTH - MARGIN, 24.2), 2.8, ink::PENCIL);
    vec![
        Text::new(name, (MARGIN, 18.0), 7.0, ink::PENCIL)
            .bold()
            .into(),
        Text::new(told, (MARGIN, 24.2), 2.8, ink::SOFT).into(),
        right.set(Set::Right).into(),
    ]
}

/// Where everything lies.
#[derive(Clone, PartialEq, Debug)]
pub struct Sheet {
    /// Height of the paper.
    pub height: f64,
    /// How wide a course is drawn.
    pub pitch: f64,
    /// Where the two sides mirror each other.
    pub centreline: f64,
    /// Upper and lower edge of the drawing.
    pub span: (f64, f64),
    /// Every course on every side, from the top.
    pub rows: Vec<Row>,
    /// Places on the starboard half left empty by a centre course that is drawn on the port half.
    pub blanks: Vec<Row>,
    /// Every panel on each side, from the top.
    pub bands: Vec<Band>,
    /// The boat's foremost and aftmost place drawn.
    pub ends: (X, X),
}

impl Sheet {
    /// Lays out the sheet for a job.
    pub fn of(job: &Job) -> Sheet {
        let hull = &job.hull;
        let stack = Stack::of(hull);
        let gaps = gaps(&stack);
        let room = HEIGHT - ABOVE - BELOW;
        let rows = (stack.middle.len() + 2 * stack.rows(hull)).max(1);
        let pitch = ((room - 2.0 * gaps) / rows as f64).clamp(PITCH.0, PITCH.1);
        let tall = rows as f64 * pitch + 2.0 * gaps;
        let height = HEIGHT.max(tall + ABOVE + BELOW);
        let top = ABOVE + (height - ABOVE - BELOW - tall) / 2.0;
        let mut sheet = Sheet {
            height,
            pitch,
            centreline: top + tall / 2.0,
            span: (top, top + tall),
            rows: Vec::new(),
            blanks: Vec::new(),
            bands: Vec::new(),
            ends: ends(hull),
        };
        sheet.fill(hull, &stack);
        sheet
    }

    /// What is drawn, on its paper.
    pub fn scene(&self, title: String, items: Vec<Item>) -> Scene {
        Scene {
            title,
            width: WIDTH,
            height: self.height,
            paper: ink::PAPER,
            items,
        }
    }

    fn fill(&mut self, hull: &Hull, stack: &Stack) {
        let (pitch, line) = (self.pitch, self.centreline);
        let middle = stack.middle.len() as f64 * pitch / 2.0;
        for (n, course) in stack.middle.iter().enumerate() {
            self.rows.push(Row {
                course: *course,
                side: Side::Centre,
                top: line + middle - (n + 1) as f64 * pitch,
            });
        }
        let mut out = middle + BETWEEN_SIDES;
        let mut last: Option<(PanelId, u32)> = None;
        for course in &stack.half {
            let Course {
                panel,
                number,
                kind,
                ..
            } = *hull.course(*course);
            match last {
                // Stretches of one band lie in one row.
                Some(last) if last == (panel, number) => {}
                Some((last, _)) if last != panel => out += pitch + BETWEEN_PANELS,
                Some(_) => out += pitch,
                None => {}
            }
            last = Some((panel, number));
            for side in [Side::Port, Side::Starboard] {
                let top = match side {
                    Side::Starboard => line + out,
                    _ => line - out - pitch,
                };
                self.widen_band(panel, side, top);
                // A centre course that is not between the sides is drawn once, on the half whose frame it takes.
                let (rows, side) = match (kind, side) {
                    (Kind::Mirrored, side) => (&mut self.rows, side),
                    (Kind::Centre, Side::Port) => (&mut self.rows, Side::Centre),
                    (Kind::Centre, _) => (&mut self.blanks, Side::Centre),
                };
                rows.push(Row {
                    course: *course,
                    side,
                    top,
                });
            }
        }
        self.rows.sort_by(|a, b| a.top.total_cmp(&b.top));
        self.bands.sort_by(|a, b| a.top.total_cmp(&b.top));
    }

    fn widen_band(&mut self, panel: PanelId, side: Side, top: f64) {
        let bottom = top + self.pitch;
        let mut bands = self.bands.iter_mut();
        match bands.find(|band| band.panel == panel && band.side == side) {
            Some(band) => {
                band.top = band.top.min(top);
                band.bottom = band.bottom.max(bottom);
            }
            None => self.bands.push(Band {
                panel,
                side,
                top,
                bottom,
            }),
        }
    }

    /// Where a place on the boat lies on the paper; places beyond the drawing lie at its edge.
    pub fn x(&self, place: X) -> f64 {
        let (from, to) = self.ends;
        let span = (to.mm() - from.mm()).max(1.0);
        let part = (place.mm() - from.mm()) / span;
        let (left, right) = self.sides();
        left + part.clamp(0.0, 1.0) * (right - left)
    }

    /// The drawing with its rulers and what stands beside it.
    pub fn drawing(&self) -> Rect {
        let (top, bottom) = self.span;
        Rect::between(
            MARGIN - 4.0,
            top - RULERS,
            WIDTH - MARGIN + 4.0,
            bottom + RULERS,
        )
    }

    /// Left and right edge of the drawing.
    pub fn sides(&self) -> (f64, f64) {
        (MARGIN + FORWARD, WIDTH - MARGIN - AFT)
    }

    /// How many millimetres of boat a millimetre of paper stands for, lengthwise.
    pub fn scale(&self) -> f64 {
        let (left, right) = self.sides();
        (self.ends.1.mm() - self.ends.0.mm()) / (right - left)
    }

    /// The row of a course on a side; of a centre course, the one that meets its neighbours on that side.
    pub fn row(&self, course: CourseId, side: Side) -> Option<&Row> {
        let of = |side| move |row: &&Row| row.course == course && row.side == side;
        let mut rows = self.rows.iter();
        let mut blanks = self.blanks.iter();
        let centre = || {
            let blank = blanks.find(of(Side::Centre));
            let blank = blank.filter(|_| side == Side::Starboard);
            blank.or_else(|| self.rows.iter().find(of(Side::Centre)))
        };
        rows.find(of(side)).or_else(centre)
    }
}

/// The room between panels and sides on one half.
fn gaps(stack: &Stack) -> f64 {
    stack.panels.saturating_sub(1) as f64 * BETWEEN_PANELS + BETWEEN_SIDES
}

/// The bow, or what lies ahead of it, and the aftmost end of any course.
pub fn ends(hull: &Hull) -> (X, X) {
    let from = hull.courses.iter().map(|course| course.from).min();
    let to = hull.courses.iter().map(|course| course.to).max();
    (
        from.unwrap_or(X::ORIGIN).min(X::ORIGIN),
        to.unwrap_or(X::ORIGIN).max(X::ORIGIN),
    )
}
