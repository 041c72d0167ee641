//! `job`, `piece`, `finish`, `note`: what the drawings are about.

use super::call::{Call, Does};
use super::spec::{AMOUNT, length_to, option, value};
use super::{marks, site};
use crate::measure::Unit;
use crate::model::{
    Cutting, FLOATS, Finish, JobHead, Note, OptionKind, Per, Piece, PieceId, Sold, Told, Usual, Word,
};
use crate::problem::Problem;
use crate::script::run::Run;
use crate::script::value::Value;

/// The words.
pub(in crate::script) const WORDS: &[(&Word, Does)] = &[
    (&JOB, Does { act: job, spoilt: || Value::Nothing }),
    (&CUTTING, Does { act: cutting, spoilt: || Value::Nothing }),
    (&PIECE, Does { act: piece, spoilt: || Value::Nothing }),
    (&site::SITE, Does { act: site::site, spoilt: || Value::Nothing }),
    (&site::OBSTACLE, Does { act: site::obstacle, spoilt: || Value::Nothing }),
    (&site::SCRIBE, Does { act: site::scribe, spoilt: || Value::Nothing }),
    (&FINISH, Does { act: finish, spoilt: || Value::Nothing }),
    (&NOTE, Does { act: note, spoilt: || Value::Nothing }),
];

static JOB: Word = Word {
    name: "job",
    args: &[value("title", OptionKind::Text)],
    options: &[
        option("unit", OptionKind::Choice(&["mm", "in"]), &[Usual::Text("mm")], "the unit of plain numbers"),
        option(
            "version",
            OptionKind::Count { min: 1, max: 1000 },
            &[Usual::Count(VERSION)],
            "the version of the words that the script is written with; a program that knows only earlier ones says so",
        ),
        option("number", OptionKind::Text, &[Usual::Words("none")], "drawing number"),
        option("owner", OptionKind::Text, &[Usual::Words("none")], "the shop whose drawing it is"),
        option("client", OptionKind::Text, &[Usual::Words("none")], "who it is for"),
        option("place", OptionKind::Text, &[Usual::Words("none")], "where it goes"),
        option("drawn_by", OptionKind::Text, &[Usual::Words("none")], "who drew it"),
        option("checked_by", OptionKind::Text, &[Usual::Words("none")], "who checked it"),
        option("approved_by", OptionKind::Text, &[Usual::Words("none")], "who approved it"),
        option(
            "departs",
            OptionKind::Text,
            &[Usual::Words("none")],
            "what departs from the brief, in a sentence",
        ),
        option(
            "revision",
            OptionKind::Text,
            &[Usual::Words("that of the last revision listed")],
            "revision letter",
        ),
        option(
            "status",
            OptionKind::Text,
            &[Usual::Words("none")],
            "document status, such as `for approval`",
        ),
        option(
            "revisions",
            OptionKind::Revisions,
            &[Usual::Words("none")],
            "what was changed when, oldest first: `[#{ rev: \"A\", date: \"2026-03-31\", says: \"...\" }]`",
        ),
    ],
    says: "names the job, its unit and the fields of the title block; comes first",
    rule: "title block fields after ISO 7200",
    example: "job(\"Wall shelf\", #{ unit: \"mm\", number: \"MW-7\" });",
};

/// The version of the words: it rises when a script could mean something else
/// than it did.
const VERSION: u32 = 1;

fn job(run: &mut Run, call: &Call) -> Value {
    if run.job_said {
        run.report(
            Problem::error("job-twice", "`job` is said twice").at(call.origin).help("a script is one job"),
        );
        return Value::Nothing;
    }
    if run.begun {
        run.report(
            Problem::error("job-not-first", "`job` comes after other words")
                .at(call.origin)
                .help("move it to the top: it says the unit of the numbers that follow"),
        );
    }
    run.job_said = true;
    if let Some(version) = call.options.count("version").filter(|v| *v > VERSION) {
        let message =
            format!("the script is written for version {version} of the words, this program knows {VERSION}");
        run.report(
            Problem::error("later-version", message).at(run.key_origin(call.origin, "version")).help(
                "use a newer rodwright for it: what it would make of the words it knows could be wrong",
            ),
        );
        run.ended = true;
    }
    let text = |key| call.options.text(key).map(str::to_owned);
    run.job.unit = if call.options.text("unit") == Some("in") { Unit::Inch } else { Unit::Mm };
    // What `cutting` says before its job stays.
    if run.job.cutting == Cutting::USUAL {
        run.job.cutting = Cutting::usual(run.job.unit);
    }
    let revisions = call.options.revisions("revisions").unwrap_or_default().to_vec();
    run.job.head = JobHead {
        title: text("title").unwrap_or_default(),
        number: text("number"),
        owner: text("owner"),
        client: text("client"),
        place: text("place"),
        drawn_by: text("drawn_by"),
        checked_by: text("checked_by"),
        departs: text("departs"),
        approved_by: text("approved_by"),
        revision: text("revision").or_else(|| revisions.last().map(|r| r.rev.clone())),
        status: text("status"),
        revisions,
    };
    Value::Nothing
}

