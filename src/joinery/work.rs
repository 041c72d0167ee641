//! From the job to worked parts: blanks grow, joints cut, solids are carved.

use std::sync::Arc;

use crate::joinery::facts::traits::Traits;
use rayon::prelude::*;

use super::shaped::{joined, shape, trimmed};
use super::{bring, registry, tied};
use crate::geometry::{DVec3, Placement, Plane};
use crate::joinery::bench::blank::{Blank, overlap};
use crate::joinery::bench::fill::FillShape;
use crate::joinery::bench::made::{Growth, Joinery, Made, Sawn};
use crate::joinery::bench::meet::{TOUCH, side_of};
use crate::joinery::bench::seen::{Bench, Lip};
use crate::joinery::bench::tolerance::ONE_WAY;
use crate::joinery::bench::worked::{Cut, Hand, PartSource, Stage, WorkedJob, WorkedJoint, WorkedPart};
use crate::joinery::bench::{alike, number};
use crate::joinery::edge::lipping::{self, strip};
use crate::joinery::edge::sloping_lipping;
use crate::joinery::meeting::sawing;
use crate::model::{Form, Job, PartId, Work};
use crate::problem::{Problem, Severity};
use crate::solid::{Body, CarveProblem, Prism, Solid, Turning, carve};

/// Works every joint of the job. What cannot be made is left out and has a
/// problem of severity error; the rest is complete.
pub fn work(job: &Job) -> (WorkedJob, Vec<Problem>) {
    let mut problems = Vec::new();
    let (bench, spoilt) = lay_out(job, &mut problems);
    // What is laid out wrong is mended first: beads of a rebate that cannot be cut would
    // only say so again.
    let sound = problems.iter().all(|p| p.severity != Severity::Error);
    let Some(more) = sound.then(|| bring::brought(&bench, &spoilt)).flatten() else {
        return worked(&bench, &spoilt, problems);
    };
    let mut problems = more.problems;
    let (bench, mut spoilt) = lay_out(&more.job, &mut problems);
    spoilt.extend(more.spoilt);
    worked(&bench, &spoilt, problems)
}

/// Every joint worked on blanks that are laid out.
fn worked(bench: &Bench<'_>, spoilt: &[usize], mut problems: Vec<Problem>) -> (WorkedJob, Vec<Problem>) {
    let mut worked = WorkedJob { parts: blanks(bench), joints: Vec::new() };
    for (i, asked) in bench.job.works.iter().enumerate() {
        let Some(joinery) = registry::find(asked.word).filter(|_| !spoilt.contains(&i)) else { continue };
        match joinery.work(bench, asked) {
            Ok(mut list) => {
                saw_ends(bench, asked, &mut list);
                for mut made in list {
                    problems.append(&mut made.warnings);
                    enter(&mut worked, bench, asked, made, joinery.traits());
                }
            }
            Err(problem) => problems.push(problem),
        }
    }
    // Carved once all are worked: a solid is the whole of its cuts, and carving after
    // each joint would do the same work many times.
    problems.extend(make_all(&mut worked.parts));
    number::number(&mut worked.parts);
    (worked, problems)
}

/// Puts the ends that a work saws to its neighbours before all else that it cuts in them.
fn saw_ends(bench: &Bench<'_>, asked: &Work, list: &mut [Made]) {
    for trim in bench.trims_of(asked) {
        let of_part = list.iter_mut().find(|made| made.parts.contains(&trim.part));
        if let Some((made, cut)) = of_part.zip(sawing::sawn(trim)) {
            made.cuts.insert(0, cut);
        }
    }
}

