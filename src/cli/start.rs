//! `start`: a script to start from, written from what a furniture type takes.

use std::fmt::Write as _;
use std::path::Path;
use std::sync::Arc;

use super::args::Start;
use super::words::grid::grid;
use super::words::guide;
use super::{Ended, Terminal, write_all};
use crate::File;
use crate::measure::{Unit, in_script};
use crate::problem::{Problem, nearest, wording};
use crate::script::{self, Furniture, Limits, NoModules, Request, Take, TakeKind};
use crate::source::Sources;

/// Runs `start`.
pub(super) fn run(given: &Start, terminal: &mut Terminal<'_>) -> Ended {
    if given.rates {
        return rates(given, terminal);
    }
    let unit = given.units.unwrap_or(Unit::Mm);
    if let Some(name) = &given.example {
        let Some(script) = guide::example(name.trim(), unit) else {
            terminal.problems(&[no_example(name.trim(), unit)], &Sources::default());
            return Ended::WrongUse;
        };
        return script_for(given, script.to_owned(), terminal);
    }
    let types: Vec<Furniture> = script::furniture().into_iter().filter(|f| !f.takes.is_empty()).collect();
    let Some(name) = given.name.as_deref() else {
        terminal.answer(&list(&types));
        return if terminal.failed() { Ended::Files } else { Ended::Done };
    };
    let Some(found) = types.iter().find(|t| t.module == name.trim()) else {
        terminal.problems(&[unknown(&types, name)], &Sources::default());
        return Ended::WrongUse;
    };
    if let Some(folder) = &given.job {
        return job_folder(folder, (found, unit), terminal);
    }
    script_for(given, written(found, unit), terminal)
}

/// Prints a script, or writes it where it was asked to be.
fn script_for(given: &Start, text: String, terminal: &mut Terminal<'_>) -> Ended {
    let Some(path) = given.out.as_deref() else {
        terminal.answer(&text);
        return if terminal.failed() { Ended::Files } else { Ended::Done };
    };
    let shown = path.display();
    let next = format!(
        "`rodwright sizes {shown}` lists what can be changed,\n`rodwright setout {shown}` makes the drawings"
    );
    write(path, (text, &next), given.overwrite, terminal)
}

/// The wall of a job, to be measured.
const WALL: &str = include_str!("start_wall.rhai");

/// How things are sold, to be filled in.
const PRICES: &str = include_str!("start_prices.toml");

/// Writes a folder with all that a job begins with; one that is there is never touched.
fn job_folder(folder: &Path, (made, unit): (&Furniture, Unit), terminal: &mut Terminal<'_>) -> Ended {
    let shown = folder.display();
    let stem = folder.file_name().map_or_else(|| "job".into(), |name| name.to_string_lossy().into_owned());
    let refused = |why: &str, help: &str| {
        Problem::error("unwritable-file", format!("`{shown}` cannot be written: {why}")).help(help)
    };
    if folder.exists() {
        let problem = refused(
            "there is a file or folder of that name",
            "nothing was changed; give the job another name",
        );
        terminal.problems(&[problem], &Sources::default());
        return Ended::Files;
    }
    let script = placed(&with_wall(&written(made, unit)), made, unit);
    let files: Vec<File> = [
        (format!("{stem}.rhai"), script),
        ("wall.rhai".to_owned(), WALL.replace("UNIT", unit.name())),
        ("rates.toml".to_owned(), crate::estimate::starter()),
        ("prices.toml".to_owned(), PRICES.to_owned()),
    ]
    .into_iter()
    .map(|(name, text)| File { name, bytes: text.into_bytes() })
    .collect();
    if let Err(error) = write_all(folder, &files) {
        let help = error.help("give the job another name, or make room");
        terminal.problems(&[refused(&error.why, &help)], &Sources::default());
        return Ended::Files;
    }
    let script = folder.join(format!("{stem}.rhai"));
    terminal.answer(&format!(
        "{shown} holds {stem}.rhai, wall.rhai, rates.toml and prices.toml\n\nmeasure the wall and put it into \
         wall.rhai, your rates into rates.toml; then\n`rodwright check {}` says what has no room\n",
        script.display()
    ));
    if terminal.failed() { Ended::Files } else { Ended::Done }
}

/// A script that describes its wall by the module beside it.
fn with_wall(script: &str) -> String {
    let wall =
        "// The wall it goes to, as you have measured it.\nimport \"wall\" as wall;\nwall::describe();\n\n";
    // The wall stands before the piece, which `piece` opens after its import.
    match script.find("\nimport ") {
        Some(at) => format!("{}\n{wall}{}", &script[..at], &script[at + 1..]),
        None => format!("{script}{wall}"),
    }
}

