//! Wedges that spread a tenon in a mortise opened for it: driven from outside into a
//! through tenon, or foxed, where the bottom of the mortise drives them.

use super::tenon_size::Tenon;
use crate::geometry::{DVec2, DVec3, Interval, Outline, Placement, trig};
use crate::joinery::bench::corner::stock;
use crate::joinery::bench::cut_kind::CutKind;
use crate::joinery::bench::made::{Made, Sawn};
use crate::joinery::bench::meet::{Pair, side_of};
use crate::joinery::bench::pocket::{WALL, third};
use crate::joinery::bench::seen::Bench;
use crate::joinery::bench::takes::Tie;
use crate::joinery::bench::tolerance::{MOSTLY, NOISE};
use crate::joinery::bench::worked::{CuttingPlane, Insert};
use crate::joinery::facts::item::{Wooden, sizes};
use crate::joinery::facts::tenons::Wedges;
use crate::model::{OptionKind, OptionSpec, StockKind, Usual, Work};
use crate::problem::{Problem, wording};
use crate::solid::Prism;

/// The option `wedges`.
pub(in crate::joinery) const WEDGES: OptionSpec = OptionSpec {
    key: "wedges",
    kind: OptionKind::Count { min: 1, max: 6 },
    default: &[Usual::Words("no wedges")],
    says: "how many wedges spread the tenon in the mortise, which is opened for it; with `through`, or `foxed`",
};

/// The option `wedge`.
pub(in crate::joinery) const WEDGE: OptionSpec = OptionSpec {
    key: "wedge",
    kind: OptionKind::Pair,
    default: &[Usual::Words("an eighth of its kerf's depth thick, as wide as the tenon is thick")],
    says: "thickness at its head, and width, of a wedge, such as \"3.5x10\"",
};

/// The option `foxed`.
pub(in crate::joinery) const FOXED: OptionSpec = OptionSpec {
    key: "foxed",
    kind: OptionKind::YesNo,
    default: &[Usual::Words("false: wedges are driven from outside")],
    says: "starts the wedges in a tenon that stops inside: the bottom of the mortise, opened within, drives them; it never \
           comes apart again",
};

/// Options of wedges that say nothing alone, or against others.
pub(in crate::joinery) const TIES: &[Tie] = &[
    Tie::Needs("wedge", &["wedges"]),
    Tie::Needs("foxed", &["wedges"]),
    Tie::Either("wedges", "pegs"),
    Tie::Either("foxed", "through"),
];

/// What a fine saw takes, mm (common practice, no source).
const KERF: f64 = 1.0;
/// One in so many is how a usual wedge tapers, and the steepest that stays where it is
/// driven (common practice, no source).
const TAPER: f64 = 8.0;
/// See `TAPER`.
const STEEPEST: f64 = 6.0;
/// Least thickness of a wedge at its head, mm, and the steps it is made in.
const THIN: f64 = 2.0;
/// See `THIN`.
const STEP: f64 = 0.5;
/// Thickness of a wedge at its point, mm.
const POINT: f64 = 0.5;
/// Least of a tenon beside a wedge, which bends outward, mm; and the usual share of its
/// width, one in so many.
const STRIP: f64 = 5.0;
/// See `STRIP`.
const STRIP_SHARE: f64 = 6.0;
/// How far from the bottom of its kerf a foxed wedge stops, mm: it must draw before it
/// lands.
const CLEAR: f64 = 3.0;
/// How far a cut is let run past a face, mm.
const PAST: f64 = 1.0;

/// The wedges of a tenon, mm.
struct Row {
    count: u32,
    thick: f64,
    width: f64,
    /// Length of a wedge.
    long: f64,
    /// Depth of the kerfs, from the tenon's end.
    deep: f64,
    /// Places along the mortise.
    at: Vec<f64>,
    /// From the tenon's edges to the outer ones.
    strip: f64,
    /// What either end of the mortise is opened by.
    opened: f64,
    foxed: bool,
}

