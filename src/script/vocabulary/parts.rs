//! `panel`, `board`, `pane`: parts placed by the space they fill.

use super::call::{Call, Does};
use super::read::values::AXES;
use super::saying::Saying;
use super::spec::{UNLESS_IT_RUNS, option, value};
use super::stands::{self, Lies};
use crate::geometry::{DVec3, Placement};
use crate::model::{
    Form, OptionKind, OptionSpec, Part, PartId, PieceId, REQUIRED, Side, Stock, StockId, StockKind, Usual,
    Word,
};
use crate::problem::Problem;
use crate::script::asked::Asked;
use crate::script::pose::Pose;
use crate::script::run::Run;
use crate::script::value::{PartRef, Value};

/// The value of a part that could not be made.
fn no_part() -> Value {
    Value::Part(PartRef(None))
}

/// The words.
pub(in crate::script) const WORDS: &[(&Word, Does)] = &[
    (&PANEL, Does { act: part, spoilt: no_part }),
    (&BOARD, Does { act: part, spoilt: no_part }),
    (&PANE, Does { act: part, spoilt: no_part }),
    (&TURNED, Does { act: turned, spoilt: no_part }),
];

/// Options of every flat part.
const PLACED: &[OptionSpec] = &[
    option(
        "x",
        OptionKind::Span,
        UNLESS_IT_RUNS,
        "the space filled from left to right, `[from, to]` or `between(a, b)`",
    ),
    option(
        "y",
        OptionKind::Span,
        UNLESS_IT_RUNS,
        "the space filled from front to back, `[from, to]` or `between(a, b)`",
    ),
    option(
        "z",
        OptionKind::Span,
        UNLESS_IT_RUNS,
        "the space filled from bottom to top, `[from, to]` or `between(a, b)`",
    ),
    option("grain", OptionKind::Choice(&AXES), &[Usual::Words("the longest way")], "the way the grain runs"),
    option(
        "face",
        OptionKind::Side,
        &[Usual::Words("inwards")],
        "the side of the piece the face mark looks to",
    ),
    option(
        "edge",
        OptionKind::Side,
        &[Usual::Words("to the front; of a part with no edge there to the top, else to the left")],
        "the side of the piece the edge mark looks to",
    ),
    RUNS,
    TURN,
    SPLAY,
    RAKE,
    REMARK,
];

/// Remark.
const REMARK: OptionSpec =
    option("remark", OptionKind::Text, &[Usual::Words("none")], "remark for the cutting list");
/// Lean of a leg seen from the front.
const SPLAY: OptionSpec = option(
    "splay",
    OptionKind::Angle { min: -85.0, max: 85.0 },
    &[Usual::Angle(0.0), Usual::Words(": upright")],
    "leans the part, after its turns and about the middle of its top, so that seen from the front its foot goes out by so many degrees: to the \
     right, to the left where less than 0",
);
/// Lean of a leg seen from the side.
const RAKE: OptionSpec = option(
    "rake",
    OptionKind::Angle { min: -85.0, max: 85.0 },
    &[Usual::Angle(0.0), Usual::Words(": upright")],
    "the same seen from the side: its foot goes to the back, to the front where less than 0",
);
/// Turn out of the square.
const TURN: OptionSpec = option(
    "turn",
    OptionKind::Turn,
    &[Usual::Words("square")],
    "turns the part in its place: `#{ axis: \"x\", by: 10, about: [0, 0, 0] }`, degrees; a list of turns follow one another",
);
/// Placed along a line.
const RUNS: OptionSpec = option(
    "runs",
    OptionKind::Runs,
    &[Usual::Words("placed by `x`, `y` and `z`")],
    "places the part along a line, from the face of a part or a point to another, with its width upright unless rolled: \
     `#{ from: left, to: right, through: [0, 20, 300], toward: [1, 0, 0.2], wide: 60, roll: 0 }`",
);

static PANEL: Word = Word {
    name: "panel",
    args: &[value("name", OptionKind::Text), value("stock", OptionKind::Stock)],
    options: PLACED,
    says: "a part cut from sheet stock, placed by the space it fills",
    rule: "",
    example: "let top = panel(\"Top\", ply, #{ x: [0, w], y: [0, d], z: [h - 18, h], grain: \"x\" });",
};

