//! The files of the job: each sheet as a table, boat.toml as text; changed here, judged with the whole job, and saved
//! whole.

mod keys;
mod save;
mod versions;

pub use save::{Sent, save, save_keys, upload};

use super::frame::{Screen, page};
use super::refused::{self, Answer};
use super::seen::Seen;
use super::visit::Visit;
use axum::http::header;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use save::is_of;
use serde::Deserialize;
use std::path::Path;
use twinstrake::disk;
use twinstrake::job::{self, Cells, Complaint};
use versions::{OnDisk, before, named};

/// A table with more cells is edited as text only.
const MOST_CELLS: usize = 12_000;
/// Empty rows at the end of a table, to be filled.
const SPARE_ROWS: usize = 3;
/// Versions before that are shown.
const SHOWN: usize = 12;

/// What each file holds, in the order of [`job::BY_HAND`].
const ABOUT: [&str; 8] = [
    "Sizes, rules, panels, zones and wants.",
    "The forms, and the girth of every panel at each.",
    "Points on the skin at each form.",
    "Every row of planking and its length, where it is not worked out from forms.",
    "Every board, and what its slices have in common.",
    "Every strip in the rack, or those that differ.",
    "Which photograph shows which slices.",
    "The colour of each strip as it was photographed.",
];

fn file(number: usize) -> Option<&'static str> {
    job::BY_HAND.get(number).copied()
}

/// All of them.
pub fn list(visit: &Visit, seen: &Seen) -> Response {
    let complaints = seen.state.as_ref().err();
    let main = html! {
        h1 { "Files" }
        @if let Some(complaints) = complaints {
            p.care { "The job can't be read as it is:" }
            (refused::list(complaints))
        }
        ul.pieces.files { @for (number, (file, about)) in job::BY_HAND.iter().zip(ABOUT).enumerate() {
            @let there = job::names_there(&seen.dir, file);
            li { a href={ "/files/" (number) } {
                strong { (there.first().map_or(*file, String::as_str)) }
                span { (about) }
                @if there.is_empty() { em { "not there" } }
            } }
        } }
        p.hint { "What is told is in log.csv, and shown under Record." }
    };
    page(visit, seen, Screen::Files, "Files", main)
}

/// Whether the file was just saved: anything but nothing.
#[derive(Deserialize, Default)]
pub struct Saved {
    saved: Option<String>,
}

/// What is shown in the editor besides the file itself.
#[derive(Default)]
struct Shown {
    /// What was sent, where it was not saved.
    text: Option<String>,
    complaints: Vec<Complaint>,
    /// Somebody else has changed the file since.
    is_changed: bool,
    is_saved: bool,
}

/// One of them, to be looked at and changed.
pub fn one(visit: &Visit, seen: &Seen, number: usize, saved: &Saved) -> Answer {
    let shown = Shown {
        is_saved: saved.saved.is_some(),
        complaints: seen.state.as_ref().err().cloned().unwrap_or_default(),
        ..Shown::default()
    };
    editor(visit, seen, number, &shown)
}

