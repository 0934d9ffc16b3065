//! The hull in three dimensions on its page.

use super::Page;
use super::browser::{Browser, Screen};
use crate::common::Says;
use image::codecs::jpeg::JpegEncoder;
use image::{Rgb, RgbImage};
use std::fs;
use std::path::PathBuf;
use twinstrake::check::check;
use twinstrake::draw;
use twinstrake::hull::{CourseId, Side};
use twinstrake::job::{Lines, read_lines};
use twinstrake::plan::{BowEnd, Edge, Piece, Plan};
use twinstrake::solid::{Faces, Planked, glb, page, ribbons, shape, shape_page};

fn demo_lines() -> Lines {
    read_lines(&PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("demo-stock")).unwrap()
}

/// The demo's hull, beside its report; with other plans to be compared, and faces that were photographed.
fn written(of: &Page, others: &[Plan], faces: &Faces) -> String {
    let told = demo_lines().told;
    let plans: Vec<Planked> = [&of.plan]
        .into_iter()
        .chain(others)
        .map(|plan| Planked {
            name: format!("a plan of {} pieces", plan.pieces.len()),
            plan,
            ribbons: ribbons(&told, &of.job, plan).unwrap(),
        })
        .collect();
    let glb = glb(&of.job, &plans, faces).unwrap();
    let verdict = check(&of.job, &of.plan);
    let file = of.folder.path().join("hull.html");
    fs::write(&file, page(&of.job, &plans, &verdict, &glb, false)).unwrap();
    format!("file://{}", file.display())
}

/// The picture's pixels once it has been drawn, `all` of them, each of four bytes, for what is reckoned from them.
fn pixels(reckoned: &str) -> String {
    format!(
        "new Promise(done => requestAnimationFrame(() => requestAnimationFrame(() => {{
        const from = document.querySelector('canvas'), to = document.createElement('canvas');
        const [wide, high] = [to.width, to.height] = [from.width, from.height];
        const pen = to.getContext('2d'); pen.drawImage(from, 0, 0);
        const all = pen.getImageData(0, 0, wide, high).data;
        {reckoned} }})))"
    )
}

/// How many have wood in them.
fn count_wood() -> String {
    pixels(
        "let wood = 0; for (let i = 3; i < all.length; i += 4) wood += all[i] > 128; done(wood);",
    )
}

/// How many are redder than any wood is.
fn count_red() -> String {
    pixels(
        "let red = 0; for (let i = 0; i < all.length; i += 4)
        red += all[i + 3] > 128 && all[i] > 2.2 * all[i + 1] && all[i] > 2.2 * all[i + 2]; done(red);",
    )
}

fn set(browser: &mut Browser, id: &str, value: &str) {
    browser.ask(&format!(
        "(() => {{ const it = document.getElementById('{id}'); it.value = '{value}';
        it.dispatchEvent(new Event('input', {{ bubbles: true }})); return null; }})()"
    ));
}

/// What the page tells when the middle of the picture is tapped.
fn told_in_the_middle(browser: &mut Browser) -> String {
    let middle = browser.ask(
        "(() => { const box = document.querySelector('canvas').getBoundingClientRect();
        return [box.x + box.width / 2, box.y + box.height / 2]; })()",
    );
    browser.tap((middle[0].as_f64().unwrap(), middle[1].as_f64().unwrap()));
    browser.text("document.getElementById('told').textContent")
}

#[test]
#[cfg_attr(no_chromium, ignore = "chromium is missing")]
fn the_hull_is_drawn_is_planked_piece_by_piece_and_says_what_is_tapped() {
    let page = Page::demo();
    let address = written(&page, &[], &Faces::new());
    let mut browser = Browser::with_webgl();
    browser.screen(Screen::Phone);
    browser.open(&address);
    assert_eq!(browser.ask("document.getElementById('flat').hidden"), true);
    let whole = browser.ask(&count_wood()).as_u64().unwrap();
    assert!(whole > 2000, "{whole} pixels of wood");

    told_in_the_middle(&mut browser).says("in the order of laying");

    // Zones kept clear are shown when that is asked for.
    assert_eq!(browser.ask(&count_red()), 0);
    browser.ask("(() => { document.getElementById('clear').click(); return null; })()");
    let red = browser.ask(&count_red()).as_u64().unwrap();
    assert!(red > 100 && red < whole / 4, "{red} of {whole}");
    browser.ask("(() => { document.getElementById('clear').click(); return null; })()");
    assert_eq!(browser.ask(&count_red()), 0);

    set(&mut browser, "planked", "1");
    let one = browser.ask(&count_wood()).as_u64().unwrap();
    assert!(0 < one && one < whole / 2, "{one} of {whole}");
    let at = browser.text("document.getElementById('at').textContent");
    at.begins("1: topside course 1, ");
    set(&mut browser, "planked", "0");
    assert_eq!(browser.ask(&count_wood()), 0);
    browser.is_sound();
}

