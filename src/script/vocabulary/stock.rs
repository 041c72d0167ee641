//! What parts are cut from.

use super::call::{Call, Does};
use super::read::values::FARTHEST;
use super::spec::{AMOUNT, length_from, option, value};
use crate::measure::LengthStyle;
use crate::model::{
    BOARD_LENGTH, BoardPrice, Grain, OptionKind, OptionSpec, Per, REQUIRED, SheetSize, Sold, Stock, StockId,
    StockKind, Told, Usual, Word,
};
use crate::problem::{Problem, nearest};
use crate::script::run::Run;
use crate::script::value::{StockRef, Value};
use crate::timber::{SHORT, SPECIES, Species};

/// The value of a stock that could not be made.
fn no_stock() -> Value {
    Value::Stock(StockRef(None))
}

/// The thickest board, mm: more is a slip.
const THICKEST: f64 = FARTHEST / 10.0;

/// The broadest edge of sapwood or wane, mm: the narrowest usual board has wood left
/// between two of them (common practice, no source).
const WIDEST_EDGE: f64 = 60.0;

/// The words.
pub(in crate::script) const WORDS: &[(&Word, Does)] = &[
    (&SHEET, Does { act: sheet, spoilt: no_stock }),
    (&BOARD, Does { act: board, spoilt: no_stock }),
    (&BLANK, Does { act: blank, spoilt: no_stock }),
    (&GLASS, Does { act: glass, spoilt: no_stock }),
    (&BOUGHT, Does { act: bought, spoilt: no_stock }),
];

/// Thickness of sheets and glass.
const THICK: OptionSpec =
    option("thick", OptionKind::Length { min: 0.1, max: 300.0 }, REQUIRED, "thickness as bought");
/// Density.
const DENSITY: OptionSpec = option(
    "density",
    OptionKind::Ratio { min: 1.0, max: 25_000.0 },
    &[Usual::Words("by species, else unknown")],
    "mean density in kg/m3",
);
/// Species.
const OF_SPECIES: OptionSpec = option(
    "species",
    OptionKind::Text,
    &[Usual::Words("unknown")],
    "species, for density, movement and stiffness: \"white oak\", or \"oak\" for short; `words species` lists them",
);

static SHEET: Word = Word {
    name: "sheet_stock",
    args: &[value("name", OptionKind::Text)],
    options: &[
        THICK,
        option(
            "called",
            OptionKind::Length { min: 0.1, max: 300.0 },
            &[Usual::Words("`thick`")],
            "the thickness it is sold by where it measures another, such as 3/4 in for 23/32",
        ),
        option(
            "sheet",
            OptionKind::Lengths,
            &[Usual::Words("not said")],
            "length and width of the sheet bought, such as [2440, 1220]",
        ),
        option(
            "grain",
            OptionKind::Choice(&["length", "width", "none"]),
            &[Usual::Text("none")],
            "along which side of the sheet the grain runs",
        ),
        option("price", AMOUNT, &[Usual::Words("unknown")], "price of one sheet"),
        option(
            "sheets",
            OptionKind::Sheets,
            &[Usual::Words("the one `sheet`")],
            "further sizes to buy, with the price of each: [#{ size: [3050, 1525], price: 148.0 }]; `count` where \
             only so many are to be had",
        ),
        option(
            "on_hand",
            OptionKind::Sheets,
            &[Usual::Words("none")],
            "sheets and offcuts in the shop, used first: [#{ size: [1200, 610], count: 2 }], one of each where no \
             `count` is said",
        ),
        DENSITY,
    ],
    says: "plywood and other boards bought in sheets",
    rule: "",
    example: "let ply = sheet_stock(\"Birch plywood\", #{ thick: 18, sheet: [2440, 1220], grain: \"length\" });",
};

