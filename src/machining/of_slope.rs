//! Settings of cuts askew to the blank: mitres, bevels, tapers, arrises.

use super::feature::{Raked, face_on, off_square, short_end};
use super::set::{Set, tidy};
use super::setting::{Against, Setting};
use super::tolerance::{NO_LEAN, TILTED};
use crate::geometry::{DVec3, trig};
use crate::joinery::{CutKind, Machine};

/// Most that a blade tilts, degrees (common practice, no source).
const TILTS: f64 = 45.0;

/// A quarter turn, degrees.
const QUARTER: f64 = 90.0;

/// A mitre, bevel, taper or arris. `ends` are where the cut leaves the blank's
/// cross-section along axis `along`, `away` a point of what is cut away.
pub(super) fn slope(kind: CutKind, size: DVec3, along: usize, ends: [DVec3; 2], away: DVec3) -> Set {
    let away_from = (away - (ends[0] + ends[1]) / 2.0).normalize_or_zero();
    if kind.machine() == Machine::Router {
        return arris(along, ends, away_from);
    }
    if kind == CutKind::Taper && along != 0 {
        return taper(size, 3 - along, ends, away_from);
    }
    let long = ends[1 - short_end(ends, away, size)];
    // Square to the cut's slope lies the end or edge it makes.
    let end = match along {
        0 if away_from.y.abs() >= away_from.z.abs() - NO_LEAN => 1,
        0 => 2,
        _ => 0,
    };
    let angle = off_square(ends, along, end);
    let made = face_on(end, away_from[end] > 0.0);
    let leans = 3 - along - end;
    let point = face_on(leans, long[leans] > size[leans] / 2.0);
    let fence = (along == 0 && kind == CutKind::Bevel && end == 1).then(|| tidy(size.y));
    let setting = match along {
        2 => Setting::Gauge { angle: tidy(angle) },
        // Leaning more to its face than to its edge, it is cut on its edge.
        0 if end == 2 => Setting::Stood { angle: tidy(angle) },
        _ if angle > TILTS + TILTED => Setting::Stood { angle: tidy(QUARTER - angle) },
        // Ripped along its length: the fence stands off by its width there.
        _ => Setting::Tilt { angle: tidy(angle), fence },
    };
    Set::plain(setting, Against::LongPoint { made, on: vec![point] })
}

/// An end sawn at an angle both ways. Where the blade would tilt too far with the
/// part on its face, the part stands on its edge: the same plane, seen so.
pub(super) fn compound(size: DVec3, far: bool, long: DVec3, (gauge, blade): (f64, f64)) -> Set {
    let made = face_on(0, far);
    let on = vec![face_on(2, long.z > size.z / 2.0), face_on(1, long.y > size.y / 2.0)];
    let setting = if blade > TILTS + TILTED {
        // Normal of the plane by its two angles, then the angles on the edge.
        let (y, x) = trig::sin_cos(gauge.to_radians());
        let z = trig::tan(blade.to_radians());
        let turned = trig::atan2(z, x).to_degrees();
        let tilt = trig::atan2(y, DVec3::new(x, z, 0.0).length()).to_degrees();
        Setting::Compound { gauge: tidy(turned), blade: tidy(tilt), on_edge: true }
    } else {
        Setting::Compound { gauge: tidy(gauge), blade: tidy(blade), on_edge: false }
    };
    Set::plain(setting, Against::LongPoint { made, on })
}

/// A long edge sawn aslant both ways, in a jig that holds the part askew; where the blade
/// would tilt too far with the part on its face, stood on its edge: the same plane, seen so.
pub(super) fn raked(size: DVec3, raked: &Raked) -> Set {
    let flat = raked.flat(size);
    let on_edge = flat.blade > TILTS + TILTED;
    let sawn = if on_edge { raked.stood(size) } else { flat };
    let setting = Setting::RakedEdge {
        angle: tidy(sawn.angle),
        off: tidy(sawn.off),
        over: tidy(size.x),
        blade: tidy(sawn.blade),
        on_edge,
    };
    let narrow = face_on(0, raked.narrow_far());
    Set::plain(setting, Against::Taper { face: face_on(1, raked.far), narrow })
}

/// A chamfer as a flat cut.
fn arris(along: usize, ends: [DVec3; 2], away: DVec3) -> Set {
    let wide = (ends[1] - ends[0]).abs().max_element();
    let faces = (0..3).filter(|axis| *axis != along).map(|axis| face_on(axis, away[axis] > 0.0)).collect();
    Set::plain(Setting::Arris { sides: vec![tidy(wide)] }, Against::Arris { faces })
}

/// A taper down the length of a part, sawn in a jig that holds it askew: what it
/// takes off and over which length. `leans` is the axis it makes thinner.
fn taper(size: DVec3, leans: usize, ends: [DVec3; 2], away: DVec3) -> Set {
    let (off, over) = ((ends[0] - ends[1])[leans].abs(), (ends[0] - ends[1]).x.abs());
    let far = away[leans] > 0.0;
    // How deep the cut is under the face it starts from.
    let deep = |point: DVec3| if far { size[leans] - point[leans] } else { point[leans] };
    let narrow = if deep(ends[0]) > deep(ends[1]) { ends[0] } else { ends[1] };
    let setting = Setting::TaperJig {
        angle: tidy(trig::atan2(off, over).to_degrees()),
        off: tidy(off),
        over: tidy(over),
    };
    let narrow = face_on(0, narrow.x > size.x / 2.0);
    Set::plain(setting, Against::Taper { face: face_on(leans, far), narrow })
}
