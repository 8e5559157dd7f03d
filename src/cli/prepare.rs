//! Specs worked out side by side, with their documents as text.

use super::after::{self, read_record};
use super::args::DATA;
use super::order::Order;
use super::spec_file::{load, summary};
use crate::diag::Finding;
use crate::parallel;
use crate::pipeline::{self, DataFile, Sheet};
use crate::publish::{RECORD, sealed};
use crate::source::SourceFile;
use crate::typeset::Logo;
use std::borrow::Cow;
use std::path::{Path, PathBuf};

/// A spec worked out, with its documents as text.
#[derive(Debug)]
pub(super) struct Prepared {
    /// Folder of its output, below the folder of all.
    pub(super) name: String,
    /// The spec.
    pub(super) file: SourceFile,
    /// The spec as a PDF may hold it, where that is another text.
    pub(super) attached: Option<String>,
    /// Its path as given.
    pub(super) path: PathBuf,
    /// All findings.
    pub(super) findings: Vec<Finding>,
    /// Number of findings that stop.
    pub(super) errors: usize,
    /// Whether lines could not be read, so that nothing but the reader's findings is known.
    pub(super) unchecked: bool,
    /// One line on what there is and what was found.
    pub(super) summary: String,
    /// One line on the revision it was compared with, where it was.
    pub(super) compared: Option<String>,
    /// Why it cannot be released, where that is asked for.
    pub(super) refused: Option<String>,
    /// Its revision.
    pub(super) revision: String,
    /// Number of the release it was compared with, else 0.
    pub(super) after: u64,
    /// The documents; none where findings stop, or where the output is known to hold them.
    pub(super) sheets: Vec<Sheet>,
    /// What the record tells of the build.
    pub(super) about: serde_json::Map<String, serde_json::Value>,
    /// The data files, which every choice of documents brings.
    pub(super) data: Vec<DataFile>,
    /// Number of documents, where all of them stand in the output as they shall be.
    pub(super) untouched: Option<usize>,
    /// Digest over all that the output depends on; `None` where it is not known.
    pub(super) inputs: Option<String>,
    /// Seconds since 1970 of the documents' date.
    pub(super) timestamp: i64,
    /// The logo of the shop.
    pub(super) logo: Option<Logo>,
}

impl Prepared {
    /// Whether nothing stops it.
    pub(super) const fn goes_on(&self) -> bool {
        self.errors == 0 && self.refused.is_none()
    }
}

/// Works out specs, as many at once as there are cores. Results stand in the order given.
pub(super) fn prepare(specs: &[(&Path, &str)], order: &Order<'_>) -> Vec<Result<Prepared, String>> {
    parallel::map(specs.len(), |at| prepare_one(specs[at].0, specs[at].1, order))
}

fn prepare_one(spec: &Path, name: &str, order: &Order<'_>) -> Result<Prepared, String> {
    let loaded = load(order.house, spec)?;
    let after = order.after(name)?;
    let earlier = after.as_ref().map(|after| &after.earlier);
    let worked = pipeline::work_out_after(&loaded, earlier.map(|earlier| &earlier.build)).map_err(|e| e.to_string())?;
    let (errors, ..) = worked.counts();
    let mut refused = if order.release { after::refusal(&worked, &order.wanted.out, name) } else { None };
    let unchecked = worked.unchecked();
    let setup = pipeline::page_setup(&worked);
    let (timestamp, logo) = (pipeline::timestamp(&setup), setup.brand.logo);
    let inputs = order.inputs(&loaded, after.as_ref()).filter(|_| errors == 0 && !order.release);
    let untouched = inputs.as_ref().and_then(|i| sealed(&order.wanted.out, name, i, pipeline::is_document));
    let (mut sheets, mut data) = (Vec::new(), Vec::new());
    let mut about = serde_json::Map::new();
    let mut unraised = None;
    if errors == 0 && refused.is_none() && untouched.is_none() {
        // The data files first: what they are made from is large, and gone again before the texts are.
        data = pipeline::data(&worked).map_err(|e| e.to_string())?;
        let papers = loaded.spec.papers.there();
        data.extend(papers.map(|paper| DataFile { name: paper.copy.clone(), bytes: paper.bytes.clone() }));
        sheets = pipeline::sheets(&worked, &order.only).map_err(|e| e.to_string())?;
        if sheets.is_empty() && !order.wanted.only.iter().any(|word| word == DATA) {
            return Err("this build has no such document: the stage asked for has no work in it".to_owned());
        }
        if order.wanted.whole() {
            let snapshot = pipeline::snapshot(&worked, &sheets).map_err(|e| e.to_string())?;
            if let Some(earlier) = earlier {
                let (notice, finding) = earlier.lead_to(&worked, &snapshot).map_err(|e| e.to_string())?;
                unraised = finding;
                sheets.extend(notice);
            }
            about = pipeline::about(&worked, &snapshot).map_err(|e| e.to_string())?;
        }
    } else if let (Some(earlier), Some(_), true) = (earlier, untouched, order.wanted.whole()) {
        // What stands there tells what it is.
        let record = read_record(&order.wanted.out.join(name).join(RECORD));
        unraised = record.ok().and_then(|(snapshot, ..)| earlier.unraised_in(&worked, &snapshot));
    }
    if order.release && unraised.is_some() {
        refused = Some(after::UNRAISED.to_owned());
    }
    let summary = summary(&worked, usize::from(unraised.is_some()));
    let revision = worked.build.about.revision.or_empty().to_owned();
    let attached = match worked.attached {
        Some(Cow::Owned(text)) => Some(text),
        _ => None,
    };
    let mut findings = worked.findings;
    findings.extend(unraised);
    let name = name.to_owned();
    let (compared, after) = after.map_or((None, 0), |after| (Some(after.told), after.number));
    Ok(Prepared {
        name,
        file: loaded.file,
        attached,
        path: spec.to_owned(),
        findings,
        errors,
        unchecked,
        summary,
        compared,
        refused,
        revision,
        after,
        sheets,
        about,
        data,
        untouched,
        inputs,
        timestamp,
        logo,
    })
}
