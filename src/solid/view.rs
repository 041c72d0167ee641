//! What is seen of some solids from one direction, hidden lines apart.
//!
//! An edge is tried against every face in front of it, just left and just
//! right of itself: it is hidden where it is hidden on both sides. So edges
//! that lie exactly along other edges need no special case.

use super::lines::{self, Stretch};
use super::tolerance::{DEPTH, LEAST_CELL, LEAST_SEGMENT, ON_LINE};
use super::view_line::{LineKind, ViewLine};
use super::{Face, Provenance, Solid};
use crate::geometry::tolerance::{HAIR, NOISE, NOTHING};
use crate::geometry::{DVec2, DVec3, Placement};

/// A solid where it stands.
#[derive(Clone, Copy, Debug)]
pub struct Viewed<'a> {
    /// The solid, in its own coordinates.
    pub solid: &'a Solid,
    /// Where it stands.
    pub at: Placement,
    /// Handed back with every line of it.
    pub tag: usize,
}

/// A parallel view. Drawing x runs along `right`, drawing y along `up`; the
/// viewer stands at `right` cross `up`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Camera {
    /// Unit vector to the right of the drawing.
    pub right: DVec3,
    /// Unit vector up the drawing, square to `right`.
    pub up: DVec3,
    /// Drawing length of a length square to the line of sight.
    pub zoom: f64,
}

/// Whether hidden lines are wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HiddenLines {
    /// Given, marked as hidden.
    Show,
    /// Left out.
    Drop,
}

impl Camera {
    const fn square(right: DVec3, up: DVec3) -> Self {
        Self { right, up, zoom: 1.0 }
    }
    /// From before the piece, looking to the back.
    pub const FRONT: Self = Self::square(DVec3::X, DVec3::Z);
    /// From behind.
    pub const BACK: Self = Self::square(DVec3::NEG_X, DVec3::Z);
    /// From the left, looking right.
    pub const LEFT: Self = Self::square(DVec3::NEG_Y, DVec3::Z);
    /// From the right, looking left.
    pub const RIGHT: Self = Self::square(DVec3::Y, DVec3::Z);
    /// From above, the front at the bottom of the drawing.
    pub const TOP: Self = Self::square(DVec3::X, DVec3::Y);
    /// From below, the front at the top of the drawing.
    pub const BOTTOM: Self = Self::square(DVec3::X, DVec3::NEG_Y);

    /// Isometric from the front, right and above, drawn with true lengths along
    /// the axes: the parallel projection shortens them by sqrt(2/3) = 0.816
    /// (ISO 5456-3), and the drawing is enlarged to undo that.
    pub fn isometric() -> Self {
        let (half, sixth) = (0.5_f64.sqrt(), (1.0_f64 / 6.0).sqrt());
        Self {
            right: DVec3::new(half, half, 0.0),
            up: DVec3::new(-sixth, sixth, 2.0 * sixth),
            zoom: 1.5_f64.sqrt(),
        }
    }

    /// Unit vector towards the viewer.
    pub fn toward(&self) -> DVec3 {
        self.right.cross(self.up)
    }

    /// Where a point falls on the drawing, mm, y up.
    pub fn project(&self, p: DVec3) -> DVec2 {
        DVec2::new(self.right.dot(p), self.up.dot(p)) * self.zoom
    }
}

/// A face that can hide something: its rings on the drawing and its depth
/// (towards the viewer) as a linear function of the drawing point.
struct Occluder {
    rings: Vec<Flat>,
    /// Its rings by place, where there are many.
    index: Option<Grid>,
    /// The box round all of it.
    around: Reach,
    nearest: f64,
    slope: DVec2,
    at_origin: f64,
    id: (usize, u32),
}

/// A ring on the drawing and the box round it.
struct Flat {
    points: Vec<DVec2>,
    around: Reach,
}

/// A box on the drawing.
#[derive(Clone, Copy)]
struct Reach {
    low: DVec2,
    high: DVec2,
}

impl Reach {
    const NONE: Self = Self { low: DVec2::INFINITY, high: DVec2::NEG_INFINITY };

    fn of(points: &[DVec2]) -> Self {
        points.iter().fold(Self::NONE, |all, &p| all.with(Self { low: p, high: p }))
    }