static BOARD: Word = Word {
    name: "board",
    args: &[value("name", OptionKind::Text), value("stock", OptionKind::Stock)],
    options: PLACED,
    says: "a part of solid timber, placed by the space it fills",
    rule: "",
    example: "let rail = board(\"Rail\", ash, #{ x: between(left, right), y: [0, 22], z: [0, 60], grain: \"x\" });",
};

static PANE: Word = Word {
    name: "pane",
    args: &[value("name", OptionKind::Text), value("stock", OptionKind::Stock)],
    options: PLACED,
    says: "a sheet of glass, placed by the space it fills",
    rule: "",
    example: "let glass = pane(\"Glass\", float, #{ x: [40, 380], y: [10, 14], z: [40, 560] });",
};

static TURNED: Word = Word {
    name: "turned",
    args: &[value("name", OptionKind::Text), value("stock", OptionKind::Stock)],
    options: &[
        option(
            "from",
            OptionKind::Lengths,
            REQUIRED,
            "the point of the axis the stations count from, `[x, y, z]`",
        ),
        option("along", OptionKind::Choice(&AXES), REQUIRED, "the way the axis runs"),
        option(
            "stations",
            OptionKind::Stations,
            REQUIRED,
            "the profile from 0 upwards: `[along, diameter]`, with \"taper\", \"cove\", \"bead\" or \"fillet\" where it is not plainly straight from there on; two stations at one place are a shoulder, as of a spigot",
        ),
        TURN,
        REMARK,
    ],
    says: "a part turned on the lathe from a blank",
    rule: "blank 5 mm thicker than the greatest diameter and 40 mm longer to be chucked, which `cutting` can change \
           (common practice, no source)",
    example: "let leg = turned(\"Leg\", elm, #{ from: [40, 40, 0], along: \"z\", stations: [[0, 24], [400, 38]] });",
};

/// How far a panel's space may differ from its stock's thickness, mm.
const THICKNESS: f64 = 0.01;

/// `between` and `against`, bound by themselves.
pub(in crate::script) const PLACES: &[Saying] = &[
    Saying {
        name: "between",
        written: "between(part, part)",
        says: "the clear space between two parts, on its axis, at the place where the part stands",
        example: "let shelf = panel(\"Shelf\", ply, #{ x: between(left, right), y: [0, 280], z: [200, 218] });",
    },
    Saying {
        name: "against",
        written: "against(part)   against(part, side)",
        says: "an end of a space that lies on the nearer face of a part, or on its face towards a side of the piece",
        example: "let shelf = panel(\"Shelf\", ply, #{ x: [against(left), 500], y: [0, 280], z: [200, 218] });",
    },
];

/// Makes a flat part.
fn part(run: &mut Run, call: &Call) -> Value {
    let Some(stock) = belongs(run, call) else { return no_part() };
    let name = call.options.text("name").unwrap_or_default();
    let (space, stood) = if call.options.runs("runs").is_some() {
        let Some(line) = stands::along_a_line(run, call, stock, name) else { return no_part() };
        (line.space, Some(line.at))
    } else {
        let Some(space) = space(call) else { return no_part() };
        (space, None)
    };
    let Some(mut asked) = lie(run, call, stock, space, name) else { return no_part() };
    asked.pose =
        stands::pose(call, &Lies { space, axes: [asked.grain, asked.width, asked.thickness], stood });
    keep(run, call, (stock, Form::Flat), space, asked)
}

