//! What is said, and how.

use crate::folder::Folder;
use crate::says::Says;

const ESCAPE: &str = "\u{1b}";

#[test]
fn a_summary_that_goes_into_a_file_has_no_colour_and_no_bar() {
    let ran = Folder::small().lay().ended(0);
    assert!(!ran.stdout.contains(ESCAPE) && !ran.stdout.contains('\r'));
    assert_eq!(ran.stderr, "");
}

#[test]
fn colour_comes_where_it_is_asked_for_and_goes_where_it_is_not_wanted() {
    let folder = Folder::small();
    let said = |env: &[(&str, &str)]| {
        let ran = folder.run_with("lay", &["--rounds", "1"], env).ended(0);
        ran.stdout
    };
    said(&[("CLICOLOR_FORCE", "1")]).says(ESCAPE);
    said(&[("NO_COLOR", "1")]).lacks(ESCAPE);
}

#[test]
fn the_summary_counts_what_the_boat_is_made_of() {
    let ran = Folder::small().lay().ended(0);
    // Two pairs on two courses and a single strip on the third, all five strips cut, no course joined. The pairs are
    // two shades of the scale apart, and the single strip lies one from each, or two.
    for said in [
        "Skiff\n",
        "3 of 3 covered",
        "2 used: 2 sisters",
        "5 cut into, 0 left whole",
        "side 1 to 2",
        "laying-order.csv",
        "twinstrake check",
    ] {
        ran.says(said);
    }
    assert!(ran.stdout.is_ascii(), "a printer may know no other letters");
    assert!(ran.stdout.lines().all(|line| line.len() <= 120));
}

#[test]
fn laid_quietly_a_boat_that_is_covered_says_nothing() {
    let ran = Folder::small()
        .run("lay", &["--rounds", "1", "--quiet"])
        .ended(0);
    assert_eq!((ran.stdout.as_str(), ran.stderr.as_str()), ("", ""));
}
