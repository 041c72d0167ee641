//! Changes the code in small ways and asks whether the tests notice.
//!
//! `cargo test --bench mutants -- --seed 7 --count 60` draws sixty changes by lot: `<` to
//! `<=`, `+` to `-`, `min` to `max`, a condition turned round. It builds a copy of the
//! project that holds all of them behind switches, runs every test once alone to learn which
//! places it comes by, and tries each change on those tests: first the quick tier, and where
//! that notices nothing, the slow tests. A change that the compiler refuses is drawn anew.
//! It fails where the quick tier notices fewer than 80 in a hundred, or all tests fewer than
//! 95. A seed draws the same changes again where their code is the same. Some of what is
//! left cannot be seen: how long a search goes on, a wall that just fits.

#![allow(clippy::print_stdout, clippy::print_stderr, reason = "a bench prints its figures")]

use std::collections::BTreeMap;
use std::error::Error;
use std::path::Path;
use std::process::ExitCode;

mod rewrite;
mod sites;
mod tiers;
mod tree;

use sites::Site;
use tiers::{Tier, Verdict};
use tree::{Built, Tree};

const USAGE: &str =
    "mutants: --seed N --count N [--only N,N] [--leave-out TEST]... [--under SECONDS] [--quick] [--list]
  --only       the numbers of changes of this seed to try, none else
  --leave-out  slow tests that are not run
  --under      only tests that take no longer unchanged: what they catch is a lower bound
  --quick      the quick tier only
  --list       what would be drawn, and nothing else";

/// In a hundred, what the quick tier catches at least, and what all tests do.
const QUICK_SHARE: f64 = 80.0;
const ALL_SHARE: f64 = 95.0;

/// In place of a tier, in the table.
const SURVIVED: &str = "SURVIVED";

/// What is asked on the command line.
#[derive(Default)]
struct Asked {
    seed: u64,
    count: usize,
    only: Vec<usize>,
    leave_out: Vec<String>,
    under: Option<f64>,
    quick: bool,
    list: bool,
}

impl Asked {
    /// `None` if no lot is to be drawn, as when all benches are run.
    fn read(arguments: impl Iterator<Item = String>) -> Result<Option<Self>, Box<dyn Error>> {
        let mut asked = Self::default();
        let mut arguments = arguments.filter(|a| a != "--bench");
        while let Some(name) = arguments.next() {
            match name.as_str() {
                "--quick" => asked.quick = true,
                "--list" => asked.list = true,
                _ => asked.read_one(&name, &arguments.next().ok_or(USAGE)?)?,
            }
        }
        Ok((asked.count > 0).then_some(asked))
    }

    /// Reads an option that has a value.
    fn read_one(&mut self, name: &str, value: &str) -> Result<(), Box<dyn Error>> {
        match name {
            "--seed" => self.seed = value.parse()?,
            "--count" => self.count = value.parse()?,
            "--only" => self.only = value.split(',').map(str::parse).collect::<Result<_, _>>()?,
            "--leave-out" => self.leave_out.push(value.to_owned()),
            "--under" => self.under = Some(value.parse()?),
            _ => return Err(USAGE.into()),
        }
        Ok(())
    }
}

/// All sites in an order drawn by lot, numbered from 1. Each draws its own number from
/// what it changes and where: so a seed draws the same changes again after code
/// elsewhere was mended, and only new code is drawn anew.
fn shuffled(mut sites: Vec<Site>, seed: u64) -> Vec<(usize, Site)> {
    sites.sort_by_cached_key(|site| hashed(&format!("{seed} {}", site.name)));
    (1..).zip(sites).collect()
}

/// FNV-1a, with its published constants, and the last step of `SplitMix64`: texts that
/// differ in one letter are to fall far apart.
fn hashed(text: &str) -> u64 {
    let mixed = text.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
    });
    let mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    mixed ^ (mixed >> 31)
}

/// Changes by their numbers.
type Drawn<'s> = BTreeMap<usize, &'s Site>;

/// Draws, builds, and draws anew what is refused.
fn build<'s>(
    tree: &Tree,
    lot: &'s [(usize, Site)],
    count: usize,
) -> Result<(Drawn<'s>, Built), Box<dyn Error>> {
    let mut drawn = Drawn::new();
    let mut rest = lot.iter();
    loop {
        while drawn.len() < count {
            let (number, site) = rest.next().ok_or("there are not so many changes")?;
            let again = drawn.values().any(|other| other.file == site.file && other.span == site.span);
            if !again {
                drawn.insert(*number, site);
            }
        }
        let numbers = match tree.build(&drawn)? {
            Built::Refused(numbers) => numbers,
            built @ Built::Tests { .. } => return Ok((drawn, built)),
        };
        for number in numbers {
            if let Some(site) = drawn.remove(&number) {
                println!("refused by the compiler: {number} {}:{}", site.file, site.line);
            }
        }
    }
}

