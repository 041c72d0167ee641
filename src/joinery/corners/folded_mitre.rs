//! Folded mitres: parts of one panel, parted by V grooves and folded up round
//! the tape on their face, so that the figure runs on round the corners.

use super::{compound, mitre};
use crate::geometry::{DVec3, trig};
use crate::joinery::bench::corner;
use crate::joinery::bench::made::{Joinery, Made};
use crate::joinery::bench::meet::TOUCH;
use crate::joinery::bench::mitre_plane::{MitrePlane, mitre_plane};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::tolerance::LOOKS;
use crate::joinery::facts::Facts;
use crate::joinery::facts::corners::CornerJoint;
use crate::joinery::facts::traits::{TakesUp, Traits};
use crate::model::{Arg, Job, OptionKind, OptionSpec, StockKind, Takes, Usual, Word, Work};
use crate::problem::Problem;
use crate::source::Origin;

/// The word `folded_mitre`.
pub(in crate::joinery) struct FoldedMitre;

/// What `folded_mitre` says of itself.
static WORD: Word = Word {
    name: "folded_mitre",
    args: &[Arg { name: "parts", takes: Takes::Parts }],
    options: &[
        OptionSpec {
            key: "skin",
            kind: OptionKind::Length { min: 0.0, max: 3.0 },
            default: &[
                Usual::Length(0.0),
                Usual::Words(": the groove comes through to the tape on the face"),
            ],
            says: "face left under each V groove, which bends round the corner; the panel is cut shorter for it",
        },
        OptionSpec {
            key: "closed",
            kind: OptionKind::YesNo,
            default: &[Usual::YesNo(false)],
            says: "the last part also meets the first, in a mitre that is glued when all is folded up",
        },
    ],
    says: "parts a panel by V grooves and folds it up: the parts are named in the order in which they hang \
           together, and the figure runs on round the corners",
    rule: "either side of a groove leans by half of what its corner turns, so that the long points touch on the \
           face and the figure loses nothing (geometry); tape on the face is the hinge (common practice, no source)",
    example: "folded_mitre([left, top, right], #{ skin: 0.4 });",
};

/// Parts that are folded from one panel.
#[derive(Clone, Debug, PartialEq)]
pub struct Wrap {
    /// In the order in which they hang together: indices of parts.
    pub parts: Vec<usize>,
    /// Face left under the grooves, mm.
    pub skin: f64,
    /// Where it was asked for.
    pub origin: Origin,
}

/// Everything that is folded from one panel, in script order.
pub fn wraps(job: &Job) -> Vec<Wrap> {
    let folded = job.works.iter().filter(|work| work.word.name == WORD.name);
    folded
        .map(|work| Wrap { parts: named(work), skin: skin(work), origin: work.origin })
        .filter(|wrap| wrap.parts.len() > 1)
        .collect()
}

impl Wrap {
    /// Whether two parts hang together by a groove, and so are not sawn apart.
    pub fn hinges(&self, a: usize, b: usize) -> bool {
        self.parts.windows(2).any(|two| matches!(*two, [p, q] if (p, q) == (a, b) || (q, p) == (a, b)))
    }
}

/// The parts of a fold in order.
fn named(work: &Work) -> Vec<usize> {
    work.parts.first().into_iter().flatten().map(|part| part.0).collect()
}

/// What is left under the grooves, mm.
fn skin(work: &Work) -> f64 {
    work.options.number("skin").unwrap_or(0.0)
}

impl Joinery for FoldedMitre {
    fn word(&self) -> &'static Word {
        &WORD
    }

    fn traits(&self) -> Traits {
        Traits { folds: true, takes_up: TakesUp::Meeting, ..Traits::default() }
    }

    fn work(&self, bench: &Bench<'_>, work: &Work) -> Result<Vec<Made>, Problem> {
        bench.part(work, 0)?;
        let parts: Vec<usize> = named(work).into_iter().filter(|i| *i < bench.placed.len()).collect();
        let closed = work.options.yes("closed");
        enough(bench, work, &parts, closed)?;
        once(bench, work, &parts)?;
        one_sheet(bench, work, &parts)?;
        let mut corners = Vec::new();
        for pair in parts.windows(2) {
            if let [a, b] = *pair {
                corners.push(fold(bench, work, a, b)?);
            }
        }
        if let ([first, .., last], true) = (parts.as_slice(), closed) {
            corners.push(fold(bench, work, *last, *first)?);
        }
        strip(bench, work, &parts, &corners)?;
        Ok(corners.iter().enumerate().map(|(i, one)| made(bench, work, one, i + 1 < parts.len())).collect())
    }
}

