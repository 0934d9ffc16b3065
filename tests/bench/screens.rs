//! The screens besides that of the day: the boat, a strip, what happened, and pages for the printer.

use super::Shop;
use super::chromium::Browser;
use crate::common::Says;
use std::fs;
use twinstrake::log::Event;

/// The bytes of a page without its pictures.
fn words(page: &str) -> usize {
    let mut rest = page;
    let mut bytes = 0;
    while let Some((before, picture)) = rest.split_once("<svg ") {
        bytes += before.len();
        rest = picture.split_once("</svg>").map_or("", |(_, after)| after);
    }
    bytes + rest.len()
}

#[test]
fn every_screen_is_small_and_leads_to_every_piece() {
    let (shop, bench) = Shop::demo().opened();
    let pieces = shop.plan().pieces.len();
    for path in ["/", "/boat", "/find", "/record", "/strip/0", "/piece/3"] {
        let page = bench.get(path);
        assert_eq!(page.status, 200, "{path}");
        assert!(words(&page.body) < 100_000, "{path}: {}", words(&page.body));
        assert!(
            !page.body.contains("style=") && !page.body.contains("<style"),
            "{path}"
        );
    }
    let (boat, order) = (bench.get("/boat").body, bench.get("/find").body);
    for n in 1..=pieces {
        let link = format!("href=\"/piece/{n}\"");
        assert!(boat.contains(&link) && order.contains(&link), "{n}");
    }
    boat.says("0 of ");
    boat.says("ready to lay");
}

#[test]
fn names_are_understood_as_the_log_understands_them() {
    let (shop, bench) = Shop::demo().opened();
    let plan = shop.plan();
    let first = &plan.pieces[0];
    let strip = format!("location: /strip/{}\r", first.strip.0);
    let reading = twinstrake::job::read(&shop.path("")).unwrap();
    let name = &reading.job.stock.strip(first.strip).name;
    for typed in [name.clone(), name.to_lowercase()] {
        let found = bench.get(&format!("/find?name={typed}"));
        assert_eq!(found.status, 303, "{typed}");
        found.head.says(&strip);
    }
    let panel = &reading.job.hull.panel_of(first.course).name;
    let place = format!("{panel}+1+port+1");
    let found = bench.get(&format!("/find?name={place}"));
    found.head.says("location: /piece/1\r");
    for nothing in ["ZZ9", "topside+99", "%3Cb%3E"] {
        let page = bench.get(&format!("/find?name={nothing}"));
        page.is(200);
        assert!(
            page.body.contains("role=\"alert\"") && !page.body.contains("<b>"),
            "{nothing}"
        );
    }
}

#[test]
fn what_happens_to_a_strip_is_told_undone_and_told_in_words_without_script() {
    let (shop, bench) = Shop::demo().opened();
    let plan = shop.plan();
    let first = &plan.pieces[0];
    let name = shop.job().stock.strip(first.strip).name.clone();
    let told = bench.post(
        "/entry",
        &format!(
            "kind=broken&key={}&back=record&strip={name}&at=1000&note=dropped+it",
            bench.key("b1")
        ),
    );
    told.head.says("location: /record?entry=1\r");
    let page = bench.get("/record?entry=1").body;
    page.says(&format!("broken: {name} at 1000 mm"));
    page.says("dropped it");
    page.says("The plan can't be laid as it is any more");
    bench.get("/").body.says("Its wood is gone");
    bench
        .post(
            "/entry",
            &format!("kind=undo&key={}&back=record&entry=1", bench.key("b2")),
        )
        .is(303);
    bench.get("/record").body.says("(undone)");
    for (kind, more) in [
        ("spoiled", "&at=100-200"),
        ("lost", ""),
        ("found", ""),
        ("shade", "&colour=6"),
    ] {
        let body = format!("kind={kind}&key={kind}&strip={name}{more}");
        assert_eq!(bench.tell(&body).status, 200, "{kind}");
    }
    bench
        .tell("kind=words&key=w1&words=found+Z9+3200+7")
        .is(200);
    for (kind, more) in [
        ("broken", "&at=far"),
        ("broken", "&at=999999"),
        ("shade", "&colour=blue"),
        ("words", "&words=eaten"),
    ] {
        let body = format!("kind={kind}&key=x{kind}&strip={name}{more}");
        assert_eq!(bench.tell(&body).status, 409, "{kind} {more}");
    }
    bench.tell("kind=lost&key=y&strip=nobody").is(409);
    assert_eq!(shop.log().len(), 7);
}

