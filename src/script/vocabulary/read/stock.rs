//! What there is to cut from, as options of stock words say it.

use super::values::{Fault, Read, count, fault, fault_help, plain, wrong_type};
use crate::model::{BoardSize, OptionValue, SheetSize};
use crate::script::run::Run;
use crate::script::value::{Map, Value, short};

/// The dearest sheet: more is a slip.
const DEAREST: f64 = 1.0e6;

/// How far a defect may be told past the end of its board, mm: rounded inches.
const SLIGHT: f64 = 0.5;

/// The most sheets of one size.
const MOST_SHEETS: u32 = 10_000;

/// A fault of one key of a sheet.
fn of_key(key: &str, fault: Option<Fault>) -> Option<Fault> {
    fault.map(|fault| Fault { says: format!("has a `{key}` that {}", fault.says), ..fault })
}

impl Run {
    /// Sheets: one or a list of `#{ size: [2440, 1220], price: 96.0, count: 2 }`
    /// or `[2440, 1220]`.
    pub(in crate::script) fn sheets(&self, value: &Value) -> Read<Vec<SheetSize>> {
        let Some(list) = value.list() else {
            return self.sheet(value).map(|one| vec![one]);
        };
        // Two plain lengths are one size.
        if list.len() == 2 && !list.iter().any(|v| matches!(v, Value::Map(_) | Value::List(_))) {
            return self.sheet(value).map(|one| vec![one]);
        }
        list.iter().map(|v| self.sheet(v)).collect()
    }

    /// One sheet.
    fn sheet(&self, value: &Value) -> Read<SheetSize> {
        let map = match value {
            Value::List(_) => Map::from([("size".into(), value.clone())]),
            Value::Map(map) => map.clone(),
            _ => return wrong_type("a sheet such as #{ size: [2440, 1220], price: 96.0 }", value),
        };
        if let Some(key) = map.keys().find(|k| !["size", "price", "count"].contains(&k.as_str())) {
            let message = format!("has no key `{}`", short(key));
            return fault_help("unknown-option", message, "a sheet has `size`, `price` and `count`".into());
        }
        let (length, width) = match map.get("size").map(|v| self.lengths(v)).transpose()?.as_deref() {
            Some([length, width]) if length.min(*width) > 0.0 => (*length, *width),
            _ => return fault("wrong-type", "needs a size of two lengths, each more than 0".into()),
        };
        let price = map.get("price").map(|v| plain(v, 0.0, DEAREST, "a price", ""));
        let price = match price.transpose().map_err(|fault| of_key("price", fault))? {
            Some(OptionValue::Number(price)) => Some(price),
            _ => None,
        };
        let number = map.get("count").map(|v| count(v, 0, MOST_SHEETS));
        let number = match number.transpose().map_err(|fault| of_key("count", fault))? {
            Some(OptionValue::Count(n)) => Some(n),
            _ => None,
        };
        Ok(SheetSize { length, width, price, count: number, on_hand: false, edge: 0.0 })
    }

    /// Boards in the shop: one or a list of `#{ thick: 34, size: [2100, 240],
    /// count: 2, edge: 15, defects: [[600, 680]] }`, each clear length as a board.
    pub(in crate::script) fn boards(&self, value: &Value) -> Read<Vec<BoardSize>> {
        let Some(list) = value.list() else { return self.board(value) };
        let boards: Result<Vec<Vec<BoardSize>>, _> = list.iter().map(|v| self.board(v)).collect();
        Ok(boards?.concat())
    }

    /// The clear lengths of one board.
    fn board(&self, value: &Value) -> Read<Vec<BoardSize>> {
        const KEYS: [&str; 5] = ["thick", "size", "count", "edge", "defects"];
        let Value::Map(mut map) = value.clone() else {
            return wrong_type("a board such as #{ thick: 34, size: [2100, 240] }", value);
        };
        if let Some(key) = map.keys().find(|k| !KEYS.contains(&k.as_str())) {
            let message = format!("has no key `{}`", short(key));
            return fault_help(
                "unknown-option",
                message,
                "a board has `thick`, `size`, `count`, `edge` and `defects`".into(),
            );
        }
        let thick = match map.remove("thick").map(|v| self.length(&v)).transpose()? {
            Some(thick) if thick > 0.0 => thick,
            _ => return fault("wrong-type", "needs the sawn thickness of each board in `thick`".into()),
        };
        let defects = map.remove("defects");
        let edge = map.remove("edge").map(|v| self.length(&v)).transpose()?.unwrap_or(0.0);
        let size = self.sheet(&Value::Map(map))?;
        let size = SheetSize { count: size.count.or(Some(1)), on_hand: true, edge, ..size };
        if edge < 0.0 || 2.0 * edge >= size.width {
            return fault_help(
                "out-of-range",
                "has a board whose `edge` leaves nothing of its width".into(),
                "tell what of one long edge is sapwood or wane: as much goes at the other".into(),
            );
        }
        let mut bad: Vec<[f64; 2]> = Vec::new();
        for one in defects.as_ref().and_then(Value::list).unwrap_or_default() {
            match self.lengths(one)?.as_slice() {
                // What lies beyond the board is a slip of the figures: cut where it is told, the
                // board would be taken for clear.
                [from, to] if from < to && (*from < 0.0 || *to > size.length + SLIGHT) => {
                    return fault_help(
                        "out-of-range",
                        "has a board with a defect that lies beyond its ends".into(),
                        "measure `defects` from one end of the board, [from, to], none beyond its length in `size`".into(),
                    );
                }
                [from, to] if from < to => bad.push([*from, *to]),
                _ => {
                    return fault(
                        "wrong-type",
                        "needs `defects` as a list of [from, to] along the board".into(),
                    );
                }
            }
        }
        bad.sort_by(|a, b| a[0].total_cmp(&b[0]));
        bad.push([size.length; 2]);
        let (mut clear, mut from) = (Vec::new(), 0.0);
        for [start, end] in bad {
            let length = start.min(size.length) - from;
            if length > 0.0 {
                clear.push(BoardSize { thick, size: SheetSize { length, ..size } });
            }
            from = end.max(from);
        }
        Ok(clear)
    }
}
