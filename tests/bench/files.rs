//! The files of a job edited on the page: judged with the whole job, saved whole, never over somebody else's.

use super::chromium::Browser;
use super::{Bench, Shop, value};
use crate::common::Says;
use std::fs;

/// strips.csv among the files.
const STRIPS: usize = 5;

/// As a form sends a text.
fn encoded(text: &str) -> String {
    let sign = |byte: u8| match byte.is_ascii_alphanumeric() {
        true => char::from(byte).to_string(),
        false => format!("%{byte:02X}"),
    };
    text.bytes().map(sign).collect()
}

/// The version that the page shows.
fn version(bench: &Bench, file: usize) -> String {
    value(&bench.get(&format!("/files/{file}")).body, "digest").to_owned()
}

fn save(bench: &Bench, file: usize, text: &str, version: &str, more: &str) -> super::Answer {
    let body = format!("digest={version}&text={}{more}", encoded(text));
    bench.post(&format!("/files/{file}/save"), &body)
}

#[test]
fn a_wrong_cell_is_told_at_the_cell_and_nothing_is_written_unless_it_is_forced() {
    let (shop, bench) = Shop::small().opened();
    let before = shop.read("strips.csv");
    let wrong = before.replace("A2,A,2,3100", "A2,A,2,4.97.8");
    let answer = save(&bench, STRIPS, &wrong, &version(&bench, STRIPS), "");
    answer.is(422);
    answer.body.says("id=\"wrong-3-3\"");
    answer.body.says("two decimal points");
    assert_eq!(shop.read("strips.csv"), before);
    // Somebody who knows what he does, half-way through.
    let forced = save(
        &bench,
        STRIPS,
        &wrong,
        &version(&bench, STRIPS),
        "&force=yes",
    );
    forced.is(303);
    bench.get("/").is(409);
    bench.get("/files").body.says("two decimal points");
    let mended = save(&bench, STRIPS, &before, &version(&bench, STRIPS), "");
    mended.is(303);
    bench.get("/").is(200);
    // Both versions before are kept.
    let kept =
        |n: usize| fs::read_to_string(shop.path(&format!("out/earlier/files/strips-{n}.csv")));
    assert_eq!(
        (kept(1).unwrap(), kept(2).unwrap()),
        (before.clone(), wrong)
    );
    assert_eq!(bench.get(&format!("/files/{STRIPS}/before/1")).body, before);
    bench.get(&format!("/files/{STRIPS}/before/7")).is(404);
}

#[test]
fn what_somebody_else_has_changed_meanwhile_is_not_written_over() {
    let (shop, bench) = Shop::small().opened();
    let looked_at = version(&bench, STRIPS);
    let before = shop.read("strips.csv");
    let theirs = before.replace("S1,,,2100", "S1,,,2111");
    fs::write(shop.path("strips.csv"), &theirs).unwrap();
    let mine = before.replace("S1,,,2100", "S1,,,2222");
    let answer = save(&bench, STRIPS, &mine, &looked_at, "&force=yes");
    answer.is(409);
    assert!(
        answer.body.contains("2111") && answer.body.contains("2222"),
        "both are shown"
    );
    assert_eq!(shop.read("strips.csv"), theirs);
    let over = save(&bench, STRIPS, &mine, &version(&bench, STRIPS), "");
    over.is(303);
    assert_eq!(shop.read("strips.csv"), mine);
}

#[test]
fn boat_toml_is_text_with_complaints_by_their_lines() {
    let (shop, bench) = Shop::small().opened();
    let before = shop.read("boat.toml");
    let wrong = before.replace("slope = 8", "slope = \"steep\"");
    let answer = save(&bench, 0, &wrong, &version(&bench, 0), "");
    answer.is(422);
    answer.body.says("boat.toml, line 9, joint.slope");
    let good = before.replace("slope = 8", "slope = 10");
    save(&bench, 0, &good, &version(&bench, 0), "").is(303);
    assert_eq!(shop.read("boat.toml"), good);
}

#[test]
fn boat_toml_is_a_form_with_words_for_each_key() {
    let (shop, bench) = Shop::small().opened();
    let page = bench.get("/files/0").body;
    page.says("Lost at each cross-cut");
    page.says("name=\"panel.0.toward\" value=\"keel\"");
    let now = version(&bench, 0);
    let wrong = format!("digest={now}&joint.slope=-1&strip.width=19");
    let answer = bench.post("/files/0/keys", &wrong);
    answer.is(422);
    answer.body.says("joint.slope");
    // One more zone can be told, and one more want.
    page.says("name=\"show.0.times\"");
    page.says("name=\"want.0.boards\"");
    let show = "show.0.panel=side&show.0.from=0&show.0.to=1000&show.0.times=2&want.0.name=";
    let good = format!("digest={now}&joint.slope=10&allow.saw=3+mm&.name=Skiff+II&{show}");
    bench.post("/files/0/keys", &good).is(303);
    let text = shop.read("boat.toml");
    text.says("slope = 10\n");
    text.says("saw = \"3 mm\"\n");
    text.says("name = \"Skiff II\"\n");
    let hull = shop.job().hull;
    assert_eq!(hull.show.len(), 1, "{text}");
    assert_eq!(
        bench.post("/files/0/keys", &good).status,
        409,
        "of a version before"
    );
}

