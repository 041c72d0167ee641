//! Flat parts as DXF, read back by a reader of our own that knows only the published group
//! codes: what its layers say is cut out of the blank must leave the part of the model.

#![allow(clippy::disallowed_methods, reason = "a reader that reckons by itself; nothing it finds is written")]

use std::fs;

use rodwright::joinery::WorkedPart;
use rodwright::script::Request;
use rodwright::{Also, Choices, File, examine, set_out};

use crate::support::assert_near;
use crate::support::scripts::{request, scripts_in};

/// Lines between two levels, closer towards both, where a circle is steep.
const LINES: usize = 100;

/// One shape of a file.
#[derive(Clone, Debug)]
enum Shape {
    /// Corners with their bulges.
    Ring(Vec<[f64; 3]>),
    /// Centre and radius.
    Circle([f64; 3]),
}

/// What a file holds.
#[derive(Debug, Default)]
struct Read {
    layers: Vec<String>,
    shapes: Vec<(String, Shape)>,
    texts: Vec<String>,
    comment: String,
}

/// Pairs of a code and its value.
fn pairs(bytes: &[u8]) -> Vec<(u32, String)> {
    assert!(bytes.is_ascii(), "only ASCII may stand in such a file");
    let text = std::str::from_utf8(bytes).unwrap();
    let lines: Vec<&str> = text.split("\r\n").collect();
    assert_eq!(lines.last(), Some(&""), "the last line ends too");
    let lines = &lines[..lines.len() - 1];
    assert_eq!(lines.len() % 2, 0, "codes and values come in pairs");
    lines.chunks(2).map(|pair| (pair[0].trim().parse().unwrap(), pair[1].to_owned())).collect()
}

/// Reads a file as the codes say: sections that end, tables, entities with their layers.
fn read(bytes: &[u8]) -> Read {
    let pairs = pairs(bytes);
    let mut found = Read::default();
    // Things begin at a code 0.
    let mut things: Vec<(String, Vec<(u32, String)>)> = Vec::new();
    for (code, value) in pairs {
        match code {
            999 => found.comment = value,
            0 => things.push((value, Vec::new())),
            _ => things.last_mut().unwrap().1.push((code, value)),
        }
    }
    assert_eq!(things.last().unwrap().0, "EOF");
    let ends = |name: &str| things.iter().filter(|thing| thing.0 == name).count();
    assert_eq!((ends("SECTION"), ends("TABLE")), (ends("ENDSEC"), ends("ENDTAB")));
    let version = things[0].1.iter().position(|pair| pair.1 == "$ACADVER").unwrap();
    assert_eq!(things[0].1[version + 1], (1, "AC1009".to_owned()));
    let get = |thing: &[(u32, String)], code: u32| {
        thing.iter().find(|pair| pair.0 == code).map(|pair| pair.1.clone()).unwrap_or_default()
    };
    let figure = |thing: &[(u32, String)], code: u32| get(thing, code).parse().unwrap_or(0.0);
    for (name, thing) in &things {
        match name.as_str() {
            "LAYER" => found.layers.push(get(thing, 2)),
            "CIRCLE" => {
                let shape = Shape::Circle([10, 20, 40].map(|code| figure(thing, code)));
                found.shapes.push((get(thing, 8), shape));
            }
            "POLYLINE" => {
                assert_eq!((get(thing, 66), get(thing, 70)), ("1".into(), "1".into()));
                found.shapes.push((get(thing, 8), Shape::Ring(Vec::new())));
            }
            "VERTEX" => {
                let Some((_, Shape::Ring(ring))) = found.shapes.last_mut() else { panic!("a stray corner") };
                ring.push([10, 20, 42].map(|code| figure(thing, code)));
            }
            "TEXT" => found.texts.push(get(thing, 1)),
            _ => {}
        }
    }
    for (layer, _) in &found.shapes {
        assert!(found.layers.contains(layer), "{layer} is in no table");
        assert!(layer.len() <= 31 && layer.bytes().all(|b| b.is_ascii_alphanumeric() || b"$-_".contains(&b)));
    }
    found
}

