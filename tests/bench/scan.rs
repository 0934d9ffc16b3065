//! A label photographed by a telephone leads to its strip.

use super::Shop;
use crate::common::Says;
use crate::paper::poppler;
use image::codecs::jpeg::JpegEncoder;
use image::{GrayImage, Luma};
use std::fs;

/// The first label of a sheet as a telephone sees it: turned by 11 degrees, a little aslant, dark toward one side.
pub fn photograph(shop: &Shop) -> Vec<u8> {
    const DPI: u32 = 300;
    let page = poppler::greys(&shop.path("out/labels.pdf"), 1, DPI);
    let (sin, cos) = 11_f64.to_radians().sin_cos();
    let picture = GrayImage::from_fn(1000, 750, |x, y| {
        let (x, y) = (f64::from(x) - 500.0, f64::from(y) - 375.0);
        let (across, down) = (cos * x - sin * y + 0.06 * y, sin * x + cos * y);
        // The label is 63.5 by 38.1 mm, and begins 7.25 and 15.15 mm from the corner of the page.
        let at = |mm: f64, pixels: f64| mm + pixels * 0.075;
        let paper = page.at(at(39.0, across), at(34.2, down));
        Luma([(f64::from(paper) * (0.75 + x / 4000.0)) as u8 + 12])
    });
    let mut bytes = Vec::new();
    let encoder = JpegEncoder::new_with_quality(&mut bytes, 80);
    picture.write_with_encoder(encoder).unwrap();
    bytes
}

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils are missing")]
fn a_photograph_of_a_label_leads_to_its_strip() {
    let (shop, bench) = Shop::demo().opened();
    let made = bench.post("/paper/labels", "on=sheet&size=A4+3x7");
    made.is(200);
    let answer = bench.send("/scan", &photograph(&shop));
    answer.is(200);
    let said: serde_json::Value = serde_json::from_str(&answer.body).unwrap();
    let to = said["to"].as_str().unwrap_or_default().to_owned();
    // Labels are printed by strip, in the order of the rack.
    let used: Vec<usize> = shop
        .plan()
        .pieces
        .iter()
        .map(|piece| piece.strip.0)
        .collect();
    assert_eq!(to, format!("/strip/{}", used.iter().min().unwrap()));
    let strip = &shop.job().stock.strips[*used.iter().min().unwrap()];
    bench.get(&to).body.says(&format!("Strip {}", strip.name));
}

#[test]
fn what_is_no_label_is_told_and_nothing_larger_than_a_photograph_is_taken() {
    let (shop, bench) = Shop::small().opened();
    let mut empty = Vec::new();
    GrayImage::from_pixel(300, 200, Luma([200]))
        .write_with_encoder(JpegEncoder::new(&mut empty))
        .unwrap();
    for (photograph, why) in [
        (empty.as_slice(), "There is no code in the picture"),
        (&empty[..empty.len() / 2], "can't be read"),
        (b"", "can't be read"),
        (b"<svg onload=alert(1)>", "can't be read"),
    ] {
        let answer = bench.send("/scan", photograph);
        answer.is(422);
        answer.body.says(why);
    }
    let host = &bench.host;
    let large = format!(
        "POST /scan HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nConnection: close\r\n\
         Content-Length: 26300000\r\n\r\n{}",
        "x".repeat(64 * 1024)
    );
    bench.raw(large.as_bytes()).is(413);
    bench.get("/").is(200);
    assert!(
        fs::read_dir(shop.path("")).unwrap().count() < 6,
        "no photograph is kept"
    );
}
