//! Printed pages, read back by programs that share no code with ours: poppler's tools and zbar's.
//!
//! Debian: poppler-utils, zbar-tools. Where one is missing a test fails and says so; it does not pass over.

use std::path::Path;
use std::process::Command;

fn run(program: &str, args: &[&str]) -> Vec<u8> {
    let ran = Command::new(program).args(args).output();
    let ran = ran.unwrap_or_else(|why| panic!("{program} is needed (see .ci/run): {why}"));
    // zbarimg says 4 where an image has no code.
    let good = ran.status.success() || (program == "zbarimg" && ran.status.code() == Some(4));
    assert!(
        good,
        "{program} {args:?}: {}",
        String::from_utf8_lossy(&ran.stderr)
    );
    ran.stdout
}

fn text(program: &str, args: &[&str]) -> String {
    String::from_utf8(run(program, args)).unwrap()
}

fn path(file: &Path) -> &str {
    file.to_str().unwrap()
}

/// A word on a page and its box. Unit: millimetre, from the top left.
#[derive(Clone, PartialEq, Debug)]
pub struct Word {
    pub page: usize,
    pub left: f64,
    pub top: f64,
    pub right: f64,
    pub bottom: f64,
    pub text: String,
}

const POINT: f64 = 25.4 / 72.0;

/// Size of each page. Unit: millimetre.
pub fn page_sizes(pdf: &Path) -> Vec<(f64, f64)> {
    let told = text("pdfinfo", &["-f", "1", "-l", "9999", path(pdf)]);
    let sizes = told
        .lines()
        .filter(|line| line.starts_with("Page ") && line.contains(" size:"));
    sizes
        .map(|line| {
            let figures = line.split_once("size:").unwrap().1;
            let mut figures = figures.split_whitespace();
            let w: f64 = figures.next().unwrap().parse().unwrap();
            let h: f64 = figures.nth(1).unwrap().parse().unwrap();
            (w * POINT, h * POINT)
        })
        .collect()
}

/// A font of a file as `pdffonts` lists it: name, and whether it is embedded.
pub fn fonts(pdf: &Path) -> Vec<(String, bool)> {
    let told = text("pdffonts", &[path(pdf)]);
    let rows = told.lines().skip(2);
    rows.map(|row| {
        let cells: Vec<&str> = row.split_whitespace().collect();
        // From the right: object number and generation, unicode, subset, embedded.
        (cells[0].to_owned(), cells[cells.len() - 5] == "yes")
    })
    .collect()
}

/// Every word and where it stands.
pub fn words(pdf: &Path) -> Vec<Word> {
    let told = text("pdftotext", &["-bbox", path(pdf), "-"]);
    let mut page = 0;
    let mut words = Vec::new();
    for line in told.lines().map(str::trim) {
        if line.starts_with("<page ") {
            page += 1;
        }
        let Some(rest) = line.strip_prefix("<word ") else {
            continue;
        };
        let number = |name: &str| -> f64 {
            let after = rest.split_once(&format!("{name}=\"")).unwrap().1;
            after.split_once('"').unwrap().0.parse::<f64>().unwrap() * POINT
        };
        let inner = rest.split_once('>').unwrap().1.trim_end_matches("</word>");
        words.push(Word {
            page,
            left: number("xMin"),
            top: number("yMin"),
            right: number("xMax"),
            bottom: number("yMax"),
            text: inner
                .replace("&lt;", "<")
                .replace("&gt;", ">")
                .replace("&amp;", "&"),
        });
    }
    words
}
