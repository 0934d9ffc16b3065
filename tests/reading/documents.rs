//! The examples of docs/formats.md are files that read.

use crate::folder::Folder;
use std::fs;
use twinstrake::plan::Weights;

/// The blocks of one language in a page, in order.
fn blocks<'p>(page: &'p str, language: &str) -> Vec<&'p str> {
    page.split(&format!("```{language}\n"))
        .skip(1)
        .map(|rest| rest.split("```").next().unwrap())
        .collect()
}

#[test]
fn the_examples_of_the_formats_make_up_a_job_without_a_warning() {
    let page = fs::read_to_string("docs/formats.md").unwrap();
    let boat = blocks(&page, "toml");
    let sheets = blocks(&page, "csv");
    // Courses, forms, a printed table of offsets, boards, strips, photographs, and a log, which tells of no strip of
    // this page.
    assert_eq!((boat.len(), sheets.len()), (2, 7));
    let reading = Folder::good()
        .with("boat.toml", boat[0])
        .with("courses.csv", sheets[0])
        .with("strips.csv", sheets[4])
        .reading();
    assert_eq!(reading.warnings, []);
    let usual = Weights::default();
    assert_eq!(reading.job.weights, usual, "the page shows the defaults");
    assert_eq!(reading.job.hull.courses.len(), 3);
    assert_eq!(reading.job.stock.strips.len(), 3);
    let from_forms = Folder::good()
        .without("courses.csv")
        .with("boat.toml", boat[0])
        .with("forms.csv", sheets[1])
        .with("strips.csv", sheets[4])
        .reading();
    // The strips of the page are long enough to be meant for these courses.
    assert_eq!(from_forms.warnings, []);
    // 304 mm of topside by 19, and 148 of bottom: 16 courses and 8.
    assert_eq!(from_forms.job.hull.courses.len(), 24);
    let by_board = Folder::good()
        .without("strips.csv")
        .with("boards.csv", sheets[3])
        .reading();
    assert_eq!(by_board.warnings, []);
    assert_eq!(by_board.job.stock.strips.len(), 5);
}

#[test]
fn the_wants_that_the_formats_show_are_met_on_the_demo() {
    let page = fs::read_to_string("docs/formats.md").unwrap();
    let demo = |file| fs::read_to_string(format!("demo-stock/{file}")).unwrap();
    let boat = demo("boat.toml");
    let (bare, _) = boat.split_once("# What the builder wants").unwrap();
    let reading = Folder::good()
        .without("courses.csv")
        .with("boat.toml", format!("{bare}{}", blocks(&page, "toml")[1]))
        .with("forms.csv", demo("forms.csv"))
        .with("offsets.csv", demo("offsets.csv"))
        .with("boards.csv", demo("boards.csv"))
        .with("strips.csv", demo("strips.csv"))
        .reading();
    assert_eq!(reading.warnings, []);
    assert_eq!(reading.job.wants.len(), 2);
}

#[test]
fn the_photographs_that_the_documents_show_are_read() {
    for page in ["docs/formats.md", "README.md"] {
        let page = fs::read_to_string(page).unwrap();
        let sheets = blocks(&page, "csv");
        let photos = sheets
            .iter()
            .find(|sheet| sheet.starts_with("photo,"))
            .unwrap();
        let boards = "board,slices,length,colour\nD,6,5260,5\n";
        let strips = "strip,length,colour\nS1,5160,7\nS2,5140,7\n";
        let folder = Folder::good()
            .with("boards.csv", boards)
            .with("strips.csv", strips);
        let read = folder
            .with("photos.csv", *photos)
            .on_disk(twinstrake::job::read_photos)
            .unwrap();
        assert_eq!(read.warnings, []);
        assert_eq!(read.photos[0].strips.len(), 6);
    }
}

#[test]
fn the_complaint_that_the_formats_show_is_the_one_that_is_made() {
    let page = fs::read_to_string("docs/formats.md").unwrap();
    let rows = "X,,,4000,5\n".repeat(15);
    let rows: String = rows
        .lines()
        .enumerate()
        .map(|(i, row)| format!("X{i}{}\n", &row[1..]))
        .collect();
    let sheet = format!("strip,board,seq,length,colour\n{rows}Y,,,4.97.8,5\n");
    let complaint = Folder::good().with("strips.csv", sheet).complaint();
    assert!(
        page.contains(&format!("\n    {complaint}\n")),
        "{complaint}"
    );
}
