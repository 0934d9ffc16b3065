//! What has happened so far, the latest first, and the way to tell anything in words.

use super::frame::{Screen, page};
use super::laying::{After, said, undo};
use super::refused::{self, Answer};
use super::seen::Seen;
use super::token;
use super::visit::Visit;
use crate::cli::say;
use maud::{Markup, html};
use twinstrake::log::live;

/// How many entries are shown. The others are in log.csv.
const SHOWN: usize = 200;

pub fn screen(visit: &Visit, seen: &Seen, after: &After) -> Answer {
    let shop = refused::in_shop(visit, seen)?;
    let entries = shop.reading.entries();
    let holds = live(entries);
    let broken = shop
        .planned
        .as_ref()
        .ok()
        .filter(|planned| !planned.verdict.is_good());
    let main = html! {
        h1 { "Record" }
        div #said { (said(visit, shop, after)) }
        @if let Some(planned) = broken { (refused::broken(&planned.verdict)) }
        @if visit.may_tell() { (in_words(&shop.id)) }
        h2 { "So far" }
        @if entries.is_empty() { p { "Nothing is told yet." } }
        ol.entries { @for n in (1..=entries.len()).rev().take(SHOWN) {
            @let entry = &entries[n - 1];
            li value=(n) {
                div {
                    @let told = say::entry(&shop.reading.job, entries, n);
                    p { @if holds[n - 1] { (told) } @else { s { (told) } " (undone)" } }
                    p.hint { (entry.time) @if !entry.note.is_empty() { " · " (entry.note) } }
                }
                @if holds[n - 1] && visit.may_tell() { (undo(&shop.id, n, "record")) }
            }
        } }
        @if entries.len() > SHOWN { p { "The " (entries.len() - SHOWN) " before are in log.csv." } }
    };
    Ok(page(visit, seen, Screen::Record, "Record", main))
}

/// A line of words, as on the command line.
fn in_words(id: &str) -> Markup {
    html! {
        form.happened method="post" action="/entry" data-entry data-said="in words" {
            input type="hidden" name="key" value=(token::key(id));
            input type="hidden" name="back" value="record";
            input type="hidden" name="kind" value="words";
            label for="words" { "Tell it in words" }
            p.hint #words-hint { "As: laid 12 port · cut D4 · broken D4 2210 · spoiled D4 1200-1260 · lost D4 · \
                found S9 3200 7 · shade D4 6 · taken up 12 port · undo 7" }
            input #words name="words" required maxlength="300" aria-describedby="words-hint"
                autocomplete="off" autocapitalize="off" spellcheck="false";
            label for="note" { "Note" }
            input #note name="note" maxlength="500" autocomplete="off";
            button { "Write it down" }
        }
    }
}
