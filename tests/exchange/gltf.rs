//! Pieces as glTF, read back by a reader of our own that knows only the published
//! specification (ISO/IEC 12113:2022, glTF 2.0): meshes must close, hold what the parts of
//! the model hold, and stand where those stand.

use std::collections::BTreeMap;
use std::fs;

use rodwright::geometry::DVec3;
use rodwright::joinery::WorkedJob;
use rodwright::script::Request;
use rodwright::{Also, Choices, examine, set_out};
use serde_json::Value;

use crate::support::scripts::{request, scripts_in};

/// A file taken apart.
struct Read {
    document: Value,
    numbers: Vec<u8>,
}

fn whole(bytes: &[u8]) -> usize {
    u32::from_le_bytes(bytes.try_into().unwrap()) as usize
}

impl Read {
    /// The two chunks of a binary file.
    fn of(bytes: &[u8]) -> Self {
        assert_eq!(&bytes[..4], b"glTF");
        assert_eq!((whole(&bytes[4..8]), whole(&bytes[8..12])), (2, bytes.len()));
        let text = whole(&bytes[12..16]);
        assert_eq!((&bytes[16..20], text % 4), (&b"JSON"[..], 0));
        let rest = &bytes[20 + text..];
        assert_eq!((&rest[4..8], whole(&rest[..4]) % 4), (&b"BIN\0"[..], 0));
        assert_eq!(rest.len(), 8 + whole(&rest[..4]));
        let document: Value = serde_json::from_slice(&bytes[20..20 + text]).unwrap();
        assert_eq!(document["asset"]["version"], "2.0");
        assert_eq!(document["buffers"][0]["byteLength"], whole(&rest[..4]));
        Self { document, numbers: rest[8..].to_vec() }
    }

    /// The bytes of an accessor, with how many items it has.
    fn bytes(&self, accessor: &Value, item: usize) -> (&[u8], usize) {
        let accessor = &self.document["accessors"][accessor.as_u64().unwrap() as usize];
        let view = &self.document["bufferViews"][accessor["bufferView"].as_u64().unwrap() as usize];
        let figure = |key: &str| view[key].as_u64().unwrap() as usize;
        let count = accessor["count"].as_u64().unwrap() as usize;
        assert_eq!(figure("byteLength"), count * item);
        assert_eq!(figure("byteOffset") % 4, 0);
        (&self.numbers[figure("byteOffset")..figure("byteOffset") + count * item], count)
    }

    fn triples(&self, accessor: &Value) -> Vec<[f32; 3]> {
        let (bytes, _) = self.bytes(accessor, 12);
        let number = |at: usize| f32::from_le_bytes(bytes[at..at + 4].try_into().unwrap());
        (0..bytes.len()).step_by(12).map(|at| [number(at), number(at + 4), number(at + 8)]).collect()
    }

    fn corners(&self, accessor: &Value) -> Vec<[usize; 3]> {
        let (bytes, _) = self.bytes(accessor, 4);
        let all: Vec<usize> = bytes.chunks(4).map(whole).collect();
        all.chunks(3).map(|corners| [corners[0], corners[1], corners[2]]).collect()
    }
}

/// A mesh as triangles in metres, its least and greatest corner and its volume.
fn mesh(read: &Read, mesh: &Value, faults: &mut Vec<String>) -> ([[f32; 3]; 2], f64) {
    let primitive = &mesh["primitives"][0];
    let places = read.triples(&primitive["attributes"]["POSITION"]);
    let looks = read.triples(&primitive["attributes"]["NORMAL"]);
    let corners = read.corners(&primitive["indices"]);
    assert_eq!(places.len(), looks.len());
    let long = |v: [f64; 3]| (v[0] * v[0] + v[1] * v[1] + v[2] * v[2]).sqrt();
    assert!(looks.iter().all(|v| (long(v.map(f64::from)) - 1.0).abs() < 1e-5));
    // Each edge is walked once each way: the mesh closes, and all faces look outwards.
    let mut walked: BTreeMap<[[u32; 3]; 2], i32> = BTreeMap::new();
    let mut volume = 0.0;
    for triangle in corners {
        let points = triangle.map(|corner| places[corner]);
        let named = points.map(|p| p.map(|n| (n + 0.0).to_bits()));
        for (a, b) in [(0, 1), (1, 2), (2, 0)] {
            *walked.entry([named[a], named[b]]).or_default() += 1;
            *walked.entry([named[b], named[a]]).or_default() -= 1;
        }
        let [a, b, c] = points.map(|p| DVec3::from_array(p.map(f64::from)));
        volume += a.dot(b.cross(c)) / 6.0;
    }
    let open = walked.values().filter(|count| **count != 0).count();
    if open > 0 {
        faults.push(format!("{open} edges of a mesh are open"));
    }
    let low = [0, 1, 2].map(|axis| places.iter().map(|p| p[axis]).fold(f32::INFINITY, f32::min));
    let high = [0, 1, 2].map(|axis| places.iter().map(|p| p[axis]).fold(f32::NEG_INFINITY, f32::max));
    let accessor = primitive["attributes"]["POSITION"].as_u64().unwrap() as usize;
    let told = &read.document["accessors"][accessor];
    let told = [&told["min"], &told["max"]].map(|v| [0, 1, 2].map(|axis| v[axis].as_f64().unwrap() as f32));
    assert_eq!(told, [low, high], "the bounds told are those of the places");
    ([low, high], volume)
}

