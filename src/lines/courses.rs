//! From bands to courses: what the planner starts from.

use super::bevel::{INBOARD, OUTBOARD, Way, chord, turn};
use super::taper::Tip;
use super::{Band, Centre, CourseEdge, Covers, Fit, PanelShape, Scantling, Taper, bands, bevel};
use crate::hull::{Course, Crossing, Kind, Stretch};
use crate::units::{Length, S, X};

/// A course as it was worked out, with what the planner does not ask but the bench does.
#[derive(Clone, PartialEq, Debug)]
pub struct Laid {
    /// The course.
    pub course: Course,
    /// What its bow end meets.
    pub bow: Fit,
    /// What its stern end meets.
    pub stern: Fit,
    /// How its bow end narrows, where it does.
    pub bow_taper: Option<Taper>,
    /// How its stern end narrows, where it does.
    pub stern_taper: Option<Taper>,
}

/// The girths make more of something than anyone can mean.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum TooMany {
    /// More courses than [`MOST`].
    Courses,
    /// More stretches of the band with this number than there are letters.
    Stretches(u32),
}

/// The most courses of one panel. Why: a width of strip with its point in the wrong place is to earn a complaint, not
/// a wait.
pub const MOST: u32 = 1000;

/// Every course of a panel, by number and then from the bow aft.
///
/// Errors: there are too many to be meant.
pub fn courses(told: &PanelShape, strip: Scantling) -> Result<Vec<Laid>, TooMany> {
    let bands = bands(told, strip.width, MOST + 1);
    if bands.len() > MOST as usize {
        return Err(TooMany::Courses);
    }
    let mut all = Vec::new();
    for (i, band) in bands.iter().enumerate() {
        let next = bands.get(i + 1);
        if band.stretches.len() > Stretch::MOST {
            return Err(TooMany::Stretches(band.number));
        }
        for (part, ends) in band.stretches.iter().enumerate() {
            let stretch = match band.stretches.len() {
                1 => Stretch::Whole,
                _ => Stretch::Part(part as u8),
            };
            all.extend(laid(told, strip, band, next, stretch, *ends));
        }
    }
    Ok(all)
}

/// A length to the nearest thousandth of a millimetre: what a file shows is what is meant.
fn rounded(mm: f64) -> Length {
    Length::from_nm((mm * 1000.0).round() as i64 * 1000)
}

/// One course; `None` where it is shorter than that.
fn laid(
    told: &PanelShape,
    strip: Scantling,
    band: &Band,
    next: Option<&Band>,
    stretch: Stretch,
    (from, to): (f64, f64),
) -> Option<Laid> {
    let skin = CourseEdge::of(told, band, from, to);
    let (bow, stern) = fits(told, (from, to));
    let places = told.girth.places().iter().zip(&told.forms).enumerate();
    let crossings = places
        .filter(|(_, (x, _))| from <= **x && **x <= to)
        .map(|(i, (x, form))| Crossing {
            form: *form,
            at: S::at(rounded(skin.along_at(*x))),
            width: rounded(band.width(told, *x)),
            bevel: next.and_then(|next| bevel_at(told, i, *x, band, next)),
        })
        .collect();
    let taper = |tip| Taper::of(told, band, strip, (from, to), &skin, tip);
    let course = Course {
        panel: told.panel,
        number: band.number,
        kind: band.kind,
        from: X::at(rounded(from)),
        to: X::at(rounded(to)),
        length: rounded(skin.length()),
        bow_end: bow.end(),
        stern_end: stern.end(),
        stretch,
        crossings,
    };
    (course.from < course.to && course.length > Length::ZERO).then(|| Laid {
        bow,
        stern,
        bow_taper: taper(Tip::Bow),
        stern_taper: taper(Tip::Stern),
        course,
    })
}

/// What the two ends meet: the panel's own end, the stem where the stop line follows it, or the stop line.
fn fits(told: &PanelShape, (from, to): (f64, f64)) -> (Fit, Fit) {
    let at_bow = from <= told.from() || told.bow_end_to.is_some_and(|line| from <= line);
    let at_stern = to >= told.to() || told.stern_end_from.is_some_and(|line| to >= line);
    (
        if at_bow { told.bow_end } else { told.stop },
        if at_stern { told.stern_end } else { told.stop },
    )
}

/// The next course must be this wide for the bevel against it to mean anything. Unit: mm.
const NARROWEST: f64 = 1.0;

fn bevel_at(told: &PanelShape, i: usize, x: f64, band: &Band, next: &Band) -> Option<f64> {
    let section = told.sections.as_ref()?.get(i)?;
    let (own, beyond) = (band.width(told, x), next.width(told, x));
    if own < NARROWEST || beyond < NARROWEST {
        return None;
    }
    let seam = match (next.covers, band.covers) {
        (Covers::LastHalf(_), _) => next.level(section.length()),
        (_, Covers::Levels(_, to)) => to,
        _ => return None,
    };
    match (told.centre, band.kind, next.kind) {
        (Centre::First, Kind::Centre, _) => turn(
            OUTBOARD,
            chord(section, seam, beyond, Way::On)?,
            told.toward,
        ),
        (Centre::Last, _, Kind::Centre) => {
            turn(chord(section, seam, own, Way::Back)?, INBOARD, told.toward)
        }
        _ => bevel(section, seam, own, beyond, told.toward),
    }
}
