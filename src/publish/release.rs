//! Released revisions: copies of an output that nothing writes over, in `out/<name>.released/<revision>/`.
//!
//! A release is filled beside its place, put on the disk, and renamed to where nothing stands: at every instant it is
//! there whole or not at all. The record in it bears its running number, so that the last one is known without a clock.

use super::error::{PublishError, at, plainly};
use super::leftovers::{place, remove, staged, staging_start};
use super::swap::{name_of, rename_to_free, sync_folder};
use super::{Entry, Output, RECORD, Record};
use crate::digest::digest;
use crate::files::{self, Kind};
use serde::Deserialize;
use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Longest name of a release's folder, in characters.
const LONGEST: usize = 60;

/// The last number of a release: one a day would reach it after two thousand years.
const LAST: u64 = 999_999;

/// A released revision.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Release {
    /// Where it stands.
    pub folder: PathBuf,
    /// Its revision, as the spec had it.
    pub revision: String,
    /// Running number, from 1.
    pub number: u64,
    /// Digest of the record of the release before it, where there was one.
    after: Option<String>,
}

impl Release {
    /// Its record.
    #[must_use]
    pub fn record(&self) -> PathBuf {
        self.folder.join(RECORD)
    }
}

/// What became of a release.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Frozen {
    /// It stands there now. Of the releases before it, those that are not as they were made, with the files that differ.
    New(Release, Vec<(Release, Vec<String>)>),
    /// It stood there with the same documents.
    Same(Release),
    /// It stood there with other documents, and still does: names of those that differ.
    Differs(Release, Vec<String>),
    /// It stood there and is not as it was made: names of files that are missing or were changed.
    Damaged(Release, Vec<String>),
    /// A release of a revision that is written otherwise has its folder.
    Taken(Release),
    /// Another release came in between, so that the documents were compared with one that is no longer the last.
    Overtaken(Release),
}

/// What a record tells of a release; the rest is passed over.
#[derive(Deserialize)]
struct Told {
    #[serde(default)]
    revision: String,
    release: Number,
}

#[derive(Deserialize)]
struct Number {
    number: u64,
    #[serde(default)]
    after: Option<String>,
}

/// A text as the name of a folder: small Latin letters and digits, all else as `-`; `None` where nothing is left.
#[must_use]
pub fn folder_name(text: &str) -> Option<String> {
    let sign = |c: char| if c.is_ascii_alphanumeric() { c } else { '-' };
    let plain: String = text.to_lowercase().chars().map(sign).collect();
    Some(plain.trim_matches('-').to_owned()).filter(|name| !name.is_empty())
}

/// The folder of a revision's release, below that of all releases.
///
/// # Errors
/// Why the revision cannot name one.
pub fn release_name(revision: &str) -> Result<String, String> {
    let name = folder_name(revision)
        .ok_or_else(|| format!("revision `{revision}` has no Latin letter or digit to name a folder by"))?;
    if name.len() > LONGEST {
        return Err(format!("the revision has more than {LONGEST} letters; write a shorter one"));
    }
    Ok(name)
}

/// The releases of `out/name`, the first one first.
///
/// # Errors
/// Where one of them has a record that cannot be read: then nobody knows which is the last.
pub fn releases(out: &Path, name: &str) -> Result<Vec<Release>, PublishError> {
    let place = place(out, name);
    match files::kind(&place) {
        Some(Kind::Folder) => {}
        None => return Ok(Vec::new()),
        Some(other) => return Err(no_folder(&place, other)),
    }
    let mut found = Vec::new();
    for entry in at(&place, fs::read_dir(&place))? {
        let folder = place.join(at(&place, entry)?.file_name());
        if name_of(&folder).starts_with('.') {
            continue;
        }
        let record = folder.join(RECORD);
        // Through a link it would be a release that stands elsewhere.
        if files::kind(&folder) == Some(Kind::Link) && record.exists() {
            return Err(no_folder(&folder, Kind::Link));
        }
        if files::is_folder(&folder) && files::kind(&record).is_some() {
            found.push(told_by(folder, &record)?);
        }
    }
    found.sort_by(|a, b| (a.number, &a.folder).cmp(&(b.number, &b.folder)));
    if let Some(pair) = found.windows(2).find(|pair| pair[0].number == pair[1].number) {
        let why = format!("says that it is release {}, as does {}", pair[1].number, pair[0].folder.display());
        return Err(damaged_record(&pair[1].record(), &why));
    }
    Ok(found)
}

