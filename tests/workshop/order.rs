//! The order of assembly played from its written file: parts that are there, moved the
//! printed way to what they come to, into nothing that stands; every part once, every
//! fitting in hand.

use std::collections::{BTreeMap, BTreeSet};

use rodwright::assembly::FromInside;
use rodwright::geometry::DVec3;
use rodwright::joinery::WorkedJob;
use rodwright::solid::Standing;
use serde_json::Value;

use crate::assembly::play::is_let_in;

use super::papers::{ORDER, Papers, count, items, number, text};

/// What the workshop knows while it plays.
struct Floor<'a> {
    worked: &'a WorkedJob,
    standing: Vec<Standing>,
    /// Parts that have come in, by their places among the parts of the model.
    stands: BTreeSet<usize>,
    faults: Vec<String>,
    /// Whether it could not be told which of several parts of one name is meant: what such
    /// parts run into says nothing then.
    unsure: bool,
}

/// Everything that goes wrong in putting a job together by its papers. `pieces` names the
/// pieces of the model.
pub(crate) fn faults(papers: &Papers, worked: &WorkedJob, pieces: &[String]) -> Vec<String> {
    let standing = worked.parts.iter().map(|part| Standing::new(&part.solid, &part.at)).collect();
    let mut floor = Floor { worked, standing, stands: BTreeSet::new(), faults: Vec::new(), unsure: false };
    let steps = papers.list(ORDER, "steps");
    for (index, piece) in pieces.iter().enumerate() {
        let own: Vec<usize> = (0..worked.parts.len()).filter(|p| worked.parts[*p].piece.0 == index).collect();
        let steps: Vec<&Value> = steps.iter().filter(|step| text(&step["piece"]) == *piece).collect();
        if steps.is_empty() && own.len() > 1 && papers.0.contains_key(ORDER) {
            floor.faults.push(format!("{piece} has no steps"));
        }
        floor.unsure = false;
        for (at, step) in steps.iter().enumerate() {
            if count(&step["step"]) != at + 1 {
                floor.faults.push(format!("{piece}: step {} stands where {} should", step["step"], at + 1));
            }
            floor.step(&own, step);
        }
        let missing = own.iter().filter(|part| !steps.is_empty() && !floor.stands.contains(part));
        let missing: Vec<String> =
            missing.map(|p| format!("{piece}: `{}` never comes in", worked.parts[*p].name)).collect();
        floor.faults.extend(missing);
    }
    let fittings = fittings(papers, &steps);
    floor.faults.extend(fittings);
    floor.faults
}

