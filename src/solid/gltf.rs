//! A file of glTF 2.0: its head in JSON, and the numbers and pictures that it points to.
//!
//! Source of the layout: The Khronos Group, "glTF 2.0 Specification", sections 3 (concepts) and 4 (GLB). Lengths in
//! metres, y up, as it asks: our x stays, our z becomes y, our y becomes -z.

use super::body::Body;
use crate::lines::Point;
use serde_json::{Value, json};
use sha2::{Digest as _, Sha256};
use std::collections::{BTreeMap, HashMap};

const FLOAT: u32 = 5126;
const UNSIGNED_INT: u32 = 5125;
const VERTICES: u32 = 34962;
const INDICES: u32 = 34963;
const LINE_STRIP: u32 = 3;
const JSON_CHUNK: u32 = 0x4e4f_534a;
const BINARY_CHUNK: u32 = 0x004e_4942;

/// The binary part, and what stands where in it.
#[derive(Default)]
pub(super) struct File {
    bytes: Vec<u8>,
    views: Vec<Value>,
    accessors: Vec<Value>,
    /// What was written already, by what it is and the SHA-256 of its bytes: plans that are compared share most of
    /// their numbers.
    known: HashMap<(&'static str, [u8; 32]), usize>,
    nodes: Vec<Value>,
    meshes: Vec<Value>,
}

fn upright([x, y, z]: Point) -> [f32; 3] {
    [x as f32, z as f32, -y as f32]
}

fn in_metres(at: Point) -> [f32; 3] {
    upright(at.map(|part| part / 1000.0))
}

impl File {
    /// Bytes as they are, from a whole number on.
    pub(super) fn view(&mut self, bytes: &[u8], target: Option<u32>) -> usize {
        let mut view =
            json!({ "buffer": 0, "byteOffset": self.bytes.len(), "byteLength": bytes.len() });
        if let Some(target) = target {
            view["target"] = target.into();
        }
        self.bytes.extend_from_slice(bytes);
        self.bytes.resize(self.bytes.len().next_multiple_of(4), 0);
        self.views.push(view);
        self.views.len() - 1
    }

    /// Numbers that may be there already.
    fn numbers(&mut self, what: &'static str, bytes: Vec<u8>, mut accessor: Value) -> usize {
        let key = (what, Sha256::digest(&bytes).into());
        if let Some(known) = self.known.get(&key) {
            return *known;
        }
        let target = if what == "corners" { INDICES } else { VERTICES };
        accessor["bufferView"] = self.view(&bytes, Some(target)).into();
        self.accessors.push(accessor);
        let number = self.accessors.len() - 1;
        self.known.insert(key, number);
        number
    }

    fn floats<const N: usize>(&mut self, what: &'static str, all: &[[f32; N]]) -> usize {
        let parts = all.iter().flatten();
        let bytes = parts.flat_map(|part| part.to_le_bytes()).collect();
        let kind = if N == 2 { "VEC2" } else { "VEC3" };
        let mut accessor = json!({ "componentType": FLOAT, "count": all.len(), "type": kind });
        if what == "places" {
            let of = |fold: fn(f32, f32) -> f32, from: f32| -> Vec<f32> {
                let part = |k: usize| all.iter().map(|point| point[k]).fold(from, fold);
                (0..N).map(part).collect()
            };
            accessor["min"] = json!(of(f32::min, f32::INFINITY));
            accessor["max"] = json!(of(f32::max, f32::NEG_INFINITY));
        }
        self.numbers(what, bytes, accessor)
    }

    /// A body as triangles; with the length of its strip, where a picture of that is wrapped round it.
    pub(super) fn mesh(&mut self, body: &Body, strip: Option<f64>, material: usize) -> Value {
        let vertices = &body.vertices;
        let at: Vec<[f32; 3]> = vertices.iter().map(|v| in_metres(v.at)).collect();
        let normals: Vec<[f32; 3]> = vertices.iter().map(|v| upright(v.normal)).collect();
        let (at, normals) = (self.floats("places", &at), self.floats("normals", &normals));
        let mut attributes = json!({ "POSITION": at, "NORMAL": normals });
        if let Some(strip) = strip {
            let on_strip: Vec<[f32; 2]> = vertices
                .iter()
                .map(|v| [(v.on_strip.0 / strip) as f32, v.on_strip.1 as f32])
                .collect();
            attributes["TEXCOORD_0"] = self.floats("on strip", &on_strip).into();
        }
        let corners = body.triangles.iter().flatten();
        let bytes = corners.flat_map(|corner| corner.to_le_bytes()).collect();
        let count = 3 * body.triangles.len();
        let accessor = json!({ "componentType": UNSIGNED_INT, "count": count, "type": "SCALAR" });
        let indices = self.numbers("corners", bytes, accessor);
        json!({ "attributes": attributes, "indices": indices, "material": material })
    }

    /// A line from point to point. Unit: millimetre.
    pub(super) fn line(&mut self, points: &[Point], material: usize) -> Value {
        let at: Vec<[f32; 3]> = points.iter().map(|point| in_metres(*point)).collect();
        let at = self.floats("places", &at);
        json!({ "attributes": { "POSITION": at }, "material": material, "mode": LINE_STRIP })
    }

    /// A thing with a name and what is told of it.
    pub(super) fn node(&mut self, name: &str, primitives: Vec<Value>, extras: Value) -> usize {
        self.nodes
            .push(json!({ "name": name, "mesh": self.meshes.len(), "extras": extras }));
        self.meshes
            .push(json!({ "name": name, "primitives": primitives }));
        self.nodes.len() - 1
    }

    /// A scene of things in groups.
    pub(super) fn scene(&mut self, name: &str, groups: &BTreeMap<&str, Vec<usize>>) -> Value {
        let first = self.nodes.len();
        for (name, children) in groups {
            self.nodes
                .push(json!({ "name": name, "children": children }));
        }
        let roots: Vec<usize> = (first..self.nodes.len()).collect();
        // An empty list is not allowed.
        match roots.is_empty() {
            true => json!({ "name": name }),
            false => json!({ "name": name, "nodes": roots }),
        }
    }

    /// The whole file. `head` has what is not known here: scenes, materials and pictures.
    pub(super) fn written(self, mut head: Value) -> Vec<u8> {
        head["asset"] = json!({
            "version": "2.0",
            "generator": concat!("twinstrake ", env!("CARGO_PKG_VERSION")),
        });
        if !self.meshes.is_empty() {
            head["nodes"] = self.nodes.into();
            head["meshes"] = self.meshes.into();
            head["accessors"] = self.accessors.into();
            head["bufferViews"] = self.views.into();
            head["buffers"] = json!([{ "byteLength": self.bytes.len() }]);
        }
        packed(&head, self.bytes)
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
