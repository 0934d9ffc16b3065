//! Several boats on one bench, and a new one begun.

use super::{Shop, open, value};
use crate::common::Says;
use std::fs;
use tempfile::TempDir;

fn cookie(answer: &super::Answer) -> String {
    let (_, after) = answer.head.split_once("set-cookie: ").expect(&answer.head);
    format!("Cookie: {}\r\n", after.split(';').next().unwrap())
}

#[test]
fn each_telephone_has_its_boat_and_an_entry_goes_to_the_boat_it_was_told_of() {
    let shelf = TempDir::new().unwrap();
    for (folder, name) in [("dinghy", "Dinghy"), ("punt", "Punt")] {
        let shop = Shop::small();
        let boat = shop.read("boat.toml");
        let there = shelf.path().join(folder);
        fs::create_dir_all(there.join("out")).unwrap();
        for file in ["courses.csv", "strips.csv", "out/laying-order.csv"] {
            fs::copy(shop.path(file), there.join(file)).unwrap();
        }
        fs::write(there.join("boat.toml"), boat.replace("Skiff", name)).unwrap();
    }
    fs::create_dir(shelf.path().join("no boat")).unwrap();
    let bench = open(shelf.path(), &[]);
    bench.get("/").head.says("location: /boats\r");
    let page = bench.get("/boats").body;
    page.says("Dinghy");
    page.says("Punt");
    page.says("0 of 5 laid");
    let ids: Vec<&str> = page
        .split("name=\"boat\" value=\"")
        .skip(1)
        .map(|after| after.split('"').next().unwrap())
        .collect();
    assert_eq!(ids.len(), 2);
    let chosen: Vec<String> = ids
        .iter()
        .map(|id| cookie(&bench.post("/boats/choose", &format!("boat={id}"))))
        .collect();
    bench.get_with("/", &chosen[0]).body.says("Dinghy");
    bench.get_with("/", &chosen[1]).body.says("Punt");
    bench
        .post("/boats/choose", "boat=..")
        .head
        .says("location: /boats\r");
    // Told of the dinghy, sent when the punt is looked at: it is the dinghy's.
    let page = bench.get_with("/", &chosen[0]).body;
    let (key, plan) = (&value(&page, "key")[..8], value(&page, "plan"));
    let told = format!("kind=laid&key={key}x&plan={plan}&order=1");
    let json = format!("{}Accept: application/json\r\n", chosen[1]);
    bench.post_with("/entry", &told, &json).is(200);
    assert!(shelf.path().join("dinghy/log.csv").exists());
    assert!(!shelf.path().join("punt/log.csv").exists());
}

#[test]
fn a_new_boat_is_begun_beside_the_others_and_filled_from_the_page() {
    let shelf = TempDir::new().unwrap();
    let bench = open(shelf.path(), &[]);
    bench.get("/boats").body.says("no job in this folder yet");
    let begun = bench.post("/boats/begin", "name=..%2f..%2fWide+%22One%22&units=in");
    assert!(
        begun.head.contains("location: /files\r"),
        "{} {}",
        begun.head,
        begun.body
    );
    let there = shelf.path().join("wide-one");
    let boat = fs::read_to_string(there.join("boat.toml")).unwrap();
    assert!(
        boat.contains("../../Wide \\\"One\\\"") || boat.contains("'../../Wide \"One\"'"),
        "{boat}"
    );
    boat.says("\"in\"");
    bench.post("/boats/begin", "name=wide+one").is(409);
    bench.post("/boats/begin", "name=+").is(400);
    // The only boat is the one that is looked at: its files can be filled.
    bench.get("/files").is(200);
    bench.get("/files/1").body.says("value=\"from_bow\"");
    bench.get("/").is(409);
    // File by file: what the others still lack keeps nobody from filling one.
    let page = bench.get("/files/1").body;
    let version = value(&page, "digest");
    let forms = "form%2Cfrom_bow%2Ctopside%2Cbottom%0Astem%2C0%2C8%2C0%0A1%2C16%2C12%2C4%0A";
    let body = format!("digest={}&text={forms}", version);
    let saved = bench.post("/files/1/save", &body);
    saved.is(303);
    let only = open(shelf.path(), &["--look-only"]);
    only.post("/boats/begin", "name=other").is(403);
    only.get("/boats").body.lacks("/boats/begin");
}
