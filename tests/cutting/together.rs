//! Several jobs set out together: one buying list, layouts cut from shared sheets; what
//! does not go together is kept in `together.txt`. `UPDATE=1` writes the messages anew.

use rodwright::problem::render_all;
use rodwright::{Choices, Set, set_out_together};
use serde_json::Value;

use crate::support::assert_near;
use crate::support::golden::golden;
use crate::support::scripts::request;

/// Shelves of 1100 by 390, `count` of them, of a sheet 2440 by 1220: six go on a sheet.
fn shelves(title: &str, count: u32, more: &str) -> String {
    format!(
        r#"job("{title}", #{{ unit: "mm", owner: "Marram Workshop" }});
let ply = sheet_stock("Birch plywood", #{{ thick: 18, sheet: [2440, 1220], grain: "length", price: 96 }});
piece("Shelves");
for i in 0..{count} {{
    panel(`Shelf ${{i + 1}}`, ply, #{{ x: [0, 1100], y: [0, 390], z: [i * 100, i * 100 + 18], grain: "x" }});
}}
{more}
"#
    )
}

fn set(scripts: &[String]) -> Set {
    let requests: Vec<_> = ["first.rhai", "second.rhai"]
        .iter()
        .zip(scripts)
        .map(|(name, script)| request(name, script.clone()))
        .collect();
    set_out_together(&requests, &Choices::default())
}

fn list(set: &Set, name: &str) -> Value {
    serde_json::from_slice(&set.files.iter().find(|file| file.name == name).unwrap().bytes).unwrap()
}

fn sheets(set: &Set) -> f64 {
    list(set, "-buying-list.json")["lines"][0]["quantity"].as_f64().unwrap()
}

/// Eight shelves take two sheets, and four one; all twelve together two and not three.
#[test]
fn two_jobs_share_their_sheets() {
    let (eight, four) = (shelves("Reading room", 8, ""), shelves("Hall", 4, ""));
    assert_eq!(
        (sheets(&set(std::slice::from_ref(&eight))), sheets(&set(std::slice::from_ref(&four)))),
        (2.0, 1.0)
    );
    let both = set(&[eight, four]);
    assert_near(sheets(&both), 2.0, 1e-9);
    let parts = list(&both, "-cutting-list.json")["parts"].clone();
    let made: u64 = parts.as_array().unwrap().iter().map(|row| row["quantity"].as_u64().unwrap()).sum();
    assert_eq!(made, 12);
}

/// One job together with none is the job itself, byte for byte.
#[test]
fn one_job_alone_is_itself() {
    let script = shelves("Reading room", 3, "");
    let alone = rodwright::set_out(&request("first.rhai", script.clone()), &Choices::default());
    assert_eq!(set(&[script]).files, alone.files);
}

#[test]
fn jobs_that_do_not_go_together_are_refused() {
    let first = shelves("Reading room", 2, "finish(\"Hard-wax oil\", #{ coats: 2 });");
    let inches =
        shelves("Hall", 2, "").replace("\"mm\"", "\"in\"").replace("1100", "43").replace("390", "15");
    let cases = [
        (
            "two units",
            inches
                .replace("i * 100", "i * 4")
                .replace("+ 18", "+ 0.75")
                .replace("thick: 18", "thick: 0.75")
                .replace("[2440, 1220]", "[96, 48]"),
        ),
        ("two finishes", shelves("Hall", 2, "finish(\"Lacquer\", #{ coats: 3 });")),
        ("a stock of another price", shelves("Hall", 2, "").replace("price: 96", "price: 104")),
    ];
    let said = cases.map(|(name, second)| {
        let mut set = set(&[first.clone(), second]);
        assert!(set.files.is_empty(), "{name}");
        set.problems.retain(|problem| problem.code == "jobs-differ");
        (name, render_all(&set.problems, &set.sources))
    });
    golden(file!(), &said);
}

/// A longer search is never dearer, and the usual one is what is done where nothing is said.
#[test]
fn a_longer_search_is_no_dearer() {
    let parts: Vec<String> = (0..24)
        .map(|i| {
            let (long, wide) = (310 + 97 * i % 640, 120 + 53 * i % 330);
            format!(
                "panel(\"Panel {i}\", ply, #{{ x: [0, {long}], y: [0, {wide}], z: [{z}, {z} + 18], grain: \"x\" }});",
                z = 4000 + i * 50
            )
        })
        .collect();
    let script = shelves("Reading room", 5, &parts.join("\n"));
    let with = |effort| {
        let choices = Choices { effort, ..Choices::default() };
        rodwright::set_out(&request("first.rhai", script.clone()), &choices)
    };
    let [usual, said, longer] = [None, Some(1), Some(20)].map(with);
    assert!(sheets(&longer) <= sheets(&usual));
    assert_eq!(usual.files, said.files);
    // More steps find the larger offcut, or at the least another layout.
    let layouts = |set: &Set| list(set, "-layouts.json");
    assert_ne!(layouts(&usual), layouts(&longer));
}