#[test]
#[cfg_attr(no_chromium, ignore = "chromium is missing")]
fn without_three_dimensions_and_without_script_the_hull_lies_flat() {
    let page = Page::demo();
    let address = written(&page, &[], &Faces::new());
    let mut browser = Browser::start();
    browser.open(&address);
    // What a browser without a graphics card does.
    let why = "HTMLCanvasElement.prototype.getContext = () => null;";
    browser.call(
        "Page.addScriptToEvaluateOnNewDocument",
        serde_json::json!({"source": why}),
    );
    browser.open(&address);
    assert_eq!(browser.ask("document.getElementById('hull').hidden"), true);
    let said = browser.text("document.getElementById('flat').innerText");
    said.says("WebGL is missing");
    assert_eq!(
        browser.ask("document.querySelectorAll('#flat svg').length"),
        1
    );
}

#[test]
#[cfg_attr(no_chromium, ignore = "chromium is missing")]
fn two_plans_lie_side_by_side_or_one_over_the_other() {
    let page = Page::demo();
    // The other plan has none but the first course.
    let mut other = page.plan.clone();
    other.pieces.retain(|piece| piece.course == CourseId(0));
    let address = written(&page, &[other], &Faces::new());
    let mut browser = Browser::with_webgl();
    browser.screen(Screen::Desk);
    browser.open(&address);
    // Wood on the left half and on the right.
    let halves = pixels(
        "const wood = [0, 0];
        for (let n = 0; n < wide * high; n += 1) wood[n % wide < wide / 2 ? 0 : 1] += all[4 * n + 3] > 128;
        done(wood);",
    );
    let wood = |browser: &mut Browser| {
        let halves = browser.ask(&halves);
        [0, 1].map(|half: usize| halves[half].as_u64().unwrap())
    };
    let alone = wood(&mut browser);
    assert!(alone[1] > alone[0] / 2, "one boat in the middle: {alone:?}");
    set(&mut browser, "other", "1");
    let beside = wood(&mut browser);
    assert!(0 < beside[1] && beside[1] < beside[0] / 4, "{beside:?}");
    let which = browser.text("document.getElementById('which').innerText");
    which.says("Left: a plan of");
    browser.ask("document.querySelector('[name=how][value=over]').click()");
    set(&mut browser, "split", "100");
    assert_eq!(wood(&mut browser), alone);
    set(&mut browser, "split", "0");
    let over = wood(&mut browser);
    assert!(0 < over[0] && over[0] < alone[0] / 4, "{over:?}");
}

#[test]
#[cfg_attr(no_chromium, ignore = "chromium is missing")]
fn the_shape_is_drawn_before_there_is_wood_and_says_what_is_tapped() {
    let lines = demo_lines();
    let (glb, flat) = (shape(&lines).unwrap(), draw::lines(&lines).unwrap());
    let folder = tempfile::TempDir::new().unwrap();
    let file = folder.path().join("lines.html");
    fs::write(&file, shape_page(&lines, &flat, &glb)).unwrap();
    let mut browser = Browser::with_webgl();
    browser.screen(Screen::Phone);
    browser.open(&format!("file://{}", file.display()));
    let whole = browser.ask(&count_wood()).as_u64().unwrap();
    assert!(whole > 2000, "{whole} pixels");
    let told = told_in_the_middle(&mut browser);
    assert!(told.contains("course") || told.contains("Form"), "{told}");
    browser.ask("document.getElementById('skin').click()");
    let bare = browser.ask(&count_wood()).as_u64().unwrap();
    assert!(0 < bare && bare < whole, "{bare} of {whole}");
    browser.is_sound();
}

/// A face whose quarters have colours that no wood has: red and blue toward the marked end, green and violet toward the
/// plain one; the first of each along edge A.
fn quartered() -> Vec<u8> {
    let face = RgbImage::from_fn(512, 32, |x, y| match (x < 256, y < 16) {
        (true, true) => Rgb([230, 20, 20]),
        (true, false) => Rgb([20, 20, 230]),
        (false, true) => Rgb([20, 200, 20]),
        (false, false) => Rgb([220, 20, 220]),
    });
    let mut bytes = Vec::new();
    face.write_with_encoder(JpegEncoder::new_with_quality(&mut bytes, 95))
        .unwrap();
    bytes
}

