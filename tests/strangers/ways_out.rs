//! Ways out of a script, one a line, and that none of them leads anywhere: a script reads
//! no file but modules in its own folder, writes none, starts nothing, asks no clock, no
//! chance and no network, and ends.

use std::sync::{Arc, Mutex};

use rodwright::problem::{Severity, render_all};
use rodwright::script::{Limits, LoadError, Loader, Request, evaluate};

use crate::support::scripts::request;

/// A loader that keeps what it is asked for, and has nothing.
#[derive(Default)]
struct Asked(Mutex<Vec<String>>);

impl Loader for Asked {
    fn read(&self, path: &str) -> Result<String, LoadError> {
        self.0.lock().unwrap().push(path.to_owned());
        Err(LoadError::NotFound)
    }
}

/// What is tried, as it would stand in a script.
const WAYS: [&str; 66] = [
    // Files.
    "open(\"/etc/passwd\")",
    "read_file(\"/etc/passwd\")",
    "read(\"secret.txt\")",
    "open_file(\"x\", \"w\")",
    "write(\"x\", \"y\")",
    "write_file(\"x\", \"y\")",
    "save(\"x\")",
    "remove_file(\"x\")",
    "delete(\"x\")",
    "mkdir(\"x\")",
    "chdir(\"/\")",
    "path(\"/\")",
    "include(\"/etc/passwd\")",
    "load(\"x\")",
    // Modules outside the folder.
    "import \"/etc/passwd\" as a",
    "import \"../secret\" as a",
    "import \"a/../../secret\" as a",
    "import \"..\" as a",
    "import \"C:\\\\secret\" as a",
    "import \"\\\\\\\\host\\\\share\" as a",
    "import \"file:///etc/passwd\" as a",
    "import \"https://example.org/a\" as a",
    "import \"a\\0b\" as a",
    "import \"./a\" as a",
    "import \"a//b\" as a",
    "import \"\" as a",
    "let up = \"..\"; import up + \"/secret\" as a",
    "import \"gone\" as a",
    // Other programs, the surroundings, the network.
    "system(\"ls\")",
    "exec(\"ls\")",
    "spawn(\"ls\")",
    "command(\"ls\")",
    "env(\"HOME\")",
    "getenv(\"HOME\")",
    "args()",
    "exit(0)",
    "http_get(\"https://example.org\")",
    "connect(\"example.org\", 80)",
    // Time and chance.
    "sleep(1)",
    "sleep(0.1)",
    "Fn(\"sleep\").call(60)",
    "timestamp()",
    "now()",
    "date()",
    "elapsed(1)",
    "rand()",
    "random()",
    // The language itself.
    "eval(\"1\")",
    "Fn(\"eval\").call(\"1\")",
    "call(\"eval\", \"1\")",
    "let e = \"ev\" + \"al\"; Fn(e).call(\"1\")",
    "compile(\"1\")",
    "back_trace()",
    "get_fn_metadata_list()",
    "set_max_operations(0)",
    "engine()",
    "global::limits",
    // Without an end.
    "loop { }",
    "while true { }",
    "let n = 0; do { n += 1; } until n < 0",
    "fn again(n) { again(n + 1) } again(0)",
    "let f = |n, f| f.call(n, f); f.call(1, f)",
    "let t = \"aaaa\"; loop { t += t; }",
    "let l = [1]; loop { l += l; }",
    "let t = \"\"; t.pad(19000, \"[\"); parse_json(t)",
    "for at in range(0, 1000000000000) { }",
];

#[test]
fn no_way_leads_out() {
    let mut open = Vec::new();
    for way in WAYS {
        let asked = Arc::new(Asked::default());
        let limits = Limits { operations: 100_000, ..Limits::default() };
        let text = format!("job(\"Shelf\");\n{way};\n");
        let tried = Request { loader: asked.clone(), limits, ..request("way.rhai", text) };
        let done = evaluate(&tried);
        let stopped = |p: &rodwright::problem::Problem| {
            p.severity == Severity::Error && p.code != "no-piece" && p.help.is_some() && !p.places.is_empty()
        };
        if done.job.is_some() || !done.problems.iter().any(stopped) {
            open.push(format!("{way}\n{}", render_all(&done.problems, &done.sources)));
        }
        for path in asked.0.lock().unwrap().iter() {
            let inside = !path.starts_with('/') && !path.contains(['\\', ':', '\0']);
            assert!(inside && path.split('/').all(|part| part != ".."), "{way} asks for {path}");
        }
    }
    assert!(open.is_empty(), "{}", open.join("\n"));
}

/// Every way is another one.
#[test]
fn the_ways_are_sixty_and_more() {
    let mut all = WAYS.to_vec();
    all.sort_unstable();
    all.dedup();
    assert!(all.len() == WAYS.len() && all.len() >= 60);
}
