//! What `courses` says.

use super::TellPath as _;
use super::closing::closings;
use super::summary::{plain_table, to_the_right};
use super::{HEAD, head, look_at_this, many, styled, written};
use std::path::Path;
use twinstrake::hull::{CourseName, Crossing, Kind, PanelId, Stretch};
use twinstrake::job::Lines;
use twinstrake::lines::{Closing, Laid, Taper, gape, radius};
use twinstrake::units::{Length, Unit};

/// There is nothing to work courses out from.
pub fn no_forms(dir: &Path) -> String {
    format!(
        "{} has no girths and no offsets to work courses out from. Write forms.csv (form, from_bow, and the girth of\n\
         each panel under its name), as docs/formats.md says.\n",
        dir.told()
    )
}

/// The courses are written by hand, and nothing else is there.
pub fn nothing_to_work_out(dir: &Path, lines: &Lines) -> String {
    format!(
        "There is nothing to work out: the {} of {} stand in courses.csv, and lay goes by them. To have courses\n\
         worked out, write forms.csv, as docs/formats.md says.\n",
        many(lines.hull.courses.len(), "course", "courses"),
        dir.told()
    )
}

/// What was understood of a table of offsets as it is printed.
fn understood(lines: &Lines) -> String {
    let mut text = String::new();
    for told in &lines.told {
        let points = || {
            lines
                .points
                .iter()
                .filter(|point| point.panel == told.panel)
        };
        let mut names: Vec<&str> = Vec::new();
        for point in points() {
            if !names.contains(&point.line.as_str()) {
                names.push(&point.line);
            }
        }
        text += &format!(
            "offsets.csv is a printed table: {} on {} of {}, in this order round the section:\n{}.\n",
            many(points().count(), "point", "points"),
            many(told.forms.len(), "form", "forms"),
            lines.hull.panel(told.panel).name,
            names.join(", ")
        );
    }
    text
}

/// The courses of every panel, what to look at, and what was written.
pub fn lines(dir: &Path, lines: &Lines, closing: &[Closing], files: &[&str]) -> String {
    let mut text = head(&lines.name);
    if lines.wide {
        text += &understood(lines);
    }
    for told in &lines.told {
        text += &panel(lines, told.panel);
        text += &bends(lines, told.panel);
    }
    let slivers = closings(lines, closing);
    if !slivers.is_empty() {
        text += &format!("\n{slivers}");
    }
    text += &format!("\n{}", written(dir, files));
    text += if lines.by_hand {
        "The planner goes by the courses.csv beside boat.toml, not by these; take it away to go by the forms again.\n"
    } else {
        "The planner goes by these courses. To change one, copy out/courses.csv beside boat.toml and edit it there:\n\
         it counts then, and the forms only say where their marks fall.\n"
    };
    text
}

fn panel(lines: &Lines, panel: PanelId) -> String {
    let of_panel = || {
        lines
            .laid
            .iter()
            .filter(move |laid| laid.course.panel == panel)
    };
    let strip: Length = of_panel()
        .map(|laid| laid.course.length * laid.course.sides().len() as f64)
        .sum();
    let strip = lines.unit.running(strip);
    let mut table = plain_table();
    table.set_header([
        "course", "from", "to", "length", "bow", "narrows", "stern", "narrows",
    ]);
    for laid in of_panel() {
        table.add_row(row(lines, laid));
    }
    to_the_right(&mut table, [0, 1, 2, 3, 5, 7]);
    let loose: Vec<String> = of_panel().filter_map(|laid| loose(lines, laid)).collect();
    let note = match loose.is_empty() {
        true => String::new(),
        false => format!(
            "Narrower than thick, so far from the tip; leave that part without glue until it is trimmed:\n  {}\n",
            loose.join("\n  ")
        ),
    };
    format!(
        "\n{}\n{}\n{note}",
        styled(
            HEAD,
            &format!(
                "{}: {}, {strip} of strip on both sides",
                lines.hull.panel(panel).name,
                many(of_panel().count(), "course", "courses")
            )
        ),
        table.trim_fmt()
    )
}

