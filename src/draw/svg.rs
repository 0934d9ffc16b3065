//! A scene as SVG text. It knows numbers, escaping and the names that SVG gives to things, and nothing about boats.

use crate::untrusted::is_hidden;
use std::fmt::{self, Write};

use super::scene::{
    Group, Hatch, Ink, Item, Line, Outline, Photograph, Point, Rect, Scene, Set, Shape, Stroke,
    Text, Turn, Weight,
};

/// Typefaces that are there on most systems; nothing is fetched.
const TYPEFACES: &str =
    "'Noto Sans', 'Source Sans 3', 'Segoe UI', 'Helvetica Neue', 'DejaVu Sans', Arial, sans-serif";

/// What lies under everything.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Ground {
    /// The colour of the paper, on a screen.
    Paper,
    /// Nothing: there is paper under it.
    Bare,
}

/// The scene as an SVG document, sized in millimetres. The same scene gives the same bytes.
pub fn write(scene: &Scene) -> String {
    document(scene, Ground::Paper)
}

/// The same on a ground.
pub(super) fn document(scene: &Scene, ground: Ground) -> String {
    let (w, h) = (number(scene.width), number(scene.height));
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 0 {w} {h}\" \
         font-family=\"{TYPEFACES}\">\n<title>{}</title>\n",
        escaped(&scene.title),
    );
    if ground == Ground::Paper {
        push(
            &mut out,
            format_args!(
                "<style>@media print {{ .paper {{ display: none }} }}</style>\n\
                 <rect class=\"paper\" width=\"{w}\" height=\"{h}\" fill=\"{}\"/>\n",
                hex(scene.paper)
            ),
        );
    }
    for item in &scene.items {
        put(&mut out, item);
    }
    out.push_str("</svg>\n");
    out
}

/// Where a group leads to on the page that the picture stands on.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Link {
    /// The address.
    pub to: String,
    /// What it leads to, for whoever can't see it.
    pub label: String,
}

impl Link {
    /// A piece leads to an address that ends with its number in the order of laying; nothing else leads anywhere.
    pub fn of_piece(group: &Group, to: &str) -> Option<Link> {
        let is_order = |(name, _): &&(&'static str, String)| *name == "order";
        let (_, order) = group.facts.iter().find(is_order)?;
        let told = group.told.as_deref().filter(|_| group.kind == "piece")?;
        Some(Link {
            to: format!("{to}{order}"),
            label: told.replace('\n', "; "),
        })
    }
}

/// A part of the scene as an SVG element to stand on a page, without a size of its own, heading and legend: the page
/// says in its own words what the picture is and what its signs mean. Groups that `link` gives an address are links;
/// the rest is hidden from readers of the screen, and what the pointer is told stays.
pub fn element(
    scene: &Scene,
    view: Rect,
    role: &str,
    link: &dyn Fn(&Group) -> Option<Link>,
) -> String {
    let [x, y, w, h] = [view.x, view.y, view.w, view.h].map(number);
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"{x} {y} {w} {h}\" font-family=\"{TYPEFACES}\" \
         role=\"{role}\" aria-label=\"{}\">\n<rect x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\" fill=\"{}\"/>\n",
        escaped(&scene.title),
        hex(scene.paper)
    );
    for item in &scene.items {
        let linked = match item {
            Item::Group(group) if matches!(group.kind, "heading" | "legend" | "foot") => continue,
            Item::Group(group) => link(group).map(|link| (group, link)),
            _ => None,
        };
        match linked {
            Some((group, link)) => put_link(&mut out, group, &link),
            None => {
                out.push_str("<g aria-hidden=\"true\">");
                put(&mut out, item);
                out.push_str("</g>\n");
            }
        }
    }
    out.push_str("</svg>\n");
    out
}

