//! A whole day at the bench in a real browser: a label scanned, strips laid, one broken by touch, planned again, taken,
//! the changed labels made, and an entry undone; every screen looked over for whoever can't see it.

use super::chromium::Browser;
use super::{Shop, plan, scan};
use crate::common::Says;
use serde_json::json;
use std::fs;
use twinstrake::job;

/// The screens that one can go to.
const SCREENS: [&str; 15] = [
    "/", "/piece/3", "/strip/0", "/boat", "/hull", "/find", "/scan", "/record", "/plan", "/plan/1",
    "/paper", "/files", "/files/0", "/files/5", "/boats",
];

/// Puts a file into a field as whoever chooses it does.
fn choose(browser: &mut Browser, field: &str, file: &str) {
    let expression = format!("document.querySelector('{field}')");
    let found = browser.call("Runtime.evaluate", json!({ "expression": expression }));
    let object = &found["result"]["objectId"];
    browser.call(
        "DOM.setFileInputFiles",
        json!({ "files": [file], "objectId": object }),
    );
}

#[test]
#[cfg_attr(
    any(no_chromium, no_poppler),
    ignore = "chromium or poppler-utils are missing"
)]
fn a_day_at_the_bench_goes_by_thumb_from_the_scan_to_the_labels_that_changed() {
    a_day([360, 780], std::env::var("TWINSTRAKE_AXE").ok());
}

#[test]
#[cfg_attr(
    any(no_chromium, no_poppler),
    ignore = "chromium or poppler-utils are missing"
)]
fn the_same_day_goes_by_on_a_laptop() {
    a_day([1280, 800], None);
}

/// A strip is looked up by its label and a course laid; a strip breaks, all is planned again, and the labels that
/// changed are printed; then all is undone. `axe` is where axe-core lies, to look every screen over.
fn a_day([wide, high]: [u32; 2], axe: Option<String>) {
    let shop = Shop::with(|file, text| match file {
        "strips.csv" => text.clone() + &plan::spares(&text),
        _ => text,
    });
    let bench = shop.open(&[]);
    bench.post("/paper/labels", "on=sheet&size=A4+3x7").is(200);
    let photograph = shop.path("label.jpg");
    fs::write(&photograph, scan::photograph(&shop)).unwrap();
    let mut browser = Browser::start();
    browser.window(wide, high);
    let address = |path: &str| format!("http://{}{path}", bench.host);
    // A label is photographed, and its strip is shown.
    browser.open(&address("/scan"));
    let before = browser.told.len();
    choose(&mut browser, "#photograph", photograph.to_str().unwrap());
    browser.loaded(before);
    browser.until("document.querySelector('h1')?.textContent.startsWith('Strip ')");
    // The first course is laid.
    browser.open(&address("/"));
    for laid in 1..=2 {
        browser.ask("document.querySelector('form.laid button').click()");
        browser.until(&format!(
            "document.querySelector('.done')?.textContent.includes('{laid} of ')"
        ));
        browser.until("document.querySelector('#waiting').hidden");
    }
    // The next strip breaks where it is touched.
    let third = shop.plan().pieces[2].strip.0;
    browser.open(&address(&format!("/strip/{third}")));
    browser.ask(
        "(() => { const box = document.querySelector('.touch svg').getBoundingClientRect(); \
         document.querySelector('.touch svg').dispatchEvent(new MouseEvent('click', { bubbles: true, \
         clientX: box.left + box.width / 2, clientY: box.top + 9 })); \
         document.querySelector('[value=broken]').click(); })()",
    );
    browser.until(
        "document.querySelector('#main').textContent.includes(\"can't be laid as it is any more\")",
    );
    // Planned again, watched to its end without a touch.
    browser.follow("document.querySelector('#main a[href=\"/plan\"]').click()");
    browser.ask(
        "(() => { document.querySelector('#seconds').value = '1'; \
         document.querySelector('#moved').value = 'keep'; })()",
    );
    browser.follow("document.querySelector('form[action=\"/plan/start\"] button').click()");
    browser.until("document.querySelector('a[href=\"/plan/1\"]') !== null");
    browser.follow("document.querySelector('a[href=\"/plan/1\"]').click()");
    browser.until("document.querySelector('details .changes').textContent.includes('instead of')");
    if let Some(axe) = axe {
        looked_over(&mut browser, &fs::read_to_string(axe).unwrap(), &address);
        browser.window(wide, high);
        browser.open(&address("/plan/1"));
    }
    browser.follow("document.querySelector('form[action=\"/plan/take\"] button').click()");
    browser.follow("document.querySelector('form[action=\"/paper/labels\"] button').click()");
    let made = browser.text("document.querySelector('#main').textContent");
    made.says("as they were printed last");
    assert!(job::read(&shop.path("")).is_ok() && shop.path("out/labels-to-take-off.pdf").exists());
    // The way back.
    browser.open(&address("/record"));
    browser.ask("document.querySelector('.entries form.undo button').click()");
    browser.until("document.querySelector('.entries')?.textContent.includes('(undone)')");
    browser.is_sound();
}

/// Every screen in both sizes, in both looks as the system asks for them and as they are pressed, by axe-core.
fn looked_over(browser: &mut Browser, axe: &str, address: &dyn Fn(&str) -> String) {
    for (scheme, pressed) in [
        ("light", ""),
        ("dark", ""),
        ("light", "dark"),
        ("dark", "sun"),
    ] {
        let press = format!(
            "fetch('/look', {{ method: 'POST', body: new URLSearchParams({{ look: '{pressed}' }}) }}).then(() => 0)"
        );
        browser.scheme(scheme);
        browser.open(&address("/"));
        browser.ask(&press);
        for path in SCREENS {
            for (wide, high) in [(360, 780), (1280, 800)] {
                browser.window(wide, high);
                browser.open(&address(path));
                let look = browser.ask("document.documentElement.dataset.look || ''");
                assert!(path == "/hull" || look == pressed, "{path}: {look}");
                browser.ask(&format!("{axe}; 0"));
                let found = browser.ask(
                    "axe.run().then((all) => \
                     all.violations.map((one) => `${one.id}: ${one.nodes[0].html}`).join('\\n'))",
                );
                assert_eq!(found, "", "{path} at {wide} x {high}, {scheme} {pressed}");
                let over = browser.ask("document.documentElement.scrollWidth <= innerWidth");
                assert_eq!(over, true, "{path} at {wide} x {high} is too wide");
            }
        }
        browser.open(&address("/"));
        browser.ask(&press);
    }
}
