//! Pieces put together by hand, with joints and cuts in piece coordinates.

#![allow(dead_code, reason = "each subject uses what it needs")]

use std::sync::Arc;

use rodwright::geometry::{DVec2, DVec3, Outline, Placement};
use rodwright::joinery::{
    Cut, CutKind, Facts, Hand, Insert, Item, PartSource, Stage, Traits, WorkedJob, WorkedJoint, WorkedPart,
};
use rodwright::measure::Unit;
use rodwright::model::{
    Finish, Grain, Job, JobHead, Note, PartId, Piece, PieceId, Side, Stock, StockId, StockKind,
};
use rodwright::solid::{Body, Prism, carve};
use rodwright::source::{Origin, SourceId, Span};

/// What the order of assembly asks of the joints of a word.
fn traits(word: &str) -> Traits {
    Traits { is_drawn_together: word == "mitre", frees_panel: word == "groove", ..Traits::default() }
}

/// A place in no script.
pub(crate) fn origin() -> Origin {
    Origin { user: Span { source: SourceId(0), start: 0, end: 0 }, library: None }
}

/// A job and its parts in the making.
pub(crate) struct Bench {
    pub(crate) job: Job,
    pub(crate) worked: WorkedJob,
}

impl Bench {
    pub(crate) fn new(title: &str, piece: &str) -> Self {
        let sheet = |thick| StockKind::Sheet { thick, called: None, sizes: Vec::new(), grain: Grain::Length };
        let stock = |name: &str, kind, density| Stock {
            name: name.into(),
            kind,
            density: Some(density),
            origin: origin(),
        };
        let board = StockKind::Board {
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
        };
        let job = Job {
            head: JobHead {
                title: title.into(),
                number: Some("SRR-01".into()),
                owner: Some("Marram Workshop".into()),
                client: Some("Saltmarsh reading room".into()),
                place: Some("north wall, over the window bench".into()),
                drawn_by: Some("E. Sedge".into()),
                ..JobHead::default()
            },
            unit: Unit::Mm,
            sizes: Vec::new(),
            stock: vec![
                stock("Ash plywood", sheet(18.0), 680.0),
                stock("Ash plywood", sheet(6.0), 680.0),
                stock("Ash", board, 680.0),
                stock("Float glass", StockKind::Glass { thick: 2.0 }, 2500.0),
            ],
            pieces: vec![Piece { name: piece.into(), count: 1, hung: None, left: None, floor: None, origin: origin() }],
            parts: Vec::new(),
            works: Vec::new(),
            site: None,
            obstacles: Vec::new(),
            scribes: Vec::new(),
            grain_runs: Vec::new(),
            already_cut: std::collections::BTreeMap::new(),
        cutting: rodwright::model::Cutting::default(),
        order: rodwright::model::OrderAsked::default(),
        load: None,
            notes: vec![Note {
                text: "Hang on a wall cleat fixed to studs or plugs suited to the wall; fixings by a competent person."
                    .into(),
                pieces: Vec::new(),
                origin: origin(),
            }],
            sold: Vec::new(),
            finish: Some(Finish { what: "Hard-wax oil".into(), coats: 2, coverage: None, dries: None, origin: origin() }),
        };
        Self { job, worked: WorkedJob::default() }
    }

    /// A part that fills a box of the piece, grain along axis `grain`.
    pub(crate) fn part(&mut self, name: &str, stock: usize, spans: [[f64; 2]; 3], grain: usize) -> usize {
        let low = DVec3::from_array(spans.map(|s| s[0]));
        let high = DVec3::from_array(spans.map(|s| s[1]));
        let size = high - low;
        let axes = [DVec3::X, DVec3::Y, DVec3::Z];
        let thin = (0..3).filter(|a| *a != grain).min_by(|a, b| size[*a].total_cmp(&size[*b])).unwrap();
        let (x, z) = (axes[grain], axes[thin]);
        let y = z.cross(x);
        let pick = |axis: usize| if y[axis] < 0.0 { high[axis] } else { low[axis] };
        let at = Placement { origin: DVec3::new(pick(0), pick(1), pick(2)), x, y, z };
        let size = DVec3::new(size.dot(x), size.dot(y).abs(), size.dot(z));
        let number = self.worked.parts.len() as u32 + 1;
        self.worked.parts.push(WorkedPart {
            source: PartSource::Part(PartId(self.worked.parts.len())),
            name: name.into(),
            number,
            hand: Hand::None,
            piece: PieceId(0),
            stock: StockId(stock),
            at,
            size,
            face: Side::Right,
            edge: Side::Front,
            body: Body::Prism(Prism::cuboid(DVec3::ZERO, size)),
            cuts: Vec::new(),
            fills: Vec::new(),
            solid: Arc::default(),
            remark: None,
            origin: origin(),
        });
        self.worked.parts.len() - 1
    }

