//! Every piece of the picture can be reached: by pointer, by touch, by keys, and without script.

use super::Page;
use super::browser::{Browser, Screen};
use crate::common::Says;
use serde_json::Value;
use std::collections::BTreeSet;

/// A place in the middle of the nth piece, scrolled into sight, clear of the joints at its ends.
fn place(browser: &mut Browser, n: usize) -> (f64, f64) {
    let at = browser.ask(&format!(
        "(() => {{ const shape = document.querySelectorAll('a.piece')[{n}].querySelector('polygon');
        const svg = shape.ownerSVGElement, points = [...shape.points];
        const mid = (a, b) => (a + b) / 2;
        const inside = () => {{ const p = svg.createSVGPoint();
            p.x = mid(mid(points[0].x, points[3].x), mid(points[1].x, points[2].x)); p.y = mid(points[0].y, points[2].y);
            const q = p.matrixTransform(shape.getScreenCTM()); return [q.x, q.y]; }};
        const box = document.querySelector('.drawing'), card = document.getElementById('details');
        let [x, y] = inside();
        box.scrollBy(x - box.getBoundingClientRect().x - box.clientWidth / 2, y - box.getBoundingClientRect().y - box.clientHeight / 2);
        [x, y] = inside();
        scrollBy(0, y - 200);
        return inside(); }})()"
    ));
    let at: Vec<f64> = at
        .as_array()
        .unwrap()
        .iter()
        .map(|v| v.as_f64().unwrap())
        .collect();
    (at[0], at[1])
}

fn card(browser: &mut Browser) -> String {
    // The page may need a moment after a key or a tap.
    browser.text(
        "new Promise(done => { let looks = 0; (function look() {
            const card = document.getElementById('details');
            if (card.hidden && ++looks < 50) setTimeout(look, 20);
            else done(card.hidden ? '' : card.innerText); })(); })",
    )
}

/// What must be told of each piece, in the order of the drawing: its row's place, and the strip.
fn drawn(browser: &mut Browser) -> Vec<(String, String)> {
    let all = browser.ask(
        "[...document.querySelectorAll('a.piece')].map(p => [p.dataset.panel + ' course ' + p.dataset.course + ', ' +
        p.dataset.side + ', piece ' + p.dataset.piece, p.dataset.strip])",
    );
    let pair = |pair: &Value| {
        let word = |n: usize| pair[n].as_str().unwrap().to_owned();
        (word(0), word(1))
    };
    all.as_array().unwrap().iter().map(pair).collect()
}

#[test]
#[cfg_attr(no_chromium, ignore = "chromium is missing")]
fn on_a_phone_every_piece_tells_what_it_is_when_it_is_tapped() {
    let page = Page::demo();
    let mut browser = Browser::start();
    browser.screen(Screen::Phone);
    browser.open(&page.address());
    assert_eq!(card(&mut browser), "", "nothing is told before");
    let drawn = drawn(&mut browser);
    assert_eq!(drawn.len(), page.plan.pieces.len());
    for (n, (piece, strip)) in drawn.iter().enumerate() {
        let at = place(&mut browser, n);
        browser.tap(at);
        let told = card(&mut browser);
        let mut lines = told.lines().filter(|line| !line.is_empty());
        assert_eq!(lines.next(), Some(piece.as_str()), "tapped at {at:?}");
        lines.next().unwrap().begins(&format!("strip {strip}, "));
        told.says("measured from the strip's marked end");
    }
    let wide = browser.ask("document.documentElement.scrollWidth <= innerWidth");
    assert_eq!(wide, true, "the page itself never moves sideways");
}

#[test]
#[cfg_attr(no_chromium, ignore = "chromium is missing")]
fn on_a_desk_every_piece_tells_what_it_is_under_the_pointer() {
    let page = Page::demo();
    let mut browser = Browser::start();
    browser.screen(Screen::Desk);
    browser.open(&page.address());
    for (n, (piece, _)) in drawn(&mut browser).iter().enumerate() {
        let at = place(&mut browser, n);
        browser.point_at(at);
        assert!(card(&mut browser).starts_with(piece), "{piece}");
    }
}

