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

/// One program with the tests it runs.
pub(crate) struct Tier {
    pub(crate) name: &'static str,
    program: PathBuf,
    arguments: Vec<String>,
    limit: Duration,
    /// The changes whose place some test comes by.
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
    /// A tier, run once without a change: the tests that fail even so are left out, and
    /// the time it takes is what the others are measured by.
    pub(crate) fn new(
        name: &'static str,
        program: &Path,
        arguments: &[String],
        copy: &Path,
    ) -> Result<Self, Box<dyn Error>> {
        let folder = copy.with_file_name("reached");
        if folder.exists() {
            fs::remove_dir_all(&folder)?;
        }
        fs::create_dir_all(&folder)?;
        let mut tier = Self {
            name,
            program: program.to_owned(),
            arguments: arguments.to_vec(),
            limit: Duration::from_secs(3600),
            reached: BTreeSet::new(),
        };
        let whole = tier.watch(copy, None, Some(&folder))?;
        for test in whole.failed {
            println!("left out, for it fails without a change: {test}");
            tier.arguments.extend([String::from("--skip"), test]);
        }
        tier.limit = (whole.took * TIMES_AS_LONG).max(AT_LEAST);
        for entry in fs::read_dir(&folder)? {
            tier.reached.extend(entry?.file_name().to_string_lossy().parse::<usize>());
        }
        println!("{name}: {:.0} s, comes by {} places", whole.took.as_secs_f64(), tier.reached.len());
        Ok(tier)
    }

    /// Runs it with one change, up to the first test that fails.
    pub(crate) fn judge(&self, copy: &Path, change: usize) -> Result<Verdict, Box<dyn Error>> {
        if !self.reached.contains(&change) {
            return Ok(Verdict::NotReached);
        }
        let run = self.watch(copy, Some(change), None)?;
        Ok(match run {
            Run { failed, .. } if !failed.is_empty() => Verdict::Caught(failed.concat()),
            Run { too_long: true, .. } => Verdict::Stopped("too long"),
            Run { ended_well: false, .. } => Verdict::Stopped("died"),
            _ => Verdict::Survived,
        })
    }

    fn watch(
        &self,
        copy: &Path,
        change: Option<usize>,
        reached: Option<&Path>,
    ) -> Result<Run, Box<dyn Error>> {
        let begun = Instant::now();
        let mut command = Command::new("sh");
        command
            .args(["-c", &format!("ulimit -v {MEMORY} 2>/dev/null; exec \"$0\" \"$@\"")])
            .arg(&self.program)
            .args(&self.arguments)
            .current_dir(copy)
            .env("CARGO_MANIFEST_DIR", copy)
            .env_remove(SWITCH)
            .stdout(Stdio::piped())
            .stderr(Stdio::null());
        command.envs(change.map(|number| (SWITCH, number.to_string())));
        command.envs(reached.map(|folder| (REACHED, folder)));
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
            match lines.recv_timeout(self.limit.saturating_sub(begun.elapsed())) {
                Ok(line) => {
                    let test = line.strip_prefix("test ").and_then(|l| l.strip_suffix(" ... FAILED"));
                    run.failed.extend(test.map(|t| t.trim_end_matches(" - should panic").to_owned()));
                    if change.is_some() && !run.failed.is_empty() {
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

struct Run {
    failed: Vec<String>,
    too_long: bool,
    ended_well: bool,
    took: Duration,
}
