//! The page on paper.

use super::Page;
use super::browser::PROGRAM;
use super::poppler::{Word, page_sizes, words};
use std::path::Path;
use std::process::{Command, Stdio};

fn printed(page: &Page) -> std::path::PathBuf {
    let pdf = page.folder.path().join("report.pdf");
    let done = Command::new(PROGRAM)
        .args([
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--no-pdf-header-footer",
        ])
        .arg(format!(
            "--user-data-dir={}",
            page.folder.path().join("profile").display()
        ))
        .arg(format!("--print-to-pdf={}", pdf.display()))
        .arg(page.address())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .unwrap_or_else(|why| panic!("{PROGRAM} is needed (see .ci/run): {why}"));
    assert!(done.success());
    pdf
}

/// How far from the edge of the paper the nearest word of a page is. Unit: millimetre.
fn nearest_to_an_edge(pdf: &Path, words: &[Word]) -> f64 {
    let sizes = page_sizes(pdf);
    let off = words.iter().map(|word| {
        let (w, h) = sizes[word.page - 1];
        let across = word.left.min(w - word.right);
        across.min(word.top).min(h - word.bottom)
    });
    off.fold(f64::INFINITY, f64::min)
}

#[test]
#[cfg_attr(no_chromium, ignore = "chromium is missing")]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
fn on_paper_nothing_is_cut_at_an_edge_and_every_row_is_whole() {
    for page in [Page::demo(), Page::hostile()] {
        let pdf = printed(&page);
        let all = words(&pdf);
        assert!(nearest_to_an_edge(&pdf, &all) > 8.0);
        for (w, h) in page_sizes(&pdf) {
            let (short, long) = (w.min(h), w.max(h));
            assert!(
                (short - 210.0).abs() < 0.5 && (long - 297.0).abs() < 0.5,
                "{w} x {h}"
            );
        }
    }
}

#[test]
#[cfg_attr(no_chromium, ignore = "chromium is missing")]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
fn on_paper_each_row_of_the_order_stands_on_one_line_of_one_page() {
    let page = Page::demo();
    let pdf = printed(&page);
    let all = words(&pdf);
    // The drawing has a page of its own, on its side, with every course on it.
    let on_its_side: Vec<usize> = page_sizes(&pdf)
        .iter()
        .enumerate()
        .filter(|(_, (w, h))| w > h)
        .map(|(n, _)| n + 1)
        .collect();
    assert_eq!(on_its_side.len(), 1);
    let rows = page
        .job
        .hull
        .courses
        .iter()
        .map(|c| c.sides().len())
        .sum::<usize>();
    let marks = all
        .iter()
        .filter(|w| w.page == on_its_side[0] && matches!(w.text.as_str(), "P" | "S" | "C"));
    assert!(marks.count() >= rows);
}
