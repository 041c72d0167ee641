//! The heading of a part: number, name, stock, how many, finished size.

use kurbo::{Circle, Point, Shape};

use super::notes::phrases::Words;
use super::subject::{Further, Subject, off};
use crate::drawing::kit::dimension::ink::pen;
use crate::drawing::kit::words::{elide, stacked, unmarked};
use crate::drawing::page::scale::Scale;
use crate::drawing::sheets::notes::cautions::is_metal_filled;
use crate::joinery::{Hand, PartSource, WorkedPart};
use crate::machining::feature::{self, SAME};
use crate::measure::Unit;
use crate::model::{Face, Scribe};
use crate::paper::{Anchor, Mark, Role, Run, Text, Weight};

/// Most of the width of a sheet that a name in a heading takes; the cutting list
/// has all of it.
const NAME: f64 = 0.3;

/// Base line to base line in text heights, and where fractions may stand in the lines.
const PITCH: f64 = 1.7;
const PITCH_FRACTION: f64 = 1.9;
/// Height of the title in text heights; from it to the next line, in text heights and
/// its own.
const TITLE: f64 = 1.4;
const UNDER_TITLE: f64 = 1.2;
const TITLE_DROP: f64 = 0.9;
/// Radius of the ring round the number, in heights of the title.
const RING: f64 = 1.05;
/// White between ring, name and scale, mm.
const BESIDE_RING: f64 = 2.5;
const BESIDE_NAME: f64 = 4.0;

/// Draws the heading with its last line standing on `foot`.
pub(super) fn draw(subject: Subject<'_>, scale: Scale, foot: Point) -> Vec<Mark> {
    let h = super::subject::text_height(subject.look);
    let mut lines: Vec<(Vec<Run>, Role)> = vec![(summary(subject), Role::Note)];
    if subject.further == Further::No {
        lines.extend(remarks(subject).into_iter().map(|l| (l, Role::Note)));
    }
    // Stacked fractions are taller than a line of plain text.
    let pitch = if subject.look.unit == Unit::Inch { h * PITCH_FRACTION } else { h * PITCH };
    let title = h * TITLE;
    let top = foot.y - pitch * (lines.len() as f64 - 1.0);
    let first = top - h * UNDER_TITLE - title * TITLE_DROP;
    let radius = title * RING;
    let centre = Point::new(foot.x + radius, first - title / 2.0);
    let mut marks = vec![
        Mark::stroke(
            Circle::new(centre, radius).to_path(Mark::ROUND),
            pen(subject.look.narrow()),
            Role::ItemNumber,
        ),
        Mark::text(
            Text::plain(Point::new(centre.x, first), subject.part.number.to_string(), title)
                .anchored(Anchor::Middle)
                .bold(),
            Role::ItemNumber,
        ),
    ];
    let room = NAME * subject.look.room().space.width();
    let mut name = elide(&subject.part.name, title, Weight::SemiBold, room);
    name += match subject.further {
        Further::No => "",
        Further::Views => ", further views",
        Further::Sizes => ", further sizes",
    };
    let name = Text::plain(Point::new(centre.x + radius + BESIDE_RING, first), name, title).bold();
    let after = Point::new(name.at.x + name.width() + BESIDE_NAME, first);
    marks.push(Mark::text(name, Role::Title));
    marks.push(Mark::text(Text::new(after, stacked(scale.name), h), Role::Note));
    for (i, (runs, role)) in lines.into_iter().enumerate() {
        let at = Point::new(foot.x, top + pitch * i as f64);
        marks.push(Mark::text(Text::new(at, runs, h), role));
    }
    marks
}

/// `Ash plywood, 2 off, 420 × 300 × 18`.
fn summary(subject: Subject<'_>) -> Vec<Run> {
    let Subject { job, part, look, .. } = subject;
    let stock = job.stock.get(part.stock.0).map_or("", |s| s.name.as_str());
    let mut words = Words::default();
    let room = NAME * look.room().space.width();
    let stock = elide(stock, super::subject::text_height(look), Weight::Regular, room);
    words.say(&format!("{stock}, {}, ", look.words().many(off(subject).iter().map(|(_, n)| n).sum())));
    words.length(look, part.size.x).say(" × ").length(look, part.size.y).say(" × ").length(look, part.size.z);
    words.runs
}

/// Mirror pair, lippings, remark.
fn remarks(subject: Subject<'_>) -> Vec<Vec<Run>> {
    let mut lines = Vec::new();
    let plain = |text: String| vec![Run::Plain(text)];
    let counts = off(subject);
    if counts.iter().any(|(h, _)| *h != Hand::None) {
        let n = subject.part.number;
        let of = |hand: Hand| counts.iter().find(|(h, _)| *h == hand).map_or(0, |(_, c)| *c);
        lines.push(plain(format!(
            "{} drawn, {}; {n} R is its mirror image, {}",
            subject.part.mark(),
            subject.look.words().many(of(Hand::Left)),
            subject.look.words().many(of(Hand::Right))
        )));
    }
    lines.extend(tenons(subject));
    lines.extend(lippings(subject));
    lines.extend(super::turned::matched(subject).map(plain));
    lines.extend(scribed(subject));
    lines.extend(filled(subject).map(plain));
    lines.extend(staved(subject).map(|text| stacked(&text)));
    if let Some(remark) = &subject.part.remark {
        lines.push(plain(remark.clone()));
    }
    lines
}