static BOARD: Word = Word {
    name: "board_stock",
    args: &[value("name", OptionKind::Text)],
    options: &[
        option(
            "thick",
            OptionKind::Lengths,
            &[Usual::Words("not said")],
            "sawn thicknesses to be had, such as [27, 34]",
        ),
        option(
            "lengths",
            OptionKind::Lengths,
            &[
                Usual::Words("`longest`, else "),
                Usual::Length(BOARD_LENGTH),
                Usual::Words(" (common practice, no source)"),
            ],
            "lengths of board to be had, such as [2400, 3000]",
        ),
        option("longest", length_from(1.0), &[Usual::Words("not said")], "longest board to be had"),
        option(
            "widest",
            length_from(1.0),
            &[Usual::Words("as is usual for its species (common practice, no source)")],
            "widest board to be had: a wider part is glued up of several",
        ),
        option(
            "width",
            length_from(1.0),
            &[Usual::Words("not said")],
            "usual width of boards, which are sawn as the log allows: parts are laid out on boards of it, and what \
             they take is bought by volume",
        ),
        option(
            "widths",
            OptionKind::Lengths,
            &[Usual::Words("`width`, else those the trade has")],
            "widths of board to be had, such as [150, 200]: boards are then bought whole",
        ),
        option(
            "edge",
            OptionKind::Length { min: 0.0, max: WIDEST_EDGE },
            &[Usual::Words("nothing")],
            "sapwood or wane of boards to buy, left away along each of both long edges",
        ),
        option(
            "on_hand",
            OptionKind::Boards,
            &[Usual::Words("none")],
            "boards in the shop, laid out and used first: [#{ thick: 34, size: [2100, 240], count: 2 }], sawn \
             thickness, length and width; `edge: 15` leaves away sapwood or wane of each long edge, else none is in \
             the width",
        ),
        option("price_m3", AMOUNT, &[Usual::Words("unknown")], "price of a cubic metre"),
        option(
            "price_bf",
            AMOUNT,
            &[Usual::Words("unknown")],
            "price of a board foot instead, of as many as the yard tallies",
        ),
        OF_SPECIES,
        DENSITY,
    ],
    says: "solid timber, planed to thickness by the maker",
    rule: "",
    example: "let ash = board_stock(\"Ash\", #{ thick: [27, 34], species: \"white ash\" });",
};

static BLANK: Word = Word {
    name: "blank_stock",
    args: &[value("name", OptionKind::Text)],
    options: &[
        OF_SPECIES,
        DENSITY,
        option(
            "square",
            OptionKind::Lengths,
            &[Usual::Words("any thickness")],
            "thicknesses of blanks to be had, such as [50, 65, 80]; a part comes from the least that holds it",
        ),
        option("longest", length_from(1.0), &[Usual::Words("not said")], "longest blank to be had"),
        option(
            "price",
            AMOUNT,
            &[Usual::Words("unknown")],
            "price of one blank, whatever its size; `sold` prices by length or volume",
        ),
    ],
    says: "round or square blanks for the lathe",
    rule: "",
    example: "let beech = blank_stock(\"Beech\", #{ species: \"beech\" });",
};

static GLASS: Word = Word {
    name: "glass_stock",
    args: &[value("name", OptionKind::Text)],
    options: &[
        THICK,
        DENSITY,
        option("price", AMOUNT, &[Usual::Words("unknown")], "price of a square metre, cut to size"),
    ],
    says: "glass or mirror, cut to size by the glazier",
    rule: "",
    example: "let glass = glass_stock(\"Float glass\", #{ thick: 4, density: 2500 });",
};

static BOUGHT: Word = Word {
    name: "bought",
    args: &[value("name", OptionKind::Text)],
    options: &[DENSITY, option("price", AMOUNT, &[Usual::Words("unknown")], "price of one")],
    says: "something bought finished",
    rule: "",
    example: "let tray = bought(\"Enamel tray\");",
};

/// Keeps a stock.
fn keep(run: &mut Run, call: &Call, kind: StockKind) -> Value {
    let name = call.options.text("name").unwrap_or_default().to_owned();
    let density = call.options.number("density");
    // Furniture types of one job name the same stock each for itself: it is
    // bought once.
    let same = |s: &Stock| s.name == name && s.kind == kind && s.density == density;
    if let Some(known) = run.job.stock.iter().position(same) {
        return Value::Stock(StockRef(Some(StockId(known))));
    }
    run.job.stock.push(Stock { name, kind, density, origin: call.origin });
    Value::Stock(StockRef(Some(StockId(run.job.stock.len() - 1))))
}

