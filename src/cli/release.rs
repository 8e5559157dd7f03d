//! `release`: compiles specs whole and keeps a copy of each that nothing writes over; which release a build comes after.

use super::args::{Release, Wanted};
use super::build::{Order, count};
use super::compare::read_record;
use super::print::Print;
use super::{CLEAN, COULD_NOT_RUN, STOPPED, compile, stop};
use crate::catalogue::Catalogue;
use crate::pipeline::{Earlier, Worked};
use crate::publish::{self, Frozen, digest_of, release_name};
use std::path::Path;

/// How many files a line names.
const NAMED: usize = 4;

pub(super) fn run(print: &Print, catalogue: &Catalogue, args: Release) -> Result<u8, String> {
    let Release { specs, out, typesetter } = args;
    let (no_pdf, take_over) = (false, false);
    let wanted = Wanted { out, only: vec![], stage: vec![], no_pdf, take_over, revision_from: None, typesetter };
    stop::listen();
    compile::all(print, &specs, &Order::of(catalogue, &wanted)?.for_release())
}

/// The revision that a build comes after.
#[derive(Clone, Debug, Default)]
pub(super) struct After {
    pub(super) earlier: Earlier,
    /// Tells it from any other, for what a build depends on.
    pub(super) digest: String,
    /// One line on which it is.
    pub(super) told: String,
    /// Number of the release, 0 where it is a record that was named.
    pub(super) number: u64,
}

impl After {
    /// What a record tells that was named.
    pub(super) fn record(path: &Path) -> Result<Self, String> {
        let (build, revision, digest) = read_record(path)?;
        let of = if revision.is_empty() { String::new() } else { format!("revision {revision} of ") };
        let told = format!("compared with {of}{}", path.display());
        Ok(Self { earlier: Earlier { build, revision, ..Earlier::default() }, digest, told, number: 0 })
    }

    /// The last release of `out/name`; `None` where there is none.
    pub(super) fn last(out: &Path, name: &str) -> Result<Option<Self>, String> {
        let advice = |e: &dyn std::fmt::Display| format!("{e}; `compile --revision-from` goes without the releases");
        let mut releases = publish::releases(out, name).map_err(|e| advice(&e))?;
        let Some(last) = releases.pop() else { return Ok(None) };
        let (build, revision, mut digest) = read_record(&last.record()).map_err(|e| advice(&e))?;
        let mut before = None;
        if let Some(release) = releases.last() {
            let (snapshot, _, of) = read_record(&release.record()).map_err(|e| advice(&e))?;
            digest = digest_of(&[digest.as_bytes(), of.as_bytes()]);
            before = Some(snapshot);
        }
        let spent: Vec<String> = releases.into_iter().map(|r| r.revision).collect();
        digest = digest_of(&[digest.as_bytes(), format!("{spent:?}").as_bytes()]);
        let told = format!("compared with released revision {} in {}", revision, last.folder.display());
        Ok(Some(Self {
            earlier: Earlier { build, revision, before, spent, released: true },
            digest,
            told,
            number: last.number,
        }))
    }
}

/// Why a build cannot be released into `out/name` whatever its content; `None` where it can.
pub(super) fn refusal(worked: &Worked<'_>, out: &Path, name: &str) -> Option<String> {
    let record = &worked.build.spec.build;
    let revision = worked.build.about.revision.text().unwrap_or("");
    if !record.gave("revision") || revision.trim().is_empty() {
        return Some("a release needs a `revision` in [build], as in revision = \"A\"".to_owned());
    }
    let folder = match release_name(revision) {
        Ok(folder) => folder,
        Err(why) => return Some(why),
    };
    // What cannot be read is told when the release is made.
    let taken = publish::releases(out, name).ok()?.into_iter().find(|r| r.folder.ends_with(&folder))?;
    (taken.revision != revision).then(|| taken_by(&taken))
}

fn taken_by(other: &publish::Release) -> String {
    let (folder, revision) = (other.folder.display(), &other.revision);
    format!("revision {revision} is released in {folder}, the folder of this one too; choose another letter or digit")
}

/// Why a build is not released that changed under a revision that is released.
pub(super) const UNRAISED: &str = "a release needs a revision of its own; raise `revision` in [build]";

/// Says what became of a release.
pub(super) fn tell(print: &Print, frozen: &Frozen) -> u8 {
    let raise = "raise `revision` in [build]";
    match frozen {
        Frozen::New(r, edited) => {
            print.note(&format!("released revision {}, number {}: {}", r.revision, r.number, r.folder.display()));
            for (earlier, names) in edited {
                let (revision, folder) = (&earlier.revision, earlier.folder.display());
                let lead = format!("the earlier release {revision} in {folder} is not as it was released");
                print.fault(&format!("{lead}: {}; put its copy back", some_of(names)));
            }
            return CLEAN;
        }
        Frozen::Same(r) => {
            let (revision, folder) = (&r.revision, r.folder.display());
            print.note(&format!("revision {revision} is released already, with the same documents: {folder}"));
            return CLEAN;
        }
        Frozen::Differs(r, names) => {
            let (revision, folder) = (&r.revision, r.folder.display());
            let what =
                format!("{} {}", count(names.len(), "file"), if names.len() == 1 { "differs" } else { "differ" });
            let lead = format!("revision {revision} is released already in {folder}, and {what}");
            print.fault(&format!("{lead}: {}\nnothing was released; {raise}", some_of(names)));
        }
        Frozen::Taken(r) => print.fault(&format!("nothing was released: {}", taken_by(r))),
        Frozen::Damaged(r, names) => {
            let lead = format!("{} is not as it was released", r.folder.display());
            let advice = "nothing was released; put its copy back, or move the folder away";
            let names = if names.is_empty() { "its record names no files".to_owned() } else { some_of(names) };
            print.fault(&format!("{lead}: {names}\n{advice}"));
            return COULD_NOT_RUN;
        }
        Frozen::Overtaken(r) => {
            print.fault(&format!(
                "revision {} was released in the meantime\nnothing was released; run it again",
                r.revision
            ));
            return COULD_NOT_RUN;
        }
    }
    STOPPED
}

/// The first few of a list.
fn some_of(names: &[String]) -> String {
    let shown = names[..names.len().min(NAMED)].join(", ");
    if names.len() > NAMED { format!("{shown} and {} more", names.len() - NAMED) } else { shown }
}
