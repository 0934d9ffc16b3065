//! The pictures for the printer and in pixels.

use crate::folder::Folder;
use crate::says::Says;
use std::fs;
use twinstrake::hull::Side;
use twinstrake::plan::{BowEnd, Edge};
use twinstrake::units::S;

#[test]
fn each_picture_comes_as_a_pdf_and_as_a_png_and_the_report_of_the_plan_stays() {
    let folder = Folder::laid();
    let before = folder.out();
    let ran = folder.run("pictures", &["--wide", "400"]).ended(0);
    assert_eq!(ran.stderr, "");
    let after = folder.out();
    for picture in ["planking", "wood", "seams"] {
        assert!(after[&format!("{picture}.pdf")].starts_with(b"%PDF-"));
        let png = &after[&format!("{picture}.png")];
        // Source: W3C, Portable Network Graphics: the signature, and the width at the head of the first chunk.
        assert!(png.starts_with(b"\x89PNG\r\n\x1a\n"));
        assert_eq!(png[16..20], 400_u32.to_be_bytes());
        ran.says(&format!("{picture}.pdf"));
    }
    assert_eq!(after.len(), before.len() + 6);
    for (name, bytes) in &before {
        assert!(after[name] == *bytes, "{name} has changed");
    }
    folder.run("pictures", &["--wide", "400"]).ended(0);
    assert!(folder.out() == after, "the same plan gives the same bytes");
}

#[test]
fn where_a_row_was_changed_by_hand_pictures_and_report_show_the_change() {
    let folder = Folder::laid();
    // The pairs of the first two courses change places on one side: every name that is there stays there.
    let rows = folder.read("out/laying-order.csv");
    let swapped = rows
        .replace("A1", "#")
        .replace("B1", "A1")
        .replace('#', "B1");
    let swapped = swapped
        .replace("A2", "#")
        .replace("B2", "A2")
        .replace('#', "B2");
    assert_ne!(rows, swapped);
    folder.write("out/laying-order.csv", &swapped);
    let before = folder.out();
    folder.run("pictures", &["--wide", "400"]).ended(0);
    let after = folder.out();
    for name in ["planking.svg", "wood.svg", "report.html"] {
        assert!(
            after[name] != before[name],
            "{name} shows the plan of before"
        );
    }
    assert_eq!(after["laying-order.csv"], before["laying-order.csv"]);
}

#[test]
fn pictures_of_a_plan_that_breaks_a_rule_are_made_with_a_warning() {
    let folder = Folder::laid();
    let rows = folder.read("out/laying-order.csv");
    folder.write("out/laying-order.csv", &rows.replace("starboard", "port"));
    let ran = folder.run("pictures", &["--wide", "400"]).ended(1);
    ran.warns("breaks a rule");
    let drawing = folder.read("out/planking.svg");
    drawing.says("Not a good plan");
    let report = folder.read("out/report.html");
    report.says("The plan breaks the rules in");
}

#[test]
fn without_a_plan_there_is_nothing_to_show() {
    let folder = Folder::small();
    let ran = folder.run("pictures", &[]).ended(2);
    ran.warns("Lay the job first");
    assert!(folder.out().is_empty());
}

#[test]
fn the_hull_of_the_demo_comes_as_a_page_and_as_gltf_and_twice_the_same() {
    let folder = Folder::demo();
    folder.run("lay", &["--rounds", "0"]).ended(0);
    let ran = folder.run("hull", &[]).ended(0);
    ran.says("hull.html");
    let made = folder.out();
    assert!(made["hull.glb"].starts_with(b"glTF"));
    assert!(made["hull.html"].starts_with(b"<!DOCTYPE html>"));
    // Less than this for a boat of a hundred strips, so that it can be mailed.
    assert!(made["hull.html"].len() < 9_000_000);
    folder.run("hull", &[]).ended(0);
    assert!(folder.out() == made, "the same plan gives the same bytes");
    // The Khronos validator, where TWINSTRAKE_GLTF names the folder of npm's gltf-validator.
    if let Ok(validator) = std::env::var("TWINSTRAKE_GLTF") {
        let script = "const [validator, file] = process.argv.slice(1);
            require(validator).validateBytes(new Uint8Array(require('fs').readFileSync(file)))
                .then(({ issues }) => console.log(issues.numErrors + issues.numWarnings));";
        let file = folder.path().join("out/hull.glb");
        let said = std::process::Command::new("node")
            .args(["-e", script, &validator])
            .arg(file)
            .output()
            .unwrap();
        assert_eq!(String::from_utf8(said.stdout).unwrap().trim(), "0");
    }
}

#[test]
fn without_offsets_there_is_no_hull_and_the_panel_is_named() {
    let folder = Folder::laid();
    let before = folder.out();
    let ran = folder.run("hull", &[]).ended(2);
    ran.warns("Panel \"side\" has no offsets");
    assert!(folder.out() == before);
}

