//! A part made again from what its drawing says, and nothing else.

use std::collections::BTreeMap;

use rodwright::measure::{INCH, Unit};
use rodwright::paper::{Ink, Mark, Role};

/// A size as printed: its numbers in reading order and what they are said to fix.
#[derive(Clone, Debug)]
pub(super) struct Said {
    /// Numbers, lengths in mm.
    pub(super) numbers: Vec<f64>,
    /// What they fix.
    pub(super) fixes: String,
    /// The words as printed.
    pub(super) words: String,
}

/// A cut made again: its extent on each axis, mm; `None` where the drawing says
/// nothing, which means the whole of the blank.
#[derive(Clone, Debug, Default)]
pub(super) struct Made {
    /// The face it is made from.
    pub(super) face: String,
    /// Extent printed on each axis, and whether against the low or high side.
    extent: [Option<(f64, char)>; 3],
    /// Depth from its face.
    pub(super) depth: Option<f64>,
    /// Depth along a bore askew to the faces.
    pub(super) sunk: Option<f64>,
    /// Diameter.
    pub(super) diameter: Option<f64>,
    /// From the inner corner of the mitre it is sunk into.
    pub(super) from_inner: Option<f64>,
    /// Angle off square.
    pub(super) angle: Option<f64>,
    /// Mitre gauge off square.
    pub(super) gauge: Option<f64>,
    /// From the end to a shoulder line askew to the part, at its long point.
    pub(super) from_end: Option<f64>,
    /// From its shoulders to a tenon's end parallel to them, along the part.
    pub(super) apart: Option<f64>,
    /// Depths of the shoulders sawn in from the edges and from the faces.
    pub(super) shoulders: [Option<f64>; 2],
    /// Lesser and greater side of a mortise that leans.
    pub(super) section: [Option<f64>; 2],
    /// How far it leans along each axis of the part, and how far it is turned.
    pub(super) leans: [Option<f64>; 3],
    pub(super) turned: Option<f64>,
    /// The words.
    pub(super) words: String,
}

/// A part made again.
#[derive(Debug, Default)]
pub(super) struct Rebuilt {
    /// Length, width, thickness.
    pub(super) size: [f64; 3],
    /// Cuts by their number.
    pub(super) cuts: BTreeMap<usize, Made>,
    /// Where named places are on each axis.
    places: [BTreeMap<String, f64>; 3],
}

/// Everything printed on a part, by dimension.
pub(super) fn said(marks: &[Mark], part: &str, unit: Unit) -> Vec<Said> {
    let mut all: BTreeMap<u32, Said> = BTreeMap::new();
    for mark in marks.iter().filter(|m| m.role == Role::DimensionText && m.shows.part == part) {
        let Ink::Text(text) = &mark.ink else { panic!("dimension text that is not text") };
        let said = all.entry(mark.shows.dimension).or_insert_with(|| Said {
            numbers: Vec::new(),
            fixes: String::new(),
            words: String::new(),
        });
        if !said.words.is_empty() {
            said.words.push(' ');
        }
        said.words.push_str(&text.reading());
        said.fixes.push_str(&mark.shows.fixes);
    }
    for said in all.values_mut() {
        said.numbers = numbers(&said.words, unit);
    }
    all.into_values().filter(|s| !s.fixes.is_empty()).collect()
}

/// The numbers in a printed text; those with an inch sign in mm.
fn numbers(words: &str, unit: Unit) -> Vec<f64> {
    let mut out = Vec::new();
    let chars: Vec<char> = words.chars().collect();
    let mut i = 0;
    while i < chars.len() {
        if !chars[i].is_ascii_digit() {
            i += 1;
            continue;
        }
        let start = i;
        let stop = |c: char| !(c.is_ascii_digit() || c == '.' || c == '/');
        while i < chars.len() && !stop(chars[i]) {
            i += 1;
        }
        let mut text: String = chars[start..i].iter().collect();
        // A whole number and its fraction.
        let rest: String = chars[i..].iter().collect();
        if let Some(next) = rest.strip_prefix(' ') {
            let fraction: String = next.chars().take_while(|c| !stop(*c)).collect();
            if fraction.contains('/') && !text.contains('/') {
                i += 1 + fraction.chars().count();
                text = format!("{text} {fraction}");
            }
        }
        let value: f64 = text
            .trim_end_matches('.')
            .split(' ')
            .map(|w| match w.split_once('/') {
                Some((n, d)) => n.parse::<f64>().unwrap() / d.parse::<f64>().unwrap(),
                None => w.parse().unwrap(),
            })
            .sum();
        let inch = chars.get(i) == Some(&'″');
        assert!(!inch || unit == Unit::Inch, "an inch sign on a metric drawing: {words}");
        out.push(if inch { value * INCH } else { value });
    }
    out
}

