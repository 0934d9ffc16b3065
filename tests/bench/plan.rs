//! A plan looked for from the page: watched, stopped, chosen, taken; and what is left behind when the program is left.

use super::{Bench, Shop, value};
use crate::common::Says;
use std::fs;
use std::path::Path;
use std::process::Command;
use std::thread::sleep;
use std::time::{Duration, Instant};
use twinstrake::job;
use twinstrake::stock::Strip;

/// Follows the search to its end; what was told on the way.
pub fn watched(bench: &Bench) -> String {
    let began = Instant::now();
    let mut told = String::new();
    loop {
        let heard = bench.get("/plan/events").body;
        told += &heard;
        if heard.contains("\"under_way\":false") {
            return told;
        }
        assert!(began.elapsed() < Duration::from_secs(60), "{told}");
    }
}

/// The digest that the button of a plan to choose carries.
fn digest(bench: &Bench, number: usize) -> String {
    value(&bench.get(&format!("/plan/{number}")).body, "plan").to_owned()
}

#[test]
fn a_first_plan_is_looked_for_looked_at_and_taken() {
    let shop = Shop::small();
    fs::remove_dir_all(shop.path("out")).unwrap();
    let bench = shop.open(&[]);
    let page = bench.get("/");
    page.is(409);
    page.body.says("href=\"/plan\"");
    bench.get("/plan").body.says("There is no plan yet");
    bench.post("/plan/start", "seconds=soon").is(400);
    bench.post("/plan/start", "seconds=1").is(303);
    let told = watched(&bench);
    told.says("\"under_way\":true");
    // Nothing counts before it is taken.
    assert!(!shop.path("out/laying-order.csv").exists());
    let page = bench.get("/plan").body;
    page.says("This was found");
    page.says("href=\"/plan/1\"");
    // The pictures come by themselves, so that the page is there at once.
    page.says("src=\"/plan/1/wood.svg\"");
    page.lacks("class=\"piece\"");
    let picture = bench.get("/plan/1/wood.svg");
    picture.head.says("image/svg+xml");
    picture.body.begins("<svg");
    for nothing in ["/plan/0/wood.svg", "/plan/2/wood.svg", "/plan/1/plan.json"] {
        assert_eq!(bench.get(nothing).status, 404, "{nothing}");
    }
    let take = format!("number=1&plan={}", digest(&bench, 1));
    bench.post("/plan/take", "number=1&plan=00000000").is(409);
    bench.post("/plan/take", "number=9&plan=0").is(409);
    let taken = bench.post("/plan/take", &take);
    taken.head.says("location: /plan?taken=1\r");
    let order = fs::read(shop.path("out/laying-order.csv")).unwrap();
    assert_eq!(
        order,
        fs::read(shop.path("out/choices/1/laying-order.csv")).unwrap()
    );
    bench.get("/").is(200);
    // What is not for this boat any more can't be taken.
    let strips = shop.read("strips.csv");
    fs::write(shop.path("strips.csv"), strips.replace(",6\n", ",7\n")).unwrap();
    let refused = bench.post("/plan/take", &take);
    refused.is(409);
    refused.body.says("has changed since");
    bench.post("/plan/away", "").is(303);
    assert!(!shop.path("out/choices/1").exists());
}

#[test]
fn other_wood_is_found_for_a_broken_strip_and_the_labels_that_change_are_made() {
    let shop = Shop::with(|file, text| match file {
        "strips.csv" => text.clone() + &spares(&text),
        _ => text,
    });
    let bench = shop.open(&[]);
    bench.post("/paper/labels", "").is(200);
    let plan = shop.plan();
    let job = shop.job();
    let strip = &job.stock.strip(plan.pieces[0].strip).name;
    let broken = format!("kind=broken&key=b&strip={strip}&at=1500");
    bench.tell(&broken).is(200);
    bench.get("/").body.says("can't be laid as it is any more");
    bench.post("/plan/start", "seconds=1&moved=keep").is(303);
    watched(&bench);
    let page = bench.get("/plan/1").body;
    for word in [
        "What changes",
        "instead of",
        "to print, for",
        "In looks:",
        "As it is:",
        "As it would be:",
    ] {
        assert!(page.contains(word), "{word} in {page}");
    }
    let take = format!("number=1&plan={}", digest(&bench, 1));
    bench.post("/plan/take", &take).is(303);
    assert!(shop.path("out/earlier/plan-1/laying-order.csv").exists());
    let page = bench.get("/plan?taken=1").body;
    page.says("value=\"changed\"");
    let made = bench.post("/paper/labels", "which=changed").body;
    made.says("the others are as they were printed last");
    made.says("/print/labels-to-take-off.pdf");
    bench.get("/print/labels.pdf").body.begins("%PDF-");
}

/// The whole rack of the demo once more, as strays, under the header of a sheet.
pub fn spares(sheet: &str) -> String {
    let stock = job::read(Path::new("demo-stock")).unwrap().job.stock;
    let header = sheet.lines().next().unwrap();
    let row = |strip: &Strip| {
        let colour = strip.colour;
        let cells = header.split(',').map(|column| match column {
            "strip" => format!("Z{}", strip.name),
            "length" => strip.length.mm().to_string(),
            "colour" => format!("{} {} {}", colour.l, colour.a, colour.b),
            _ => String::new(),
        });
        cells.collect::<Vec<String>>().join(",") + "\n"
    };
    stock.strips.iter().map(row).collect()
}

#[cfg(unix)]
#[test]
fn a_search_goes_on_alone_is_stopped_by_hand_and_leaving_the_program_loses_nothing() {
    let shop = Shop::demo();
    let order = fs::read(shop.path("out/laying-order.csv")).unwrap();
    let bench = shop.open(&[]);
    bench.post("/plan/start", "").is(303);
    // A second one is not begun; nobody has to look on.
    bench.post("/plan/start", "").is(303);
    let page = bench.get("/plan").body;
    page.says("data-watch");
    page.lacks("/plan/start");
    // What happens meanwhile is told as ever.
    let laid = format!("kind=laid&key=k&plan={}&order=1", bench.plan());
    bench.tell(&laid).is(200);
    bench.post("/plan/stop", "").is(303);
    watched(&bench);
    assert_eq!(fs::read(shop.path("out/laying-order.csv")).unwrap(), order);
    assert!(shop.path("out/choices/1/plan.json").exists());
    bench.post("/plan/away", "").is(303);
    bench.post("/plan/start", "moved=afresh").is(303);
    sleep(Duration::from_millis(700));
    let id = bench.child.id().to_string();
    assert!(
        Command::new("kill")
            .args(["-2", &id])
            .status()
            .unwrap()
            .success()
    );
    let began = Instant::now();
    while bench.get("/stamp").status != 0 {
        assert!(began.elapsed() < Duration::from_secs(40), "it does not end");
        sleep(Duration::from_millis(50));
    }
    assert_eq!(fs::read(shop.path("out/laying-order.csv")).unwrap(), order);
    assert_eq!(shop.log().len(), 1);
}

#[test]
fn why_the_plan_is_as_it_is_is_told_on_the_page() {
    let (_shop, bench) = Shop::small().opened();
    bench.post("/plan/why", "").is(303);
    watched(&bench);
    let page = bench.get("/plan").body;
    page.says("Planned again with one thing made easier");
    bench.post("/plan/forget", "").is(303);
    bench.get("/plan").body.lacks("made easier");
}