/// Area of a shape, arcs as they are: chords by their corners, and over each the segment of
/// a circle, r² (q - sin q) / 2, whose bulge is the tangent of a quarter of q.
fn area(shape: &Shape) -> f64 {
    match shape {
        Shape::Circle([_, _, radius]) => std::f64::consts::PI * radius * radius,
        Shape::Ring(ring) => {
            let next = ring.iter().cycle().skip(1);
            let sum: f64 = ring
                .iter()
                .zip(next)
                .map(|(a, b)| {
                    let chord = 0.5 * (a[0] * b[1] - a[1] * b[0]);
                    if a[2] == 0.0 {
                        return chord;
                    }
                    let angle = 4.0 * a[2].atan();
                    let wide = (b[0] - a[0]).hypot(b[1] - a[1]);
                    let radius = wide / (2.0 * (angle / 2.0).sin());
                    chord + 0.5 * radius * radius * (angle - angle.sin())
                })
                .sum();
            sum.abs()
        }
    }
}

/// How deep a layer says, in the unit of the file; nothing for what goes through.
fn depth(layer: &str) -> Option<f64> {
    let figure = layer.rsplit_once('-')?.1.replace('_', ".");
    let figure = figure.strip_suffix("MM").or_else(|| figure.strip_suffix("IN"))?.to_owned();
    Some(figure.parse().unwrap())
}

/// Where a shape is cut by a line across at `y`: places in order, every second one the end
/// of a stretch.
fn crossed(shape: &Shape, y: f64) -> Vec<f64> {
    let mut places = match shape {
        Shape::Circle([x, middle, radius]) => {
            let half = (radius * radius - (y - middle) * (y - middle)).max(0.0).sqrt();
            vec![x - half, x + half]
        }
        Shape::Ring(ring) => {
            let corners = facetted(ring);
            let next = corners.iter().cycle().skip(1);
            let over = corners.iter().zip(next).filter(|(a, b)| (a[1] > y) != (b[1] > y));
            over.map(|(a, b)| a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0])).collect()
        }
    };
    places.sort_by(f64::total_cmp);
    places
}

/// A ring with its arcs as many short lines.
fn facetted(ring: &[[f64; 3]]) -> Vec<[f64; 2]> {
    const STEPS: usize = 60;
    let next = ring.iter().cycle().skip(1);
    let mut corners = Vec::new();
    for (a, b) in ring.iter().zip(next) {
        corners.push([a[0], a[1]]);
        if a[2] == 0.0 {
            continue;
        }
        // The centre stands off the middle of the chord by half of it over the tangent of
        // half the angle turned through.
        let angle = 4.0 * a[2].atan();
        let off = 0.5 / (angle / 2.0).tan();
        let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
        let centre = [f64::midpoint(a[0], b[0]) - off * dy, f64::midpoint(a[1], b[1]) + off * dx];
        for step in 1..STEPS {
            let turned = angle * step as f64 / STEPS as f64;
            let (x, y) = (a[0] - centre[0], a[1] - centre[1]);
            corners.push([
                centre[0] + x * turned.cos() - y * turned.sin(),
                centre[1] + x * turned.sin() + y * turned.cos(),
            ]);
        }
    }
    corners
}

/// Least and greatest y of a shape.
fn tall(shape: &Shape) -> [f64; 2] {
    match shape {
        Shape::Circle([_, y, radius]) => [y - radius, y + radius],
        Shape::Ring(ring) => {
            let all = facetted(ring);
            let fold = |from: f64, pick: fn(f64, f64) -> f64| all.iter().map(|c| c[1]).fold(from, pick);
            [fold(f64::INFINITY, f64::min), fold(f64::NEG_INFINITY, f64::max)]
        }
    }
}

/// The volume that a part has after all its files are cut, in the cube of their unit: line by
/// line across, and on each stretch of a line the thickness less the deepest cut of either
/// face. The back is seen turned over.
fn left(files: &[Read], thick: f64) -> f64 {
    let outline = files[0].shapes.iter().filter(|shape| shape.0 == "OUTLINE");
    let high = outline.map(|shape| tall(&shape.1)[1]).fold(0.0, f64::max);
    let turned = |at: usize, y: f64| if at == 0 { y } else { high - y };
    // Arcs are broken up once for all lines.
    let broken = |shape: &Shape| match shape {
        Shape::Ring(ring) => Shape::Ring(facetted(ring).into_iter().map(|[x, y]| [x, y, 0.0]).collect()),
        Shape::Circle(circle) => Shape::Circle(*circle),
    };
    let all: Vec<(usize, &String, Shape)> = files
        .iter()
        .enumerate()
        .flat_map(|(at, file)| file.shapes.iter().map(move |(layer, shape)| (at, layer, broken(shape))))
        .collect();
    let shapes = || all.iter().map(|(at, layer, shape)| (*at, *layer, shape));
    let mut levels: Vec<f64> = Vec::new();
    for (at, _, shape) in shapes() {
        levels.extend(tall(shape).map(|y| turned(at, y)));
    }
    for (at, file) in files.iter().enumerate() {
        let rings = file.shapes.iter().filter_map(|shape| match &shape.1 {
            Shape::Ring(ring) => Some(ring),
            Shape::Circle(_) => None,
        });
        levels.extend(rings.flatten().map(|corner| turned(at, corner[1])));
    }
    levels.sort_by(f64::total_cmp);
    levels.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    let mut volume = 0.0;
    for pair in levels.windows(2) {
        let half = 0.5 * (pair[1] - pair[0]);
        let level = |turn: f64| pair[0] + half * (1.0 - (std::f64::consts::PI * turn / LINES as f64).cos());
        for line in 0..LINES {
            let (from, y, to) = (level(line as f64), level(line as f64 + 0.5), level(line as f64 + 1.0));
            let cut: Vec<(usize, &String, Vec<f64>)> =
                shapes().map(|(at, layer, shape)| (at, layer, crossed(shape, turned(at, y)))).collect();
            volume += on_line(&cut, thick) * (to - from);
        }
    }
    volume
}

