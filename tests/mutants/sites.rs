//! Finds where the code can be changed, and how.

use std::collections::BTreeSet;
use std::error::Error;
use std::fs;
use std::ops::Range;
use std::path::{Path, PathBuf};

use syn::spanned::Spanned;
use syn::visit::{self, Visit};
use syn::{Attribute, BinOp, Expr};

/// The modules that are put to the test, under `src/`.
const MODULES: [&str; 6] = ["measure", "geometry", "solid", "machining", "joinery", "cutting"];

/// One way in which one expression can be changed.
pub(crate) struct Site {
    /// From the root of the project, with `/`.
    pub(crate) file: String,
    /// From 1.
    pub(crate) line: usize,
    /// The whole expression, in bytes of the file.
    pub(crate) span: Range<usize>,
    pub(crate) change: Change,
}

/// What is done to an expression; ranges are bytes of the file.
pub(crate) enum Change {
    /// Another operator between the same two sides.
    Operator { left: Range<usize>, right: Range<usize>, from: &'static str, to: &'static str },
    /// Another method of the same arguments.
    Method { name: Range<usize>, from: &'static str, to: &'static str },
    /// A condition turned round.
    Negation,
}

impl Change {
    /// As it stands in the table.
    pub(crate) fn describe(&self) -> String {
        match self {
            Self::Operator { from, to, .. } | Self::Method { from, to, .. } => format!("{from} -> {to}"),
            Self::Negation => String::from("not"),
        }
    }
}

/// All sites of the modules, in the order of files and lines.
pub(crate) fn sites(root: &Path) -> Result<Vec<Site>, Box<dyn Error>> {
    let mut files = Vec::new();
    for module in MODULES {
        rust_files(&root.join("src").join(module), &mut files)?;
    }
    let mut all = Vec::new();
    let mut for_tests = BTreeSet::new();
    for path in &files {
        let text = fs::read_to_string(path)?;
        let parsed = syn::parse_file(&text).map_err(|e| format!("{}: {e}", path.display()))?;
        let file = path.strip_prefix(root)?.to_string_lossy().replace('\\', "/");
        let mut finder = Finder { file, found: Vec::new(), for_tests: Vec::new() };
        finder.visit_file(&parsed);
        all.append(&mut finder.found);
        let folder = if path.ends_with("mod.rs") {
            path.parent().unwrap_or(root).to_owned()
        } else {
            path.with_extension("")
        };
        for_tests.extend(finder.for_tests.iter().map(|name| folder.join(name).with_extension("rs")));
    }
    all.retain(|site| !for_tests.contains(&root.join(&site.file)));
    Ok(all)
}

fn rust_files(folder: &Path, into: &mut Vec<PathBuf>) -> Result<(), Box<dyn Error>> {
    let mut entries = fs::read_dir(folder)?.map(|e| e.map(|e| e.path())).collect::<Result<Vec<_>, _>>()?;
    entries.sort();
    for path in entries {
        if path.is_dir() {
            rust_files(&path, into)?;
        } else if path.extension().is_some_and(|e| e == "rs") {
            into.push(path);
        }
    }
    Ok(())
}

struct Finder {
    file: String,
    found: Vec<Site>,
    /// Modules in files of their own that are only there for tests.
    for_tests: Vec<String>,
}

impl Finder {
    fn add(&mut self, whole: &impl Spanned, change: Change) {
        let span = whole.span();
        self.found.push(Site {
            file: self.file.clone(),
            line: span.start().line,
            span: span.byte_range(),
            change,
        });
    }

    fn condition(&mut self, condition: &Expr) {
        // A comparison turned round is among its own changes already.
        let is_operator = matches!(condition, Expr::Binary(two) if !others(&two.op).1.is_empty());
        if !is_operator && !has_let(condition) {
            self.add(condition, Change::Negation);
        }
    }
}

