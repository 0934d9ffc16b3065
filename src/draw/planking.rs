//! The planking: the whole skin of the boat, opened flat.

use super::fit::{cut_off, width};
use super::ruler::rulers;
use super::scene::{Group, Item, Line, Outline, Scene, Set, Shape, Stroke, Text, Weight};
use super::sheet::{MARGIN, Row, Sheet, WIDTH};
use super::{bands, forms, ink, legend, marks, pieces, sheet, steps, wants, zones};
use crate::check::Verdict;
use crate::job::Job;
use crate::plan::Plan;
use crate::units::{Length, Unit, counted};

/// The scene of the planking.
pub fn scene(job: &Job, plan: &Plan, verdict: &Verdict) -> Scene {
    let sheet = Sheet::of(job);
    let filled = pieces::filled(job, plan, &sheet);
    let joints: Vec<zones::Spans> = filled.iter().map(pieces::Filled::joints).collect();
    let zones = zones::zones(job, &sheet, &joints);
    let mut items = vec![heading(job, plan, verdict, &sheet)];
    items.extend(rulers(&sheet, job.unit));
    items.push(centreline(job, &sheet));
    items.extend(bands::names(job, &sheet));
    items.extend(wants::wants(job, &sheet));
    for row in &filled {
        if row.pieces.is_empty() {
            items.push(pieces::open(job, &sheet, &row.row));
        }
        for drawn in &row.pieces {
            let at = plan
                .pieces
                .iter()
                .position(|p| std::ptr::eq(p, drawn.piece));
            items.push(pieces::wood(job, at.map_or(0, |at| at + 1), drawn));
        }
    }
    items.extend(sheet.blanks.iter().map(|row| blank(job, &sheet, row)));
    items.extend(forms::forms(job, &sheet));
    items.extend(zones.areas);
    for (row, taken) in filled.iter().zip(&zones.taken) {
        items.push(row_ends(job, &sheet, &row.row));
        for drawn in &row.pieces {
            items.extend(pieces::lettering(job, sheet.pitch, &row.row, drawn, taken));
        }
    }
    items.extend(zones.names);
    items.extend(steps::largest(job, verdict, &sheet));
    items.push(legend::legend(&sheet, !job.wants.is_empty()));
    sheet.scene(format!("Planking of {}", job.name), items)
}

fn heading(job: &Job, plan: &Plan, verdict: &Verdict, sheet: &Sheet) -> Item {
    let room = WIDTH - 2.0 * MARGIN;
    let name = cut_off(&job.name, 7.0, Weight::Bold, room);
    let scale = format!(
        "The skin of both sides opened flat, seen from outside, bow to the left. Lengths 1 : {:.0}, widths not to \
        scale, allowances not drawn.",
        sheet.scale()
    );
    let mut counts = vec![
        counted(job.hull.courses.len(), "course"),
        counted(plan.pieces.len(), "piece"),
        counted(verdict.joints, "joint"),
        format!("{} cut", counted(verdict.strips_cut, "strip")),
    ];
    if !plan.uncovered.is_empty() {
        counts.push(format!("{} open", counted(plan.uncovered.len(), "course")));
    }
    let mut items = sheet::heading(name, &scale, counts.join(", "));
    if !verdict.is_good() {
        let text = format!(
            "Not a good plan: {} of the rules",
            many_breaches(verdict.breaches.len())
        );
        items.push(
            Text::new(text, (WIDTH - MARGIN, 18.0), 4.0, ink::RED)
                .set(Set::Right)
                .bold()
                .into(),
        );
    }
    items.extend(paper_it_takes(job.unit, sheet));
    Item::Group(Group::of("heading", items))
}

/// What to print a drawing on that is taller than A3, in its upper right corner.
pub fn paper_it_takes(unit: Unit, sheet: &Sheet) -> Option<Item> {
    let words = paper(unit, sheet.height)?;
    let text = Text::new(words, (WIDTH - MARGIN, 12.0), 2.8, ink::PENCIL);
    Some(text.set(Set::Right).into())
}

