//! What is done in a step of the assembly, and what to watch, as sentences without a
//! stop.

use super::called::{Called, LEAF_MADE_UP, several};
use crate::assembly::{Motion, Step, StepKind, Turned, Watch};
use crate::geometry::DVec3;
use crate::joinery::{Item, PartSource, WorkedJob};
use crate::model::Job;
use crate::problem::wording::{and_list, capital, count};
use crate::wording::Words;

/// Share of a way, unit, from which it counts as coming from that side: under it, it
/// would be drawn along the other axes.
const FROM: f64 = 0.1;

/// Share of a direction over which it runs along an axis.
pub(super) const ALONG: f64 = 0.9;

/// Most parts of a made-up group that are named one by one.
const NAMED: usize = 3;

/// How a group without a name of its own is told.
const MADE_UP: &str = "what was made up of ";

/// How steps of a job are told.
#[derive(Clone, Copy)]
pub struct Telling<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its parts and joints.
    pub worked: &'a WorkedJob,
    /// How lengths are worded.
    pub words: Words,
}

impl Telling<'_> {
    /// All lines of a step: first what is done.
    pub fn lines(&self, step: &Step) -> Vec<String> {
        let mut lines = vec![format!("{}.", self.title(step))];
        if !step.again.is_empty() {
            lines.push(format!("{} in all, with like parts.", times(step.again.len() + 1)));
        }
        lines.extend(turned(step.turned).map(|line| format!("{}.", capital(line))));
        lines.extend(self.parts(step));
        // What comes before all else of the step.
        let (first, rest): (Vec<&Watch>, Vec<&Watch>) = step
            .watch
            .iter()
            .filter(|watch| !self.is_said(step, watch))
            .partition(|watch| watch.comes_first());
        let watched = |watch: &&Watch| capital(&self.watch(watch)) + ".";
        lines.extend(first.iter().map(watched));
        lines.extend(self.have_ready(step));
        let inside = self.inside(step);
        // Where every move is told, the joints stand on the details.
        let told = !inside.is_empty();
        lines.extend(inside);
        if step.kind == StepKind::Join && !told {
            let joints = self.joints(step);
            if !joints.is_empty() {
                lines.push(format!("Joints: {joints}"));
            }
        }
        lines.extend(self.dry(step));
        lines.extend(self.screwed_from_below(step));
        lines.extend(self.clamping(step));
        lines.extend(step.check.map(|check| self.check(&check)));
        lines.extend(self.cut_later(step));
        lines.extend(self.lipped(step));
        lines.extend(self.put_on(step));
        lines.extend(self.waxed(step));
        lines.extend(rest.iter().map(watched));
        lines.extend(self.cleat_height(step));
        lines.extend(self.cautions(step));
        lines
    }

    /// What is done.
    pub fn title(&self, step: &Step) -> String {
        let works = || self.works(step);
        match step.kind {
            StepKind::GlueUp => self.of_boards(step),
            StepKind::Lip => format!("Glue the lippings to {}", self.names(&step.works)),
            StepKind::Cut => {
                format!("Cut {} on {}", self.kinds_cut(step), works())
            }
            StepKind::Finish => match &self.job.finish {
                Some(finish) => format!("Finish {} before the glass: {}", works(), finish.what),
                None => format!("Finish {} before the glass", works()),
            },
            StepKind::Fit => self.fit(step),
            StepKind::Join => self.join(step),
        }
    }

    /// Panels glued up of boards: `Glue up Top of 4 boards; Left side and Right side of 2 boards each`.
    fn of_boards(&self, step: &Step) -> String {
        let mut counts: Vec<(usize, Vec<usize>)> = Vec::new();
        for one in &step.staved {
            match counts.iter_mut().find(|(boards, _)| *boards == one.boards) {
                Some(known) => known.1.push(one.part),
                None => counts.push((one.boards, vec![one.part])),
            }
        }
        let said = counts.iter().map(|(boards, parts)| {
            let each = if parts.len() > 1 { " each" } else { "" };
            format!("{} of {boards} boards{each}", self.names(parts))
        });
        format!("Glue up {}", said.collect::<Vec<String>>().join("; "))
    }

    /// What a step works on.
    fn works(&self, step: &Step) -> String {
        let others: Vec<Vec<usize>> = step.again.iter().map(|again| again.works.clone()).collect();
        self.worked_on(&step.works, &others)
    }

    /// A step that joins.
    fn join(&self, step: &Step) -> String {
        let joints: Vec<usize> = step.motions.iter().flat_map(|one| one.joints.iter().copied()).collect();
        let any = |have: fn(&crate::joinery::Traits) -> bool| {
            joints.iter().filter_map(|j| self.worked.joints.get(*j)).any(|joint| have(&joint.traits))
        };
        if let [only] = step.motions.as_slice() {
            if joints.is_empty() && only.together.is_empty() && only.ways.iter().all(Option::is_none) {
                return format!("Set up {}", self.names(&only.adds));
            }
            if any(|traits| traits.hooks_on) && !only.together.is_empty() {
                let (wall, way) =
                    (self.names(&only.adds), only.together.first().map_or(DVec3::Y, |(_, way)| *way));
                return format!("Fix {wall} to the wall, level, and hang the rest on it {}", direction(way));
            }
        }
        let verb = match (any(|traits| traits.folds), step.glued, joints.is_empty()) {
            (true, _, _) => "Fold up and glue",
            (_, true, _) => "Glue",
            (_, false, true) => "Put in",
            (_, false, false) => "Fit",
        };
        if let [only] = step.motions.as_slice() {
            return format!("{verb} {}", self.motion(only, step.glued));
        }
        if !step.glued || self.is_side_by_side(step) {
            return self.at_once(step, verb);
        }
        self.glued_up(step, verb)
    }

    /// A glue-up of several moves: what comes of it, and of what.
    fn glued_up(&self, step: &Step, verb: &str) -> String {
        let adds: Vec<usize> = step.adds().collect();
        let made_before = |one: &&Motion| one.together.iter().any(|(part, _)| !adds.contains(part));
        let groups: Vec<Vec<usize>> = step
            .motions
            .iter()
            .filter(made_before)
            .map(|one| one.together.iter().map(|(part, _)| *part).collect())
            .collect();
        let said = |of: Option<&Called>| {
            let parts = self.in_heading(&adds, of, !step.again.is_empty());
            let groups = self.like_groups(&groups);
            and_list(&parts.into_iter().chain(groups).collect::<Vec<String>>())
        };
        let together = step.together();
        let base: Vec<usize> = step.onto().into_iter().filter(|part| !together.contains(part)).collect();
        if let Some(called) = self.called_whole(&base) {
            return format!("{verb} {} to {}", said(None), called.the());
        }
        let whole = |adds: Vec<usize>| adds.into_iter().chain(step.onto()).collect::<Vec<usize>>();
        // A side that is set dry closes it for now, but is no part of what is glued up.
        let closed = step.check.is_some() && step.set_dry().next().is_none() || !step.round.is_empty();
        let name = |parts: &[usize]| if closed { self.called_whole(parts) } else { self.called(parts) };
        let others: Vec<Option<Called>> = step
            .again
            .iter()
            .map(|again| name(&again.motions.iter().flat_map(|one| one.adds.clone()).collect::<Vec<usize>>()))
            .collect();
        let how = if self.closes_at_once(step) { ", all corners at once" } else { "" };
        match name(&whole(adds.clone())) {
            Some(called) if others.is_empty() => {
                format!("{verb} up {}: {}{how}", called.the(), said(Some(&called)))
            }
            Some(called) if called.each(&others).is_some() => {
                let each = called.each(&others).unwrap_or_default();
                format!("{verb} up each {each}: {}{how}", said(Some(&called)))
            }
            _ if how.is_empty() => format!("{verb} up {}, in one clamping", said(None)),
            _ => format!("{verb} up {}{how}", said(None)),
        }
    }

    /// Whether a ring closes from all sides at once. With tenons in its corners it is made up
    /// as two halves, which then go together: the last member would not go in between.
    fn closes_at_once(&self, step: &Step) -> bool {
        let joints = step.motions.iter().flat_map(|one| &one.joints);
        let mut joints = joints.filter_map(|joint| self.worked.joints.get(*joint));
        !step.round.is_empty()
            && joints.all(|joint| joint.inserts.is_empty() || joint.traits.is_drawn_together)
    }

    /// Whether no move of a step comes to what another brings in, so that their order is
    /// nothing to tell.
    fn is_side_by_side(&self, step: &Step) -> bool {
        let moved: Vec<usize> = step
            .motions
            .iter()
            .flat_map(|one| {
                one.adds.iter().zip(&one.ways).filter(|(_, way)| way.is_some()).map(|(part, _)| *part)
            })
            .collect();
        step.round.is_empty()
            && step.motions.iter().all(|one| self.met(one, false).iter().all(|part| !moved.contains(part)))
    }

    /// Moves made at once: those of one way together.
    fn at_once(&self, step: &Step, verb: &str) -> String {
        let mut ways: Vec<(String, Vec<usize>, Vec<usize>)> = Vec::new();
        let mut to: Vec<usize> = Vec::new();
        for one in &step.motions {
            let way = one.ways.iter().flatten().next().or(one.together.first().map(|(_, way)| way));
            let Some(way) = way else { continue };
            to.extend(self.met(one, step.glued));
            let said = came(one, *way);
            let known = ways.iter().position(|(known, ..)| *known == said);
            let place = known.unwrap_or_else(|| {
                ways.push((said, Vec::new(), Vec::new()));
                ways.len() - 1
            });
            let moved =
                one.adds.iter().zip(&one.ways).filter(|(_, way)| way.is_some()).map(|(part, _)| *part);
            ways[place].1.extend(moved);
            ways[place].2.extend(one.together.iter().map(|(part, _)| *part));
        }
        let said: Vec<String> = ways
            .iter()
            .map(|(way, parts, groups)| {
                let what = if groups.is_empty() { self.counted(parts) } else { self.groups(step, groups) };
                format!("{what} {way}")
            })
            .collect();
        let to = self.worked_on(&to, &[]);
        if to.is_empty() {
            format!("{verb} {}", and_list(&said))
        } else {
            format!("{verb} {} to {to}", and_list(&said))
        }
    }

    /// Several made-up groups that come along one way.
    fn groups(&self, step: &Step, parts: &[usize]) -> String {
        let groups = step.motions.iter().filter(|one| !one.together.is_empty());
        let groups: Vec<Vec<usize>> =
            groups.map(|one| one.together.iter().map(|(part, _)| *part).collect::<Vec<usize>>()).collect();
        let here = |group: &Vec<usize>| group.iter().any(|part| parts.contains(part));
        let groups: Vec<Vec<usize>> = groups.into_iter().filter(here).collect();
        and_list(&self.like_groups(&groups))
    }

    /// Made-up groups by their names, like ones counted: `the 2 frames`.
    fn like_groups(&self, groups: &[Vec<usize>]) -> Vec<String> {
        let mut kinds: Vec<(String, Option<Called>, usize)> = Vec::new();
        for group in groups {
            let (said, called) = (self.group(group), self.called(group));
            match kinds.iter_mut().find(|(known, ..)| *known == said) {
                Some(known) => known.2 += 1,
                None => kinds.push((said, called, 1)),
            }
        }
        kinds
            .into_iter()
            .map(|(said, called, n)| match (n, called.filter(|called| called.common)) {
                (1, _) => said,
                (_, Some(called)) => format!("the {n} {}", several(&called.name)),
                (_, None) => match said.strip_prefix(MADE_UP) {
                    Some(of) => format!("the {n} units made up of {of}"),
                    None => format!("{n} × {said}"),
                },
            })
            .collect()
    }

    /// One move: `Shelf from the left to Divider`; where asked only to what it is glued to.
    fn motion(&self, one: &Motion, glued: bool) -> String {
        let mut said: Vec<String> = Vec::new();
        let moved: Vec<usize> =
            one.adds.iter().zip(&one.ways).filter(|(_, way)| way.is_some()).map(|(part, _)| *part).collect();
        if let Some(way) = one.ways.iter().flatten().next()
            && !moved.is_empty()
        {
            said.push(format!("{} {}", self.counted(&moved), came(one, *way)));
        }
        let group: Vec<usize> = one.together.iter().map(|(part, _)| *part).collect();
        if let Some((_, way)) = one.together.first() {
            let what = self.group(&group);
            // Words between commas have one behind them too.
            let stop = if what.ends_with(LEAF_MADE_UP) { "," } else { "" };
            said.push(format!("{what}{stop} {}", direction(*way)));
        }
        let to = self.worked_on(&self.met(one, glued), &[]);
        match (said.is_empty(), to.is_empty()) {
            (true, _) => self.names(&one.adds),
            (false, true) => and_list(&said),
            (false, false) => format!("{} to {to}", and_list(&said)),
        }
    }

    /// What a move comes to: what a joint of it ties it to, where asked with glue.
    fn met(&self, one: &Motion, glued: bool) -> Vec<usize> {
        let still = one.adds.iter().zip(&one.ways).filter(|(_, way)| way.is_none()).map(|(part, _)| *part);
        let comes = |part: &usize| one.together.iter().any(|(moved, _)| moved == part);
        let stands = still.chain(one.onto.iter().copied().filter(|part| !comes(part)));
        let tied = |part: &usize| {
            one.joints
                .iter()
                .filter_map(|j| self.worked.joints.get(*j))
                .any(|joint| joint.parts.contains(part) && (joint.glued || !glued))
        };
        stands.filter(tied).collect()
    }

    /// A group made up before, by its name or by its parts.
    fn group(&self, group: &[usize]) -> String {
        self.called(group).map_or_else(|| self.made_up(group), |called| called.the())
    }

    /// A group made up before, by its parts.
    fn made_up(&self, group: &[usize]) -> String {
        let names = self.listed(group);
        if let [one, other] = names.as_slice() {
            // The smaller goes with the larger: a fillet with its lid.
            let size = |name: &String| {
                let own = group.iter().filter_map(|part| self.worked.parts.get(*part));
                own.filter(|part| part.name == *name).map(|part| part.size.element_product()).sum::<f64>()
            };
            let (large, small) = if size(one) < size(other) { (other, one) } else { (one, other) };
            return format!("{large} with {small}");
        }
        if names.len() > NAMED {
            let more = names.len() + 1 - NAMED;
            format!(
                "{MADE_UP}{} and {}",
                names[..NAMED - 1].join(", "),
                count(more, "other part", "other parts")
            )
        } else {
            format!("{MADE_UP}{}", and_list(&names))
        }
    }

    /// The order inside a clamping.
    fn inside(&self, step: &Step) -> Vec<String> {
        let in_turn = step.glued && step.motions.len() > 1 && !self.closes_at_once(step);
        if step.kind != StepKind::Join || !in_turn || self.is_side_by_side(step) {
            return Vec::new();
        }
        let mut said: Vec<(String, usize)> = Vec::new();
        for one in &step.motions {
            let dry = if one.glued { "" } else { ", dry" };
            let text = format!("{}{dry}", self.motion(one, false));
            match said.last_mut() {
                Some(last) if last.0 == text => last.1 += 1,
                _ => said.push((text, 1)),
            }
        }
        let letters = 'a'..='z';
        let line = |((text, n), letter): ((String, usize), char)| {
            if n > 1 { format!("{letter}  {n} × {text}.") } else { format!("{letter}  {text}.") }
        };
        said.into_iter().zip(letters).map(line).collect()
    }

    /// The parts that come in or are worked on, with their numbers.
    fn parts(&self, step: &Step) -> Option<String> {
        let parts: Vec<usize> =
            if step.motions.is_empty() { step.all_works().collect() } else { step.all_adds().collect() };
        let mut named: Vec<(String, usize)> = Vec::new();
        for part in parts.iter().filter_map(|p| self.worked.parts.get(*p)) {
            let lipping = matches!(part.source, PartSource::Lipping { .. });
            // Lippings stand on their parts once they are glued.
            if lipping && step.kind != StepKind::Lip {
                continue;
            }
            let text = format!("{} {}", part.mark(), part.name);
            match named.iter_mut().find(|(known, _)| *known == text) {
                Some(known) => known.1 += 1,
                None => named.push((text, 1)),
            }
        }
        let named: Vec<String> =
            named.into_iter().map(|(text, n)| if n > 1 { format!("{text} ({n})") } else { text }).collect();
        (!named.is_empty()).then(|| format!("Parts: {}", named.join(", ")))
    }

    /// What has to be put in beforehand.
    fn have_ready(&self, step: &Step) -> Option<String> {
        let joints: Vec<usize> = step.all_joints().collect();
        let items = self.items(&joints);
        (!items.is_empty() && step.kind != StepKind::Fit
            || step.kind == StepKind::Fit && !step.again.is_empty())
        .then(|| format!("Have ready: {}", items.join(", ")))
    }

    /// What some joints need, like ones counted.
    pub fn items(&self, joints: &[usize]) -> Vec<String> {
        let mut counted: Vec<(&Item, usize)> = Vec::new();
        for insert in joints.iter().filter_map(|j| self.worked.joints.get(*j)).flat_map(|j| &j.inserts) {
            match counted.iter_mut().find(|c| *c.0 == insert.item) {
                Some(known) => known.1 += insert.at.len(),
                None => counted.push((&insert.item, insert.at.len())),
            }
        }
        counted.into_iter().map(|(item, n)| format!("{n} × {}", self.words.item(item))).collect()
    }

    /// Joints of the step, like ones counted.
    fn joints(&self, step: &Step) -> String {
        let mut counted: Vec<(String, usize)> = Vec::new();
        for joint in step.joints.iter().filter_map(|j| self.worked.joints.get(*j)) {
            let called = self.words.called(self.worked, joint);
            match counted.iter_mut().find(|c| c.0 == called) {
                Some(known) => known.1 += 1,
                None => counted.push((called, 1)),
            }
        }
        let counted: Vec<String> = counted
            .into_iter()
            .map(|(called, n)| if n > 1 { format!("{n} times {called}") } else { called })
            .collect();
        counted.join("; ")
    }

    /// Where parts that come in upright are screwed from below, which the picture hides.
    fn screwed_from_below(&self, step: &Step) -> Option<String> {
        let comes_down = |way: &DVec3| way.z < ALONG;
        let upright = step.turned == Turned::Upright
            && step.kind == StepKind::Join
            && step.motions.iter().flat_map(|one| one.ways.iter().flatten()).all(comes_down);
        let joints = step.joints.iter().filter_map(|joint| self.worked.joints.get(*joint));
        let joints = joints.filter(|joint| joint.opens.is_none() && !joint.traits.rests_without_holding);
        let mut screws = joints.flat_map(|joint| &joint.inserts).filter(|insert| insert.item.is_screw());
        let up = |insert: &crate::joinery::Insert| insert.at.iter().any(|at| at.z.z > ALONG);
        (upright && screws.any(up)).then(|| match self.laid_face_down(step) {
            Some(top) => format!(
                "The screws go in from below: lay {top} face down on a blanket and the rest on it, feet up."
            ),
            None => "The screws go in from below.".into(),
        })
    }

    /// Names of parts, lippings left out, each once.
    pub(super) fn listed(&self, parts: &[usize]) -> Vec<String> {
        let mut names: Vec<String> = Vec::new();
        for part in parts.iter().filter_map(|p| self.worked.parts.get(*p)) {
            if matches!(part.source, PartSource::Part(_)) && !names.contains(&part.name) {
                names.push(part.name.clone());
            }
        }
        names
    }

    /// The same in a sentence.
    pub(super) fn names(&self, parts: &[usize]) -> String {
        and_list(&self.listed(parts))
    }
}