/// What is left on one line across a part.
fn on_line(cut: &[(usize, &String, Vec<f64>)], thick: f64) -> f64 {
    let mut places: Vec<f64> = cut.iter().flat_map(|one| one.2.clone()).collect();
    places.sort_by(f64::total_cmp);
    let mut area = 0.0;
    for pair in places.windows(2) {
        let x = f64::midpoint(pair[0], pair[1]);
        let within = |places: &[f64]| places.chunks(2).any(|p| p.len() == 2 && x > p[0] && x < p[1]);
        let (mut wood, mut deep) = (false, [0.0; 2]);
        for (at, layer, places) in cut {
            if !within(places) {
                continue;
            }
            match depth(layer) {
                Some(depth) => deep[*at] = f64::max(deep[*at], depth),
                None if *layer == "OUTLINE" => wood = true,
                None => deep[*at] = thick,
            }
        }
        if wood {
            area += (pair[1] - pair[0]) * (thick - deep[0] - deep[1]).max(0.0);
        }
    }
    area
}

/// The DXF files among those of a set.
fn drawn(request: &Request) -> Vec<File> {
    let choices = Choices { also: vec![Also::Dxf], ..Choices::default() };
    let mut files = set_out(request, &choices).files;
    files.retain(|file| file.name.ends_with(".dxf"));
    files
}

/// The files of one mark.
fn of_mark(files: &[File], mark: &str) -> Vec<Read> {
    let stem = format!("-part-{}", mark.replace(' ', "-"));
    let own = |file: &&File| file.name == format!("{stem}.dxf") || file.name == format!("{stem}-back.dxf");
    let mut own: Vec<&File> = files.iter().filter(own).collect();
    own.sort_by_key(|file| file.name.len());
    own.into_iter().map(|file| read(&file.bytes)).collect()
}

