//! Finds where the code can be changed, and how.

use std::collections::{BTreeMap, BTreeSet};
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
    /// What it changes and where, without the line: file, expression, change, and the
    /// how manieth of these in the file.
    pub(crate) name: String,
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
    let mut all = Vec::new();
    for module in MODULES {
        all.extend(sites_of(root, module)?);
    }
    Ok(all)
}

fn sites_of(root: &Path, module: &str) -> Result<Vec<Site>, Box<dyn Error>> {
    let mut paths = Vec::new();
    rust_files(&root.join("src").join(module), &mut paths)?;
    let mut files = Vec::new();
    for path in paths {
        let text = fs::read_to_string(&path)?;
        let parsed = syn::parse_file(&text).map_err(|e| format!("{}: {e}", path.display()))?;
        files.push((path, text, parsed));
    }
    let shared: BTreeSet<String> = files.iter().flat_map(|(path, _, file)| tolerances(path, file)).collect();
    let (mut all, mut for_tests) = (Vec::new(), BTreeSet::new());
    for (path, text, parsed) in &files {
        let own = tolerances(path, parsed);
        let sizes = constants(parsed).map(|item| item.ident.to_string()).filter(|name| !own.contains(name));
        let mut finder = Finder {
            file: path.strip_prefix(root)?.to_string_lossy().replace('\\', "/"),
            text,
            tolerances: &shared - &sizes.collect(),
            found: Vec::new(),
            named: BTreeMap::new(),
            for_tests: Vec::new(),
        };
        finder.visit_file(parsed);
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

struct Finder<'t> {
    file: String,
    text: &'t str,
    /// Names of constants that are tolerances.
    tolerances: BTreeSet<String>,
    found: Vec<Site>,
    /// How many were found of each name.
    named: BTreeMap<String, usize>,
    /// Modules in files of their own that are only there for tests.
    for_tests: Vec<String>,
}

impl Finder<'_> {
    fn add(&mut self, whole: &impl Spanned, change: Change) {
        let span = whole.span();
        let expression = self.text.get(span.byte_range()).unwrap_or_default();
        let words: Vec<&str> = expression.split_whitespace().collect();
        let name = format!("{} {} {}", self.file, words.join(" "), change.describe());
        let count = self.named.entry(name.clone()).or_default();
        *count += 1;
        self.found.push(Site {
            name: format!("{name} {count}"),
            file: self.file.clone(),
            line: span.start().line,
            span: span.byte_range(),
            change,
        });
    }

    /// Whether a side of a comparison is a tolerance, or reckoned with one. No length
    /// that a script can state, or that comes of such, stands exactly on it, so that
    /// `<` and `<=` are the same there.
    fn is_tolerance(&self, side: &Expr) -> bool {
        match side {
            Expr::Path(path) => path
                .path
                .segments
                .last()
                .is_some_and(|last| self.tolerances.contains(&last.ident.to_string())),
            Expr::Binary(two) => self.is_tolerance(&two.left) || self.is_tolerance(&two.right),
            Expr::Unary(one) => self.is_tolerance(&one.expr),
            Expr::Paren(inner) => self.is_tolerance(&inner.expr),
            _ => false,
        }
    }

    fn condition(&mut self, condition: &Expr) {
        // A comparison turned round is among its own changes already.
        let is_operator = matches!(condition, Expr::Binary(two) if !others(&two.op).1.is_empty());
        if !is_operator && !has_let(condition) {
            self.add(condition, Change::Negation);
        }
    }
}

/// The greatest constant that is taken for a tolerance wherever it stands, mm or as a
/// share; a greater one is a size that a maker can ask for, but for those in files of
/// tolerances.
const GREATEST_TOLERANCE: f64 = 0.02;

/// The constants of a file that are tolerances.
fn tolerances(path: &Path, file: &syn::File) -> BTreeSet<String> {
    let of_tolerances = path.ends_with("tolerance.rs");
    let small = |item: &syn::ItemConst| {
        let Expr::Lit(syn::ExprLit { lit: syn::Lit::Float(value), .. }) = &*item.expr else { return false };
        value.base10_parse::<f64>().is_ok_and(|v| v <= GREATEST_TOLERANCE)
    };
    constants(file).filter(|item| of_tolerances || small(item)).map(|item| item.ident.to_string()).collect()
}

fn constants(file: &syn::File) -> impl Iterator<Item = &syn::ItemConst> {
    file.items.iter().filter_map(|item| match item {
        syn::Item::Const(item) => Some(item),
        _ => None,
    })
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
impl<'ast> Visit<'ast> for Finder<'_> {
    fn visit_expr_binary(&mut self, node: &'ast syn::ExprBinary) {
        let (from, all) = others(&node.op);
        if !has_let(&node.left) && !has_let(&node.right) {
            let to_bound = |to: &str| to.trim_end_matches('=') == from.trim_end_matches('=');
            let unseen = self.is_tolerance(&node.left) || self.is_tolerance(&node.right);
            for to in all.iter().filter(|to| !(unseen && to_bound(to))) {
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
