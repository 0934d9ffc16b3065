//! Photographs that nothing is measured in, each for a reason of its own.

use super::camera::Camera;
use super::desk::Desk;
use super::measured;
use image::codecs::png::PngEncoder;
use image::{ExtendedColorType, ImageEncoder as _};
use rand::SeedableRng;
use rand_pcg::Pcg64Mcg;
use twinstrake::job::Page;
use twinstrake::photographs::card::Side;
use twinstrake::photographs::{Cut, Ill, Picture, Unopened, open};
use twinstrake::{draw, paper};

fn photograph(change: impl FnOnce(&mut Desk, &mut Camera)) -> (Picture, Desk) {
    let mut rng = Pcg64Mcg::seed_from_u64(4);
    let mut desk = Desk::any(&mut rng);
    let mut camera = Camera::good();
    change(&mut desk, &mut camera);
    (camera.picture(&desk, &mut rng), desk)
}

fn why(change: impl FnOnce(&mut Desk, &mut Camera)) -> Ill {
    let (picture, desk) = photograph(change);
    measured(&picture, &desk.shown()).unwrap_err()
}

/// Each pixel the mean of those around it, 17 across, and that twice.
fn blurred(mut picture: Picture) -> Picture {
    let (wide, high) = (picture.wide as isize, picture.high as isize);
    for _ in 0..2 {
        for (dx, dy) in [(1, 0), (0, 1)] {
            let sharp = picture.rgb.clone();
            let at = |x: isize, y: isize| {
                3 * (y.clamp(0, high - 1) * wide + x.clamp(0, wide - 1)) as usize
            };
            for (x, y) in (0..high).flat_map(|y| (0..wide).map(move |x| (x, y))) {
                for n in 0..3 {
                    let all =
                        (-8..=8).map(|far| u32::from(sharp[at(x + far * dx, y + far * dy) + n]));
                    picture.rgb[at(x, y) + n] = (all.sum::<u32>() / 17) as u8;
                }
            }
        }
    }
    picture
}

#[test]
fn what_is_wrong_with_a_photograph_is_told_by_what_it_is() {
    let (picture, desk) = photograph(|_, _| {});
    let many = desk.slices.len();
    measured(&picture, &desk.shown()).unwrap();

    assert_eq!(why(|desk, _| desk.cards = 0), Ill::NoCard);
    assert_eq!(why(|desk, _| desk.cards = 2), Ill::TwoCards);
    let over_the_right =
        |desk: &mut Desk, _: &mut Camera| desk.covered.push([200.0, 5.0, 40.0, 50.0]);
    assert_eq!(why(over_the_right), Ill::OneCode(Side::Left));
    assert_eq!(
        why(|_, camera| camera.middle.0 = 0.95),
        Ill::CardCutOff(Side::Left)
    );
    assert_eq!(why(|_, camera| camera.turned = 3.1), Ill::UpsideDown);
    assert_eq!(why(|_, camera| camera.white = 0.1), Ill::Dark);
    assert_eq!(
        why(|_, camera| (camera.white, camera.most) = (1.1, 2.0)),
        Ill::Bright
    );
    assert_eq!(
        measured(&blurred(picture), &desk.shown()).unwrap_err(),
        Ill::Blurred
    );
    let one_gone = |desk: &mut Desk, _: &mut Camera| drop(desk.slices.pop());
    let (picture, mut less) = photograph(one_gone);
    let whole = photograph(|_, _| {}).1;
    assert_eq!(
        measured(&picture, &whole.shown()).unwrap_err(),
        Ill::Slices {
            named: many,
            seen: many - 1
        }
    );
    less.slices.pop();
    assert_eq!(
        measured(&picture, &less.shown()).unwrap_err(),
        Ill::Slices {
            named: many - 2,
            seen: many - 1
        }
    );
    let over_the_top = |desk: &mut Desk, camera: &mut Camera| {
        desk.across = (many as f64 - 0.5) * desk.width;
        camera.middle.1 = 0.11;
    };
    assert_eq!(why(over_the_top), Ill::SlicesCutOff(Cut::Top));
}

