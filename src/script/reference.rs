//! What a script can say, chapter by chapter, for whoever wants to read it
//! rather than run it: the words of the language, what it can say besides in
//! words that take no options, and the functions of the furniture library.

use std::cell::RefCell;
use std::rc::Rc;
use std::sync::Arc;

use rhai::{Dynamic, Engine, FnAccess, Scope};

use super::run::{Run, Shared};
use super::takes::{self, Take};
use super::{Limits, NoModules, Request, engine, modules, words};
use crate::model::{Takes, Word};

/// A chapter of the reference.
#[derive(Debug)]
pub struct Chapter {
    /// Its title.
    pub title: &'static str,
    /// Its words.
    pub words: Vec<&'static Word>,
    /// What can be said in it besides.
    pub sayings: &'static [Saying],
}

/// Something the language can say that is no [`Word`]: it takes no options, or
/// takes more than values and parts.
#[derive(Debug)]
pub struct Saying {
    /// Its name.
    pub name: &'static str,
    /// How it is written.
    pub written: &'static str,
    /// One sentence: what it does.
    pub says: &'static str,
    /// A line or lines showing it.
    pub example: &'static str,
}

/// A function of the furniture library.
#[derive(Clone, Debug, PartialEq)]
pub struct Furniture {
    /// The module it is imported from.
    pub module: &'static str,
    /// Its name.
    pub name: String,
    /// Names of its arguments, in order.
    pub arguments: Vec<String>,
    /// What its author says of it, without line ends.
    pub says: String,
    /// What a furniture type can be asked for, in order; empty for a function
    /// that is no type.
    pub takes: Vec<Take>,
    /// Lines that show it.
    pub example: String,
}