    /// A lipping on the front of part `of`.
    pub(crate) fn lipping(&mut self, of: usize, spans: [[f64; 2]; 3], grain: usize) -> usize {
        let name = format!("Lipping of {}", self.worked.parts[of].name.to_lowercase());
        let index = self.part(&name, 2, spans, grain);
        self.worked.parts[index].source = PartSource::Lipping { of, side: Side::Front };
        index
    }

    /// Cuts a prism given in piece coordinates from a part.
    pub(crate) fn cut(
        &mut self,
        part: usize,
        kind: CutKind,
        shape: Prism,
        joint: Option<usize>,
        stage: Stage,
    ) {
        let at = shape.at.seen_from(&self.worked.parts[part].at);
        let shape = Prism { at, ..shape };
        self.worked.parts[part].cuts.push(Cut { shape, kind, stage, joint, origin: origin() });
    }

    /// Relates two parts.
    pub(crate) fn joint(
        &mut self,
        word: &'static str,
        first: usize,
        second: usize,
        ways_in: &[DVec3],
        glued: bool,
    ) -> usize {
        self.worked.joints.push(WorkedJoint {
            word,
            parts: vec![first, second],
            inserts: Vec::new(),
            ways_in: ways_in.to_vec(),
            glued,
            facts: Facts::Unstated,
            traits: traits(word),
            shown_by: None,
            opens: None,
            origin: origin(),
        });
        self.worked.joints.len() - 1
    }

    /// Gives a joint its inserts.
    pub(crate) fn inserts(&mut self, joint: usize, what: &str, at: &[[f64; 3]]) {
        let at: Vec<Placement> =
            at.iter().map(|p| Placement { origin: DVec3::from_array(*p), ..Placement::IDENTITY }).collect();
        self.worked.joints[joint].inserts.push(Insert { item: Item::Named(what.into()), at, body: None });
    }

    /// Carves every part.
    pub(crate) fn done(mut self) -> (Job, WorkedJob) {
        for part in &mut self.worked.parts {
            let shapes: Vec<Prism> = part.cuts.iter().map(|cut| cut.shape.clone()).collect();
            part.solid = Arc::new(carve(&part.body, &shapes).unwrap());
        }
        (self.job, self.worked)
    }
}

/// A box of the piece.
pub(crate) fn cuboid(x: [f64; 2], y: [f64; 2], z: [f64; 2]) -> Prism {
    Prism::cuboid(DVec3::new(x[0], y[0], z[0]), DVec3::new(x[1], y[1], z[1]))
}

/// A triangle in the xz plane swept along y: what a mitre takes off.
pub(crate) fn wedge(points: [[f64; 2]; 3], y: [f64; 2]) -> Prism {
    // Frame x, z, -y: right-handed with the sweep along -y.
    let at = Placement { origin: DVec3::ZERO, x: DVec3::X, y: DVec3::Z, z: DVec3::NEG_Y };
    let points = points.map(DVec2::from_array).to_vec();
    Prism { at, outline: Outline::polygon(points), from: -y[1], to: -y[0] }
}

