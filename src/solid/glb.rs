//! The hull as glTF 2.0 in one binary file: a mesh a piece, a picture a strip.
//!
//! Source of the layout: The Khronos Group, "glTF 2.0 Specification", sections 3 (concepts) and 4 (GLB). Lengths in
//! metres, y up, as it asks: our x stays, our z becomes y, our y becomes -z.

use super::body::Body;
use super::ribbon::Ribbon;
use crate::draw::{self, Misprint};
use crate::job::Job;
use crate::plan::{Face, Piece, Plan};
use crate::stock::StripId;
use serde_json::{Value, json};
use std::collections::BTreeMap;

const FLOAT: u32 = 5126;
const UNSIGNED_INT: u32 = 5125;
const VERTICES: u32 = 34962;
const INDICES: u32 = 34963;
const JSON_CHUNK: u32 = 0x4e4f_534a;
const BINARY_CHUNK: u32 = 0x004e_4942;

/// The faces of strips that were photographed, as JPEG: marked end to the left, edge A above.
pub type Faces = BTreeMap<(StripId, Face), Vec<u8>>;

/// The hull as bytes. The same job, plan and faces give the same. Faces that are not given are drawn.
///
/// Errors: a picture of a strip could not be made, which is a bug.
pub fn write(
    job: &Job,
    plan: &Plan,
    ribbons: &[Ribbon],
    faces: &Faces,
) -> Result<Vec<u8>, Misprint> {
    let mut file = File::default();
    let mut materials: BTreeMap<(StripId, Face), usize> = BTreeMap::new();
    let (mut nodes, mut meshes) = (Vec::new(), Vec::new());
    let mut sides: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for ribbon in ribbons {
        let piece = &plan.pieces[ribbon.piece];
        let next = materials.len();
        let material = *materials
            .entry((piece.strip, piece.face_out))
            .or_insert(next);
        let body = Body::of(ribbon, job.rules.thickness.mm());
        let strip = job.stock.strip(piece.strip);
        let mesh = file.mesh(&body, strip.length.mm(), material);
        let name = name(job, piece);
        sides
            .entry(piece.side.name())
            .or_default()
            .push(nodes.len());
        nodes.push(json!({
            "name": name,
            "mesh": meshes.len(),
            "extras": {
                "order": ribbon.piece + 1,
                "panel": job.hull.panel_of(piece.course).name,
                "course": job.hull.course(piece.course).name().to_string(),
                "side": piece.side.name(),
                "piece": piece.number,
                "strip": strip.name,
                "stage": job.stage(piece).name(),
                "says": draw::says(job, ribbon.piece + 1, piece),
                "clear": kept_clear(job, piece),
            },
        }));
        meshes.push(json!({ "name": name, "primitives": [mesh] }));
    }
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
    let groups: Vec<Value> = sides
        .iter()
        .map(|(side, children)| json!({ "name": side, "children": children }))
        .collect();
    let roots: Vec<usize> = (nodes.len()..nodes.len() + groups.len()).collect();
    nodes.extend(groups);
    let textures: Vec<Value> = (0..images.len())
        .map(|number| json!({ "source": number, "sampler": 0 }))
        .collect();
    let mut head = json!({
        "asset": { "version": "2.0", "generator": concat!("twinstrake ", env!("CARGO_PKG_VERSION")) },
        "scene": 0,
        "scenes": [{ "name": job.name, "nodes": roots }],
    });
    // An empty list is not allowed: without a piece there is nothing but the scene.
    if !meshes.is_empty() {
        head["nodes"] = nodes.into();
        head["meshes"] = meshes.into();
        head["materials"] = looks.into();
        head["textures"] = textures.into();
        head["samplers"] =
            json!([{ "wrapS": 33071, "wrapT": 33071, "minFilter": 9987, "magFilter": 9729 }]);
        head["images"] = images.into();
        head["accessors"] = file.accessors.into();
        head["bufferViews"] = file.views.into();
        head["buffers"] = json!([{ "byteLength": file.bytes.len() }]);
    } else if let Some(scene) = head["scenes"][0].as_object_mut() {
        scene.remove("nodes");
    }
    Ok(packed(&head, file.bytes))
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
    let course = job.hull.course(piece.course).name();
    let panel = &job.hull.panel_of(piece.course).name;
    format!("{} {panel} {course}.{}", piece.side.name(), piece.number)
}