#[test]
fn what_is_laid_can_come_off_again_spoiled_or_whole() {
    let (shop, bench) = Shop::demo().opened();
    let plan = bench.plan();
    let of = |kind: &str, key: &str, more: &str| {
        format!("kind={kind}&key={key}&plan={plan}&order=1{more}")
    };
    bench.tell(&of("taken+up", "t0", "")).is(409);
    bench.tell(&of("laid", "l1", "")).is(200);
    bench.get("/piece/1").body.says("It came off whole");
    bench.tell(&of("taken+up", "t1", "&whole=yes")).is(200);
    bench.tell(&of("laid", "l2", "")).is(200);
    bench.tell(&of("taken+up", "t2", "")).is(200);
    let spoiled: Vec<bool> = shop
        .log()
        .iter()
        .filter_map(|entry| match &entry.event {
            Event::TakenUp { spoiled, .. } => Some(spoiled.is_some()),
            _ => None,
        })
        .collect();
    assert_eq!(spoiled, [false, true]);
}

#[test]
fn sheets_and_pictures_come_as_pdf_and_nothing_is_written() {
    let (shop, bench) = Shop::demo().opened();
    for file in [
        "laying-sheet.pdf",
        "laying-sheet.pdf?left=yes",
        "cut-list.pdf",
        "wood.pdf",
    ] {
        let page = bench.get(&format!("/print/{file}"));
        assert_eq!(page.status, 200, "{file}");
        assert!(
            page.body.starts_with("%PDF-") && page.head.contains("application/pdf"),
            "{file}"
        );
    }
    let dated = |date: &str| bench.get(&format!("/print/cut-list.pdf?date={date}")).body;
    assert!(dated("2+May") != dated("") && dated("2+May") == dated("2+May"));
    bench.get("/print/plan.json").is(404);
    assert_eq!(std::fs::read_dir(shop.path("out")).unwrap().count(), 1);
}

#[test]
#[cfg_attr(no_chromium, ignore = "chromium is missing")]
fn a_strip_is_broken_where_it_is_touched_and_the_place_can_be_corrected() {
    let (shop, bench) = Shop::demo().opened();
    let mut browser = Browser::start();
    browser.window(360, 780);
    browser.open(&format!("http://{}/strip/0", bench.host));
    let length = shop.job().stock.strips[0].length.mm();
    browser.ask(
        "(() => { const t = document.querySelector('.touch'), b = t.querySelector('svg').getBoundingClientRect(); \
         const part = Number(t.dataset.from) + (t.dataset.to - t.dataset.from) * 0.25; \
         const at = { bubbles: true, clientX: b.left + part * b.width, clientY: b.top + 9 }; \
         t.dispatchEvent(new MouseEvent('click', at)); })()",
    );
    let at = browser.text("document.getElementById('at').value");
    let at: f64 = at.parse().unwrap();
    assert!((at - length / 4.0).abs() < 12.0, "{at} of {length}");
    browser.ask(
        "(() => { document.getElementById('at').value = '1234'; \
         document.querySelector('[value=broken]').click(); })()",
    );
    browser.until("document.querySelector('#said')?.textContent.includes('at 1234 mm')");
    let log = shop.log();
    assert!(
        matches!(&log[0].event, Event::Broken { at, .. } if at.from.mm() == 1234.0),
        "{log:?}"
    );
}

#[test]
fn photographed_wood_is_seen_at_the_bench_and_so_is_the_hull_which_is_let_do_nothing_there() {
    let shop = Shop::demo();
    fs::create_dir(shop.path("photographs")).unwrap();
    let seen = image::RgbImage::from_pixel(200, 38, image::Rgb([150, 110, 70]));
    seen.save(shop.path("photographs/a.jpg")).unwrap();
    let rows = ["A1", "A2", "B1", "B2", "C1", "C2", "D1", "D2"]
        .map(|strip| format!("a.jpg,{strip},1000,1100,60 9 22,1,1,100,good,photographs/a.jpg\n"));
    let header = "photo,strip,from,to,colour,spread,change,clear,quality,picture\n";
    fs::write(shop.path("colours.csv"), header.to_owned() + &rows.concat()).unwrap();
    let bench = shop.open(&[]);
    let boat = bench.get("/boat");
    boat.body.says("href=\"data:image/jpeg;base64,");
    boat.body.says("0 are photographed whole, and ");
    boat.head.says("img-src 'self' data:");
    boat.body.says("href=\"/hull\"");
    let hull = bench.get("/hull");
    hull.is(200);
    // Its scripts are in it, so it may do less than any other page.
    let policy = "content-security-policy: sandbox allow-scripts; default-src 'none'";
    hull.head.says(policy);
    hull.body.says("Where a strip was photographed");

    let bench = Shop::small();
    let bench = bench.open(&[]);
    let boat = bench.get("/boat");
    boat.body.lacks("/hull");
    boat.body.lacks("data:image");
    let hull = bench.get("/hull");
    hull.is(409);
    hull.body.says("offsets");
}