/// The release in a folder, as its record tells.
fn told_by(folder: PathBuf, record: &Path) -> Result<Release, PublishError> {
    let bytes = files::read(record).map_err(|e| damaged_record(record, &plainly(&e)))?;
    let told: Told = serde_json::from_slice(&bytes)
        .map_err(|e| damaged_record(record, &format!("is no record of a release ({e})")))?;
    let number = told.release.number;
    if !(1..=LAST).contains(&number) {
        return Err(damaged_record(record, &format!("says that it is release {number}, which none can be")));
    }
    Ok(Release { folder, revision: told.revision, number, after: told.release.after })
}

fn no_folder(path: &Path, there: Kind) -> PublishError {
    let why = format!("is {}, where a folder of releases goes; move it away", there.words());
    PublishError::own(path, io::ErrorKind::AlreadyExists, why)
}

/// Releases that are not as they were made, with the names of the files that differ.
fn edited(releases: &[Release]) -> Vec<(Release, Vec<String>)> {
    let mut found = Vec::new();
    for (at, release) in releases.iter().enumerate() {
        let mut names = broken(&release.folder, &Record::read(&release.folder));
        // A record cannot hold its own digest; that of the next release does.
        let next = releases.get(at + 1).filter(|next| next.number == release.number + 1);
        if let Some(known) = next.and_then(|next| next.after.as_ref())
            && files::read(&release.record()).is_ok_and(|bytes| digest(&bytes) != *known)
        {
            names.push(RECORD.to_owned());
        }
        if !names.is_empty() {
            found.push((release.clone(), names));
        }
    }
    found
}

/// Names of the documents of a release that are missing or not as its record says.
fn broken(folder: &Path, record: &Record) -> Vec<String> {
    let as_made = |(name, entry): &(&String, &Entry)| {
        files::read(&folder.join(name)).is_ok_and(|bytes| digest(&bytes) == entry.digest)
    };
    record.documents.iter().filter(|e| !as_made(e)).map(|(name, _)| name.clone()).collect()
}

fn damaged_record(record: &Path, why: &str) -> PublishError {
    let advice = "put its copy back, or move the folder away";
    PublishError::own(record, io::ErrorKind::InvalidData, format!("{why}; {advice}"))
}

impl Output {
    /// Freezes a copy of the output as the release of `revision`, which [`release_name`] must accept. `after` is the
    /// number of the last release that its documents were compared with, 0 where there was none.
    ///
    /// # Errors
    /// Where something cannot be written or the output is not as its record says; no release stands there then.
    pub fn freeze(&self, revision: &str, after: u64) -> Result<Frozen, PublishError> {
        let (out, name) = (self.target.parent().unwrap_or(Path::new("")), name_of(&self.target));
        let place = place(out, &name);
        let refuse = |why: String| PublishError::own(&place, io::ErrorKind::InvalidInput, why);
        let folder = place.join(release_name(revision).map_err(refuse)?);
        let record = Record::read(&self.target);
        let releases = releases(out, &name)?;
        if let Some(there) = releases.iter().find(|r| r.folder == folder) {
            return Ok(measured(there.clone(), revision, &record));
        }
        if files::kind(&folder).is_some() {
            let why = "is no release, but stands where one goes; move it away";
            return Err(PublishError::own(&folder, io::ErrorKind::AlreadyExists, why));
        }
        let last = releases.last().filter(|last| last.number != after);
        if let Some(last) = last {
            return Ok(Frozen::Overtaken(last.clone()));
        }
        let number = after + 1;
        if number > LAST {
            return Err(PublishError::own(
                &place,
                io::ErrorKind::InvalidInput,
                "holds as many releases as there can be",
            ));
        }
        let before = releases.last().map(Release::record);
        let before = before.map(|record| at(&record, files::read(&record))).transpose()?;
        let release =
            Release { folder, revision: revision.to_owned(), number, after: before.map(|bytes| digest(&bytes)) };
        if files::kind(&place).is_none() {
            at(&place, fs::create_dir(&place))?;
        }
        sync_folder(if out.as_os_str().is_empty() { Path::new(".") } else { out })?;
        let staged = Staged::begin(&place)?;
        staged.fill(&self.target, record, &release)?;
        at(&release.folder, rename_to_free(&staged.folder, &release.folder))?;
        sync_folder(&place)?;
        Ok(Frozen::New(release, edited(&releases)))
    }
}