/// An operator as written, and what can stand in its place.
fn others(op: &BinOp) -> (&'static str, &'static [&'static str]) {
    match op {
        BinOp::Add(_) => ("+", &["-"]),
        BinOp::Sub(_) => ("-", &["+"]),
        BinOp::Mul(_) => ("*", &["/"]),
        BinOp::Div(_) => ("/", &["*"]),
        BinOp::And(_) => ("&&", &["||"]),
        BinOp::Or(_) => ("||", &["&&"]),
        BinOp::Lt(_) => ("<", &["<=", ">="]),
        BinOp::Le(_) => ("<=", &["<", ">"]),
        BinOp::Gt(_) => (">", &[">=", "<="]),
        BinOp::Ge(_) => (">=", &[">", "<"]),
        BinOp::AddAssign(_) => ("+=", &["-="]),
        BinOp::SubAssign(_) => ("-=", &["+="]),
        BinOp::MulAssign(_) => ("*=", &["/="]),
        BinOp::DivAssign(_) => ("/=", &["*="]),
        _ => ("", &[]),
    }
}

/// Whether it is a chain with a `let` in it, which allows no `||` and no `!`.
fn has_let(expr: &Expr) -> bool {
    match expr {
        Expr::Let(_) => true,
        Expr::Binary(two) => has_let(&two.left) || has_let(&two.right),
        _ => false,
    }
}

fn only_for_tests(attributes: &[Attribute]) -> bool {
    attributes.iter().any(|attribute| match &attribute.meta {
        syn::Meta::List(list) => list.path.is_ident("cfg") && list.tokens.to_string() == "test",
        syn::Meta::Path(path) => path.is_ident("test"),
        syn::Meta::NameValue(_) => false,
    })
}

/// Constants are worked out while building, where no switch can be read; patterns,
/// types and attributes hold no values.
impl<'ast> Visit<'ast> for Finder {
    fn visit_expr_binary(&mut self, node: &'ast syn::ExprBinary) {
        let (from, all) = others(&node.op);
        if !has_let(&node.left) && !has_let(&node.right) {
            for to in all {
                let (left, right) = (node.left.span().byte_range(), node.right.span().byte_range());
                self.add(node, Change::Operator { left, right, from, to });
            }
        }
        visit::visit_expr_binary(self, node);
    }

    fn visit_expr_method_call(&mut self, node: &'ast syn::ExprMethodCall) {
        let swapped = [("min", "max"), ("max", "min")].into_iter().find(|(from, _)| node.method == from);
        if let (Some((from, to)), 1) = (swapped, node.args.len()) {
            self.add(node, Change::Method { name: node.method.span().byte_range(), from, to });
        }
        visit::visit_expr_method_call(self, node);
    }

    fn visit_expr_if(&mut self, node: &'ast syn::ExprIf) {
        self.condition(&node.cond);
        visit::visit_expr_if(self, node);
    }

    fn visit_expr_while(&mut self, node: &'ast syn::ExprWhile) {
        self.condition(&node.cond);
        visit::visit_expr_while(self, node);
    }

    fn visit_item_mod(&mut self, node: &'ast syn::ItemMod) {
        if !only_for_tests(&node.attrs) {
            visit::visit_item_mod(self, node);
        } else if node.content.is_none() {
            self.for_tests.push(node.ident.to_string());
        }
    }

    fn visit_item_fn(&mut self, node: &'ast syn::ItemFn) {
        if node.sig.constness.is_none() && !only_for_tests(&node.attrs) {
            visit::visit_item_fn(self, node);
        }
    }

    fn visit_impl_item_fn(&mut self, node: &'ast syn::ImplItemFn) {
        if node.sig.constness.is_none() && !only_for_tests(&node.attrs) {
            visit::visit_impl_item_fn(self, node);
        }
    }

    fn visit_item_impl(&mut self, node: &'ast syn::ItemImpl) {
        if !only_for_tests(&node.attrs) {
            visit::visit_item_impl(self, node);
        }
    }

    fn visit_expr_repeat(&mut self, node: &'ast syn::ExprRepeat) {
        self.visit_expr(&node.expr);
    }

    fn visit_item_const(&mut self, _: &'ast syn::ItemConst) {}
    fn visit_item_static(&mut self, _: &'ast syn::ItemStatic) {}
    fn visit_impl_item_const(&mut self, _: &'ast syn::ImplItemConst) {}
    fn visit_trait_item_const(&mut self, _: &'ast syn::TraitItemConst) {}
    fn visit_expr_const(&mut self, _: &'ast syn::ExprConst) {}
    fn visit_variant(&mut self, _: &'ast syn::Variant) {}
    fn visit_type(&mut self, _: &'ast syn::Type) {}
    fn visit_generic_argument(&mut self, _: &'ast syn::GenericArgument) {}
    fn visit_pat(&mut self, _: &'ast syn::Pat) {}
    fn visit_attribute(&mut self, _: &'ast Attribute) {}
}