fn row(lines: &Lines, laid: &Laid) -> [String; 8] {
    let course = &laid.course;
    // To an eighth of an inch, so that the table fits a narrow terminal; out/courses.csv has them in full.
    let wood = |length: Length| match lines.unit {
        Unit::Mm => lines.unit.wood(length),
        Unit::Inch => {
            let eighths = (length.mm() * 8.0 / 25.4).round();
            lines.unit.wood(Length::from_mm(eighths * 25.4 / 8.0))
        }
    };
    let name = match course.kind {
        Kind::Mirrored => course.name().to_string(),
        Kind::Centre => format!("{} (C)", course.name()),
    };
    let narrows = |taper: &Option<Taper>| {
        let over = taper.as_ref().map(|taper| Length::from_mm(taper.length));
        over.map_or("-".into(), wood)
    };
    [
        name,
        wood(course.from.from_origin()),
        wood(course.to.from_origin()),
        wood(course.length),
        laid.bow.name().into(),
        narrows(&laid.bow_taper),
        laid.stern.name().into(),
        narrows(&laid.stern_taper),
    ]
}

/// `course 11: bow 60 mm, stern 65 mm`: how much of its ends is too narrow to be glued at once; `None` where nothing
/// is.
fn loose(lines: &Lines, laid: &Laid) -> Option<String> {
    let ends = [("bow", &laid.bow_taper), ("stern", &laid.stern_taper)];
    let loose = ends.into_iter().filter_map(|(end, taper)| {
        let taper = taper.as_ref()?;
        let sliver = lines.unit.wood(Length::from_mm(taper.sliver));
        taper
            .is_loose(lines.rules.thickness.mm())
            .then(|| format!("{end} {sliver}"))
    });
    let loose: Vec<String> = loose.collect();
    (!loose.is_empty()).then(|| format!("course {}: {}", laid.course.name(), loose.join(", ")))
}

/// The tightest bend of a panel, and how many joints would stand open.
fn bends(lines: &Lines, panel: PanelId) -> String {
    let crossings = lines
        .laid
        .iter()
        .filter(|laid| laid.course.panel == panel)
        .flat_map(|laid| laid.course.crossings.iter().map(move |c| (laid, c)));
    let bent: Vec<(&Laid, &Crossing, f64)> = crossings
        .filter_map(|(laid, crossing)| Some((laid, crossing, crossing.bevel?)))
        .collect();
    let tightest = bent
        .iter()
        .max_by(|one, other| one.2.abs().total_cmp(&other.2.abs()));
    let Some((laid, crossing, bevel)) = tightest else {
        return String::new();
    };
    let rules = &lines.rules;
    let opens = |bevel: f64| gape(rules.edges, rules.thickness.mm(), bevel);
    let mut text = format!(
        "Tightest between courses {} and {} at form {}: they turn by {:.1} degrees, a radius of {}.\n",
        laid.course.name(),
        next_beside(lines, laid, crossing),
        lines.hull.forms[crossing.form.0].name,
        bevel.abs(),
        lines
            .unit
            .shop(Length::from_mm(radius(rules.width.mm(), *bevel))),
    );
    let open = bent
        .iter()
        .filter(|(_, _, bevel)| opens(*bevel) > lines.gape.mm());
    let count = open.count();
    if count > 0 {
        let (most, care) = (
            lines.unit.rule(Length::from_mm(opens(*bevel))),
            look_at_this(),
        );
        let (limit, mend) = (lines.unit.rule(lines.gape), mend(lines));
        text += &format!(
            "{care} edges left as milled would stand open by more than {limit} at {}, by {most} at the worst.\n{mend}",
            many(count, "crossing", "crossings"),
        );
    }
    text
}

/// The name of the course that lies next to another where a form crosses it.
fn next_beside(lines: &Lines, laid: &Laid, crossing: &Crossing) -> CourseName {
    let x = lines.hull.forms[crossing.form.0].at;
    let next = CourseName {
        number: laid.course.number + 1,
        stretch: Stretch::Whole,
    };
    let abreast = |other: &&Laid| {
        let other = &other.course;
        (other.panel, other.number) == (laid.course.panel, next.number)
            && other.from <= x
            && x <= other.to
    };
    let there = lines.laid.iter().find(abreast);
    there.map_or(next, |there| there.course.name())
}

fn mend(lines: &Lines) -> &'static str {
    match lines.rules.edges {
        twinstrake::plan::Edges::Square => {
            "Bevel one edge of each pair by the angles of out/bevels.csv, or take narrower strips there.\n"
        }
        twinstrake::plan::Edges::BeadAndCove { .. } => {
            "Take narrower strips there, or ease the lip of the cove by the angles of out/bevels.csv.\n"
        }
    }
}