/// One corner of a fold.
struct Fold {
    a: usize,
    b: usize,
    plane: MitrePlane,
    /// Half of what the corner turns, degrees.
    tilt: f64,
}

/// The joint at one corner: a groove that folds, or the mitre that closes.
fn made(bench: &Bench<'_>, work: &Work, fold: &Fold, hinged: bool) -> Made {
    // A fold is a mitre that is not sawn through: the same planes, but for the skin that
    // the facts tell.
    let mut made = mitre::sawn(&fold.plane, fold.a, fold.b);
    if hinged {
        // Depth and skin are both told: the first sets the saw, the second is what it
        // is tried by.
        let deep = bench.grown[fold.a].size.z - skin(work);
        made.facts = Facts::Corners(CornerJoint::Folded { tilt: fold.tilt, deep });
    } else {
        made.facts = Facts::Corners(CornerJoint::Closing { tilt: fold.tilt });
    }
    made
}

/// Refuses fewer parts than a fold has.
fn enough(bench: &Bench<'_>, work: &Work, parts: &[usize], closed: bool) -> Result<(), Problem> {
    // Two parts close nothing: folded shut they lie on one another.
    let least = if closed { 3 } else { 2 };
    if parts.len() >= least {
        return Ok(());
    }
    let message = if closed {
        format!("a panel of {} parts cannot be folded until it closes", parts.len())
    } else {
        "`folded_mitre` needs two parts or more".to_owned()
    };
    Err(bench
        .error(work, "too-few-parts", message, parts)
        .help("name the parts in the order in which they hang together: `[left, top, right]`"))
}

/// Refuses a part that is named twice, here or in another fold.
fn once(bench: &Bench<'_>, work: &Work, parts: &[usize]) -> Result<(), Problem> {
    for (i, part) in parts.iter().enumerate() {
        if parts[..i].contains(part) {
            let message = format!("`{}` stands twice in the order of one fold", bench.name(*part));
            return Err(bench
                .error(work, "folded-twice", message, &[*part])
                .help("name each part once; `closed: true` lets the last meet the first"));
        }
        let earlier = bench.job.works.iter().take_while(|w| !std::ptr::eq(*w, work));
        if let Some(other) = earlier.filter(|w| w.word.name == WORD.name).find(|w| named(w).contains(part)) {
            let message = format!("`{}` hangs in another fold already", bench.name(*part));
            return Err(bench
                .error(work, "folded-twice", message, &[*part])
                .place(other.origin.user, "folded here first")
                .help("name all parts of one panel in one `folded_mitre`, in order"));
        }
        // Asked here already, since parts that do not follow one another are never
        // looked at as a pair.
        let piece = |i: usize| bench.job.parts.get(i).map(|p| p.piece);
        if piece(*part) != piece(parts[0]) {
            bench.check_pair(work, parts[0], *part)?;
        }
    }
    Ok(())
}

/// Refuses what does not come out of one sheet.
fn one_sheet(bench: &Bench<'_>, work: &Work, parts: &[usize]) -> Result<(), Problem> {
    corner::wooden(bench, work, parts)?;
    let Some(first) = parts.first() else { return Ok(()) };
    let stock = |part: usize| bench.job.stock.get(bench.job.parts.get(part)?.stock.0);
    let solid = |part: &&usize| !matches!(stock(**part).map(|s| &s.kind), Some(StockKind::Sheet { .. }));
    if let Some(part) = parts.iter().find(solid) {
        let of = stock(*part).map_or("its stock", |s| s.name.as_str());
        let message = format!("`{}` is cut from {of}, but a fold comes out of a sheet", bench.name(*part));
        return Err(bench
            .error(work, "wrong-stock", message, &[*part])
            .help("join solid wood with `mitre`, and let the figure run on with `grain_run`"));
    }
    for part in parts {
        let (a, b) = (stock(*first), stock(*part));
        if let (Some(a), Some(b)) = (a, b)
            && !std::ptr::eq(a, b)
        {
            let message = format!(
                "`{}` is cut from {} and `{}` from {}, but both are to be one panel",
                bench.name(*first),
                a.name,
                bench.name(*part),
                b.name
            );
            return Err(bench
                .error(work, "wrong-stock", message, &[*first, *part])
                .help("cut all parts of a fold from one stock"));
        }
    }
    Ok(())
}

