//! The demo job.

use std::collections::BTreeSet;
use std::path::Path;
use twinstrake::hull::Kind;
use twinstrake::job;

#[test]
fn the_demo_reads_without_a_warning_and_has_in_it_what_it_promises() {
    let reading = job::read(Path::new("demo-stock")).unwrap();
    assert_eq!(reading.warnings, []);
    let job = reading.job;
    let centre = job.hull.courses.iter().filter(|c| c.kind == Kind::Centre);
    assert_eq!(centre.count(), 1);
    assert_eq!(job.hull.courses.len(), 31);
    assert_eq!(job.hull.panels.len(), 2);
    assert_eq!(job.hull.keep_clear.len(), 2);
    assert!((12..=16).contains(&job.stock.boards.len()));
    let strays = job.stock.strips.iter().filter(|s| s.origin.is_none());
    assert_eq!(strays.count(), 2);
    assert!(job.stock.strips.iter().any(|s| !s.defects.is_empty()));
    assert!(job.stock.strips.iter().any(|s| s.sister.is_some()));
    let accents = job.wants.iter().filter(|want| want.accent.is_some());
    assert_eq!((job.wants.len(), accents.count()), (2, 1));
    assert!(job.hull.panels[1].drift.is_some());
}

#[test]
fn the_demo_has_more_wood_than_its_courses_need_but_not_much() {
    let job = job::read(Path::new("demo-stock")).unwrap().job;
    let need: f64 = job
        .hull
        .courses
        .iter()
        .map(|c| {
            let ends = job.rules.allowance(c.bow_end) + job.rules.allowance(c.stern_end);
            (c.length + ends).metres() * c.sides().len() as f64
        })
        .sum();
    let have: f64 = job.stock.strips.iter().map(|s| s.length.metres()).sum();
    assert!(
        (1.15..=1.27).contains(&(have / need)),
        "{have} m for {need} m"
    );
    // Strips too short for the longest course, so that some courses must be joined.
    let longest = job.hull.courses.iter().map(|c| c.length).max().unwrap();
    let short: BTreeSet<_> = job
        .stock
        .strips
        .iter()
        .filter(|s| s.length < longest)
        .filter_map(|s| s.origin.map(|o| o.board))
        .collect();
    assert_eq!(short.len(), 3);
}