/// Blanks as they are cut: joints added, lippings taken off. Also gives the
/// works that failed.
fn lay_out<'a>(job: &'a Job, problems: &mut Vec<Problem>) -> (Bench<'a>, Vec<usize>) {
    let placed: Vec<Blank> = job.parts.iter().map(|p| Blank { at: p.at, size: plain(p.size) }).collect();
    let real = vec![None; placed.len()];
    let mut bench = Bench { job, grown: placed.clone(), placed, lips: Vec::new(), real, trims: Vec::new() };
    shape(&mut bench);
    let (growths, spoilt) = growths(&mut bench, problems);
    for part in 0..bench.placed.len() {
        let mine = || growths.iter().filter(|(_, g)| g.part == part);
        let joined = joined(bench.placed[part], &mine().map(|(_, g)| *g));
        let mut core = joined;
        for (asked, growth) in mine() {
            // Lippings come last: they are glued to the blank with its joints, and take
            // from that.
            let Some((side, stock)) = growth.lipping else { continue };
            core = core.grown(growth.toward, growth.by).unwrap_or(core);
            let slope = sloping(&bench, part, growth.toward);
            let on_slope = || sloping_lipping::strip(bench.real.get(part)?.as_ref()?, slope?, -growth.by);
            if let Some(blank) = on_slope().or_else(|| strip(&joined, growth.toward, -growth.by)) {
                let by = job.works.get(*asked).and_then(|w| w.options.number("proud")).unwrap_or(0.0);
                let blank = lipping::proud(blank, by);
                bench.lips.push(Lip { of: part, side, stock, blank, slope, asked: *asked });
            }
        }
        bench.grown[part] = core;
    }
    // Parts are gone through in order here, but lippings are numbered as the script asks
    // for them.
    bench.lips.sort_by_key(|lip| lip.asked);
    (bench, spoilt)
}

/// What every work asks its parts to grow by, with the work; and the works that failed.
/// All see the parts as placed: none may rest on what another has added.
fn growths(bench: &mut Bench<'_>, problems: &mut Vec<Problem>) -> (Vec<(usize, Growth)>, Vec<usize>) {
    let job = bench.job;
    let mut spoilt = Vec::new();
    let mut growths: Vec<(usize, Growth)> = Vec::new();
    for (i, asked) in job.works.iter().enumerate() {
        let mut grown = |joinery: &dyn Joinery| {
            tied::check(joinery, asked)?;
            let mut list = trimmed(bench, joinery, i)?;
            list.extend(joinery.grow(bench, asked)?);
            Ok(list)
        };
        match registry::find(asked.word).map(&mut grown) {
            Some(Ok(list)) => match list.iter().find(|g| is_turned(job, g.part)) {
                Some(growth) => {
                    problems.push(cannot_grow(bench, asked, growth.part));
                    spoilt.push(i);
                }
                None => growths.extend(list.into_iter().map(|g| (i, g))),
            },
            Some(Err(problem)) => {
                problems.push(problem);
                spoilt.push(i);
            }
            None => {}
        }
    }
    (growths, spoilt)
}

/// Whether a part comes from the lathe.
fn is_turned(job: &Job, part: usize) -> bool {
    job.parts.get(part).is_some_and(|p| matches!(p.form, Form::Turned(_)))
}

/// A joint that would lengthen a turned part, whose length its stations give.
fn cannot_grow(bench: &Bench<'_>, work: &Work, part: usize) -> Problem {
    let message = format!("`{}` cannot be cut on `{}`, which is turned", work.word.name, bench.name(part));
    bench
        .error(work, "turned-part", message, &[part])
        .help("turn a spigot on its end with `stations`, and join it by `spigot`")
}

/// Steps to a millimetre that sizes are rounded to.
const TO_A_MM: f64 = 1e6;

/// Sizes without the noise of sums, to a millionth of a mm.
fn plain(size: DVec3) -> DVec3 {
    (size * TO_A_MM).round() / TO_A_MM
}

/// The sloping edge of a part that looks along `toward`, which is no axis of its box.
fn sloping(bench: &Bench<'_>, part: usize, toward: DVec3) -> Option<Plane> {
    if bench.placed.get(part)?.axis_along(toward).is_some() {
        return None;
    }
    let planes = bench.real.get(part)?.as_ref()?.planes();
    planes.into_iter().find(|plane| plane.normal.dot(toward) > ONE_WAY)
}

