//! The words and figures of notes on cuts.

use super::corner;
use super::group;
use super::leaning;
use super::phrases::{Words, blank};
use super::printed;
use crate::drawing::page::look::Look;
use crate::drawing::page::profile::Profile;
use crate::drawing::sheets::parts::chosen::PartNote;
use crate::geometry::DVec3;
use crate::joinery::{CutKind, WorkedPart};
use crate::machining::feature::{self, Feature, Form, Raked, axis_side, face_on};
use crate::model::Face;
use crate::paper::Run;
use crate::paper::fixes::{Against, Axis, BoxSide, Fact, Fixes, NotedCut};

/// Singular and plural of a cut.
pub(in crate::drawing::sheets::parts) fn noun(kind: CutKind, many: bool) -> &'static str {
    match (kind, many) {
        (CutKind::Mitre, _) => "mitre",
        (CutKind::Bevel, _) => "bevel",
        (CutKind::Taper, _) => "taper",
        (CutKind::Chamfer, _) => "chamfer",
        (CutKind::RoundOver, _) => "round-over",
        (CutKind::Moulding, _) => "moulding",
        (CutKind::Mortise, false) => "mortise",
        (CutKind::Mortise, true) => "mortises",
        (CutKind::Housing, false) => "housing",
        (CutKind::Housing, true) => "housings",
        (CutKind::Groove, false) => "groove",
        (CutKind::Groove, true) => "grooves",
        (CutKind::Rebate, false) => "rebate",
        (CutKind::Rebate, true) => "rebates",
        (CutKind::Hole, false) => "hole",
        (CutKind::Hole, true) => "holes",
        (CutKind::Slot, false) => "slot",
        (CutKind::Slot, true) => "slots",
        (CutKind::Notch, false) => "notch",
        (CutKind::Notch, true) => "notches",
        (CutKind::Outline, _) => "outline",
        (CutKind::ConnectorPocket, false) => "pocket",
        (CutKind::ConnectorPocket, true) => "pockets",
        (CutKind::AccessHole, false) => "access hole",
        (CutKind::AccessHole, true) => "access holes",
        (CutKind::ScrewHole, false) => "screw hole",
        (CutKind::ScrewHole, true) => "screw holes",
        (CutKind::Shoulder, false) => "shoulder",
        (CutKind::Shoulder, true) => "shoulders",
        (CutKind::FingerSocket, false) => "finger socket",
        (CutKind::FingerSocket, true) => "finger sockets",
        (CutKind::PinSocket, false) => "pin socket",
        (CutKind::PinSocket, true) => "pin sockets",
        (CutKind::TailSocket, false) => "tail socket",
        (CutKind::TailSocket, true) => "tail sockets",
        (CutKind::ScrewPocket, false) => "screw pocket",
        (CutKind::ScrewPocket, true) => "screw pockets",
        (CutKind::Counterbore, false) => "counterbore",
        (CutKind::Counterbore, true) => "counterbores",
        (CutKind::Countersink, false) => "countersink",
        (CutKind::Countersink, true) => "countersinks",
        (CutKind::DowelHole, false) => "dowel hole",
        (CutKind::DowelHole, true) => "dowel holes",
        (CutKind::BiscuitSlot, false) => "biscuit slot",
        (CutKind::BiscuitSlot, true) => "biscuit slots",
        (CutKind::HingeCup, false) => "hinge cup",
        (CutKind::HingeCup, true) => "hinge cups",
        (CutKind::FittingHole, false) => "fitting hole",
        (CutKind::FittingHole, true) => "fitting holes",
        (CutKind::Halving, false) => "halving",
        (CutKind::Halving, true) => "halvings",
        (CutKind::OpenMortise, false) => "open mortise",
        (CutKind::OpenMortise, true) => "open mortises",
        (CutKind::PegHole, false) => "peg hole",
        (CutKind::PegHole, true) => "peg holes",
        (CutKind::Kerf, false) => "kerf",
        (CutKind::Kerf, true) => "kerfs",
    }
}