/// The words of the language and of joinery, in reading order.
pub fn chapters(joinery: &[&'static Word]) -> Vec<Chapter> {
    let mut all = Vec::new();
    for (title, words, sayings) in words::chapters() {
        let words = words.iter().map(|(word, _)| *word).collect();
        all.push(Chapter { title, words, sayings });
        if title == words::PARTS {
            let (shaping, joints) = joinery.iter().copied().partition(|word| shapes_one_part(word));
            all.push(Chapter { title: "Joints", words: joints, sayings: &[] });
            all.push(Chapter { title: "Shaping", words: shaping, sayings: &[] });
        }
    }
    all
}

/// Whether a word works on one part alone; all others bring parts together.
fn shapes_one_part(word: &Word) -> bool {
    let parts: Vec<Takes> =
        word.args.iter().map(|a| a.takes).filter(|t| !matches!(t, Takes::Value(_))).collect();
    parts == [Takes::Part]
}

/// Every function of the furniture library, module by module, in the order
/// written.
pub fn furniture() -> Vec<Furniture> {
    super::on_wide_stack(|| {
        let request = Request {
            name: String::new(),
            text: String::new(),
            settings: Vec::new(),
            loader: Arc::new(NoModules),
            words: &[],
            limits: Limits::default(),
        };
        let run: Shared = Rc::new(RefCell::new(Run::new(&request)));
        let engine = engine::engine(&run, &request);
        modules::LIBRARY.iter().flat_map(|(module, text)| functions(&engine, &run, module, text)).collect()
    })
}

/// The function by which a module says what its type takes.
const TAKES: &str = "takes";
/// The function that makes the type of a module.
pub(super) const MAKE: &str = "make";

/// The functions of one module that others may call. A module that does not
/// parse has none; importing it says why.
fn functions(engine: &Engine, run: &Shared, module: &'static str, text: &str) -> Vec<Furniture> {
    let Ok(ast) = engine.compile(text) else { return Vec::new() };
    let of_type = || -> Option<Vec<Take>> {
        let list = engine.call_fn::<Dynamic>(&mut Scope::new(), &ast, TAKES, ()).ok()?;
        takes::read(&run.borrow(), &list).ok()
    };
    let mut found: Vec<(usize, Furniture)> = ast
        .iter_functions()
        .filter(|f| f.access == FnAccess::Public && f.name != TAKES && !f.name.starts_with("anon$"))
        .map(|f| {
            // The engine keeps functions in no order of its own.
            let at = text.find(&format!("fn {}(", f.name)).unwrap_or(usize::MAX);
            let arguments = f.params.iter().map(|p| (*p).to_owned()).collect();
            let takes = if f.name == MAKE { of_type().unwrap_or_default() } else { Vec::new() };
            let (says, example) = split(&f.comments);
            (at, Furniture { module, name: f.name.to_owned(), arguments, says, takes, example })
        })
        .collect();
    found.sort_by(|a, b| (a.0, &a.1.name).cmp(&(b.0, &b.1.name)));
    found.into_iter().map(|(_, function)| function).collect()
}

/// Documenting comments as running text, and the lines after `Example:` as they
/// stand.
fn split(comments: &[&str]) -> (String, String) {
    let lines = comments.iter().flat_map(|c| c.lines());
    let bare: Vec<&str> = lines.map(|l| l.trim().trim_start_matches('/')).collect();
    let at = bare.iter().position(|l| l.trim() == "Example:").unwrap_or(bare.len());
    let says: Vec<&str> = bare[..at].iter().map(|l| l.trim()).filter(|l| !l.is_empty()).collect();
    let example: Vec<&str> =
        bare[at..].iter().skip(1).map(|l| l.strip_prefix("     ").unwrap_or(l).trim_end()).collect();
    (says.join(" "), example.join("\n").trim_matches('\n').to_owned())
}

/// The language round the words: names, choices, repeats, functions, modules.
pub(super) const LANGUAGE: &[Saying] = &[
    Saying {
        name: "let",
        written: "let name = value;",
        says: "keeps a value, a part or a stock under a name",
        example: "let thick = 18;",
    },
    Saying {
        name: "if",
        written: "if condition { … } else { … }",
        says: "does the one thing or the other",
        example: "let thick = 18;\nlet depth = if thick > 15 { 6 } else { 4 };",
    },
    Saying {
        name: "for",
        written: "for name in list { … }",
        says: "does a thing for every entry of a list, or of a range such as 1..=3",
        example: "let heights = [];\nfor i in 1..=3 { heights += 300 * i; }",
    },
    Saying {
        name: "list",
        written: "[a, b, …]   list[0]   list.len()   list += value",
        says: "several values in order, the first at 0; words that take parts take a list of them",
        example: "let heights = [300, 420];\nheights += 600;\nlet highest = heights[heights.len() - 1];",
    },
    Saying {
        name: "map",
        written: "#{ name: value, … }   map.name",
        says: "values by name, as options are given and furniture types give their parts",
        example: "let shop = #{ kerf: 3.2, planing: 3 };\nlet sawn = 27 - shop.planing;",
    },
    Saying {
        name: "fn",
        written: "fn name(arguments) { … }",
        says: "makes a word of your own; the last line in it is what it gives",
        example: "fn clear(width, thick) { width - 2 * thick }\nlet inside = clear(900, 18);",
    },
    Saying {
        name: "import",
        written: "import \"module\" as name;",
        says: "brings in a furniture type of the library, or a script beside your own, by its name without `.rhai`",
        example: "import \"case\" as case;",
    },
    Saying {
        name: "print",
        written: "print(value)",
        says: "says a value when the script is run, to see what was worked out",
        example: "print(5/8 + 18);",
    },
];

/// Functions of numbers.
pub(super) const NUMBERS: &[Saying] = &[
    Saying {
        name: "arithmetic",
        written: "a + b   a - b   a * b   a / b   a % b   a ** b",
        says: "sums of numbers; 5/8 is 0.625, % is what a division leaves over and ** a power",
        example: "let pitch = (900 - 3 * 18) / 2;",
    },
    number("floor", "floor(number)", "the whole number below", "let tenons = floor(450 / 120);"),
    number("ceiling", "ceiling(number)", "the whole number above", "let slats = ceiling(900 / 70);"),
    number("round", "round(number)", "the nearest whole number", "let pitch = round(450 / 7);"),
    number("abs", "abs(number)", "the number without its sign", "let apart = abs(300 - 420);"),
    number("sqrt", "sqrt(number)", "the square root", "let diagonal = sqrt(300 ** 2 + 400 ** 2);"),
    number("sin", "sin(degrees)", "the sine of an angle", "let rise = 400 * sin(15);"),
    number("cos", "cos(degrees)", "the cosine of an angle", "let run = 400 * cos(15);"),
    number("tan", "tan(degrees)", "the tangent of an angle", "let splay = 400 * tan(5);"),
    number("asin", "asin(number)", "the angle in degrees that has this sine", "let slope = asin(90 / 400);"),
    number(
        "acos",
        "acos(number)",
        "the angle in degrees that has this cosine",
        "let slope = acos(380 / 400);",
    ),
    number("atan", "atan(number)", "the angle in degrees that has this tangent", "let slope = atan(1 / 8);"),
    number("min", "min(a, b)", "the lesser of two numbers", "let depth = min(18 / 3, 10);"),
    number("max", "max(a, b)", "the greater of two numbers", "let depth = max(18 / 3, 4);"),
];

/// A function of numbers.
const fn number(
    name: &'static str,
    written: &'static str,
    says: &'static str,
    example: &'static str,
) -> Saying {
    Saying { name, written, says, example }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn comments_of_a_library_function_become_its_text() {
        let text = "// Head.\n\n/// Makes a thing\n/// `wide`.\n///\n/// Example:\n///     let a = 1;\n///     b(a);\n\
                    fn second(wide, deep) { wide }\nfn first() { 1 }\nprivate fn hidden() { 2 }\n\
                    fn takes() { [#{ name: \"wide\", length: 3, from: 1, to: 4 }] }\nfn make(asked) { 1 }\n";
        let request = Request {
            name: String::new(),
            text: String::new(),
            settings: Vec::new(),
            loader: Arc::new(NoModules),
            words: &[],
            limits: Limits::default(),
        };
        let run: Shared = Rc::new(RefCell::new(Run::new(&request)));
        let engine = engine::engine(&run, &request);
        let found = functions(&engine, &run, "thing", text);
        let names: Vec<&str> = found.iter().map(|f| f.name.as_str()).collect();
        assert_eq!(names, ["second", "first", "make"]);
        assert_eq!(found[0].says, "Makes a thing `wide`.");
        assert_eq!(found[0].arguments, ["wide", "deep"]);
        assert_eq!(found[0].example, "let a = 1;\nb(a);");
        assert_eq!(found[1].says, "");
        assert_eq!(found[2].takes.len(), 1);
        assert_eq!(found[2].takes[0].name, "wide");
    }

    #[test]
    fn every_module_of_the_library_has_a_function() {
        for (module, _) in modules::LIBRARY {
            assert!(furniture().iter().any(|f| f.module == *module), "{module}");
        }
    }
}
