//! The operation that makes a cut: machine, setting, and what lies where.

use super::feature::leaning::{Channel, Leaning, saw};
use super::feature::outlines::axis_of;
use super::feature::{Feature, Flared, Form, SAME, SlopedBore, axis_side, face_on, slope as slope_of};
use super::of_slope;
use super::operation::{Extent, Operation, Reach, State, To};
use super::set::{Set, tidy};
use super::setting::{Against, Depth, Setting, Task};
use crate::geometry::DVec3;
use crate::joinery::{CutKind, Machine, WorkedPart};
use crate::model::Face;

/// The operation of one cut of `part`.
pub(super) fn of_cut(part: &WorkedPart, feature: &Feature, state: State) -> Operation {
    let later = feature.stage.waits();
    let set = set(part, feature);
    Operation {
        state: if later { State::GluedUp } else { state },
        machine: feature.kind.machine(),
        later,
        task: Task::Cut(feature.kind),
        setting: set.setting,
        against: set.against,
        fence: set.fence,
        along: set.along,
        stopped: set.stopped,
        long: None,
    }
}

/// What the form of a cut says of its operation.
fn set(part: &WorkedPart, feature: &Feature) -> Set {
    let kind = feature.kind;
    match &feature.form {
        Form::Pocket { min, max, .. } if kind == CutKind::FingerSocket => finger(*min, *max),
        Form::Pocket { min, max, entry, .. } => pocket(kind, part.size, (*min, *max), *entry),
        Form::Hole { centre, entry, diameter, depth, through } => {
            hole(part.size, *centre, *entry, (*diameter, deep(*depth, *through)))
        }
        Form::Flared(socket) => flared(socket),
        Form::SlopedBore(bore) => sloped_bore(bore),
        Form::Compound { far, long, gauge, blade, .. } => {
            of_slope::compound(part.size, *far, *long, (*gauge, *blade))
        }
        Form::Raked(raked) => of_slope::raked(part.size, raked),
        Form::Leaning(Leaning::Channel(channel)) => leaning_channel(kind, part.size, channel),
        Form::Leaning(leaning) => self::leaning(leaning),
        Form::Slope { along, ends, away } => of_slope::slope(kind, part.size, *along, *ends, *away),
        Form::Askew { width, depth, into, .. } if kind == CutKind::AccessHole => Set::plain(
            Setting::Slanting { diameter: tidy(*width), angle: tidy(slope_of(*into)), depth: tidy(*depth) },
            Against::BesideMitre,
        ),
        Form::Askew { width, length, depth, from_inner, centre, along, into } => {
            let place = match across_slope(*along, *into).filter(|_| length - width > SAME) {
                Some(axis) => {
                    // A groove runs the whole slope: only what ends in it has a middle there.
                    let ends = from_inner.filter(|_| kind != CutKind::Groove);
                    (ends.map(tidy), Some((tidy(centre[axis]), face_on(axis, false))))
                }
                None => (from_inner.map(tidy), None),
            };
            let set = in_mitre((*width, *length, *depth), place);
            Set { along: lies_along(*centre, *along, *length, part.size), ..set }
        }
        Form::Shape { entry, depth, through, .. } => {
            Set::plain(Setting::ByDrawing { depth: deep(*depth, *through) }, Against::From { face: *entry })
        }
    }
}

/// Where a pocket in a mitre lies along the mitre; `None` if that is along no axis of
/// the part, or if it runs out at both sides and needs no stop.
fn lies_along(centre: DVec3, along: DVec3, length: f64, size: DVec3) -> Option<Extent> {
    let axis = axis_of(along)?;
    let half = along * (length / 2.0);
    let lies = extent(axis, ((centre - half).min(centre + half), (centre - half).max(centre + half)), size);
    (lies.low > SAME && lies.high < lies.size - SAME).then_some(lies)
}

/// The axis of the part that a pocket lies square to which runs along the slope of a
/// mitre, as a tongue does in a frame that lies flat: its place is gauged from that face.
fn across_slope(along: DVec3, into: DVec3) -> Option<usize> {
    if axis_of(along).is_some() { None } else { axis_of(into.cross(along)) }
}

