//! What became of a release.

use super::after::taken_by;
use super::print::Print;
use super::spec_file::count;
use super::{CLEAN, COULD_NOT_RUN, STOPPED};
use crate::publish::Frozen;

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

/// How many files a line names.
const NAMED: usize = 4;
