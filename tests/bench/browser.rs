//! The page in a real browser: by thumb on a telephone, without the program for a while, and without script.

use super::chromium::Browser;
use super::{Bench, Shop};

/// A browser of the size of a telephone, with the page open.
fn telephone(bench: &Bench) -> Browser {
    let mut browser = Browser::start();
    browser.window(360, 780);
    browser.open(&format!("http://{}/", bench.host));
    // The pieces that are kept for later are there.
    browser.until("performance.getEntriesByName(location.origin + '/ahead').length > 0");
    browser
}

/// Presses the large button as a thumb does.
fn lay(browser: &mut Browser) {
    browser.ask("document.querySelector('form.laid button').click()");
}

const ORDER: &str = "Number(document.querySelector('[data-order]').dataset.order)";

#[test]
#[cfg_attr(no_chromium, ignore = "chromium is missing")]
fn pieces_are_laid_by_thumb_also_while_the_program_is_away() {
    let (shop, bench) = Shop::demo().opened();
    let mut browser = telephone(&bench);
    assert_eq!(browser.ask(ORDER), 1);
    let button = "(() => { const b = document.querySelector('form.laid button').getBoundingClientRect(); \
         return b.height >= 70 && b.width >= 300 && b.bottom <= innerHeight; })()";
    assert_eq!(
        browser.ask(button),
        true,
        "the button is large, and under the thumb without scrolling"
    );
    assert_eq!(
        browser.ask("document.documentElement.scrollWidth <= innerWidth"),
        true
    );
    // A double tap.
    browser.ask(
        "(() => { const b = document.querySelector('form.laid button'); b.click(); b.click(); })()",
    );
    browser.until("document.querySelector('#said').textContent.includes('On the disk: laid')");
    assert_eq!(browser.ask(ORDER), 2);
    assert_eq!(shop.log().len(), 1);

    browser.offline(true);
    for order in 2..=11 {
        assert_eq!(browser.ask(ORDER), order);
        lay(&mut browser);
    }
    assert_eq!(browser.ask(ORDER), 12);
    browser.until(
        "document.querySelector('#waiting').textContent.includes('Not on the disk yet: 10')",
    );
    browser.until("document.querySelector('#away').textContent.includes('kept on this telephone')");
    assert_eq!(shop.log().len(), 1);
    browser.offline(false);
    browser.until(
        "document.querySelector('#waiting').hidden && document.querySelector('#away').hidden",
    );
    browser.until(&format!("{ORDER} === 12"));
    let log = shop.log();
    let places: Vec<String> = log
        .iter()
        .map(|entry| format!("{:?}", entry.event))
        .collect();
    assert_eq!(places.len(), 11);
    let plan = shop.plan();
    for (entry, piece) in log.iter().zip(&plan.pieces) {
        let twinstrake::log::Event::Laid { spot, .. } = entry.event else {
            panic!("{entry:?}")
        };
        assert_eq!(spot, twinstrake::log::Spot::of(piece), "sent in order");
    }
    // Taken back where it was just told.
    browser.until("document.querySelector('form.undo button').ariaLabel === 'Undo entry 11'");
    browser.ask("document.querySelector('form.undo button').click()");
    browser.until("document.querySelector('#said').textContent.includes('undone')");
    assert_eq!(browser.ask(ORDER), 11);
}

#[test]
#[cfg_attr(no_chromium, ignore = "chromium is missing")]
fn what_was_just_told_stays_though_the_page_also_looks_for_what_others_tell() {
    let (_shop, bench) = Shop::demo().opened();
    let mut browser = telephone(&bench);
    // A slow program: the page looks for news while it still waits for what was told.
    browser.ask(
        "(() => { const plain = window.fetch; window.fetch = async (address, more) => { \
         const answer = await plain(address, more); \
         const to = new URL(address, location); \
         const wait = to.searchParams.has('entry') ? 2000 : to.pathname === '/' ? 3000 : 0; \
         await new Promise((on) => setTimeout(on, wait)); return answer; }; })()",
    );
    lay(&mut browser);
    let told = "document.querySelector('#said').textContent.includes('On the disk: laid')";
    browser.until(told);
    let later = format!("new Promise((on) => setTimeout(() => on({told}), 3500))");
    assert_eq!(browser.ask(&later), true);
}

#[test]
#[cfg_attr(no_chromium, ignore = "chromium is missing")]
fn what_is_refused_later_is_kept_with_the_reason_and_a_change_is_seen_by_itself() {
    let (shop, bench) = Shop::demo().opened();
    let mut browser = telephone(&bench);
    browser.offline(true);
    lay(&mut browser);
    browser
        .until("document.querySelector('#waiting').textContent.includes('Not on the disk yet: 1')");
    // Somebody else has laid it meanwhile.
    let laid = format!("kind=laid&key=other&plan={}&order=1", bench.plan());
    bench.tell(&laid).is(200);
    browser.offline(false);
    browser.until("document.querySelector('#waiting').textContent.includes(\"It can't be\")");
    assert_eq!(shop.log().len(), 1);
    browser.ask("[...document.querySelectorAll('#waiting button')].at(-1).click()");
    browser.until("document.querySelector('#waiting').hidden");
    browser.until(&format!("{ORDER} === 2"));
    // What another tells is seen without a touch.
    bench
        .tell(&laid.replace("other", "more").replace("order=1", "order=2"))
        .is(200);
    browser.until(&format!("{ORDER} === 3"));
    browser.is_sound();
}

#[test]
#[cfg_attr(no_chromium, ignore = "chromium is missing")]
fn without_script_a_piece_is_read_laid_and_taken_back() {
    let (shop, bench) = Shop::demo().opened();
    let mut browser = Browser::start();
    browser.window(1280, 800);
    browser.without_script();
    browser.open(&format!("http://{}/", bench.host));
    for expected in [1, 0] {
        let button = if expected == 1 {
            "form.laid button"
        } else {
            "form.undo button"
        };
        browser.follow(&format!("document.querySelector('{button}').click()"));
        let log = shop.log();
        let holds = twinstrake::log::live(&log);
        let laid = (0..log.len())
            .filter(|n| holds[*n] && matches!(log[*n].event, twinstrake::log::Event::Laid { .. }));
        assert_eq!(laid.count(), expected);
    }
}