/// The note of a group of equal cuts in the view on `face`; none for cuts that
/// need no words.
pub(in crate::drawing::sheets::parts) fn note(
    part: &WorkedPart,
    here: &[&Feature],
    group: &[usize],
    face: Face,
    look: &Look,
) -> Option<PartNote> {
    let members: Vec<&Feature> = group.iter().filter_map(|i| here.get(*i).copied()).collect();
    let first = *members.first()?;
    let mut note = match &first.form {
        Form::Pocket { .. } => haunch(part, first, look).unwrap_or_else(|| pocket(part, &members, look)),
        Form::Hole { diameter, depth, through, .. } => {
            let bore = Bore { diameter: *diameter, depth: *depth, through: *through };
            round(part, &members, &bore, look)
        }
        Form::Askew { .. } => askew(&members, look),
        Form::Leaning(_) => {
            let all =
                members.iter().filter_map(|f| if let Form::Leaning(l) = &f.form { Some(l) } else { None });
            leaning::note(&all.collect::<Vec<_>>(), look)
        }
        Form::Flared(socket) => corner::flared_note(first.kind, socket, count(&members, part.size), look),
        Form::SlopedBore(bore) => corner::bore_note(bore, count(&members, part.size), look),
        Form::Slope { .. } => slope(part, first, look),
        Form::Compound { long, gauge, blade, .. } => compound(part, first.kind, *long, (*gauge, *blade)),
        Form::Raked(raked) => self::raked(part, first.kind, raked),
        Form::Shape { depth, through, .. } => shape(first.kind, *depth, *through, look),
    };
    let cuts: Vec<NotedCut> = members.iter().map(|f| reference(f, part.size)).collect();
    note.fixes = note.fixes.of(&cuts);
    let also = [
        both_ends(&members, part.size).then_some("both ends"),
        both_faces(&members).then_some("both faces"),
        purpose(first.kind),
        (first.stage.waits()).then_some("cut after glue-up"),
    ];
    note.phrases.extend(also.into_iter().flatten().map(|words| vec![Run::Plain(words.into())]));
    note.at = members.iter().flat_map(|f| targets(f, face, part.size)).collect();
    note.cuts = members.iter().map(|f| f.cut).collect();
    Some(note)
}

/// A face as the side of the box round the part.
fn box_side(face: Face) -> BoxSide {
    let (axis, far) = axis_side(face);
    BoxSide { axis: Axis::of(axis), far }
}

/// A cut and the face it is cut from.
fn reference(feature: &Feature, size: DVec3) -> NotedCut {
    let bore = if let Form::SlopedBore(bore) = &feature.form { bore.bore.map(|(cut, _)| cut) } else { None };
    let from = box_side(feature.form.seen_on(size));
    let mut noted = NotedCut { cut: feature.cut, from, bore, against: Vec::new() };
    // Sockets alike at both ends and edges say of each which it is at.
    let (min, max, entry) = match &feature.form {
        Form::Flared(socket) => (socket.min, socket.max, socket.entry),
        Form::Pocket { min, max, entry, .. }
            if feature::at_corner(feature.kind) || feature::shoulder_end(feature, size).is_some() =>
        {
            (*min, *max, *entry)
        }
        _ => return noted,
    };
    for axis in (0..3).filter(|a| *a != axis_side(entry).0) {
        match (min[axis] < feature::SAME, max[axis] > size[axis] - feature::SAME) {
            (true, false) => noted.against.push(BoxSide { axis: Axis::of(axis), far: false }),
            (false, true) => noted.against.push(BoxSide { axis: Axis::of(axis), far: true }),
            _ => {}
        }
    }
    noted
}

/// Whether a group has members in both broad faces.
fn both_faces(members: &[&Feature]) -> bool {
    members.first().is_some_and(|first| members.iter().any(|f| group::faces_both(first, f)))
}

/// What a bought-in thing's cut is for.
fn purpose(kind: CutKind) -> Option<&'static str> {
    match kind {
        CutKind::ConnectorPocket => Some("for clamping connector"),
        _ => None,
    }
}

/// Whether a group has members in both ends; of what stands at a corner, as
/// many in each.
fn both_ends(members: &[&Feature], size: DVec3) -> bool {
    let shoulder = |f: &Feature| feature::shoulder_end(f, size);
    let on =
        |far: bool| members.iter().filter(|f| shoulder(f).map_or(at_end(f, far), |end| end == far)).count();
    let told = |f: &Feature| feature::at_corner(f.kind) || shoulder(f).is_some();
    let equal = members.iter().all(|f| told(f) || f.kind == CutKind::ScrewPocket);
    if equal { on(false) == on(true) && on(true) * 2 == members.len() } else { on(false) > 0 && on(true) > 0 }
}

