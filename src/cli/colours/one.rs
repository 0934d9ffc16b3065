//! One photograph, measured in a process of its own that is ended when it takes too long.
//!
//! Why not a thread: one that is left alone goes on working and holding its picture, a folder full of pictures made
//! to be slow would fill the memory with them, and a reader that overflows its stack would take the whole program
//! along. A process can be ended.

use super::super::status::Status;
use image::codecs::jpeg::JpegEncoder;
use image::{ExtendedColorType, ImageEncoder as _};
use serde::{Deserialize, Serialize};
use std::env;
use std::io::{Read as _, Write as _, stdin, stdout};
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};
use twinstrake::disk;
use twinstrake::photographs::{Doubt, Ill, Shown, Stretch, Unopened, codes, measure, open};
use twinstrake::units::Colour;

/// How long a photograph may take. A dozen megapixels take about a second.
const LONGEST: Duration = Duration::from_secs(20);
/// The largest file that is read. Unit: bytes.
const LARGEST: u64 = 100_000_000;
/// How well the pictures that are kept are kept.
const QUALITY: u8 = 92;

/// What is asked of the process.
#[derive(Serialize, Deserialize)]
pub(super) struct ToMeasure {
    pub(super) path: PathBuf,
    pub(super) shown: Shown,
}

/// A stretch of a slice as the process tells it.
#[derive(Serialize, Deserialize)]
pub(super) struct MeasuredStretch {
    pub(super) from: f64,
    pub(super) to: f64,
    colour: [f64; 3],
    pub(super) spread: f64,
    pub(super) clear: f64,
    pub(super) doubt: Option<Doubt>,
    /// Colours place by place: the place and L, a, b.
    places: Vec<[f64; 4]>,
    /// Bytes of its picture, which follow behind the answer.
    bytes: usize,
    #[serde(skip)]
    pub(super) jpeg: Vec<u8>,
}

impl MeasuredStretch {
    pub(super) fn colour(&self) -> Colour {
        let [l, a, b] = self.colour;
        Colour::lab(l, a, b)
    }

    pub(super) fn places(&self) -> impl Iterator<Item = (f64, Colour)> {
        self.places
            .iter()
            .map(|[place, l, a, b]| (*place, Colour::lab(*l, *a, *b)))
    }
}

/// Why nothing was measured.
#[derive(Serialize, Deserialize)]
pub(in crate::cli) enum Why {
    /// It can't be read from the disk.
    Unread(String),
    /// The file is too large.
    TooLarge,
    /// It is no photograph that can be read.
    Unopened(Unopened),
    /// What it shows can't be measured.
    Ill(Ill),
    /// It took too long.
    Late,
    /// The process came to an end without an answer.
    Broken,
}

/// What the process answers: the slices from the top.
#[derive(Serialize, Deserialize)]
enum Answer {
    Measured(Vec<Vec<MeasuredStretch>>),
    Not(Why),
}

/// Has a photograph measured.
///
/// Errors: why it could not be.
pub(super) fn measured(asked: &ToMeasure) -> Result<Vec<Vec<MeasuredStretch>>, Why> {
    let mut process = env::current_exe()
        .and_then(|program| {
            Command::new(program)
                .arg("measure-one")
                .stdin(Stdio::piped())
                .stdout(Stdio::piped())
                .stderr(Stdio::null())
                .spawn()
        })
        .map_err(|error| Why::Unread(error.to_string()))?;
    let answer = answered(&mut process, asked, LONGEST);
    // Whatever came of it, nothing of it goes on.
    let _ = process.kill();
    let _ = process.wait();
    answer
}

fn answered(
    process: &mut Child,
    asked: &ToMeasure,
    longest: Duration,
) -> Result<Vec<Vec<MeasuredStretch>>, Why> {
    let (Some(mut to), Some(mut from)) = (process.stdin.take(), process.stdout.take()) else {
        return Err(Why::Broken);
    };
    let words = serde_json::to_vec(asked).map_err(|_| Why::Broken)?;
    to.write_all(&words).map_err(|_| Why::Broken)?;
    drop(to);
    let began = Instant::now();
    let reader = thread::spawn(move || {
        let mut bytes = Vec::new();
        from.read_to_end(&mut bytes).map(|_| bytes)
    });
    while !reader.is_finished() {
        if began.elapsed() > longest {
            // The reader ends with the process.
            let _ = process.kill();
            return Err(Why::Late);
        }
        thread::sleep(Duration::from_millis(10));
    }
    let bytes = reader
        .join()
        .map_err(|_| Why::Broken)?
        .map_err(|_| Why::Broken)?;
    understood(&bytes)
}