/// Underside of what hangs, to be altered: over a worktop and within reach (common
/// practice, no source).
const UNDERSIDE: &str = "floor: mm(1400)";
const UNDERSIDE_INCH: &str = "floor: 55";

/// A script that says how high its piece hangs, where one hangs as it is written; else how
/// it would be said.
fn placed(script: &str, made: &Furniture, unit: Unit) -> String {
    let title = title(made.module);
    let (plain, high) =
        (format!("\npiece(\"{title}\");\n"), if unit == Unit::Inch { UNDERSIDE_INCH } else { UNDERSIDE });
    let request = Request {
        name: made.module.to_owned(),
        text: written(made, unit),
        settings: Vec::new(),
        loader: Arc::new(NoModules),
        words: crate::words(),
        limits: Limits::default(),
    };
    let hangs = crate::examine(&request)
        .worked
        .is_some_and(|(_, worked)| worked.joints.iter().any(|joint| joint.traits.hangs_on_wall));
    let said = format!("piece(\"{title}\", #{{ {high} }});");
    let placed = if hangs {
        format!("\n// From the floor to its underside, as it hangs.\n{said}\n")
    } else {
        format!("\n// Should it hang: `{said}`, from the floor to its underside.{plain}")
    };
    script.replacen(&plain, &placed, 1)
}

/// A file of rates to start from, printed or written.
fn rates(given: &Start, terminal: &mut Terminal<'_>) -> Ended {
    let text = crate::estimate::starter();
    let Some(path) = given.out.as_deref() else {
        terminal.answer(&text);
        return if terminal.failed() { Ended::Files } else { Ended::Done };
    };
    let shown = path.display();
    let next = format!("put your own figures in; `rodwright quote SCRIPT --rates {shown}` makes a quotation");
    write(path, (text, &next), given.overwrite, terminal)
}

/// The types with what each is: the first sentence of its document.
fn list(types: &[Furniture]) -> String {
    let mut rows = vec![vec!["type", "what it is"]];
    rows.extend(types.iter().map(|one| vec![one.module, one.says.split(". ").next().unwrap_or_default()]));
    grid(&rows, 0) + "\n`rodwright start TYPE --out my.rhai` writes a script to start from\n"
}

/// An example there is not, or not in this unit: which there are.
fn no_example(name: &str, unit: Unit) -> Problem {
    let there = guide::examples(unit);
    let message = if unit == Unit::Inch && guide::example(name, Unit::Mm).is_some() {
        format!("the example `{name}` is written in mm only")
    } else {
        format!("there is no example `{name}`")
    };
    let verb = if there.len() == 1 { "is" } else { "are" };
    let named = if unit == Unit::Inch { "inches" } else { "mm" };
    let all = format!("in {named} there {verb} {}", wording::all_of(there.iter().copied()));
    let help = match nearest(name, there.iter().copied()) {
        Some(near) => format!("did you mean `{near}`? {all}"),
        None => all,
    };
    Problem::error("unknown-example", message).help(help)
}

/// A type there is not: what may have been meant.
fn unknown(types: &[Furniture], name: &str) -> Problem {
    let names = || types.iter().map(|t| t.module);
    let all = format!("the types are {}", wording::all_of(names()));
    let help = match nearest(name.trim(), names()) {
        Some(near) => format!("did you mean `{near}`? {all}"),
        None => all,
    };
    Problem::error("unknown-type", format!("there is no furniture type `{}`", name.trim())).help(help)
}

/// Writes a text, never over a file unless `overwrite` is set, and says what to do next.
fn write(path: &Path, (text, next): (String, &str), overwrite: bool, terminal: &mut Terminal<'_>) -> Ended {
    const CURE: &str = "give `--out` another name, or `--overwrite` to replace the file";
    let unchanged = |why: &str| (why.to_owned(), format!("nothing was changed; {CURE}"));
    let written = (|| {
        let name = path.file_name().and_then(|n| n.to_str()).ok_or_else(|| unchanged("it names no file"))?;
        if !overwrite && std::fs::symlink_metadata(path).is_ok() {
            return Err(unchanged("there is a file of that name"));
        }
        let folder = path.parent().filter(|f| !f.as_os_str().is_empty()).unwrap_or(Path::new("."));
        write_all(folder, &[File { name: name.to_owned(), bytes: text.into_bytes() }])
            .map_err(|e| (e.why.clone(), e.help(CURE)))
    })();
    if let Err((why, help)) = written {
        let message = format!("`{}` cannot be written: {why}", path.display());
        terminal.problems(&[Problem::error("unwritable-file", message).help(help)], &Sources::default());
        return Ended::Files;
    }
    let shown = path.display();
    terminal.answer(&format!("written to {shown}\n\n{next}\n"));
    if terminal.failed() { Ended::Files } else { Ended::Done }
}

