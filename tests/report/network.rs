//! Nothing is fetched, and nothing goes wrong on the page, whatever stands in the files.

use super::Page;
use super::browser::{Browser, Screen};
use crate::common::Says;
use std::fs;

/// What a browser has complained of.
fn complaints(browser: &Browser) -> Vec<String> {
    let bad = |name: &str| {
        matches!(
            name,
            "Runtime.exceptionThrown" | "Runtime.consoleAPICalled" | "Log.entryAdded"
        )
    };
    let told = browser.told.iter().filter(|(name, _)| bad(name));
    told.map(|(name, what)| format!("{name} {what}")).collect()
}

#[test]
#[cfg_attr(no_chromium, ignore = "chromium is missing")]
fn no_request_leaves_the_file_and_the_console_stays_empty() {
    let mut browser = Browser::start();
    for page in [Page::demo(), Page::hostile()] {
        for screen in [Screen::Phone, Screen::Desk] {
            for scheme in ["light", "dark"] {
                browser.screen(screen);
                browser.scheme(scheme);
                browser.open(&page.address());
                // The pieces are there: the page was read.
                let pieces = browser.ask("document.querySelectorAll('a.piece').length");
                assert_eq!(pieces, page.plan.pieces.len());
                assert_eq!(browser.ask("document.querySelectorAll('img, b').length"), 0);
            }
        }
        let address = page.address();
        let asked: Vec<&str> = browser
            .told
            .iter()
            .filter(|(name, _)| name == "Network.requestWillBeSent")
            .map(|(_, what)| what["request"]["url"].as_str().unwrap())
            .filter(|url| !url.starts_with("file:") || url.contains("127.0.0.1"))
            .collect();
        assert_eq!(asked, Vec::<&str>::new(), "{address}");
        assert_eq!(complaints(&browser), Vec::<String>::new());
    }
    let asked = browser
        .told
        .iter()
        .filter(|(name, _)| name == "Network.requestWillBeSent");
    assert_eq!(asked.count(), 8, "one for each time that a page was opened");
}

#[test]
fn the_page_names_no_other_file() {
    for page in [Page::demo(), Page::hostile()] {
        let text = fs::read_to_string(page.file()).unwrap();
        for start in ["src=", "href=", "url(", "@import", "action="] {
            for (at, _) in text.match_indices(start) {
                let to = &text[at + start.len()..];
                let inside = to.starts_with("\"#") || start == "src=";
                assert!(inside, "{start}{}", &to[..to.len().min(40)]);
            }
        }
        // A name in a file may say so, as text.
        text.lacks("<img");
        text.lacks("<script src");
    }
}