fn understood(bytes: &[u8]) -> Result<Vec<Vec<MeasuredStretch>>, Why> {
    let end = bytes
        .iter()
        .position(|byte| *byte == b'\n')
        .ok_or(Why::Broken)?;
    let (words, mut pictures) = (&bytes[..end], &bytes[end + 1..]);
    match serde_json::from_slice(words).map_err(|_| Why::Broken)? {
        Answer::Not(why) => Err(why),
        Answer::Measured(mut slices) => {
            for told in slices.iter_mut().flatten() {
                let (jpeg, rest) = pictures.split_at_checked(told.bytes).ok_or(Why::Broken)?;
                told.jpeg = jpeg.to_vec();
                pictures = rest;
            }
            Ok(slices)
        }
    }
}

/// The process: reads what is asked, measures, answers.
pub(in crate::cli) fn run() -> Status {
    let mut words = Vec::new();
    let read = stdin().take(1_000_000).read_to_end(&mut words);
    let (Ok(_), Ok(asked)) = (read, serde_json::from_slice::<ToMeasure>(&words)) else {
        return Status::BadInput;
    };
    let answer = match one(&asked) {
        Ok(slices) => Answer::Measured(slices),
        Err(why) => Answer::Not(why),
    };
    let Ok(mut bytes) = serde_json::to_vec(&answer) else {
        return Status::Fault;
    };
    bytes.push(b'\n');
    if let Answer::Measured(slices) = &answer {
        bytes.extend(slices.iter().flatten().flat_map(|told| &told.jpeg));
    }
    Status::good_if(stdout().write_all(&bytes).is_ok())
}

fn one(asked: &ToMeasure) -> Result<Vec<Vec<MeasuredStretch>>, Why> {
    let unread = |error: std::io::Error| Why::Unread(error.to_string());
    if std::fs::metadata(&asked.path).map_err(unread)?.len() > LARGEST {
        return Err(Why::TooLarge);
    }
    let bytes = disk::read(&asked.path).map_err(unread)?;
    let picture = open(&bytes).map_err(Why::Unopened)?;
    drop(bytes);
    let read = codes(picture.luma(), picture.wide, picture.high);
    let measured = measure(&picture, &read, &asked.shown).map_err(Why::Ill)?;
    let told = |stretch: &Stretch| -> Option<MeasuredStretch> {
        let jpeg = jpeg(stretch)?;
        Some(MeasuredStretch {
            from: stretch.from,
            to: stretch.to,
            colour: [stretch.colour.l, stretch.colour.a, stretch.colour.b],
            spread: stretch.spread,
            clear: stretch.clear,
            doubt: stretch.doubt,
            places: stretch
                .places
                .iter()
                .map(|(place, c)| [*place, c.l, c.a, c.b])
                .collect(),
            bytes: jpeg.len(),
            jpeg,
        })
    };
    let slices = measured
        .slices
        .iter()
        .map(|slice| slice.iter().map(told).collect());
    slices.collect::<Option<_>>().ok_or(Why::Broken)
}

fn jpeg(stretch: &Stretch) -> Option<Vec<u8>> {
    let picture = &stretch.picture;
    let (wide, high) = (
        u32::try_from(picture.wide).ok()?,
        u32::try_from(picture.high).ok()?,
    );
    let mut bytes = Vec::new();
    let encoder = JpegEncoder::new_with_quality(&mut bytes, QUALITY);
    encoder
        .write_image(&picture.rgb, wide, high, ExtendedColorType::Rgb8)
        .ok()?;
    Some(bytes)
}

#[cfg(all(test, unix))]
mod tests {
    use super::*;

    fn asked() -> ToMeasure {
        let shown = Shown {
            lengths: vec![None],
            width: 19.0,
            at: 0.0,
            turned: false,
            grey_card: None,
        };
        ToMeasure {
            path: PathBuf::new(),
            shown,
        }
    }

    /// A process in the place of the one that measures.
    fn process(program: &str, argument: &str) -> Child {
        Command::new(program)
            .arg(argument)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap_or_else(|error| panic!("{program}: {error}"))
    }

    #[test]
    fn a_photograph_that_holds_its_process_up_is_given_up_and_the_process_ended() {
        let mut asleep = process("sleep", "600");
        let answer = answered(&mut asleep, &asked(), Duration::from_millis(30));
        assert!(matches!(answer, Err(Why::Late)));
        // Were it not ended, this would wait for ten minutes.
        assert!(asleep.wait().is_ok_and(|ended| !ended.success()));
    }

    #[test]
    fn a_process_that_breaks_off_or_talks_nonsense_is_no_answer() {
        for text in ["", "nonsense", "nonsense\n", "{\"Measured\":[[]]\n"] {
            let mut ended = process("printf", text);
            let answer = answered(&mut ended, &asked(), LONGEST);
            assert!(matches!(answer, Err(Why::Broken)), "{text}");
            let _ = ended.wait();
        }
    }
}
