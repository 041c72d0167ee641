//! Pieces as glTF 2.0 in its binary form: one file together, one taken apart.
//!
//! By the published specification (ISO/IEC 12113:2022): metres, y up, the front towards
//! +z; a header, a chunk of JSON and a chunk of numbers, low byte first.

use serde_json::{Value, json};

use super::file::File;
use super::writer::{Finished, Writer};
use crate::exchange::{Mesh, Model, Node, Surface};
use crate::geometry::DVec3;

/// Writes `.glb` and `-apart.glb`.
pub(super) struct Models;

impl Writer for Models {
    fn code(&self) -> &'static str {
        "gltf"
    }

    fn makes(&self) -> &'static str {
        "the piece in three dimensions"
    }

    fn files(&self, set: &Finished<'_>) -> Result<Vec<File>, String> {
        let named = |model: &Model| {
            let name = if model.apart { "-apart.glb" } else { ".glb" };
            Ok(File { name: name.into(), bytes: binary(model, &set.head.title)? })
        };
        set.exchange.models.iter().map(named).collect()
    }
}

/// Metres in a millimetre.
const METRES: f64 = 0.001;

/// What the specification calls the kinds of numbers and what views are for.
const FLOAT: u32 = 5126;
const WHOLE: u32 = 5125;
const OF_POINTS: u32 = 34962;
const OF_CORNERS: u32 = 34963;

/// How much of each colour a surface gives back, and how much it covers (common look of
/// such things, no source).
const WOOD: [f64; 4] = [0.62, 0.43, 0.26, 1.0];
const SHEET: [f64; 4] = [0.78, 0.65, 0.47, 1.0];
const GLASS: [f64; 4] = [0.75, 0.85, 0.85, 0.35];
const BOUGHT: [f64; 4] = [0.55, 0.56, 0.58, 1.0];

/// How rough surfaces are: wood is dull, glass is not.
const DULL: f64 = 0.8;
const BRIGHT: f64 = 0.1;

/// The numbers of a file and what lies where in them.
#[derive(Default)]
struct Numbers {
    bytes: Vec<u8>,
    views: Vec<Value>,
    accessors: Vec<Value>,
}

impl Numbers {
    /// A view on what is written from `from` on, for one use.
    fn view(&mut self, from: usize, target: u32) -> usize {
        let length = self.bytes.len() - from;
        self.views.push(json!({"buffer": 0, "byteOffset": from, "byteLength": length, "target": target}));
        self.views.len() - 1
    }

    /// Triples of floats; with `bounds` the least and greatest of them are told too, as the
    /// specification asks for places.
    fn triples(&mut self, all: &[[f32; 3]], bounds: bool) -> usize {
        let from = self.bytes.len();
        let (mut low, mut high) = ([f32::INFINITY; 3], [f32::NEG_INFINITY; 3]);
        for triple in all {
            for (axis, number) in triple.iter().enumerate() {
                self.bytes.extend(number.to_le_bytes());
                low[axis] = low[axis].min(*number);
                high[axis] = high[axis].max(*number);
            }
        }
        let view = self.view(from, OF_POINTS);
        let mut accessor =
            json!({"bufferView": view, "componentType": FLOAT, "count": all.len(), "type": "VEC3"});
        if bounds {
            accessor["min"] = json!(low);
            accessor["max"] = json!(high);
        }
        self.accessors.push(accessor);
        self.accessors.len() - 1
    }

    fn corners(&mut self, all: &[[u32; 3]]) -> usize {
        let from = self.bytes.len();
        self.bytes.extend(all.iter().flatten().flat_map(|corner| corner.to_le_bytes()));
        let view = self.view(from, OF_CORNERS);
        let count = 3 * all.len();
        self.accessors
            .push(json!({"bufferView": view, "componentType": WHOLE, "count": count, "type": "SCALAR"}));
        self.accessors.len() - 1
    }
}