/// `five times`.
fn times(n: usize) -> String {
    let words = ["", "once", "twice", "three times", "four times", "five times", "six times"];
    let said = words.get(n).map_or_else(|| format!("{n} times"), |word| (*word).to_owned());
    capital(&said)
}

/// How the work is turned.
fn turned(turned: Turned) -> Option<&'static str> {
    match turned {
        Turned::Upright => None,
        Turned::Back => Some("turned round, seen from behind"),
        Turned::FeetUp => Some("turned over, its underside up"),
    }
}

/// Where what a move brings in comes from.
fn came(one: &Motion, way: DVec3) -> String {
    if one.from_inside.is_some() { "from inside".into() } else { direction(way) }
}

/// Where something that moves along `way` comes from: `from the left`.
fn direction(way: DVec3) -> String {
    let mut from: Vec<String> = Vec::new();
    let axes =
        [(way.x, "the left", "the right"), (way.y, "the front", "the back"), (way.z, "below", "above")];
    for (share, positive, negative) in axes {
        if share > FROM {
            from.push(positive.into());
        } else if share < -FROM {
            from.push(negative.into());
        }
    }
    match from.as_slice() {
        [only] if only == "above" => "down from above".into(),
        [only] if only == "below" => "up from below".into(),
        _ => format!("from {}", and_list(&from)),
    }
}
