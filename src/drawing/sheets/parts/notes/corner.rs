//! Notes of dovetails and of the pockets of pocket screws.

use super::phrases::{Words, blank};
use crate::drawing::page::look::Look;
use crate::drawing::sheets::parts::chosen::PartNote;
use crate::joinery::CutKind;
use crate::machining::feature::{Flared, SlopedBore, axis_side, face_on};
use crate::paper::Run;
use crate::paper::fixes::{Axis, Fact, Fixes};

/// `2 screw pockets Ø9.5 at 15°, shoulder 12.8 from the end, bore Ø4`.
pub(in crate::drawing::sheets::parts) fn bore_note(bore: &SlopedBore, n: usize, look: &Look) -> PartNote {
    let mut note = blank();
    let mut words = Words::default();
    let mut fixes = Vec::new();
    if n > 1 {
        words.say(&format!("{n} "));
        fixes.push(Fact::Count);
    }
    words.say(if n > 1 { "screw pockets Ø" } else { "screw pocket Ø" }).length(look, bore.diameter);
    words.say(" at ").angle(bore.slope());
    note.phrases.push(std::mem::take(&mut words.runs));
    fixes.extend([Fact::Diameter, Fact::Angle, Fact::Sunk]);
    let end = if bore.into.x.abs() > bore.into.y.abs() { "end" } else { "edge" };
    words.say("shoulder ").length(look, bore.seat).say(&format!(" from the {end} along the bore"));
    note.phrases.push(std::mem::take(&mut words.runs));
    if let Some((_, bore)) = bore.bore {
        words.say("bore Ø").length(look, bore);
        note.phrases.push(words.runs);
        fixes.push(Fact::Width);
    }
    note.value = Some(bore.bore.map_or(bore.seat, |b| b.1));
    note.fixes = Fixes::facts(fixes);
    note
}

/// The name of sockets with the width that they are marked by; gives what that fixes.
fn named(words: &mut Words, kind: CutKind, socket: &Flared, several: bool, look: &Look) -> Fact {
    let half = if socket.leaning == 1 { "half-" } else { "" };
    let plural = if several { "s" } else { "" };
    let (narrow, wide) = (socket.widths.0.min(socket.widths.1), socket.widths.0.max(socket.widths.1));
    let run = Axis::of(socket.run);
    if kind == CutKind::PinSocket {
        words.say(&format!("{half}pin socket{plural} ")).length(look, narrow).say(" at the end");
        return Fact::Flank(socket.leaning, run);
    }
    let place = if socket.lapped() {
        "at the lap".into()
    } else {
        format!("on the {}", face_on(socket.rise, socket.widths.1 > socket.widths.0).name())
    };
    words.say(&format!("tail socket{plural} ")).length(look, wide).say(&format!(" {place}"));
    Fact::Flank(0, run)
}

/// `3 pin sockets 6 at the end, slope 1:8, 15 deep`; `4 tail sockets 22.5 on
/// the back side, slope 1:8, 12 deep`.
pub(in crate::drawing::sheets::parts) fn flared_note(
    kind: CutKind,
    socket: &Flared,
    n: usize,
    look: &Look,
) -> PartNote {
    let mut note = blank();
    let mut words = Words::default();
    let mut fixes = Vec::new();
    if n > 1 {
        words.say(&format!("{n} "));
        fixes.push(Fact::Count);
    }
    fixes.push(named(&mut words, kind, socket, n > 1, look));
    let high = socket.widths.1 > socket.widths.0;
    note.phrases.push(std::mem::take(&mut words.runs));
    note.phrases.push(vec![Run::Plain(format!("slope 1:{}", socket.ratio()))]);
    fixes.push(Fact::Slope);
    let rise = socket.max[socket.rise] - socket.min[socket.rise];
    let (sweep, _) = axis_side(socket.entry);
    let deep = socket.max[sweep] - socket.min[sweep];
    let mut last = rise;
    if kind == CutKind::PinSocket {
        words.length(look, rise).say(" deep");
        fixes.push(Fact::Rise(Axis::of(socket.rise)));
    } else {
        if socket.lapped() {
            words.length(look, rise).say(&format!(" from the {}", face_on(socket.rise, !high).name()));
            note.phrases.push(std::mem::take(&mut words.runs));
            fixes.push(Fact::Rise(Axis::of(socket.rise)));
        }
        words.length(look, deep).say(" deep");
        fixes.push(Fact::Depth);
        last = deep;
    }
    note.phrases.push(words.runs);
    note.value = Some(last);
    note.fixes = Fixes::facts(fixes);
    note
}