fn put_link(out: &mut String, group: &Group, link: &Link) {
    push(
        out,
        format_args!(
            "<a class=\"{}\" href=\"{}\" aria-label=\"{}\"",
            escaped(group.kind),
            escaped(&link.to),
            escaped(&link.label)
        ),
    );
    put_facts(out, group);
    out.push('>');
    if let Some(told) = &group.told {
        push(out, format_args!("<title>{}</title>", escaped(told)));
    }
    for item in &group.items {
        put(out, item);
    }
    out.push_str("</a>\n");
}

fn put_facts(out: &mut String, group: &Group) {
    for (name, value) in &group.facts {
        push(out, format_args!(" data-{name}=\"{}\"", escaped(value)));
    }
}

fn put(out: &mut String, item: &Item) {
    match item {
        Item::Shape(shape) => put_shape(out, shape),
        Item::Text(text) => put_text(out, text),
        Item::Hatch(hatch) => put_hatch(out, hatch),
        Item::Photograph(seen) => put_photograph(out, seen),
        Item::Group(group) => put_group(out, group),
    }
}

fn put_photograph(out: &mut String, seen: &Photograph) {
    let [x, y, w, h] = [seen.area.x, seen.area.y, seen.area.w, seen.area.h].map(number);
    let mut inside = String::new();
    if !seen.inside.is_empty() {
        // Where it stands makes its name: there is one there.
        let name = format!("inside-{}", out.len());
        push(out, format_args!("<clipPath id=\"{name}\"><path d=\""));
        for outline in &seen.inside {
            push(out, format_args!("M{}Z", points(outline)));
        }
        out.push_str("\"/></clipPath>\n");
        inside = format!(" clip-path=\"url(#{name})\"");
    }
    push(
        out,
        format_args!(
            "<image x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\" preserveAspectRatio=\"none\"{inside} \
             href=\"data:image/jpeg;base64,{}\"/>\n",
            base64(&seen.jpeg)
        ),
    );
}

/// Source: RFC 4648, section 4.
fn base64(bytes: &[u8]) -> String {
    const SIGNS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let bits = (0..3).fold(0, |bits, n| {
            bits << 8 | usize::from(three.get(n).copied().unwrap_or(0))
        });
        for n in 0..4 {
            text.push(match n <= three.len() {
                true => char::from(SIGNS[bits >> (18 - 6 * n) & 63]),
                false => '=',
            });
        }
    }
    text
}

fn put_group(out: &mut String, group: &Group) {
    push(out, format_args!("<g class=\"{}\"", escaped(group.kind)));
    put_facts(out, group);
    match &group.told {
        Some(told) => push(out, format_args!(">\n<title>{}</title>\n", escaped(told))),
        None => out.push_str(" pointer-events=\"none\">\n"),
    }
    for item in &group.items {
        put(out, item);
    }
    out.push_str("</g>\n");
}

fn put_shape(out: &mut String, shape: &Shape) {
    match &shape.outline {
        Outline::Straight(from, to) => {
            push(
                out,
                format_args!("<path d=\"M{} L{}\"", point(*from), point(*to)),
            );
        }
        Outline::Open(all) => push(out, format_args!("<polyline points=\"{}\"", points(all))),
        Outline::Closed(all) => push(out, format_args!("<polygon points=\"{}\"", points(all))),
        Outline::Cells(cells) => {
            let cells: Vec<String> = cells.iter().map(|cell| rectangle(*cell)).collect();
            push(out, format_args!("<path d=\"{}\"", cells.join(" ")));
        }
        Outline::Circle((x, y), radius) => push(
            out,
            format_args!(
                "<circle cx=\"{}\" cy=\"{}\" r=\"{}\"",
                number(*x),
                number(*y),
                number(*radius)
            ),
        ),
    }
    match shape.fill {
        Some(ink) => push(out, format_args!(" fill=\"{}\"", hex(ink))),
        None => out.push_str(" fill=\"none\""),
    }
    if let Some(line) = &shape.line {
        put_line(out, line);
    }
    out.push_str("/>\n");
}

fn points(all: &[Point]) -> String {
    let all: Vec<String> = all.iter().map(|at| point(*at)).collect();
    all.join(" ")
}

