//! Whoever does not belong in the shop: turned away, and the page still answers.

use super::{PATIENCE, Shop};
use crate::common::Says;
use std::io::{Read, Write};
use std::net::TcpStream;

/// An entry that our own page could send.
fn laid(plan: &str, key: &str) -> String {
    format!("kind=laid&key={key}&plan={plan}&order=1")
}

#[test]
fn only_the_address_itself_is_answered_to() {
    let (_shop, bench) = Shop::demo().opened();
    let port = bench.address().port();
    let asked = |line: &str, hosts: &str| {
        bench
            .raw(format!("{line}\r\n{hosts}Connection: close\r\n\r\n").as_bytes())
            .status
    };
    for host in [
        "boat.example",
        "boat.example:80",
        "127.0.0.1",
        "127.0.0.1:1",
        "192.168.1.2",
        "[::1]",
        "localhost",
    ] {
        assert_eq!(
            asked("GET / HTTP/1.1", &format!("Host: {host}\r\n")),
            421,
            "{host}"
        );
    }
    let ours = format!("Host: 127.0.0.1:{port}\r\n");
    assert_eq!(asked("GET http://boat.example/ HTTP/1.1", &ours), 421);
    assert_eq!(
        asked("GET / HTTP/1.1", &format!("{ours}Host: boat.example\r\n")),
        421
    );
    assert_eq!(asked("GET / HTTP/1.1", ""), 421);
    assert_eq!(
        asked("GET / HTTP/1.1", &format!("Host: localhost:{port}\r\n")),
        200
    );
    for method in ["PUT", "DELETE", "OPTIONS", "TRACE", "PATCH"] {
        assert_eq!(
            asked(&format!("{method} / HTTP/1.1"), &ours),
            405,
            "{method}"
        );
    }
    let page = bench.get("/");
    page.is(200);
    for promise in [
        "content-security-policy: default-src 'none'; script-src 'self'; style-src 'self'",
        "x-content-type-options: nosniff",
        "cache-control: no-store",
        "referrer-policy: same-origin",
        "cross-origin-resource-policy: same-origin",
    ] {
        assert!(page.head.contains(promise), "{promise} in {}", page.head);
    }
}

#[test]
fn nothing_is_told_from_another_page_nor_shown_in_one() {
    let (shop, bench) = Shop::demo().opened();
    let told = laid(&bench.plan(), "k1");
    for origin in [
        "",
        "Origin: null\r\n",
        "Origin: http://boat.example\r\n",
        "Origin: http://127.0.0.1\r\n",
    ] {
        assert_eq!(
            bench.post_from(origin, "/entry", &told).status,
            403,
            "{origin}"
        );
    }
    let cross = "Sec-Fetch-Site: cross-site\r\n";
    bench.post_with("/entry", &told, cross).is(403);
    for (mode, into, status) in [
        ("no-cors", "image", 403),
        ("navigate", "iframe", 403),
        // A link that somebody follows.
        ("navigate", "document", 200),
    ] {
        let fields = format!("{cross}Sec-Fetch-Mode: {mode}\r\nSec-Fetch-Dest: {into}\r\n");
        bench.get_with("/", &fields).is(status);
    }
    assert!(!shop.path("log.csv").exists());
}

#[test]
fn a_telephone_comes_in_by_the_word_and_stays_in_by_its_cookie() {
    let shop = Shop::demo();
    let bench = shop.open(&["--lan"]);
    let word = bench.way.strip_prefix("/enter?word=").unwrap();
    assert_eq!(word.len(), 32);
    let wrong = "0".repeat(32);
    for path in [
        "/",
        "/piece/1",
        "/page.js",
        "/stamp",
        "/plan/events",
        "/files/5/file",
        "/scan",
        "/boats",
        "/enter",
        "/enter?word=",
        &format!("/enter?word={wrong}"),
    ] {
        let answer = bench.get(path);
        assert_eq!(answer.status, 403, "{path}");
        assert!(
            !answer.body.contains("Demo") && !answer.head.contains("set-cookie"),
            "{path}"
        );
    }
    let entered = bench.get(&bench.way);
    entered.is(303);
    entered.head.says("location: /\r");
    entered.head.says("httponly; samesite=strict");
    let port = bench.address().port();
    let cookie = |word: &str| format!("Cookie: bench-{port}={word}\r\n");
    bench.get_with("/", &cookie(word)).is(200);
    for wrong in [&wrong, &word[..31], ""] {
        assert_eq!(bench.get_with("/", &cookie(wrong)).status, 403, "{wrong}");
    }
    let told = laid("0", "k1");
    bench.post("/entry", &told).is(403);
    bench.post_with("/entry", &told, &cookie(word)).is(409);
}