#[test]
fn a_spreadsheet_takes_the_place_of_a_sheet_and_comes_back_as_it_is() {
    let (shop, bench) = Shop::small().opened();
    let rows = shop.read("strips.csv");
    let mut book = rust_xlsxwriter::Workbook::new();
    let sheet = book.add_worksheet();
    for (line, row) in (0_u32..).zip(rows.lines()) {
        for (at, cell) in (0_u16..).zip(row.split(',')) {
            sheet.write_string(line, at, cell).unwrap();
        }
    }
    let bytes = book.save_to_buffer().unwrap();
    let send = |kind: &str, version: &str, bytes: &[u8]| {
        let path = format!("/files/{STRIPS}/file?kind={kind}&digest={version}");
        bench.send(&path, bytes)
    };
    let now = version(&bench, STRIPS);
    send("xlsx", "0", &bytes).is(409);
    send("exe", &now, &bytes).is(422);
    send("xlsx", &now, b"no spreadsheet").is(422);
    send("xlsx", &now, &bytes).is(200);
    assert!(shop.path("strips.xlsx").exists() && !shop.path("strips.csv").exists());
    assert_eq!(fs::read(shop.path("strips.xlsx")).unwrap(), bytes);
    let page = bench.get(&format!("/files/{STRIPS}")).body;
    page.says("strips.xlsx");
    page.says("value=\"A1\"");
    // Edited here it is a sheet of text again.
    save(&bench, STRIPS, &rows, &version(&bench, STRIPS), "").is(303);
    assert!(!shop.path("strips.xlsx").exists() && shop.path("strips.csv").exists());
    assert!(shop.path("out/earlier/files/strips-2.xlsx").exists());
}

#[test]
fn no_other_file_is_read_or_written_and_nothing_larger_than_a_sheet() {
    let (shop, bench) = Shop::small().opened();
    for path in [
        "/files/8",
        "/files/boat.toml",
        "/files/..%2fboat.toml",
        "/files/5/before/0",
        "/files/99/file",
        "/files/5/before/..%2f..%2fboat.toml",
    ] {
        assert_eq!(bench.get(path).status, 404, "{path}");
    }
    let version = version(&bench, STRIPS);
    let kind = format!("/files/{STRIPS}/file?kind=..%2fx.csv&digest={version}");
    bench.post(&kind, "strip").is(422);
    let large = format!("digest={version}&text={}", "x".repeat(1_100_000));
    let answer = bench.post(&format!("/files/{STRIPS}/save"), &large);
    answer.is(422);
    answer.body.says("larger than 1 MB");
    let larger = "x".repeat(3_300_000);
    bench
        .post(&format!("/files/{STRIPS}/save"), &larger)
        .is(413);
    // A folder where versions before should lie: the disk refuses, and the sheet is as it was.
    let before = fs::read(shop.path("strips.csv")).unwrap();
    fs::write(shop.path("out/earlier"), "in the way").unwrap();
    let answer = save(
        &bench,
        STRIPS,
        "strip,length,colour\nA1,3100,4\n",
        &version,
        "&force=yes",
    );
    answer.is(503);
    assert_eq!(fs::read(shop.path("strips.csv")).unwrap(), before);
}

#[test]
#[cfg_attr(no_chromium, ignore = "chromium is missing")]
fn rows_are_pasted_from_a_spreadsheet_and_saved() {
    let (shop, bench) = Shop::small().opened();
    let mut browser = Browser::start();
    browser.window(1280, 800);
    browser.open(&format!("http://{}/files/{STRIPS}", bench.host));
    // Over the last row and beyond the end of the table.
    browser.ask(
        "(() => { const rows = [...document.querySelectorAll('form.sheet tbody tr')]; \
         const field = rows.find((row) => row.querySelector('input').value === 'S1').querySelector('input'); \
         const data = new DataTransfer(); \
         data.setData('text', 'S1\\t\\t\\t2100\\t5\\n' + \
         [...'23456'].map((n) => `S${n}\\t\\t\\t3.1.0\\t4`).join('\\n')); \
         field.dispatchEvent(new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true })); \
         })()",
    );
    browser.follow("document.querySelector('form.sheet button.act').click()");
    assert_eq!(
        browser.ask("document.querySelectorAll('td [aria-invalid]').length"),
        5,
        "two decimal points, at each cell"
    );
    browser.ask(
        "document.querySelectorAll('td [aria-invalid]').forEach((field) => { field.value = '3100'; })",
    );
    browser.follow("document.querySelector('form.sheet button.act').click()");
    browser.until("document.body.textContent.includes('On the disk.')");
    let strips = shop.read("strips.csv");
    assert!(
        strips.contains("S1,,,2100,5\nS2,,,3100,4\n") && strips.ends_with("S6,,,3100,4\n"),
        "{strips}"
    );
}
