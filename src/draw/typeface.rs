//! The typeface of everything that is printed: Noto Sans, plain and heavy, carried in the program.
//!
//! Printed pages never depend on what is installed. What is measured here is what the back ends for pages and pixels
//! set (`pdf`, `png`): the same shaper, the same bytes. Source: Noto Sans, The Noto Project Authors, SIL Open Font
//! License 1.1 (text in docs/licences).

use super::scene::Weight;
use crate::untrusted::is_hidden;
use resvg::usvg::fontdb::{Database, Source};
use rustybuzz::{Face, UnicodeBuffer};
use std::sync::{Arc, LazyLock};

/// The family, as files name it.
pub const FAMILY: &str = "Noto Sans";

/// Height of a capital letter, as a part of the size. Source: Noto Sans, table OS/2, sCapHeight 714 of 1000.
pub const CAPITAL: f64 = 0.714;

static SHELF: LazyLock<Arc<Database>> = LazyLock::new(|| {
    let mut shelf = Database::new();
    for bytes in [notosans::REGULAR_TTF, notosans::BOLD_TTF] {
        shelf.load_font_source(Source::Binary(Arc::new(bytes)));
    }
    shelf.set_sans_serif_family(FAMILY);
    Arc::new(shelf)
});

static PLAIN: LazyLock<Option<Face<'static>>> =
    LazyLock::new(|| Face::from_slice(notosans::REGULAR_TTF, 0));
static BOLD: LazyLock<Option<Face<'static>>> =
    LazyLock::new(|| Face::from_slice(notosans::BOLD_TTF, 0));

/// The typeface for the back ends.
pub(super) fn shelf() -> Arc<Database> {
    Arc::clone(&SHELF)
}

fn face(weight: Weight) -> Option<&'static Face<'static>> {
    match weight {
        Weight::Plain => PLAIN.as_ref(),
        Weight::Bold => BOLD.as_ref(),
    }
}

/// How wide words come out in print. Unit: that of `size`, the height of the type.
pub fn measured(words: &str, size: f64, weight: Weight) -> f64 {
    let Some(face) = face(weight) else {
        // The bytes are in the program; a face that can't be read would show in every test.
        return words.chars().count() as f64 * size;
    };
    let mut buffer = UnicodeBuffer::new();
    buffer.push_str(words);
    let set = rustybuzz::shape(face, &[], buffer);
    let units: i32 = set.glyph_positions().iter().map(|g| g.x_advance).sum();
    f64::from(units) / f64::from(face.units_per_em()) * size
}

/// The first character that the typeface can't print; `None` where it has them all.
pub fn unprintable(words: &str) -> Option<char> {
    words.chars().find(|c| !is_printable(*c))
}

/// The words with a question mark for each character that the typeface can't print.
pub fn printable(words: &str) -> String {
    let known = |c: char| if is_printable(c) { c } else { '?' };
    words.chars().map(known).collect()
}

fn is_printable(c: char) -> bool {
    let known = |face: &Face<'_>| face.glyph_index(c).is_some();
    !is_hidden(c) && face(Weight::Plain).is_none_or(known)
}