#[test]
fn no_file_of_the_machine_comes_out_by_any_path() {
    let (_shop, bench) = Shop::demo().opened();
    for path in [
        "/boat.toml",
        "/out/laying-order.csv",
        "/../boat.toml",
        "/%2e%2e/%2e%2e/etc/passwd",
        "/piece/..%2f..%2fboat.toml",
        "/piece/0",
        "/piece/-1",
        "/piece/99999999999999999999999999",
        "/piece/1/../../boat.toml",
        "/piece/%00",
        "//etc/passwd",
        "/page.css/../boat.toml",
    ] {
        let answer = bench.get(path);
        assert_eq!(answer.status, 404, "{path}");
        assert!(
            !answer.body.contains("[[panel]]") && !answer.body.contains("root:"),
            "{path}"
        );
    }
}

#[test]
fn too_much_is_not_taken_and_too_little_is_not_waited_for() {
    let (_shop, bench) = Shop::demo().opened();
    let host = &bench.host;
    let begin = format!(
        "POST /entry HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nConnection: close\r\n"
    );
    // A body of 1 GB that is announced, and one that just goes on.
    let announced = format!(
        "{begin}Content-Length: 1073741824\r\n\r\n{}",
        "x".repeat(64 * 1024)
    );
    bench.raw(announced.as_bytes()).is(413);
    let chunk = format!("4000\r\n{}\r\n", "x".repeat(0x4000));
    let endless = format!(
        "{begin}Transfer-Encoding: chunked\r\n\r\n{}",
        chunk.repeat(8)
    );
    bench.raw(endless.as_bytes()).is(413);
    // A head that is too long, and one of too many fields.
    let long = format!(
        "GET / HTTP/1.1\r\nHost: {host}\r\nA: {}\r\n\r\n",
        "x".repeat(64 * 1024)
    );
    assert!(matches!(bench.raw(long.as_bytes()).status, 431 | 0));
    let many = format!(
        "GET / HTTP/1.1\r\nHost: {host}\r\n{}\r\n",
        "A: b\r\n".repeat(200)
    );
    assert!(matches!(bench.raw(many.as_bytes()).status, 431 | 400 | 0));
    // Half a head, and nothing at all, on many connections: they are hung up on, and the page answers again.
    let mut silent: Vec<TcpStream> = (0..500)
        .filter_map(|_| TcpStream::connect(bench.address()).ok())
        .collect();
    for stream in &mut silent {
        let _ = stream.write_all(b"GET / HTTP/1.1\r\nHo");
    }
    for stream in &mut silent {
        stream.set_read_timeout(Some(PATIENCE)).unwrap();
        let mut rest = Vec::new();
        // Whether it ends or is broken off is the same to us; that it says nothing for so long is not.
        if let Err(error) = stream.read_to_end(&mut rest) {
            assert_ne!(
                error.kind(),
                std::io::ErrorKind::WouldBlock,
                "a silent connection was kept"
            );
        }
        String::from_utf8_lossy(&rest).lacks("Demo");
    }
    bench.get("/").is(200);
}

#[test]
fn a_name_that_is_script_is_only_text() {
    let wild = "</script><img src=x onerror=alert(1)>&";
    let shop = Shop::with(|file, text| match file {
        "boat.toml" => text
            .replace("Demo double-ender", wild)
            .replace("\"topside\"", &format!("\"{wild}\"")),
        "boards.csv" => text
            .replace("\nA,", &format!("\n{wild},"))
            .replace("straight", wild),
        "forms.csv" | "offsets.csv" => text.replace("topside", wild),
        _ => text,
    });
    let bench = shop.open(&[]);
    let ahead = bench.get("/ahead").body;
    let pages: Vec<String> = (1..=12)
        .map(|n| bench.get(&format!("/piece/{n}")).body)
        .collect();
    pages[0].says("&lt;img src=x");
    let more = [
        "/boat", "/find", "/plan", "/paper", "/files/0", "/files/2", "/files/5",
    ];
    let more: Vec<String> = more.map(|path| bench.get(path).body).into();
    for page in pages.iter().chain(&more).chain([&ahead]) {
        page.lacks("<img");
    }
}
