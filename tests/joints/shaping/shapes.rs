//! Holes, slots, notches, bevels, tapers and rounds take what geometry says.

use crate::support::golden::golden;
use crate::support::joints::{problem, round, shelf_and_side, worked};

#[test]
fn shaping_takes_what_geometry_says() {
    let size = 600.0 * 300.0 * 18.0;
    let quarter = 4.0 * 36.0 - round(12.0);
    for (works, gone) in [
        (
            "hole(a, \"top\", #{ diameter: 10, along: [100, 200], across: 50, depth: 12 });",
            2.0 * round(10.0) * 12.0,
        ),
        ("slot(a, \"top\", #{ along: [100, 140], width: 8 });", (32.0 * 8.0 + round(8.0)) * 18.0),
        ("notch(a, #{ x: [18, 68], y: [0, 20] });", 50.0 * 20.0 * 18.0),
        ("bevel(a, \"left\", #{ angle: 45, long: \"top\" });", 0.5 * 18.0 * 18.0 * 300.0),
        ("taper(a, \"front\", #{ by: 30, toward: \"left\", start: 100 });", 0.5 * 500.0 * 30.0 * 18.0),
        ("chamfer(a, \"top\", #{ width: 3, edges: \"front\" });", 0.5 * 9.0 * 600.0),
        (
            "round_over(a, \"top\", #{ radius: 6, edges: [\"front\", \"back\"] });",
            2.0 * 0.25 * quarter * 600.0,
        ),
        (
            "outline(a, \"top\", #{ points: [[0, 0], [600, 0], [600, 300], #{ at: [300, 300], rise: 50 }, [200, 300], [0, 300]] });",
            -1.0,
        ),
        (
            "outline(a, \"top\", #{ points: [[0, 0], [600, 0], [600, 100], [0, 300]] });",
            0.5 * 600.0 * 200.0 * 18.0,
        ),
    ] {
        let (job, problems) = worked("test", &shelf_and_side(works), &[]);
        if gone < 0.0 {
            // The arc to the outside leaves the part.
            assert!(problems.starts_with("error[off-the-part]"), "{problems}");
            continue;
        }
        assert_eq!(problems, "", "{works}");
        assert!(job.joints.is_empty());
        let left = job.parts[0].solid.volume();
        assert!(
            (size - left - gone).abs() < 1e-6 * gone.max(1000.0),
            "{works}: {} is not {gone}",
            size - left
        );
    }
}

#[test]
fn what_cannot_be_shaped_is_said_with_figures() {
    let said = |works: &str| problem(&shelf_and_side(works));
    let cases = [
        (
            "outline that crosses itself",
            said("outline(a, \"top\", #{ points: [[0, 0], [600, 300], [600, 0], [0, 300]] });"),
        ),
        ("slot shorter than wide", said("slot(a, \"top\", #{ along: [100, 104], width: 8 });")),
        ("slot without a place", said("slot(a, \"top\", #{ width: 8 });")),
    ];
    golden(file!(), &cases);
}