static CUTTING: Word = Word {
    name: "cutting",
    args: &[],
    options: &[
        option("kerf", length_to(20.0), &[Usual::Length(Cutting::USUAL.kerf)], "width of the saw cut"),
        option(
            "edge_trim",
            length_to(200.0),
            &[Usual::Length(Cutting::USUAL.edge_trim)],
            "taken off each edge of a bought sheet first",
        ),
        option(
            "end_trim",
            length_to(500.0),
            &[Usual::Length(Cutting::USUAL.end_trim)],
            "taken off both ends of a board",
        ),
        option(
            "levels",
            OptionKind::Count { min: 2, max: 8 },
            &[Usual::Count(Cutting::USUAL.levels as u32)],
            "how often a sheet may be divided before a part is free: 2 is rips, then crosscuts",
        ),
        option(
            "mitre",
            length_to(50.0),
            &[Usual::Length(Cutting::USUAL.mitre)],
            "left on each mitred or bevelled end until that cut is made",
        ),
        option(
            "lipped",
            length_to(50.0),
            &[Usual::Length(Cutting::USUAL.lipped)],
            "left on a panel across from its lipping, sawn off when the lipping is on",
        ),
        option(
            "length",
            length_to(200.0),
            &[Usual::Length(Cutting::USUAL.length)],
            "left on the length of solid parts",
        ),
        option(
            "chucking",
            length_to(300.0),
            &[Usual::Length(Cutting::USUAL.chucking)],
            "left on the length of turned parts, to hold them by",
        ),
        option(
            "width",
            length_to(100.0),
            &[Usual::Length(Cutting::USUAL.width)],
            "left on the width of solid parts",
        ),
        option(
            "planing",
            length_to(50.0),
            &[Usual::Length(Cutting::USUAL.planing)],
            "taken off the thickness of sawn boards",
        ),
        option(
            "lipping_length",
            length_to(300.0),
            &[Usual::Length(Cutting::USUAL.lipping_length)],
            "left on the length of lippings",
        ),
        option(
            "offcut",
            length_to(2000.0),
            &[Usual::Length(Cutting::USUAL.offcut)],
            "least side of an offcut worth keeping",
        ),
        option(
            "waste",
            OptionKind::Ratio { min: 0.0, max: 200.0 },
            &[Usual::Bare(Cutting::USUAL.waste)],
            "per cent of board bought besides",
        ),
    ],
    says: "how the shop cuts, where it differs from the usual",
    rule: "length and width left on solid parts: E. Joyce, The Technique of Furniture Making; planing: I. S. Griffith, \
           1912, and in inches what lumber by quarters loses when it is surfaced (National Hardwood Lumber Association, from \
           memory); the rest common practice, no source",
    example: "cutting(#{ kerf: 2.8, edge_trim: 12, levels: 3 });",
};

fn cutting(run: &mut Run, call: &Call) -> Value {
    let rules = &mut run.job.cutting;
    let given = |key: &str, usual: f64| call.options.number(key).unwrap_or(usual);
    let levels = call.options.count("levels").and_then(|n| u8::try_from(n).ok());
    *rules = Cutting {
        kerf: given("kerf", rules.kerf),
        edge_trim: given("edge_trim", rules.edge_trim),
        end_trim: given("end_trim", rules.end_trim),
        levels: levels.unwrap_or(rules.levels),
        mitre: given("mitre", rules.mitre),
        lipped: given("lipped", rules.lipped),
        length: given("length", rules.length),
        chucking: given("chucking", rules.chucking),
        width: given("width", rules.width),
        planing: given("planing", rules.planing),
        lipping_length: given("lipping_length", rules.lipping_length),
        offcut: given("offcut", rules.offcut),
        waste: given("waste", rules.waste),
        effort: rules.effort,
    };
    Value::Nothing
}

/// How many are made, and coats are given, where nothing is said.
const ONE: u32 = 1;