fn run(asked: &Asked) -> Result<bool, Box<dyn Error>> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let lot = shuffled(sites::sites(root)?, asked.seed);
    println!("{} changes to draw from", lot.len());
    if asked.list {
        for (number, site) in lot.iter().take(asked.count) {
            println!("{number:>4}  {}:{} {}", site.file, site.line, site.name);
        }
        return Ok(true);
    }
    let tree = Tree::of(root)?;
    let (drawn, built) = build(&tree, &lot, asked.count)?;
    let Built::Tests { library, suite } = built else { return Err("nothing was built".into()) };
    tree.restore()?;

    let skip_slow = ["--skip", "slow"].map(String::from);
    let mut quick =
        [Tier::new("unit", &library, &[], &tree.copy)?, Tier::new("quick", &suite, &skip_slow, &tree.copy)?];
    for tier in &mut quick {
        asked.under.into_iter().for_each(|seconds| tier.keep_under(seconds));
    }
    let wanted = |number: &usize| asked.only.is_empty() || asked.only.contains(number);
    let tried: Vec<(usize, &Site)> = drawn.into_iter().filter(|(number, _)| wanted(number)).collect();
    let left = survivors(&quick, &tree, &tried)?;
    let caught = tried.len() - left.len();
    let quick_share = share(caught, tried.len());
    println!("seed {}: the quick tier catches {caught} of {} ({quick_share:.0} %)", asked.seed, tried.len());
    if asked.quick {
        return Ok(quick_share >= QUICK_SHARE);
    }

    let left_out = asked.leave_out.iter().flat_map(|test| [String::from("--skip"), test.clone()]);
    let arguments: Vec<String> = [String::from("slow")].into_iter().chain(left_out).collect();
    let slow = [Tier::new("slow", &suite, &arguments, &tree.copy)?];
    let caught = tried.len() - survivors(&slow, &tree, &left)?.len();
    let all_share = share(caught, tried.len());
    println!("seed {}: all tests catch {caught} of {} ({all_share:.0} %)", asked.seed, tried.len());
    Ok(quick_share >= QUICK_SHARE && all_share >= ALL_SHARE)
}

fn share(some: usize, all: usize) -> f64 {
    100.0 * some as f64 / all.max(1) as f64
}

/// Tries changes in these tiers; prints a row for each, and gives those that no test
/// notices.
fn survivors<'s>(
    tiers: &[Tier],
    tree: &Tree,
    tried: &[(usize, &'s Site)],
) -> Result<Vec<(usize, &'s Site)>, Box<dyn Error>> {
    let mut left = Vec::new();
    for (number, site) in tried {
        let (tier, how) = first_to_catch(tiers, tree, *number)?;
        if tier == SURVIVED {
            left.push((*number, *site));
        }
        let place = format!("{}:{}", site.file, site.line);
        println!("{number:>4}  {place:<44} {:<10} {tier:<9} {how}", site.change.describe());
    }
    Ok(left)
}

/// The tier that notices a change, and by what.
fn first_to_catch(
    tiers: &[Tier],
    tree: &Tree,
    number: usize,
) -> Result<(&'static str, String), Box<dyn Error>> {
    let mut reached = false;
    for tier in tiers {
        match tier.judge(&tree.copy, number)? {
            Verdict::Caught(test) => return Ok((tier.name, test)),
            Verdict::Stopped(how) => return Ok((tier.name, how.to_owned())),
            Verdict::Survived => reached = true,
            Verdict::NotReached => {}
        }
    }
    Ok((SURVIVED, String::from(if reached { "" } else { "no test comes by" })))
}

fn main() -> ExitCode {
    let result = match Asked::read(std::env::args().skip(1)) {
        Ok(Some(asked)) => run(&asked),
        Ok(None) => {
            println!("{USAGE}");
            Ok(true)
        }
        Err(problem) => Err(problem),
    };
    match result {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(problem) => {
            eprintln!("{problem}");
            ExitCode::FAILURE
        }
    }
}