impl Floor<'_> {
    /// Parts of a piece that are called so.
    fn named(&self, own: &[usize], name: &str) -> Vec<usize> {
        own.iter().copied().filter(|part| self.worked.parts[*part].name == name).collect()
    }

    fn step(&mut self, own: &[usize], step: &Value) {
        let kind = text(&step["kind"]);
        let mut told: Vec<String> = items(&step["parts"]).iter().map(|part| text(&part["name"])).collect();
        let mut moved: Vec<String> = Vec::new();
        for part in items(&step["parts"]).iter().chain(&items(&step["works"])) {
            let (mark, name) = (text(&part["mark"]), text(&part["name"]));
            if !self.named(own, &name).iter().any(|p| self.worked.parts[*p].mark() == mark) {
                self.faults.push(format!("no part is {mark} {name}"));
            }
        }
        for one in items(&step["moves"]) {
            moved.extend(items(&one["adds"]).iter().map(text));
            if kind == "join" {
                self.motion(own, &one);
            }
        }
        told.sort();
        moved.sort();
        if told != moved {
            self.faults.push(format!("step {}: {told:?} are to come in, {moved:?} are moved", step["step"]));
        }
    }

    /// One move of a joining step.
    fn motion(&mut self, own: &[usize], one: &Value) {
        let way = |value: &Value| -> Option<DVec3> {
            let way = items(value);
            (way.len() == 3).then(|| DVec3::new(number(&way[0]), number(&way[1]), number(&way[2])))
        };
        let adds: Vec<String> = items(&one["adds"]).iter().map(text).collect();
        let ways: Vec<Option<DVec3>> = items(&one["ways"]).iter().map(way).collect();
        if adds.len() != ways.len() {
            self.faults.push(format!("{adds:?} have {} ways", ways.len()));
        }
        let names = |key: &str| -> Vec<String> { items(&one[key]).iter().map(text).collect() };
        let together = self.there(own, &names("together"));
        self.there(own, &names("onto"));
        let inside = one.get("from_inside").and_then(|inside| {
            Some(FromInside { way: way(&inside["way"])?, clear: number(&inside["clear"]) })
        });
        let onto = Onto { inside, ..Onto::of(self, own, &names("onto"), &together) };
        let group: Vec<Option<DVec3>> = items(&one["together_ways"]).iter().map(way).collect();
        if group.len() != names("together").len() {
            self.faults.push(format!("no way is told for {:?}", names("together")));
        }
        for (part, way) in together.iter().zip(&group).filter_map(|(part, way)| Some((*part, (*way)?))) {
            self.comes(part, way, &onto);
        }
        let wanted: Vec<(&String, Option<DVec3>)> = adds.iter().zip(ways.iter().copied()).collect();
        self.unsure |= wanted.iter().any(|(name, way)| self.may_be_either(own, name, *way, &onto));
        let mut came = Vec::new();
        if !self.assign(own, &wanted, &onto, &mut came) {
            // Then whichever is free, so that it is said what it runs into.
            came.clear();
            for (name, way) in &wanted {
                let free = self.named(own, name).into_iter().find(|p| self.is_free(*p, &came));
                let Some(part) = free else {
                    self.faults.push(format!("`{name}` comes in again"));
                    continue;
                };
                if let Some(way) = way {
                    self.comes(part, *way, &onto);
                }
                came.push(part);
            }
        }
        self.stands.extend(&came);
        if came.len() == ways.len() {
            self.closes(&came, &ways, &onto);
        }
    }

    fn is_free(&self, part: usize, came: &[usize]) -> bool {
        !self.stands.contains(&part) && !came.contains(&part)
    }

    /// Whether any of several parts of a name could come so, and it makes a difference: the
    /// first, to which others come, or one that comes askew.
    fn may_be_either(&self, own: &[usize], name: &str, way: Option<DVec3>, onto: &Onto) -> bool {
        let named = self.named(own, name);
        let free = named.iter().filter(|part| self.is_free(**part, &[]));
        let Some(way) = way else { return named.len() > 1 };
        let askew = way.abs().max_element() < 1.0 - 1e-6;
        askew && free.filter(|part| onto.stops(self, **part, way).is_none()).count() != 1 && named.len() > 1
    }

    /// Which parts are meant by names that several share: ones that all go in, if there are
    /// such.
    fn assign(
        &self,
        own: &[usize],
        wanted: &[(&String, Option<DVec3>)],
        onto: &Onto,
        came: &mut Vec<usize>,
    ) -> bool {
        let Some((name, way)) = wanted.get(came.len()) else { return true };
        for part in self.named(own, name) {
            if !self.is_free(part, came) || way.is_some_and(|way| onto.stops(self, part, way).is_some()) {
                continue;
            }
            came.push(part);
            if self.assign(own, wanted, onto, came) {
                return true;
            }
            came.pop();
        }
        false
    }

    /// Parts that must stand by now. Of several of one name those that do.
    fn there(&mut self, own: &[usize], names: &[String]) -> Vec<usize> {
        let mut found: Vec<usize> = Vec::new();
        for name in names {
            let known =
                self.named(own, name).into_iter().find(|p| self.stands.contains(p) && !found.contains(p));
            match known {
                Some(part) => found.push(part),
                None => self.faults.push(format!("`{name}` is not there yet")),
            }
        }
        found
    }

    fn comes(&mut self, part: usize, way: DVec3, onto: &Onto) {
        if let Some(other) = onto.stops(self, part, way).filter(|_| !self.unsure) {
            self.faults.push(format!("`{}` runs into `{other}`", self.worked.parts[part].name));
        }
    }

    /// A joint with inserts closes only the way its parts are made to come together.
    fn closes(&mut self, came: &[usize], ways: &[Option<DVec3>], onto: &Onto) {
        let name = |part: usize| self.worked.parts[part].name.clone();
        let mut wrong = Vec::new();
        for (part, way) in came.iter().zip(ways) {
            let Some(way) = way else { continue };
            for joint in &self.worked.joints {
                let inserts = joint.inserts.iter().any(|insert| !insert.at.is_empty());
                let hooks = joint.traits.hooks_on || joint.traits.is_drawn_together;
                let [a, b] = joint.parts[..] else { continue };
                let sign = match (a == *part && onto.holds(b), b == *part && onto.holds(a)) {
                    (true, _) => -1.0,
                    (_, true) => 1.0,
                    _ => continue,
                };
                let open = |own: &DVec3| own.dot(*way * sign) > 1.0 - 1e-6;
                if inserts && !hooks && !joint.ways_in.is_empty() && !joint.ways_in.iter().any(open) {
                    wrong.push(format!("the {} of `{}` do not close along {way}", joint.word, name(*part)));
                }
            }
        }
        self.faults.extend(wrong);
    }
}

