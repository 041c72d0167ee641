//! Parts put together by hand.

use crate::support::lot::Lot;
use std::sync::Arc;

use rodwright::geometry::{DVec2, DVec3, Outline, Placement};
use rodwright::joinery::{Cut, CutKind, Hand, PartSource, Stage, WorkedJob, WorkedPart};
use rodwright::measure::Unit;
use rodwright::model::{Grain, Job, JobHead, PartId, Piece, PieceId, Side, Stock, StockId, StockKind};
use rodwright::solid::{Body, Prism, carve};
use rodwright::source::{Origin, SourceId, Span};

/// A place in no script.
pub(super) fn origin() -> Origin {
    Origin { user: Span { source: SourceId(0), start: 0, end: 0 }, library: None }
}

/// A cut on the loose part.
pub(super) fn cut(kind: CutKind, shape: Prism) -> Cut {
    Cut { shape, kind, stage: Stage::Loose, joint: None, origin: origin() }
}

/// A box.
pub(super) fn cuboid(a: [f64; 3], b: [f64; 3]) -> Prism {
    Prism::cuboid(DVec3::from(a), DVec3::from(b))
}

/// A part numbered `number` with cuts.
pub(super) fn part(number: u32, name: &str, size: [f64; 3], cuts: Vec<Cut>) -> WorkedPart {
    let size = DVec3::from(size);
    let body = Body::Prism(Prism::cuboid(DVec3::ZERO, size));
    let shapes: Vec<Prism> = cuts.iter().map(|c| c.shape.clone()).collect();
    let solid = Arc::new(carve(&body, &shapes).expect("the part is not cut away"));
    WorkedPart {
        source: PartSource::Part(PartId(0)),
        name: name.into(),
        number,
        hand: Hand::None,
        piece: PieceId(0),
        stock: StockId(0),
        at: Placement::IDENTITY,
        size,
        face: Side::Right,
        edge: Side::Front,
        body,
        cuts,
        fills: Vec::new(),
        solid,
        remark: None,
        origin: origin(),
    }
}

/// A circle as an outline of facets.
pub(super) fn circle(at: [f64; 2], radius: f64) -> Outline {
    let centre = DVec2::from(at);
    let points = (0..24)
        .map(|i| {
            let (s, c) = rodwright::geometry::trig::sin_cos(f64::from(i) * std::f64::consts::TAU / 24.0);
            centre + DVec2::new(c, s) * radius
        })
        .collect();
    let mut outline = Outline::polygon(points);
    outline.rings[0].edges = vec![Some(0); 24];
    outline.arcs = vec![rodwright::geometry::Arc { centre, radius }];
    outline
}

/// A hole along z from `from` to `to`.
pub(super) fn bore(at: [f64; 2], radius: f64, from: f64, to: f64) -> Prism {
    Prism { at: Placement::IDENTITY, outline: circle(at, radius), from, to }
}

/// A mitre at the far end, long point on z = 0.
pub(super) fn far_mitre(size: [f64; 3]) -> Cut {
    let [l, w, t] = size;
    let at = Placement::from_axes(DVec3::ZERO, DVec3::X, DVec3::Z).unwrap();
    let outline = Outline::polygon(vec![
        DVec2::new(l, 0.0),
        DVec2::new(l + 20.0, 0.0),
        DVec2::new(l + 20.0, t + 10.0),
        DVec2::new(l - t - 10.0, t + 10.0),
    ]);
    cut(CutKind::Mitre, Prism { at, outline, from: -w - 10.0, to: 10.0 })
}

