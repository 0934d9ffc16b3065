//! What stands under the pieces of a course on the laying sheet.

use super::laying::STRIP;
use crate::hull::{CourseId, LayOrder};
use crate::job::{Bench, Job};
use crate::lines::gape;
use crate::paper::facts::{self, BoatEnd};
use crate::paper::fitting::lines;
use crate::paper::words;
use crate::plan::{Edges, Piece, Plan};
use crate::units::{Length, Unit};

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
    /// How the courses narrow, and what may gape.
    pub bench: &'a Bench,
    /// Whether only what is left to do is printed.
    pub to_do: bool,
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
        // Both sides of the boat are cut alike: where they stand beside each other it is told once.
        let told_above = !self.to_do
            && self.job.hull.panel_of(course).lay == LayOrder::Alternate
            && facts::laid_second(self.plan, first);
        if !told_above {
            all.extend(self.narrow(course));
            all.extend(self.bevels(course));
        }
        all.extend(self.free_edges(course, first));
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

    /// With bead and cove, the edges of the first course and of the last that no course is glued to.
    fn free_edges(&self, course: CourseId, piece: &Piece) -> Vec<Line> {
        if self.job.rules.edges == Edges::Square {
            return Vec::new();
        }
        let [before, after] = self.job.hull.has_beside(course);
        let (next, other) = (piece.next_edge.name(), piece.next_edge.other().name());
        let free = |edge: &str, where_to: &str| {
            format!(
                "edge {edge} is free, no course {where_to}: plane bead or cove off where it meets another edge"
            )
        };
        let mut parts = Vec::new();
        if !before {
            parts.push(free(other, "before it"));
        }
        if !after {
            parts.push(free(next, "next to it"));
        }
        self.set((STRIP, SMALL), &parts)
    }

    /// Where the course narrows: the lines that its ends are cut to, or its widths at the forms where only those are
    /// known.
    fn narrow(&self, course: CourseId) -> Vec<Line> {
        let course = self.job.hull.course(course);
        let unit = self.job.unit;
        let Some(laid) = self.bench.of(course) else {
            let narrow = course
                .crossings
                .iter()
                .filter(|crossing| crossing.width < self.job.rules.width);
            let parts = narrow.map(|crossing| {
                let form = &self.job.hull.forms[crossing.form.0].name;
                format!("{} at form {form}", words::width(self.job, crossing.width))
            });
            return self.told((STRIP, SMALL), "narrows:", parts.collect());
        };
        let ends = [
            (BoatEnd::Bow, &laid.bow_taper),
            (BoatEnd::Stern, &laid.stern_taper),
        ];
        let tapers = ends
            .into_iter()
            .filter_map(|(end, taper)| Some((end, taper.as_ref()?)));
        let lines = tapers.flat_map(|(end, taper)| {
            let points = taper.line.iter().map(|(from_tip, width)| {
                let [from_tip, width] = [from_tip, width].map(|mm| Length::from_mm(*mm));
                match from_tip {
                    Length::ZERO => format!("{} wide at the tip", unit.rule(width)),
                    at => format!("{} at {} from it", unit.rule(width), unit.shop(at)),
                }
            });
            let mut parts: Vec<String> = points.collect();
            if taper.is_loose(self.job.rules.thickness.mm()) {
                let loose = unit.shop(Length::from_mm(taper.sliver));
                parts.push(format!("no glue on the first {loose} until it is trimmed"));
            }
            let what = format!("cut line of the {} end:", end.name());
            self.told((STRIP, SMALL), &what, parts)
        });
        lines.collect()
    }

    /// The bevel to the next course at each form where it is worth a stroke of the plane, and where edges as milled
    /// gape.
    fn bevels(&self, course: CourseId) -> Vec<Line> {
        let (unit, rules) = (self.job.unit, &self.job.rules);
        let crossings = self.job.hull.course(course).crossings.iter();
        let bent = crossings.filter_map(|crossing| {
            let bevel = crossing.bevel.filter(|bevel| bevel.abs() > BEVEL)?;
            let form = &self.job.hull.forms[crossing.form.0].name;
            let hollow = if bevel < 0.0 { "hollow " } else { "" };
            let open = Length::from_mm(gape(rules.edges, rules.thickness.mm(), bevel));
            let gapes = match open > self.bench.gape {
                true => format!(" gapes {}", unit.rule(open)),
                false => String::new(),
            };
            Some(format!("{form}: {hollow}{:.1}°{gapes}", bevel.abs()))
        });
        self.told(
            (STRIP, SMALL),
            "bevel to the next course at form",
            bent.collect(),
        )
    }
}

/// A smaller bevel than this is left to the glue. Unit: degree. Common practice, no source.
const BEVEL: f64 = 1.0;