/// The page itself, as large as it can be: found, and too white.
#[test]
fn a_card_is_found_from_very_near() {
    let page = draw::png(&paper::card(Page::A4), 4000).unwrap();
    let (picture, desk) = (open(&page).unwrap(), photograph(|_, _| {}).1);
    assert_eq!(measured(&picture, &desk.shown()).unwrap_err(), Ill::Bright);
}

#[test]
fn a_picture_that_is_upside_down_on_purpose_is_measured() {
    let (picture, desk) = photograph(|_, camera| camera.turned = 3.1);
    let read = twinstrake::photographs::codes(picture.luma(), picture.wide, picture.high);
    let shown = twinstrake::photographs::Shown {
        turned: true,
        ..desk.shown()
    };
    twinstrake::photographs::measure(&picture, &read, &shown).unwrap();
}

#[test]
fn files_that_are_no_photograph_are_told_apart() {
    let (picture, _) = photograph(|_, camera| (camera.wide, camera.high) = (64, 40));
    let (wide, high) = (picture.wide as u32, picture.high as u32);
    let mut jpeg = Vec::new();
    let encoder = image::codecs::jpeg::JpegEncoder::new(&mut jpeg);
    encoder
        .write_image(&picture.rgb, wide, high, ExtendedColorType::Rgb8)
        .unwrap();
    let mut png = Vec::new();
    PngEncoder::new(&mut png)
        .write_image(&picture.rgb, wide, high, ExtendedColorType::Rgb8)
        .unwrap();
    assert_eq!(open(&png), Ok(picture));
    assert!(open(&jpeg).is_ok());
    assert_eq!(open(&jpeg[..jpeg.len() / 2]), Err(Unopened::CutOff));
    assert_eq!(open(&png[..png.len() / 2]), Err(Unopened::CutOff));
    assert_eq!(
        open(b"\0\0\0\x18ftypheic\0\0\0\0mif1heic"),
        Err(Unopened::Heic)
    );
    assert_eq!(open(b"II*\0\x10\0\0\0CR\x02\0"), Err(Unopened::Raw));
    assert_eq!(open(b"GIF89a"), Err(Unopened::OtherPicture));
    assert_eq!(open(b"photo,board\n"), Err(Unopened::NoPicture));
    assert_eq!(open(b""), Err(Unopened::NoPicture));

    // A bomb: a head of ten thousand by ten thousand pixels, and nothing behind it.
    let headed = |wide: u32, high: u32, bits: u8, colour: u8| {
        let mut png = png.clone();
        png[16..20].copy_from_slice(&wide.to_be_bytes());
        png[20..24].copy_from_slice(&high.to_be_bytes());
        (png[24], png[25]) = (bits, colour);
        let sum = crc(&png[12..29]).to_be_bytes();
        png[29..33].copy_from_slice(&sum);
        open(&png).unwrap_err()
    };
    assert_eq!(
        headed(10_000, 10_000, 8, 2),
        Unopened::TooLarge(10_000, 10_000)
    );
    // Large, but to be read in 300 MB; with transparency or 16 bits it is not.
    let (wide, high) = (9_000, 6_600);
    assert!(matches!(headed(wide, high, 8, 2), Unopened::Damaged(_)));
    assert_eq!(headed(wide, high, 8, 6), Unopened::TooMuch(wide, high));
    assert_eq!(headed(wide, high, 16, 2), Unopened::TooMuch(wide, high));
    // A progressive JPEG is held whole in two forms: its frame begins with C2 in place of C0.
    let frame = jpeg.windows(2).position(|two| two == [0xff, 0xc0]).unwrap();
    let mut headed = jpeg.clone();
    headed[frame + 5..frame + 7].copy_from_slice(&(high as u16).to_be_bytes());
    headed[frame + 7..frame + 9].copy_from_slice(&(wide as u16).to_be_bytes());
    headed[frame + 1] = 0xc2;
    assert_eq!(open(&headed), Err(Unopened::TooMuch(wide, high)));
}

/// Source: ISO/IEC 15948 (PNG), annex D.
fn crc(bytes: &[u8]) -> u32 {
    let step = |crc: u32, _| {
        if crc & 1 == 1 {
            0xedb8_8320 ^ (crc >> 1)
        } else {
            crc >> 1
        }
    };
    !bytes.iter().fold(u32::MAX, |crc, byte| {
        (0..8).fold(crc ^ u32::from(*byte), step)
    })
}