fn columns(matrix: &Value) -> [[f64; 4]; 4] {
    [0, 4, 8, 12].map(|from| [0, 1, 2, 3].map(|row| matrix[from + row].as_f64().unwrap()))
}

fn moved(matrix: &[[f64; 4]; 4], p: [f64; 3]) -> [f64; 3] {
    [0, 1, 2]
        .map(|row| matrix[3][row] + matrix[0][row] * p[0] + matrix[1][row] * p[1] + matrix[2][row] * p[2])
}

/// Everything wrong with a file, which holds the parts of a model; `together` says that they
/// stand where the model has them, if its job has one piece.
fn faults(bytes: &[u8], worked: &WorkedJob, together: bool) -> Vec<String> {
    let read = Read::of(bytes);
    let mut faults = Vec::new();
    let list = |key: &str| read.document[key].as_array().unwrap().clone();
    let shapes: Vec<([[f32; 3]; 2], f64)> =
        list("meshes").iter().map(|one| mesh(&read, one, &mut faults)).collect();
    let nodes = list("nodes");
    let mut found: Vec<String> = Vec::new();
    for root in read.document["scenes"][0]["nodes"].as_array().unwrap() {
        let root = &nodes[root.as_u64().unwrap() as usize];
        let stands = columns(&root["matrix"]);
        for child in root["children"].as_array().unwrap() {
            let node = &nodes[child.as_u64().unwrap() as usize];
            let name = node["name"].as_str().unwrap().to_owned();
            let (bounds, volume) = shapes[node["mesh"].as_u64().unwrap() as usize];
            let named =
                |part: &&rodwright::joinery::WorkedPart| format!("{} {}", part.mark(), part.name) == name;
            let alike: Vec<_> = worked.parts.iter().filter(named).collect();
            let Some(part) = alike.first() else {
                faults.push(format!("no part is called {name}"));
                continue;
            };
            let true_volume = part.solid.volume() * 1e-9;
            if (volume - true_volume).abs() > 1e-4 * true_volume {
                faults.push(format!("{name} holds {volume}, its part {true_volume}"));
            }
            // The corner of its box at the origin of the part stands where the part stands,
            // turned to y up.
            let at = columns(&node["matrix"]);
            let low = bounds[0].map(f64::from);
            let place = moved(&stands, moved(&at, low));
            let stood = |part: &&&rodwright::joinery::WorkedPart| {
                let (low, _) = part.solid.bounds().unwrap();
                let p = part.at.point(low) * 0.001;
                DVec3::new(p.x, p.z, -p.y).distance(DVec3::from_array(place)) < 1e-5
            };
            if together && !alike.iter().any(|part| stood(&part)) {
                faults.push(format!("{name} stands at {place:?}"));
            }
            found.push(name);
        }
    }
    let mut parts: Vec<String> = worked.parts.iter().map(|p| format!("{} {}", p.mark(), p.name)).collect();
    parts.sort();
    found.sort();
    if parts != found {
        faults.push(format!("parts {found:?}, not {parts:?}"));
    }
    faults
}

/// Faults in both files of a job.
fn of_job(request: &Request) -> Vec<String> {
    let Some((job, worked)) = examine(request).worked else { return Vec::new() };
    let choices = Choices { also: vec![Also::Gltf], ..Choices::default() };
    let set = set_out(request, &choices);
    let file = |name: &str| &set.files.iter().find(|file| file.name == name).unwrap().bytes;
    let mut found = faults(file(".glb"), &worked, job.pieces.len() == 1);
    found.extend(faults(file("-apart.glb"), &worked, false));
    assert_eq!(
        file(".glb") == file("-apart.glb"),
        worked.parts.len() == 1,
        "only one part is not taken apart"
    );
    found
}

fn script(name: &str) -> Request {
    let path = scripts_in("scripts").into_iter().find(|path| path.ends_with(name)).unwrap();
    request(name, fs::read_to_string(path).unwrap())
}

#[test]
fn the_card_box_is_whole_in_its_files() {
    assert_eq!(of_job(&script("card_box.rhai")), Vec::<String>::new());
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    #[test]
    fn every_piece_is_whole_in_its_files() {
        let mut wrong = Vec::new();
        for path in scripts_in("scripts").iter().chain(&scripts_in("tests/drawing/families")) {
            let name = path.file_stem().unwrap().to_string_lossy().into_owned();
            let found = of_job(&request(&name, fs::read_to_string(path).unwrap()));
            wrong.extend(found.into_iter().map(|fault| format!("{name}: {fault}")));
        }
        assert_eq!(wrong, Vec::<String>::new());
    }
}
