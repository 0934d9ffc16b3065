//! From forms and offsets to courses: what the files say of each panel put together, and judged.

use super::complaint::Complaint;
use super::forms::{self, Forms};
use super::found::Found;
use super::offsets::{self, Offsets};
use super::panels::PanelKeys;
use crate::hull::{FormId, PanelId};
use crate::lines::{self, Closing, Fair, Laid, MOST, Measured, PanelShape, Scantling, TooMany};
use crate::units::{Length, Unit};
use std::collections::BTreeMap;

/// What is known of each panel that is there, and the courses worked out from it.
#[derive(Default)]
pub(super) struct Lined {
    pub(super) told: Vec<PanelShape>,
    pub(super) laid: Vec<Laid>,
    /// The points of offsets.csv, and whether it is a table as it is printed.
    pub(super) points: Vec<Measured>,
    pub(super) wide: bool,
}

/// Taped girths and offsets may differ by this part of the girth, or by this length, before it is worth a word. Common
/// practice, no source: a tape on a form reads to a couple of millimetres.
const TAPE_PART: f64 = 0.01;
const TAPE_MM: f64 = 3.0;

/// Puts together what the files say of each panel, and works out its courses.
pub(super) fn lined(
    forms: &Forms,
    offsets: Option<Offsets>,
    panels: &[PanelKeys],
    strip: Scantling,
    unit: Unit,
    found: &mut Found,
) -> Lined {
    let offsets = offsets.unwrap_or_default();
    let mut lined = Lined {
        points: offsets.points,
        wide: offsets.wide,
        ..Lined::default()
    };
    for (place, keys) in panels.iter().enumerate() {
        let taped = forms.girths.get(place);
        let sections = offsets.sections.get(place);
        let about = About {
            forms,
            name: &keys.panel.name,
            unit,
        };
        if let Some(told) = told(&about, taped, sections, PanelId(place), keys, found) {
            match lines::courses(&told, strip) {
                Ok(laid) => {
                    if let Some(closing) = lines::closing(&told, strip) {
                        found.warn(sliver(&about, &closing));
                    }
                    lined.laid.extend(laid);
                    lined.told.push(told);
                }
                Err(TooMany::Courses) => found.complain(Complaint::of(
                    forms::FILE,
                    format!("panel \"{}\" comes to more than {MOST} courses", about.name),
                    "Look whether the girths, and strip.width in boat.toml, are in the job's units.",
                )),
                Err(TooMany::Stretches(number)) => found.complain(Complaint::of(
                    forms::FILE,
                    format!(
                        "the girth of panel \"{}\" rises and falls so often that course {number} would be in more \
                         stretches than there are letters",
                        about.name
                    ),
                    "Look at the girths around there.",
                )),
            }
        }
    }
    lined
}

/// The panel that is looked at.
struct About<'a> {
    forms: &'a Forms,
    name: &'a str,
    unit: Unit,
}

impl About<'_> {
    fn complaint(&self, form: FormId, wrong: String, mend: &str) -> Complaint {
        let line = self.forms.lines.get(form.0).copied().unwrap_or(1);
        Complaint::of(forms::FILE, wrong, mend)
            .at(line)
            .under(self.name)
    }

    fn form(&self, form: FormId) -> &str {
        &self.forms.forms[form.0].name
    }
}

/// A last course that nobody wants to saw.
fn sliver(about: &About<'_>, closing: &Closing) -> Complaint {
    let widest = Length::from_mm(closing.widest);
    Complaint::of(
        forms::FILE,
        format!(
            "course {} of panel \"{}\", its last, is only {} wide at its widest",
            closing.number,
            about.name,
            about.unit.shop(widest)
        ),
        "See what makes it come out: twinstrake courses, with this folder.",
    )
}

