//! Wall brackets for floating shelves: rods out of the wall in bores of the shelf.

use super::hanging_cleat::{rod, wall_fixing};
use crate::geometry::{DVec3, Placement};
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::face::{PartFace, square_face};
use crate::joinery::bench::made::{Joinery, Made, Sawn};
use crate::joinery::bench::meet::side_of;
use crate::joinery::bench::pocket::{Oblong, WALL, pocket};
use crate::joinery::bench::row::{self, COUNT, Named, Row};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::ON_SIDE;
use crate::joinery::bench::tolerance::NOISE;
use crate::joinery::bench::worked::Insert;
use crate::joinery::facts::hanging::{Hanging, Rods};
use crate::joinery::facts::item::{Item, Support, sizes};
use crate::joinery::facts::traits::Traits;
use crate::joinery::facts::{self, Facts};
use crate::model::{OptionKind, OptionSpec, Usual, Word, Work};
use crate::problem::Problem;
use crate::solid::Prism;

/// The word `wall_bracket`.
pub(in crate::joinery) struct WallBracket;

/// What `wall_bracket` says of itself.
static WORD: Word = Word {
    name: "wall_bracket",
    args: ON_SIDE,
    options: &[
        OptionSpec {
            key: "rod",
            kind: OptionKind::Pair,
            default: &[
                Usual::Length(ROD.1),
                Usual::Words(", or less in a thin shelf, by two thirds of the shelf's depth"),
            ],
            says: "diameter of the rods and how far they reach into the shelf, such as \"12x150\"",
        },
        OptionSpec {
            key: "clearance",
            kind: OptionKind::Length { min: 0.0, max: 3.0 },
            default: &[Usual::Length(CLEARANCE)],
            says: "how much wider than the rod its bore is",
        },
        OptionSpec {
            key: "in_wall",
            kind: OptionKind::Length { min: 20.0, max: 400.0 },
            default: &[
                Usual::Length(IN_WALL),
                Usual::Words("; with `plate` the plate is screwed to the wall"),
            ],
            says: "how far the rods are let into the wall",
        },
        OptionSpec {
            key: "plate",
            kind: OptionKind::Pair,
            default: &[Usual::Words("no plate: the rods are set in the wall")],
            says: "height and thickness of a wall plate that carries the rods, let into the shelf's edge, such as \
                   \"20x5\"",
        },
        COUNT,
        OptionSpec {
            key: "spacing",
            kind: OptionKind::Length { min: 50.0, max: 1200.0 },
            default: &[Usual::Length(SPACING)],
            says: "greatest distance between rods: that of the studs where there are any",
        },
        OptionSpec {
            key: "inset",
            kind: OptionKind::Length { min: 0.0, max: 2000.0 },
            default: &[Usual::Length(INSET), Usual::Words(", a quarter of a short shelf")],
            says: "from the ends of the shelf to the outer rods",
        },
        OptionSpec {
            key: "fixing",
            kind: OptionKind::Text,
            default: &[Usual::Words("wall fixing, rated for wall and load")],
            says: "what fixes each rod, or the plate at each rod, in the wall, as it is bought",
        },
    ],
    says: "bores a shelf, or the filler inside it, for the rods of a bracket in the wall behind it; the side is the one \
           that stands against the wall",
    rule: "rod at most half the thickness of the shelf and two thirds of its depth long; bore 2 mm deeper than the rod; \
           4 mm of wood beside the bore and 10 mm before its end (common practice, no source)",
    example: "wall_bracket(shelf, \"back\", #{ rod: \"12x140\", count: 3 });",
};

/// How much deeper than its rod a bore is, mm.
const DEEPER: f64 = 2.0;
/// Least wood beside a bore and before its end, mm.
const BESIDE: f64 = 4.0;
/// See `BESIDE`.
const BEFORE: f64 = 10.0;
/// Diameters of the usual rods, mm: the thinnest and the thickest.
const ROD: (f64, f64) = (6.0, 12.0);
/// Steps that the length of rods is cut to, mm.
const ROD_STEP: f64 = 5.0;
/// How far a rod reaches into a shelf: two of so many parts of its depth.
const PARTS: f64 = 3.0;
/// How much wider than its rod a bore is, mm.
const CLEARANCE: f64 = 0.5;
/// How far the rods are let into the wall, mm.
const IN_WALL: f64 = 100.0;
/// Greatest distance of rods, mm: that of studs.
const SPACING: f64 = 400.0;
/// From the ends of a shelf to the outer rods, mm.
const INSET: f64 = 100.0;
/// Least distance of rods, and of one from an end, in widths of the bore.
const APART: f64 = 3.0;
/// See `APART`.
const EDGE: f64 = 2.0;
/// How far a plate runs on beyond its outer rods, mm.
const PLATE_END: f64 = 25.0;

