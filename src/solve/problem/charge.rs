//! What is charged where two courses lie abreast: the step between them, and shade that goes the wrong way.

use crate::hull::{Course, Drift, Shade};
use crate::job::Job;
use crate::plan::Want;

/// How the step between two courses counts.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Steps {
    /// Colour and figure, as everywhere.
    Plain,
    /// At the edge of an accent band: what contrast falls short of this, and figure. Unit: ΔE00.
    Accent(f64),
    /// Not at all: they don't touch, and only their shades are compared.
    Apart,
}

/// What is charged where two courses lie abreast. Source: model, "Seam", "Accent" and "Drift".
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Charge {
    /// How the step between them counts.
    pub steps: Steps,
    /// For each unit of L* by which the lower course is lighter; negative: by which it is darker. Unit: ΔE00.
    pub drift: f64,
}

impl Charge {
    /// Colour and figure, and no shade wanted.
    pub const PLAIN: Charge = Charge {
        steps: Steps::Plain,
        drift: 0.0,
    };

    /// The same looked at from the lower course.
    pub fn mirrored(self) -> Charge {
        let drift = if self.drift == 0.0 { 0.0 } else { -self.drift };
        Charge { drift, ..self }
    }

    /// What is charged between two courses of one panel, the upper first; `None` where they have nothing to do with
    /// each other.
    pub fn between(job: &Job, upper: &Course, lower: &Course) -> Option<Charge> {
        let touch = upper.lies_before(lower);
        let in_accent = |number: u32| accents(job, upper).any(|want| want.covers_number(number));
        let compared = || !in_accent(upper.number) && !in_accent(lower.number);
        let drift = match job.hull.panel(upper.panel).drift {
            Some(Drift { shade, against }) if against > 0.0 && compared() => match shade {
                Shade::Darker => against,
                Shade::Lighter => -against,
            },
            _ => 0.0,
        };
        if touch {
            let edges = accents(job, upper).filter(|want| want.covers(upper) != want.covers(lower));
            let accent = edges.filter_map(|want| want.accent).reduce(f64::max);
            let steps = accent.map_or(Steps::Plain, Steps::Accent);
            return Some(Charge { steps, drift });
        }
        let beyond = upper.panel == lower.panel && upper.number + 1 < lower.number;
        let across = || (upper.number + 1..lower.number).all(in_accent);
        let abreast = upper.from < lower.to && lower.from < upper.to;
        (beyond && drift != 0.0 && abreast && across()).then_some(Charge {
            steps: Steps::Apart,
            drift,
        })
    }
}

/// The accent bands of the panel of a course.
fn accents<'j>(job: &'j Job, course: &Course) -> impl Iterator<Item = &'j Want> {
    let panel = course.panel;
    job.wants
        .iter()
        .filter(move |want| want.panel == panel && want.accent.is_some())
}
