//! What goes wrong between a telephone and the disk: nothing acknowledged is lost, and nothing is written twice.

use super::chromium::Browser;
use super::{Bench, Shop};
use crate::common::Says;
use serde_json::json;
use std::collections::BTreeSet;
use std::fs;
use std::sync::Mutex;
use std::thread;
use std::time::{Duration, Instant};
use twinstrake::log::{Event, live};

/// How often the program is killed: a few times, or as often as `TWINSTRAKE_FAULTS` says.
fn times() -> usize {
    let asked = std::env::var("TWINSTRAKE_FAULTS").ok();
    asked.and_then(|asked| asked.parse().ok()).unwrap_or(5)
}

/// Lays a piece and takes that back, over and over, each entry sent twice, until the program is gone. What was
/// acknowledged goes to `kept`.
fn lay_and_undo(bench: &Bench, name: &str, order: usize, kept: &Mutex<Vec<String>>) {
    let plan = bench.plan();
    let mut laid = 0;
    for n in 0.. {
        let key = format!("{name}-{n}");
        let body = match n % 2 {
            0 => format!("kind=laid&key={key}&plan={plan}&order={order}"),
            _ => format!("kind=undo&key={key}&entry={laid}"),
        };
        for _ in 0..2 {
            let answer = bench.tell_as_it_is(&body);
            match answer.status {
                200 => kept.lock().unwrap().push(key.clone()),
                0 => return,
                status => panic!("{status} to {body}: {}", answer.body),
            }
            let said: serde_json::Value = serde_json::from_str(&answer.body).unwrap();
            laid = said["entry"].as_u64().unwrap();
        }
    }
}

#[cfg(unix)]
#[test]
fn what_was_acknowledged_before_the_program_was_killed_is_there_once() {
    let shop = Shop::small();
    let kept: Mutex<Vec<String>> = Mutex::default();
    for time in 0..times() {
        let bench = shop.open(&[]);
        let (id, before) = (bench.key(""), kept.lock().unwrap().len());
        thread::scope(|scope| {
            let telephones = [1, 2].map(|telephone| {
                let (bench, kept, name) = (&bench, &kept, format!("{id}t{time}-{telephone}"));
                scope.spawn(move || lay_and_undo(bench, &name, telephone, kept))
            });
            // The program goes away in the middle, at another place each time.
            while kept.lock().unwrap().len() < before + 2
                && !telephones.iter().any(|telephone| telephone.is_finished())
            {
                thread::sleep(Duration::from_millis(2));
            }
            thread::sleep(Duration::from_micros(7_300 * (time as u64 % 23)));
            bench.end();
        });
        let log = shop.log();
        let keys: Vec<&str> = log.iter().map(|entry| entry.key.as_str()).collect();
        let once: BTreeSet<&str> = keys.iter().copied().collect();
        assert_eq!(once.len(), keys.len(), "written twice: {keys:?}");
        let kept = kept.lock().unwrap();
        let lost: Vec<&String> = kept
            .iter()
            .filter(|key| !once.contains(key.as_str()))
            .collect();
        assert!(lost.is_empty(), "acknowledged and lost: {lost:?}");
        // Whatever still lies there comes off, so that the next round begins anew.
        drop(bench);
        let next = shop.open(&[]);
        let holds = live(&log);
        for number in (1..=log.len()).filter(|number| holds[number - 1]) {
            if matches!(log[number - 1].event, Event::Laid { .. }) {
                let body = format!("kind=undo&key={id}u{time}-{number}&entry={number}");
                next.tell_as_it_is(&body).is(200);
            }
        }
    }
}

/// Puts so many entries into what a browser keeps, as if they had been told while the program was away; opens the page
/// then.
fn kept_in_a_browser(browser: &mut Browser, host: &str, job: &str, strip: &str, many: usize) {
    // A page of the same address without any script.
    browser.open(&format!("http://{host}/icon.svg"));
    browser.ask(&format!(
        "(() => {{ for (let n = 0; n < {many}; n += 1) {{ const at = Date.now() + n; \
         const fields = {{ kind: 'shade', key: `{job}{strip}-${{n}}`, strip: '{strip}', colour: `${{1 + n % 9}}` }}; \
         localStorage.setItem(`bench-entry-${{at}}-${{fields.key}}`, JSON.stringify({{ at, fields, said: 'shade' }})); \
         }} }})()"
    ));
    let page = json!({ "url": format!("http://{host}/record") });
    browser.call("Target.createTarget", page);
}

