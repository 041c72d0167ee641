//! The functions of the furniture library, as their own texts describe them.

use std::cell::RefCell;
use std::rc::Rc;

use rhai::{Dynamic, Engine, FnAccess, Scope};

use super::convert::value;
use super::machine;
use super::stack::on_wide_stack;
use crate::script::library::LIBRARY;
use crate::script::library::takes::{self, Take};
use crate::script::request::Request;
use crate::script::run::{Run, Shared};

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
    /// The names by which a type gives its parts, in the order written.
    pub gives: Vec<String>,
    /// Lines that show it.
    pub example: String,
}

/// Every function of the furniture library, module by module, in the order
/// written.
pub fn furniture() -> Vec<Furniture> {
    on_wide_stack(|| {
        let request = Request::of_nothing();
        let run: Shared = Rc::new(RefCell::new(Run::new(&request)));
        let engine = machine::engine(&run, &request);
        LIBRARY.iter().flat_map(|(module, text)| functions(&engine, &run, module, text)).collect()
    })
}

/// The function by which a module says what its type takes.
const TAKES: &str = "takes";
/// The function that makes the type of a module.
const MAKE: &str = "make";

/// The functions of one module that others may call. A module that does not
/// parse has none; importing it says why.
fn functions(engine: &Engine, run: &Shared, module: &'static str, text: &str) -> Vec<Furniture> {
    let Ok(ast) = engine.compile(text) else { return Vec::new() };
    let of_type = || -> Option<Vec<Take>> {
        let list = engine.call_fn::<Dynamic>(&mut Scope::new(), &ast, TAKES, ()).ok()?;
        takes::read(&run.borrow(), &value(&list)).ok()
    };
    let mut found: Vec<(usize, Furniture)> = ast
        .iter_functions()
        .filter(|f| f.access == FnAccess::Public && f.name != TAKES && !f.name.starts_with("anon$"))
        .map(|f| {
            // The engine keeps functions in no order of its own.
            let at = text.find(&format!("fn {}(", f.name)).unwrap_or(usize::MAX);
            let arguments = f.params.iter().map(|p| (*p).to_owned()).collect();
            let takes = if f.name == MAKE { of_type().unwrap_or_default() } else { Vec::new() };
            let (message, example) = split(&f.comments);
            let gives = if f.name == MAKE { gives(text) } else { Vec::new() };
            let name = f.name.to_owned();
            (at, Furniture { module, name, arguments, says: message, takes, gives, example })
        })
        .collect();
    found.sort_by(|a, b| (a.0, &a.1.name).cmp(&(b.0, &b.1.name)));
    found.into_iter().map(|(_, function)| function).collect()
}

/// How the map of what was made begins where a type gives it at once, and where it adds to it.
const GIVEN: [&str; 2] = ["    #{ ", "    let made = #{ "];
/// How a line of what a type takes goes on, which is no part.
const TAKEN: &str = "name: ";
/// How a type adds to that map.
const ADDED: &str = "made.";

/// The names by which a type gives its parts: the keys of the map that it ends with. Types are
/// our own and written alike, so that their text is enough; a test makes each and compares.
fn gives(text: &str) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    let is_name = |name: &str| !name.is_empty() && name.chars().all(|c| c.is_ascii_lowercase() || c == '_');
    for line in text.lines() {
        let map = GIVEN
            .iter()
            .find_map(|begins| line.strip_prefix(begins))
            .filter(|map| names.is_empty() && !map.starts_with(TAKEN));
        let added = line.trim_start().strip_prefix(ADDED).filter(|_| !names.is_empty());
        let found: Vec<String> = match (map, added.and_then(|line| line.split_once(" = "))) {
            (Some(map), _) => keys(map),
            (None, Some((name, _))) => vec![name.to_owned()],
            (None, None) => continue,
        };
        for name in found {
            if is_name(&name) && !names.contains(&name) {
                names.push(name);
            }
        }
        // What follows belongs to functions that the type is made by.
        if line == "}" && !names.is_empty() {
            break;
        }
    }
    names
}

/// The keys of a map on one line, what stands in brackets left aside.
fn keys(map: &str) -> Vec<String> {
    let (mut depth, mut entry, mut all) = (0_u32, String::new(), Vec::new());
    for c in map.chars() {
        match c {
            '[' | '(' | '{' => depth += 1,
            ']' | ')' | '}' => depth = depth.saturating_sub(1),
            ',' if depth == 0 => all.push(std::mem::take(&mut entry)),
            _ if depth == 0 => entry.push(c),
            _ => (),
        }
    }
    all.push(entry);
    all.iter().filter_map(|entry| Some(entry.split_once(':')?.0.trim().to_owned())).collect()
}

/// Documenting comments as running text, and the lines after `Example:` as they
/// stand.
fn split(comments: &[&str]) -> (String, String) {
    let lines = comments.iter().flat_map(|c| c.lines());
    let bare: Vec<&str> = lines.map(|l| l.trim().trim_start_matches('/')).collect();
    let at = bare.iter().position(|l| l.trim() == "Example:").unwrap_or(bare.len());
    let message: Vec<&str> = bare[..at].iter().map(|l| l.trim()).filter(|l| !l.is_empty()).collect();
    let example: Vec<&str> =
        bare[at..].iter().skip(1).map(|l| l.strip_prefix("     ").unwrap_or(l).trim_end()).collect();
    (message.join(" "), example.join("\n").trim_matches('\n').to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn comments_of_a_library_function_become_its_text() {
        let text = "// Head.\n\n/// Makes a thing\n/// `wide`.\n///\n/// Example:\n///     let a = 1;\n///     b(a);\n\
                    fn second(wide, deep) { wide }\nfn first() { 1 }\nprivate fn hidden() { 2 }\n\
                    fn takes() { [#{ name: \"wide\", length: 3, from: 1, to: 4 }] }\nfn make(asked) { 1 }\n";
        let request = Request::of_nothing();
        let run: Shared = Rc::new(RefCell::new(Run::new(&request)));
        let engine = machine::engine(&run, &request);
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
        for (module, _) in LIBRARY {
            assert!(furniture().iter().any(|f| f.module == *module), "{module}");
        }
    }
}