/// Makes a part again from what is said of it.
pub(super) fn rebuild(said: &[Said]) -> Rebuilt {
    let mut rebuilt = Rebuilt::default();
    let mut links: [Vec<(String, String, f64)>; 3] = Default::default();
    for size in said {
        let (head, tail) = size.fixes.split_once(": ").unwrap_or_else(|| panic!("odd words: {}", size.fixes));
        match ["x", "y", "z"].iter().position(|a| *a == head) {
            Some(axis) => links[axis].extend(links_of(tail, size)),
            // What runs round a face says the same of each arris.
            None => {
                for cut in size.fixes.split("; ") {
                    let (head, tail) = cut.split_once(": ").unwrap_or_else(|| panic!("odd words: {cut}"));
                    note(head, tail, size, &mut rebuilt);
                }
            }
        }
    }
    for (axis, links) in links.iter().enumerate() {
        rebuilt.places[axis] = solve(links);
        rebuilt.size[axis] = rebuilt.places[axis]
            .get("end")
            .copied()
            .unwrap_or_else(|| panic!("no overall size on axis {axis}"));
    }
    rebuilt
}

/// The lengths a row gives between places.
fn links_of(chain: &str, size: &Said) -> Vec<(String, String, f64)> {
    let places: Vec<&str> = chain.split('>').collect();
    if places.len() == 2 {
        assert_eq!(size.numbers.len(), 1, "one length in {:?}", size.words);
        return vec![(places[0].into(), places[1].into(), size.numbers[0])];
    }
    let counted = |n: f64| {
        assert!((n - (places.len() - 1) as f64).abs() < 1e-9, "{} places in {:?}", places.len(), size.words);
    };
    let pitch = match size.numbers[..] {
        [n, total] if size.words.contains(" equal = ") => {
            counted(n);
            total / n
        }
        [n, pitch, total] => {
            counted(n);
            assert!((n * pitch - total).abs() < 1e-6, "the sum shown agrees in {:?}", size.words);
            pitch
        }
        _ => panic!("`n × p (= total)` in {:?}", size.words),
    };
    places.windows(2).map(|w| (w[0].into(), w[1].into(), pitch)).collect()
}

/// Positions of all places from `0`. Panics if one is given twice or hangs on
/// nothing.
fn solve(links: &[(String, String, f64)]) -> BTreeMap<String, f64> {
    let mut places = BTreeMap::from([("0".to_owned(), 0.0)]);
    let mut open: Vec<_> = links.to_vec();
    while !open.is_empty() {
        let before = open.len();
        open.retain(|(from, to, length)| {
            let Some(at) = from.split('=').find_map(|name| places.get(name)).copied() else { return true };
            for name in to.split('=') {
                let again = places.insert(name.to_owned(), at + length);
                assert!(again.is_none(), "{name} is sized twice");
            }
            false
        });
        assert!(open.len() < before, "these hang on nothing: {open:?}");
    }
    places
}