/// A cabinet side, a bottom, a divider, a stile.
pub(super) fn cabinet_parts() -> (Job, WorkedJob) {
    let side = {
        let mut cuts = vec![far_mitre([420.0, 294.0, 18.0])];
        for x in [5.0, 201.0 + 4.0] {
            for y in [32.0, 137.0, 242.0] {
                cuts.push(cut(CutKind::Mortise, cuboid([x, y - 12.0, -1.0], [x + 8.0, y + 12.0, 12.0])));
            }
        }
        cuts.push(cut(CutKind::Groove, cuboid([-1.0, 276.0, -1.0], [430.0, 282.5, 8.0])));
        for y in [60.0, 147.0, 240.0] {
            cuts.push(cut(CutKind::AccessHole, bore([385.0, y], 7.5, -1.0, 10.0)));
        }
        part(1, "Left side", [420.0, 294.0, 18.0], cuts)
    };
    let bottom = {
        let mut cuts = Vec::new();
        for y in [32.0, 137.0, 242.0] {
            cuts.push(cut(CutKind::Mortise, cuboid([-1.0, y - 12.0, 5.0], [21.0, y + 12.0, 13.0])));
            cuts.push(cut(CutKind::Mortise, cuboid([864.0 - 21.0, y - 12.0, 5.0], [865.0, y + 12.0, 13.0])));
            cuts.push(cut(CutKind::Mortise, cuboid([518.0, y - 12.0, 12.0 - 6.0], [526.0, y + 12.0, 19.0])));
        }
        cuts.push(cut(CutKind::Groove, cuboid([-1.0, 276.0, 10.0], [870.0, 282.5, 19.0])));
        part(2, "Bottom", [864.0, 294.0, 18.0], cuts)
    };
    let shelf = {
        let mut cuts = Vec::new();
        for x in [100.0, 130.0, 300.0, 410.0] {
            cuts.push(cut(CutKind::Hole, bore([x, 60.0], 2.5, -1.0, 12.0)));
            cuts.push(cut(CutKind::Hole, bore([x, 200.0], 2.5, -1.0, 12.0)));
        }
        cuts.push(cut(CutKind::Housing, cuboid([200.0, 12.0, -1.0], [218.0, 300.0, 6.0])));
        cuts.push(cut(CutKind::Notch, cuboid([480.0, -1.0, -1.0], [520.0, 40.0, 20.0])));
        part(3, "Pierced shelf", [513.0, 270.0, 18.0], cuts)
    };
    let mut stile = part(
        4,
        "Left stile",
        [637.0, 40.0, 22.0],
        vec![
            far_mitre([637.0, 40.0, 22.0]),
            Cut {
                stage: Stage::AfterGlueUp,
                ..cut(CutKind::Rebate, cuboid([-1.0, -1.0, 10.0], [640.0, 9.5, 23.0]))
            },
        ],
    );
    stile.stock = StockId(1);
    let stock = |name: &str, kind| Stock { name: name.into(), kind, density: None, origin: origin() };
    let job = Job {
        head: JobHead::default(),
        unit: Unit::Mm,
        sizes: Vec::new(),
        stock: vec![
            stock(
                "Ash plywood",
                StockKind::Sheet { thick: 18.0, called: None, sizes: Vec::new(), grain: Grain::Length },
            ),
            stock(
                "Ash",
                StockKind::Board {
                    edge: 0.0,
                    thick: vec![27.0],
                    lengths: Vec::new(),
                    longest: None,
                    widest: None,
                    usual: None,
                    widths: Vec::new(),
                    on_hand: Vec::new(),
                    price: None,
                    species: None,
                },
            ),
        ],
        pieces: vec![Piece {
            name: "Cabinet".into(),
            count: 1,
            hung: None,
            left: None,
            floor: None,
            origin: origin(),
        }],
        parts: Vec::new(),
        works: Vec::new(),
        grain_runs: Vec::new(),
        already_cut: std::collections::BTreeMap::new(),
        cutting: rodwright::model::Cutting::default(),
        order: rodwright::model::OrderAsked::default(),
        load: None,
        site: None,
        obstacles: Vec::new(),
        scribes: Vec::new(),
        notes: Vec::new(),
        finish: None,
        sold: Vec::new(),
    };
    (job, WorkedJob { parts: vec![side, bottom, shelf, stile], joints: Vec::new() })
}

/// A part with cuts of many kinds, placed by lot.
pub(super) fn by_lot(number: u32, lot: &mut Lot) -> WorkedPart {
    let size = [lot.between(60.0, 1900.0), lot.between(30.0, 600.0), lot.between(9.0, 44.0)];
    let [l, w, t] = size;
    let mut cuts = Vec::new();
    let depth = (t * 0.4).round();
    let faces = [(-1.0, depth), (t - depth, t + 1.0)];
    for _ in 0..lot.of(3) {
        let (z0, z1) = faces[lot.of(2)];
        let (n, x) = (1 + lot.of(4), lot.between(10.0, l - 20.0));
        let (y0, pitch) = (lot.between(14.0, w / 3.0), lot.between(12.0, w / 6.0 + 12.0));
        for i in 0..n {
            let y = y0 + pitch * i as f64;
            if y + 10.0 < w {
                cuts.push(cut(CutKind::Mortise, cuboid([x, y - 10.0, z0], [x + 8.0, y + 10.0, z1])));
            }
        }
    }
    for _ in 0..lot.of(3) {
        let (z0, z1) = faces[lot.of(2)];
        for _ in 0..=lot.of(5) {
            let at = [lot.between(6.0, l - 6.0), lot.between(6.0, w - 6.0)];
            cuts.push(cut(CutKind::Hole, bore(at, 2.5, z0, z1)));
        }
    }
    if lot.of(2) == 0 {
        let y = lot.between(5.0, w - 15.0);
        cuts.push(cut(CutKind::Groove, cuboid([-1.0, y, -1.0], [l + 1.0, y + 6.5, depth])));
    }
    if lot.of(2) == 0 {
        cuts.push(cut(CutKind::Rebate, cuboid([-1.0, w - 9.0, t - depth], [l + 1.0, w + 1.0, t + 1.0])));
    }
    for _ in 0..lot.of(3) {
        let x = lot.between(8.0, l - 30.0);
        let stop = if lot.of(2) == 0 { 12.0 } else { -1.0 };
        cuts.push(cut(CutKind::Housing, cuboid([x, stop, -1.0], [x + 18.0, w + 1.0, (t * 0.3).round()])));
    }
    if lot.of(3) == 0 {
        for y in [w * 0.25, w * 0.5, w * 0.75] {
            let y = y.round();
            let z = (t / 2.0).round();
            cuts.push(cut(CutKind::Mortise, cuboid([-1.0, y - 6.0, z - 3.0], [20.0, y + 6.0, z + 3.0])));
            cuts.push(cut(
                CutKind::Mortise,
                cuboid([l - 20.0, y - 6.0, z - 3.0], [l + 1.0, y + 6.0, z + 3.0]),
            ));
        }
    }
    if lot.of(4) == 0 {
        cuts.push(cut(CutKind::Notch, cuboid([l - 25.0, -1.0, -1.0], [l + 1.0, 20.0, t + 1.0])));
    }
    if lot.of(4) == 0 {
        cuts.push(far_mitre(size));
    }
    part(number, &format!("Part by lot {number}"), size, cuts)
}