/// A pocket sunk into a mitre: its width, length and depth, and its place from the inner
/// corner or from a face.
fn in_mitre(
    (width, length, depth): (f64, f64, f64),
    (from_inner, from_face): (Option<f64>, Option<(f64, Face)>),
) -> Set {
    let setting = Setting::InMitre {
        width: tidy(width),
        length: tidy(length),
        depth: tidy(depth),
        from_inner,
        from_face,
    };
    Set::plain(setting, Against::Mitre)
}

/// A socket in an end for a finger.
fn finger(min: DVec3, max: DVec3) -> Set {
    let setting = Setting::Finger { width: tidy(max.y - min.y), depth: tidy(max.x - min.x) };
    Set::plain(setting, Against::EndDown)
}

/// How deep a cut is, or that it goes through.
fn deep(depth: f64, through: bool) -> Depth {
    if through { Depth::Through } else { Depth::To(tidy(depth)) }
}

/// Where a box lies on an axis.
fn extent(axis: usize, (min, max): (DVec3, DVec3), size: DVec3) -> Extent {
    Extent { axis, low: tidy(min[axis]), high: tidy(max[axis]), size: tidy(size[axis]) }
}

/// A groove, housing, rebate, mortise or the like: cutter, depth, fence, and where
/// it stops before it runs out.
fn pocket(kind: CutKind, size: DVec3, (min, max): (DVec3, DVec3), entry: Face) -> Set {
    if matches!(kind, CutKind::RoundOver | CutKind::Moulding | CutKind::Chamfer) {
        return arris(kind, size, (min, max));
    }
    let (into, _) = axis_side(entry);
    let open = |axis: usize| (min[axis] < SAME, max[axis] > size[axis] - SAME);
    let run = run_of(size, (min, max), entry);
    let across = 3 - into - run;
    let depth = deep(max[into] - min[into], open(into) == (true, true));
    let width = tidy(max[across] - min[across]);
    let mortise = kind.machine() == Machine::Mortising;
    // Their cutter is plunged at a mark, as a mortise's is set to its middle.
    let plunged = mortise || kind == CutKind::BiscuitSlot;
    let setting = if mortise {
        Setting::Mortise { width, length: tidy(max[run] - min[run]), depth }
    } else {
        Setting::Channel { width, depth }
    };
    let lies = extent(run, (min, max), size);
    Set {
        setting,
        against: Against::Fence { faces: Vec::new(), from: vec![entry] },
        fence: Some(Reach {
            at: extent(across, (min, max), size),
            to: if plunged { To::Middle } else { To::Side },
            // Housings along a side are set out from one end, as on a rod.
            one_fence: kind == CutKind::Housing,
        }),
        // One for a haunch runs out at an end, and is set as well.
        along: (plunged && open(run) != (true, true)).then_some(lies),
        stopped: (!plunged && open(run) != (true, true)).then_some(lies),
    }
}

/// A hole: drill, depth, the fence, and a stop along the part.
fn hole(size: DVec3, centre: DVec3, entry: Face, (diameter, depth): (f64, Depth)) -> Set {
    let across = fence_of(entry);
    let run = 3 - axis_side(entry).0 - across;
    let at = |axis| extent(axis, (centre, centre), size);
    Set {
        setting: Setting::Bore { diameter: tidy(diameter), depth },
        against: Against::Fence { faces: Vec::new(), from: vec![entry] },
        fence: Some(Reach { at: at(across), to: To::Middle, one_fence: false }),
        along: Some(at(run)),
        stopped: None,
    }
}