fn put_line(out: &mut String, line: &Line) {
    push(
        out,
        format_args!(
            " stroke=\"{}\" stroke-width=\"{}\" stroke-linejoin=\"round\"",
            hex(line.ink),
            number(line.width)
        ),
    );
    if let Stroke::Broken(dash, gap) = line.stroke {
        push(
            out,
            format_args!(" stroke-dasharray=\"{} {}\"", number(dash), number(gap)),
        );
    }
}

fn put_hatch(out: &mut String, hatch: &Hatch) {
    let lines = hatch.lines();
    if lines.is_empty() {
        return;
    }
    let path: Vec<String> = lines
        .iter()
        .map(|(from, to)| format!("M{} L{}", point(*from), point(*to)))
        .collect();
    push(
        out,
        format_args!("<path d=\"{}\" fill=\"none\"", path.join(" ")),
    );
    put_line(out, &hatch.line);
    out.push_str("/>\n");
}

fn put_text(out: &mut String, text: &Text) {
    let (x, y) = (number(text.at.0), number(text.at.1));
    push(
        out,
        format_args!(
            "<text x=\"{x}\" y=\"{y}\" font-size=\"{}\" fill=\"{}\"",
            number(text.size),
            hex(text.ink)
        ),
    );
    match text.set {
        Set::Left => {}
        Set::Middle => out.push_str(" text-anchor=\"middle\""),
        Set::Right => out.push_str(" text-anchor=\"end\""),
    }
    if text.weight == Weight::Bold {
        out.push_str(" font-weight=\"bold\"");
    }
    if text.turn == Turn::Upward {
        push(out, format_args!(" transform=\"rotate(-90 {x} {y})\""));
    }
    push(out, format_args!(">{}</text>\n", escaped(&text.words)));
}

/// Writing to a string can't fail; the result says nothing.
fn push(out: &mut String, what: std::fmt::Arguments<'_>) {
    let _ = out.write_fmt(what);
}

fn point((x, y): Point) -> String {
    format!("{},{}", number(x), number(y))
}

fn rectangle(cell: Rect) -> String {
    let (w, h) = (number(cell.w), number(cell.h));
    format!("M{}h{w}v{h}h-{w}z", point((cell.x, cell.y)))
}

fn hex(Ink([r, g, b]): Ink) -> String {
    format!("#{r:02x}{g:02x}{b:02x}")
}

/// A number to a thousandth, without needless figures. Why a thousandth: a micrometre of paper is finer than any
/// printer.
struct Number(f64);

fn number(value: f64) -> Number {
    Number(value)
}

impl fmt::Display for Number {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // By way of a whole number: large pictures are nothing but numbers, and that is quicker by far.
        let thousandths = (self.0 * 1000.0).round() as i64;
        let sign = if thousandths < 0 { "-" } else { "" };
        let all = thousandths.unsigned_abs();
        let whole = all / 1000;
        match all % 1000 {
            0 => write!(f, "{sign}{whole}"),
            part if part % 100 == 0 => write!(f, "{sign}{whole}.{}", part / 100),
            part if part % 10 == 0 => write!(f, "{sign}{whole}.{:02}", part / 10),
            part => write!(f, "{sign}{whole}.{part:03}"),
        }
    }
}

/// Text as XML wants it, whatever it holds: characters that are not seen, or that XML has no way to write, become a
/// space.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\n' => out.push('\n'),
            c if is_hidden(c) || matches!(c, '\u{fffe}' | '\u{ffff}') => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_is_written_to_a_thousandth_and_no_longer_than_it_needs() {
        let written = |value: f64| number(value).to_string();
        for (value, text) in [
            (0.0, "0"),
            (-0.0004, "0"),
            (-0.0006, "-0.001"),
            (12.0, "12"),
            (-2.5, "-2.5"),
            (0.25, "0.25"),
            (12.003, "12.003"),
            (99.9996, "100"),
        ] {
            assert_eq!(written(value), text);
        }
    }
}
