//! What the README shows is what the program reads.
#![allow(clippy::unwrap_used)]

use std::fs;
use std::path::Path;

use twinstrake::job;

#[test]
fn the_boards_and_strips_of_the_readme_are_read_without_a_word() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let readme = fs::read_to_string(root.join("README.md")).unwrap();
    let sheets: Vec<&str> = readme
        .split("```csv\n")
        .skip(1)
        .map(|after| after.split("```").next().unwrap())
        .collect();
    let folder = tempfile::tempdir().unwrap();
    for file in ["forms.csv", "offsets.csv"] {
        fs::copy(root.join("demo-stock").join(file), folder.path().join(file)).unwrap();
    }
    // The demo's boat, but for what it wants of boards that the README has not got.
    let boat = fs::read_to_string(root.join("demo-stock/boat.toml")).unwrap();
    let (boat, _) = boat.split_once("# What the builder wants").unwrap();
    fs::write(folder.path().join("boat.toml"), boat).unwrap();
    fs::write(folder.path().join("boards.csv"), sheets[0]).unwrap();
    let by_board = job::read(folder.path()).unwrap();
    assert_eq!(by_board.warnings, Vec::new());
    assert_eq!(by_board.job.stock.strips.len(), 4);
    fs::remove_file(folder.path().join("boards.csv")).unwrap();
    fs::write(folder.path().join("strips.csv"), sheets[1]).unwrap();
    let reading = job::read(folder.path()).unwrap();
    assert_eq!(reading.warnings, Vec::new());
    let names: Vec<&str> = reading
        .job
        .stock
        .strips
        .iter()
        .map(|s| s.name.as_str())
        .collect();
    assert_eq!(names, ["D1", "D2", "D3", "D4", "S1"]);
    assert_eq!(reading.job.stock.strips[1].defects.len(), 2);
}
