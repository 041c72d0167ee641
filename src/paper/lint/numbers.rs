//! Rules for numbers beside the pictures of steps.

use kurbo::{Point, Rect};

use super::finding::Add;
use super::scene::{Piece, Scene};
use crate::paper::Role;

/// Nearer than this to an end of a leader a line is met and not crossed, mm.
const MET: f64 = 0.2;
/// Leaders rise over at most this of their length where they are pushed aside; one that
/// leans more has no other side, as a share.
const LEVEL: f64 = 0.5;

/// D28: in the picture of a step the leader of a number runs across more parts than it
/// would from the other side, as across a pane to the stile beyond it.
pub(super) fn across_parts(scene: &Scene<'_>, add: &mut Add<'_>) {
    for leader in scene.pieces.iter().filter(|piece| scene.mark(piece.mark).role == Role::Leader) {
        let shows = &scene.mark(leader.mark).shows;
        let run = leader.b - leader.a;
        if shows.view != 0 || shows.part.is_empty() || run.y.abs() > LEVEL * run.x.abs() {
            continue;
        }
        let now = crossed(scene, leader, &shows.part);
        let Some(end) = side(scene, leader.b, run.x.signum()) else { continue };
        let other = Piece { a: end, b: leader.b, mark: leader.mark };
        if now.len() > crossed(scene, &other, &shows.part).len() {
            let message = format!(
                "the leader of `{}` runs across {}: fewer stand at its other side",
                shows.part,
                now.join(", ")
            );
            add("D28", leader.b, message);
        }
    }
}

/// Where the cell of a picture ends, level from a point; `None` outside a cell.
fn side(scene: &Scene<'_>, from: Point, way: f64) -> Option<Point> {
    let rules = scene.pieces.iter().filter(|piece| scene.mark(piece.mark).role == Role::Table);
    let beside = rules.filter(|piece| {
        let upright = (piece.a.x - piece.b.x).abs() < MET;
        upright && (piece.a.y > from.y) != (piece.b.y > from.y) && (piece.a.x - from.x) * way > 0.0
    });
    let x = beside.map(|piece| piece.a.x).min_by(|a, b| (a - from.x).abs().total_cmp(&(b - from.x).abs()))?;
    Some(Point::new(x, from.y))
}

/// The parts that a leader crosses, but for the one it names.
fn crossed<'s>(scene: &'s Scene<'_>, leader: &Piece, own: &str) -> Vec<&'s str> {
    let mut near = Vec::new();
    scene.near(Rect::from_points(leader.a, leader.b), &mut near);
    let mut parts: Vec<&str> = near
        .iter()
        .filter_map(|n| scene.pieces.get(*n as usize))
        .filter(|piece| scene.mark(piece.mark).role == Role::Pictorial && crosses(leader, piece))
        .map(|piece| scene.mark(piece.mark).shows.part.as_str())
        .filter(|part| *part != own)
        .collect();
    parts.sort_unstable();
    parts.dedup();
    parts
}

/// Whether a line runs through a leader, not at its ends.
fn crosses(leader: &Piece, line: &Piece) -> bool {
    let run = leader.b - leader.a;
    let long = run.hypot();
    let (a, b) = (run.cross(line.a - leader.a), run.cross(line.b - leader.a));
    if a * b >= 0.0 || long < MET {
        return false;
    }
    let at = line.a.lerp(line.b, a / (a - b));
    let along = (at - leader.a).dot(run) / long;
    along > MET && along < long - MET
}
