//! At the yard and at the saw: what the buying list brings is cut by the printed cuts
//! of the layouts, one after the other, and gives the rough pieces.

use serde_json::Value;

use super::papers::{BUYING, LAYOUTS, Papers, count, items, number, same, text};

/// What the yard delivers: sheets and boards of one size.
struct Delivered {
    stock: String,
    size: [f64; 3],
    count: usize,
}

/// A piece sawn to its rough size.
#[derive(Clone, Debug)]
pub(crate) struct Sawn {
    pub(crate) mark: String,
    pub(crate) stock: String,
    /// Along the length of its sheet or board, and across.
    pub(crate) size: [f64; 2],
    pub(crate) thick: f64,
    pub(crate) board: bool,
}

/// A piece of material on the saw.
#[derive(Clone, Copy, Debug)]
struct Panel {
    at: [f64; 2],
    size: [f64; 2],
}

/// What is delivered, and what does not add up on the buying list.
fn delivered(papers: &Papers, faults: &mut Vec<String>) -> Vec<Delivered> {
    let mut all = Vec::new();
    for line in papers.list(BUYING, "lines") {
        let group = text(&line["group"]);
        let size: Vec<f64> = items(&line["size"]).iter().map(number).collect();
        let stock = text(&line["what"]);
        match (group.as_str(), size.as_slice()) {
            ("sheets" | "from-the-shop", [long, wide, thick]) => {
                all.push(Delivered { stock, size: [*long, *wide, *thick], count: count(&line["quantity"]) });
            }
            ("boards", [thick]) => {
                let mut volume = 0.0;
                for board in items(&line["boards"]) {
                    let (long, wide) = (number(&board["length"]), number(&board["width"]));
                    let count = count(&board["count"]);
                    volume += count as f64 * long * wide * thick * 1e-9;
                    all.push(Delivered { stock: stock.clone(), size: [long, wide, *thick], count });
                }
                let quantity = number(&line["quantity"]);
                // By volume up to 15 % are ordered for waste besides the boards laid out on.
                if volume.is_nan() || 1.15 * volume + 1.1e-4 < quantity {
                    faults
                        .push(format!("{stock} {thick}: {quantity} m³ are ordered, the boards are {volume}"));
                }
            }
            _ => {}
        }
    }
    all
}

/// The pieces of all layouts, and everything wrong on the way.
pub(crate) fn sawn(papers: &Papers) -> (Vec<Sawn>, Vec<String>) {
    let (mut all, mut faults) = (Vec::new(), Vec::new());
    let mut rack = delivered(papers, &mut faults);
    for (number_, layout) in papers.list(LAYOUTS, "layouts").iter().enumerate() {
        let size = ["length", "width", "thickness"].map(|key| number(&layout[key]));
        let (stock, wanted) = (text(&layout["stock"]), count(&layout["count"]));
        let fits =
            |one: &&mut Delivered| one.stock == stock && (0..3).all(|axis| same(one.size[axis], size[axis]));
        match rack.iter_mut().find(fits) {
            Some(one) if one.count >= wanted => one.count -= wanted,
            _ => faults.push(format!("layout {}: {wanted} of {stock} {size:?} are not there", number_ + 1)),
        }
        let pieces = saw_one(layout, [size[0], size[1]], &mut |text| {
            faults.push(format!("layout {}: {text}", number_ + 1));
        });
        let board = text(&layout["kind"]) == "board";
        for (mark, size) in pieces {
            let piece = Sawn { mark, stock: stock.clone(), size, thick: number(&layout["thickness"]), board };
            all.extend(std::iter::repeat_n(piece, wanted));
        }
    }
    // A sheet that is bought and never cut is money lost; boards may be spare for waste.
    for one in rack.iter().filter(|one| one.count > 0 && one.size[1] > 300.0) {
        faults.push(format!("{} of {} {:?} are bought and not cut", one.count, one.stock, one.size));
    }
    (all, faults)
}

/// Carries out the cuts of one layout; gives the parts among the pieces.
fn saw_one(layout: &Value, bare: [f64; 2], fault: &mut dyn FnMut(String)) -> Vec<(String, [f64; 2])> {
    let kerf = number(&layout["saw_cut"]);
    let mut panels = vec![Panel { at: [0.0; 2], size: bare }];
    for (step, cut) in items(&layout["cuts"]).iter().enumerate() {
        let pair = |key: &str| -> Vec<f64> { items(&cut[key]).iter().map(number).collect() };
        let (at, size) = (pair("panel_at"), pair("panel_size"));
        let found = panels.iter().position(|panel| {
            (0..2).all(|axis| same(panel.at[axis], at[axis]) && same(panel.size[axis], size[axis]))
        });
        let Some(found) = found else {
            fault(format!("cut {}: no piece of {size:?} lies at {at:?}", step + 1));
            continue;
        };
        let panel = panels.remove(found);
        let (kind, edge) = (text(&cut["kind"]), text(&cut["edge"]));
        let (axis, low) = match edge.as_str() {
            "left" => (0, true),
            "right" => (0, false),
            "lower" => (1, true),
            "upper" => (1, false),
            _ => {
                fault(format!("cut {}: there is no edge `{edge}`", step + 1));
                continue;
            }
        };
        if (kind == "rip" && axis != 1) || (kind == "crosscut" && axis != 0) {
            fault(format!("cut {}: a {kind} with the {edge} edge at the fence", step + 1));
        }
        let fence = number(&cut["fence"]);
        if fence.is_nan() || fence <= 0.0 || fence > panel.size[axis] + 0.06 {
            fault(format!("cut {}: the fence at {fence} is off the piece", step + 1));
            continue;
        }
        panels.extend(halves(panel, axis, low, (fence, kerf)));
    }
    let mut parts = Vec::new();
    for piece in items(&layout["pieces"]).iter().filter(|piece| text(&piece["what"]) == "part") {
        let (at, size) = (
            ["x", "y"].map(|key| number(&piece[key])),
            ["along_x", "along_y"].map(|key| number(&piece[key])),
        );
        let lies = panels.iter().position(|panel| {
            (0..2).all(|axis| same(panel.at[axis], at[axis]) && same(panel.size[axis], size[axis]))
        });
        match lies {
            Some(lies) => {
                panels.remove(lies);
                parts.push((text(&piece["mark"]), size));
            }
            None => fault(format!("{} is not cut free", text(&piece["name"]))),
        }
    }
    parts
}

/// The two pieces of a cut: at the fence, and what is beyond the blade.
fn halves(panel: Panel, axis: usize, low: bool, (fence, kerf): (f64, f64)) -> Vec<Panel> {
    let (mut at_fence, mut beyond) = (panel, panel);
    at_fence.size[axis] = fence;
    beyond.size[axis] = panel.size[axis] - fence - kerf;
    if low {
        beyond.at[axis] += fence + kerf;
    } else {
        at_fence.at[axis] += panel.size[axis] - fence;
    }
    let mut pieces = vec![at_fence];
    if beyond.size[axis] > 0.0 {
        pieces.push(beyond);
    }
    pieces
}