/// A board with all that a face can have, worked out by hand: 600 by 200 by 18, a corner
/// notched 50 by 40, a hole of 35 sunk 12, one of 8 right through, a slot of 10 from 440 to
/// 560.
const BOARD: &str = r#"
job("Board", #{ unit: "mm" });
let ply = sheet_stock("Birch plywood", #{ thick: 18 });
piece("Board");
let board = panel("Board", ply, #{ x: [0, 600], y: [0, 18], z: [0, 200], grain: "x", face: "front", edge: "bottom" });
notch(board, #{ x: [0, 50], z: [0, 40] });
hole(board, "front", #{ along: 300, across: 100, diameter: 35, depth: 12 });
hole(board, "front", #{ along: 400, across: 150, diameter: 8 });
slot(board, "front", #{ along: [440, 560], across: 60, width: 10 });
"#;

#[test]
fn a_board_worked_by_hand_is_in_its_file() {
    let files = drawn(&request("board", BOARD.into()));
    let names: Vec<&str> = files.iter().map(|file| file.name.as_str()).collect();
    assert_eq!(names, ["-part-1.dxf"]);
    let file = read(&files[0].bytes);
    assert_eq!(file.comment, "lengths in millimetres");
    assert_eq!(file.texts[0], "1 Board");
    let on = |layer: &str| file.shapes.iter().filter(|s| s.0 == layer).map(|s| &s.1).collect::<Vec<_>>();
    let [outline] = on("OUTLINE")[..] else { panic!("one outline") };
    assert_near(area(outline), 600.0 * 200.0 - 50.0 * 40.0, 1e-6);
    let [Shape::Circle(cup)] = on("HOLE-12MM")[..] else { panic!("one cup") };
    assert_eq!((cup[0], cup[2]), (300.0, 17.5));
    let [Shape::Circle(bore)] = on("HOLE-THROUGH")[..] else { panic!("one hole") };
    assert_near(bore[2], 4.0, 1e-9);
    let [slot] = on("OPENING")[..] else { panic!("one slot") };
    assert_near(area(slot), 1100.0 + std::f64::consts::PI * 25.0, 1e-3);
    assert_eq!(file.shapes.len(), 4);
}

#[test]
fn a_drawing_in_inches_has_lengths_in_inches() {
    let text = BOARD.to_owned();
    let choices =
        Choices { also: vec![Also::Dxf], unit: Some(rodwright::measure::Unit::Inch), ..Choices::default() };
    let files = set_out(&request("board", text), &choices).files;
    let file = files.iter().find(|file| file.name.ends_with(".dxf")).unwrap();
    let file = read(&file.bytes);
    assert_eq!(file.comment, "lengths in inches");
    let cup = file.shapes.iter().find(|shape| depth(&shape.0).is_some()).unwrap();
    assert_eq!(cup.0, "HOLE-0_4724IN");
    let Shape::Circle(cup) = cup.1 else { panic!("a cup is round") };
    assert_near(cup[2] * 25.4, 17.5, 1e-4);
}

/// Whether a part is in its files with every cut: its notes name none that is left out.
fn is_whole(files: &[Read]) -> bool {
    files.iter().flat_map(|file| &file.texts).all(|text| !text.starts_with("not in this file"))
}

/// Parts of a set of which all cuts are in the files, and what is wrong with their volumes.
fn volumes(request: &Request) -> (usize, Vec<String>) {
    let Some((_, worked)) = examine(request).worked else { return (0, Vec::new()) };
    let files = drawn(request);
    let (mut judged, mut wrong) = (0, Vec::new());
    let lipped = |part: &WorkedPart| {
        worked.parts.iter().any(|lip| match lip.source {
            rodwright::joinery::PartSource::Lipping { of, .. } => worked.parts[of].mark() == part.mark(),
            rodwright::joinery::PartSource::Part(_) => false,
        })
    };
    for part in worked.parts.iter().filter(|part| !lipped(part)) {
        let files = of_mark(&files, &part.mark());
        if files.is_empty() || !is_whole(&files) {
            continue;
        }
        judged += 1;
        let unit: f64 = if files[0].comment.ends_with("inches") { 25.4 } else { 1.0 };
        let cut = left(&files, part.size.z / unit) * unit.powi(3);
        let true_volume = part.solid.true_volume();
        // Depths are named to a hundredth.
        if (cut - true_volume).abs() > 1e-4 * true_volume {
            wrong.push(format!("{} {}: {cut:.0} cut, {true_volume:.0} in the model", part.mark(), part.name));
        }
    }
    (judged, wrong)
}

#[test]
fn what_is_cut_leaves_the_parts_of_the_card_box() {
    let path = scripts_in("scripts").into_iter().find(|path| path.ends_with("card_box.rhai")).unwrap();
    let (judged, wrong) = volumes(&request("box", fs::read_to_string(path).unwrap()));
    assert!(judged > 2, "{judged}");
    assert_eq!(wrong, Vec::<String>::new());
}

/// Nothing is written that nobody asked for, and the same twice.
#[test]
fn files_come_when_asked_for_and_are_the_same_bytes() {
    let set = set_out(&request("board", BOARD.into()), &Choices::default());
    assert!(set.files.iter().all(|file| !file.name.ends_with(".dxf") && !file.name.ends_with(".glb")));
    assert_eq!(drawn(&request("board", BOARD.into())), drawn(&request("board", BOARD.into())));
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    #[test]
    fn what_is_cut_leaves_the_parts_of_every_piece() {
        let (mut judged, mut wrong) = (0, Vec::new());
        for path in scripts_in("scripts").iter().chain(&scripts_in("tests/drawing/families")) {
            let name = path.file_stem().unwrap().to_string_lossy().into_owned();
            let (parts, found) = volumes(&request(&name, fs::read_to_string(path).unwrap()));
            judged += parts;
            wrong.extend(found.into_iter().map(|fault| format!("{name}: {fault}")));
        }
        println!("{judged} parts were cut from their files");
        assert!(judged > 60, "{judged}");
        assert_eq!(wrong, Vec::<String>::new());
    }
}