static PIECE: Word = Word {
    name: "piece",
    args: &[value("name", OptionKind::Text)],
    options: &[
        option("count", OptionKind::Count { min: 1, max: 1000 }, &[Usual::Count(ONE)], "how many are made"),
        option(
            "hung",
            OptionKind::YesNo,
            &[
                Usual::YesNo(true),
                Usual::Words(" where it begins more than "),
                Usual::Length(FLOATS),
                Usual::Words(" over height "),
                Usual::Length(0.0),
                Usual::Words(" and stands on no other piece"),
            ],
            "whether it hangs on the wall: `check` then looks for what hangs it",
        ),
        option(
            "left",
            length_to(100_000.0),
            &[Usual::Words("in the middle of the wall")],
            "from the left end of the wall of `site` to its left side",
        ),
        option(
            "floor",
            length_to(100_000.0),
            &[Usual::Words("as high as it is drawn")],
            "from the floor to its underside, for the drawing of the wall",
        ),
    ],
    says: "begins a piece of furniture; the parts that follow belong to it",
    rule: "a hung piece has a `hanging_cleat`, a `wall_bracket`, `frame_clips`, a bought part, or holes right through \
           its back part for the fixings",
    example: "piece(\"Cabinet\");",
};

fn piece(run: &mut Run, call: &Call) -> Value {
    end_piece(run);
    run.job.pieces.push(Piece {
        name: call.options.text("name").unwrap_or_default().to_owned(),
        count: call.options.count("count").unwrap_or(ONE),
        hung: call.options.said("hung"),
        left: call.options.number("left"),
        floor: call.options.number("floor"),
        origin: call.origin,
    });
    Value::Nothing
}

/// Settles the marks of the piece now in hand, if there is one.
pub(in crate::script) fn end_piece(run: &mut Run) {
    if let Some(last) = run.job.pieces.len().checked_sub(1) {
        marks::settle(run, PieceId(last));
    }
}

static FINISH: Word = Word {
    name: "finish",
    args: &[value("what", OptionKind::Text)],
    options: &[
        option("coats", OptionKind::Count { min: 1, max: 20 }, &[Usual::Count(ONE)], "number of coats"),
        option(
            "coverage",
            OptionKind::Ratio { min: 0.1, max: 1000.0 },
            &[Usual::Bare(Finish::COVERAGE), Usual::Words(" (common practice, no source)")],
            "square metres one litre covers once, as its maker says",
        ),
        option("price", AMOUNT, &[Usual::Words("unknown")], "price of a litre; `sold` says in what tins"),
        option(
            "dries",
            OptionKind::Ratio { min: 0.1, max: 1000.0 },
            &[Usual::Words("unknown")],
            "hours until the next coat, as its maker says",
        ),
    ],
    says: "says how the job is finished",
    rule: "",
    example: "finish(\"Hard-wax oil\", #{ coats: 2 });",
};

fn finish(run: &mut Run, call: &Call) -> Value {
    if let Some(before) = &run.job.finish {
        let before = before.origin.user;
        run.report(
            Problem::error("finish-twice", "`finish` is said twice")
                .at(call.origin)
                .place(before, "first said here")
                .help("say the whole finish in one line"),
        );
        return Value::Nothing;
    }
    let name = call.options.text("what").unwrap_or_default().to_owned();
    let told = Told::Script(call.origin);
    if let Some(price) = call.options.number("price") {
        let name = name.clone();
        run.job.sold.push(Sold { name, pack: None, price: Some(price), per: Per::One, code: None, told });
    }
    run.job.finish = Some(Finish {
        what: name,
        coats: call.options.count("coats").unwrap_or(ONE),
        coverage: call.options.number("coverage"),
        dries: call.options.number("dries"),
        origin: call.origin,
    });
    Value::Nothing
}

static NOTE: Word = Word {
    name: "note",
    args: &[value("text", OptionKind::Text)],
    options: &[],
    says: "puts a note on the drawings of the piece it is written in; before the first `piece` it is about the whole job",
    rule: "",
    example: "note(\"Fix to the wall: a tall piece can tip. Follow the local code.\");",
};

fn note(run: &mut Run, call: &Call) -> Value {
    let text = call.options.text("text").unwrap_or_default().to_owned();
    // It is about the piece it is written in; before any piece about the whole job.
    let piece = run.job.pieces.len().checked_sub(1).map(PieceId);
    // Several pieces of one type say the same caution: once is enough.
    match run.job.notes.iter_mut().find(|note| note.text == text) {
        Some(note) if note.pieces.is_empty() => {}
        Some(note) => match piece {
            Some(piece) if !note.pieces.contains(&piece) => note.pieces.push(piece),
            _ => {}
        },
        None => run.job.notes.push(Note { text, pieces: piece.into_iter().collect(), origin: call.origin }),
    }
    Value::Nothing
}
