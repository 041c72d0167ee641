//! Scripts read from disk: the one named, and modules in its folder or below.

use std::fs;
use std::io::{ErrorKind, Read};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use crate::script::{LoadError, Loader};

/// How long a script may run. The limit on steps comes long before it on any
/// machine; this is for scripts that make each step slow.
const PATIENCE: Duration = Duration::from_secs(20);

/// The folder a script stands in.
#[derive(Debug)]
pub struct Folder {
    /// The folder, links resolved; `None` if it cannot be.
    root: Option<PathBuf>,
    /// Largest text read, bytes.
    limit: usize,
    /// When the script began.
    began: Instant,
}

impl Folder {
    /// The folder of `script`, from now on.
    pub fn of_script(script: &Path, limit: usize) -> Self {
        let folder = match script.parent() {
            Some(parent) if !parent.as_os_str().is_empty() => parent,
            _ => Path::new("."),
        };
        Self { root: fs::canonicalize(folder).ok(), limit, began: Instant::now() }
    }
}

impl Loader for Folder {
    fn read(&self, path: &str) -> Result<String, LoadError> {
        let root = self.root.as_ref().ok_or(LoadError::NotFound)?;
        let real = fs::canonicalize(root.join(path)).map_err(|e| load_error(&e))?;
        if !real.starts_with(root) {
            return Err(LoadError::Outside);
        }
        read(&real, self.limit)
    }

    fn time_is_up(&self) -> bool {
        self.began.elapsed() > PATIENCE
    }
}

/// The text of the script named on the command line, or why there is none.
pub(super) fn read_script(path: &Path, limit: usize) -> Result<String, String> {
    read(path, limit).map_err(|error| match error {
        LoadError::NotFound => "there is no such file".into(),
        LoadError::Outside => "it leads elsewhere".into(),
        LoadError::TooLarge => "it is too large for a script".into(),
        LoadError::NotText => "it is not UTF-8 text".into(),
        LoadError::Unreadable(why) => why,
    })
}

/// Reads a file of at most `limit` bytes; why not in words.
pub(super) fn read_bytes(path: &Path, limit: usize) -> Result<Vec<u8>, String> {
    bytes(path, limit).map_err(|error| match error {
        LoadError::NotFound => "there is no such file".into(),
        LoadError::TooLarge => "it is too large".into(),
        LoadError::Unreadable(why) => why,
        LoadError::Outside | LoadError::NotText => "it leads elsewhere".into(),
    })
}

/// Reads at most `limit` bytes of UTF-8 text; a byte order mark is dropped.
fn read(path: &Path, limit: usize) -> Result<String, LoadError> {
    let text = String::from_utf8(bytes(path, limit)?).map_err(|_| LoadError::NotText)?;
    Ok(text.strip_prefix('\u{feff}').map(str::to_owned).unwrap_or(text))
}

/// Reads at most `limit` bytes.
fn bytes(path: &Path, limit: usize) -> Result<Vec<u8>, LoadError> {
    let meta = fs::metadata(path).map_err(|e| load_error(&e))?;
    if !meta.is_file() {
        return Err(LoadError::Unreadable("it is not a file".into()));
    }
    let mut bytes = Vec::new();
    let most = limit as u64 + 1;
    fs::File::open(path)
        .and_then(|file| file.take(most).read_to_end(&mut bytes))
        .map_err(|e| load_error(&e))?;
    if bytes.len() > limit {
        return Err(LoadError::TooLarge);
    }
    Ok(bytes)
}

/// A failure of the system as a reason.
fn load_error(error: &std::io::Error) -> LoadError {
    match error.kind() {
        ErrorKind::NotFound => LoadError::NotFound,
        _ => LoadError::Unreadable(super::files::why(error)),
    }
}
