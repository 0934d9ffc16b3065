//! A scene as a picture in pixels.

use super::misprint::Misprint;
use super::pdf::tree;
use super::scene::Scene;
use super::svg::Ground;
use resvg::tiny_skia::{Pixmap, Transform};

const FORMAT: &str = "PNG";

/// The most pixels of a picture: a quarter of a gigabyte while it is drawn.
const MOST: f64 = 64e6;

/// How many pixels across the scene may be at the most, as tall as it is.
pub fn widest(scene: &Scene) -> u32 {
    (MOST * scene.width / scene.height).sqrt() as u32
}

/// The scene on its paper as a PNG of so many pixels across; the height follows. The same scene gives the same bytes.
///
/// Errors: a library refused, or there are no pixels; a bug.
pub fn write(scene: &Scene, wide: u32) -> Result<Vec<u8>, Misprint> {
    let tree = tree(scene, Ground::Paper, FORMAT)?;
    let size = tree.size();
    let scale = wide as f32 / size.width();
    let high = (size.height() * scale).round() as u32;
    let mut pixels = Pixmap::new(wide, high)
        .ok_or_else(|| Misprint::new(FORMAT, format!("a picture of {wide} x {high} pixels")))?;
    resvg::render(
        &tree,
        Transform::from_scale(scale, scale),
        &mut pixels.as_mut(),
    );
    pixels
        .encode_png()
        .map_err(|error| Misprint::new(FORMAT, error))
}