/// The periodicals cabinet: mitred above, tenoned below, back in a groove.
pub(crate) fn cabinet() -> (Job, WorkedJob) {
    let (w, h, d, t, lip) = (900.0, 420.0, 300.0, 18.0, 6.0);
    let mut b = Bench::new("Periodicals cabinet", "Cabinet");
    let top = b.part("Top", 0, [[0.0, w], [lip, d], [h - t, h]], 0);
    let left = b.part("Left side", 0, [[0.0, t], [lip, d], [0.0, h]], 2);
    let right = b.part("Right side", 0, [[w - t, w], [lip, d], [0.0, h]], 2);
    let bottom = b.part("Bottom", 0, [[t, w - t], [lip, d], [0.0, t]], 0);
    let post = b.part("Divider", 0, [[531.0, 549.0], [lip, d - 24.0], [t, h - t]], 2);
    let shelf = b.part("Shelf", 0, [[t, 531.0], [lip, d - 24.0], [201.0, 219.0]], 0);
    let back = b.part("Back", 1, [[10.0, w - 10.0], [d - 18.0, d - 12.0], [10.0, h - 10.0]], 0);
    b.worked.parts[left].hand = Hand::Left;
    b.worked.parts[right].hand = Hand::Right;
    b.worked.parts[right].number = b.worked.parts[left].number;
    let ml = b.joint("mitre", left, top, &[], true);
    b.cut(
        left,
        CutKind::Mitre,
        wedge([[0.0, h], [t, h - t], [t + 1.0, h + 1.0]], [-1.0, d + 1.0]),
        Some(ml),
        Stage::Loose,
    );
    b.cut(
        top,
        CutKind::Mitre,
        wedge([[0.0, h], [-1.0, h - t - 1.0], [t, h - t]], [-1.0, d + 1.0]),
        Some(ml),
        Stage::Loose,
    );
    let mr = b.joint("mitre", top, right, &[], true);
    b.cut(
        right,
        CutKind::Mitre,
        wedge([[w, h], [w - t - 1.0, h + 1.0], [w - t, h - t]], [-1.0, d + 1.0]),
        Some(mr),
        Stage::Loose,
    );
    b.cut(
        top,
        CutKind::Mitre,
        wedge([[w, h], [w - t, h - t], [w + 1.0, h - t - 1.0]], [-1.0, d + 1.0]),
        Some(mr),
        Stage::Loose,
    );
    let ys = [50.0, 150.0, 250.0];
    for (a, bb, way, at) in [
        (bottom, left, DVec3::X, [t, 9.0]),
        (bottom, right, DVec3::NEG_X, [w - t, 9.0]),
        (post, top, DVec3::NEG_Z, [540.0, h - t]),
        (post, bottom, DVec3::Z, [540.0, t]),
        (shelf, left, DVec3::X, [t, 210.0]),
        (shelf, post, DVec3::NEG_X, [531.0, 210.0]),
    ] {
        let j = b.joint("loose_tenons", a, bb, &[way], true);
        b.inserts(j, "loose tenon 8 × 40", &ys.map(|y| [at[0], y, at[1]]));
        for y in ys {
            let level = way.z == 0.0;
            let (dx, dz) = if level { (20.0, 4.0) } else { (4.0, 20.0) };
            let shape = cuboid([at[0] - dx, at[0] + dx], [y - 12.0, y + 12.0], [at[1] - dz, at[1] + dz]);
            // Blind in the side, as deep as the board allows.
            let clipped = |p: &WorkedPart| {
                let (mut lo, mut hi) = (
                    DVec3::new(at[0] - dx, y - 12.0, at[1] - dz),
                    DVec3::new(at[0] + dx, y + 12.0, at[1] + dz),
                );
                let (a0, b0) = (p.at.origin, p.at.point(p.size));
                let (a0, b0) = (a0.min(b0), a0.max(b0));
                let axis = if level { 0 } else { 2 };
                lo[axis] = lo[axis]
                    .max(a0[axis] + 4.0 * f64::from(u8::from(p.size.z > 0.0 && b0[axis] - a0[axis] < 20.0)));
                hi[axis] = hi[axis].min(b0[axis] - 4.0 * f64::from(u8::from(b0[axis] - a0[axis] < 20.0)));
                Prism::cuboid(lo, hi)
            };
            let _ = shape;
            for p in [a, bb] {
                let shape = clipped(&b.worked.parts[p]);
                b.cut(p, CutKind::Mortise, shape, Some(j), Stage::Loose);
            }
        }
    }
    let (y0, y1) = (d - 18.2, d - 11.8);
    for (p, x, z) in [
        (left, [9.5, t + 1.0], [9.5, h - 9.5]),
        (right, [w - t - 1.0, w - 9.5], [9.5, h - 9.5]),
        (top, [9.5, w - 9.5], [h - t - 1.0, h - 9.5]),
        (bottom, [9.5, w - 9.5], [9.5, t + 1.0]),
    ] {
        let j = b.joint("groove", back, p, &[], false);
        b.cut(p, CutKind::Groove, cuboid(x, [y0, y1], z), Some(j), Stage::Loose);
    }
    b.lipping(top, [[0.0, w], [0.0, lip], [h - t, h]], 0);
    b.lipping(left, [[0.0, t], [0.0, lip], [0.0, h - t]], 2);
    b.lipping(right, [[w - t, w], [0.0, lip], [0.0, h - t]], 2);
    b.lipping(bottom, [[t, w - t], [0.0, lip], [0.0, t]], 0);
    b.lipping(post, [[531.0, 549.0], [0.0, lip], [t, h - t]], 2);
    b.lipping(shelf, [[t, 531.0], [0.0, lip], [201.0, 219.0]], 0);
    b.done()
}

