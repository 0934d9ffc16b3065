//! The pictures for the printer and in pixels.

use crate::folder::Folder;

#[test]
fn each_picture_comes_as_a_pdf_and_as_a_png_and_the_report_of_the_plan_stays() {
    let folder = Folder::small();
    folder.lay().ended(0);
    let before = folder.out();
    let ran = folder.run("pictures", &["--wide", "400"]).ended(0);
    assert_eq!(ran.stderr, "");
    let after = folder.out();
    for picture in ["planking", "wood", "seams"] {
        assert!(after[&format!("{picture}.pdf")].starts_with(b"%PDF-"));
        let png = &after[&format!("{picture}.png")];
        // Source: W3C, Portable Network Graphics: the signature, and the width at the head of the first chunk.
        assert!(png.starts_with(b"\x89PNG\r\n\x1a\n"));
        assert_eq!(png[16..20], 400_u32.to_be_bytes());
        assert!(ran.stdout.contains(&format!("{picture}.pdf")));
    }
    assert_eq!(after.len(), before.len() + 6);
    for (name, bytes) in &before {
        assert!(after[name] == *bytes, "{name} has changed");
    }
    folder.run("pictures", &["--wide", "400"]).ended(0);
    assert!(folder.out() == after, "the same plan gives the same bytes");
}

#[test]
fn where_a_row_was_changed_by_hand_pictures_and_report_show_the_change() {
    let folder = Folder::small();
    folder.lay().ended(0);
    // The pairs of the first two courses change places on one side: every name that is there stays there.
    let rows = folder.read("out/laying-order.csv");
    let swapped = rows
        .replace("A1", "#")
        .replace("B1", "A1")
        .replace('#', "B1");
    let swapped = swapped
        .replace("A2", "#")
        .replace("B2", "A2")
        .replace('#', "B2");
    assert_ne!(rows, swapped);
    folder.write("out/laying-order.csv", &swapped);
    let before = folder.out();
    folder.run("pictures", &["--wide", "400"]).ended(0);
    let after = folder.out();
    for name in ["planking.svg", "wood.svg", "report.html"] {
        assert!(
            after[name] != before[name],
            "{name} shows the plan of before"
        );
    }
    assert_eq!(after["laying-order.csv"], before["laying-order.csv"]);
}

#[test]
fn pictures_of_a_plan_that_breaks_a_rule_are_made_with_a_warning() {
    let folder = Folder::small();
    folder.lay().ended(0);
    let rows = folder.read("out/laying-order.csv");
    folder.write("out/laying-order.csv", &rows.replace("starboard", "port"));
    let ran = folder.run("pictures", &["--wide", "400"]).ended(1);
    assert!(ran.stderr.contains("breaks a rule"), "{}", ran.stderr);
    let drawing = folder.read("out/planking.svg");
    assert!(drawing.contains("Not a good plan"));
    let report = folder.read("out/report.html");
    assert!(report.contains("The plan breaks the rules in"));
}

#[test]
fn without_a_plan_there_is_nothing_to_show() {
    let folder = Folder::small();
    let ran = folder.run("pictures", &[]).ended(2);
    assert!(ran.stderr.contains("Lay the job first"), "{}", ran.stderr);
    assert!(folder.out().is_empty());
}

#[test]
fn the_hull_of_the_demo_comes_as_a_page_and_as_gltf_and_twice_the_same() {
    let folder = Folder::demo();
    folder.run("lay", &["--rounds", "1"]).ended(0);
    let ran = folder.run("hull", &[]).ended(0);
    assert!(ran.stdout.contains("hull.html"), "{}", ran.stdout);
    let made = folder.out();
    assert!(made["hull.glb"].starts_with(b"glTF"));
    assert!(made["hull.html"].starts_with(b"<!DOCTYPE html>"));
    // Less than this for a boat of a hundred strips, so that it can be mailed.
    assert!(made["hull.html"].len() < 9_000_000);
    folder.run("hull", &[]).ended(0);
    assert!(folder.out() == made, "the same plan gives the same bytes");
}

#[test]
fn without_offsets_there_is_no_hull_and_the_panel_is_named() {
    let folder = Folder::small();
    folder.lay().ended(0);
    let before = folder.out();
    let ran = folder.run("hull", &[]).ended(2);
    assert!(
        ran.stderr.contains("Panel \"side\" has no offsets"),
        "{}",
        ran.stderr
    );
    assert!(folder.out() == before);
}
