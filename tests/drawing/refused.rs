//! What no paper holds and what leaves nothing to draw.

use rodwright::draw;
use rodwright::drawing::{Look, Paper, Profile};
use rodwright::joinery::WorkedJob;
use rodwright::measure::Unit;
use rodwright::problem::Problem;

use crate::support::golden::{golden, without_places};
use crate::support::pieces::Bench;
use crate::support::scripts::made;

/// Problems of the sheets of a script on A4.
fn found(text: &str) -> Vec<Problem> {
    let (job, worked) = made(text);
    draw(&job, &worked, &Look::new(Paper::A4, Unit::Mm, Profile::Iso)).problems
}

/// A piece far larger than a script can ask for.
fn huge() -> Vec<Problem> {
    let mut bench = Bench::new("Hall", "Hall");
    bench.part("Slab", 2, [[0.0, 90_000.0], [0.0, 90_000.0], [0.0, 90_000.0]], 0);
    let (job, worked) = bench.done();
    draw(&job, &worked, &Look::new(Paper::A4, Unit::Mm, Profile::Iso)).problems
}

/// A job whose parts are all gone.
fn bare() -> Vec<Problem> {
    let (job, _) = Bench::new("Hall", "Hall").done();
    draw(&job, &WorkedJob::default(), &Look::new(Paper::A4, Unit::Mm, Profile::Iso)).problems
}

#[test]
fn what_cannot_be_drawn_is_said() {
    let board = "job(\"Test\");\nlet ash = board_stock(\"Ash\");\npiece(\"Counter\");\n\
        let top = board(\"Top\", ash, #{ x: [0, 2400], y: [0, 1200], z: [0, 40], grain: \"x\" });\n\
        outline(top, \"top\", #{ points: [[0, 0], [2400, 0], [2400, 1000], #{ at: [1200, 1000], rise: 120 }, [0, 1000]] });\n";
    let only = |code: &str, problems: &[Problem]| -> String {
        let problems: Vec<Problem> = problems.iter().filter(|p| p.code == code).cloned().collect();
        without_places(&problems)
    };
    let cases = [
        ("larger than any scale", only("does-not-fit-paper", &huge())),
        ("no parts", only("nothing-to-draw", &bare())),
        ("template of too many tiles", only("template-too-large", &found(board))),
    ];
    golden(file!(), &cases);
}
