//! Printed pages, read back by programs that share no code with ours: poppler's tools and zbar's.
//!
//! Debian: poppler-utils, zbar-tools. Where one is missing its tests are ignored (`build.rs`), or fail where `CI` is
//! `true`.

use std::path::Path;
use std::process::Command;

fn run(program: &str, args: &[&str]) -> Vec<u8> {
    let ran = Command::new(program).args(args).output();
    let ran = ran.unwrap_or_else(|why| panic!("{program} is needed (see .ci/run): {why}"));
    // zbarimg says 4 where an image has no code.
    let good = ran.status.success() || (program == "zbarimg" && ran.status.code() == Some(4));
    assert!(
        good,
        "{program} {args:?}: {}",
        String::from_utf8_lossy(&ran.stderr)
    );
    ran.stdout
}

fn text(program: &str, args: &[&str]) -> String {
    String::from_utf8(run(program, args)).unwrap()
}

fn path(file: &Path) -> &str {
    file.to_str().unwrap()
}

/// A word on a page and its box. Unit: millimetre, from the top left.
#[derive(Clone, PartialEq, Debug)]
pub struct Word {
    pub page: usize,
    pub left: f64,
    pub top: f64,
    pub right: f64,
    pub bottom: f64,
    pub text: String,
}

const POINT: f64 = 25.4 / 72.0;

/// Size of each page. Unit: millimetre.
pub fn page_sizes(pdf: &Path) -> Vec<(f64, f64)> {
    let told = text("pdfinfo", &["-f", "1", "-l", "9999", path(pdf)]);
    let sizes = told
        .lines()
        .filter(|line| line.starts_with("Page ") && line.contains(" size:"));
    sizes
        .map(|line| {
            let figures = line.split_once("size:").unwrap().1;
            let mut figures = figures.split_whitespace();
            let w: f64 = figures.next().unwrap().parse().unwrap();
            let h: f64 = figures.nth(1).unwrap().parse().unwrap();
            (w * POINT, h * POINT)
        })
        .collect()
}

/// A font of a file as `pdffonts` lists it: name, and whether it is embedded.
pub fn fonts(pdf: &Path) -> Vec<(String, bool)> {
    let told = text("pdffonts", &[path(pdf)]);
    let rows = told.lines().skip(2);
    rows.map(|row| {
        let cells: Vec<&str> = row.split_whitespace().collect();
        // From the right: object number and generation, unicode, subset, embedded.
        (cells[0].to_owned(), cells[cells.len() - 5] == "yes")
    })
    .collect()
}

/// Every word and where it stands.
pub fn words(pdf: &Path) -> Vec<Word> {
    let told = text("pdftotext", &["-bbox", path(pdf), "-"]);
    let mut page = 0;
    let mut words = Vec::new();
    for line in told.lines().map(str::trim) {
        if line.starts_with("<page ") {
            page += 1;
        }
        let Some(rest) = line.strip_prefix("<word ") else {
            continue;
        };
        let number = |name: &str| -> f64 {
            let after = rest.split_once(&format!("{name}=\"")).unwrap().1;
            after.split_once('"').unwrap().0.parse::<f64>().unwrap() * POINT
        };
        let inner = rest.split_once('>').unwrap().1.trim_end_matches("</word>");
        words.push(Word {
            page,
            left: number("xMin"),
            top: number("yMin"),
            right: number("xMax"),
            bottom: number("yMax"),
            text: inner
                .replace("&lt;", "<")
                .replace("&gt;", ">")
                .replace("&amp;", "&"),
        });
    }
    words
}

/// The part of a label on a page of 3 x 7 on A4.
pub fn cell(n: usize) -> Part {
    let (column, row) = ((n % 3) as f64, (n % 21 / 3) as f64);
    (7.25 + column * 66.0, 15.15 + row * 38.1, 63.5, 38.1)
}

/// A page in greys: width, height, and a byte a pixel, 0 black.
pub struct Greys {
    pub wide: usize,
    pub high: usize,
    pub dpi: f64,
    pixels: Vec<u8>,
}