/// Parts without cuts: those of the script, then lippings.
fn blanks(bench: &Bench<'_>) -> Vec<WorkedPart> {
    let mut list = Vec::new();
    for (i, (part, blank)) in bench.job.parts.iter().zip(&bench.grown).enumerate() {
        list.push(WorkedPart {
            source: PartSource::Part(PartId(i)),
            name: part.name.clone(),
            number: 0,
            hand: Hand::None,
            piece: part.piece,
            stock: part.stock,
            at: blank.at,
            size: blank.size,
            face: part.face,
            edge: part.edge,
            body: body(&part.form, blank.size),
            cuts: Vec::new(),
            fills: Vec::new(),
            solid: Arc::default(),
            remark: part.remark.clone(),
            origin: part.origin,
        });
    }
    for lip in &bench.lips {
        let Some(part) = bench.job.parts.get(lip.of) else { continue };
        // The side stands in the name only where there are several: two of one name
        // could not be told apart on the list.
        let alone = bench.lips.iter().filter(|l| l.of == lip.of).count() == 1;
        let name = if alone {
            format!("{} lipping", part.name)
        } else {
            format!("{} {} lipping", part.name, lip.side.name())
        };
        list.push(WorkedPart {
            source: PartSource::Lipping { of: lip.of, side: lip.side },
            name,
            number: 0,
            hand: Hand::None,
            piece: part.piece,
            stock: lip.stock,
            at: lip.blank.at,
            size: lip.blank.size,
            face: lip.side,
            edge: side_of(-lip.blank.at.y),
            body: body(&Form::Flat, lip.blank.size),
            cuts: Vec::new(),
            fills: Vec::new(),
            solid: Arc::default(),
            remark: None,
            origin: bench.job.works.get(lip.asked).map_or(part.origin, |w| w.origin),
        });
    }
    list
}

/// The body of a part in its own coordinates.
fn body(form: &Form, size: DVec3) -> Body {
    match form {
        Form::Flat => Body::Prism(Prism::cuboid(DVec3::ZERO, size)),
        Form::Turned(stations) => {
            let origin = DVec3::new(0.0, 0.5 * size.y, 0.5 * size.z);
            let at = Placement { origin, x: DVec3::Y, y: DVec3::Z, z: DVec3::X };
            Body::Turning(Turning { at, stations: stations.clone() })
        }
    }
}

/// Enters a joint and its cuts.
fn enter(worked: &mut WorkedJob, bench: &Bench<'_>, asked: &Work, made: Made, traits: Traits) {
    // Shaping joins nothing, so no joint is listed for its cuts.
    let joint = (!made.shaping).then_some(worked.joints.len());
    let stage = if asked.after_glue_up { Stage::AfterGlueUp } else { Stage::Loose };
    for Sawn { part, kind, shape } in made.cuts {
        let lips = bench.lips.iter().enumerate().filter(|(_, lip)| lip.of == part && kind.passes_lippings());
        let through = lips.filter(|(_, lip)| overlap(&shape, &lip.blank.prism()) > TOUCH);
        let also = through.map(|(k, _)| bench.placed.len() + k);
        for index in std::iter::once(part).chain(also) {
            let Some(target) = worked.parts.get_mut(index) else { continue };
            let moved = (index == part).then(|| sloping_lipping::moved_in(bench, part, &shape)).flatten();
            let shape = clear_of_round(moved.as_ref().unwrap_or(&shape).seen_from(&target.at), target);
            target.cuts.push(Cut { shape, kind, stage, joint, origin: asked.origin });
        }
    }
    for (part, fill) in made.fills {
        if let Some(target) = worked.parts.get_mut(part) {
            target.fills.push(fill);
        }
    }
    if joint.is_some() {
        worked.joints.push(WorkedJoint {
            word: asked.word.name,
            parts: made.parts,
            inserts: made.inserts,
            // Adding nought turns a negative nought into a plain one.
            ways_in: made.ways_in.iter().map(|way| *way + DVec3::ZERO).collect(),
            glued: made.glued,
            facts: made.facts,
            traits,
            shown_by: made.shown_by,
            opens: made.opens,
            origin: asked.origin,
        });
    }
}

/// How far a cut from the side of a turned part begins outside it, mm.
const OUTSIDE: f64 = 1.0;