/// Makes a turned part.
fn turned(run: &mut Run, call: &Call) -> Value {
    let Some(stock) = belongs(run, call) else { return no_part() };
    let Some([x, y, z]) = call.options.lengths("from") else {
        let at = run.key_origin(call.origin, "from");
        run.report(
            Problem::error("wrong-type", "`from` of `turned` must be a point [x, y, z]")
                .at(at)
                .help("write the point of the axis the stations count from: `from: [40, 40, 0]`"),
        );
        return no_part();
    };
    let along = call.options.text("along").and_then(|a| AXES.iter().position(|n| *n == a));
    let (Some(grain), Some(stations)) = (along, call.options.stations("stations")) else { return no_part() };
    let widest = stations.iter().map(|s| s.diameter).fold(0.0, f64::max);
    let length = stations.last().map_or(0.0, |s| s.along);
    let axis = [DVec3::X, DVec3::Y, DVec3::Z][grain];
    let (from, round) = (DVec3::new(*x, *y, *z) + run.shift, (DVec3::ONE - axis) * (widest / 2.0));
    let (width, thickness) = ((grain + 1) % 3, (grain + 2) % 3);
    // The low sides, so that the part's length runs the way of the axis.
    let low = [Side::Left, Side::Front, Side::Bottom];
    let space = (from - round, from + axis * length + round);
    let pose = stands::pose(call, &Lies { space, axes: [grain, width, thickness], stood: None });
    let asked = Asked { grain, width, thickness, face: Some(low[thickness]), edge: Some(low[width]), pose };
    let form = Form::Turned(stations.to_vec());
    keep(run, call, (stock, form), space, asked)
}

/// The stock of a part that stands in a piece and is of the stock its word
/// takes; what is wrong is reported.
fn belongs(run: &mut Run, call: &Call) -> Option<StockId> {
    let name = call.options.text("name").unwrap_or_default();
    let stock = call.options.stock("stock")?;
    if run.job.pieces.is_empty() {
        run.report(
            Problem::error("no-piece-yet", format!("`{name}` belongs to no piece"))
                .at(call.origin)
                .help("begin a piece before its parts: `piece(\"Cabinet\");`"),
        );
        return None;
    }
    stock_suits(run, call, stock, name).then_some(stock)
}

/// Keeps a part of the piece in hand.
fn keep(run: &mut Run, call: &Call, made: (StockId, Form), space: (DVec3, DVec3), asked: Asked) -> Value {
    let (stock, form) = made;
    let piece = run.job.pieces.len().saturating_sub(1);
    let extent = (space.1 - space.0).to_array();
    run.job.parts.push(Part {
        name: call.options.text("name").unwrap_or_default().to_owned(),
        piece: PieceId(piece),
        stock,
        at: Placement::IDENTITY.moved(space.0),
        size: DVec3::new(extent[asked.grain], extent[asked.width], extent[asked.thickness]),
        form,
        face: Side::Front,
        edge: Side::Front,
        remark: call.options.text("remark").map(str::to_owned),
        origin: call.origin,
    });
    run.spaces.push(space);
    run.marks.push(asked);
    Value::Part(PartRef(Some(PartId(run.job.parts.len() - 1))))
}

/// The two corners of the space a call asks for.
fn space(call: &Call) -> Option<(DVec3, DVec3)> {
    let on = |axis| match call.options.lengths(axis) {
        Some([low, high]) => Some((*low, *high)),
        _ => None,
    };
    let (x, y, z) = (on("x")?, on("y")?, on("z")?);
    Some((DVec3::new(x.0, y.0, z.0), DVec3::new(x.1, y.1, z.1)))
}

/// Whether the stock is of the kind the word takes.
fn stock_suits(run: &mut Run, call: &Call, stock: StockId, name: &str) -> bool {
    let Some(found) = run.job.stock.get(stock.0) else { return false };
    let (word, wants) = match found.kind {
        StockKind::Sheet { .. } => ("panel", "sheet stock"),
        StockKind::Board { .. } => ("board", "solid timber"),
        StockKind::Glass { .. } => ("pane", "glass"),
        StockKind::Blank { .. } => ("turned", "a turning blank"),
        StockKind::Bought => return true,
    };
    if call.word.name == word {
        return true;
    }
    let message = format!("`{name}` is made with `{}`, but `{}` is {wants}", call.word.name, found.name);
    let declared = found.origin.user;
    run.report(
        Problem::error("wrong-stock", message)
            .at(call.origin)
            .place(declared, "the stock")
            .help(format!("use `{word}` for this stock, or another stock"))
            .part(name),
    );
    false
}

/// Steps in a millimetre that sizes are told apart by where an axis is chosen.
const KEPT: f64 = 1000.0;

