//! A part made again from what its drawing says, and nothing else.

use std::collections::BTreeMap;

use rodwright::measure::{INCH, Unit};
use rodwright::paper::fixes::{Against, Axis, BoxSide, Fact, Noted, PlaceId};
use rodwright::paper::{Fixes, Ink, Mark, Role};

/// A size as printed: its numbers in reading order and what they are said to fix.
#[derive(Clone, Debug)]
pub(super) struct Said {
    /// Numbers, lengths in mm.
    pub(super) numbers: Vec<f64>,
    /// What they fix.
    pub(super) fixes: Fixes,
    /// The words as printed.
    pub(super) words: String,
}

/// A cut made again: its extent on each axis, mm; `None` where the drawing says
/// nothing, which means the whole of the blank.
#[derive(Clone, Debug, Default)]
pub(super) struct Made {
    /// The face it is made from.
    pub(super) face: Option<BoxSide>,
    /// Extent printed on each axis, and what it stands against.
    extent: [Option<(f64, Against)>; 3],
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
    places: [BTreeMap<PlaceId, f64>; 3],
}

/// Everything printed on a part, by dimension.
pub(super) fn said(marks: &[Mark], part: &str, unit: Unit) -> Vec<Said> {
    let mut all: BTreeMap<u32, Said> = BTreeMap::new();
    for mark in marks.iter().filter(|m| m.role == Role::DimensionText && m.shows.part == part) {
        let Ink::Text(text) = &mark.ink else { panic!("dimension text that is not text") };
        let said = all.entry(mark.shows.dimension).or_insert_with(|| Said {
            numbers: Vec::new(),
            fixes: Fixes::Nothing,
            words: String::new(),
        });
        if !said.words.is_empty() {
            said.words.push(' ');
        }
        said.words.push_str(&text.reading());
        if !mark.shows.fixes.is_nothing() {
            assert!(said.fixes.is_nothing(), "one dimension fixes two things: {}", said.words);
            said.fixes = mark.shows.fixes.clone();
        }
    }
    for said in all.values_mut() {
        said.numbers = numbers(&said.words, unit);
    }
    all.into_values().filter(|s| !s.fixes.is_nothing()).collect()
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

/// A length between two places, each with all that stands there.
type Link = (Vec<PlaceId>, Vec<PlaceId>, f64);

/// Makes a part again from what is said of it.
pub(super) fn rebuild(said: &[Said]) -> Rebuilt {
    let mut rebuilt = Rebuilt::default();
    let mut links: [Vec<Link>; 3] = Default::default();
    for size in said {
        match &size.fixes {
            Fixes::Chain { axis, places } => links[axis.index()].extend(links_of(places, size)),
            // What runs round a face says the same of each arris.
            Fixes::Cuts(noted) => noted.iter().for_each(|one| note(one, size, &mut rebuilt)),
            odd => panic!("not of a part: {odd:?}"),
        }
    }
    for (axis, links) in links.iter().enumerate() {
        rebuilt.places[axis] = solve(links);
        rebuilt.size[axis] = rebuilt.places[axis]
            .get(&PlaceId::End)
            .copied()
            .unwrap_or_else(|| panic!("no overall size on axis {axis}"));
    }
    rebuilt
}

/// The lengths a row gives between places.
fn links_of(places: &[Vec<PlaceId>], size: &Said) -> Vec<Link> {
    if places.len() == 2 {
        assert_eq!(size.numbers.len(), 1, "one length in {:?}", size.words);
        return vec![(places[0].clone(), places[1].clone(), size.numbers[0])];
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
    places.windows(2).map(|w| (w[0].clone(), w[1].clone(), pitch)).collect()
}

/// Positions of all places from the datum. Panics if one is given twice or hangs on
/// nothing.
fn solve(links: &[Link]) -> BTreeMap<PlaceId, f64> {
    let mut places = BTreeMap::from([(PlaceId::Datum, 0.0)]);
    let mut open: Vec<_> = links.to_vec();
    while !open.is_empty() {
        let before = open.len();
        open.retain(|(from, to, length)| {
            let Some(at) = from.iter().find_map(|name| places.get(name)).copied() else { return true };
            for name in to {
                let again = places.insert(*name, at + length);
                assert!(again.is_none(), "{name:?} is sized twice");
            }
            false
        });
        assert!(open.len() < before, "these hang on nothing: {open:?}");
    }
    places
}

/// Reads a note on cuts.
fn note(noted: &Noted, size: &Said, rebuilt: &mut Rebuilt) {
    // A radius says more of a shape that is noted by itself.
    if !noted.facts.is_empty() && noted.facts.iter().all(|fact| matches!(fact, Fact::Arc(_))) {
        return;
    }
    let mut numbers = size.numbers.iter().copied();
    let mut made = Made { words: size.words.clone(), ..Made::default() };
    let mut count = 1;
    for both in ["both ends", "both faces"] {
        if size.words.contains(both) {
            count *= 2;
        }
    }
    // Leaning sides and the axis, width where printed, one in this, and rise.
    let mut flank: Option<(usize, Axis, f64)> = None;
    let (mut ratio, mut rise) = (1.0, None);
    // The radius of a quarter round, which is both its legs.
    let mut arris: Option<f64> = None;
    for fact in &noted.facts {
        let mut next =
            || numbers.next().unwrap_or_else(|| panic!("no number for {fact:?} in {:?}", size.words));
        match fact {
            Fact::Count => count *= next() as usize,
            Fact::Arris => arris = Some(next()),
            Fact::Extent(axis, against) => {
                made.extent[axis.index()] = Some((arris.unwrap_or_else(&mut next), *against));
            }
            Fact::Depth => made.depth = Some(next()),
            Fact::Diameter => made.diameter = Some(next()),
            Fact::Sunk => made.sunk = Some(next()),
            Fact::FromInner => made.from_inner = Some(next()),
            Fact::Width | Fact::Length | Fact::Radius | Fact::Arc(_) => {
                next();
            }
            Fact::Apart => made.apart = Some(next()),
            Fact::FromEnd => made.from_end = Some(next()),
            Fact::Shoulder(Axis::Y) => made.shoulders[0] = Some(next()),
            Fact::Shoulder(Axis::Z) => made.shoulders[1] = Some(next()),
            Fact::Shoulder(Axis::X) => panic!("a shoulder sawn in from an end: {:?}", size.words),
            Fact::LeanWidth => made.section[0] = Some(next()),
            Fact::LeanLength => made.section[1] = Some(next()),
            Fact::Turned => made.turned = Some(next()),
            Fact::Lean(axis) => made.leans[axis.index()] = Some(next()),
            Fact::Gauge => made.gauge = Some(next()),
            Fact::Blade | Fact::Angle => made.angle = Some(next()),
            Fact::Slope => {
                let one = next();
                assert!((one - 1.0).abs() < 1e-9, "a slope of one in something: {:?}", size.words);
                ratio = next();
            }
            Fact::Flank(sides, axis) => flank = Some((*sides, *axis, next())),
            Fact::Rise(axis) => rise = Some((*axis, next())),
        }
    }
    if let Some((axis, long)) = rise {
        made.extent[axis.index()] = Some((long, Against::Free));
    }
    if let Some((sides, axis, width)) = flank {
        let long = rise.map_or(0.0, |r| r.1);
        made.extent[axis.index()] = Some((width + sides as f64 * long / ratio, Against::Free));
    }
    assert_eq!(count, noted.cuts.len(), "as many as said in {:?}", size.words);
    for cut in &noted.cuts {
        let mut made = Made { face: Some(cut.from), ..made.clone() };
        for side in &cut.against {
            if let Some(extent) = &mut made.extent[side.axis.index()] {
                extent.1 = if side.far { Against::End } else { Against::Datum };
            }
        }
        for id in cut.bore.into_iter().chain([cut.cut]) {
            let again = rebuilt.cuts.insert(id, made.clone());
            assert!(again.is_none(), "cut {id} is noted twice");
        }
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
        self.places[axis].get(&PlaceId::Centre(id)).copied()
    }

    /// Where the corners of the shape of a cut are said to be on an axis.
    pub(super) fn corners(&self, id: usize, axis: usize) -> Vec<f64> {
        // A single straight line across a corner is sized by its two ends.
        let of_it = |place: &PlaceId| match place {
            PlaceId::Corner(cut, _) | PlaceId::Low(cut) | PlaceId::High(cut) => *cut == id,
            PlaceId::Datum | PlaceId::End | PlaceId::Centre(_) => false,
        };
        self.places[axis].iter().filter(|(place, _)| of_it(place)).map(|(_, at)| *at).collect()
    }

    /// Extent of a box cut on an axis, from the drawing alone.
    pub(super) fn extent(&self, id: usize, axis: usize) -> (f64, f64) {
        let made = self.cuts.get(&id).unwrap_or_else(|| panic!("nothing says what cut {id} is"));
        let whole = self.size[axis];
        if let Some(face) = made.face
            && face.axis.index() == axis
        {
            let depth = made.depth.unwrap_or(whole);
            return if face.far { (whole - depth, whole) } else { (0.0, depth) };
        }
        let place = |of: fn(usize) -> PlaceId| self.places[axis].get(&of(id)).copied();
        let extent = made.extent[axis].or(made.diameter.map(|d| (d, Against::Free)));
        match (extent, place(PlaceId::Centre), place(PlaceId::Low), place(PlaceId::High)) {
            (Some((e, _)), Some(c), None, None) => (c - e / 2.0, c + e / 2.0),
            (Some((e, _)), None, Some(a), None) => (a, a + e),
            (Some((e, Against::Datum)), None, None, None) => (0.0, e),
            (Some((e, Against::End)), None, None, None) => (whole - e, whole),
            (None, None, Some(a), Some(b)) => (a, b),
            (None, None, Some(a), None) => (a, whole),
            (None, None, None, Some(b)) => (0.0, b),
            (None, None, None, None) => (0.0, whole),
            other => panic!("cut {id} on axis {axis} is sized oddly: {other:?} in {:?}", made.words),
        }
    }
}
