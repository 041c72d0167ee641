//! Scripts imported by scripts: the furniture library in the program, then
//! files beside the user's script, never others.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;
use std::sync::Arc;

use rhai::{Engine, EvalAltResult, Module, ModuleResolver, Position, Scope, Shared as RhaiShared};

use super::{failure, origin};
use crate::script::library::LIBRARY;
use crate::script::request::{LoadError, Loader, Request};
use crate::script::run::Shared;
use crate::source::{Source, SourceId};

/// Finds modules for the engine.
pub(in crate::script) struct Resolver {
    /// The run the texts are added to.
    run: Shared,
    /// Reads files beside the script.
    loader: Arc<dyn Loader>,
    /// Modules already made.
    made: RefCell<BTreeMap<String, RhaiShared<Module>>>,
    /// Modules now being read, outermost first.
    open: Rc<RefCell<Vec<String>>>,
}

impl Resolver {
    /// A resolver that has read nothing.
    pub(in crate::script) fn new(run: &Shared, request: &Request) -> Self {
        Self {
            run: run.clone(),
            loader: request.loader.clone(),
            made: RefCell::default(),
            open: Rc::default(),
        }
    }

    /// The text of a module with its shown name and whether it is the library's.
    fn text(&self, path: &str, by_library: bool) -> Result<Source, String> {
        if let Some((name, text)) = LIBRARY.iter().find(|(name, _)| *name == path) {
            // A file of the same name beside the script would be passed over,
            // and its owner would look for the reason in the wrong place.
            if !by_library && self.shadowed(name) {
                return Err(format!(
                    "`{name}` is a furniture type of the library and a file beside the script: write \
                     `import \"{name}.rhai\"` for the file, or give the file another name"
                ));
            }
            return Ok(Source { name: format!("stdlib/{name}.rhai"), text: (*text).into(), library: true });
        }
        let path = checked(path)?;
        let limit = self.run.borrow().limits.script;
        let text = self.loader.read(&path).map_err(|error| reason(&path, &error))?;
        if text.len() > limit {
            return Err(reason(&path, &LoadError::TooLarge));
        }
        Ok(Source { name: path, text: text.into(), library: false })
    }

    /// Whether a module of the user's stands beside the script under the name of a
    /// furniture type. A script that is a job of its own, as `start` writes it, is no
    /// module.
    fn shadowed(&self, name: &str) -> bool {
        match self.loader.read(&format!("{name}.rhai")) {
            Ok(text) => !text.lines().any(|line| line.trim_start().starts_with("job(")),
            Err(LoadError::NotFound) => false,
            Err(_) => true,
        }
    }

    /// Reads and makes a module.
    fn make(
        &self,
        engine: &Engine,
        from: Option<&str>,
        path: &str,
        position: Position,
    ) -> Result<Module, Box<EvalAltResult>> {
        let refuse = |why: String| -> Box<EvalAltResult> {
            EvalAltResult::ErrorInModule(
                path.to_owned(),
                EvalAltResult::ErrorRuntime(failure::refused(&why), position).into(),
                position,
            )
            .into()
        };
        let chain = self.open.borrow().clone();
        if chain.iter().any(|p| p == path) {
            return Err(refuse(format!("the modules import one another: {} → {path}", chain.join(" → "))));
        }
        let by_library = self.run.borrow().sources.get(origin::source_id(from)).is_some_and(|s| s.library);
        let source = self.text(path, by_library).map_err(refuse)?;
        let text = source.text.clone();
        let id = {
            let mut run = self.run.borrow_mut();
            run.sources.list.push(source);
            SourceId(u32::try_from(run.sources.list.len() - 1).unwrap_or(0))
        };
        let mut ast = match engine.compile(&*text) {
            Ok(ast) => ast,
            Err(error) => {
                failure::report_parse(&mut self.run.borrow_mut(), engine, id, &error);
                return Err(EvalAltResult::ErrorRuntime(failure::reported(), position).into());
            }
        };
        ast.set_source(origin::source_name(id));
        self.open.borrow_mut().push(path.to_owned());
        let made = Module::eval_ast_as_new(Scope::new(), &ast, engine);
        self.open.borrow_mut().pop();
        made.map_err(|error| match *error {
            // Already wrapped with its file.
            already @ EvalAltResult::ErrorInModule(..) => already.into(),
            other => EvalAltResult::ErrorInModule(origin::source_name(id), other.into(), position).into(),
        })
    }
}

impl ModuleResolver for Resolver {
    fn resolve(
        &self,
        engine: &Engine,
        source: Option<&str>,
        path: &str,
        position: Position,
    ) -> Result<RhaiShared<Module>, Box<EvalAltResult>> {
        if let Some(made) = self.made.borrow().get(path) {
            return Ok(made.clone());
        }
        let module = RhaiShared::new(self.make(engine, source, path, position)?);
        self.made.borrow_mut().insert(path.to_owned(), module.clone());
        Ok(module)
    }
}

/// A module path that stays in the script's folder, with its ending.
fn checked(path: &str) -> Result<String, String> {
    let outside =
        path.starts_with('/') || path.contains(['\\', ':', '\0']) || path.split('/').any(|part| part == "..");
    if outside {
        return Err(reason(path, &LoadError::Outside));
    }
    if path.contains('`') {
        // Within the backticks of a message it would end what is the maker's own.
        return Err("the path of a module has no backtick in it".into());
    }
    if path.is_empty() || path.split('/').any(|part| part.is_empty() || part == ".") {
        return Err(format!("`{path}` is no path of a module"));
    }
    Ok(format!("{}.rhai", path.strip_suffix(".rhai").unwrap_or(path)))
}

/// Why a module cannot be read, as a sentence.
fn reason(path: &str, error: &LoadError) -> String {
    match error {
        LoadError::NotFound => format!("there is no `{path}` beside the script and no such furniture type"),
        LoadError::Outside => format!("`{path}` leads out of the script's folder"),
        LoadError::TooLarge => format!("`{path}` is too large for a script"),
        LoadError::NotText => format!("`{path}` is not UTF-8 text"),
        LoadError::Unreadable(why) => format!("`{path}` cannot be read: {why}"),
    }
}