/// The script of a type.
fn written(made: &Furniture, unit: Unit) -> String {
    let (module, title) = (made.module, title(made.module));
    let mut text = comment(&made.says);
    text += "//\n";
    text += &comment(&format!(
        "What may change is declared below: alter it here, or from outside with `--set NAME=VALUE`. `rodwright words \
         {module}` tells all that this type takes."
    ));
    let _ = write!(text, "\njob(\"{title}\", #{{ unit: \"{}\", owner: \"My workshop\" }});\n\n", unit.name());
    let declared: Vec<&Take> = made.takes.iter().filter(|t| is_declared(t)).collect();
    let wide = declared.iter().map(|t| t.name.len()).max().unwrap_or(0);
    for take in &declared {
        let _ = writeln!(text, "let {:wide$} = {};", take.name, declaration(take, unit));
    }
    let _ = write!(
        text,
        "\nimport \"{module}\" as {module};\npiece(\"{title}\");\nlet made = {module}::{}(#{{\n",
        made.name
    );
    for take in &declared {
        let _ = writeln!(text, "    {0}: {0},", take.name);
    }
    text += "});\n\n";
    if declared.iter().any(|t| matches!(t.kind, TakeKind::Stock { .. })) {
        text += &comment(
            "Where a material is to be a stock of your own, with its prices and what is on hand, make it with \
             `sheet_stock` or `board_stock` and give it in place of the name.",
        );
    }
    text + "finish(\"Hard-wax oil\", #{ coats: 2 });\n"
}

/// Whether an option can be declared: neither parts nor lists come from outside.
fn is_declared(take: &Take) -> bool {
    !matches!(take.kind, TakeKind::Parts | TakeKind::Lengths { .. })
}

/// `wall_case` as it begins a line: `Wall case`.
fn title(module: &str) -> String {
    wording::capital(&module.replace('_', " "))
}

/// Text as comment lines of at most eighty characters.
fn comment(text: &str) -> String {
    let (mut all, mut line) = (String::new(), String::from("//"));
    for word in text.split_whitespace() {
        if line.chars().count() + 1 + word.chars().count() > 80 {
            all += &line;
            all.push('\n');
            line = String::from("//");
        }
        line.push(' ');
        line += word;
    }
    all + line.as_str() + "\n"
}

/// The declaration of one option.
fn declaration(take: &Take, unit: Unit) -> String {
    let (name, message) = (&take.name, quoted(&script::says_in(unit, &take.says)));
    let listed = |among: &[String]| among.iter().map(|a| quoted(a)).collect::<Vec<_>>().join(", ");
    match &take.kind {
        TakeKind::Length { usual, from, to } => {
            let (usual, from, to) = in_unit(*usual, *from, *to, unit);
            format!("size(\"{name}\", {usual}, #{{ from: {from}, to: {to}, says: {message} }})")
        }
        TakeKind::Count { usual, from, to } => {
            format!("count(\"{name}\", {usual}, #{{ from: {from}, to: {to}, says: {message} }})")
        }
        TakeKind::Choice { usual, among } | TakeKind::Stock { usual, among } => {
            format!("choice(\"{name}\", {}, [{}], #{{ says: {message} }})", quoted(usual), listed(among))
        }
        TakeKind::YesNo { usual } => format!("yes_no(\"{name}\", {usual}, #{{ says: {message} }})"),
        // No start script declares these.
        TakeKind::Lengths { .. } | TakeKind::Parts => String::new(),
    }
}

/// A text as scripts have it.
fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}

/// A length and its range in the unit of the script, in inches as an inch shop has them.
fn in_unit(usual: f64, from: f64, to: f64, unit: Unit) -> (String, String, String) {
    let (low, high) = script::range_in(unit, (from, to));
    let usual = script::usual_in(unit, usual, (from, to)).clamp(low, high);
    let [usual, low, high] = [usual, low, high].map(|mm| in_script(unit, mm));
    (usual, low, high)
}