/// Rod and bore, mm.
struct Bore {
    rod: f64,
    long: f64,
    wide: f64,
    deep: f64,
}

/// A plate that carries the rods, mm.
struct WallPlate {
    /// Length, height and thickness.
    size: [f64; 3],
    /// Length, width and depth of the recess for it.
    recess: [f64; 3],
}

impl Joinery for WallBracket {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn traits(&self) -> Traits {
        Traits { hangs_on_wall: true, ..Traits::default() }
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        let face = square_face(bench, work)?;
        let bore = bore(bench, work, &face)?;
        let length = face.size.x;
        let row = Row { spacing: SPACING, inset: INSET, apart: APART * bore.wide, edge: EDGE * bore.wide };
        let places = row::places(bench, work, &row, length, &Named { one: "rod", many: "rods" })?;
        let into = -face.side.normal();
        let middle = face_middle(&face);
        let mut made = Made { parts: vec![face.part], ..Made::default() };
        let mut at = Vec::new();
        for place in &places {
            let mouth = middle + face.along * *place;
            let shape = Prism::hole(mouth, into, bore.deep, bore.wide);
            made.cuts.extend(shape.map(|shape| Sawn { part: face.part, kind: CutKind::FittingHole, shape }));
            at.extend(Placement::looking(mouth, into, face.along));
        }
        let plate = plate(bench, work, &face, &places, &mut made)?;
        let item = rod_item(work, &bore, plate.as_ref());
        made.facts = Facts::Hanging(Hanging::Rods(bore.facts(&face, places.len(), plate)));
        // Where a rod leaves the shelf it goes into the wall, and is fixed there.
        let walls = at.clone();
        made.inserts.push(Insert { item, at, body: Some(rod(bore.rod, bore.long)) });
        made.inserts.push(Insert { item: wall_fixing(work, None), at: walls, body: None });
        made.warnings.extend(too_short(bench, work, &face, &bore));
        Ok(vec![made])
    }
}

impl Bore {
    /// What is told of so many of them in a face.
    fn facts(&self, face: &PartFace, count: usize, plate: Option<WallPlate>) -> Rods {
        Rods {
            count,
            thick: self.rod,
            length: self.long,
            bore: facts::bore::Bore { wide: self.wide, deep: self.deep },
            from_face: 0.5 * face.size.y,
            face: side_of(-face.across),
            recess: plate.map(|plate| plate.recess),
        }
    }
}

/// What the rods are: on a plate, or set in the wall.
fn rod_item(work: &Work, bore: &Bore, plate: Option<&WallPlate>) -> Item {
    let item = if let Some(plate) = plate {
        Support::PlateRod(sizes([bore.rod, bore.long]), sizes(plate.size))
    } else {
        let in_wall = work.options.number("in_wall").unwrap_or(IN_WALL);
        Support::WallRod(sizes([bore.rod, bore.long, in_wall]))
    };
    item.into()
}

/// The middle of the side.
fn face_middle(face: &PartFace) -> DVec3 {
    let out = face.side.normal();
    let centre = face.whole.centre();
    centre + out * (face.whole.reach(out).1 - out.dot(centre))
}