/// An arris taken off by a cutter of its shape: its size, and the two faces it
/// lies between.
fn arris(kind: CutKind, size: DVec3, (min, max): (DVec3, DVec3)) -> Set {
    let long = (0..3).fold(0, |a, b| if max[b] - min[b] > max[a] - min[a] { b } else { a });
    let (mut faces, mut sides) = (Vec::new(), Vec::new());
    for axis in (0..3).filter(|axis| *axis != long) {
        faces.push(face_on(axis, max[axis] > size[axis] - SAME));
        sides.push(tidy(max[axis] - min[axis]));
    }
    let even = sides.windows(2).all(|pair| (pair[0] - pair[1]).abs() < SAME);
    if even {
        sides.truncate(1);
    }
    let setting = match sides.as_slice() {
        [radius] if kind == CutKind::RoundOver => Setting::Round { radius: *radius },
        _ => Setting::Arris { sides },
    };
    let lies = extent(long, (min, max), size);
    let stops = lies.low > SAME || lies.high < lies.size - SAME;
    Set { stopped: stops.then_some(lies), ..Set::plain(setting, Against::Arris { faces }) }
}

fn flared(socket: &Flared) -> Set {
    let setting =
        Setting::Flared { narrow: tidy(socket.narrow()), ratio: socket.ratio(), depth: tidy(socket.deep()) };
    Set::plain(setting, Against::EndUp)
}

fn sloped_bore(bore: &SlopedBore) -> Set {
    let setting = Setting::SlopedBore {
        diameter: tidy(bore.diameter),
        angle: tidy(bore.slope()),
        seat: tidy(bore.seat),
    };
    Set::plain(setting, Against::Jig { face: bore.entry })
}

fn leaning(leaning: &Leaning) -> Set {
    match leaning {
        Leaning::Shoulder(s) => Set::plain(
            Setting::LeaningShoulder { depth: tidy(s.deep), gauge: tidy(s.gauge), blade: tidy(s.blade) },
            Against::Shoulder { face: s.side, from_end: tidy(s.from_end), end: face_on(0, s.far) },
        ),
        Leaning::End(e) => {
            let (gauge, blade) = saw(e.plane.1);
            Set::plain(
                Setting::LeaningEnd { gauge: tidy(gauge), blade: tidy(blade) },
                Against::FromShoulders { end: face_on(0, e.far), apart: tidy(e.apart) },
            )
        }
        // Set out by a fence, with the size of its part.
        Leaning::Channel(c) => leaning_channel(CutKind::Housing, c.high, c),
        Leaning::Mortise(m) => {
            let (lean, line) = m.resultant();
            let setting = Setting::LeaningMortise {
                width: tidy(m.width),
                length: tidy(m.length),
                depth: deep(m.depth, m.through),
                lean: tidy(lean),
            };
            Set::plain(setting, Against::LeaningFrom { face: m.entry, line: tidy(line) })
        }
    }
}

/// A channel with leaning walls: set out on the face as a square one is.
fn leaning_channel(kind: CutKind, size: DVec3, channel: &Channel) -> Set {
    let Channel { entry, across, low, high, depth, lean, .. } = channel;
    let run = 3 - axis_side(*entry).0 - across;
    let (min, max) = (*low, *high);
    let open = min[run] < SAME && max[run] > size[run] - SAME;
    Set {
        setting: Setting::LeaningChannel {
            width: tidy(max[*across] - min[*across]),
            depth: tidy(*depth),
            lean: tidy(*lean),
        },
        against: Against::Fence { faces: Vec::new(), from: vec![*entry] },
        fence: Some(Reach {
            at: extent(*across, (min, max), size),
            to: To::Side,
            one_fence: kind == CutKind::Housing,
        }),
        along: None,
        stopped: (!open).then(|| extent(run, (min, max), size)),
    }
}

/// The axis along which a groove or mortise runs: that on which it goes right
/// through, else that on which it is longer.
fn run_of(size: DVec3, (min, max): (DVec3, DVec3), entry: Face) -> usize {
    let (i, j) = match axis_side(entry).0 {
        0 => (1, 2),
        1 => (0, 2),
        _ => (0, 1),
    };
    let through = |axis: usize| min[axis] < SAME && max[axis] > size[axis] - SAME;
    match (through(i), through(j)) {
        (true, false) => i,
        (false, true) => j,
        _ if max[i] - min[i] >= max[j] - min[j] => i,
        _ => j,
    }
}

/// The axis across which a hole keeps its distance from the fence: a face lies
/// against it for holes into ends and edges.
fn fence_of(entry: Face) -> usize {
    if axis_side(entry).0 == 2 { 1 } else { 2 }
}