/// A whole file.
fn binary(model: &Model, title: &str) -> Result<Vec<u8>, String> {
    let mut numbers = Numbers::default();
    let meshes: Vec<Value> = model.meshes.iter().map(|mesh| shape(mesh, &mut numbers)).collect();
    let (nodes, roots) = nodes(model);
    let document = json!({
        "asset": {"version": "2.0", "generator": "rodwright"},
        "scene": 0,
        "scenes": [{"name": title, "nodes": roots}],
        "nodes": nodes,
        "meshes": meshes,
        "materials": model.materials.iter().map(|material| look(&material.name, material.surface)).collect::<Vec<_>>(),
        "accessors": numbers.accessors,
        "bufferViews": numbers.views,
        "buffers": [{"byteLength": numbers.bytes.len()}],
    });
    let mut text = serde_json::to_vec(&document).map_err(|e| e.to_string())?;
    // Chunks begin at a multiple of four: text is filled up with spaces.
    text.resize(text.len().next_multiple_of(4), b' ');
    let length =
        |bytes: usize| u32::try_from(bytes).map_err(|_| "it is larger than such a file may be".to_owned());
    let whole = 12 + 8 + text.len() + 8 + numbers.bytes.len();
    let mut bytes = Vec::with_capacity(whole);
    bytes.extend(b"glTF");
    for number in [2, length(whole)?, length(text.len())?] {
        bytes.extend(number.to_le_bytes());
    }
    bytes.extend(b"JSON");
    bytes.extend(text);
    bytes.extend(length(numbers.bytes.len())?.to_le_bytes());
    bytes.extend(b"BIN\0");
    bytes.extend(numbers.bytes);
    Ok(bytes)
}

/// A mesh with its numbers.
fn shape(mesh: &Mesh, numbers: &mut Numbers) -> Value {
    let points: Vec<[f32; 3]> = mesh.points.iter().map(|point| single(*point * METRES)).collect();
    let normals: Vec<[f32; 3]> = mesh.normals.iter().map(|normal| single(*normal)).collect();
    let (place, look) = (numbers.triples(&points, true), numbers.triples(&normals, false));
    let corners = numbers.corners(&mesh.triangles);
    json!({"primitives": [{
        "attributes": {"POSITION": place, "NORMAL": look},
        "indices": corners,
        "material": mesh.material,
    }]})
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "the format has single precision: a micrometre in metres"
)]
fn single(v: DVec3) -> [f32; 3] {
    v.to_array().map(|number| number as f32)
}

fn look(name: &str, surface: Surface) -> Value {
    let (colour, rough) = match surface {
        Surface::Wood => (WOOD, DULL),
        Surface::Sheet => (SHEET, DULL),
        Surface::Glass => (GLASS, BRIGHT),
        Surface::Bought => (BOUGHT, DULL),
    };
    let mut look = json!({
        "name": name,
        "pbrMetallicRoughness": {"baseColorFactor": colour, "metallicFactor": 0.0, "roughnessFactor": rough},
    });
    if surface == Surface::Glass {
        look["alphaMode"] = json!("BLEND");
    }
    look
}

/// All nodes, and which are the pieces: a piece is turned from z up to y up, its parts
/// stand in it.
fn nodes(model: &Model) -> (Vec<Value>, Vec<usize>) {
    let (mut nodes, mut roots) = (Vec::new(), Vec::new());
    for (name, parts) in &model.pieces {
        let first = nodes.len();
        nodes.extend(parts.iter().map(node));
        let children: Vec<usize> = (first..nodes.len()).collect();
        // Columns: x stays, y (back) becomes -z, z (up) becomes y.
        let turned = [1, 0, 0, 0, 0, 0, -1, 0, 0, 1, 0, 0, 0, 0, 0, 1];
        roots.push(nodes.len());
        nodes.push(json!({"name": name, "matrix": turned, "children": children}));
    }
    (nodes, roots)
}

fn node(part: &Node) -> Value {
    let mut matrix: Vec<f64> = Vec::with_capacity(16);
    for axis in [part.at.x, part.at.y, part.at.z] {
        matrix.extend(axis.to_array().map(tidy));
        matrix.push(0.0);
    }
    matrix.extend((part.at.origin * METRES).to_array().map(tidy));
    matrix.push(1.0);
    json!({"name": part.name, "mesh": part.mesh, "matrix": matrix})
}

/// A number to nine places: the noise of a rotation says nothing, and no zero has a sign.
fn tidy(number: f64) -> f64 {
    /// Steps of one.
    const FINE: f64 = 1e9;
    (number * FINE).round() / FINE + 0.0
}
