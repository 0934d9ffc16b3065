//! The hull as one page that needs no network: turned by hand, in a light that can be moved.

use crate::check::Verdict;
use crate::draw::{self, Picture, svg};
use crate::hull::{Kind, Side};
use crate::job::Job;
use crate::plan::Plan;
use crate::report::head;
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use maud::{DOCTYPE, Markup, PreEscaped, html};

const STYLE: &str = include_str!("page/hull.css");
const SCRIPT: &str = include_str!("page/hull.js");
/// Made from three.entry.js; docs/licences says how, and under which licence it stands.
const THREE: &str = include_str!("page/three.iife.js");
/// Nothing is fetched, whatever a name in a file may hold.
const POLICY: &str =
    "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; img-src data:";

/// The page around a hull that was written as glTF.
pub fn write(job: &Job, plan: &Plan, verdict: &Verdict, glb: &[u8], photographed: bool) -> String {
    let name = &job.name;
    let flat = svg::element(
        &Picture::Wood.scene(job, plan, verdict),
        draw::hull(job),
        "img",
        &|_| None,
    );
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            (head(&format!("{name}: the hull"), POLICY, STYLE))
            body {
                header { h1 { (name) } }
                figure #flat {
                    (PreEscaped(flat))
                    figcaption {
                        "The skin of both sides laid flat along the keel, bow to the left. "
                        span #why { "To turn the hull itself, open this page with scripts allowed." }
                    }
                }
                main #hull hidden {
                    canvas tabindex="0"
                        aria-label="The hull. Arrow keys turn it, plus and minus come nearer and go away." {}
                    (controls(job, plan))
                    p #told role="status" { "Tap a piece to read what it is." }
                    p.hint { "Drag to turn, pinch or roll to come nearer. " (figure(photographed)) }
                    (courses(job))
                }
                script #glb type="application/octet-stream" { (PreEscaped(STANDARD.encode(glb))) }
                script { (PreEscaped(THREE)) }
                script { (PreEscaped(SCRIPT)) }
            }
        }
    };
    page.into_string()
}

/// Where the figure that is seen comes from.
fn figure(photographed: bool) -> &'static str {
    match photographed {
        true => "Where a strip was photographed its own figure is seen; all else is drawn freely.",
        false => {
            "The figure is drawn freely, but it runs on, mirrors and breaks where the wood's own will."
        }
    }
}

fn controls(job: &Job, plan: &Plan) -> Markup {
    let choice = |group: &str, value: &str, words: &str, on: bool| {
        html! {
            label { input type="radio" name=(group) value=(value) checked[on]; (words) }
        }
    };
    html! {
        form #controls {
            fieldset {
                legend { "Side" }
                (choice("side", "both", "both", true))
                (choice("side", "port", "port", false))
                (choice("side", "starboard", "starboard", false))
            }
            fieldset {
                legend { "Keel" }
                (choice("keel", "up", "up, as it is planked", true))
                (choice("keel", "down", "down, as it floats", false))
            }
            fieldset {
                legend { "Wood" }
                (choice("wood", "varnished", "varnished", true))
                (choice("wood", "dry", "dry", false))
            }
            @if !job.laid.is_empty() {
                fieldset {
                    legend { "Show" }
                    (choice("show", "all", "the whole plan", true))
                    (choice("show", "laid", "what is laid", false))
                }
            }
            @if !job.hull.keep_clear.is_empty() {
                fieldset {
                    legend { "Zones" }
                    label { input #clear type="checkbox"; "kept clear of joints" }
                }
            }
            label.slide { "Light from" input #light type="range" min="-180" max="180" step="5" value="40"; }
            label.slide { "Light above" input #lift type="range" min="0" max="90" step="5" value="45"; }
            label.slide {
                "Planked as far as"
                input #planked type="range" min="0" max=(plan.pieces.len()) step="1" value=(plan.pieces.len());
                output #at for="planked" {}
            }
        }
    }
}

/// Where wood is missing, in words: what is not there can't be tapped.
fn courses(job: &Job) -> Markup {
    let both = job
        .hull
        .courses
        .iter()
        .filter(|course| course.kind == Kind::Mirrored)
        .count();
    let centre = job.hull.courses.len() - both;
    html! {
        p.hint {
            (both) " courses on both sides"
            @if centre > 0 { ", " (centre) " on the " (Side::Centre.name()) "line" }
            "."
        }
    }
}