/// Whether a cut is made at the near or the far end.
fn at_end(feature: &Feature, far: bool) -> bool {
    let face = face_on(0, far);
    match &feature.form {
        Form::Pocket { min, .. } if feature::at_corner(feature.kind) => (min.x > feature::SAME) == far,
        Form::Flared(socket) if socket.rise == 0 => (socket.min.x > feature::SAME) == far,
        Form::SlopedBore(bore) => bore.into.x.abs() > bore.into.y.abs() && (bore.into.x > 0.0) == far,
        Form::Flared(socket) => socket.entry == face,
        Form::Pocket { entry, .. } | Form::Hole { entry, .. } => *entry == face,
        _ => false,
    }
}

/// How many to print: per end where both ends are alike.
fn count(members: &[&Feature], size: DVec3) -> usize {
    let shared = usize::from(both_ends(members, size)) + usize::from(both_faces(members));
    members.len() >> shared
}

/// Which side of the blank a pocket lies against on an axis, if only one.
fn against(min: DVec3, max: DVec3, axis: usize, size: DVec3) -> Against {
    match (min[axis] < feature::SAME, max[axis] > size[axis] - feature::SAME) {
        (true, false) => Against::Datum,
        (false, true) => Against::End,
        _ => Against::Free,
    }
}

/// `haunch: cut back 6 from the end, 20 wide`: where a tenon is cut back less far than its
/// shoulders are, what is left is as wide as the cut is deep.
fn haunch(part: &WorkedPart, first: &Feature, look: &Look) -> Option<PartNote> {
    let Form::Pocket { min, max, entry, .. } = &first.form else { return None };
    if !first.haunch {
        return None;
    }
    let (across, _) = axis_side(*entry);
    let mut note = blank();
    let mut words = Words::default();
    words.say("haunch: cut back ").length(look, max.x - min.x).say(" from the end");
    note.phrases.push(std::mem::take(&mut words.runs));
    let wide = max[across] - min[across];
    words.length(look, wide).say(" wide");
    note.phrases.push(words.runs);
    note.value = Some(wide);
    let end = against(*min, *max, 0, part.size);
    note.fixes = Fixes::facts(vec![Fact::Extent(Axis::of(0), end), Fact::Depth]);
    Some(note)
}

/// `3 mortises 8 × 24, 21 deep`; `groove 6.5 wide, 8 deep`.
fn pocket(part: &WorkedPart, members: &[&Feature], look: &Look) -> PartNote {
    let mut note = blank();
    let Some(Feature { form: Form::Pocket { min, max, entry, round }, kind, .. }) = members.first() else {
        return note;
    };
    let size = part.size;
    let (deep_axis, _) = axis_side(*entry);
    let through = max[deep_axis] - min[deep_axis] > size[deep_axis] - feature::SAME;
    let (mut words, mut fixes) = counted(*kind, count(members, part.size));
    let axes = printed::printed_axes(members[0], size);
    // Both legs of a quarter round are its radius.
    let arris = *kind == CutKind::RoundOver && through;
    if arris {
        words.say(" R").length(look, axes.first().map_or(*round, |axis| max[*axis] - min[*axis]));
        fixes.push(Fact::Arris);
    }
    // As its cutter is sold, where it is for a loose tenon of whole millimetres.
    let opening: Vec<f64> = axes.iter().map(|axis| max[*axis] - min[*axis]).collect();
    let sold = if *kind == CutKind::Mortise { look.words().in_mm(&opening) } else { None };
    if let Some(sold) = &sold {
        words.say(" ").say(sold);
    }
    for (i, axis) in axes.iter().enumerate() {
        if !arris && sold.is_none() {
            words.say(if i == 0 { " " } else { " × " }).length(look, max[*axis] - min[*axis]);
        }
        let against =
            if feature::at_corner(*kind) { Against::Free } else { against(*min, *max, *axis, size) };
        fixes.push(Fact::Extent(Axis::of(*axis), against));
    }
    if axes.len() == 1 && !through {
        words.say(" wide");
    }
    note.phrases.push(std::mem::take(&mut words.runs));
    let depth = max[deep_axis] - min[deep_axis];
    // An arris is worked along its whole length.
    if through && *kind == CutKind::Moulding {
        note.phrases.push(vec![Run::Plain("section on its template".into())]);
    } else if !arris && through {
        note.phrases.push(vec![Run::Plain("through".into())]);
    } else if !arris {
        words.length(look, depth).say(" deep");
        note.phrases.push(std::mem::take(&mut words.runs));
        fixes.push(Fact::Depth);
    }
    let ends = max[axes.first().copied().unwrap_or(0)] - min[axes.first().copied().unwrap_or(0)];
    let half_round = (*round * 2.0 - ends).abs() <= feature::SAME;
    if !arris && *round > 0.0 && !half_round {
        words.say("R").length(look, *round);
        note.phrases.push(words.runs);
        fixes.push(Fact::Radius);
    }
    // The last number printed: the depth, or the last extent of one that goes
    // through.
    let last = axes.last().map(|axis| max[*axis] - min[*axis]);
    note.value = if through { last } else { Some(depth) };
    note.fixes = Fixes::facts(fixes);
    note
}

