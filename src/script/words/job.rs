//! `job`, `piece`, `finish`, `note`: what the drawings are about.

use rhai::Dynamic;

use super::{Call, Does, option, value};
use crate::measure::Unit;
use crate::model::{Finish, JobHead, Note, OptionKind, Piece, PieceId, Word};
use crate::problem::Problem;
use crate::script::marks;
use crate::script::run::Run;

/// The words.
pub(super) const WORDS: &[(&Word, Does)] = &[
    (&JOB, Does { act: job, spoilt: || Dynamic::UNIT }),
    (&PIECE, Does { act: piece, spoilt: || Dynamic::UNIT }),
    (&FINISH, Does { act: finish, spoilt: || Dynamic::UNIT }),
    (&NOTE, Does { act: note, spoilt: || Dynamic::UNIT }),
];

static JOB: Word = Word {
    name: "job",
    args: &[value("title", OptionKind::Text)],
    options: &[
        option("unit", OptionKind::Choice(&["mm", "in"]), "mm", "the unit of plain numbers"),
        option("number", OptionKind::Text, "none", "drawing number"),
        option("owner", OptionKind::Text, "none", "the shop whose drawing it is"),
        option("client", OptionKind::Text, "none", "who it is for"),
        option("place", OptionKind::Text, "none", "where it goes"),
        option("drawn_by", OptionKind::Text, "none", "who drew it"),
        option("approved_by", OptionKind::Text, "none", "who approved it"),
        option("revision", OptionKind::Text, "none", "revision letter"),
    ],
    says: "names the job, its unit and the fields of the title block; comes first",
    rule: "title block fields after ISO 7200",
    example: "job(\"Wall shelf\", #{ unit: \"mm\", number: \"MW-7\" });",
};

fn job(run: &mut Run, call: &Call) -> Dynamic {
    if run.job_said {
        run.report(
            Problem::error("job-twice", "`job` is said twice").at(call.origin).help("a script is one job"),
        );
        return Dynamic::UNIT;
    }
    if run.begun {
        run.report(
            Problem::error("job-not-first", "`job` comes after other words")
                .at(call.origin)
                .help("move it to the top: it says the unit of the numbers that follow"),
        );
    }
    run.job_said = true;
    let text = |key| call.options.text(key).map(str::to_owned);
    run.job.unit = if call.options.text("unit") == Some("in") { Unit::Inch } else { Unit::Mm };
    run.job.head = JobHead {
        title: text("title").unwrap_or_default(),
        number: text("number"),
        owner: text("owner"),
        client: text("client"),
        place: text("place"),
        drawn_by: text("drawn_by"),
        approved_by: text("approved_by"),
        revision: text("revision"),
    };
    Dynamic::UNIT
}

static PIECE: Word = Word {
    name: "piece",
    args: &[value("name", OptionKind::Text)],
    options: &[option("count", OptionKind::Count { min: 1, max: 1000 }, "1", "how many are made")],
    says: "begins a piece of furniture; the parts that follow belong to it",
    rule: "",
    example: "piece(\"Cabinet\");",
};

fn piece(run: &mut Run, call: &Call) -> Dynamic {
    end_piece(run);
    run.job.pieces.push(Piece {
        name: call.options.text("name").unwrap_or_default().to_owned(),
        count: call.options.count("count").unwrap_or(1),
        origin: call.origin,
    });
    Dynamic::UNIT
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
    options: &[option("coats", OptionKind::Count { min: 1, max: 20 }, "1", "number of coats")],
    says: "says how the job is finished",
    rule: "",
    example: "finish(\"Hard-wax oil\", #{ coats: 2 });",
};

fn finish(run: &mut Run, call: &Call) -> Dynamic {
    if let Some(before) = &run.job.finish {
        let before = before.origin.user;
        run.report(
            Problem::error("finish-twice", "`finish` is said twice")
                .at(call.origin)
                .place(before, "first said here")
                .help("say the whole finish in one line"),
        );
        return Dynamic::UNIT;
    }
    run.job.finish = Some(Finish {
        what: call.options.text("what").unwrap_or_default().to_owned(),
        coats: call.options.count("coats").unwrap_or(1),
        origin: call.origin,
    });
    Dynamic::UNIT
}

static NOTE: Word = Word {
    name: "note",
    args: &[value("text", OptionKind::Text)],
    options: &[],
    says: "puts a note on the drawings",
    rule: "",
    example: "note(\"Fix to the wall: a tall piece can tip. Follow the local code.\");",
};

fn note(run: &mut Run, call: &Call) -> Dynamic {
    let text = call.options.text("text").unwrap_or_default().to_owned();
    run.job.notes.push(Note { text, part: None, origin: call.origin });
    Dynamic::UNIT
}
