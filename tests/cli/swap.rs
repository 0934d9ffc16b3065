//! `swap`: places changed by hand, shown, kept, pinned and taken back.

use crate::folder::Folder;
use crate::says::Says;

/// The courses of the small boat that can change places.
const BOTH: [&str; 2] = ["side 1", "side 2"];

#[test]
fn what_a_swap_would_do_is_shown_and_nothing_else_is_written() {
    let folder = Folder::demo();
    folder.lay().ended(0);
    let before = folder.out();
    let ran = folder.run("swap", &["topside 2", "topside 3"]);
    for told in [
        "seams between courses",
        "Labels that change",
        "topside course 2",
        "Before and after",
    ] {
        ran.says(told);
    }
    let mut after = folder.out();
    let picture = after.remove("swap.svg").unwrap();
    assert_eq!(after, before);
    let picture = String::from_utf8(picture).unwrap();
    let drawing = roxmltree::Document::parse(&picture).unwrap();
    let words: Vec<&str> = drawing
        .descendants()
        .filter_map(|node| node.text())
        .collect();
    assert!(
        words.iter().any(|word| word.starts_with("as it is"))
            && words.iter().any(|word| word.starts_with("changed"))
    );
    // Beside each other, at one height, and both sides of the boat in each.
    let views: Vec<[f64; 3]> = drawing
        .root_element()
        .children()
        .filter(|node| node.has_tag_name("svg"))
        .map(|view| ["x", "y", "width"].map(|name| view.attribute(name).unwrap().parse().unwrap()))
        .collect();
    let (before, after) = views.split_at(views.len() / 2);
    assert!(before.len() >= 2, "port and starboard");
    for (before, after) in before.iter().zip(after) {
        assert_eq!(before[1], after[1]);
        assert!(before[0] + before[2] < after[0]);
    }
}

#[test]
fn a_swap_that_is_kept_can_be_taken_back() {
    let folder = Folder::laid();
    let [one, other] = BOTH;
    let plan = folder.read("out/laying-order.csv");
    let ran = folder.run("swap", &[one, other, "--keep"]).ended(0);
    ran.says("This is plan 2 now");
    assert_ne!(folder.read("out/laying-order.csv"), plan);
    folder.read("out/plan.json").says("by-hand");
    folder.run("check", &[]).ended(0);
    folder.run("swap", &["--back"]).ended(0);
    assert_eq!(folder.read("out/laying-order.csv"), plan);
    let ran = folder.run("swap", &["--back"]).ended(2);
    ran.stderr.begins("There is no plan before this one");
}

#[test]
fn a_pin_is_written_under_everything_else_and_later_plans_keep_to_it() {
    for crlf in [false, true] {
        let folder = Folder::laid();
        let [one, other] = BOTH;
        let mut boat = folder.read("boat.toml");
        if crlf {
            boat = format!("\u{feff}{}", boat.replace('\n', "\r\n"));
            folder.write("boat.toml", &boat);
        }
        let ran = folder.run("swap", &[one, other, "--pin"]).ended(0);
        ran.says(&format!("the want \"{one} by hand\""));
        let pinned = folder.read("boat.toml");
        let end = if crlf { "\r\n" } else { "\n" };
        assert!(pinned.starts_with(&boat), "every byte stays");
        pinned[boat.len()..].begins(&format!(
            "{end}[[want]]{end}name    = \"{one} by hand\"{end}"
        ));
        let on = |name: &str| {
            let course = name.rsplit(' ').next().unwrap().to_owned();
            let order = folder.read("out/laying-order.csv");
            let mut rows: Vec<String> = Vec::new();
            let mut lines = order.lines();
            let header: Vec<&str> = lines.next().unwrap().split(',').collect();
            let at = |name: &str| header.iter().position(|column| *column == name).unwrap();
            for line in lines {
                let cells: Vec<&str> = line.split(',').collect();
                if cells[at("panel")] == "side" && cells[at("course")] == course {
                    rows.push(cells[at("strip")].to_owned());
                }
            }
            rows.sort();
            rows.dedup();
            rows
        };
        let pinned = BOTH.map(on);
        folder.run("lay", &["--rounds", "0", "--seed", "7"]);
        folder.run("check", &[]);
        for (name, strips) in BOTH.into_iter().zip(pinned) {
            assert!(
                on(name).iter().all(|strip| strips.contains(strip)),
                "{name}"
            );
        }
    }
}

#[test]
fn a_pin_that_is_taken_back_leaves_boat_toml_as_it_was_and_one_that_is_changed_is_renewed() {
    let folder = Folder::laid();
    let [one, other] = BOTH;
    let boat = folder.read("boat.toml");
    let plan = folder.read("out/laying-order.csv");
    folder.run("swap", &[one, other, "--pin"]).ended(0);
    assert_eq!(folder.read("boat.toml").matches("by hand").count(), 2);
    // What is pinned changes places only where it is pinned anew.
    let ran = folder.run("swap", &[one, other, "--keep"]).ended(2);
    ran.warns("by hand");
    folder.run("swap", &[one, other, "--pin"]).ended(0);
    assert_eq!(folder.read("boat.toml").matches("by hand").count(), 2);
    let ran = folder.run("swap", &["--back"]).ended(0);
    ran.says("is out of boat.toml again");
    folder.run("swap", &["--back"]).ended(0);
    assert_eq!(folder.read("out/laying-order.csv"), plan);
    assert_eq!(folder.read("boat.toml"), boat);
}

#[cfg(unix)]
#[test]
fn nothing_is_pinned_through_a_link() {
    let folder = Folder::laid();
    let [one, other] = BOTH;
    let elsewhere = tempfile::tempdir().unwrap();
    let boat = elsewhere.path().join("boat.toml");
    std::fs::copy(folder.path().join("boat.toml"), &boat).unwrap();
    std::fs::remove_file(folder.path().join("boat.toml")).unwrap();
    std::os::unix::fs::symlink(&boat, folder.path().join("boat.toml")).unwrap();
    let before = (
        std::fs::read(&boat).unwrap(),
        folder.read("out/laying-order.csv"),
    );
    let ran = folder.run("swap", &[one, other, "--pin"]).ended(3);
    ran.warns("link");
    assert_eq!(
        (
            std::fs::read(&boat).unwrap(),
            folder.read("out/laying-order.csv")
        ),
        before
    );
}

#[test]
fn a_place_that_is_not_there_is_told_with_how_places_are_written() {
    let folder = Folder::laid();
    let ran = folder.run("swap", &["sode 2", "side 1"]).ended(2);
    ran.stderr.is(
        "\"sode 2\" is no place on this boat and no strip in the rack. Write a course as \"side 3\", a piece of it as \
         \"side 3.2\", a pair as D3+D4, a single strip as D3.\n",
    );
    let ran = folder.run("swap", &["side 2", "side 2"]).ended(2);
    assert_eq!(ran.stderr, "Both are the same place.\n");
    let ran = folder.run("swap", &["side 2", "side 2", "--back"]).ended(2);
    ran.warns("cannot be used");
}
