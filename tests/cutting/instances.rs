//! Reads benchmark instances. Ours (`furniture_dev_*`) and CC0 sets stand in
//! `tests/data/layouts`; the published sets that may not be passed on are read
//! from the folder named by the environment variable `LAYOUT_SETS`, if it is set.

use rodwright::cutting::sheets::{Axis, GrainRun, SheetJob, SheetPart, SheetStock};
use rodwright::cutting::sticks::{StickJob, StickPart, StickStock};
use serde_json::Value;
use std::path::PathBuf;
use std::sync::OnceLock;

/// The lines of a data set, or `None` when it is not on this machine.
pub(crate) fn lines(set: &str) -> Option<Vec<Value>> {
    let own = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/data/layouts");
    let asked = std::env::var_os("LAYOUT_SETS").map(PathBuf::from);
    let text = asked
        .into_iter()
        .chain([own])
        .find_map(|folder| std::fs::read_to_string(folder.join(format!("{set}.jsonl"))).ok())?;
    Some(text.lines().map(|line| serde_json::from_str(line).unwrap()).collect())
}

pub(crate) fn number(value: &Value) -> i64 {
    value.as_i64().unwrap()
}

/// What the general packing library comes to on an instance of the ten classes:
/// sheets that a saw can cut, and as if pieces could be cut out anyhow.
pub(crate) fn library(name: &str, turn: bool) -> [i64; 2] {
    static MEASURED: OnceLock<Value> = OnceLock::new();
    let measured = MEASURED.get_or_init(|| {
        let file = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/data/layouts/general_library.json");
        serde_json::from_str(&std::fs::read_to_string(file).unwrap()).unwrap()
    });
    let sheets = &measured["sheets"][name];
    let at = if turn { 2 } else { 0 };
    [number(&sheets[at]), number(&sheets[at + 1])]
}

fn count(value: &Value) -> Option<u32> {
    value.as_u64().map(|count| u32::try_from(count).unwrap())
}

pub(crate) fn list(value: &Value) -> &[Value] {
    value.as_array().unwrap()
}

fn text(value: &Value) -> String {
    value.as_str().unwrap().to_owned()
}

/// A job of the published two-dimensional sets: no kerf, no trim.
pub(crate) fn plain_job(line: &Value, may_turn: bool, levels: Option<u8>) -> SheetJob {
    let part = |(index, item): (usize, &Value)| SheetPart {
        id: format!("{}", index + 1),
        size: [number(&item[0]), number(&item[1])],
        quantity: count(&item[2]).unwrap(),
        may_turn,
    };
    let sheet = |(index, bin): (usize, &Value)| SheetStock {
        id: format!("sheet {}", index + 1),
        size: [number(&bin[0]), number(&bin[1])],
        count: count(&bin[2]),
        cost: number(&bin[3]),
        trim: [0; 4],
    };
    SheetJob {
        parts: list(&line["items"]).iter().enumerate().map(part).collect(),
        runs: Vec::new(),
        sheets: list(&line["bins"]).iter().enumerate().map(sheet).collect(),
        kerf: 0,
        levels,
        useful_offcut: 0,
    }
}

/// A job of our own furniture set.
pub(crate) fn furniture_job(line: &Value) -> SheetJob {
    let parts: Vec<SheetPart> = list(&line["parts"])
        .iter()
        .map(|part| SheetPart {
            id: text(&part["id"]),
            size: [number(&part["x"]), number(&part["y"])],
            quantity: count(&part["qty"]).unwrap(),
            may_turn: part["grain"] == "free",
        })
        .collect();
    let place = |id: &Value| parts.iter().position(|part| part.id == text(id)).unwrap();
    let runs = list(&line["runs"])
        .iter()
        .map(|run| GrainRun {
            id: text(&run["id"]),
            parts: list(&run["parts"]).iter().map(place).collect(),
            axis: if run["axis"] == "x" { Axis::X } else { Axis::Y },
            gap: None,
        })
        .collect();
    let trim: Vec<i64> = list(&line["trim"]).iter().map(number).collect();
    let sheets = list(&line["sheets"])
        .iter()
        .map(|sheet| SheetStock {
            id: text(&sheet["id"]),
            size: [number(&sheet["x"]), number(&sheet["y"])],
            count: count(&sheet["qty"]),
            cost: number(&sheet["cost"]),
            trim: [trim[0], trim[1], trim[2], trim[3]],
        })
        .collect();
    SheetJob {
        parts,
        runs,
        sheets,
        kerf: number(&line["kerf"]),
        levels: line["max_levels"].as_u64().map(|levels| u8::try_from(levels).unwrap()),
        useful_offcut: 1500,
    }
}

/// A stick job of ours or of the published one-dimensional sets.
pub(crate) fn stick_job(line: &Value) -> StickJob {
    let part = |id: String, length: &Value, quantity: &Value| StickPart {
        id,
        length: number(length),
        mitres: [0, 0],
        quantity: count(quantity).unwrap(),
    };
    if line["cap"].is_i64() {
        let items = list(&line["items"]).iter().enumerate();
        let parts = items.map(|(index, item)| part(format!("{}", index + 1), &item[0], &item[1]));
        let stick = StickStock { id: "stick".into(), length: number(&line["cap"]), count: None, cost: 1 };
        return StickJob {
            parts: parts.collect(),
            sticks: vec![stick],
            kerf: 0,
            end_trim: 0,
            may_turn_over: false,
        };
    }
    let parts = list(&line["parts"]).iter();
    let sticks = list(&line["stocks"]).iter().enumerate();
    StickJob {
        parts: parts.map(|line| part(text(&line["id"]), &line["len"], &line["qty"])).collect(),
        sticks: sticks
            .map(|(index, stick)| StickStock {
                id: format!("stick {}", index + 1),
                length: number(&stick["len"]),
                count: count(&stick["qty"]),
                cost: number(&stick["cost"]),
            })
            .collect(),
        kerf: number(&line["kerf"]),
        end_trim: number(&line["end_trim"]),
        may_turn_over: false,
    }
}