/// How many of a kind, where there are several, and its name.
fn counted(kind: CutKind, n: usize) -> (Words, Vec<Fact>) {
    let (mut words, mut fixes) = (Words::default(), Vec::new());
    if n > 1 {
        words.say(&format!("{n} "));
        fixes.push(Fact::Count);
    }
    words.say(noun(kind, n > 1));
    (words, fixes)
}

/// A round hole, mm.
struct Bore {
    diameter: f64,
    depth: f64,
    through: bool,
}

/// `6 × Ø5, 12 deep`; by ASME `6X Ø5 ↧12`.
fn round(part: &WorkedPart, members: &[&Feature], bore: &Bore, look: &Look) -> PartNote {
    let Bore { diameter, depth, through } = *bore;
    let mut note = blank();
    let asme = look.profile == Profile::Asme;
    let n = count(members, part.size);
    let mut words = Words::default();
    let mut fixes = Vec::new();
    if n > 1 {
        words.say(&if asme { format!("{n}X ") } else { format!("{n} × ") });
        fixes.push(Fact::Count);
    }
    let kind = members.first().map_or(CutKind::Hole, |f| f.kind);
    words.say(if kind == CutKind::Countersink { "countersink Ø" } else { "Ø" }).bit(look, diameter);
    fixes.push(Fact::Diameter);
    note.phrases.push(std::mem::take(&mut words.runs));
    if through {
        note.phrases.push(vec![Run::Plain("through".into())]);
    } else {
        words.length(look, depth).say(" deep");
        note.phrases.push(words.runs);
        fixes.push(Fact::Depth);
    }
    if kind == CutKind::ScrewHole {
        note.phrases.push(vec![Run::Plain("for screws".into())]);
    } else if kind == CutKind::AccessHole {
        note.phrases.push(vec![Run::Plain("access for the connector".into())]);
    } else if kind == CutKind::DowelHole {
        note.phrases.push(vec![Run::Plain(if n > 1 { "for dowels" } else { "for a dowel" }.into())]);
    } else if kind == CutKind::PegHole {
        note.phrases.push(vec![Run::Plain(if n > 1 { "for pegs" } else { "for a peg" }.into())]);
    }
    let _ = part;
    note.value = Some(if through { diameter } else { depth });
    note.fixes = Fixes::facts(fixes);
    note
}

