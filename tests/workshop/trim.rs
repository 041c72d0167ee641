//! Rough pieces brought to size by the printed settings, each from an edge or end that
//! is there when it is needed.

use serde_json::Value;

use super::papers::{Kind, Papers, Row, SETTINGS, items, number, same, text};

/// A part on the bench.
struct OnBench<'a> {
    row: &'a Row,
    /// Length and width now.
    size: [f64; 2],
    /// Whether an edge is straight, an end square.
    straight: [bool; 2],
    /// Whether it is brought to size along, across.
    trimmed: [bool; 2],
}

/// Everything wrong in bringing parts to size.
pub(crate) fn faults(papers: &Papers) -> Vec<String> {
    let mut faults = Vec::new();
    let rows = papers.rows();
    let works: Vec<String> = papers.list(SETTINGS, "works").iter().map(|work| text(&work["mark"])).collect();
    let mut bench: Vec<OnBench<'_>> = rows
        .iter()
        .filter_map(|row| {
            let [long, wide, _] = row.rough?;
            Some(OnBench { row, size: [long, wide], straight: [false, false], trimmed: [false, false] })
        })
        .collect();
    for set_up in papers.list(SETTINGS, "set_ups") {
        let task = text(&set_up["task"]);
        let axis = match task.as_str() {
            "rip" | "straighten" => 1,
            "crosscut" | "square-end" => 0,
            _ => continue,
        };
        for turn in items(&set_up["turns"]) {
            for one in items(&turn["uses"]) {
                let mark = usize::try_from(one["work"].as_u64().unwrap_or(u64::MAX))
                    .ok()
                    .and_then(|work| works.get(work));
                let Some(part) = mark.and_then(|mark| bench.iter_mut().find(|part| part.row.mark == *mark))
                else {
                    faults.push(format!("{task}: there is no such part"));
                    continue;
                };
                if let Some(why) = part.work(axis, &set_up, &turn) {
                    faults.push(format!("{} {}: {task}: {why}", part.row.mark, part.row.name));
                }
            }
        }
    }
    for part in bench.iter().filter(|part| part.row.kind == Kind::Part) {
        faults.extend(part.wrong());
    }
    faults
}

impl OnBench<'_> {
    /// Takes a cut; what is wrong with it.
    fn work(&mut self, axis: usize, set_up: &Value, turn: &Value) -> Option<String> {
        let against = text(&turn["against"]["what"]);
        let setting = &set_up["setting"];
        let (size, off) = match text(&setting["what"]).as_str() {
            "size" => (number(&setting["size"]), None),
            "off" => (number(&setting["left"]), Some(number(&setting["off"]))),
            // Sloping cuts are not judged here.
            _ => return None,
        };
        if against == "lipping" && self.row.lipped.is_empty() {
            return Some("a lipping is to lie against the fence, and it has none".into());
        }
        let most = self.size[axis] + self.row.lipped.iter().sum::<f64>();
        if size > most + 0.05 || size.is_nan() {
            return Some(format!("to {size}, and it is {most}"));
        }
        if off.is_some_and(|off| off.is_nan() || off <= 0.0) {
            return Some("nothing is taken off".into());
        }
        self.size[axis] = size;
        self.straight[1 - axis] = true;
        self.trimmed[axis] = true;
        None
    }

    /// What of its size is not as the list has it. Lippings may add to it.
    fn wrong(&self) -> Option<String> {
        let row = self.row;
        if row.sloping || row.later || row.turned {
            return None;
        }
        for axis in [0, 1] {
            let mut sums = vec![0.0];
            for thick in &row.lipped {
                sums.extend(sums.clone().into_iter().map(|sum| sum + thick));
            }
            let good = sums.iter().any(|more| same(self.size[axis], row.size[axis] + more));
            if self.trimmed[axis] && !good {
                let (now, wanted) = (self.size[axis], row.size[axis]);
                return Some(format!("{} {}: it comes out {now}, the list has {wanted}", row.mark, row.name));
            }
            let rough = row.rough.map_or(0.0, |size| size[axis]);
            if !self.trimmed[axis] && rough > row.size[axis] + 0.6 && row.lipped.is_empty() {
                return Some(format!(
                    "{} {}: nothing brings its {rough} to {}",
                    row.mark, row.name, row.size[axis]
                ));
            }
        }
        None
    }
}