/// A cut of a part, begun outside where its mouth only touches a round side:
/// faces that meet a round along a line leave nothing to tell in from out by.
fn clear_of_round(mut shape: Prism, part: &WorkedPart) -> Prism {
    if !matches!(part.body, Body::Turning(_)) {
        return shape;
    }
    let way = shape.at.z;
    let Some(axis) = [1, 2].into_iter().find(|axis| way[*axis].abs() > ONE_WAY) else { return shape };
    let on_side = |along: f64| {
        let at = (shape.at.origin + way * along)[axis];
        at.abs() < TOUCH || (at - part.size[axis]).abs() < TOUCH
    };
    let (near, far) = (on_side(shape.from), on_side(shape.to));
    shape.from -= if near { OUTSIDE } else { 0.0 };
    shape.to += if far { OUTSIDE } else { 0.0 };
    shape
}

/// Carves every part; parts that are alike where they lie are carved once.
fn make_all(parts: &mut [WorkedPart]) -> Vec<Problem> {
    let like = alike::firsts(parts);
    let carved =
        parts.par_iter_mut().enumerate().map(|(i, part)| (like[i] == i).then(|| make(part)).flatten());
    let mut unmade: Vec<Option<Problem>> = carved.collect();
    for (i, first) in like.into_iter().enumerate().filter(|(i, first)| i != first) {
        // What failed is carved again, so that each part has a problem with its own
        // name.
        if unmade[first].is_some() {
            unmade[i] = make(&mut parts[i]);
        } else {
            parts[i].solid = Arc::clone(&parts[first].solid);
        }
    }
    unmade.into_iter().flatten().collect()
}

/// Carves a part; a lipping is first shortened to what its cuts leave.
fn make(part: &mut WorkedPart) -> Option<Problem> {
    match carved(part) {
        Ok(solid) => {
            part.solid = Arc::new(solid);
            let is_strip = matches!(part.source, PartSource::Lipping { .. });
            if is_strip && lipping::shorten(part) {
                return make(part).or_else(|| lipping::stub(part));
            }
            if is_strip { lipping::sliver(part) } else { None }
        }
        Err(why) => {
            // The bare blank stands in, so that one bad part does not keep back what is
            // wrong with the others.
            part.solid = Arc::new(carve(&part.body, &[]).unwrap_or_default());
            Some(unmade(part, &why))
        }
    }
}

/// The part's body minus its cuts, with the edges of its rings drawn on.
fn carved(part: &WorkedPart) -> Result<Solid, CarveProblem> {
    let shapes: Vec<Prism> = part.cuts.iter().map(|c| c.shape.clone()).collect();
    let mut solid = carve(&part.body, &shapes)?;
    for fill in &part.fills {
        let FillShape::Ring { from, to, .. } = fill.shape else { continue };
        for at in [from, to] {
            solid.scribe(&Plane { normal: DVec3::X, offset: at });
        }
    }
    Ok(solid)
}

/// Why a part cannot be made, in joinery words.
fn unmade(part: &WorkedPart, why: &CarveProblem) -> Problem {
    let name = &part.name;
    let (code, message, help) = match why {
        CarveProblem::NoBody => {
            ("no-body", format!("`{name}` has no size left"), "look at its size and its lippings")
        }
        CarveProblem::OutOfReach => (
            "out-of-reach",
            format!("`{name}` or one of its cuts is larger than 100 m, or lies that far off"),
            "look at the sizes and places of this part and its cuts",
        ),
        CarveProblem::NothingLeft => {
            ("nothing-left", format!("the cuts leave nothing of `{name}`"), "look at the joints of this part")
        }
        CarveProblem::FallsApart { pieces } => (
            "falls-apart",
            format!("the cuts leave `{name}` in {pieces} pieces"),
            "look for a cut that goes right through, and make it shallower or shorter",
        ),
        CarveProblem::DoesNotClose => (
            "does-not-close",
            format!("cuts of `{name}` almost meet, but not quite"),
            "let them meet, or leave wood between them",
        ),
    };
    let mut problem = Problem::error(code, message).at(part.origin).part(name.clone()).help(help);
    // A few places in the script are enough to find the cut: the rest would bury the
    // message.
    let mut places: Vec<_> = part.cuts.iter().map(|c| c.origin.user).collect();
    places.dedup();
    for span in places.into_iter().take(4) {
        problem = problem.place(span, "cuts it here");
    }
    problem
}
