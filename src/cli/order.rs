//! What to make, and with what: the same for all builds of a run.

use super::after::After;
use super::args::Wanted;
use super::house::House;
use super::{clock, stop};
use crate::documents;
use crate::kinds::Stage;
use crate::pipeline::Loaded;
use crate::pipeline::Only;
use crate::publish::digest_of;
use crate::typst_cli::{Typst, TypstError};
use std::path::Path;
use std::time::SystemTime;

/// What to make, and with what: the same for all builds of a run.
pub(super) struct Order<'a> {
    /// What specs are read by.
    pub(super) house: &'a House<'a>,
    pub(super) wanted: &'a Wanted,
    /// Whether a copy is to be kept as a release.
    pub(super) release: bool,
    pub(super) only: Only,
    /// The typesetter, or why there is none; `None` where none is asked for.
    pub(super) typst: Option<Result<Typst, TypstError>>,
    /// The earlier revision to compare with, where it was named; else each build has its own.
    named: Option<After>,
    /// Tells this program from any other, on this machine; `None` where it cannot be told.
    program: Option<String>,
}

impl<'a> Order<'a> {
    /// Looks for the typesetter.
    #[expect(clippy::disallowed_methods, reason = "the command line looks at clock and path")]
    pub(super) fn of(house: &'a House<'a>, wanted: &'a Wanted) -> Result<Self, String> {
        if let Some(fault) = clock::fault(SystemTime::now()) {
            return Err(fault);
        }
        let only = only(wanted)?;
        let path = std::env::var_os("PATH");
        let find = || {
            Typst::find(
                wanted.typesetter.typst.as_deref().filter(|p| !p.as_os_str().is_empty()),
                Some(Path::new(".tools")),
                path.as_deref(),
                &stop::asked,
            )
        };
        let typst = (!wanted.no_pdf).then(find);
        let named = wanted.revision_from.as_deref().map(After::record).transpose()?;
        Ok(Self { house, wanted, release: false, only, typst, named, program: program() })
    }

    /// The same, with a copy kept as a release.
    pub(super) fn for_release(self) -> Self {
        Self { release: true, ..self }
    }

    /// The revision that a build comes after: the one that was named, else its last release.
    pub(super) fn after(&self, name: &str) -> Result<Option<After>, String> {
        self.named.clone().map_or_else(|| After::last(&self.wanted.out, name), |named| Ok(Some(named)))
    }

    /// Digest over all that the output of a spec depends on. A release is worked out whatever stands there.
    pub(super) fn inputs(&self, loaded: &Loaded, after: Option<&After>) -> Option<String> {
        let (catalogue, file) = (&loaded.catalogue, &loaded.file);
        let typst = match &self.typst {
            None => "",
            Some(found) => found.as_ref().ok()?.version.as_str(),
        };
        let wanted = format!("{:?}", self.wanted);
        let earlier = after.map_or("", |after| &after.digest);
        let parts = [self.program.as_ref()?, typst, &wanted, earlier, &file.name, &file.text];
        let mut parts: Vec<&[u8]> = parts.into_iter().map(str::as_bytes).collect();
        if let Some(layer) = catalogue.shop() {
            parts.push(layer.name().as_bytes());
            parts.extend(layer.paths().flat_map(|path| [path.as_bytes(), layer.bytes(path).unwrap_or_default()]));
        }
        for paper in loaded.spec.papers.there() {
            parts.extend([paper.copy.as_bytes(), paper.digest.as_bytes()]);
        }
        Some(digest_of(&parts))
    }
}

/// Path, size and date of the program that runs: a new one may write other documents of the same spec.
#[expect(clippy::disallowed_methods, reason = "the command line looks at its own program")]
fn program() -> Option<String> {
    let path = std::env::current_exe().ok()?;
    let about = std::fs::metadata(&path).ok()?;
    Some(format!("{} {} {:?}", path.display(), about.len(), about.modified().ok()?))
}

/// Which documents are asked for.
pub(super) fn only(args: &Wanted) -> Result<Only, String> {
    let asks_for_packets = || documents::ALL.iter().any(|d| d.per_stage() && args.only.iter().any(|w| w == d.word));
    if !args.stage.is_empty() && !args.only.is_empty() && !asks_for_packets() {
        return Err("--stage chooses among the packets; leave --only out, or add --only packet".to_owned());
    }
    let stage = |id: &String| {
        let ids: Vec<_> = Stage::ALL.iter().map(|s| s.id()).collect();
        Stage::from_id(id).ok_or_else(|| format!("there is no stage `{id}`; stages are {}", ids.join(", ")))
    };
    let stages = args.stage.iter().map(stage).collect::<Result<_, _>>()?;
    Ok(Only { documents: args.only.clone(), stages })
}