#[test]
#[cfg_attr(no_chromium, ignore = "chromium is missing")]
fn by_keys_the_picture_is_one_stop_and_the_arrows_lead_to_every_piece() {
    let page = Page::demo();
    let mut browser = Browser::start();
    browser.screen(Screen::Desk);
    browser.open(&page.address());
    let all = drawn(&mut browser);
    let focus = "(e => e.closest('a.piece') ? 'piece' : e.id || e.getAttribute('href') || e.tagName)(document.activeElement)";
    let mut stops = Vec::new();
    for _ in 0..30 {
        browser.press("Tab");
        stops.push(browser.text(focus));
    }
    let parts = [
        "#seams", "#short", "#picture", "#seams", "#order", "#cuts", "#spare", "#cost", "#inputs",
    ];
    assert_eq!(
        &stops[..9],
        parts,
        "the page from its top, the picture can be skipped"
    );
    assert_eq!(&stops[9..11], ["large", "piece"], "{stops:?}");
    let once = stops.iter().take_while(|stop| *stop != "BODY");
    assert_eq!(once.filter(|stop| *stop == "piece").count(), 1, "{stops:?}");

    browser.open(&page.address());
    browser.ask("document.querySelector('a.piece').focus()");
    let mut seen = BTreeSet::new();
    for (piece, _) in &all {
        let told = card(&mut browser);
        assert!(told.starts_with(piece.as_str()), "{piece}: {told}");
        seen.insert(told);
        browser.press("ArrowRight");
    }
    assert_eq!(seen.len(), all.len());

    // From the last piece up a course at a time to the first: each row once.
    let rows: BTreeSet<String> = all
        .iter()
        .map(|(piece, _)| piece.rsplit_once(", piece").unwrap().0.to_owned())
        .collect();
    let mut met = BTreeSet::new();
    for _ in 0..rows.len() {
        let told = card(&mut browser);
        met.insert(
            told.lines()
                .next()
                .unwrap()
                .rsplit_once(", piece")
                .unwrap()
                .0
                .to_owned(),
        );
        browser.press("ArrowUp");
    }
    assert_eq!(met, rows);

    browser.press("Home");
    let first = card(&mut browser);
    assert!(
        first.lines().next().unwrap().ends_with("piece 1"),
        "{first}"
    );
    browser.press("Enter");
    let gone = browser.text("document.querySelector(':target').innerText");
    let strip = first
        .lines()
        .find_map(|line| line.strip_prefix("strip "))
        .unwrap();
    let strip = strip.split(',').next().unwrap();
    gone.says(strip);
    browser.ask("document.querySelector('a.piece').focus()");
    browser.press("Escape");
    assert_eq!(card(&mut browser), "");
}

#[test]
#[cfg_attr(no_chromium, ignore = "chromium is missing")]
fn without_script_every_piece_leads_to_its_row_and_everything_can_be_read() {
    let page = Page::demo();
    let mut browser = Browser::start();
    browser.without_script();
    browser.screen(Screen::Phone);
    browser.open(&page.address());
    let led = browser.ask(
        "[...document.querySelectorAll('a.piece')].filter(p => p.tabIndex === 0 && p.getAttribute('aria-label').includes(p.dataset.strip)
        && document.querySelector(p.getAttribute('href')).innerText.includes(p.dataset.strip)).length",
    );
    assert_eq!(led, page.plan.pieces.len());
    let text = browser.text("document.body.innerText");
    // What only script can do is not offered.
    text.lacks("Rest the pointer");
    for strip in &page.job.stock.strips {
        text.says(&strip.name);
    }
    for digest in ["boat.toml", &"0f".repeat(32)] {
        text.says(digest);
    }
    let told = browser.ask("[...document.querySelectorAll('a.piece > title')].length");
    assert_eq!(
        told,
        page.plan.pieces.len(),
        "the browser's own word on the pointer stays"
    );
}
