//! The marks of the two sides as a copier would give them: told apart by shape alone.

use super::Page;
use resvg::tiny_skia::Pixmap;
use twinstrake::check::check;
use twinstrake::draw::{Picture, png, svg};

/// From where to where there is ink in a row of pixels, in grey.
fn inked(picture: &Pixmap, y: u32, from: u32, to: u32) -> Option<(u32, u32)> {
    let dark = |x: &u32| {
        let p = picture.pixel(*x, y).unwrap();
        let grey =
            0.299 * f64::from(p.red()) + 0.587 * f64::from(p.green()) + 0.114 * f64::from(p.blue());
        grey < 175.0
    };
    let first = (from..to).find(dark)?;
    let last = (from..to).rev().find(dark)?;
    Some((first, last))
}

/// How wide the shape of a mark is near its top, as a part of its width near its foot.
fn taper(picture: &Pixmap, scale: f64, corners: &[(f64, f64)]) -> f64 {
    let span = |of: fn(&(f64, f64)) -> f64| {
        let all: Vec<f64> = corners.iter().map(of).collect();
        let least = all.iter().copied().fold(f64::INFINITY, f64::min);
        (least, all.iter().copied().fold(f64::NEG_INFINITY, f64::max))
    };
    let ((left, right), (top, bottom)) = (span(|p| p.0), span(|p| p.1));
    let wide = |part: f64| {
        let y = (top + part * (bottom - top)) * scale;
        let edge = |x: f64| (x * scale) as u32;
        let (from, to) = inked(picture, y as u32, edge(left - 0.3), edge(right + 0.3)).unwrap();
        f64::from(to - from)
    };
    wide(0.2) / wide(0.85)
}

#[test]
fn in_grey_port_is_as_wide_at_the_top_as_at_the_foot_and_starboard_comes_to_a_point() {
    // Source: IALA Maritime Buoyage System, lateral marks: a can to port, which looks square from the side, a cone to
    // starboard, point up; in regions A and B alike.
    let page = Page::demo();
    let scene = Picture::Planking.scene(&page.job, &page.plan, &check(&page.job, &page.plan), None);
    let wide = 4200;
    let picture = Pixmap::decode_png(&png(&scene, wide).unwrap()).unwrap();
    let scale = f64::from(wide) / scene.width;
    let text = svg::write(&scene);
    let document = roxmltree::Document::parse(&text).unwrap();
    let mut seen = 0;
    for mark in document
        .descendants()
        .filter(|n| n.attribute("class") == Some("mark"))
    {
        let Some(shape) = mark.children().find(|n| n.has_tag_name("polygon")) else {
            continue;
        };
        let points = shape.attribute("points").unwrap().split(' ').map(|point| {
            let (x, y) = point.split_once(',').unwrap();
            (x.parse().unwrap(), y.parse().unwrap())
        });
        let taper = taper(&picture, scale, &points.collect::<Vec<(f64, f64)>>());
        match mark.attribute("data-side") {
            Some("port") => assert!((0.9..1.1).contains(&taper), "{taper}"),
            Some("starboard") => assert!(taper < 0.5, "{taper}"),
            other => panic!("{other:?}"),
        }
        seen += 1;
    }
    assert!(seen > 60);
}
