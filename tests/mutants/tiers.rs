//! Runs the tests, tier by tier, on one change at a time.

use std::collections::BTreeSet;
use std::error::Error;
use std::fs;
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::thread;
use std::time::{Duration, Instant};

use crate::rewrite::{REACHED, SWITCH};

/// In kilobytes: a change may make a list grow without end.
const MEMORY: usize = 8 << 20;

/// A run may take so many times what it takes unchanged.
const TIMES_AS_LONG: u32 = 3;

/// A run is never ended before: the machine may have other work.
const AT_LEAST: Duration = Duration::from_secs(60);

/// What a test may take without a change.
const FIRST: Duration = Duration::from_secs(3600);

/// Tests that take less are run before the others.
const QUICK: Duration = Duration::from_millis(400);

/// One program with the tests it runs.
pub(crate) struct Tier {
    pub(crate) name: &'static str,
    program: PathBuf,
    tests: Vec<Test>,
}

/// A test, and what is known of it from a run without a change.
struct Test {
    name: String,
    took: Duration,
    /// The changes whose place it comes by.
    reached: BTreeSet<usize>,
}

/// What came of a run with a change.
pub(crate) enum Verdict {
    /// A test failed.
    Caught(String),
    /// It took too long, or the program died.
    Stopped(&'static str),
    /// No test noticed.
    Survived,
    /// No test comes by its place.
    NotReached,
}

impl Tier {
    /// A tier, each of its tests run once alone and without a change. So it is known
    /// which tests come by which place: a change is tried on these alone. Tests that fail
    /// even so are left out.
    pub(crate) fn new(
        name: &'static str,
        program: &Path,
        arguments: &[String],
        copy: &Path,
    ) -> Result<Self, Box<dyn Error>> {
        let begun = Instant::now();
        let folder = copy.with_file_name("reached");
        let listed = Command::new(program).args(arguments).arg("--list").current_dir(copy).output()?;
        let listed = String::from_utf8_lossy(&listed.stdout).into_owned();
        let mut tier = Self { name, program: program.to_owned(), tests: Vec::new() };
        for test in listed.lines().filter_map(|line| line.strip_suffix(": test")) {
            if folder.exists() {
                fs::remove_dir_all(&folder)?;
            }
            fs::create_dir_all(&folder)?;
            let how = Try { change: None, reached: Some(&folder), limit: FIRST };
            let run = tier.watch(copy, &[test], &how)?;
            if !run.ended_well {
                println!("left out, for it fails without a change: {test}");
                continue;
            }
            let mut reached = BTreeSet::new();
            for entry in fs::read_dir(&folder)? {
                reached.extend(entry?.file_name().to_string_lossy().parse::<usize>());
            }
            tier.tests.push(Test { name: test.to_owned(), took: run.took, reached });
        }
        // The quickest first: most changes are noticed by one of them.
        tier.tests.sort_by_key(|test| test.took);
        let places: BTreeSet<usize> = tier.tests.iter().flat_map(|test| &test.reached).copied().collect();
        let (count, took) = (tier.tests.len(), begun.elapsed().as_secs_f64());
        println!("{name}: {count} tests, {took:.0} s, come by {} places", places.len());
        Ok(tier)
    }

    /// Leaves out the tests that take longer than so many seconds unchanged.
    pub(crate) fn keep_under(&mut self, seconds: f64) {
        let (before, name) = (self.tests.len(), self.name);
        self.tests.retain(|test| test.took.as_secs_f64() <= seconds);
        println!("{name}: {} tests that take longer are left out", before - self.tests.len());
    }

    /// Runs the tests that come by one change, up to the first that fails: the quick
    /// ones, then the others.
    pub(crate) fn judge(&self, copy: &Path, change: usize) -> Result<Verdict, Box<dyn Error>> {
        let tests: Vec<&Test> = self.tests.iter().filter(|test| test.reached.contains(&change)).collect();
        if tests.is_empty() {
            return Ok(Verdict::NotReached);
        }
        for share in tests.chunk_by(|a, b| (a.took < QUICK) == (b.took < QUICK)) {
            let names: Vec<&str> = share.iter().map(|test| test.name.as_str()).collect();
            let whole: Duration = share.iter().map(|test| test.took).sum();
            let how =
                Try { change: Some(change), reached: None, limit: (whole * TIMES_AS_LONG).max(AT_LEAST) };
            match self.watch(copy, &names, &how)? {
                Run { failed, .. } if !failed.is_empty() => return Ok(Verdict::Caught(failed.concat())),
                Run { too_long: true, .. } => return Ok(Verdict::Stopped("too long")),
                Run { ended_well: false, .. } => return Ok(Verdict::Stopped("died")),
                _ => {}
            }
        }
        Ok(Verdict::Survived)
    }

    /// Runs these tests.
    fn watch(&self, copy: &Path, tests: &[&str], how: &Try) -> Result<Run, Box<dyn Error>> {
        let begun = Instant::now();
        let mut command = Command::new("sh");
        command
            .args(["-c", &format!("ulimit -v {MEMORY} 2>/dev/null; exec \"$0\" \"$@\"")])
            .arg(&self.program)
            .arg("--exact")
            .args(tests)
            .current_dir(copy)
            .env("CARGO_MANIFEST_DIR", copy)
            .env_remove(SWITCH)
            .stdout(Stdio::piped())
            .stderr(Stdio::null());
        command.envs(how.change.map(|number| (SWITCH, number.to_string())));
        command.envs(how.reached.map(|folder| (REACHED, folder)));
        // With the programs that tests start, so that none is left when it is ended.
        #[cfg(unix)]
        std::os::unix::process::CommandExt::process_group(&mut command, 0);
        let mut child = command.spawn()?;
        let (send, lines) = channel();
        if let Some(stdout) = child.stdout.take() {
            thread::spawn(move || {
                BufReader::new(stdout).lines().map_while(Result::ok).try_for_each(|line| send.send(line))
            });
        }
        let mut run = Run { failed: Vec::new(), too_long: false, ended_well: false, took: Duration::ZERO };
        loop {
            match lines.recv_timeout(how.limit.saturating_sub(begun.elapsed())) {
                Ok(line) => {
                    let test = line.strip_prefix("test ").and_then(|l| l.strip_suffix(" ... FAILED"));
                    run.failed.extend(test.map(|t| t.trim_end_matches(" - should panic").to_owned()));
                    if how.change.is_some() && !run.failed.is_empty() {
                        break;
                    }
                }
                Err(RecvTimeoutError::Timeout) => {
                    run.too_long = true;
                    break;
                }
                Err(RecvTimeoutError::Disconnected) => {
                    run.ended_well = child.wait()?.success();
                    run.took = begun.elapsed();
                    return Ok(run);
                }
            }
        }
        let group = format!("-{}", child.id());
        Command::new("kill").args(["-KILL", "--", &group]).stderr(Stdio::null()).status()?;
        child.wait()?;
        run.took = begun.elapsed();
        Ok(run)
    }
}

/// How tests are run.
struct Try<'f> {
    change: Option<usize>,
    /// The folder that is told which places are come by.
    reached: Option<&'f Path>,
    limit: Duration,
}

/// What came of it.
struct Run {
    failed: Vec<String>,
    too_long: bool,
    ended_well: bool,
    took: Duration,
}