/// The picture of a face in hull.glb, by the name of its strip and face.
fn face(glb: &[u8], name: &str) -> image::RgbImage {
    let long = u32::from_le_bytes(glb[12..16].try_into().unwrap()) as usize;
    let head: serde_json::Value = serde_json::from_slice(&glb[20..20 + long]).unwrap();
    let images = head["images"].as_array().unwrap();
    let image = images.iter().find(|image| image["name"] == name).unwrap();
    assert_eq!(image["mimeType"], "image/jpeg");
    let view = &head["bufferViews"][image["bufferView"].as_u64().unwrap() as usize];
    let number = |key: &str| view[key].as_u64().unwrap() as usize;
    let from = 28 + long + number("byteOffset");
    let bytes = &glb[from..from + number("byteLength")];
    image::load_from_memory(bytes).unwrap().to_rgb8()
}

/// The demo with a metre of both strips of the dark line photographed, laid. A ruled figure: red toward the marked
/// end, blue toward the plain end; black along edge A, which lies below in a photograph.
fn ruled() -> Folder {
    let folder = Folder::demo();
    let ruled = image::RgbImage::from_fn(2000, 38, |x, y| {
        let [r, b] = if x < 1000 { [220, 20] } else { [20, 220] };
        image::Rgb(if y < 19 { [r, 20, b] } else { [0, 0, 0] })
    });
    fs::create_dir(folder.path().join("photographs")).unwrap();
    for strip in ["L1", "L2"] {
        ruled
            .save(folder.path().join(format!("photographs/{strip}.jpg")))
            .unwrap();
    }
    folder.write(
        "colours.csv",
        "photo,strip,from,to,colour,spread,change,clear,quality,picture\n\
        a.jpg,L1,1000,2000,40 15 20,1,1,100,good,photographs/L1.jpg\n\
        a.jpg,L2,1000,2000,40 15 20,1,1,100,good,photographs/L2.jpg\n",
    );
    folder.run("lay", &["--rounds", "0"]).ended(0);
    folder
}

#[test]
fn a_photographed_stretch_lies_at_its_place_in_the_wood_and_on_the_hull_right_way_round() {
    let folder = ruled();
    lies_at_its_place(&folder);
    folder.run("hull", &[]).ended(0);
    let order = folder.read("out/laying-order.csv");
    let row = order
        .lines()
        .find(|row| row.contains(",L1,") && row.split(',').nth(5) == Some("L1"));
    let row: Vec<&str> = row
        .expect("the dark line is of board L")
        .split(',')
        .collect();
    let stock = twinstrake::job::read(folder.path()).unwrap().job.stock;
    let long = stock.strips.iter().find(|strip| strip.name == "L1");
    let long = long.unwrap().length.mm();
    let face = face(&folder.out()["hull.glb"], &format!("L1 {}", row[13]));
    let at = |along: f64, across: f64| {
        let x = (along / long * f64::from(face.width())) as u32;
        face.get_pixel(x, (across * f64::from(face.height())) as u32)
            .0
    };
    // Edge A is across 0.
    let [r, _, b] = at(1250.0, 0.75);
    assert!(r > 150 && b < 100, "{:?}", at(1250.0, 0.75));
    let [r, _, b] = at(1750.0, 0.75);
    assert!(b > 150 && r < 100, "{:?}", at(1750.0, 0.75));
    for along in [1250.0, 1750.0] {
        assert!(
            at(along, 0.25).iter().all(|part| *part < 90),
            "{:?}",
            at(along, 0.25)
        );
    }
    // Beyond the photograph the strip is drawn.
    let [r, _, b] = at(500.0, 0.75);
    assert!(r > b && r < 210, "{:?}", at(500.0, 0.75));
    let page = folder.read("out/hull.html");
    page.says("Where a strip was photographed");
}

/// The corners of the first outline of a piece from this strip in the picture of the wood. Unit: mm of paper.
fn outline(svg: &roxmltree::Document<'_>, strip: Option<&str>) -> Vec<(f64, f64)> {
    let mut pieces = svg.descendants().filter(|node| {
        let is_it = strip.is_none_or(|strip| node.attribute("data-strip") == Some(strip));
        node.attribute("class") == Some("piece") && is_it
    });
    let all: Vec<(f64, f64)> = pieces
        .by_ref()
        .take(if strip.is_some() { 1 } else { usize::MAX })
        .filter_map(|piece| piece.children().find(|node| node.has_tag_name("polygon")))
        .flat_map(|polygon| polygon.attribute("points").unwrap().split(' '))
        .map(|point| point.split_once(',').unwrap())
        .map(|(x, y)| (x.parse().unwrap(), y.parse().unwrap()))
        .collect();
    all
}

