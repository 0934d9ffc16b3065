//! out/laying-order.csv, read back: the rows that the checker judges.

use super::Job;
use super::complaint::Complaint;
use super::facts::{SIDES, facts};
use super::files::{is_a_folder, unreadable};
use super::found::Found;
use super::names::Names;
use super::table::{Form, Row, Rows, each_row};
use crate::disk;
use crate::hull::CourseId;
use crate::log::Spot;
use crate::plan::{Piece, Plan};
use std::collections::BTreeMap;
use std::io::ErrorKind;
use std::path::Path;

const FILE: &str = "out/laying-order.csv";

/// How many plans to choose from there can be.
const CHOICES: usize = 9;

/// The last four are for people: they say nothing that the other columns don't.
pub const COLUMNS: [&str; 18] = [
    "order",
    "panel",
    "course",
    "side",
    "piece",
    "strip",
    "mate",
    "from",
    "to",
    "cut_from",
    "cut_to",
    "bow_end",
    "next_edge",
    "face_out",
    "mark",
    "promised",
    "cut_from_64",
    "cut_to_64",
];

const FORM: Form = Form {
    file: FILE,
    columns: &COLUMNS,
    required: COLUMNS.split_at(COLUMNS.len() - 4).0,
    // Where the wood covers no course at all, the laying order is a header alone.
    rows: Rows::MayBeNone,
};

/// Reads the laying order of a job back: its pieces by their `order`, whatever the order of the rows. Courses without
/// a row are those left uncovered, and so are those that have no other rows than pieces laid already, if not all of
/// those that it takes. Whether the plan keeps the rules is not asked here: that is the checker's.
///
/// Errors: everything that is wrong with the file, sorted by line.
pub fn read_plan(dir: &Path, job: &Job) -> Result<Plan, Vec<Complaint>> {
    read_from(dir, FILE, job, "there is no plan yet", "Lay the job first.")
}

/// Reads one of the plans that were laid to choose from, by its number, the same way.
///
/// Errors: there is no plan of that number, or everything that is wrong with its laying order.
pub fn read_choice(dir: &Path, number: usize, job: &Job) -> Result<Plan, Vec<Complaint>> {
    let mend = "Lay the job with --choices first, and pick one of the numbers it tells.";
    if !(1..=CHOICES).contains(&number) {
        let wrong = format!("there is no plan {number} to pick");
        return Err(vec![Complaint::of("out/choices", wrong, mend)]);
    }
    let file = format!("out/choices/{number}/laying-order.csv");
    read_from(dir, &file, job, "there is no such plan to pick", mend)
}

fn read_from(
    dir: &Path,
    file: &str,
    job: &Job,
    missing: &str,
    mend: &str,
) -> Result<Plan, Vec<Complaint>> {
    is_a_folder(dir)?;
    let bytes = match disk::read(&dir.join(file)) {
        Ok(bytes) => bytes,
        Err(error) if error.kind() == ErrorKind::NotFound => {
            return Err(vec![Complaint::of(file, missing, mend)]);
        }
        Err(error) => return Err(vec![unreadable(file, &error)]),
    };
    let mut found = Found::default();
    let pieces = rows(&bytes, file, job, &mut found);
    if !found.complaints.is_empty() {
        return Err(found.told().0);
    }
    Ok(with_left_out(job, pieces))
}

/// The same for an earlier plan, kept somewhere in the job folder: rows that can't be read any more, because their
/// strip or course is gone, are passed over. `None` where there is no such file, or nothing in it can be read.
pub fn read_earlier(dir: &Path, file: &str, job: &Job) -> Option<Plan> {
    let bytes = disk::read(&dir.join(file)).ok()?;
    let pieces = rows(&bytes, FILE, job, &mut Found::default());
    (!pieces.is_empty()).then(|| with_left_out(job, pieces))
}

fn rows(bytes: &[u8], file: &str, job: &Job, found: &mut Found) -> Vec<Piece> {
    let form = Form { file, ..FORM };
    let names = Names::of(job);
    let mut pieces: BTreeMap<u32, Piece> = BTreeMap::new();
    let mut lines: BTreeMap<u32, usize> = BTreeMap::new();
    each_row(&form, bytes, job.unit, found, |row, found| {
        let order = order(row, &mut lines, found);
        let piece = piece(row, &names, found);
        if let (Some(order), Some(piece)) = (order, piece) {
            pieces.insert(order, piece);
        }
    });
    if found.complaints.is_empty() {
        complain_of_holes(file, &lines, found);
    }
    pieces.into_values().collect()
}

fn with_left_out(job: &Job, pieces: Vec<Piece>) -> Plan {
    let uncovered = job
        .hull
        .courses()
        .map(|(id, _)| id)
        .filter(|id| left_out(job, &pieces, *id))
        .collect();
    Plan { pieces, uncovered }
}

/// Whether a course has no rows but those of pieces that are laid, and these don't cover it: then the wood for the
/// rest is missing.
fn left_out(job: &Job, pieces: &[Piece], id: CourseId) -> bool {
    let laid = |piece: &Piece| {
        let spot = (piece.course, piece.side, piece.number);
        let mut all = job.laid.iter();
        all.any(|laid| (laid.course, laid.side, laid.number) == spot)
    };
    let here: Vec<&Piece> = pieces.iter().filter(|piece| piece.course == id).collect();
    let course = job.hull.course(id);
    let ends = |side| {
        let last = here
            .iter()
            .filter(|piece| piece.side == side)
            .map(|piece| piece.to.nm());
        last.max().is_some_and(|to| to >= course.length.nm())
    };
    here.iter().all(|piece| laid(piece)) && !course.sides().iter().all(|side| ends(*side))
}

fn order(row: &Row<'_>, lines: &mut BTreeMap<u32, usize>, found: &mut Found) -> Option<u32> {
    let cell = row.cell("order");
    let order = cell.counted(found)?;
    if let Some(first) = lines.get(&order) {
        return cell.refuse(
            found,
            format!("is there twice: line {first} has the same number"),
            "Number the rows 1, 2, 3 and so on in the order of laying.",
        );
    }
    lines.insert(order, row.line);
    Some(order)
}

fn complain_of_holes(file: &str, lines: &BTreeMap<u32, usize>, found: &mut Found) {
    for (expected, (order, line)) in (1_u32..).zip(lines) {
        if *order != expected {
            let wrong = format!("comes after a hole: row {expected} is missing");
            let complaint = Complaint::of(
                file,
                wrong,
                "Number the rows 1, 2, 3 and so on in the order of laying.",
            );
            found.complain(
                complaint
                    .at(*line)
                    .under("order")
                    .showing(order.to_string()),
            );
            return;
        }
    }
}

fn piece(row: &Row<'_>, names: &Names<'_>, found: &mut Found) -> Option<Piece> {
    let course = names.course(row, found);
    let side = row.cell("side").word(&SIDES, found);
    let number = row.cell("piece").counted(found);
    let strip = names.strip(&row.cell("strip"), found);
    let mate = match row.cell("mate") {
        cell if cell.is_empty() => Some(None),
        cell => names.strip(&cell, found).map(Some),
    };
    let facts = facts(row, found)?;
    let spot = Spot {
        course: course?,
        side: side?,
        number: number?,
    };
    Some(facts.piece(spot, strip?, mate?))
}