/// The binary part, and what stands where in it.
#[derive(Default)]
struct File {
    bytes: Vec<u8>,
    views: Vec<Value>,
    accessors: Vec<Value>,
}

impl File {
    fn view(&mut self, bytes: &[u8], target: Option<u32>) -> usize {
        let mut view =
            json!({ "buffer": 0, "byteOffset": self.bytes.len(), "byteLength": bytes.len() });
        if let Some(target) = target {
            view["target"] = target.into();
        }
        self.bytes.extend_from_slice(bytes);
        // The next one begins on a whole number.
        self.bytes.resize(self.bytes.len().next_multiple_of(4), 0);
        self.views.push(view);
        self.views.len() - 1
    }

    fn floats<const N: usize>(&mut self, all: &[[f32; N]], bounds: bool) -> usize {
        let bytes: Vec<u8> = all
            .iter()
            .flatten()
            .flat_map(|part| part.to_le_bytes())
            .collect();
        let view = self.view(&bytes, Some(VERTICES));
        let kind = if N == 2 { "VEC2" } else { "VEC3" };
        let mut accessor =
            json!({ "bufferView": view, "componentType": FLOAT, "count": all.len(), "type": kind });
        if bounds {
            let of = |fold: fn(f32, f32) -> f32, from: f32| -> Vec<f32> {
                let part = |k: usize| all.iter().map(|point| point[k]).fold(from, fold);
                (0..N).map(part).collect()
            };
            accessor["min"] = json!(of(f32::min, f32::INFINITY));
            accessor["max"] = json!(of(f32::max, f32::NEG_INFINITY));
        }
        self.accessors.push(accessor);
        self.accessors.len() - 1
    }

    fn mesh(&mut self, body: &Body, strip: f64, material: usize) -> Value {
        let upright = |[x, y, z]: [f64; 3]| [x as f32, z as f32, -y as f32];
        let vertices = &body.vertices;
        let at: Vec<[f32; 3]> = vertices
            .iter()
            .map(|v| upright(v.at.map(|part| part / 1000.0)))
            .collect();
        let normals: Vec<[f32; 3]> = vertices.iter().map(|v| upright(v.normal)).collect();
        let on_strip: Vec<[f32; 2]> = vertices
            .iter()
            .map(|v| [(v.on_strip.0 / strip) as f32, v.on_strip.1 as f32])
            .collect();
        let at = self.floats(&at, true);
        let normals = self.floats(&normals, false);
        let on_strip = self.floats(&on_strip, false);
        let corners = body.triangles.iter().flatten();
        let bytes: Vec<u8> = corners.flat_map(|corner| corner.to_le_bytes()).collect();
        let view = self.view(&bytes, Some(INDICES));
        self.accessors.push(json!({
            "bufferView": view,
            "componentType": UNSIGNED_INT,
            "count": 3 * body.triangles.len(),
            "type": "SCALAR",
        }));
        json!({
            "attributes": { "POSITION": at, "NORMAL": normals, "TEXCOORD_0": on_strip },
            "indices": self.accessors.len() - 1,
            "material": material,
        })
    }
}

/// Head and binary part, which ends on a whole number, in one file.
fn packed(head: &Value, bytes: Vec<u8>) -> Vec<u8> {
    let mut json = head.to_string().into_bytes();
    json.resize(json.len().next_multiple_of(4), b' ');
    let mut chunks = vec![(JSON_CHUNK, json)];
    if !bytes.is_empty() {
        chunks.push((BINARY_CHUNK, bytes));
    }
    let long = 12
        + chunks
            .iter()
            .map(|(_, bytes)| 8 + bytes.len())
            .sum::<usize>();
    let mut file = Vec::with_capacity(long);
    file.extend_from_slice(b"glTF");
    file.extend_from_slice(&2_u32.to_le_bytes());
    file.extend_from_slice(&(long as u32).to_le_bytes());
    for (kind, bytes) in chunks {
        file.extend_from_slice(&(bytes.len() as u32).to_le_bytes());
        file.extend_from_slice(&kind.to_le_bytes());
        file.extend_from_slice(&bytes);
    }
    file
}
