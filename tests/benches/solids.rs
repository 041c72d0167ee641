//! What carving and seeing cost: `cargo bench --bench solids`.

#![allow(clippy::unwrap_used, reason = "a bench that cannot make its input has failed")]
#![allow(clippy::print_stdout, reason = "a bench prints its figures")]

#[path = "timer.rs"]
mod timer;

use std::hint::black_box;

use rodwright::geometry::{DVec3, Placement};
use rodwright::solid::{Body, Camera, HiddenLines, Prism, Solid, Viewed, carve, view};
use timer::time;

/// A board with grooves, mortises, holes and mitred ends in turn.
fn part(number: usize, cuts: usize) -> (Body, Vec<Prism>) {
    let (long, wide, thick) = (300.0 + 37.0 * (number % 11) as f64, 60.0 + 13.0 * (number % 7) as f64, 18.0);
    let body = Body::Prism(Prism::cuboid(DVec3::ZERO, DVec3::new(long, wide, thick)));
    let cut = |k: usize| {
        let x = 20.0 + (long - 60.0) * (k as f64 * 0.618).fract();
        let y = 10.0 + (wide - 30.0) * (k as f64 * 0.414).fract();
        let side = if k.is_multiple_of(2) { -1.0 } else { 10.0 };
        match (number + k) % 5 {
            0 => Prism::hole(DVec3::new(x, y, -1.0), DVec3::Z, 30.0, 8.0).unwrap(),
            1 => Prism::cuboid(DVec3::new(-1.0, y, side), DVec3::new(long + 1.0, y + 6.0, side + 9.0)),
            2 => Prism::cuboid(DVec3::new(x, y, side), DVec3::new(x + 20.0, y + 8.0, side + 9.0)),
            3 => Prism::hole(DVec3::new(x, -1.0, 9.0), DVec3::Y, 25.0, 5.0).unwrap(),
            _ if k < 2 => Prism::half_space(DVec3::ZERO, DVec3::new(-1.0, 0.0, 1.0)).unwrap(),
            _ => Prism::cuboid(DVec3::new(x, -1.0, -1.0), DVec3::new(x + 18.0, 9.0, 25.0)),
        }
    };
    (body, (0..cuts).map(cut).collect())
}

/// Parts standing in rows, each partly before the next.
fn standing(solids: &[Solid]) -> Vec<Viewed<'_>> {
    let place = |k: usize| {
        Placement::IDENTITY.moved(DVec3::new(90.0 * (k % 8) as f64, 25.0 * k as f64, 30.0 * (k / 8) as f64))
    };
    solids.iter().enumerate().map(|(k, solid)| Viewed { solid, at: place(k), tag: k }).collect()
}

fn carved(parts: usize, cuts: usize) -> Vec<Solid> {
    let made = |i| {
        let (body, cuts) = part(i, cuts);
        carve(&body, &cuts).unwrap()
    };
    (0..parts).map(made).collect()
}

fn carving() {
    for cuts in [0, 5, 10, 20] {
        // Twelve parts of differing shape each time.
        let parts: Vec<_> = (0..12).map(|i| part(i, cuts)).collect();
        time(&format!("carve 12 parts, {cuts} cuts each"), || {
            parts.iter().map(|(body, cuts)| carve(body, cuts).unwrap().faces.len()).sum::<usize>()
        });
    }
}

fn seeing() {
    for parts in [6, 60] {
        let solids = carved(parts, 8);
        let items = standing(&solids);
        for (name, camera) in [("front", Camera::FRONT), ("isometric", Camera::isometric())] {
            time(&format!("view {parts} parts, {name}"), || {
                view(black_box(&items), camera, HiddenLines::Show).len()
            });
        }
    }
}

/// The work of a cabinet's set: thirty parts carved, three views of each, and
/// four of the whole. To be under 150 ms.
fn cabinet() {
    let parts: Vec<_> = (0..30).map(|i| part(i, 6)).collect();
    time("cabinet of 30 parts", || {
        let solids: Vec<Solid> = parts.iter().map(|(body, cuts)| carve(body, cuts).unwrap()).collect();
        let items = standing(&solids);
        let square = [Camera::FRONT, Camera::TOP, Camera::LEFT];
        let single: usize = items
            .iter()
            .flat_map(|item| square.map(|cam| view(&[*item], cam, HiddenLines::Show).len()))
            .sum();
        let whole: usize = square.map(|cam| view(&items, cam, HiddenLines::Show).len()).iter().sum();
        single + whole + view(&items, Camera::isometric(), HiddenLines::Drop).len()
    });
}

fn main() {
    carving();
    seeing();
    cabinet();
}