    fn with(self, other: Self) -> Self {
        Self { low: self.low.min(other.low), high: self.high.max(other.high) }
    }

    /// Whether it lies clear of another by more than the on-line tolerance.
    fn clear_of(self, other: Self) -> bool {
        let margin = DVec2::splat(ON_LINE);
        self.low.cmpgt(other.high + margin).any() || self.high.cmplt(other.low - margin).any()
    }

    /// Whether it lies wholly to one side of a line, by more than that.
    fn beside(self, origin: DVec2, dir: DVec2) -> bool {
        let across = dir.perp();
        let spread = 0.5 * (self.high - self.low).dot(across.abs());
        across.dot(0.5 * (self.low + self.high) - origin).abs() > spread + ON_LINE
    }
}

/// An edge waiting to be judged.
struct Candidate {
    a: DVec2,
    b: DVec2,
    depth: [f64; 2],
    silhouette: bool,
    /// Both faces turned away: hidden without a test.
    away: bool,
    item: usize,
    own: [u32; 2],
    faces: [Provenance; 2],
}

/// The lines of `items` seen by `camera`: visible before hidden, each place
/// drawn once, pieces in one line joined.
pub fn view(items: &[Viewed<'_>], camera: Camera, hidden: HiddenLines) -> Vec<ViewLine> {
    let (occluders, edges) = project(items, camera, hidden);
    let grid = Grid::new(&occluders.iter().map(|face| face.around).collect::<Vec<_>>());
    let mut found = Vec::new();
    let mut desk = Desk::default();
    for edge in &edges {
        let length = edge.a.distance(edge.b);
        let covered = if edge.away {
            vec![(0.0, length)]
        } else {
            grid.near(edge.a, edge.b, &mut desk.near);
            hidden_stretches(edge, length, &occluders, &mut desk)
        };
        let at = |t: f64| edge.a + (edge.b - edge.a) * (t / length);
        let mut push = |from: f64, to: f64, is_hidden: bool| {
            if to - from < LEAST_SEGMENT || (is_hidden && hidden == HiddenLines::Drop) {
                return;
            }
            let kind = match (is_hidden, edge.silhouette) {
                (false, false) => LineKind::Visible,
                (false, true) => LineKind::VisibleSilhouette,
                (true, false) => LineKind::Hidden,
                (true, true) => LineKind::HiddenSilhouette,
            };
            let tag = items[edge.item].tag;
            found.push(ViewLine { a: at(from), b: at(to), kind, tag, faces: edge.faces });
        };
        let mut from = 0.0;
        for (low, high) in covered {
            push(from, low, false);
            push(low, high, true);
            from = high;
        }
        push(from, length, false);
    }
    lines::tidy(&found)
}

/// Front faces and edges on the drawing.
fn project(items: &[Viewed<'_>], camera: Camera, hidden: HiddenLines) -> (Vec<Occluder>, Vec<Candidate>) {
    let toward = camera.toward();
    let (mut occluders, mut edges) = (Vec::new(), Vec::new());
    for (item, it) in items.iter().enumerate() {
        let space: Vec<DVec3> = it.solid.points.iter().map(|&p| it.at.point(p)).collect();
        let flat: Vec<DVec2> = space.iter().map(|&p| camera.project(p)).collect();
        let facing: Vec<f64> = it.solid.faces.iter().map(|f| it.at.dir(f.plane.normal).dot(toward)).collect();
        for (f, face) in (0..).zip(&it.solid.faces) {
            if facing[f as usize] > HAIR {
                let slope = slope(it.at.dir(face.plane.normal), facing[f as usize], camera);
                occluders.push(occluder(face, (item, f), slope, (&space, &flat), toward));
            }
        }
        for e in &it.solid.edges {
            let [f, g] = e.faces.map(|i| facing[i as usize] > NOISE);
            let (a, b) = (e.a as usize, e.b as usize);
            let away = !f && !g;
            if (e.smooth && f == g)
                || (away && hidden == HiddenLines::Drop)
                || flat[a].distance(flat[b]) < LEAST_SEGMENT
            {
                continue;
            }
            edges.push(Candidate {
                a: flat[a],
                b: flat[b],
                depth: [toward.dot(space[a]), toward.dot(space[b])],
                silhouette: e.smooth,
                away,
                item,
                own: e.faces,
                faces: e.faces.map(|i| it.solid.faces[i as usize].from),
            });
        }
    }
    // Nearest first: what hides an edge whole is soon found, and what lies
    // behind it ends the search.
    occluders.sort_by(|a, b| b.nearest.total_cmp(&a.nearest).then(a.id.cmp(&b.id)));
    (occluders, edges)
}

/// How the depth of a face rises over the drawing. `facing` is how far its unit normal
/// looks to the viewer: the more it looks aside, the steeper it is.
pub(super) fn slope(normal: DVec3, facing: f64, camera: Camera) -> DVec2 {
    -DVec2::new(normal.dot(camera.right), normal.dot(camera.up)) / (facing * camera.zoom)
}

/// A face that looks to the viewer, from the corners of its solid in space and on the
/// drawing.
fn occluder(
    face: &Face,
    id: (usize, u32),
    slope: DVec2,
    corners: (&[DVec3], &[DVec2]),
    toward: DVec3,
) -> Occluder {
    let (space, flat) = corners;
    let rings = face.loops.iter().map(|r| {
        let points: Vec<DVec2> = r.iter().map(|&i| flat[i as usize]).collect();
        Flat { around: Reach::of(&points), points }
    });
    let rings: Vec<Flat> = rings.collect();
    // A face has a first ring, and a ring a first corner: the kernel makes no others.
    let first = face.loops[0][0] as usize;
    let indices = face.loops.iter().flatten().map(|&i| i as usize);
    let index = (rings.len() > MANY_RINGS)
        .then(|| Grid::new(&rings.iter().map(|ring| ring.around).collect::<Vec<_>>()));
    Occluder {
        around: rings.iter().fold(Reach::NONE, |all, r| all.with(r.around)),
        rings,
        index,
        nearest: indices.map(|i| toward.dot(space[i])).fold(f64::NEG_INFINITY, f64::max),
        slope,
        at_origin: toward.dot(space[first]) - slope.dot(flat[first]),
        id,
    }
}

/// Rings of a face from which on they are found by their place: a panel full of holes has
/// thousands, of which an edge meets a few.
const MANY_RINGS: usize = 32;

/// What is worked on for one edge after another, kept so that an edge need not
/// ask for memory of its own.
#[derive(Default)]
struct Desk {
    /// The occluders near the edge.
    near: Near,
    /// The rings of one of them near the edge.
    rings: Near,
    /// Where it crosses the border of one of them, just left and just right.
    crossings: [Vec<f64>; 2],
    /// Where it is hidden, just left and just right.
    sides: [Vec<Stretch>; 2],
}

/// Where along an edge (0 to its drawn length) something hides it.
fn hidden_stretches(edge: &Candidate, length: f64, all: &[Occluder], desk: &mut Desk) -> Vec<Stretch> {
    let dir = (edge.b - edge.a) / length;
    let deepest = edge.depth[0].min(edge.depth[1]);
    let reach = Reach::of(&[edge.a, edge.b]);
    let along = Along { from: edge.a, to: edge.b, dir, reach };
    let Desk { near, rings, crossings, sides } = desk;
    sides.iter_mut().for_each(Vec::clear);
    for &n in &near.out {
        let face = &all[n as usize];
        if face.nearest <= deepest + DEPTH {
            break;
        }
        let apart = face.around.clear_of(reach) || face.around.beside(edge.a, dir);
        if apart || (face.id.0 == edge.item && edge.own.contains(&face.id.1)) {
            continue;
        }
        // How far the face stands before the edge, at both its ends.
        let gap = |end: usize, p: DVec2| face.at_origin + face.slope.dot(p) - edge.depth[end] - DEPTH;
        let Some(front) = positive(gap(0, edge.a), gap(1, edge.b), length) else { continue };
        cross(face, &along, rings, crossings);
        let mut whole = 0;
        for (crossings, side) in crossings.iter_mut().zip(sides.iter_mut()) {
            for pair in crossings.chunks_exact(2) {
                let (low, high) = (pair[0].max(front.0).max(0.0), pair[1].min(front.1).min(length));
                whole += usize::from(low <= 0.0 && high >= length);
                if high - low > LEAST_SEGMENT * 0.5 {
                    side.push((low, high));
                }
            }
        }
        // No two stretches of one side can both be the whole edge.
        if whole == 2 {
            return vec![(0.0, length)];
        }
    }
    let [left, right] = sides;
    lines::join(left);
    lines::join(right);
    let mut hidden = lines::common(left, right);
    hidden.retain(|s| s.1 - s.0 >= LEAST_SEGMENT);
    hidden
}

/// The part of 0..length where a linear function from `a` to `b` is positive.
fn positive(a: f64, b: f64, length: f64) -> Option<Stretch> {
    match (a > 0.0, b > 0.0) {
        (true, true) => Some((0.0, length)),
        (false, false) => None,
        (true, false) => Some((0.0, length * a / (a - b))),
        (false, true) => Some((length * a / (a - b), length)),
    }
}

/// An edge on the drawing.
struct Along {
    from: DVec2,
    to: DVec2,
    /// Unit vector from the one to the other.
    dir: DVec2,
    /// The box round it.
    reach: Reach,
}

/// Where the line along an edge enters and leaves a face, rising: once as it runs a little
/// left of where it is, once a little right. It need hold only within the box round the
/// edge.
fn cross(face: &Occluder, along: &Along, near: &mut Near, crossings: &mut [Vec<f64>; 2]) {
    crossings.iter_mut().for_each(Vec::clear);
    // A ring wholly to one side is not crossed, and no point of the edge lies
    // within one that is clear of it; a face of one ring has been looked at as a
    // whole.
    let met = |r: &Reach| !r.clear_of(along.reach) && !r.beside(along.from, along.dir);
    let alone = face.rings.len() == 1;
    if let Some(index) = &face.index {
        index.near(along.from, along.to, near);
        for ring in near.out.iter().map(|i| &face.rings[*i as usize]).filter(|ring| met(&ring.around)) {
            cross_ring(&ring.points, along, crossings);
        }
    } else {
        for ring in face.rings.iter().filter(|ring| alone || met(&ring.around)) {
            cross_ring(&ring.points, along, crossings);
        }
    }
    for crossings in crossings {
        crossings.sort_unstable_by(f64::total_cmp);
    }
}

/// Adds where the line along an edge crosses one ring.
fn cross_ring(ring: &[DVec2], &Along { from: origin, dir, .. }: &Along, crossings: &mut [Vec<f64>; 2]) {
    let Some(&last) = ring.last() else { return };
    let mut before = last - origin;
    let mut before_side = dir.perp_dot(before);
    for &p in ring {
        let here = p - origin;
        let side = dir.perp_dot(here);
        let crossed = [ON_LINE, -ON_LINE].map(|limit| (before_side > limit) != (side > limit));
        if crossed != [false; 2] {
            let share = if (before_side - side).abs() < NOTHING {
                0.5
            } else {
                (before_side / (before_side - side)).clamp(0.0, 1.0)
            };
            let at = dir.dot(before + (here - before) * share);
            for (crossings, _) in crossings.iter_mut().zip(crossed).filter(|(_, crossed)| *crossed) {
                crossings.push(at);
            }
        }
        (before, before_side) = (here, side);
    }
}

/// Boxes by cells of the drawing: of occluders, or of the rings of one.
struct Grid {
    low: DVec2,
    cell: DVec2,
    /// Cells along each side.
    side: usize,
    cells: Vec<Vec<u32>>,
    /// How many boxes there are.
    count: usize,
}

impl Grid {
    /// A grid of about as many cells as there are boxes, so that few share one.
    fn new(all: &[Reach]) -> Self {
        let Reach { low, high } = all.iter().fold(Reach::NONE, |m, around| m.with(*around));
        let side = all.len().isqrt().clamp(8, 96);
        let cell = ((high - low) / side as f64).max(DVec2::splat(LEAST_CELL));
        let mut grid = Self { low, cell, side, cells: vec![Vec::new(); side * side], count: all.len() };
        for (i, around) in (0..).zip(all) {
            let (a, b) = grid.span(around.low, around.high);
            for y in a.1..=b.1 {
                for x in a.0..=b.0 {
                    grid.cells[y * side + x].push(i);
                }
            }
        }
        grid
    }

    /// Cells that a box touches, widened by the on-line tolerance so that an
    /// edge along its border still meets it.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the grid first")]
    fn span(&self, low: DVec2, high: DVec2) -> ((usize, usize), (usize, usize)) {
        let place = |p: DVec2| {
            let q = ((p - self.low) / self.cell).clamp(DVec2::ZERO, DVec2::splat((self.side - 1) as f64));
            (q.x as usize, q.y as usize)
        };
        let margin = DVec2::splat(2.0 * ON_LINE);
        (place(low - margin), place(high + margin))
    }

    /// Boxes whose cells an edge passes, in order, each once.
    fn near(&self, a: DVec2, b: DVec2, near: &mut Near) {
        near.marked.resize(self.count.div_ceil(64), 0);
        // The lower end first, so that rows of cells are passed upwards.
        let (a, b) = if a.y <= b.y { (a, b) } else { (b, a) };
        let (low, high) = self.span(a.min(b), a.max(b));
        let rise = b.y - a.y;
        for y in low.1..=high.1 {
            // The stretch of the edge within this row, a little more at its ends.
            let foot = self.low.y + self.cell.y * y as f64;
            let share = |at: f64| ((at - a.y) / rise).clamp(0.0, 1.0);
            // The first and last rows also take what lies beyond the grid; what runs
            // level lies whole in every row it touches.
            let level = rise <= ON_LINE;
            let from = if level || y == low.1 { 0.0 } else { share(foot - 2.0 * ON_LINE) };
            let to = if level || y == high.1 { 1.0 } else { share(foot + self.cell.y + 2.0 * ON_LINE) };
            let (p, q) = (a.lerp(b, from), a.lerp(b, to));
            let (first, last) = self.span(p.min(q), p.max(q));
            for cell in &self.cells[y * self.side + first.0..=y * self.side + last.0] {
                for &i in cell {
                    near.marked[i as usize / 64] |= 1 << (i % 64);
                }
            }
        }
        near.read();
    }
}

/// What is near an edge.
#[derive(Default)]
struct Near {
    /// In order.
    out: Vec<u32>,
    /// One bit for each, so that none comes twice; all clear between edges.
    marked: Vec<u64>,
}

impl Near {
    /// Lists what is marked, and clears the marks.
    fn read(&mut self) {
        self.out.clear();
        for (first, marked) in (0..).step_by(64).zip(&mut self.marked) {
            let mut left = std::mem::take(marked);
            while left != 0 {
                self.out.push(first + left.trailing_zeros());
                left &= left - 1;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solid::{Body, Prism, carve};

    fn board(cutters: &[Prism]) -> Solid {
        carve(&Body::Prism(Prism::cuboid(DVec3::ZERO, DVec3::new(100.0, 60.0, 18.0))), cutters).unwrap()
    }

    fn seen(solid: &Solid, camera: Camera) -> (f64, f64) {
        let item = Viewed { solid, at: Placement::IDENTITY, tag: 0 };
        let lines = view(&[item], camera, HiddenLines::Show);
        let sum = |hidden| {
            lines.iter().filter(|l| l.kind.is_hidden() == hidden).map(|l| l.a.distance(l.b)).sum::<f64>()
        };
        (sum(false), sum(true))
    }

    #[test]
    fn a_board_shows_its_outline_once() {
        let (visible, hidden) = seen(&board(&[]), Camera::TOP);
        assert!((visible - 320.0).abs() < 1e-6 && hidden < 1e-6, "{visible} {hidden}");
        // Isometric: three visible faces, nine visible edges and three hidden,
        // all at true length (ISO 5456-3).
        let (visible, hidden) = seen(&board(&[]), Camera::isometric());
        assert!((visible - 3.0 * 178.0).abs() < 1e-2, "{visible}");
        assert!((hidden - 178.0).abs() < 1e-2, "{hidden}");
    }

    #[test]
    fn a_pocket_is_hidden_from_behind() {
        let solid = board(&[Prism::cuboid(DVec3::new(10.0, 10.0, 8.0), DVec3::new(40.0, 30.0, 20.0))]);
        let (visible, hidden) = seen(&solid, Camera::TOP);
        assert!((visible - 420.0).abs() < 1e-6 && hidden < 1e-6, "{visible} {hidden}");
        let (visible, hidden) = seen(&solid, Camera::BOTTOM);
        assert!((visible - 320.0).abs() < 1e-6 && (hidden - 100.0).abs() < 1e-6, "{visible} {hidden}");
        let (visible, hidden) = seen(&solid, Camera::FRONT);
        assert!((visible - 236.0).abs() < 1e-6 && (hidden - 50.0).abs() < 1e-6, "{visible} {hidden}");
    }

    #[test]
    fn a_hole_shows_no_facet_lines() {
        let hole = Prism::hole(DVec3::new(50.0, 30.0, -1.0), DVec3::Z, 30.0, 20.0).unwrap();
        let solid = board(&[hole]);
        let rim = 64.0 * 10.0 * crate::geometry::trig::sin_cos(std::f64::consts::PI / 32.0).0;
        let (visible, hidden) = seen(&solid, Camera::TOP);
        assert!((visible - 320.0 - rim).abs() < 1e-6 && hidden < 1e-6, "{visible} {hidden}");
        let (_, hidden) = seen(&solid, Camera::FRONT);
        assert!((hidden - 36.0).abs() < 1e-6, "{hidden}");
    }

    /// Forty holes that stand apart show forty times what one does, though one is looked for
    /// among all rings of its face and forty by their place.
    #[test]
    fn a_board_full_of_holes_shows_each_as_if_it_were_alone() {
        let hole = |x: u32, y: u32| {
            let at = DVec3::new(8.0 + 12.0 * f64::from(x), 6.0 + 12.0 * f64::from(y), 10.0);
            Prism::hole(at, DVec3::Z, 9.0, 5.0).unwrap()
        };
        let all: Vec<Prism> = (0..8).flat_map(|x| (0..5).map(move |y| hole(x, y))).collect();
        let full = board(&all);
        assert!(full.faces.iter().any(|face| face.loops.len() > MANY_RINGS));
        let (plain, one) = (board(&[]), board(&all[..1]));
        let askew = Camera { right: DVec3::new(0.8, 0.6, 0.0), up: DVec3::new(-0.36, 0.48, 0.8), zoom: 1.0 };
        for camera in [Camera::TOP, Camera::BOTTOM, Camera::isometric(), askew] {
            let [none, one, all] = [&plain, &one, &full].map(|solid| seen(solid, camera));
            let visible = none.0 + 40.0 * (one.0 - none.0);
            let hidden = none.1 + 40.0 * (one.1 - none.1);
            let near = |a: f64, b: f64| (a - b).abs() < 1e-3;
            assert!(near(all.0, visible) && near(all.1, hidden), "{all:?} {visible} {hidden}");
        }
    }

    /// By hand: a line from 1 to -1 over ten is positive for its first half.
    #[test]
    fn a_falling_height_is_positive_up_to_its_nought() {
        assert_eq!(positive(1.0, -1.0, 10.0), Some((0.0, 5.0)));
        assert_eq!(positive(-1.0, 3.0, 8.0), Some((2.0, 8.0)));
        assert_eq!(positive(2.0, 1.0, 8.0), Some((0.0, 8.0)));
        assert_eq!(positive(-2.0, -1.0, 8.0), None);
    }

    /// Boxes that touch are not clear of one another on any side: an edge along the
    /// border of a face may be hidden by it.
    #[test]
    fn boxes_that_touch_are_not_clear() {
        let reach = |x: f64, y: f64| Reach::of(&[DVec2::new(x, y), DVec2::new(x + 1.0, y + 1.0)]);
        let middle = reach(0.0, 0.0);
        for way in [DVec2::X, DVec2::NEG_X, DVec2::Y, DVec2::NEG_Y] {
            assert!(!middle.clear_of(reach(way.x, way.y)));
            let off = way * (1.0 + 3.0 * ON_LINE);
            assert!(middle.clear_of(reach(off.x, off.y)));
            // Beside a line through a corner of it, but for the same tolerance.
            let across = way.perp();
            let edge = DVec2::splat(0.5) + way * 0.5;
            assert!(!middle.beside(edge, across) && middle.beside(edge + way * (2.0 * ON_LINE), across));
        }
    }
}
