//! The copy of the project that is changed and built.

use std::collections::{BTreeMap, BTreeSet};
use std::error::Error;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use crate::rewrite::{SWITCHES, number_at, rewrite};
use crate::sites::Site;

/// What a build gives.
pub(crate) enum Built {
    /// The tests of the library and the suite.
    Tests { library: PathBuf, suite: PathBuf },
    /// Changes that the compiler does not accept.
    Refused(BTreeSet<usize>),
}

/// Where the copy stands and where it is built: apart from the project's own build,
/// so that no changed program is taken for the project's.
pub(crate) struct Tree {
    root: PathBuf,
    pub(crate) copy: PathBuf,
    built: PathBuf,
}

impl Tree {
    /// Copies the project anew.
    pub(crate) fn of(root: &Path) -> Result<Self, Box<dyn Error>> {
        let folder = root.join("target/mutants");
        let tree = Self { root: root.to_owned(), copy: folder.join("tree"), built: folder.join("built") };
        if tree.copy.exists() {
            fs::remove_dir_all(&tree.copy)?;
        }
        copy(root, &tree.copy, &["target", ".git", "out"])?;
        Ok(tree)
    }

    /// Writes the changes into the copy and builds its tests.
    pub(crate) fn build(&self, drawn: &BTreeMap<usize, &Site>) -> Result<Built, Box<dyn Error>> {
        let texts = self.write(drawn)?;
        let output = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()))
            .args(["test", "--no-run", "--locked", "--lib", "--test", "suite", "--message-format=json"])
            .current_dir(&self.copy)
            .env("CARGO_TARGET_DIR", &self.built)
            .stderr(Stdio::null())
            .output()?;
        let (mut library, mut suite) = (None, None);
        let (mut refused, mut errors) = (BTreeSet::new(), String::new());
        for line in String::from_utf8_lossy(&output.stdout).lines() {
            let Ok(message) = serde_json::from_str::<serde_json::Value>(line) else { continue };
            if let Some(program) = message["executable"].as_str() {
                match message["target"]["kind"][0].as_str() {
                    Some("test") => suite = Some(PathBuf::from(program)),
                    Some("lib") => library = Some(PathBuf::from(program)),
                    _ => {}
                }
            }
            let about = &message["message"];
            if about["level"] == "error" {
                refused.extend(number_of(about, &texts));
                errors += about["rendered"].as_str().unwrap_or_default();
            }
        }
        match (library, suite) {
            (Some(library), Some(suite)) if output.status.success() => Ok(Built::Tests { library, suite }),
            _ if refused.is_empty() => Err(format!("the copy does not build:\n{errors}").into()),
            _ => Ok(Built::Refused(refused)),
        }
    }

    /// Writes the changes; gives the texts of the changed files.
    fn write(&self, drawn: &BTreeMap<usize, &Site>) -> Result<BTreeMap<String, String>, Box<dyn Error>> {
        self.restore()?;
        let mut by_file: BTreeMap<&str, Vec<(usize, &Site)>> = BTreeMap::new();
        for (number, site) in drawn {
            by_file.entry(&site.file).or_default().push((*number, site));
        }
        let mut texts = BTreeMap::new();
        for (file, sites) in by_file {
            let text = rewrite(&fs::read_to_string(self.root.join(file))?, &sites);
            fs::write(self.copy.join(file), &text)?;
            texts.insert(file.to_owned(), text);
        }
        let lib = fs::read_to_string(self.root.join("src/lib.rs"))?;
        fs::write(self.copy.join("src/lib.rs"), lib + "\nmod mutants;\n")?;
        fs::write(self.copy.join("src/mutants.rs"), SWITCHES)?;
        Ok(texts)
    }

    /// Puts the sources back as they were: some tests read them.
    pub(crate) fn restore(&self) -> Result<(), Box<dyn Error>> {
        fs::remove_dir_all(self.copy.join("src"))?;
        copy(&self.root.join("src"), &self.copy.join("src"), &[])
    }
}

/// The change that a message of the compiler is about.
fn number_of(about: &serde_json::Value, texts: &BTreeMap<String, String>) -> Option<usize> {
    let spans = about["spans"].as_array()?;
    let place = |span: &serde_json::Value| {
        let text = texts.get(span["file_name"].as_str()?)?;
        let start = usize::try_from(span["byte_start"].as_u64()?).ok()?;
        let end = usize::try_from(span["byte_end"].as_u64()?).ok()?;
        number_at(text, start..end)
    };
    let primary = spans.iter().filter(|span| span["is_primary"] == true);
    primary.chain(spans).find_map(place)
}

fn copy(from: &Path, to: &Path, without: &[&str]) -> Result<(), Box<dyn Error>> {
    fs::create_dir_all(to)?;
    for entry in fs::read_dir(from)? {
        let entry = entry?;
        if without.iter().any(|name| entry.file_name() == *name) {
            continue;
        }
        let target = to.join(entry.file_name());
        if entry.file_type()?.is_dir() {
            copy(&entry.path(), &target, &[])?;
        } else {
            fs::copy(entry.path(), target)?;
        }
    }
    Ok(())
}