/// What is known of one panel; `None` where it has no form at all, or where it can't be made sense of.
fn told(
    about: &About<'_>,
    taped: Option<&BTreeMap<FormId, Length>>,
    sections: Option<&BTreeMap<FormId, lines::Curve>>,
    panel: PanelId,
    keys: &PanelKeys,
    found: &mut Found,
) -> Option<PanelShape> {
    let drawn: BTreeMap<FormId, Length> = sections
        .into_iter()
        .flatten()
        .map(|(form, section)| (*form, Length::from_mm(section.length())))
        .collect();
    let taped = taped.filter(|taped| !taped.is_empty());
    let girths = match taped {
        Some(taped) => {
            if !drawn.is_empty() {
                compare(about, taped, &drawn, found);
            }
            taped
        }
        None => &drawn,
    };
    if girths.is_empty() || holes(about, girths, found) {
        return None;
    }
    let ids: Vec<FormId> = girths.keys().copied().collect();
    if ids.len() < 2 {
        found.complain(about.complaint(
            ids[0],
            "is the only girth of this panel".into(),
            "Give the panel a girth at two forms at least, at the forward one and the after one of which it ends.",
        ));
        return None;
    }
    let sections = match sections.filter(|sections| !sections.is_empty()) {
        // Where one is missing the comparison has said so.
        Some(sections) => Some(
            ids.iter()
                .map(|id| sections.get(id).cloned())
                .collect::<Option<Vec<_>>>()?,
        ),
        None => None,
    };
    let points: Vec<(f64, f64)> = girths
        .iter()
        .map(|(id, girth)| (about.forms.forms[id.0].at.mm(), girth.mm()))
        .collect();
    // Forms out of order have been complained of.
    if points.windows(2).any(|pair| pair[0].0 >= pair[1].0) {
        return None;
    }
    let lines = &keys.lines;
    let mm = |length: Option<Length>| length.map(Length::mm);
    Some(PanelShape {
        panel,
        toward: keys.panel.toward,
        forms: ids,
        girth: Fair::through(&points),
        sections,
        bow_end: lines.bow_end,
        stern_end: lines.stern_end,
        stop: lines.stop,
        bow_end_to: mm(lines.bow_end_to),
        stern_end_from: mm(lines.stern_end_from),
        centre: lines.centre,
        start_length: mm(lines.start_length),
        stop_length: mm(lines.stop_length),
    })
}

/// Complains of forms between a panel's first and last at which it has no girth.
fn holes(about: &About<'_>, girths: &BTreeMap<FormId, Length>, found: &mut Found) -> bool {
    let ids: Vec<usize> = girths.keys().map(|id| id.0).collect();
    let mut any = false;
    for pair in ids.windows(2) {
        for missing in pair[0] + 1..pair[1] {
            any = true;
            let wrong = format!(
                "is empty, though the panel is there at forms \"{}\" and \"{}\"",
                about.form(FormId(pair[0])),
                about.form(FormId(pair[1]))
            );
            let mend =
                "Tape the girth of this form too; where the panel comes to nothing, write 0.";
            let complaint = about.complaint(FormId(missing), wrong, mend);
            found.complain(complaint.showing(""));
        }
    }
    any
}

/// Holds the tape against the offsets: the tape counts, but somebody should look.
fn compare(
    about: &About<'_>,
    taped: &BTreeMap<FormId, Length>,
    drawn: &BTreeMap<FormId, Length>,
    found: &mut Found,
) {
    for (form, girth) in taped {
        match drawn.get(form) {
            None => found.complain(about.complaint(
                *form,
                format!(
                    "has a girth at form \"{}\" and no offsets there",
                    about.form(*form)
                ),
                "Give the panel offsets at all of its forms, or at none.",
            )),
            Some(drawn) => {
                let apart = (*girth - *drawn).abs();
                if apart.mm() > TAPE_MM && apart > *girth * TAPE_PART {
                    found.warn(
                        about
                            .complaint(
                                *form,
                                format!(
                                    "differs from the offsets, which make it {}",
                                    about.unit.shop(*drawn)
                                ),
                                "The tape counts; look whether both are of the same line.",
                            )
                            .showing(about.unit.shop(*girth)),
                    );
                }
            }
        }
    }
    for form in drawn.keys().filter(|form| !taped.contains_key(form)) {
        found.complain(Complaint::of(
            offsets::FILE,
            format!(
                "panel \"{}\" has offsets at form \"{}\" and no girth in forms.csv there",
                about.name,
                about.form(*form)
            ),
            "Write the girth too, or leave the panel's column in forms.csv empty altogether: offsets alone will do.",
        ));
    }
}
