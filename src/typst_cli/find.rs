//! Finds `typst` and checks its version.

use std::ffi::OsStr;
use std::io;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

use super::TypstError;
use super::process::{self, End};

/// The series of versions that the style is made for.
pub const VERSION: &str = "0.15";
/// What to tell a person who has no `typst`.
pub const WAYS_TO_GET: &str =
    "get it with `cargo install --locked typst-cli@0.15.1` (about 7 minutes, once) or `make binder`";

/// A `typst` program of the right version.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Typst {
    /// Where it is.
    pub path: PathBuf,
    /// Its version, such as `0.15.1`.
    pub version: String,
}

impl Typst {
    /// Looks for the program: at `explicit`, in `tool_folder` (and its `bin`), then in the folders of `search_path`
    /// (the value of `PATH`). An explicit path that is wrong is an error; elsewhere a wrong version is passed over.
    ///
    /// # Errors
    /// [`TypstError::NotFound`], [`TypstError::WrongVersion`] or [`TypstError::NotStarted`].
    pub fn find(
        explicit: Option<&Path>,
        tool_folder: Option<&Path>,
        search_path: Option<&OsStr>,
        stop: &(dyn Fn() -> bool + Sync),
    ) -> Result<Self, TypstError> {
        if let Some(path) = explicit {
            let bare = path.parent().is_some_and(|folder| folder.as_os_str().is_empty());
            if path.is_dir() {
                let message = "it is a folder; name the program in it".to_owned();
                return Err(TypstError::NotStarted { path: path.to_owned(), message });
            }
            if path.is_file() {
                // The system looks for a bare name in other folders.
                return probe(&if bare { Path::new(".").join(path) } else { path.to_owned() }, stop);
            }
            let on_path = search_path.into_iter().flat_map(std::env::split_paths).map(|folder| folder.join(path));
            let found = on_path.filter(|_| bare).find(|path| path.is_file());
            return found
                .map_or_else(|| Err(TypstError::NotFound { tried: vec![path.to_owned()] }), |path| probe(&path, stop));
        }
        let name = format!("typst{}", std::env::consts::EXE_SUFFIX);
        let mut folders: Vec<PathBuf> = Vec::new();
        if let Some(folder) = tool_folder {
            folders.push(folder.join("bin"));
            folders.push(folder.to_owned());
        }
        if let Some(path) = search_path {
            folders.extend(std::env::split_paths(path));
        }
        let mut wrong = None;
        for folder in &folders {
            let path = folder.join(&name);
            if path.is_file() {
                match probe(&path, stop) {
                    Ok(found) => return Ok(found),
                    Err(TypstError::Stopped) => return Err(TypstError::Stopped),
                    Err(error) => wrong = wrong.or(Some(error)),
                }
            }
        }
        Err(wrong.unwrap_or(TypstError::NotFound { tried: tool_folder.map(Path::to_owned).into_iter().collect() }))
    }
}

/// Why a file could not be started, for a person.
fn why(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::PermissionDenied => "it may not be run as a program".to_owned(),
        // The system has no word of its own kind for what is neither a program nor a script.
        _ if error.raw_os_error() == Some(NO_PROGRAM) => "it is no program".to_owned(),
        _ => error.to_string(),
    }
}

/// `ENOEXEC` of POSIX systems.
const NO_PROGRAM: i32 = 8;

/// Longest time for `--version`.
const PATIENCE: Duration = Duration::from_secs(10);

fn probe(path: &Path, stop: &(dyn Fn() -> bool + Sync)) -> Result<Typst, TypstError> {
    let not_started = |message: String| TypstError::NotStarted { path: path.to_owned(), message };
    let mut command = Command::new(path);
    command.arg("--version").stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::null());
    let ran = process::run(&mut command, PATIENCE, stop).map_err(|e| not_started(why(&e)))?;
    if ran.end == End::Stopped {
        return Err(TypstError::Stopped);
    }
    if ran.end == End::TimedOut {
        return Err(not_started(format!("no answer to `--version` within {} s", PATIENCE.as_secs())));
    }
    let said = ran.said.trim();
    let version = said.strip_prefix("typst ").and_then(|rest| rest.split_whitespace().next());
    match version {
        Some(version) if version.starts_with(VERSION) && version[VERSION.len()..].starts_with('.') => {
            Ok(Typst { path: path.to_owned(), version: version.to_owned() })
        }
        _ => Err(TypstError::WrongVersion {
            path: path.to_owned(),
            said: said.lines().next().unwrap_or_default().chars().take(80).collect(),
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_found_says_how_to_get_it() {
        let error = Typst::find(None, None, None, &|| false).expect_err("no place given");
        assert!(error.to_string().contains("cargo install --locked typst-cli@0.15.1"));
        let error = Typst::find(Some(Path::new("/no/such/typst")), None, None, &|| false).expect_err("missing");
        assert!(error.to_string().contains("/no/such/typst"), "{error}");
    }
}
