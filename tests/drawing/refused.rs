//! What no paper holds, what leaves nothing to draw, and sheets that are not clear.

use std::fmt::Write as _;

use rodwright::drawing::{Look, Paper, Profile};
use rodwright::joinery::WorkedJob;
use rodwright::measure::Unit;
use rodwright::problem::Problem;
use rodwright::{Choices, draw, look_over};

use crate::support::golden::{golden, without_places};
use crate::support::pieces::Bench;
use crate::support::scripts::{made, request};

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

/// A block bored and notched so closely that its drawing cannot be clear: the first
/// that is said of its sheets, without the figures, which any change of a drawing
/// moves.
fn crowded() -> String {
    let mut text = String::from(
        "job(\"Test\");\nlet ash = board_stock(\"Ash\");\npiece(\"Block\");\n\
         let a = board(\"Block\", ash, #{ x: [0, 100], y: [0, 60], z: [0, 20], grain: \"x\" });\n",
    );
    for i in 0..45 {
        let (along, across) = (5 + (i * 37) % 90, 3 + (i * 29) % 53);
        writeln!(
            text,
            "hole(a, \"top\", #{{ diameter: 1.3, along: [{along}.{i:02}], across: {across}.{i:02}, depth: {}.{i:02} }});",
            1 + i / 10
        )
        .unwrap();
    }
    let choices = Choices { paper: Some(Paper::A4), ..Choices::default() };
    let (problems, _) = look_over(&request("test", text), &choices);
    let unclean = problems.iter().find(|p| p.code == "unclean-sheet").unwrap();
    let (place, _) = unclean.message.split_once(": ").unwrap();
    let figures = |word: &str| word.contains(|c: char| c.is_ascii_digit());
    let place: Vec<&str> = place.split(' ').map(|word| if figures(word) { "#" } else { word }).collect();
    let first = Problem { message: place.join(" "), ..unclean.clone() };
    without_places(&[first])
}

#[test]
fn what_cannot_be_drawn_is_said() {
    let board = "job(\"Test\");\nlet ash = board_stock(\"Ash\");\npiece(\"Counter\");\n\
        let top = board(\"Top\", ash, #{ x: [0, 9000], y: [0, 4000], z: [0, 40], grain: \"x\" });\n\
        outline(top, \"top\", #{ points: [[0, 0], [9000, 0], [9000, 3000], #{ at: [4500, 3000], rise: 450 }, [0, 3000]] });\n";
    let only = |code: &str, problems: &[Problem]| -> String {
        let problems: Vec<Problem> = problems.iter().filter(|p| p.code == code).cloned().collect();
        without_places(&problems)
    };
    let cases = [
        ("larger than any scale", only("does-not-fit-paper", &huge())),
        ("no parts", only("nothing-to-draw", &bare())),
        ("template of too many tiles", only("template-too-large", &found(board))),
        ("crowded", crowded()),
    ];
    golden(file!(), &cases);
}
