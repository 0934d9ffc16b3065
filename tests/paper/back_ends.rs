//! A scene as PDF and as pixels.

use super::{on_disk, poppler};
use crate::common::Says;
use twinstrake::draw::scene::{Ink, Item, Outline, Rect, Scene, Shape, Text, Weight};
use twinstrake::draw::typeface::{measured, unprintable};
use twinstrake::draw::{pdf, png};

const BLACK: Ink = Ink([0; 3]);

fn page(width: f64, height: f64, items: Vec<Item>) -> Scene {
    Scene {
        title: "A page".into(),
        width,
        height,
        paper: Ink([255; 3]),
        items,
    }
}

const IDS: [&str; 6] = [
    "Éabh-Ø12½",
    "AVAToWajfi",
    "ŁÓDŹ-7″",
    "Ärmel’s",
    "žluťoučký-kůň-8",
    "WWWWmmmm....iiii",
];

#[test]
#[cfg_attr(no_poppler, ignore = "poppler-utils is missing")]
fn a_page_has_its_true_size_and_its_words_come_out_as_wide_as_measured_in_an_embedded_typeface() {
    let mut items = Vec::new();
    for (n, id) in IDS.iter().enumerate() {
        let y = 20.0 + 20.0 * n as f64;
        items.push(Text::new(*id, (10.0, y), 8.0, BLACK).into());
        items.push(Text::new(*id, (110.0, y), 6.0, BLACK).bold().into());
    }
    let pages = [page(210.0, 297.0, items), page(215.9, 279.4, Vec::new())];
    let (_folder, file) = on_disk(&pages);

    for (size, (w, h)) in poppler::page_sizes(&file)
        .iter()
        .zip([(210.0, 297.0), (215.9, 279.4)])
    {
        assert!(
            (size.0 - w).abs() < 0.01 && (size.1 - h).abs() < 0.01,
            "{size:?}"
        );
    }
    let fonts = poppler::fonts(&file);
    assert_eq!(fonts.len(), 2, "plain and heavy: {fonts:?}");
    for (name, embedded) in fonts {
        assert!(embedded && name.contains("NotoSans"), "{name}");
    }
    let words = poppler::words(&file);
    assert_eq!(words.len(), 2 * IDS.len());
    for word in words {
        let (size, weight, left) = match word.left < 100.0 {
            true => (8.0, Weight::Plain, 10.0),
            false => (6.0, Weight::Bold, 110.0),
        };
        assert!(IDS.contains(&word.text.as_str()), "{word:?}");
        assert!((word.left - left).abs() < 0.05, "{word:?}");
        let wide = measured(&word.text, size, weight);
        assert!(
            (word.right - word.left - wide).abs() < 0.05,
            "{word:?}, measured {wide}"
        );
    }
}

#[test]
fn what_can_be_written_on_a_strip_in_europe_can_be_printed_and_what_can_not_is_found() {
    for id in IDS {
        assert_eq!(unprintable(id), None, "{id}");
    }
    assert_eq!(unprintable("Кедр Ω ¼ ×"), None);
    assert_eq!(unprintable("A木1"), Some('木'));
    assert_eq!(unprintable("A\u{7}1"), Some('\u{7}'));
}

#[test]
fn the_same_pages_give_the_same_bytes() {
    let text = || Text::new("D4", (10.0, 20.0), 8.0, BLACK).into();
    let pages = [
        page(60.0, 40.0, vec![text()]),
        page(60.0, 40.0, vec![text()]),
    ];
    assert!(pdf(&pages).unwrap() == pdf(&pages).unwrap());
    assert!(png(&pages[0], 300).unwrap() == png(&pages[0], 300).unwrap());
    String::from_utf8_lossy(&pdf(&pages).unwrap()).lacks("CreationDate");
}

#[test]
fn a_picture_in_pixels_has_the_width_that_was_asked_for() {
    let square = Rect::between(10.0, 10.0, 30.0, 30.0);
    let cells = Outline::Cells(vec![square, Rect::between(30.0, 10.0, 50.0, 20.0)]);
    let bytes = png(&page(60.0, 40.0, vec![Shape::filled(cells, BLACK)]), 600).unwrap();
    // Source of the places: the PNG specification, 5.2 and 11.2.2 (signature, then IHDR with width and height).
    assert_eq!(&bytes[..8], b"\x89PNG\r\n\x1a\n");
    let figure = |at: usize| u32::from_be_bytes(bytes[at..at + 4].try_into().unwrap());
    assert_eq!((figure(16), figure(20)), (600, 400));
}