/// What is left of a broken strip keeps its places from the marked end, so its photographs stay with it.
#[test]
fn a_remnant_of_a_broken_strip_shows_its_own_stretch_of_the_photograph() {
    let folder = ruled();
    crate::folder::ran(
        crate::folder::twinstrake()
            .args(["log", "--job"])
            .arg(folder.path())
            .args(["broken", "L1", "100"]),
    )
    .ended(0);
    folder.run("lay", &["--rounds", "0"]).ended(0);
    let job = twinstrake::job::read(folder.path()).unwrap().job;
    let plan = twinstrake::job::read_plan(folder.path(), &job).unwrap();
    let of_l1 = |piece: &&twinstrake::plan::Piece| job.stock.strip(piece.strip).name == "L1";
    let remnant = plan.pieces.iter().find(of_l1).unwrap();
    assert!(remnant.cut_from.mm() >= 100.0, "beyond the break");
    lies_at_its_place(&folder);
}

fn lies_at_its_place(folder: &Folder) {
    folder.run("pictures", &[]).ended(0);
    let text = folder.read("out/wood.svg");
    assert!(
        text.contains("0 are photographed whole, and 2 in part"),
        "the foot says it"
    );
    let report = folder.read("out/report.html");
    report.says("2 in part");
    report.says("href=\"data:image/jpeg");
    let svg = roxmltree::Document::parse(&text).unwrap();
    let png = image::open(folder.path().join("out/wood.png"))
        .unwrap()
        .to_rgb8();
    let per_mm = f64::from(png.width()) / 420.0;
    let job = twinstrake::job::read(folder.path()).unwrap().job;
    let plan = twinstrake::job::read_plan(folder.path(), &job).unwrap();
    // From bow to stern on paper and on the boat; the keel lies in the middle.
    let all = outline(&svg, None);
    let span = |of: fn(&(f64, f64)) -> f64| {
        let least = all.iter().map(of).fold(f64::INFINITY, f64::min);
        (least, all.iter().map(of).fold(f64::NEG_INFINITY, f64::max))
    };
    let ((left, right), (top, foot)) = (span(|point| point.0), span(|point| point.1));
    let courses = job.hull.courses.iter();
    let bow = courses
        .clone()
        .map(|course| course.from.mm())
        .fold(f64::INFINITY, f64::min);
    let stern = courses.map(|course| course.to.mm()).fold(0.0, f64::max);
    let mut sides = Vec::new();
    for strip in ["L1", "L2"] {
        let is_it = |piece: &&twinstrake::plan::Piece| job.stock.strip(piece.strip).name == strip;
        let piece = plan.pieces.iter().find(is_it).unwrap();
        let points = outline(&svg, Some(strip));
        let seen = |u: f64, across: f64| {
            let aft = match piece.bow_end {
                BowEnd::Mark => u - piece.cut_from.mm(),
                BowEnd::Plain => piece.cut_to.mm() - u,
            };
            let s = S::from_mm(piece.from.mm() + aft);
            let x = job.hull.course(piece.course).x_at(s).mm();
            let x = left + (x - bow) / (stern - bow) * (right - left);
            // Where the outline crosses this place along the boat.
            let around = points.iter().zip(points.iter().cycle().skip(1));
            let crossed = around.filter(|(one, other)| (one.0 < x) != (other.0 < x));
            let mut y: Vec<f64> = crossed
                .map(|(one, other)| one.1 + (x - one.0) / (other.0 - one.0) * (other.1 - one.1))
                .collect();
            y.sort_by(f64::total_cmp);
            let [upper, lower] = y[..] else {
                panic!("{y:?}")
            };
            // Both panels are laid toward the keel.
            let keel_below = (upper + lower) / 2.0 < (top + foot) / 2.0;
            let a_below = keel_below == (piece.next_edge == Edge::A);
            let part = if a_below { 1.0 - across } else { across };
            let y = upper + part * (lower - upper);
            png.get_pixel((x * per_mm) as u32, (y * per_mm) as u32).0
        };
        for u in [1100.0, 1400.0, 1600.0, 1900.0] {
            let ([r, _, b], black) = (seen(u, 0.72), seen(u, 0.28));
            let (bright, dim) = if u < 1500.0 { (r, b) } else { (b, r) };
            assert!(bright > 140 && dim < 110, "{strip} {u}: {r} {b}");
            assert!(
                black.iter().all(|part| *part < 110),
                "{strip} {u}: {black:?}"
            );
        }
        for u in [900.0, 2100.0] {
            let [r, g, b] = seen(u, 0.72);
            assert!(r > g && g > b && r < 200, "drawn: {strip} {u}: {r} {g} {b}");
        }
        sides.push(piece.side);
    }
    assert!(sides.contains(&Side::Port) && sides.contains(&Side::Starboard));
}