fn editor(visit: &Visit, seen: &Seen, number: usize, shown: &Shown) -> Answer {
    let file = file(number).ok_or_else(|| refused::nothing_here(visit, seen))?;
    let there = OnDisk::of(&seen.dir, file);
    let is_sheet = file != job::BY_HAND[0];
    let bytes = there.bytes.as_deref();
    let as_it_is = bytes.map(|bytes| as_text(file, &there.name, bytes));
    let (text, unread) = match (&shown.text, as_it_is.clone()) {
        (Some(text), _) => (text.clone(), Vec::new()),
        (None, Some(Ok(text))) => (text, Vec::new()),
        (None, Some(Err(complaints))) => (String::new(), complaints),
        (None, None) => (begun(file), Vec::new()),
    };
    let as_cells = || job::cells(file, file, text.as_bytes()).ok();
    let cells = is_sheet.then(as_cells).flatten();
    let may_write = visit.may_tell();
    let as_form = || keys::fields(&text).ok();
    let form = (!is_sheet && may_write).then(as_form).flatten();
    let all = shown.complaints.iter();
    let of_this: Vec<&Complaint> = all
        .filter(|complaint| is_of(complaint, file, &there.name))
        .collect();
    let others = shown.complaints.len() - of_this.len();
    let edit = Edit {
        number,
        file,
        digest: there.digest(),
        may_write,
        is_forced: !shown.complaints.is_empty() && shown.text.is_some(),
        is_changed: shown.is_changed,
    };
    let main = html! {
        h1 { (there.name) }
        p { (ABOUT[number]) }
        @if shown.is_saved { p.written role="status" { "On the disk." } }
        @if shown.is_changed {
            div.care role="alert" { p { "Somebody else has changed this file since you opened it. Nothing was \
                written. Below is yours; this is what is on the disk now:" } }
            @if let Some(Ok(theirs)) = &as_it_is {
                div.told tabindex="0" role="region" aria-label="What is on the disk now" { pre { (theirs) } }
            }
        } @else if shown.text.is_some() && !shown.complaints.is_empty() {
            p.care role="alert" { "Nothing was written yet. This would be wrong with the job:" }
        }
        @for complaint in &unread { p.care { (complaint) } }
        @if !of_this.is_empty() { ul.complaints { @for complaint in &of_this { li { (complaint) } } } }
        @if others > 0 { p.care { (others) " more in other files: " a href="/files" { "look at all" } "." } }
        @if let Some(form) = &form {
            form.happened method="post" action={ "/files/" (number) "/keys" } {
                (edit.fields())
                (form)
                p.hint { "A field that is emptied takes its key out. Zones and wants are edited as text, below." }
                (edit.buttons())
            }
        }
        @if job::is_spreadsheet(&there.name) && may_write {
            p.hint { "This is a spreadsheet. Saved from here it becomes " (file) ", and the spreadsheet is kept \
                among the versions before." }
        }
        @match cells {
            Some(cells) if cells.rows.iter().map(|(_, row)| row.len()).sum::<usize>() <= MOST_CELLS => {
                (table(&edit, &cells, &of_this))
                details { summary { "As text" } (as_text_form(&edit, &text)) }
            },
            _ => (as_text_form(&edit, &text)),
        }
        (other_ways(&edit, &there, &seen.dir, is_sheet))
    };
    Ok(page(visit, seen, Screen::Files, file, main))
}

/// What all forms of an editor have in common.
struct Edit {
    number: usize,
    file: &'static str,
    digest: String,
    may_write: bool,
    is_forced: bool,
    is_changed: bool,
}

impl Edit {
    fn fields(&self) -> Markup {
        html! { input type="hidden" name="digest" value=(self.digest); }
    }

    fn buttons(&self) -> Markup {
        html! {
            div.choose {
                button.act { @if self.is_changed { "Save mine over it" } @else { "Save" } }
                @if self.is_forced && !self.is_changed {
                    button name="force" value="yes" { "Save it all the same" }
                }
            }
        }
    }
}

/// The sheet as a table of fields. Its script makes text of it when it is sent.
fn table(edit: &Edit, cells: &Cells, complaints: &[&Complaint]) -> Markup {
    let wide = cells.rows.iter().map(|(_, row)| row.len()).max();
    // One more, for a column that is not there yet.
    let wide = wide.unwrap_or(0) + usize::from(edit.may_write);
    let header: &[String] = cells.rows.first().map_or(&[], |(_, row)| row);
    let name = |at: usize| header.get(at).map_or("", String::as_str);
    let wrong = |line: usize, at: usize| {
        let here = |one: &&&Complaint| {
            let column = one
                .column
                .as_deref()
                .and_then(|column| cells.column(column));
            one.line == Some(line) && column == Some(at)
        };
        let all: Vec<String> = complaints
            .iter()
            .filter(here)
            .map(|one| format!("{}. {}", one.wrong, one.mend))
            .collect();
        (!all.is_empty()).then(|| all.join(" "))
    };
    let last = cells.rows.last().map_or(1, |(line, _)| *line);
    let spare = (1..=SPARE_ROWS).map(|n| (last + n, Vec::new()));
    let rows: Vec<(usize, Vec<String>)> = cells.rows.iter().skip(1).cloned().chain(spare).collect();
    html! {
        form.sheet method="post" action={ "/files/" (edit.number) "/save" } data-sheet
            data-delimiter=(cells.delimiter) {
            (edit.fields())
            textarea name="text" hidden aria-label="The sheet as text" {}
            div.moved tabindex="0" role="region" aria-label=(edit.file) { table {
                thead { tr {
                    th scope="col" { "Line" }
                    @for at in 0..wide { th scope="col" {
                        input value=(name(at)) aria-label={ "Name of column " (at + 1) } readonly[!edit.may_write];
                    } }
                } }
                tbody { @for (line, row) in &rows { tr {
                    th scope="row" { (line) }
                    @for at in 0..wide {
                        @let wrong = wrong(*line, at);
                        @let id = format!("wrong-{line}-{at}");
                        td {
                            input value=(row.get(at).map_or("", String::as_str))
                                aria-label={ (name(at)) ", line " (line) } readonly[!edit.may_write]
                                aria-invalid=[wrong.is_some().then_some("true")]
                                aria-describedby=[wrong.is_some().then_some(&id)];
                            @if let Some(wrong) = wrong { p.care id=(id) { (wrong) } }
                        }
                    }
                } } }
            } }
            @if edit.may_write {
                p.hint { "What is copied in a spreadsheet can be pasted into any field. An empty row is passed over." }
                div.choose { button type="button" data-more { "More rows" } }
                (edit.buttons())
            }
        }
    }
}