/// One corner, and what it asks of the two parts there.
fn fold(bench: &Bench<'_>, work: &Work, a: usize, b: usize) -> Result<Fold, Problem> {
    if compound::leans(bench, a, b) {
        let message = format!("`{}` and `{}` meet in a corner that leans", bench.name(a), bench.name(b));
        return Err(bench
            .error(work, "no-corner", message, &[a, b])
            .help("a fold is straight and square to the strip; join boards that slope with `mitre`"));
    }
    let plane = mitre_plane(bench, work, a, b)?;
    let (first, second) = (&bench.grown[a], &bench.grown[b]);
    let ((alo, ahi), (blo, bhi)) = (first.reach(plane.line), second.reach(plane.line));
    if (alo - blo).abs() > TOUCH || (ahi - bhi).abs() > TOUCH {
        let message = format!(
            "`{}` is {} along the fold and `{}` {}, or they do not stand flush there",
            bench.name(a),
            bench.mm(ahi - alo),
            bench.name(b),
            bench.mm(bhi - blo)
        );
        return Err(bench
            .error(work, "not-one-panel", message, &[a, b])
            .help("parts of one panel begin and end together along each fold"));
    }
    let (i, j) = (first.axis_along(plane.away_a), second.axis_along(plane.away_b));
    // Across a fold the grain has to run on, or the strip could not be one panel.
    if i != j || i == Some(2) || j == Some(2) {
        let thin = [(a, i), (b, j)].into_iter().find(|(_, axis)| *axis == Some(2));
        return Err(thin.map_or_else(
            || crossed(bench, work, a, b),
            |(part, _)| narrow(bench, work, part, bench.grown[part].size.z),
        ));
    }
    let tilt = trig::acos(plane.normal.dot(plane.away_a).abs()).to_degrees();
    let thick = first.size.z;
    if skin(work) > 0.5 * thick {
        let message =
            format!("a skin of {} is most of the {} of the panel", bench.mm(skin(work)), bench.mm(thick));
        return Err(bench
            .error(work, "does-not-fit", message, &[a, b])
            .help("leave the face veneer alone, 0.2 to 0.5 mm, or nothing but the tape"));
    }
    Ok(Fold { a, b, plane, tilt })
}

/// The grain turns from one part to the next.
fn crossed(bench: &Bench<'_>, work: &Work, a: usize, b: usize) -> Problem {
    let message = format!(
        "the grain runs along the strip in one of `{}` and `{}` and across it in the other",
        bench.name(a),
        bench.name(b)
    );
    bench
        .error(work, "not-one-panel", message, &[a, b])
        .help("give the parts of one panel their `grain` along the folds, or all of them across")
}

/// Too narrow between its folds.
fn narrow(bench: &Bench<'_>, work: &Work, part: usize, wide: f64) -> Problem {
    let message =
        format!("the grooves leave nothing on the inside of `{}`, {} wide", bench.name(part), bench.mm(wide));
    bench
        .error(work, "does-not-fit", message, &[part])
        .help("make it wider between its folds, or the panel thinner")
}

/// Refuses folds that do not follow one another across each part, and parts too
/// narrow for two grooves.
fn strip(bench: &Bench<'_>, work: &Work, parts: &[usize], folds: &[Fold]) -> Result<(), Problem> {
    for part in parts {
        let mine = folds.iter().filter(|fold| fold.a == *part || fold.b == *part);
        let ways: Vec<(DVec3, f64)> = mine
            .map(|fold| (if fold.a == *part { fold.plane.away_a } else { fold.plane.away_b }, fold.tilt))
            .collect();
        let [(one, first), (other, second)] = *ways.as_slice() else { continue };
        if one.dot(other) > -LOOKS {
            let message =
                format!("the folds of `{}` are not on edges across from one another", bench.name(*part));
            return Err(bench
                .error(work, "not-one-panel", message, &[*part])
                .help("fold round one way only, and join the rest with `mitre`"));
        }
        let (low, high) = bench.grown[*part].reach(one);
        let tan = |degrees: f64| {
            let (sin, cos) = trig::sin_cos(degrees.to_radians());
            sin / cos
        };
        // On the inside each V takes the thickness times the tangent of its tilt.
        let grooves = bench.grown[*part].size.z * (tan(first) + tan(second));
        if high - low < grooves + TOUCH {
            return Err(narrow(bench, work, *part, high - low));
        }
    }
    Ok(())
}
