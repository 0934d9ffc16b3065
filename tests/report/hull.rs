//! The hull in three dimensions on its page.

use super::Page;
use super::browser::{Browser, Screen};
use std::fs;
use std::path::PathBuf;
use twinstrake::check::check;
use twinstrake::job::read_lines;
use twinstrake::solid::{Faces, glb, page, ribbons};

/// The demo's hull, beside its report.
fn written(of: &Page) -> String {
    let demo = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("demo-stock");
    let told = read_lines(&demo).unwrap().told;
    let ribbons = ribbons(&told, &of.job, &of.plan).unwrap();
    let glb = glb(&of.job, &of.plan, &ribbons, &Faces::new()).unwrap();
    let verdict = check(&of.job, &of.plan);
    let file = of.folder.path().join("hull.html");
    fs::write(&file, page(&of.job, &of.plan, &verdict, &glb, false)).unwrap();
    format!("file://{}", file.display())
}

/// How many of the picture's pixels have wood in them, once it has been drawn.
const WOOD: &str = "new Promise(done => requestAnimationFrame(() => requestAnimationFrame(() => {
    const from = document.querySelector('canvas'), to = document.createElement('canvas');
    [to.width, to.height] = [from.width, from.height];
    const pen = to.getContext('2d'); pen.drawImage(from, 0, 0);
    const all = pen.getImageData(0, 0, to.width, to.height).data;
    let wood = 0; for (let i = 3; i < all.length; i += 4) wood += all[i] > 128;
    done(wood); })))";

/// How many of them are redder than any wood is.
const RED: &str = "new Promise(done => requestAnimationFrame(() => requestAnimationFrame(() => {
    const from = document.querySelector('canvas'), to = document.createElement('canvas');
    [to.width, to.height] = [from.width, from.height];
    const pen = to.getContext('2d'); pen.drawImage(from, 0, 0);
    const all = pen.getImageData(0, 0, to.width, to.height).data;
    let red = 0; for (let i = 0; i < all.length; i += 4) red += all[i + 3] > 128 && all[i] > 2.2 * all[i + 1];
    done(red); })))";

fn set(browser: &mut Browser, id: &str, value: &str) {
    browser.ask(&format!(
        "(() => {{ const it = document.getElementById('{id}'); it.value = '{value}';
        it.dispatchEvent(new Event('input', {{ bubbles: true }})); return null; }})()"
    ));
}

#[test]
#[cfg_attr(no_chromium, ignore = "chromium is missing")]
fn the_hull_is_drawn_is_planked_piece_by_piece_and_says_what_is_tapped() {
    let page = Page::demo();
    let address = written(&page);
    let mut browser = Browser::with_webgl();
    browser.screen(Screen::Phone);
    browser.open(&address);
    assert_eq!(browser.ask("document.getElementById('flat').hidden"), true);
    let whole = browser.ask(WOOD).as_u64().unwrap();
    assert!(whole > 2000, "{whole} pixels of wood");

    let middle = browser.ask(
        "(() => { const box = document.querySelector('canvas').getBoundingClientRect();
        return [box.x + box.width / 2, box.y + box.height / 2]; })()",
    );
    browser.tap((middle[0].as_f64().unwrap(), middle[1].as_f64().unwrap()));
    let told = browser.ask("document.getElementById('told').textContent");
    assert!(
        told.as_str().unwrap().contains("in the order of laying"),
        "{told}"
    );

    // Zones kept clear are shown when that is asked for.
    assert_eq!(browser.ask(RED), 0);
    browser.ask("(() => { document.getElementById('clear').click(); return null; })()");
    let red = browser.ask(RED).as_u64().unwrap();
    assert!(red > 100 && red < whole / 4, "{red} of {whole}");
    browser.ask("(() => { document.getElementById('clear').click(); return null; })()");
    assert_eq!(browser.ask(RED), 0);

    set(&mut browser, "planked", "1");
    let one = browser.ask(WOOD).as_u64().unwrap();
    assert!(0 < one && one < whole / 2, "{one} of {whole}");
    let at = browser.ask("document.getElementById('at').textContent");
    assert!(
        at.as_str().unwrap().starts_with("1: topside course 1, "),
        "{at}"
    );
    set(&mut browser, "planked", "0");
    assert_eq!(browser.ask(WOOD), 0);
    let wrong: Vec<_> = browser
        .told
        .iter()
        .filter(|(name, _)| name == "Runtime.exceptionThrown")
        .collect();
    assert!(wrong.is_empty(), "{wrong:?}");
}

#[test]
#[cfg_attr(no_chromium, ignore = "chromium is missing")]
fn without_three_dimensions_and_without_script_the_hull_lies_flat() {
    let page = Page::demo();
    let address = written(&page);
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
    let said = browser.ask("document.getElementById('flat').innerText");
    assert!(
        said.as_str().unwrap().contains("WebGL is missing"),
        "{said}"
    );
    assert_eq!(
        browser.ask("document.querySelectorAll('#flat svg').length"),
        1
    );
}