/// The ruled figure, read back from the pixels of the page.
#[test]
#[cfg_attr(no_chromium, ignore = "chromium is missing")]
fn a_photographed_face_lies_on_its_piece_right_way_round_on_either_side_of_the_page() {
    let page = Page::demo();
    let told = demo_lines().told;
    let all = ribbons(&told, &page.job, &page.plan).unwrap();
    // The sixth course of the topside, of one piece on either side.
    let of = |side: Side| -> (usize, &Piece) {
        let here = |(_, piece): &(usize, &Piece)| piece.course == CourseId(5) && piece.side == side;
        page.plan.pieces.iter().enumerate().find(here).unwrap()
    };
    let both = [of(Side::Port), of(Side::Starboard)];
    let faces = both.map(|(_, piece)| ((piece.strip, piece.face_out), quartered()));
    let address = written(&page, &[], &Faces::from(faces));
    let mut browser = Browser::with_webgl();
    browser.window(1600, 1000);
    browser.open(&address);
    browser.ask("document.querySelector('[name=keel][value=down]').click()");
    // Of each colour how many pixels, and where their middle lies; then from where to where there is wood.
    let seen = pixels(
        "const sums = [0, 1, 2, 3].map(() => [0, 0, 0]); let [least, most] = [wide, 0];
        for (let n = 0; n < wide * high; n += 1) {
            const [r, g, b, there] = all.subarray(4 * n, 4 * n + 4);
            if (there < 128) continue;
            const [x, y] = [n % wide, Math.floor(n / wide)];
            [least, most] = [Math.min(least, x), Math.max(most, x)];
            const is = [r > 2.2 * g && r > 2.2 * b, b > 2 * r && b > 2 * g, g > 1.6 * r && g > 1.6 * b,
                r > 2.2 * g && b > 2.2 * g && b > r / 2];
            const at = is.lastIndexOf(true);
            if (at >= 0) { sums[at][0] += 1; sums[at][1] += x; sums[at][2] += y; }
        }
        done([...sums.map(([n, x, y]) => [n, x / n, y / n]), [least, most]]);",
    );
    for (order, piece) in both {
        let side = piece.side.name();
        browser.ask(&format!(
            "document.querySelector('[name=side][value={side}]').click()"
        ));
        set(&mut browser, "planked", &order.to_string());
        let before = browser.ask(&seen);
        assert_eq!(before[0][0].as_u64().unwrap(), 0, "{side}: {before}");
        set(&mut browser, "planked", &page.plan.pieces.len().to_string());
        let seen = browser.ask(&seen);
        let number = |k: usize, n: usize| seen[k][n].as_f64().unwrap();
        let [red, blue, green, violet] = [0, 1, 2, 3];
        for colour in [red, blue, green, violet] {
            assert!(number(colour, 0) > 100.0, "{side}: {seen}");
        }
        // From abeam the bow of port is to the left, that of starboard to the right.
        let mark_left = (piece.side == Side::Port) == (piece.bow_end == BowEnd::Mark);
        assert_eq!(
            number(red, 1) < number(green, 1),
            mark_left,
            "{side}: {seen}"
        );
        assert_eq!(
            number(blue, 1) < number(violet, 1),
            mark_left,
            "{side}: {seen}"
        );
        // Keel down, the topside is laid toward the keel: the next course lies below.
        let a_below = piece.next_edge == Edge::A;
        assert_eq!(number(red, 2) > number(blue, 2), a_below, "{side}: {seen}");
        assert_eq!(
            number(green, 2) > number(violet, 2),
            a_below,
            "{side}: {seen}"
        );
        // Each half of the strip lies where the plan has it.
        let ribbon = all.iter().find(|ribbon| ribbon.piece == order).unwrap();
        let middle = page.job.stock.strip(piece.strip).length.mm() / 2.0;
        let nearest = ribbon.lines[0].iter().min_by(|a, b| {
            (a.along - middle)
                .abs()
                .total_cmp(&(b.along - middle).abs())
        });
        let (fore, aft) = (
            ribbon.lines[0][0].at[0],
            ribbon.lines[0].last().unwrap().at[0],
        );
        let x = nearest.unwrap().at[0];
        let halves = [(fore + x) / 2.0, (x + aft) / 2.0];
        let ends = all.iter().flat_map(|ribbon| ribbon.lines.iter().flatten());
        let (bow, stern) = ends.fold((f64::MAX, f64::MIN), |(least, most), place| {
            (least.min(place.at[0]), most.max(place.at[0]))
        });
        let (left, right) = (number(4, 0), number(4, 1));
        let on_page = |x: f64| {
            let part = (x - bow) / (stern - bow);
            let part = if piece.side == Side::Port {
                part
            } else {
                1.0 - part
            };
            left + part * (right - left)
        };
        let toward_bow = if piece.bow_end == BowEnd::Mark {
            red
        } else {
            green
        };
        let toward_stern = if piece.bow_end == BowEnd::Mark {
            green
        } else {
            red
        };
        for (colour, x) in [(toward_bow, halves[0]), (toward_stern, halves[1])] {
            let off = (number(colour, 1) - on_page(x)).abs() / (right - left);
            assert!(off < 0.03, "{side}: {off}, {seen}");
        }
    }
}