/// Reads a note on cuts.
fn note(cuts: &str, words: &str, size: &Said, rebuilt: &mut Rebuilt) {
    let cuts: Vec<(usize, String)> = cuts
        .split('+')
        .map(|c| {
            let (id, face) = c.trim_start_matches('#').split_once('@').expect("a face");
            (id.parse().expect("a number"), face.to_owned())
        })
        .collect();
    let mut numbers = size.numbers.iter().copied();
    let mut made = Made { words: size.words.clone(), ..Made::default() };
    let mut count = 1;
    for both in ["both ends", "both faces"] {
        if size.words.contains(both) {
            count *= 2;
        }
    }
    // Leaning sides and the axis, width where printed, one in this, and rise.
    let mut flank: Option<(f64, usize, f64)> = None;
    let (mut ratio, mut rise) = (1.0, None);
    // The radius of a quarter round, which is both its legs.
    let mut arris: Option<f64> = None;
    for word in words.split(' ') {
        let mut next =
            || numbers.next().unwrap_or_else(|| panic!("no number for {word} in {:?}", size.words));
        let axis = |c: &str| ["x", "y", "z"].iter().position(|a| *a == c);
        match word {
            "count" => count *= next() as usize,
            "arris" => arris = Some(next()),
            "depth" => made.depth = Some(next()),
            "dia" => made.diameter = Some(next()),
            "sunk" => made.sunk = Some(next()),
            "from-inner" => made.from_inner = Some(next()),
            "width" | "length" => {
                next();
            }
            "apart" => made.apart = Some(next()),
            "from-end" => made.from_end = Some(next()),
            "shoulder-y" => made.shoulders[0] = Some(next()),
            "shoulder-z" => made.shoulders[1] = Some(next()),
            "lean-width" => made.section[0] = Some(next()),
            "lean-length" => made.section[1] = Some(next()),
            "turned" => made.turned = Some(next()),
            _ if word.starts_with("lean-") => made.leans[axis(&word[5..]).unwrap()] = Some(next()),
            "gauge" => made.gauge = Some(next()),
            "blade" | "angle" => made.angle = Some(next()),
            "slope" => {
                let one = next();
                assert!((one - 1.0).abs() < 1e-9, "a slope of one in something: {:?}", size.words);
                ratio = next();
            }
            _ if word.starts_with("flank") => {
                let (sides, on) = word.trim_start_matches("flank").split_once('-').unwrap();
                flank = Some((sides.parse().unwrap(), axis(on).unwrap(), next()));
            }
            _ if word.starts_with("rise-") => rise = Some((axis(&word[5..]).unwrap(), next())),
            _ => {
                let mark = word.chars().last().filter(|c| "<>".contains(*c));
                if let Some(axis) = axis(word.trim_end_matches(['<', '>'])) {
                    made.extent[axis] = Some((arris.unwrap_or_else(&mut next), mark.unwrap_or(' ')));
                }
            }
        }
    }
    if let Some((axis, long)) = rise {
        made.extent[axis] = Some((long, ' '));
    }
    if let Some((sides, axis, width)) = flank {
        let long = rise.map_or(0.0, |r| r.1);
        made.extent[axis] = Some((width + sides * long / ratio, ' '));
    }
    assert_eq!(count, cuts.len(), "as many as said in {:?}", size.words);
    for (id, face) in cuts {
        let mut made = made.clone();
        let mut marks = face.split('|');
        let mut face = marks.next().unwrap().to_owned();
        for mark in marks {
            let at = ["x", "y", "z"].iter().position(|a| mark.starts_with(a)).unwrap();
            if let Some(extent) = &mut made.extent[at] {
                extent.1 = mark.chars().last().unwrap();
            }
        }
        if let Some((entry, bore)) = face.clone().split_once('&') {
            entry.clone_into(&mut face);
            let again =
                rebuilt.cuts.insert(bore.parse().unwrap(), Made { face: face.clone(), ..made.clone() });
            assert!(again.is_none(), "cut {bore} is noted twice");
        }
        let again = rebuilt.cuts.insert(id, Made { face, ..made });
        assert!(again.is_none(), "cut {id} is noted twice");
    }
}

impl Made {
    /// What is printed for each axis that something is printed for.
    pub(super) fn printed(&self) -> Vec<f64> {
        self.extent.iter().filter_map(|e| e.map(|(long, _)| long)).collect()
    }
}

impl Rebuilt {
    /// Where the middle of a cut is said to be on an axis.
    pub(super) fn centre(&self, id: usize, axis: usize) -> Option<f64> {
        let named = |name: &String| name.split('=').any(|n| n == format!("#{id}c"));
        self.places[axis].iter().find(|(name, _)| named(name)).map(|(_, at)| *at)
    }

    /// Extent of a box cut on an axis, from the drawing alone.
    pub(super) fn extent(&self, id: usize, axis: usize) -> (f64, f64) {
        let made = self.cuts.get(&id).unwrap_or_else(|| panic!("nothing says what cut {id} is"));
        let whole = self.size[axis];
        let deep = match made.face.as_str() {
            "marked" => Some((2, false)),
            "back" => Some((2, true)),
            "edge" => Some((1, false)),
            "far-edge" => Some((1, true)),
            "near-end" => Some((0, false)),
            _ => Some((0, true)),
        };
        if let Some((a, far)) = deep
            && a == axis
        {
            let depth = made.depth.unwrap_or(whole);
            return if far { (whole - depth, whole) } else { (0.0, depth) };
        }
        let place = |mark: char| self.places[axis].get(&format!("#{id}{mark}")).copied();
        let extent = made.extent[axis].or(made.diameter.map(|d| (d, ' ')));
        match (extent, place('c'), place('a'), place('b')) {
            (Some((e, _)), Some(c), None, None) => (c - e / 2.0, c + e / 2.0),
            (Some((e, _)), None, Some(a), None) => (a, a + e),
            (Some((e, '<')), None, None, None) => (0.0, e),
            (Some((e, '>')), None, None, None) => (whole - e, whole),
            (None, None, Some(a), Some(b)) => (a, b),
            (None, None, Some(a), None) => (a, whole),
            (None, None, None, Some(b)) => (0.0, b),
            (None, None, None, None) => (0.0, whole),
            other => panic!("cut {id} on axis {axis} is sized oddly: {other:?} in {:?}", made.words),
        }
    }
}
