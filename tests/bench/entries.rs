//! What is told on the page: once, by the plan that was looked at, and back again.

use super::Shop;
use crate::common::Says;

/// The answer to a script.
fn said(body: &str) -> serde_json::Value {
    serde_json::from_str(body).unwrap_or_else(|why| panic!("{why}: {body}"))
}

/// Why it was refused.
fn why(body: &str) -> String {
    said(body)["why"].as_str().unwrap().to_owned()
}

#[test]
fn an_entry_that_comes_twice_is_written_once_and_acknowledged_twice() {
    let (shop, bench) = Shop::demo().opened();
    let plan = bench.plan();
    let laid = format!("kind=laid&key=twice&plan={plan}&order=1");
    let (first, again) = (bench.tell(&laid), bench.tell(&laid));
    assert_eq!((first.status, again.status), (200, 200));
    assert_eq!(first.body, again.body);
    assert_eq!(said(&first.body)["entry"], 1);
    let log = shop.log();
    assert_eq!(log.len(), 1);
    assert_eq!(log[0].key, bench.key("twice"));
    // It is of another job that was open here before.
    bench.tell_as_it_is(&laid).is(409);
    // With another key it is told a second time, and can't be.
    let other = bench.tell(&laid.replace("twice", "other"));
    other.is(409);
    why(&other.body).says("It can't be");
    assert_eq!(shop.log().len(), 1);
    // Undone since, it is not acknowledged as if it still held.
    bench.tell("kind=undo&key=back&entry=1").is(200);
    let late = bench.tell(&laid);
    late.is(409);
    late.body.says("undone since");
    assert_eq!(shop.log().len(), 2);
}

#[test]
fn what_is_told_by_another_plan_than_that_in_force_is_refused() {
    let (shop, bench) = Shop::demo().opened();
    for (plan, order) in [
        ("ffffffff", "1"),
        (bench.plan().as_str(), "0"),
        (bench.plan().as_str(), "9999"),
    ] {
        let answer = bench.tell(&format!("kind=laid&key=k&plan={plan}&order={order}"));
        assert_eq!(answer.status, 409, "{plan} {order}");
        why(&answer.body).says("plan has changed");
    }
    for (kind, key) in [
        ("laid", ""),
        ("laid", "a%2Cb"),
        ("laid", &"x".repeat(65)),
        ("eaten", "k"),
    ] {
        assert_eq!(
            bench.tell(&format!("kind={kind}&key={key}&order=1")).status,
            409,
            "{kind} {key}"
        );
    }
    assert!(!shop.path("log.csv").exists());
}

#[test]
fn without_script_a_form_leads_to_the_next_piece_and_can_be_undone() {
    let (_shop, bench) = Shop::demo().opened();
    let plan = bench.plan();
    let told = bench.post(
        "/entry",
        &format!("kind=laid&key={}&plan={plan}&order=1", bench.key("k1")),
    );
    told.is(303);
    told.head.says("location: /?entry=1");
    let page = bench.get("/?entry=1").body;
    page.says("On the disk: laid: ");
    page.says("data-order=\"2\"");
    page.says("name=\"entry\" value=\"1\"");
    bench.get("/piece/1").body.says("Laid already");
    bench
        .post(
            "/entry",
            &format!("kind=undo&key={}&entry=1", bench.key("k2")),
        )
        .is(303);
    bench.get("/").body.says("data-order=\"1\"");
    let refused = bench.post(
        "/entry",
        &format!("kind=undo&key={}&entry=7", bench.key("k3")),
    );
    refused.is(409);
    refused.body.says("Nothing was written");
    refused.body.says("<html");
}

#[test]
fn one_telephone_sees_what_another_tells_and_a_visitor_tells_nothing() {
    let shop = Shop::demo();
    let (bench, visitor) = (shop.open(&[]), shop.open(&["--look-only"]));
    let before = visitor.get("/stamp").body;
    let (plan, page) = (bench.plan(), visitor.get("/").body);
    page.says("data-order=\"1\"");
    page.lacks("kind");
    let laid = format!("kind=laid&key=k&plan={plan}&order=1");
    visitor.tell_as_it_is(&laid).is(403);
    assert!(!shop.path("log.csv").exists());
    bench.tell(&laid).is(200);
    assert_ne!(visitor.get("/stamp").body, before);
    visitor.get("/").body.says("data-order=\"2\"");
}