/// `3 pockets 7 × 50, 10 deep, square to the mitre, 11.5 from its inner corner`.
fn askew(members: &[&Feature], look: &Look) -> PartNote {
    let mut note = blank();
    let Some(Feature { form: Form::Askew { into, length, width, depth, from_inner, .. }, kind, .. }) =
        members.first()
    else {
        return note;
    };
    let mut words = Words::default();
    let mut fixes = Vec::new();
    let n = members.len();
    if n > 1 {
        words.say(&format!("{n} "));
        fixes.push(Fact::Count);
    }
    words.say(noun(*kind, n > 1));
    if (length - width).abs() < feature::SAME {
        words.say(" Ø").length(look, *width);
        fixes.push(Fact::Diameter);
    } else {
        words.say(" ").length(look, *width).say(" × ").length(look, *length);
        fixes.extend([Fact::Width, Fact::Length]);
    }
    note.phrases.push(std::mem::take(&mut words.runs));
    words.length(look, *depth).say(" deep");
    fixes.push(Fact::Sunk);
    note.phrases.push(std::mem::take(&mut words.runs));
    if *kind == CutKind::AccessHole {
        words.say("at ").angle(feature::slope(*into));
        words.say(" to the face, beside the mitre");
        note.phrases.push(std::mem::take(&mut words.runs));
        fixes.push(Fact::Angle);
    } else {
        note.phrases.push(vec![Run::Plain("square to the mitre".into())]);
    }
    if let Some(inner) = from_inner {
        words.length(look, *inner).say(" from its inner corner");
        note.phrases.push(words.runs);
        fixes.push(Fact::FromInner);
    }
    note.value = Some(from_inner.unwrap_or(*depth));
    note.fixes = Fixes::facts(fixes);
    note
}

/// `outline`, `notch, 9 deep`: its corners are sized, its arcs noted.
fn shape(kind: CutKind, depth: f64, through: bool, look: &Look) -> PartNote {
    let mut note = blank();
    note.phrases.push(vec![Run::Plain(noun(kind, false).into())]);
    if !through {
        let mut words = Words::default();
        words.length(look, depth).say(" deep");
        note.phrases.push(words.runs);
        note.value = Some(depth);
        note.fixes = Fixes::facts(vec![Fact::Depth]);
    } else if kind != CutKind::Outline {
        note.phrases.push(vec![Run::Plain("through".into())]);
    }
    note
}

/// The radii of the shapes among `here`, one note for each arc.
pub(in crate::drawing::sheets::parts) fn radii(here: &[&Feature], look: &Look) -> Vec<PartNote> {
    let mut notes = Vec::new();
    for feature in here {
        let Form::Shape { arcs, entry, .. } = &feature.form else { continue };
        for (i, (middle, radius)) in arcs.iter().enumerate() {
            let mut words = Words::default();
            words.say("R").length(look, *radius);
            notes.push(PartNote {
                at: vec![*middle],
                phrases: vec![words.runs],
                value: Some(*radius),
                fixes: Fixes::facts(vec![Fact::Arc(i)]).of(&[NotedCut {
                    cut: feature.cut,
                    from: box_side(*entry),
                    bore: None,
                    against: Vec::new(),
                }]),
                cuts: Vec::new(),
            });
        }
    }
    notes
}

/// `compound mitre, gauge 18.88°, blade 41.64°, long point on face side at the
/// far edge`.
fn compound(part: &WorkedPart, kind: CutKind, long: DVec3, (gauge, blade): (f64, f64)) -> PartNote {
    let mut note = blank();
    let [face, edge] = [(2, long.z > part.size.z / 2.0), (1, long.y > part.size.y / 2.0)]
        .map(|(axis, far)| face_on(axis, far).name());
    let mut first = Words::default();
    first.say("compound ").say(noun(kind, false)).say(", gauge ").angle(gauge);
    let mut second = Words::default();
    second.say("blade ").angle(blade);
    note.phrases = vec![first.runs, second.runs, vec![Run::Plain(format!("long point on {face} at {edge}"))]];
    note.fixes = Fixes::facts(vec![Fact::Gauge, Fact::Blade]);
    note
}

/// `compound mitre, blade 29.82°, long point on face side`: its line is sized at both ends.
fn raked(part: &WorkedPart, kind: CutKind, raked: &Raked) -> PartNote {
    let mut note = blank();
    let mut words = Words::default();
    words.say("compound ").say(noun(kind, false));
    note.phrases.push(std::mem::take(&mut words.runs));
    words.say("blade ").angle(raked.flat(part.size).blade);
    let face = face_on(2, raked.line[0].z > part.size.z / 2.0).name();
    note.phrases.extend([words.runs, vec![Run::Plain(format!("long point on {face}"))]]);
    note.fixes = Fixes::facts(vec![Fact::Blade]);
    note
}

