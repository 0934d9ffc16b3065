//! The hull as one page that needs no network: turned by hand, in a light that can be moved.

use super::glb::Planked;
use crate::check::Verdict;
use crate::draw::scene::{Rect, Scene};
use crate::draw::{self, Picture, svg};
use crate::hull::{Kind, Side};
use crate::job::{Job, Lines};
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

/// The page around a hull that was written as glTF, with these plans on it, the first one in front.
pub fn write(
    job: &Job,
    plans: &[Planked<'_>],
    verdict: &Verdict,
    glb: &[u8],
    photographed: bool,
) -> String {
    let flat = plans.first().map(|planked| {
        let scene = Picture::Wood.scene(job, planked.plan, verdict, None);
        svg::element(&scene, draw::hull(job), "img", &|_| None)
    });
    let page = Shown {
        name: &job.name,
        title: "the hull",
        flat: &flat.unwrap_or_default(),
        flat_words: "The skin of both sides laid flat along the keel, bow to the left.",
        controls: controls(job, plans),
        tap: "Tap a piece to read what it is.",
        hint: figure(photographed),
        below: courses(job),
    };
    page.around(glb)
}

/// The page around a shape without wood that was written as glTF.
pub fn of_shape(lines: &Lines, flat: &Scene, glb: &[u8]) -> String {
    let whole = Rect::between(0.0, 0.0, flat.width, flat.height);
    let controls = html! {
        (side())
        (keel())
        fieldset {
            legend { "Show" }
            label { input #skin type="checkbox" checked; "the skin between the lines" }
        }
        (light())
    };
    let page = Shown {
        name: &lines.name,
        title: "the shape",
        flat: &svg::element(flat, whole, "img", &|_| None),
        flat_words: "The lines with the courses on them.",
        controls,
        tap: "Tap the skin or a line to read what it is.",
        hint: "Dark: the edges of courses. Blue: forms. Green: the line where planking starts. Red: the line where it stops.",
        below: html! {},
    };
    page.around(glb)
}

/// What the page has of its own, be it a hull or a shape.
struct Shown<'s> {
    name: &'s str,
    title: &'static str,
    /// The same as a flat picture, for browsers that can't draw in three dimensions.
    flat: &'s str,
    flat_words: &'static str,
    controls: Markup,
    /// What a tap does.
    tap: &'static str,
    hint: &'static str,
    below: Markup,
}

impl Shown<'_> {
    fn around(self, glb: &[u8]) -> String {
        let page = html! {
            (DOCTYPE)
            html lang="en" {
                (head(&format!("{}: {}", self.name, self.title), POLICY, STYLE))
                body {
                    header { h1 { (self.name) } }
                    figure #flat {
                        (PreEscaped(self.flat))
                        figcaption {
                            (self.flat_words) " "
                            span #why { "To turn the hull itself, open this page with scripts allowed." }
                        }
                    }
                    main #hull hidden {
                        p #which hidden { span {} span {} }
                        canvas tabindex="0"
                            aria-label="The hull. Arrow keys turn it, plus and minus come nearer and go away." {}
                        form #controls { (self.controls) }
                        p #told role="status" data-tap=(self.tap) { (self.tap) }
                        p.hint { "Drag to turn, pinch or roll to come nearer. " (self.hint) }
                        (self.below)
                    }
                    script #glb type="application/octet-stream" { (PreEscaped(STANDARD.encode(glb))) }
                    script { (PreEscaped(THREE)) }
                    script { (PreEscaped(SCRIPT)) }
                }
            }
        };
        page.into_string()
    }
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

fn choice(group: &str, value: &str, words: &str, on: bool) -> Markup {
    html! {
        label { input type="radio" name=(group) value=(value) checked[on]; (words) }
    }
}

fn side() -> Markup {
    html! {
        fieldset {
            legend { "Side" }
            (choice("side", "both", "both", true))
            (choice("side", "port", "port", false))
            (choice("side", "starboard", "starboard", false))
        }
    }
}

fn keel() -> Markup {
    html! {
        fieldset {
            legend { "Keel" }
            (choice("keel", "up", "up, as it is planked", true))
            (choice("keel", "down", "down, as it floats", false))
        }
    }
}

fn light() -> Markup {
    html! {
        label.slide { "Light from" input #light type="range" min="-180" max="180" step="5" value="40"; }
        label.slide { "Light above" input #lift type="range" min="0" max="90" step="5" value="45"; }
    }
}

fn controls(job: &Job, plans: &[Planked<'_>]) -> Markup {
    let pieces = plans.iter().map(|planked| planked.plan.pieces.len());
    let most = pieces.max().unwrap_or(0);
    html! {
        (side())
        (keel())
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
        @if plans.len() > 1 { (beside(plans)) }
        (light())
        label.slide {
            "Planked as far as"
            input #planked type="range" min="0" max=(most) step="1" value=(most);
            output #at for="planked" {}
        }
    }
}

/// Two plans in one view.
fn beside(plans: &[Planked<'_>]) -> Markup {
    html! {
        fieldset {
            legend { "Compare" }
            label {
                "with "
                select #other {
                    option value="" { "nothing" }
                    @for (number, planked) in plans.iter().enumerate().skip(1) {
                        option value=(number) { (planked.name) }
                    }
                }
            }
            (choice("how", "beside", "side by side", true))
            (choice("how", "over", "one over the other", false))
            label.slide #over hidden {
                "How much of each"
                input #split type="range" min="0" max="100" step="1" value="50";
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