/// What a move comes to: for each name how many, and which parts that stand are called so.
struct Onto {
    all: Vec<(String, usize, Vec<usize>)>,
    /// How what comes to it is let in beside its place, where it is pressed on from inside.
    inside: Option<FromInside>,
}

impl Onto {
    fn of(floor: &Floor<'_>, own: &[usize], names: &[String], together: &[usize]) -> Self {
        let mut all: Vec<(String, usize, Vec<usize>)> = Vec::new();
        for name in names {
            if let Some(known) = all.iter_mut().find(|known| known.0 == *name) {
                known.1 += 1;
                continue;
            }
            let stand = |part: &usize| floor.stands.contains(part) && !together.contains(part);
            all.push((name.clone(), 1, floor.named(own, name).into_iter().filter(stand).collect()));
        }
        Self { all, inside: None }
    }

    fn holds(&self, part: usize) -> bool {
        self.all.iter().any(|one| one.2.contains(&part))
    }

    /// The name of what a part runs into that comes a way: fewer of that name than are
    /// meant let it by.
    fn stops(&self, floor: &Floor<'_>, part: usize, way: DVec3) -> Option<&str> {
        let blocked = |(_, times, stand): &&(String, usize, Vec<usize>)| {
            let clear = |other: &&usize| {
                let other_stands = &floor.standing[**other];
                let passes = match &self.inside {
                    Some(inside) => is_let_in(floor.worked, (part, way), inside, other_stands),
                    None => !floor.standing[part].is_blocked_by(other_stands, -way),
                };
                part == **other || passes
            };
            stand.iter().filter(clear).count() < (*times).min(stand.len())
        };
        self.all.iter().find(blocked).map(|one| one.0.as_str())
    }
}

/// Fittings of the steps, `12 × loose tenon`, against what the list of fittings has.
fn fittings(papers: &Papers, steps: &[Value]) -> Vec<String> {
    let mut used: BTreeMap<String, i64> = BTreeMap::new();
    for step in steps {
        for fitting in items(&step["fittings"]) {
            let fitting = text(&fitting);
            let (many, what) = fitting.split_once(" × ").unwrap_or(("1", &fitting));
            *used.entry(what.to_owned()).or_default() += many.parse::<i64>().unwrap_or(0);
        }
    }
    let mut had: BTreeMap<String, i64> = BTreeMap::new();
    for line in papers.list(super::papers::BUYING, "lines") {
        if text(&line["group"]) == "fittings" {
            let many = if line["needed"].is_number() { &line["needed"] } else { &line["quantity"] };
            *had.entry(text(&line["what"])).or_default() += i64::try_from(count(many)).unwrap();
        }
    }
    // A piece that is made twice has one order.
    let differ = used
        .iter()
        .filter(|(what, many)| had.get(*what).is_none_or(|have| *many <= &0 || have % **many != 0));
    let mut faults: Vec<String> = differ
        .map(|(what, many)| format!("{many} × {what} are used, {:?} are bought", had.get(what)))
        .collect();
    faults.extend(
        had.keys().filter(|what| !used.contains_key(*what)).map(|what| format!("{what} is in no step")),
    );
    faults
}