/// The species a call names; told of where the table does not have it, or what is made of
/// it would weigh nothing, stay as wide for ever and never sag, unsaid.
fn species(run: &mut Run, call: &Call) -> Option<String> {
    let named = call.options.text("species")?.to_owned();
    if Species::named(&named).is_none() && call.options.number("density").is_none() {
        let stock = call.options.text("name").unwrap_or_default();
        let message = format!(
            "`{named}` is not in the table of species: what `{stock}` weighs, how far it moves and how \
             stiff it is are not worked out"
        );
        let known = SPECIES.iter().map(|s| s.name).chain(SHORT.iter().map(|(short, _)| *short));
        let meant = nearest(&named, known).map(|meant| format!("did you mean `{meant}`? "));
        let help = format!(
            "{}`rodwright words species` lists the table; of another timber write its `density` in kg/m3",
            meant.unwrap_or_default()
        );
        let at = run.key_origin(call.origin, "species");
        run.report(Problem::warning("unknown-species", message).at(at).help(help));
    }
    Some(named)
}

/// How far the thickness a sheet measures may be from the one it is sold by, as a share of
/// that: plywood sold as 1/4 may measure 5 mm (common practice, no source).
const CALLED: f64 = 0.25;

/// The thickness a sheet is sold by, where it is not the one it measures; `Err` where the two
/// can't be of one sheet.
fn called(run: &mut Run, call: &Call, thick: f64) -> Result<Option<f64>, ()> {
    let Some(called) = call.options.number("called").filter(|called| (called - thick).abs() > ROUNDED) else {
        return Ok(None);
    };
    if (called - thick).abs() <= CALLED * called {
        return Ok(Some(called));
    }
    let style = LengthStyle::of(run.job.unit);
    let message = format!("a sheet called {} does not measure {}", style.text(called), style.text(thick));
    let help =
        "say in `thick` what it measures, and in `called` what the dealer calls it: a little more or less";
    let at = run.key_origin(call.origin, "called");
    run.report(Problem::error("out-of-range", message).at(at).help(help));
    Err(())
}

/// Two thicknesses nearer than this are one, mm.
const ROUNDED: f64 = 0.001;

fn sheet(run: &mut Run, call: &Call) -> Value {
    let thick = call.options.number("thick").unwrap_or(0.0);
    let Ok(called) = called(run, call, thick) else { return no_stock() };
    let price = call.options.number("price");
    let mut sizes = match call.options.lengths("sheet") {
        None => Vec::new(),
        Some([length, width]) if length.min(*width) > 0.0 => {
            vec![SheetSize { length: *length, width: *width, price, count: None, on_hand: false, edge: 0.0 }]
        }
        Some(_) => {
            let at = run.key_origin(call.origin, "sheet");
            run.report(
                Problem::error(
                    "wrong-type",
                    "`sheet` of `sheet_stock` must be two lengths, each more than 0",
                )
                .at(at)
                .help("write the length and the width of the sheet: `sheet: [2440, 1220]`"),
            );
            return no_stock();
        }
    };
    sizes.extend_from_slice(call.options.sheets("sheets").unwrap_or_default());
    let on_hand = call.options.sheets("on_hand").unwrap_or_default().iter();
    sizes.extend(on_hand.map(|s| SheetSize { count: s.count.or(Some(1)), on_hand: true, ..*s }));
    let grain = match call.options.text("grain") {
        Some("length") => Grain::Length,
        Some("width") => Grain::Width,
        _ => Grain::None,
    };
    keep(run, call, StockKind::Sheet { thick, called, sizes, grain })
}