/// What a release that stands there is to an output with `record`.
fn measured(there: Release, revision: &str, record: &Record) -> Frozen {
    if there.revision != revision {
        return Frozen::Taken(there);
    }
    let released = Record::read(&there.folder);
    let broken = broken(&there.folder, &released);
    if !broken.is_empty() || released.documents.is_empty() {
        return Frozen::Damaged(there, broken);
    }
    // Another version of the typesetter makes other bytes of the same document.
    let content = |of: &Record, name: &str| {
        of.documents.get(name).map(|e| e.source_digest.clone().unwrap_or_else(|| e.digest.clone()))
    };
    let names: BTreeSet<&String> = released.documents.keys().chain(record.documents.keys()).collect();
    let differ = names.into_iter().filter(|name| content(&released, name) != content(record, name));
    let differ: Vec<String> = differ.cloned().collect();
    if differ.is_empty() { Frozen::Same(there) } else { Frozen::Differs(there, differ) }
}

/// A release being filled. Dropped before it is renamed, it leaves no trace.
struct Staged {
    folder: PathBuf,
}

impl Staged {
    fn begin(place: &Path) -> Result<Self, PublishError> {
        let folder = place.join(format!("{}{}", staging_start(&staged(place)), std::process::id()));
        at(&folder, fs::create_dir(&folder))?;
        Ok(Self { folder })
    }

    /// Copies all that the record of `from` names, and puts it on the disk. Copies, not links: what is done to a file
    /// of the output must not reach the release.
    fn fill(&self, from: &Path, mut record: Record, release: &Release) -> Result<(), PublishError> {
        let mut folders = BTreeSet::from([self.folder.clone()]);
        for (name, entry) in &record.documents {
            let (path, new) = (from.join(name), self.folder.join(name));
            let bytes = at(&path, files::read(&path))?;
            if digest(&bytes) != entry.digest {
                let why = "was changed since it was made; compile again";
                return Err(PublishError::own(&path, io::ErrorKind::InvalidData, why));
            }
            if let Some(folder) = new.parent() {
                at(folder, fs::create_dir_all(folder))?;
                folders.insert(folder.to_owned());
            }
            at(&new, written_for_good(&new, &bytes))?;
        }
        let mut told = serde_json::json!({ "number": release.number });
        if let Some(after) = &release.after {
            told["after"] = after.as_str().into();
        }
        record.about.insert("release".to_owned(), told);
        let path = self.folder.join(RECORD);
        at(&path, written_for_good(&path, record.to_json().as_bytes()))?;
        folders.iter().rev().try_for_each(|folder| sync_folder(folder))
    }
}

impl Drop for Staged {
    fn drop(&mut self) {
        if let Some(place) = self.folder.parent().filter(|_| files::is_folder(&self.folder)) {
            // What cannot be removed now the next run removes.
            drop(remove(&self.folder, &staged(place)));
        }
    }
}

/// Writes a file that nobody may write to, and puts it on the disk.
fn written_for_good(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = File::create_new(path)?;
    file.write_all(bytes)?;
    file.set_permissions(read_only(file.metadata()?.permissions()))?;
    file.sync_all()
}

#[cfg(unix)]
fn read_only(mut permissions: fs::Permissions) -> fs::Permissions {
    use std::os::unix::fs::PermissionsExt;
    permissions.set_mode(0o444);
    permissions
}

#[cfg(not(unix))]
fn read_only(mut permissions: fs::Permissions) -> fs::Permissions {
    permissions.set_readonly(true);
    permissions
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_revision_names_a_folder_that_stays_where_it_belongs() {
        for (revision, name) in
            [("C", "c"), ("../x", "x"), ("C/1", "c-1"), (" B 2 ", "b-2"), ("é7", "7"), ("a.b", "a-b")]
        {
            assert_eq!(release_name(revision).as_deref(), Ok(name), "{revision:?}");
        }
        for revision in ["", " ", ".", "..", "/", "Ж", "\u{0}"] {
            assert!(release_name(revision).is_err(), "{revision:?}");
        }
        assert!(release_name(&"x".repeat(LONGEST)).is_ok() && release_name(&"x".repeat(LONGEST + 1)).is_err());
    }
}