/// `mitre 45°, long point on face side`; `chamfer 2 × 45°`.
fn slope(part: &WorkedPart, feature: &Feature, look: &Look) -> PartNote {
    let mut note = blank();
    let Form::Slope { along, ends, away } = feature.form else { return note };
    let size = part.size;
    let mut words = Words::default();
    let (i, j) = ((along + 1) % 3, (along + 2) % 3);
    if let Some((_, face, angle)) = feature::long_point(ends, away, along, size) {
        words.say(noun(feature.kind, false)).say(" ").angle(angle);
        note.phrases.push(words.runs);
        note.phrases.push(vec![Run::Plain(format!("long point on {}", face.name()))]);
        note.value = Some(angle);
        note.fixes = Fixes::facts(vec![Fact::Angle]);
        return note;
    }
    let legs = ((ends[1] - ends[0])[i].abs(), (ends[1] - ends[0])[j].abs());
    if feature.kind == CutKind::Chamfer {
        words.say("chamfer ").length(look, legs.0).say(" × ");
        if (legs.0 - legs.1).abs() < feature::SAME {
            words.angle(EVEN);
            note.value = Some(EVEN);
        } else {
            words.length(look, legs.1);
            note.value = Some(legs.1);
        }
        note.fixes = Fixes::facts([i, j].map(|leg| Fact::Extent(Axis::of(leg), Against::Free)).to_vec());
    } else {
        words.say(noun(feature.kind, false));
    }
    note.phrases.push(words.runs);
    note
}

/// The angle of a chamfer with equal legs, degrees.
const EVEN: f64 = 45.0;

/// Shares of a long side at which a leader may touch it.
const TOUCHES: [f64; 3] = [0.5, 0.2, 0.8];

/// Places on the sides of a pocket, across `u` and `v`, that are not on the border of
/// the blank.
fn on_pocket((min, max): (DVec3, DVec3), (u, v): (usize, usize), size: DVec3) -> Vec<DVec3> {
    let middle = (min + max) / 2.0;
    let mut out = Vec::new();
    for (a, b) in [(u, v), (v, u)] {
        for at in [min[a], max[a]] {
            if at < feature::SAME || at > size[a] - feature::SAME {
                continue;
            }
            for t in TOUCHES {
                let mut p = middle;
                p[a] = at;
                p[b] = min[b] + (max[b] - min[b]) * t;
                out.push(p);
            }
        }
    }
    out
}

/// Places on a cut's outline, in the view on `face`, that a leader may touch.
fn targets(feature: &Feature, face: Face, size: DVec3) -> Vec<DVec3> {
    let (across, _) = axis_side(face);
    let axes: Vec<usize> = (0..3).filter(|a| *a != across).collect();
    let (u, v) = (axes[0], axes[1]);
    match &feature.form {
        Form::Pocket { min, max, .. } => on_pocket((*min, *max), (u, v), size),
        Form::Askew { centre, along, length, .. } => {
            [0.5, -0.5].into_iter().map(|t| *centre + *along * (length * t)).collect()
        }
        Form::Hole { centre, diameter, .. } => {
            let r = diameter / 2.0;
            let d = r * std::f64::consts::FRAC_1_SQRT_2;
            [(d, d), (-d, d), (d, -d), (-d, -d)]
                .into_iter()
                .map(|(a, b)| {
                    let mut p = *centre;
                    p[u] += a;
                    p[v] += b;
                    p
                })
                .collect()
        }
        Form::Leaning(leaning) => leaning.targets(),
        Form::Flared(socket) => socket.targets(size),
        Form::SlopedBore(bore) => {
            let side = if bore.into.x.abs() > bore.into.y.abs() { DVec3::Y } else { DVec3::X };
            [0.5, -0.5].into_iter().map(|t| bore.centre + side * (bore.diameter * t)).collect()
        }
        Form::Slope { ends, .. } => vec![(ends[0] + ends[1]) / 2.0],
        Form::Compound { middle, .. } => vec![*middle],
        Form::Raked(raked) => vec![raked.middle()],
        Form::Shape { corners, .. } => {
            corners.iter().zip(corners.iter().cycle().skip(1)).map(|(a, b)| (*a + *b) / 2.0).collect()
        }
    }
}
