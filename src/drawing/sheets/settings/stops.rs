//! Stops for mortises and holes: how far along the part each lies, from which
//! end, told so that all parts that need one stop stand together.

use super::gather::Setting;
use crate::drawing::kit::words::length_text;
use crate::drawing::page::look::Look;
use crate::drawing::sheets::parts::feature::{SAME, face_on};
use crate::geometry::DVec3;

/// Holes of one pitch from which on a row is told as a row.
const ROW: usize = 3;

/// Where a stop stands.
#[derive(Clone, Debug, Default, PartialEq)]
pub(in crate::drawing) struct Stops {
    /// Middles along the part, mm from its near end, with the size of the part
    /// there and the axis, as they are gathered.
    raw: Vec<Middle>,
    /// Distance, and the end or edge it is from.
    told: Vec<(String, &'static str)>,
}

/// The middle of a mortise or hole along the part.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Middle {
    at: f64,
    size: f64,
    axis: usize,
}

impl Stops {
    /// The stop of one mortise or hole; none for what runs out at an end.
    pub(in crate::drawing) fn of(size: DVec3, axis: usize, (low, high): (f64, f64)) -> Self {
        if low < SAME || high > size[axis] - SAME {
            return Self::default();
        }
        let middle = Middle { at: 0.5 * (low + high), size: size[axis], axis };
        Self { raw: vec![middle], told: Vec::new() }
    }

    /// Whether there are none.
    pub(in crate::drawing) fn is_empty(&self) -> bool {
        self.raw.is_empty() && self.told.is_empty()
    }

    /// Takes in those of another cut.
    pub(in crate::drawing) fn add(&mut self, other: &Self) {
        self.raw.extend(&other.raw);
    }

    /// `30, 90 from the near end; 40 from the far end`; ends with the same
    /// distances are named together.
    pub(in crate::drawing) fn text(&self) -> String {
        let mut ends: Vec<(&str, Vec<&str>)> = Vec::new();
        for (distance, end) in &self.told {
            match ends.iter_mut().find(|have| have.0 == *end) {
                Some(have) => have.1.push(distance),
                None => ends.push((end, vec![distance])),
            }
        }
        let mut groups: Vec<(Vec<&str>, Vec<&str>)> = Vec::new();
        for (end, distances) in ends {
            match groups.iter_mut().find(|have| have.1 == distances) {
                Some(have) => have.0.push(end),
                None => groups.push((vec![end], distances)),
            }
        }
        let one = |(ends, distances): &(Vec<&str>, Vec<&str>)| {
            format!("{} from the {}", distances.join(", "), ends.join(" and "))
        };
        groups.iter().map(one).collect::<Vec<_>>().join("; ")
    }

    /// Each stop with how many cuts it serves: a row of one pitch as a row, all
    /// else from the nearer end.
    fn told(&self, look: &Look) -> Vec<((String, &'static str), usize)> {
        let mut middles = self.raw.clone();
        middles.sort_by(|a, b| a.at.total_cmp(&b.at));
        let show = |mm: f64| length_text(look, mm);
        if let (Some(first), Some(last)) = (middles.first(), middles.last())
            && middles.len() >= ROW
        {
            let pitch = (last.at - first.at) / (middles.len() - 1) as f64;
            let even = |pair: &[Middle]| (pair[1].at - pair[0].at - pitch).abs() < SAME;
            if pitch > SAME && middles.windows(2).all(even) {
                let row = format!("{} to {} every {}", show(first.at), show(last.at), show(pitch));
                return vec![((row, face_on(first.axis, false).name()), middles.len())];
            }
        }
        let near = |middle: Middle| {
            let far = middle.size - middle.at < middle.at - SAME;
            (far, if far { middle.size - middle.at } else { middle.at }, middle.axis)
        };
        let mut ends: Vec<(bool, f64, usize)> = middles.into_iter().map(near).collect();
        ends.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
        let mut told: Vec<((String, &'static str), usize)> = Vec::new();
        for (far, distance, axis) in ends {
            let stop = (show(distance), face_on(axis, far).name());
            match told.iter_mut().find(|have| have.0 == stop) {
                Some(have) => have.1 += 1,
                None => told.push((stop, 1)),
            }
        }
        told
    }
}

/// Splits settings up by their stops, puts parts that need the same stop
/// together, and tells stops that serve the same parts in one line.
pub(in crate::drawing) fn spread(all: Vec<Setting>, look: &Look) -> Vec<Setting> {
    let alike = |a: &Setting, b: &Setting| {
        a.machine == b.machine
            && a.later == b.later
            && a.cut == b.cut
            && a.set == b.set
            && a.against == b.against
    };
    let mut single: Vec<Setting> = Vec::new();
    for setting in all {
        if setting.stops.is_empty() {
            single.push(setting);
            continue;
        }
        for (stop, cuts) in setting.stops.told(look) {
            let parts: Vec<(String, usize)> =
                setting.parts.iter().map(|part| (part.0.clone(), cuts)).collect();
            let stops = Stops { raw: Vec::new(), told: vec![stop] };
            match single.iter_mut().find(|have| have.stops == stops && alike(have, &setting)) {
                Some(have) => have.parts.extend(parts),
                None => single.push(Setting { stops, parts, ..setting.clone() }),
            }
        }
    }
    let mut list: Vec<Setting> = Vec::new();
    for setting in single {
        let same = |have: &&mut Setting| {
            !setting.stops.is_empty()
                && !have.stops.is_empty()
                && alike(have, &setting)
                && have.parts.len() == setting.parts.len()
                && have.parts.iter().zip(&setting.parts).all(|(a, b)| a.0 == b.0)
        };
        match list.iter_mut().find(same) {
            Some(have) => {
                have.stops.told.extend(setting.stops.told);
                have.parts.iter_mut().zip(&setting.parts).for_each(|(part, more)| part.1 += more.1);
            }
            None => list.push(setting),
        }
    }
    list
}
