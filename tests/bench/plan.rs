//! A plan looked for from the page: watched, stopped, chosen, taken; and what is left behind when the program is left.

use super::{Bench, Shop};
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
        let heard = bench.get("/plan/events", "").body;
        told += &heard;
        if heard.contains("\"under_way\":false") {
            return told;
        }
        assert!(began.elapsed() < Duration::from_secs(60), "{told}");
    }
}

/// The digest that the button of a plan to choose carries.
fn digest(bench: &Bench, number: usize) -> String {
    let page = bench.get(&format!("/plan/{number}"), "").body;
    let (_, after) = page.split_once("name=\"plan\" value=\"").expect(&page);
    after.split('"').next().unwrap().to_owned()
}

#[test]
fn a_first_plan_is_looked_for_looked_at_and_taken() {
    let shop = Shop::small();
    fs::remove_dir_all(shop.path("out")).unwrap();
    let bench = shop.open(&[]);
    let page = bench.get("/", "");
    assert!(page.status == 409 && page.body.contains("href=\"/plan\""));
    assert!(bench.get("/plan", "").body.contains("There is no plan yet"));
    assert_eq!(bench.post("/plan/start", "seconds=soon", "").status, 400);
    assert_eq!(bench.post("/plan/start", "seconds=1", "").status, 303);
    let told = watched(&bench);
    assert!(told.contains("\"under_way\":true"), "{told}");
    // Nothing counts before it is taken.
    assert!(!shop.path("out/laying-order.csv").exists());
    let page = bench.get("/plan", "").body;
    assert!(
        page.contains("This was found") && page.contains("href=\"/plan/1\""),
        "{page}"
    );
    // The pictures come by themselves, so that the page is there at once.
    assert!(page.contains("src=\"/plan/1/wood.svg\"") && !page.contains("class=\"piece\""));
    let picture = bench.get("/plan/1/wood.svg", "");
    assert!(picture.head.contains("image/svg+xml") && picture.body.starts_with("<svg"));
    for nothing in ["/plan/0/wood.svg", "/plan/2/wood.svg", "/plan/1/plan.json"] {
        assert_eq!(bench.get(nothing, "").status, 404, "{nothing}");
    }
    let take = format!("number=1&plan={}", digest(&bench, 1));
    assert_eq!(
        bench
            .post("/plan/take", "number=1&plan=00000000", "")
            .status,
        409
    );
    assert_eq!(bench.post("/plan/take", "number=9&plan=0", "").status, 409);
    let taken = bench.post("/plan/take", &take, "");
    assert!(
        taken.head.contains("location: /plan?taken=1\r"),
        "{}",
        taken.head
    );
    let order = fs::read(shop.path("out/laying-order.csv")).unwrap();
    assert_eq!(
        order,
        fs::read(shop.path("out/choices/1/laying-order.csv")).unwrap()
    );
    assert_eq!(bench.get("/", "").status, 200);
    // What is not for this boat any more can't be taken.
    let strips = fs::read_to_string(shop.path("strips.csv")).unwrap();
    fs::write(shop.path("strips.csv"), strips.replace(",6\n", ",7\n")).unwrap();
    let refused = bench.post("/plan/take", &take, "");
    assert!(
        refused.status == 409 && refused.body.contains("has changed since"),
        "{}",
        refused.body
    );
    assert_eq!(bench.post("/plan/away", "", "").status, 303);
    assert!(!shop.path("out/choices/1").exists());
}

#[test]
fn other_wood_is_found_for_a_broken_strip_and_the_labels_that_change_are_made() {
    let shop = Shop::with(|file, text| match file {
        "strips.csv" => text.clone() + &spares(&text),
        _ => text,
    });
    let bench = shop.open(&[]);
    assert_eq!(bench.post("/paper/labels", "", "").status, 200);
    let plan = shop.plan();
    let job = job::read(&shop.path("")).unwrap().job;
    let strip = &job.stock.strip(plan.pieces[0].strip).name;
    let broken = format!("kind=broken&key=b&strip={strip}&at=1500");
    assert_eq!(bench.tell(&broken).status, 200);
    assert!(
        bench
            .get("/", "")
            .body
            .contains("can't be laid as it is any more")
    );
    assert_eq!(
        bench.post("/plan/start", "seconds=1&moved=keep", "").status,
        303
    );
    watched(&bench);
    let page = bench.get("/plan/1", "").body;
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
    assert_eq!(bench.post("/plan/take", &take, "").status, 303);
    assert!(shop.path("out/earlier/plan-1/laying-order.csv").exists());
    let page = bench.get("/plan?taken=1", "").body;
    assert!(page.contains("value=\"changed\""), "{page}");
    let made = bench.post("/paper/labels", "which=changed", "").body;
    assert!(
        made.contains("the others are as they were printed last")
            && made.contains("/print/labels-to-take-off.pdf"),
        "{made}"
    );
    assert!(bench.get("/print/labels.pdf", "").body.starts_with("%PDF-"));
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
    assert_eq!(bench.post("/plan/start", "", "").status, 303);
    // A second one is not begun; nobody has to look on.
    assert_eq!(bench.post("/plan/start", "", "").status, 303);
    let page = bench.get("/plan", "").body;
    assert!(
        page.contains("data-watch") && !page.contains("/plan/start"),
        "{page}"
    );
    // What happens meanwhile is told as ever.
    let laid = format!("kind=laid&key=k&plan={}&order=1", bench.plan());
    assert_eq!(bench.tell(&laid).status, 200);
    assert_eq!(bench.post("/plan/stop", "", "").status, 303);
    watched(&bench);
    assert_eq!(fs::read(shop.path("out/laying-order.csv")).unwrap(), order);
    assert!(shop.path("out/choices/1/plan.json").exists());
    assert_eq!(bench.post("/plan/away", "", "").status, 303);
    assert_eq!(bench.post("/plan/start", "moved=afresh", "").status, 303);
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
    while bench.get("/stamp", "").status != 0 {
        assert!(began.elapsed() < Duration::from_secs(40), "it does not end");
        sleep(Duration::from_millis(50));
    }
    assert_eq!(fs::read(shop.path("out/laying-order.csv")).unwrap(), order);
    assert_eq!(shop.log().len(), 1);
}

#[test]
fn why_the_plan_is_as_it_is_is_told_on_the_page() {
    let (_shop, bench) = Shop::small().opened();
    assert_eq!(bench.post("/plan/why", "", "").status, 303);
    watched(&bench);
    let page = bench.get("/plan", "").body;
    assert!(
        page.contains("Planned again with one thing made easier"),
        "{page}"
    );
    assert_eq!(bench.post("/plan/forget", "", "").status, 303);
    assert!(!bench.get("/plan", "").body.contains("made easier"));
}
