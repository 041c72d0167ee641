//! `site` and `obstacle`: the wall a job goes to.

use super::call::Call;
use super::spec::{length_to, option, value};
use crate::model::{Obstacle, OptionKind, REQUIRED, Site, Usual, Word};
use crate::problem::Problem;
use crate::script::run::Run;
use crate::script::value::Value;

pub(in crate::script) static SITE: Word = Word {
    name: "site",
    args: &[value("name", OptionKind::Text)],
    options: &[
        option("width", length_to(100_000.0), REQUIRED, "from the left end of the wall to its right"),
        option("height", length_to(100_000.0), REQUIRED, "from the floor to the ceiling"),
        option(
            "build",
            OptionKind::Text,
            &[Usual::Words("unknown")],
            "what the wall is built of, such as `brick, plastered`",
        ),
    ],
    says: "names the wall the job goes to; a sheet then shows the pieces on it, where to tape them out and how high \
           their fixings are. `piece` says where each stands: `left` and `floor`",
    rule: "site sizes, sizes of the furniture and the space left between them stand in rows of their own (common \
           practice, no source)",
    example: "site(\"North wall\", #{ width: 3200, height: 2500, build: \"brick, plastered\" });",
};

/// Keeps the wall.
pub(in crate::script) fn site(run: &mut Run, call: &Call) -> Value {
    if let Some(before) = &run.job.site {
        let before = before.origin.user;
        run.report(
            Problem::error("site-twice", "`site` is said twice")
                .at(call.origin)
                .place(before, "first said here")
                .help("a set shows one wall; write a script for each"),
        );
        return Value::Nothing;
    }
    let sizes = ["width", "height"].map(|key| call.options.number(key).filter(|mm| *mm > 0.0));
    let [Some(width), Some(height)] = sizes else {
        run.report(
            Problem::error("site-without-size", "`site` says no width and height that could hold furniture")
                .at(call.origin)
                .help("measure the wall: `site(\"North wall\", #{ width: 3200, height: 2500 })`"),
        );
        return Value::Nothing;
    };
    run.job.site = Some(Site {
        name: call.options.text("name").unwrap_or_default().to_owned(),
        width,
        height,
        build: call.options.text("build").map(str::to_owned),
        origin: call.origin,
    });
    Value::Nothing
}

pub(in crate::script) static OBSTACLE: Word = Word {
    name: "obstacle",
    args: &[value("name", OptionKind::Text)],
    options: &[
        option(
            "x",
            OptionKind::Span,
            REQUIRED,
            "from where to where, from the left end of the wall: `[from, to]`",
        ),
        option("z", OptionKind::Span, REQUIRED, "the same over the floor"),
    ],
    says: "tells of something on the wall of `site` that furniture keeps clear of: a window, a door, a socket",
    rule: "",
    example: "obstacle(\"Window\", #{ x: [900, 2100], z: [850, 2100] });",
};

/// Keeps what is on the wall.
pub(in crate::script) fn obstacle(run: &mut Run, call: &Call) -> Value {
    let span = |key: &str| match call.options.lengths(key) {
        Some([from, to]) if to > from => Some((*from, *to)),
        _ => None,
    };
    let (Some(x), Some(z)) = (span("x"), span("z")) else {
        run.report(
            Problem::error("obstacle-without-size", "`obstacle` does not say where on the wall it is")
                .at(call.origin)
                .help("say both ways: `obstacle(\"Window\", #{ x: [900, 2100], z: [850, 2100] })`"),
        );
        return Value::Nothing;
    };
    let name = call.options.text("name").unwrap_or_default().to_owned();
    run.job.obstacles.push(Obstacle { name, x, z, origin: call.origin });
    Value::Nothing
}