/// Renders a page.
pub fn greys(pdf: &Path, page: usize, dpi: u32) -> Greys {
    let (page, at) = (page.to_string(), dpi.to_string());
    let args = ["-gray", "-r", &at, "-f", &page, "-l", &page, path(pdf)];
    let bytes = run("pdftoppm", &args);
    // A PGM: "P5", width, height and 255 on lines of their own, then the pixels.
    let mut fields = bytes.splitn(4, |b| b.is_ascii_whitespace());
    let mut number = || -> usize {
        let field = fields.next().unwrap();
        std::str::from_utf8(field)
            .unwrap()
            .trim_start_matches("P5")
            .parse()
            .unwrap_or(0)
    };
    number();
    let (wide, high) = (number(), number());
    let pixels = bytes[bytes.len() - wide * high..].to_vec();
    Greys {
        wide,
        high,
        dpi: f64::from(dpi),
        pixels,
    }
}

impl Greys {
    /// The grey at a place in millimetres.
    pub fn at(&self, x: f64, y: f64) -> u8 {
        let pixel = |mm: f64, most: usize| ((mm / 25.4 * self.dpi) as usize).min(most - 1);
        self.pixels[pixel(y, self.high) * self.wide + pixel(x, self.wide)]
    }

    /// A part of the page as a PGM.
    fn cropped(&self, (x, y, w, h): Part) -> Vec<u8> {
        let pixel = |mm: f64| (mm / 25.4 * self.dpi).round() as usize;
        let (from, to) = (pixel(x), pixel(x + w).min(self.wide));
        let rows = pixel(y)..pixel(y + h).min(self.high);
        let mut image = format!("P5\n{} {}\n255\n", to - from, rows.len()).into_bytes();
        for row in rows {
            image.extend(&self.pixels[row * self.wide + from..row * self.wide + to]);
        }
        image
    }

    /// From where to where it is dark on the straight way from a dark place in steps along x or y. Unit: mm.
    pub fn dark_span(&self, (x, y): (f64, f64), (dx, dy): (f64, f64)) -> (f64, f64) {
        let step = 25.4 / self.dpi / 4.0;
        let reach = |sign: f64| {
            let mut n = 0.0;
            while self.at(x + sign * n * step * dx, y + sign * n * step * dy) < 128 {
                n += 1.0;
            }
            n * step
        };
        let along = if dx > 0.0 { x } else { y };
        (along - reach(-1.0), along + reach(1.0))
    }
}

/// The codes on parts of a page, one after another, read by zbar as a telephone would: one label at a time. A part
/// without a code gives nothing. For names of plain letters: zbar guesses which alphabet others are in.
pub fn codes(page: &Greys, parts: impl IntoIterator<Item = Part>) -> Vec<String> {
    let folder = tempfile::tempdir().unwrap();
    let images = parts.into_iter().enumerate().map(|(n, part)| {
        let image = folder.path().join(format!("{n:03}.pgm"));
        std::fs::write(&image, page.cropped(part)).unwrap();
        image
    });
    let images: Vec<_> = images.collect();
    let mut args = vec!["-q", "--nodbus", "--raw", "-Sdisable", "-Sqrcode.enable"];
    args.extend(images.iter().map(|image| path(image)));
    text("zbarimg", &args).lines().map(str::to_owned).collect()
}

/// The code on a part of a page, as its bytes say in UTF-8.
pub fn code(page: &Greys, part: Part) -> String {
    let folder = tempfile::tempdir().unwrap();
    let image = folder.path().join("part.pgm");
    std::fs::write(&image, page.cropped(part)).unwrap();
    let args = [
        "-q",
        "--nodbus",
        "--raw",
        "-Sbinary",
        "-Sdisable",
        "-Sqrcode.enable",
        path(&image),
    ];
    text("zbarimg", &args)
}

/// A part of a page: left, top, width, height. Unit: mm.
pub type Part = (f64, f64, f64, f64);