/// A mitred frame with loose tenons, a rebate cut after the glue-up, glass and
/// a backing in it.
pub(crate) fn frame() -> (Job, WorkedJob) {
    let (w, h, f, t) = (487.0, 661.0, 40.0, 22.0);
    let mut b = Bench::new("Notice frame", "Frame");
    let head = b.part("Head", 2, [[0.0, w], [0.0, t], [h - f, h]], 0);
    let foot = b.part("Foot", 2, [[0.0, w], [0.0, t], [0.0, f]], 0);
    let left = b.part("Left stile", 2, [[0.0, f], [0.0, t], [0.0, h]], 2);
    let right = b.part("Right stile", 2, [[w - f, w], [0.0, t], [0.0, h]], 2);
    let glass = b.part("Glass", 3, [[33.5, w - 33.5], [10.0, 12.0], [33.5, h - 33.5]], 2);
    let backing = b.part("Backing", 1, [[33.5, w - 33.5], [12.0, 18.0], [33.5, h - 33.5]], 2);
    let y = [-1.0, t + 1.0];
    let s = std::f64::consts::FRAC_1_SQRT_2;
    let corners = [
        (left, head, [0.0, h], [1.0, -1.0]),
        (head, right, [w, h], [-1.0, -1.0]),
        (right, foot, [w, 0.0], [-1.0, 1.0]),
        (foot, left, [0.0, 0.0], [1.0, 1.0]),
    ];
    for (a, c, [x, z], [dx, dz]) in corners {
        // The mitre runs from the corner inwards along (dx, dz).
        let (rail, stile) = if a == head || a == foot { (a, c) } else { (c, a) };
        let way_stile = DVec3::new(-dx * s, 0.0, dz * s);
        let way = if c == stile { -way_stile } else { way_stile };
        let j = b.joint("mitre", a, c, &[way], true);
        b.inserts(j, "loose tenon 6 × 30", &[[x + dx * f / 2.0, t / 2.0, z + dz * f / 2.0]]);
        let r = f + 5.0;
        let ordered = |mut pts: [[f64; 2]; 3]| {
            let area = (pts[1][0] - pts[0][0]) * (pts[2][1] - pts[0][1])
                - (pts[2][0] - pts[0][0]) * (pts[1][1] - pts[0][1]);
            if area < 0.0 {
                pts.swap(1, 2);
            }
            pts
        };
        let start = [x - dx * 5.0, z - dz * 5.0];
        let end = [x + dx * r, z + dz * r];
        // The rail loses what is beyond the mitre towards the stile's side.
        b.cut(
            rail,
            CutKind::Mitre,
            wedge(ordered([start, end, [start[0], end[1]]]), y),
            Some(j),
            Stage::Loose,
        );
        b.cut(
            stile,
            CutKind::Mitre,
            wedge(ordered([start, end, [end[0], start[1]]]), y),
            Some(j),
            Stage::Loose,
        );
    }
    for held in [glass, backing] {
        for member in [head, foot, left, right] {
            let j = b.joint("rebate", member, held, &[DVec3::NEG_Y], false);
            let shape = cuboid([32.0, w - 32.0], [10.0, t + 1.0], [32.0, h - 32.0]);
            b.cut(member, CutKind::Rebate, shape, Some(j), Stage::AfterGlueUp);
        }
    }
    b.done()
}