fn board(run: &mut Run, call: &Call) -> Value {
    let mut thick = call.options.lengths("thick").unwrap_or_default().to_vec();
    if thick.iter().any(|t| *t <= 0.0 || *t > THICKEST) {
        let at = run.key_origin(call.origin, "thick");
        run.report(
            Problem::error("out-of-range", "`thick` of `board_stock` holds a thickness no board has")
                .at(at)
                .help("list the sawn thicknesses to be had: `thick: [27, 34]`"),
        );
        return no_stock();
    }
    thick.sort_by(f64::total_cmp);
    let mut lengths = call.options.lengths("lengths").unwrap_or_default().to_vec();
    if lengths.iter().any(|l| *l <= 0.0) {
        let at = run.key_origin(call.origin, "lengths");
        run.report(
            Problem::error("out-of-range", "`lengths` of `board_stock` holds a length no board has")
                .at(at)
                .help("list the lengths to be had: `lengths: [2400, 3000]`"),
        );
        return no_stock();
    }
    lengths.sort_by(f64::total_cmp);
    let mut widths = call.options.lengths("widths").unwrap_or_default().to_vec();
    if widths.iter().any(|w| *w <= 0.0) {
        let at = run.key_origin(call.origin, "widths");
        run.report(
            Problem::error("out-of-range", "`widths` of `board_stock` holds a width no board has")
                .at(at)
                .help("list the widths to be had: `widths: [150, 200]`"),
        );
        return no_stock();
    }
    widths.sort_by(f64::total_cmp);
    let edge = call.options.number("edge").unwrap_or(0.0);
    if !edge_fits(run, call, &widths, edge) {
        return no_stock();
    }
    let kind = StockKind::Board {
        edge,
        thick,
        lengths,
        widths,
        longest: call.options.number("longest"),
        widest: call.options.number("widest"),
        usual: call.options.number("width"),
        on_hand: call.options.boards("on_hand").unwrap_or_default().to_vec(),
        price: board_price(run, call),
        species: species(run, call),
    };
    keep(run, call, kind)
}

/// Whether boards of all widths told have wood between two edges that are left away; told
/// of where they have not.
fn edge_fits(run: &mut Run, call: &Call, widths: &[f64], edge: f64) -> bool {
    let told = [call.options.number("widest"), call.options.number("width")];
    let mut all = widths.iter().copied().chain(told.into_iter().flatten());
    let Some(narrow) = all.find(|wide| *wide <= 2.0 * edge) else { return true };
    let at = run.key_origin(call.origin, "edge");
    let style = LengthStyle::of(run.job.unit);
    let message = format!(
        "`edge` of `board_stock` leaves nothing of a board {} wide: {} go at each edge",
        style.text(narrow),
        style.text(edge)
    );
    let help = "tell what of one long edge is sapwood or wane, or name wider boards";
    run.report(Problem::error("out-of-range", message).at(at).help(help));
    false
}

/// The price of boards; told of where it is given both ways.
fn board_price(run: &mut Run, call: &Call) -> Option<BoardPrice> {
    let metre = call.options.number("price_m3").map(BoardPrice::CubicMetre);
    let foot = call.options.number("price_bf").map(BoardPrice::BoardFoot);
    if metre.is_some() && foot.is_some() {
        let name = call.options.text("name").unwrap_or_default();
        let message = format!("the price of `{name}` is told twice; that of a board foot counts");
        let at = run.key_origin(call.origin, "price_m3");
        run.report(Problem::warning("sold-twice", message).at(at).help("keep `price_m3` or `price_bf`"));
    }
    foot.or(metre)
}

/// Keeps the price of a stock that comes ready to size.
fn priced(run: &mut Run, call: &Call, per: Per) {
    let Some(price) = call.options.number("price") else { return };
    let name = call.options.text("name").unwrap_or_default().to_owned();
    let told = Told::Script(call.origin);
    let sold = Sold { name, pack: None, price: Some(price), per, code: None, told };
    // Types of one job that name the same stock each for itself price it once.
    if !run.job.sold.iter().any(|known| Sold { told: known.told.clone(), ..sold.clone() } == *known) {
        run.job.sold.push(sold);
    }
}

fn blank(run: &mut Run, call: &Call) -> Value {
    priced(run, call, Per::One);
    let mut square = call.options.lengths("square").unwrap_or_default().to_vec();
    if square.iter().any(|t| *t <= 0.0) {
        let at = run.key_origin(call.origin, "square");
        run.report(
            Problem::error("out-of-range", "`square` of `blank_stock` holds a thickness no blank has")
                .at(at)
                .help("list the thicknesses to be had: `square: [50, 65]`"),
        );
        return no_stock();
    }
    square.sort_by(f64::total_cmp);
    let longest = call.options.number("longest");
    let species = species(run, call);
    keep(run, call, StockKind::Blank { species, square, longest })
}

fn glass(run: &mut Run, call: &Call) -> Value {
    priced(run, call, Per::SquareMetre);
    keep(run, call, StockKind::Glass { thick: call.options.number("thick").unwrap_or(0.0) })
}

fn bought(run: &mut Run, call: &Call) -> Value {
    priced(run, call, Per::One);
    keep(run, call, StockKind::Bought)
}
