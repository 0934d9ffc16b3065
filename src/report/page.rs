//! The page as a whole: what stands where, and the style and the script that go with it.

use super::{Report, cost, cuts, marks, order, picture, seams, spare};
use maud::{DOCTYPE, Markup, PreEscaped, html};

const STYLE: &str = include_str!("style.css");
const SCRIPT: &str = include_str!("script.js");
/// Nothing is fetched, whatever a name in a file may hold.
const POLICY: &str =
    "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; img-src data:";

pub(super) fn page(report: &Report<'_>) -> Markup {
    let name = &report.job.name;
    html! {
        (DOCTYPE)
        html lang="en" {
            (head(&format!("{name}: planking report"), POLICY, STYLE))
            body {
                a.skip href="#seams" { "Skip the picture" }
                (marks::shapes())
                header {
                    h1 { (name) }
                    (in_a_sentence(report))
                    (picture::wood(report))
                    nav aria-label="Parts of this page" { ul {
                        @for (id, title) in parts(report) {
                            li { a href={ "#" (id) } { (title) } }
                        }
                    } }
                }
                main {
                    (short(report))
                    (shortage(report))
                    (picture::section(report))
                    (seams::section(report))
                    (order::section(report))
                    (cuts::section(report))
                    (spare::section(report))
                    (cost::section(report))
                    (inputs(report))
                }
                footer { p {
                    "Made by twinstrake " (env!("CARGO_PKG_VERSION")) ", which plans looks and lengths. Whether \
                    strips are sound, scarfs long enough and the \
                     boat fit for its water is for a competent person to judge. Sawing and sanding: draw off the dust \
                     where it arises and \
                     wear a mask made for it; follow the manual of the saw, and the data sheets of resin and glue."
                } }
                script { (PreEscaped(SCRIPT)) }
            }
        }
    }
}

/// The head of a page that stands by itself in one file.
pub(crate) fn head(title: &str, policy: &str, style: &str) -> Markup {
    html! {
        head {
            meta charset="utf-8";
            meta name="viewport" content="width=device-width, initial-scale=1";
            meta name="color-scheme" content="light dark";
            meta http-equiv="Content-Security-Policy" content=(policy);
            title { (title) }
            style { (PreEscaped(style)) }
        }
    }
}

fn parts(report: &Report<'_>) -> Vec<(&'static str, &'static str)> {
    let mut parts = vec![("short", "In short")];
    if report.shortage.is_some() {
        parts.push(("shortage", "Wood that is missing"));
    }
    parts.extend([
        ("picture", "Picture"),
        ("seams", "Worst seams"),
        ("order", "Order of laying"),
        ("cuts", "Cut list"),
        ("spare", "Spare wood"),
        ("cost", "Cost"),
        ("inputs", "Made from"),
    ]);
    parts
}

/// Whether the plan is good, before anything else.
fn in_a_sentence(report: &Report<'_>) -> Markup {
    let all = report.job.hull.courses.len();
    let open = report.plan.uncovered.len();
    let breaches = &report.verdict.breaches;
    html! {
        p.verdict {
            @if breaches.is_empty() { "The plan keeps every rule. " }
            @else { strong { "The plan breaks the rules in " (breaches.len()) " places. " } }
            @if open == 0 { "It covers all " (all) " courses." }
            @else { strong { "It leaves " (open) " of " (all) " courses open." } }
        }
        @if !breaches.is_empty() {
            ul { @for breach in breaches { li { (breach) } } }
        }
    }
}

fn short(report: &Report<'_>) -> Markup {
    html! {
        section #short aria-labelledby="short-title" {
            h2 #short-title { "In short" }
            dl.facts {
                @for (word, fact) in report.facts {
                    div { dt { (word) } dd { @for line in fact.lines() { span { (line) } } } }
                }
            }
        }
    }
}

/// The lines of the terminal as paragraphs, those set in as lists.
fn shortage(report: &Report<'_>) -> Markup {
    let Some(shortage) = report.shortage else {
        return html! {};
    };
    let mut parts: Vec<(&str, Vec<&str>)> = Vec::new();
    for line in shortage.lines() {
        match (line.strip_prefix("  "), parts.last_mut()) {
            (Some(set_in), Some((_, list))) => list.push(set_in.trim_start()),
            _ => parts.push((line, Vec::new())),
        }
    }
    html! {
        section #shortage aria-labelledby="shortage-title" {
            h2 #shortage-title { "Wood that is missing" }
            @for (said, list) in parts {
                p { (said) }
                @if !list.is_empty() { ul { @for line in list { li { (line) } } } }
            }
        }
    }
}

fn inputs(report: &Report<'_>) -> Markup {
    html! {
        section #inputs aria-labelledby="inputs-title" {
            h2 #inputs-title { "Made from" }
            p { "These files of the job, as they were. A file that has changed since has another SHA-256; then lay \
            again. Printed sheets of \
                 this plan carry the first eight figures of that of its laying \
                 order: " strong { (report.sha256.get(..8).unwrap_or("")) } "." }
            div.wide tabindex="0" role="region" aria-labelledby="inputs-title" { table {
                thead { tr { th scope="col" { "File" } th scope="col" { "SHA-256" } } }
                tbody {
                    @for input in report.inputs {
                        tr { th scope="row" { (input.file) } td { code { (input.sha256) } } }
                    }
                    tr { th scope="row" { "the plan: laying-order.csv" } td { code { (report.sha256) } } }
                }
            } }
        }
    }
}