/// The bore, with wood enough round it.
fn bore(bench: &Bench<'_>, work: &Work, face: &PartFace) -> Result<Bore, Problem> {
    let name = bench.name(face.part);
    // Into a face there is only the thickness to hold a rod.
    if face.whole.axis_along(face.side.normal()) == Some(2) {
        let message = format!("the {} of `{name}` is a face: rods go into an edge", face.side.name());
        return Err(bench
            .error(work, "no-such-edge", message, &[face.part])
            .help("name the edge that stands against the wall"));
    }
    let (thick, through) = (face.size.y, face.thick);
    // Whole millimetres and steps of five: steel is drawn and sawn so.
    let usual = (0.5 * thick).floor().clamp(ROD.0, ROD.1);
    let usual = (usual, (through * 2.0 / PARTS / ROD_STEP).floor() * ROD_STEP);
    let (size, long) = work.options.pair("rod").unwrap_or(usual);
    let clearance = work.options.number("clearance").unwrap_or(CLEARANCE);
    let bore = Bore { rod: size, long, wide: size + clearance, deep: long + DEEPER };
    let beside = 0.5 * (thick - bore.wide);
    if beside < BESIDE - NOISE {
        let message = format!(
            "a bore of {} leaves {} of `{name}` above and below; it needs {}",
            bench.mm(bore.wide),
            bench.mm(beside.max(0.0)),
            bench.mm(BESIDE)
        );
        return Err(bench.error(work, "breaks-through", message, &[face.part]).help(format!(
            "use a rod of {} at most, or a thicker shelf",
            bench.mm((thick - 2.0 * BESIDE - clearance).max(0.0))
        )));
    }
    if bore.deep > through - BEFORE + NOISE {
        let message = format!(
            "a bore {} deep leaves {} of `{name}` before its end; it needs {}",
            bench.mm(bore.deep),
            bench.mm((through - bore.deep).max(0.0)),
            bench.mm(BEFORE)
        );
        return Err(bench.error(work, "breaks-through", message, &[face.part]).help(format!(
            "let the rods reach {} in at most",
            bench.mm((through - BEFORE - DEEPER).max(0.0))
        )));
    }
    Ok(bore)
}

/// The wall plate and its recess, if there is one.
fn plate(
    bench: &Bench<'_>,
    work: &Work,
    face: &PartFace,
    places: &[f64],
    made: &mut Made,
) -> Result<Option<WallPlate>, Problem> {
    let Some((high, thick)) = work.options.pair("plate") else { return Ok(None) };
    if high > face.size.y - 2.0 * WALL + NOISE {
        let message = format!(
            "a plate {} high leaves {} of `{}` above and below",
            bench.mm(high),
            bench.mm((0.5 * (face.size.y - high)).max(0.0)),
            bench.name(face.part)
        );
        return Err(bench
            .error(work, "breaks-through", message, &[face.part])
            .help(format!("write its height first; {} at most", bench.mm(face.size.y - 2.0 * WALL))));
    }
    let (first, last) = (places.first().copied().unwrap_or(0.0), places.last().copied().unwrap_or(0.0));
    // Under one rod alone a plate no longer than high would turn.
    let length = (last - first + 2.0 * PLATE_END).max(2.0 * high);
    // Its ends are round, so it is longer than the square plate by its own height.
    let recess = length + high;
    if recess > face.size.x - 2.0 * WALL {
        return Err(shows(bench, work, face, recess));
    }
    let middle = face_middle(face) + face.along * (0.5 * (first + last));
    let shape =
        pocket(middle, face.along, -face.side.normal(), Oblong { length: recess, width: high, depth: thick });
    made.cuts.extend(shape.map(|shape| Sawn { part: face.part, kind: CutKind::Mortise, shape }));
    Ok(Some(WallPlate { size: [length, high, thick], recess: [recess, high, thick] }))
}

/// A plate whose recess comes out at the ends of the shelf.
fn shows(bench: &Bench<'_>, work: &Work, face: &PartFace, recess: f64) -> Problem {
    let message = format!(
        "a plate {} long shows at the ends of `{}`, which is {} long",
        bench.mm(recess),
        bench.name(face.part),
        bench.mm(face.size.x)
    );
    bench.error(work, "breaks-through", message, &[face.part]).help("make `inset` more")
}

/// Rods that reach less than half way in let the shelf droop.
fn too_short(bench: &Bench<'_>, work: &Work, face: &PartFace, bore: &Bore) -> Option<Problem> {
    if bore.long > 0.5 * face.thick - NOISE {
        return None;
    }
    let message = format!(
        "rods reach {} into `{}`, less than half of its depth of {}",
        bench.mm(bore.long),
        bench.name(face.part),
        bench.mm(face.thick)
    );
    Some(
        bench
            .warning(work, "bracket-too-short", message, &[face.part])
            .help("the shelf can droop: use longer rods, two thirds of the depth"),
    )
}
