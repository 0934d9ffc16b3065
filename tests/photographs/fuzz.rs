//! Whatever is in a file, it is a picture or it is told why not; whatever a picture shows, it is measured or it is
//! told why not.

use super::camera::Camera;
use super::desk::Desk;
use proptest::prelude::*;
use rand::SeedableRng as _;
use rand_pcg::Pcg64Mcg;
use std::sync::OnceLock;
use twinstrake::photographs::{Code, Picture, codes, measure, open};

/// A small photograph, as JPEG and as PNG.
fn files() -> &'static [Vec<u8>; 2] {
    static FILES: OnceLock<[Vec<u8>; 2]> = OnceLock::new();
    FILES.get_or_init(|| {
        let mut rng = Pcg64Mcg::seed_from_u64(1);
        let desk = Desk::any(&mut rng);
        let camera = Camera {
            wide: 96,
            high: 60,
            per_mm: 0.3,
            ..Camera::good()
        };
        let jpeg = camera.jpeg(&desk, &mut rng);
        let image = image::load_from_memory(&jpeg).unwrap();
        let mut png = std::io::Cursor::new(Vec::new());
        image.write_to(&mut png, image::ImageFormat::Png).unwrap();
        [jpeg, png.into_inner()]
    })
}

fn cases() -> u32 {
    let asked = std::env::var("TWINSTRAKE_FUZZ").ok();
    asked.and_then(|count| count.parse().ok()).unwrap_or(100)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(), ..ProptestConfig::default() })]

    #[test]
    fn a_spoiled_file_is_a_picture_or_told_why_not(
        which in 0_usize..2,
        changes in proptest::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 0..8),
        cut in proptest::option::of(any::<prop::sample::Index>()),
    ) {
        let mut bytes = files()[which].clone();
        for (at, value) in changes {
            let at = at.index(bytes.len());
            bytes[at] = value;
        }
        if let Some(cut) = cut {
            bytes.truncate(cut.index(bytes.len()));
        }
        if let Ok(picture) = open(&bytes) {
            prop_assert_eq!(picture.rgb.len(), 3 * picture.wide * picture.high);
            // What is small enough is looked at as well.
            if picture.rgb.len() < 1_000_000 {
                codes(picture.luma(), picture.wide, picture.high);
            }
        }
    }

    #[test]
    fn bytes_are_a_picture_or_told_why_not(
        start in prop::sample::select(vec![
            &b""[..], b"\xff\xd8\xff\xe0", b"\x89PNG\r\n\x1a\n", b"\0\0\0\x18ftyp", b"II*\0",
        ]),
        rest in proptest::collection::vec(any::<u8>(), 0..300),
    ) {
        let _ = open(&[start, rest.as_slice()].concat());
    }

    /// Codes anywhere, also where no card can be: what a picture made for it could bring the reader to say.
    #[test]
    fn codes_at_any_place_are_measured_or_told_why_not(
        corners in proptest::collection::vec((-50.0..400.0, -50.0..250.0), 8),
        many in 0_usize..4,
        seed in any::<u64>(),
    ) {
        let mut rng = Pcg64Mcg::seed_from_u64(seed % 8);
        let desk = Desk::any(&mut rng);
        let (wide, high) = (320, 180);
        let rgb: Vec<u8> = (0..3 * wide * high).map(|n| ((n * 7919 + seed as usize) >> 3) as u8).collect();
        let picture = Picture { wide, high, rgb };
        let words = ["TWINSTRAKE CARD L 45 193", "TWINSTRAKE CARD R 45 193", "D3", "TWINSTRAKE CARD L 45 193"];
        let code = |n: usize| Code {
            words: words[n].into(),
            corners: std::array::from_fn(|corner| corners[(4 * n + corner) % 8]),
        };
        let read: Vec<Code> = (0..many).map(code).collect();
        let _ = measure(&picture, &read, &desk.shown());
    }
}
