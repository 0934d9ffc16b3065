//! The hull as glTF 2.0 in one binary file: a mesh a piece, a picture a strip, a scene a plan.

use super::body::Body;
use super::gltf::File;
use super::ribbon::Ribbon;
use crate::draw::{self, Misprint};
use crate::job::Job;
use crate::plan::{Face, Piece, Plan};
use crate::stock::StripId;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// The faces of strips that were photographed, as JPEG: marked end to the left, edge A above.
pub type Faces = BTreeMap<(StripId, Face), Vec<u8>>;

/// A plan on the hull.
#[derive(Clone, PartialEq, Debug)]
pub struct Planked<'p> {
    /// What it is called beside others.
    pub name: String,
    /// The plan.
    pub plan: &'p Plan,
    /// Its pieces on the skin.
    pub ribbons: Vec<Ribbon>,
}

/// The hull as bytes, with the first plan on it; each further one is a scene of its own, to be compared. The same job,
/// plans and faces give the same. Faces that are not given are drawn.
///
/// Errors: a picture of a strip could not be made, which is a bug.
pub fn write(job: &Job, plans: &[Planked<'_>], faces: &Faces) -> Result<Vec<u8>, Misprint> {
    let mut file = File::default();
    let mut materials: BTreeMap<(StripId, Face), usize> = BTreeMap::new();
    let scenes: Vec<Value> = plans
        .iter()
        .map(|planked| scene(job, planked, &mut file, &mut materials))
        .collect();
    let mut by_number: Vec<(usize, (StripId, Face))> = materials
        .iter()
        .map(|(face, number)| (*number, *face))
        .collect();
    by_number.sort_unstable();
    let mut images = Vec::new();
    let mut looks = Vec::new();
    for (number, face) in by_number {
        let strip = job.stock.strip(face.0);
        let name = format!("{} {}", strip.name, face.1.name());
        let (picture, kind) = match faces.get(&face) {
            Some(jpeg) => (jpeg.clone(), "image/jpeg"),
            None => (draw::strip(&job.stock, strip)?, "image/png"),
        };
        let view = file.view(&picture, None);
        images.push(json!({ "name": name, "mimeType": kind, "bufferView": view }));
        looks.push(json!({
            "name": name,
            "pbrMetallicRoughness": {
                "baseColorTexture": { "index": number },
                "metallicFactor": 0.0,
                "roughnessFactor": 0.45,
            },
        }));
    }
    let mut head = json!({ "scene": 0, "scenes": scenes });
    // An empty list is not allowed: without a piece there is nothing but the scene.
    if !images.is_empty() {
        let textures = (0..images.len()).map(|number| json!({ "source": number, "sampler": 0 }));
        head["materials"] = looks.into();
        head["textures"] = textures.collect();
        head["samplers"] =
            json!([{ "wrapS": 33071, "wrapT": 33071, "minFilter": 9987, "magFilter": 9729 }]);
        head["images"] = images.into();
    }
    Ok(file.written(head))
}

/// A plan as a scene: its pieces in groups for port, starboard and the centreline.
fn scene(
    job: &Job,
    planked: &Planked<'_>,
    file: &mut File,
    materials: &mut BTreeMap<(StripId, Face), usize>,
) -> Value {
    let mut sides: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for ribbon in &planked.ribbons {
        let piece = &planked.plan.pieces[ribbon.piece];
        let next = materials.len();
        let material = *materials
            .entry((piece.strip, piece.face_out))
            .or_insert(next);
        let body = Body::of(ribbon, job.rules.thickness.mm());
        let strip = job.stock.strip(piece.strip);
        let mesh = file.mesh(&body, Some(strip.length.mm()), material);
        let extras = json!({
            "order": ribbon.piece + 1,
            "panel": job.hull.panel_of(piece.course).name,
            "course": job.hull.course(piece.course).name().to_string(),
            "side": piece.side.name(),
            "piece": piece.number,
            "strip": strip.name,
            "stage": job.stage(piece).name(),
            "says": draw::says(job, ribbon.piece + 1, piece),
            "clear": kept_clear(job, piece),
        });
        let node = file.node(&name(job, piece), vec![mesh], extras);
        sides.entry(piece.side.name()).or_default().push(node);
    }
    file.scene(&planked.name, &sides)
}

/// Where the zones kept clear of joints lie over the course of a piece: from and to along the boat, in metres.
fn kept_clear(job: &Job, piece: &Piece) -> Vec<[f64; 2]> {
    let course = job.hull.course(piece.course);
    let zones = job.hull.keep_clear.iter();
    zones
        .filter(|zone| zone.covers(course))
        .map(|zone| [zone.from.mm() / 1000.0, zone.to.mm() / 1000.0])
        .collect()
}

/// What a piece is called: its side, its panel, its course and its number.
fn name(job: &Job, piece: &Piece) -> String {
    let course = job.hull.full_name(piece.course);
    format!("{} {course}.{}", piece.side.name(), piece.number)
}