/// How the part lies in its space: which axis is grain, width and thickness.
fn lie(run: &mut Run, call: &Call, stock: StockId, space: (DVec3, DVec3), name: &str) -> Option<Asked> {
    // Of a square leg neither side is the thinner one by the noise of sums.
    let extent = (space.1 - space.0).to_array().map(|mm| (mm * KEPT).round() / KEPT);
    // Along a line the grain runs its length, however short it is.
    let along = call.options.runs("runs").map(|_| 0);
    let said = along.or_else(|| call.options.text("grain").and_then(|g| AXES.iter().position(|a| *a == g)));
    let fixed = run.job.stock.get(stock.0).and_then(Stock::fixed_thickness);
    let thickness = thickness_axis(extent, said, fixed);
    if let Some(thick) = fixed.filter(|t| (extent[thickness] - t).abs() > THICKNESS) {
        thickness_mismatch(run, call, stock, name, (thickness, extent[thickness], thick));
        return None;
    }
    let longest = |a: &usize, b: &usize| extent[*a].total_cmp(&extent[*b]).then(b.cmp(a));
    let grain = said.or_else(|| (0..3).filter(|a| *a != thickness).max_by(longest))?;
    let width = 3 - grain - thickness;
    let face = asked_side(run, call, "face", thickness, name)?;
    // Where it stands has no inside: it is marked as one between others is.
    let face = face.or_else(|| along.map(|_| [Side::Left, Side::Front, Side::Top][thickness]));
    let edge = asked_side(run, call, "edge", width, name)?;
    Some(Asked { grain, width, thickness, face, edge, pose: Pose::default() })
}

/// The axis through the thickness: of those across the grain the one that
/// fits the stock, else the least; of equals y, then z, then x.
fn thickness_axis(extent: [f64; 3], grain: Option<usize>, fixed: Option<f64>) -> usize {
    let off = |axis: usize| {
        fixed.map_or(extent[axis], |t| {
            let off = (extent[axis] - t).abs();
            // Axes that fit equally well are equals, whatever rounding says.
            if off <= THICKNESS { 0.0 } else { off }
        })
    };
    [1, 2, 0]
        .into_iter()
        .filter(|a| Some(*a) != grain)
        .min_by(|a, b| off(*a).total_cmp(&off(*b)))
        .unwrap_or(1)
}

/// Reports a panel that is not as thick as its stock: axis, space, stock.
fn thickness_mismatch(run: &mut Run, call: &Call, stock: StockId, name: &str, at: (usize, f64, f64)) {
    let (axis, found, thick) = at;
    let Some(material) = run.job.stock.get(stock.0) else { return };
    let message = format!(
        "`{name}` fills {} along {}, but `{}` is {} thick",
        run.show(found),
        AXES[axis],
        material.name,
        run.show(thick)
    );
    let declared = material.origin.user;
    let place = run.key_origin(call.origin, AXES[axis]);
    run.report(
        Problem::error("thickness-mismatch", message)
            .at(place)
            .place(declared, "the stock")
            .help(format!("make the space {} thick, or choose the stock that is", run.show(thick)))
            .part(name),
    );
}

/// The side a mark is asked to look to; outer `None` if it cannot.
#[allow(clippy::option_option, reason = "wrong, not asked, and asked are three answers")]
fn asked_side(
    run: &mut Run,
    call: &Call,
    key: &'static str,
    axis: usize,
    name: &str,
) -> Option<Option<Side>> {
    let Some(side) = call.options.sides(key).and_then(|s| s.first().copied()) else { return Some(None) };
    if side.normal().to_array()[axis] != 0.0 {
        return Some(Some(side));
    }
    let [one, two] = [[Side::Left, Side::Right], [Side::Front, Side::Back], [Side::Bottom, Side::Top]][axis];
    let at = run.key_origin(call.origin, key);
    run.report(
        Problem::error("wrong-side", format!("the {key} of `{name}` does not look {}", toward(side)))
            .at(at)
            .help(format!("as it lies, its {key} can look {} or {}", toward(one), toward(two)))
            .part(name),
    );
    None
}

/// `to the front`.
fn toward(side: Side) -> String {
    format!("to the {}", side.name())
}
