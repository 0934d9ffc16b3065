//! Labels and tags made from the page: the same bytes as the commands write.

use super::Shop;
use crate::common::Says;
use assert_cmd::Command;
use std::fs;

/// What a command writes for the same job in another folder.
fn by_command(shop: &Shop, words: &[&str], files: &[&str]) -> Vec<Vec<u8>> {
    let other = tempfile::tempdir().unwrap();
    fs::create_dir(other.path().join("out")).unwrap();
    for file in [
        "boat.toml",
        "courses.csv",
        "strips.csv",
        "out/laying-order.csv",
    ] {
        fs::copy(shop.path(file), other.path().join(file)).unwrap();
    }
    let mut command = Command::cargo_bin("twinstrake").unwrap();
    let ran = command.arg(words[0]).arg(other.path()).args(&words[1..]);
    ran.assert().success();
    let read = |file: &&str| fs::read(other.path().join("out").join(file)).unwrap();
    files.iter().map(read).collect()
}

#[test]
fn labels_and_tags_are_those_of_the_commands() {
    let (shop, bench) = Shop::small().opened();
    let read = |file: &str| fs::read(shop.path("out").join(file)).unwrap();
    let made = bench.post("/paper/labels", "which=to_do&on=sheet&size=A4+3x7&from=4");
    made.is(200);
    made.body.says("10 labels, on 1 sheet of 3 x 7");
    let words = ["labels", "--to-do", "--sheet", "A4 3x7", "--from", "4"];
    let files = ["labels.pdf", "labels-printed.csv"];
    assert_eq!(by_command(&shop, &words, &files), files.map(read));
    let again = bench.post("/paper/labels", "which=changed").body;
    again.says("Nothing has changed since");
    let made = bench.post("/paper/tags", "on=tape&size=62+mm");
    made.is(200);
    let words = ["tags", "--tape", "62 mm"];
    assert_eq!(by_command(&shop, &words, &["tags.pdf"]), [read("tags.pdf")]);
    bench.get("/print/tags.pdf").body.begins("%PDF-");
    for (path, wrong, why) in [
        ("/paper/labels", "on=sheet&size=A9", "A9"),
        (
            "/paper/labels",
            "from=22&on=sheet&size=A4+3x7",
            "a sheet has 21 labels",
        ),
        ("/paper/labels", "from=first", "is a number"),
        ("/paper/tags", "board=none", "none"),
    ] {
        let answer = bench.post(path, wrong);
        assert_eq!(answer.status, 409, "{wrong}");
        answer.body.says(why);
    }
}

#[test]
fn a_visitor_makes_nothing() {
    let shop = Shop::small();
    let bench = shop.open(&["--look-only"]);
    for path in [
        "/paper/labels",
        "/paper/tags",
        "/plan/start",
        "/plan/why",
        "/plan/stop",
        "/plan/take",
        "/plan/away",
        "/files/5/save",
        "/files/5/file",
        "/scan",
    ] {
        assert_eq!(bench.post(path, "").status, 403, "{path}");
    }
    for path in ["/plan", "/paper", "/files", "/files/5"] {
        let page = bench.get(path);
        assert_eq!(page.status, 200, "{path}");
        // What only asks changes nothing.
        let forms = page.body.matches("method=\"post\"").count();
        let allowed = page.body.matches("class=\"look\"").count();
        let readonly = page.body.matches("/save").count();
        assert!(forms <= allowed + readonly, "{path}: {}", page.body);
    }
    assert_eq!(fs::read_dir(shop.path("out")).unwrap().count(), 1);
}