fn as_text_form(edit: &Edit, text: &str) -> Markup {
    let id = format!("text-{}", edit.number);
    html! {
        form.happened method="post" action={ "/files/" (edit.number) "/save" } {
            (edit.fields())
            label for=(id) { "The file as text" }
            textarea id=(id) name="text" rows="18" spellcheck="false" autocapitalize="off" autocomplete="off"
                wrap="off" readonly[!edit.may_write] { "\n" (text) }
            @if edit.may_write { (edit.buttons()) }
        }
    }
}

/// Uploads, downloads and versions before.
fn other_ways(edit: &Edit, there: &OnDisk, dir: &Path, is_sheet: bool) -> Markup {
    let before = before(dir, edit.file);
    html! {
        h2 { "As a file" }
        @if there.bytes.is_some() {
            @let from = format!("/files/{}/file", edit.number);
            p { a.button href=(from) download=(there.name) { "Save " (there.name) " here" } }
        }
        @if edit.may_write {
            div.scan data-upload={ "/files/" (edit.number) "/file" } data-digest=(edit.digest) {
                label for="upload" { "Put a file in its place" @if is_sheet { " (.csv, .xlsx or .ods)" } }
                input #upload type="file" accept=(if is_sheet { ".csv,.xlsx,.ods" } else { ".toml" });
                p #uploaded role="status" {}
            }
        }
        @if !before.is_empty() {
            h2 { "Versions before" }
            ul { @for (number, path) in before.iter().rev().take(SHOWN) {
                @let name = named(path);
                li { a href={ "/files/" (edit.number) "/before/" (number) } download=(name) { (name) } }
            } }
        }
    }
}

/// A sheet that is not there yet: its header.
fn begun(file: &str) -> String {
    let columns = job::columns(file);
    match columns.is_empty() {
        true => String::new(),
        false => format!("{}\n", columns.join(",")),
    }
}

/// A file as text; a spreadsheet as the text that its sheet would be.
fn as_text(file: &str, name: &str, bytes: &[u8]) -> Result<String, Vec<Complaint>> {
    if !job::is_spreadsheet(name) {
        return match bytes.is_empty() {
            true => Ok(begun(file)),
            false => job::text(name, bytes),
        };
    }
    let cells = job::cells(file, name, bytes)?;
    let mut sheet = csv::WriterBuilder::new()
        .flexible(true)
        .from_writer(Vec::new());
    for (_, row) in &cells.rows {
        // Writing to memory can't fail.
        let _ = sheet.write_record(row);
    }
    let bytes = sheet.into_inner().unwrap_or_default();
    Ok(String::from_utf8(bytes).unwrap_or_default())
}

/// A file of the job, to be kept elsewhere.
pub fn download(visit: &Visit, seen: &Seen, number: usize) -> Answer {
    let there = file(number).map(|file| OnDisk::of(&seen.dir, file));
    let there = there.and_then(|there| Some((there.name, there.bytes?)));
    to_keep(visit, seen, there)
}

/// One of its versions before.
pub fn version_before(visit: &Visit, seen: &Seen, number: usize, version: usize) -> Answer {
    let mut all = file(number).map_or(Vec::new(), |file| before(&seen.dir, file));
    all.retain(|(its, _)| *its == version);
    let there = all.first();
    let there = there.and_then(|(_, path)| Some((named(path), disk::read(path).ok()?)));
    to_keep(visit, seen, there)
}

fn to_keep(visit: &Visit, seen: &Seen, there: Option<(String, Vec<u8>)>) -> Answer {
    let (name, bytes) = there.ok_or_else(|| refused::nothing_here(visit, seen))?;
    let name = format!("attachment; filename=\"{name}\"");
    let fields = [
        (header::CONTENT_TYPE, "application/octet-stream".to_owned()),
        (header::CONTENT_DISPOSITION, name),
    ];
    Ok((fields, bytes).into_response())
}