/// `tenons 6 × 46 × 12 long, both ends; 214 between shoulders`: thickness, width, length, the
/// lesser first as at their mortises, so that nobody has to take shoulders from the part. Over a
/// haunch the tenon is wider than its mortise is long, which is said where there is room: of
/// tenons that are alike.
fn tenons(subject: Subject<'_>) -> Vec<Vec<Run>> {
    let Subject { part, look, .. } = subject;
    let features = feature::read(part);
    let Some(tenons) = feature::tenons::tenons(&features, part.size) else { return Vec::new() };
    let [near, far] = &tenons.ends;
    let alike = near.like(far);
    let haunched = alike && features.iter().any(|feature| feature.haunch);
    let over = if haunched { " over the haunch × " } else { " × " };
    let mut words = Words::default();
    for (tenon, which) in [(near, "near end"), (far, "far end")] {
        words.say(match (alike, which) {
            (true, _) => "tenons ",
            (false, "near end") => "tenon ",
            (false, _) => "; ",
        });
        let (thick, wide) = (tenon.thick.min(tenon.wide), tenon.thick.max(tenon.wide));
        words.length(look, thick).say(" × ").length(look, wide).say(over);
        words.length(look, tenon.long).say(" long, ").say(if alike { "both ends" } else { which });
        if alike {
            break;
        }
    }
    words.say("; ").length(look, tenons.between).say(" between shoulders");
    vec![words.runs]
}

/// `size over 6 lipping on the top and bottom, part 8; panel 850 × 284`: a line for
/// all sides that lippings of one number are glued to. A part whose lippings stand
/// proud is drawn, and worked, without them.
fn lippings(subject: Subject<'_>) -> Vec<Vec<Run>> {
    let mut groups: Vec<(&WorkedPart, Vec<&str>)> = Vec::new();
    for lipping in &subject.worked.parts {
        let PartSource::Lipping { of, side } = lipping.source else { continue };
        if of != subject.index {
            continue;
        }
        match groups.iter_mut().find(|(known, _)| known.mark() == lipping.mark()) {
            Some((_, sides)) => sides.push(side.name()),
            None => groups.push((lipping, vec![side.name()])),
        }
    }
    let panel = subject.worked.parts.get(subject.index).map_or(subject.part.size, |part| part.size);
    let alone = (panel - subject.part.size).length() < SAME;
    let last = groups.len().saturating_sub(1);
    let mut lines = Vec::new();
    for (i, (lipping, sides)) in groups.into_iter().enumerate() {
        let mut words = Words::default();
        words
            .say(match (i, alone) {
                (0, true) => "size without lipping; ",
                (0, false) => "size over ",
                _ => "",
            })
            .length(subject.look, lipping.size.z.min(lipping.size.y))
            .say(&format!(" lipping on the {}, part {}", sides.join(" and "), lipping.mark()));
        if i == last && !alone {
            words.say("; panel ").length(subject.look, panel.x).say(" × ").length(subject.look, panel.y);
        }
        lines.push(words.runs);
    }
    lines
}

/// `12 left on at the back, its far edge, to scribe on site: drawn without it, cut with it`,
/// a line for each edge.
fn scribed(subject: Subject<'_>) -> Vec<Vec<Run>> {
    let own = subject.job.scribes.iter().filter(|one| one.part.0 == subject.index);
    let line = |one: &Scribe| {
        let mut words = Words::default();
        let edge = Face::facing(subject.part.at.local_dir(one.side.normal()));
        let edge = edge.map_or(String::new(), |edge| format!(", its {},", edge.name()));
        words.length(subject.look, one.allow).say(&format!(
            " left on at the {}{edge} to scribe on site: drawn without it, cut with it",
            one.side.name()
        ));
        words.runs
    };
    own.map(line).collect()
}

/// What to take care of where a part is filled with resin or metal powder (common practice,
/// no source).
fn filled(subject: Subject<'_>) -> Option<String> {
    let sparks = if is_metal_filled(subject.part) { "; no sparks or flames near its powder" } else { "" };
    (!subject.part.fills.is_empty()).then(|| {
        format!("take care of the fill: gloves and fresh air while it sets, a mask to turn it{sparks}")
    })
}

/// What a part wider than its boards is glued up of.
fn staved(subject: Subject<'_>) -> Option<String> {
    let PartSource::Part(_) = subject.part.source else { return None };
    let stock = subject.job.stock.get(subject.part.stock.0)?;
    let staves = stock.staves(subject.job.unit, subject.part.size.y, subject.job.cutting.width)?;
    Some(unmarked(&format!("{}, heart sides by turns", subject.look.words().staved(staves))))
}
