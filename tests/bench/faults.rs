//! What goes wrong between a telephone and the disk: nothing acknowledged is lost, and nothing is written twice.

use super::Shop;
use std::collections::BTreeSet;
use std::fs;
use std::sync::Mutex;
use std::thread;
use std::time::Duration;

/// How often the program is killed: a few times, or as often as `TWINSTRAKE_FAULTS` says.
fn times() -> usize {
    let asked = std::env::var("TWINSTRAKE_FAULTS").ok();
    asked.and_then(|asked| asked.parse().ok()).unwrap_or(4)
}

#[cfg(unix)]
#[test]
fn what_was_acknowledged_before_the_program_was_killed_is_there_once() {
    let shop = Shop::demo();
    let mut sent: BTreeSet<String> = BTreeSet::new();
    for time in 0..times() {
        let bench = shop.open(&[]);
        let (plan, id) = (bench.plan(), bench.key(""));
        let acknowledged: Mutex<Vec<(String, String)>> = Mutex::default();
        let tell = |key: &str, body: &str| {
            let answer = bench.tell_as_it_is(body);
            if answer.status == 200 {
                acknowledged
                    .lock()
                    .unwrap()
                    .push((key.to_owned(), body.to_owned()));
            }
            answer.status
        };
        // Two telephones lay and undo, each entry sent twice; the program goes away in the middle, at another place
        // each time.
        thread::scope(|scope| {
            for telephone in 0..2 {
                let (tell, plan, id) = (&tell, &plan, &id);
                scope.spawn(move || {
                    for n in 0..200 {
                        let key = format!("{id}t{time}-{telephone}-{n}");
                        let order = 2 * (n / 2) + telephone + 1;
                        let body = match n % 2 {
                            0 => format!("kind=laid&key={key}&plan={plan}&order={order}"),
                            _ => format!("kind=undo&key={key}&entry={}", n),
                        };
                        if tell(&key, &body) == 0 || tell(&key, &body) == 0 {
                            return;
                        }
                    }
                });
            }
            while acknowledged.lock().unwrap().is_empty() {
                thread::sleep(Duration::from_millis(5));
            }
            thread::sleep(Duration::from_millis(37 * (time as u64 % 20)));
            bench.end();
        });
        let all = acknowledged.into_inner().unwrap();
        sent.extend(all.iter().map(|(key, _)| key.clone()));
        drop(bench);
        // What was sent just before is sent again to the next program, which must know it.
        let next = shop.open(&[]);
        if let Some((_, body)) = all.last() {
            // It may have been undone since.
            assert!(matches!(next.tell_as_it_is(body).status, 200 | 409));
        }
        let keys: Vec<String> = shop.log().into_iter().map(|entry| entry.key).collect();
        let once: BTreeSet<&String> = keys.iter().collect();
        assert_eq!(once.len(), keys.len(), "written twice: {keys:?}");
        let lost: Vec<&String> = sent.iter().filter(|key| !once.contains(key)).collect();
        assert!(lost.is_empty(), "acknowledged and lost: {lost:?}");
    }
}

#[cfg(unix)]
#[test]
fn what_the_disk_does_not_take_is_not_acknowledged() {
    let shop = Shop::demo();
    let bench = shop.open(&[]);
    let laid = format!("kind=laid&key=k&plan={}&order=1", bench.plan());
    // A log that can't be written: it leads to a disk that is always full.
    std::os::unix::fs::symlink("/dev/full", shop.path("log.csv")).unwrap();
    let answer = bench.tell(&laid);
    assert_ne!(answer.status, 200, "{}", answer.body);
    fs::remove_file(shop.path("log.csv")).unwrap();
    assert_eq!(bench.tell(&laid).status, 200);
    assert_eq!(shop.log().len(), 1);
}

#[test]
fn a_file_that_somebody_breaks_is_told_and_the_page_comes_back_with_it() {
    let shop = Shop::demo();
    let bench = shop.open(&[]);
    // While the page can still give a key out.
    let laid = format!(
        "kind=laid&key={}&plan={}&order=1",
        bench.key("k"),
        bench.plan()
    );
    let boat = fs::read_to_string(shop.path("boat.toml")).unwrap();
    fs::write(shop.path("boat.toml"), &boat[..boat.len() / 2]).unwrap();
    let page = bench.get("/", "");
    assert_eq!(page.status, 409);
    assert!(
        page.body.contains("The files of the job can&#39;t be read")
            || page.body.contains("can't be read")
    );

    assert_eq!(bench.tell_as_it_is(&laid).status, 409);
    fs::write(shop.path("boat.toml"), boat).unwrap();
    assert_eq!(bench.get("/", "").status, 200);
    assert_eq!(bench.tell_as_it_is(&laid).status, 200);
}