/// Saws the kerfs a joint asks for, opens its mortise and lists the wedges; `None` if it
/// asks for none.
pub(in crate::joinery) fn wedged(
    bench: &Bench<'_>,
    work: &Work,
    tenon: &Tenon,
    pair: Pair,
    made: &mut Made,
) -> Result<Option<Wedges>, Problem> {
    let Some(count) = work.options.count("wedges") else { return Ok(None) };
    let asked = Asked { bench, work, tenon, pair };
    let row = asked.row(count)?;
    asked.fits(&row)?;
    let Pair { a: rail, b: member } = pair;
    let (low, high) = bench.placed[rail].reach(tenon.across);
    let whole = Interval::between(low, high);
    for at in &row.at {
        let along = Interval::at(*at).grown(0.5 * KERF);
        let shape = tenon.brick(along, whole, Interval::between(tenon.tip() - PAST, tenon.tip() + row.deep));
        made.cuts.extend(shape.map(|shape| Sawn { part: rail, kind: CutKind::Kerf, shape }));
    }
    for cheeks in tenon.cheeks() {
        let shapes = [false, true].map(|high| opened(tenon, &row, cheeks, high));
        let shapes = shapes.into_iter().flatten();
        made.cuts.extend(shapes.map(|shape| Sawn { part: member, kind: CutKind::Mortise, shape }));
    }
    // Along the tenon's width, which shows kerfs, wedges and the opened ends; across it all
    // of that is seen flat.
    let cheek = tenon.cheeks().first().map_or(0.0, |cheek| cheek.middle());
    made.shown_by = Some(CuttingPlane {
        point: tenon.out * tenon.face + tenon.along * tenon.wide.middle() + tenon.across * cheek,
        toward: tenon.across,
    });
    let wood = stock(bench, rail).map(|s| s.name.clone());
    let size = sizes([row.thick, row.width, row.long]);
    let item = if row.foxed { Wooden::FoxedWedge(size, wood) } else { Wooden::Wedge(size, wood) };
    made.inserts.push(Insert { item: item.into(), at: standing(tenon, &row), body: Some(body(&row)) });
    Ok(Some(Wedges {
        count: count as usize,
        thick: row.thick,
        deep: row.deep,
        kerf: KERF,
        strip: row.strip,
        opened: row.opened,
        foxed: row.foxed,
    }))
}

/// A tenon that is asked to be wedged.
struct Asked<'a> {
    bench: &'a Bench<'a>,
    work: &'a Work,
    tenon: &'a Tenon,
    pair: Pair,
}

impl Asked<'_> {
    fn error(&self, code: &'static str, message: String) -> Problem {
        self.bench.error(self.work, code, message, &self.pair.parts())
    }

    /// Sets the wedges out.
    fn row(&self, count: u32) -> Result<Row, Problem> {
        let foxed = self.work.options.yes("foxed");
        if !foxed && !self.tenon.through {
            let message = "the tenon stops inside: no wedge can be driven into it from outside".to_owned();
            return Err(self.error("missing-option", message).help(
                "let it through with `through: true`, or ask for `foxed: true`, which never comes apart again",
            ));
        }
        let tenon = self.tenon;
        let deep = third(2.0 * tenon.depth).floor();
        // To half a millimetre, which a wedge is sawn to by eye.
        let usual = ((deep / TAPER / STEP).round() * STEP).max(THIN);
        let (thick, width) = self.work.options.pair("wedge").unwrap_or((usual, tenon.one_thick()));
        let wide = tenon.wide.length();
        let strip = if count == 1 { 0.5 * wide } else { STRIP.max(wide / STRIP_SHARE) };
        let gap = if count == 1 { 0.0 } else { (wide - 2.0 * strip) / f64::from(count - 1) };
        let at = (0..count).map(|k| tenon.wide.from + strip + gap * f64::from(k)).collect();
        // Driven by the bottom itself, a wedge must end before it stands on it.
        let long = if foxed { deep + tenon.spare - CLEAR } else { deep };
        // What all of them spread, shared by the two ends.
        let opened = 0.5 * f64::from(count) * (thick - KERF);
        Ok(Row { count, thick, width, long, deep, at, strip, opened, foxed })
    }

    /// Refuses wedges that do not go in, do not hold, or split something.
    fn fits(&self, row: &Row) -> Result<(), Problem> {
        let Self { bench, tenon, .. } = self;
        let one = tenon.one_thick();
        if row.width > one + NOISE {
            let message = format!(
                "a wedge {} wide does not go into a mortise {} wide",
                bench.mm(row.width),
                bench.mm(one)
            );
            let help = format!(
                "make it as wide as the tenon is thick: `wedge: \"{}x{}\"`",
                row.thick,
                bench.figure(one)
            );
            return Err(self.error("wedge-too-wide", message).help(help));
        }
        self.tapers(row)?;
        let gap = row.at.get(1).zip(row.at.first()).map_or(f64::INFINITY, |(b, a)| b - a);
        if gap.min(row.strip) < STRIP - NOISE {
            let message = format!(
                "{} leave {} of a tenon {} wide beside them; it needs {} to bend",
                wording::count(row.count as usize, "wedge", "wedges"),
                bench.mm(gap.min(row.strip).max(0.0)),
                bench.mm(tenon.wide.length()),
                bench.mm(STRIP)
            );
            return Err(self.error("does-not-fit", message).help("use fewer wedges"));
        }
        self.splits()?;
        self.wood_beyond(row)
    }

    /// Refuses a wedge that does not spread, or is too steep to stay.
    fn tapers(&self, row: &Row) -> Result<(), Problem> {
        let bench = self.bench;
        let most = row.deep / STEEPEST;
        if row.thick > KERF + STEP - NOISE && row.thick < most + NOISE {
            return Ok(());
        }
        let message = if row.thick < KERF + STEP {
            format!("a wedge {} thick does not spread a saw cut of {}", bench.mm(row.thick), bench.mm(KERF))
        } else {
            format!(
                "a wedge {} thick in a saw cut {} deep is steeper than one in {STEEPEST} and works out again",
                bench.mm(row.thick),
                bench.mm(row.deep)
            )
        };
        let problem = self.error("does-not-fit", message);
        Err(if most < KERF + STEP {
            problem.help("a longer tenon is needed for wedges")
        } else {
            problem.help(format!("make it between {} and {}", bench.mm(KERF + STEP), bench.mm(most)))
        })
    }

    /// Refuses wedges that push across the grain of the part with the mortise.
    fn splits(&self) -> Result<(), Problem> {
        let Self { bench, tenon, pair: Pair { b: member, .. }, .. } = *self;
        let solid = stock(bench, member).is_some_and(|s| matches!(s.kind, StockKind::Board { .. }));
        if !solid || bench.placed[member].axis(0).dot(tenon.along).abs() > MOSTLY {
            return Ok(());
        }
        let name = bench.name(member);
        let message = format!("wedges would push across the grain of `{name}` and split it");
        Err(self.error("wedges-split", message).help(format!(
            "a wedged mortise runs along the grain: turn the grain of `{name}`, or use `pegs`"
        )))
    }

    /// Refuses an opened mortise that comes too near the end of its part.
    fn wood_beyond(&self, row: &Row) -> Result<(), Problem> {
        let Self { bench, tenon, pair: Pair { b: member, .. }, .. } = *self;
        let (low, high) = bench.placed[member].reach(tenon.along);
        let ends = [
            (tenon.wide.from - row.opened - low, -tenon.along),
            (high - tenon.wide.to - row.opened, tenon.along),
        ];
        for (left, way) in ends {
            if left >= WALL - NOISE {
                continue;
            }
            let side = side_of(way).name();
            let message = format!(
                "a mortise opened {} for its wedges leaves {} at the {side} end of `{}`; it needs {}",
                bench.mm(row.opened),
                bench.beside(left.max(0.0), WALL),
                bench.name(member),
                bench.beside(WALL, left.max(0.0))
            );
            return Err(self
                .error("breaks-through", message)
                .help("cut the tenon back with more `shoulder`"));
        }
        Ok(())
    }
}