#[test]
#[cfg_attr(no_chromium, ignore = "chromium is missing")]
fn two_browsers_that_were_away_send_all_that_they_kept_each_entry_once_and_in_order() {
    let asked = std::env::var("TWINSTRAKE_WRITES").ok();
    let many: usize = asked.and_then(|asked| asked.parse().ok()).unwrap_or(12);
    let (shop, bench) = Shop::small().opened();
    let job = bench.key("");
    let mut browser = Browser::start();
    // Two names of one machine: two browsers, as far as what they keep goes.
    let other = format!("localhost:{}", bench.address().port());
    kept_in_a_browser(&mut browser, &bench.host, &job, "A1", many);
    kept_in_a_browser(&mut browser, &other, &job, "B1", many);
    let began = Instant::now();
    while shop.log().len() < 2 * many {
        assert!(
            began.elapsed() < Duration::from_secs(300),
            "{} are there",
            shop.log().len()
        );
        thread::sleep(Duration::from_millis(200));
    }
    let log = shop.log();
    for strip in ["A1", "B1"] {
        let keys: Vec<&str> = log.iter().map(|entry| entry.key.as_str()).collect();
        let own = keys
            .iter()
            .filter(|key| key.starts_with(&format!("{job}{strip}-")));
        let expected: Vec<String> = (0..many).map(|n| format!("{job}{strip}-{n}")).collect();
        assert_eq!(own.copied().collect::<Vec<&str>>(), expected);
    }
}

#[cfg(unix)]
#[test]
fn a_search_whose_plan_the_disk_does_not_take_says_so_and_the_page_goes_on() {
    let (shop, bench) = Shop::small().opened();
    let order = fs::read(shop.path("out/laying-order.csv")).unwrap();
    // A file where the plans to choose from should lie.
    fs::write(shop.path("out/choices"), "in the way").unwrap();
    bench.post("/plan/start", "seconds=1").is(303);
    super::plan::watched(&bench);
    let page = bench.get("/plan").body;
    page.says("No plan was written");
    assert_eq!(fs::read(shop.path("out/laying-order.csv")).unwrap(), order);
    fs::remove_file(shop.path("out/choices")).unwrap();
    bench.post("/plan/start", "seconds=1").is(303);
    super::plan::watched(&bench);
    bench.get("/plan").body.says("href=\"/plan/1\"");
}

#[cfg(unix)]
#[test]
fn what_the_disk_does_not_take_is_not_acknowledged() {
    let (shop, bench) = Shop::demo().opened();
    let laid = format!("kind=laid&key=k&plan={}&order=1", bench.plan());
    // A log that can't be written: it leads to a disk that is always full.
    std::os::unix::fs::symlink("/dev/full", shop.path("log.csv")).unwrap();
    let answer = bench.tell(&laid);
    assert_ne!(answer.status, 200, "{}", answer.body);
    fs::remove_file(shop.path("log.csv")).unwrap();
    bench.tell(&laid).is(200);
    assert_eq!(shop.log().len(), 1);
}

#[test]
fn a_file_that_somebody_breaks_is_told_and_the_page_comes_back_with_it() {
    let (shop, bench) = Shop::demo().opened();
    // While the page can still give a key out.
    let laid = format!(
        "kind=laid&key={}&plan={}&order=1",
        bench.key("k"),
        bench.plan()
    );
    let boat = shop.read("boat.toml");
    fs::write(shop.path("boat.toml"), &boat[..boat.len() / 2]).unwrap();
    let page = bench.get("/");
    page.is(409);
    assert!(
        page.body.contains("The files of the job can&#39;t be read")
            || page.body.contains("can't be read")
    );

    bench.tell_as_it_is(&laid).is(409);
    fs::write(shop.path("boat.toml"), boat).unwrap();
    bench.get("/").is(200);
    bench.tell_as_it_is(&laid).is(200);
}
