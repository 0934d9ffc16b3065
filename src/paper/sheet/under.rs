//! What stands under the pieces of a course on the laying sheet.

use super::laying::STRIP;
use crate::hull::CourseId;
use crate::job::Job;
use crate::paper::facts::{self, BoatEnd};
use crate::paper::fitting::lines;
use crate::paper::words;
use crate::plan::{Piece, Plan};
use crate::units::Unit;

/// Small type, and that of the forms. Unit: mm.
pub const SMALL: f64 = 3.0;
const FORMS: f64 = 2.8;

/// A line: where it begins, the size of its type, and its words.
pub type Line = (f64, f64, String);

/// What is asked for the lines.
pub struct Under<'a> {
    /// The job.
    pub job: &'a Job,
    /// The plan.
    pub plan: &'a Plan,
    /// Room across the sheet. Unit: mm.
    pub wide: f64,
}

impl Under<'_> {
    /// The lines under the pieces, and where each begins: ends and joints, where the course narrows, forms.
    pub fn lines(&self, course: CourseId, pieces: &[&Piece]) -> Vec<Line> {
        let (Some(first), Some(last)) = (pieces.first(), pieces.last()) else {
            return Vec::new();
        };
        let end = |piece, end| words::end(self.job, self.plan, piece, end);
        let mut ends = vec![end(first, BoatEnd::Bow)];
        for two in pieces.windows(2) {
            let at = facts::joint_at(self.job, two[0], two[1]).from_origin();
            ends.push(format!("joint {} from the bow", self.job.unit.shop(at)));
        }
        ends.push(end(last, BoatEnd::Stern));
        let mut all = self.set((STRIP, SMALL), &ends);
        all.extend(self.narrow(course));
        for piece in pieces {
            all.extend(self.forms(piece, pieces.len()));
        }
        all
    }

    fn set(&self, (from, size): (f64, f64), parts: &[String]) -> Vec<Line> {
        let lines = lines(parts, size, self.wide - from);
        lines.into_iter().map(|words| (from, size, words)).collect()
    }

    /// Parts behind what they are.
    fn told(&self, from: (f64, f64), what: &str, mut parts: Vec<String>) -> Vec<Line> {
        match parts.first_mut() {
            None => Vec::new(),
            Some(first) => {
                *first = format!("{what} {first}");
                self.set(from, &parts)
            }
        }
    }

    /// Why from the left and in few words: a piece may lie over two dozen forms.
    fn forms(&self, piece: &Piece, of_many: usize) -> Vec<Line> {
        let of = match of_many {
            1 => "forms".into(),
            _ => format!("forms of piece {}", piece.number),
        };
        let mm = match self.job.unit {
            Unit::Mm => ", mm",
            Unit::Inch => ",",
        };
        let marks = facts::forms(self.job, piece).into_iter().map(|mark| {
            let at = self.job.unit.shop(mark.from_bow_end);
            format!("{}: {}", mark.form, at.trim_end_matches(" mm"))
        });
        self.told(
            (0.0, FORMS),
            &format!("{of}{mm} from its bow end:"),
            marks.collect(),
        )
    }

    fn narrow(&self, course: CourseId) -> Vec<Line> {
        let course = self.job.hull.course(course);
        let narrow = course
            .crossings
            .iter()
            .filter(|crossing| crossing.width < self.job.rules.width);
        let parts = narrow.map(|crossing| {
            let form = &self.job.hull.forms[crossing.form.0].name;
            format!("{} at form {form}", words::width(self.job, crossing.width))
        });
        self.told((STRIP, SMALL), "narrows:", parts.collect())
    }
}