/// What opens one end of the mortise: a mortise that leans, its outer wall the slope that
/// the tenon is spread to. It is sunk from the far face, or within from the mouth.
fn opened(tenon: &Tenon, row: &Row, cheeks: Interval, high: bool) -> Option<Prism> {
    let (way, end) = if high { (1.0, tenon.wide.to) } else { (-1.0, tenon.wide.from) };
    let bottom = if row.foxed { tenon.tip() - tenon.spare } else { tenon.tip() };
    let begins = tenon.tip() + row.deep;
    let rise = begins - bottom;
    let lean = trig::atan2(row.opened, rise);
    let (sin, cos) = trig::sin_cos(lean);
    let (out, along) = (tenon.out, tenon.along * way);
    // Down the slope, and from it into the mortise.
    let down = along * sin - out * cos;
    let inward = -along * cos - out * sin;
    let at = |height: f64, by: f64| out * height + along * (way * end + by);
    let (near, far) = (at(begins, 0.0), at(bottom, row.opened));
    // As thick as brings its inner side into what the mortise has taken.
    let thick = row.opened / cos + PAST;
    let middle = tenon.across * cheeks.middle() + inward * (0.5 * thick);
    let (from, to, into) = if row.foxed {
        // From before the mouth, and no deeper at its inner side than the bottom is.
        let rest = (tenon.face - begins) / cos + PAST + thick * sin;
        (near - down * rest, far - down * (thick * sin / cos), down)
    } else {
        (far + down * (PAST + thick * sin), near, -down)
    };
    let frame = Placement::looking(from + middle, into, tenon.across)?;
    let half = DVec2::new(0.5 * cheeks.length(), 0.5 * thick);
    Some(Prism { at: frame, outline: Outline::rect(-half, half), from: 0.0, to: (to - from).dot(into) })
}

/// Where each wedge sits: x through its thickness, y along it from its head.
fn standing(tenon: &Tenon, row: &Row) -> Vec<Placement> {
    let head = if row.foxed { tenon.tip() - tenon.spare } else { tenon.tip() };
    let mut all = Vec::new();
    for cheek in tenon.cheeks() {
        let side = tenon.across * cheek.middle();
        let places = row.at.iter().map(|at| tenon.out * head + tenon.along * *at + side);
        all.extend(places.filter_map(|point: DVec3| Placement::from_axes(point, tenon.along, tenon.out)));
    }
    all
}

/// A wedge in its own frame.
fn body(row: &Row) -> Prism {
    let (head, point) = (0.5 * row.thick, 0.5 * POINT);
    let ring = [(-head, 0.0), (head, 0.0), (point, row.long), (-point, row.long)];
    let outline = Outline::polygon(ring.map(|(x, y)| DVec2::new(x, y)).to_vec());
    Prism { at: Placement::IDENTITY, outline, from: -0.5 * row.width, to: 0.5 * row.width }
}