/// The same in words; on A3 those of the drawing could not be read. Source of the sizes: ISO 216.
fn paper(unit: Unit, height: f64) -> Option<String> {
    let sizes = [
        ("A3", 420.0, 297.0),
        ("A2", 420.0, 594.0),
        ("A1", 594.0, 841.0),
        ("A0", 841.0, 1189.0),
    ];
    let roll = format!("a roll {WIDTH:.0} mm wide");
    let on = match sizes
        .iter()
        .find(|(_, wide, tall)| *wide >= WIDTH && *tall >= height)
    {
        Some(("A3", ..)) => return None,
        _ if unit == Unit::Inch => {
            let [wide, tall] = [WIDTH, height].map(|mm| unit.shop(Length::from_mm(mm)));
            return Some(format!(
                "Print this at its size, {wide} x {tall}: on a roll {wide} wide. On 11 x 17 it is too small to read."
            ));
        }
        Some((name, ..)) => format!("{name}, or {roll}"),
        None => roll,
    };
    Some(format!(
        "Print this at its size, {WIDTH:.0} x {height:.0} mm: on {on}. On A3 it is too small to read."
    ))
}

fn many_breaches(count: usize) -> String {
    match count {
        1 => "1 breach".into(),
        count => format!("{count} breaches"),
    }
}

/// The centreline, on both sides of a course that lies on it.
fn centreline(job: &Job, sheet: &Sheet) -> Item {
    let y = sheet.centreline;
    let (left, right) = (MARGIN + 8.0, WIDTH - MARGIN);
    let line = Line {
        ink: ink::SOFT,
        width: 0.2,
        stroke: Stroke::Broken(7.0, 1.6),
    };
    let astride = |row: &&Row| row.top < y && row.top + sheet.pitch > y;
    let ends = sheet.rows.iter().find(astride).map(|row| {
        let course = job.hull.course(row.course);
        (sheet.x(course.from), sheet.x(course.to))
    });
    let parts = match ends {
        Some((bow, stern)) => vec![(left, bow - 14.0), (stern + 9.0, right)],
        None => vec![(left, right)],
    };
    let parts = parts.into_iter().filter(|(from, to)| from < to);
    let lines = parts.map(|(from, to)| Shape::drawn(Outline::Straight((from, y), (to, y)), line));
    Item::Group(Group::of("centreline", lines.collect()))
}

/// The place where a centre course would lie, had it a starboard side.
fn blank(job: &Job, sheet: &Sheet, row: &Row) -> Item {
    let course = job.hull.course(row.course);
    let words = format!(
        "course {} is laid once, on the centreline: drawn at the top",
        course.name()
    );
    let size = (sheet.pitch * 0.62).min(2.8);
    let at = (
        sheet.x(course.from),
        row.top + sheet.pitch / 2.0 + size * 0.36,
    );
    let text = Text::new(words, at, size, ink::SOFT);
    Item::Group(Group::of("blank", vec![text.into()]))
}

/// Mark and course number at the bow, the number again at the stern.
pub fn row_ends(job: &Job, sheet: &Sheet, row: &Row) -> Item {
    let course = job.hull.course(row.course);
    let (bow, stern) = (sheet.x(course.from), sheet.x(course.to));
    let middle = row.top + sheet.pitch / 2.0;
    let size = (sheet.pitch * 0.74).min(3.2);
    let base = middle + size * 0.36;
    let tall = (sheet.pitch - 0.3).min(4.6);
    let number = course.name().to_string();
    let half = width(&number, size, Weight::Bold);
    let mark = bow - 1.0 - tall * marks::WIDE / 2.0;
    let before = mark - tall * marks::WIDE / 2.0 - 0.8;
    Item::Group(Group {
        kind: "row",
        facts: vec![
            ("panel", job.hull.panel(course.panel).name.clone()),
            ("course", number.clone()),
            ("side", row.side.name().into()),
        ],
        told: None,
        items: vec![
            marks::mark(row.side, (mark, middle), tall),
            Text::new(number.clone(), (before, base), size, ink::PENCIL)
                .set(Set::Right)
                .bold()
                .into(),
            Text::new(number, (stern + 1.0 + half, base), size, ink::SOFT)
                .set(Set::Right)
                .into(),
        ],
    })
}

#[cfg(test)]
mod tests {
    use super::{Unit, paper};

    #[test]
    fn a_drawing_taller_than_a3_says_what_paper_it_takes() {
        assert_eq!(paper(Unit::Mm, 297.0), None);
        let words = |height| paper(Unit::Mm, height).unwrap_or_default();
        assert!(words(500.0).contains("on A2, or a roll 420 mm wide"));
        assert!(words(700.0).contains("420 x 700 mm: on A1, or"));
        assert!(words(1500.0).contains(": on a roll 420 mm wide."));
        // 508 mm are 20 in, 420 mm 16 9/16.
        let inches = paper(Unit::Inch, 508.0).unwrap_or_default();
        assert!(inches.contains("16 9/16\" x 20\": on a roll"), "{inches}");
    }
}
