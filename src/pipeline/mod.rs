//! The one flow: spec text → spec → build → figures → findings → views → Markdown → HTML and Typst.
//!
//! Each arrow is one function here. Nothing below reaches back, and nothing here prints or reads a clock.

mod attached;
mod binder;
mod changes;
mod data;
mod record;
mod sheet;
mod sheets;
mod shop;
mod stale;
mod templates;
mod told;
mod words;

pub use binder::SPEC;
pub use changes::{Earlier, about, change_notice, snapshot, whole_snapshot};
pub use data::{DATA, DataFile, build_schema, data};
pub use record::record_schema;
pub use sheet::{DRAWINGS, Sheet, drawings, page_setup, timestamp};
pub use sheets::{Only, is_document, sheets};
pub use shop::{Checked, Used, check_shop, stock_changes};

use crate::build::{Build, reckon_worse, settle};
use crate::catalogue::Catalogue;
use crate::checks;
use crate::compute::figures::{Computed, Figures};
use crate::compute::handover::{self, Missing};
use crate::compute::readings::Readings;
use crate::compute::time::{DueDates, Schedule, TaskFault};
use crate::compute::upkeep::UpkeepPlan;
use crate::compute::wiring_hours::wiring_hours;
use crate::compute::work_plan;
use crate::diag::{Finding, Severity, Sink};
use crate::documents::fact_book::{FactBook, FactsOf};
use crate::documents::facts::{Facts, Voice};
use crate::documents::snapshot::{Snapshot, Stale};
use crate::kinds::Library;
use crate::papers::Papers;
use crate::render::{Engine, Words};
use crate::source::SourceFile;
use crate::spec::{self, Certificate, Language, Shelf, Spec};
use crate::tables::profile::Profile;
use crate::units::in_words_but_differences;
use serde::Serialize;
use std::borrow::Cow;
use std::cell::{OnceCell, RefCell};
use std::collections::{BTreeMap, HashSet};
use std::fmt;
use std::ops::Deref;
use std::path::Path;
use std::sync::OnceLock;
use told::Open;

/// A fault of rigbinder itself, not of a spec.
#[derive(Clone, Debug)]
pub struct Fault {
    /// What went wrong.
    pub message: String,
}

impl Fault {
    fn of(what: &str, error: &dyn fmt::Display) -> Self {
        Self { message: format!("{what}: {error}; this is a fault of rigbinder, please report it") }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for Fault {}

/// A spec as read, with the kinds it uses.
#[derive(Debug)]
pub struct Loaded {
    /// What it was read by.
    pub catalogue: Catalogue,
    /// The text.
    pub file: SourceFile,
    /// The spec, without what could not be read.
    pub spec: Spec,
    /// The kinds it uses.
    pub library: Library,
    /// Findings of the reader.
    pub findings: Vec<Finding>,
}

impl Loaded {
    /// Reads the papers that the spec names, beside it in its folder.
    pub fn read_papers(&mut self, folder: &Path) {
        let certificates: Vec<_> = self.spec.certificates.iter().map(Certificate::of).collect();
        self.spec.papers = Papers::read(folder, certificates.iter().filter_map(|c| c.file.text()));
    }
}

/// Reads a spec from the bytes of a file called `name`.
///
/// # Errors
/// Where a text of the catalogue does not hold together.
pub fn load(catalogue: &Catalogue, name: &str, bytes: &[u8]) -> Result<Loaded, Fault> {
    let mut sink = Sink::default();
    let mut file = spec::decode_text(name, bytes, &mut sink);
    let shelf = Shelf::gather(catalogue, &mut file, &mut sink);
    let language = Language::of(catalogue).map_err(|e| Fault::of("the spec language cannot be read", &e))?;
    // A kind that the text does not name in quotes is known by its name alone: reading all of them would take longer
    // than the rest of the work. An escape in the text could hide a name, so then all are read.
    let texts = || [&file].into_iter().chain(file.further()).map(|file| file.text.as_str());
    let hidden = texts().any(|text| text.contains('\\'));
    let quoted: HashSet<&str> = texts().flat_map(quoted).collect();
    // What is wrong with a kind of the shop is told as soon as the text has its name anywhere.
    let of_shop: HashSet<&str> =
        catalogue.folder("kinds", "toml").iter().filter(|k| !k.layer.is_built_in()).map(|k| k.stem).collect();
    let mentions =
        |id: &str| hidden || quoted.contains(id) || of_shop.contains(id) && texts().any(|text| text.contains(id));
    let mut library =
        Library::load_where(catalogue, mentions).map_err(|e| Fault::of("a component kind cannot be read", &e))?;
    shop::kinds(catalogue, &library, &mut file, &mut sink, |id| library.is_asked_for(id));
    let common = &language.component;
    let known = library.fields(&common.common, &common.supply, &common.output);
    let mut spec = spec::read(&file, &language, &known, &shelf, &mut sink);
    for (id, component) in &spec.components {
        library.vary(id, &component.kind.value, &component.record);
    }
    settle(&mut spec, &library);
    reckon_worse(&mut spec);
    Ok(Loaded { catalogue: catalogue.clone(), file, spec, library, findings: sink.into_sorted() })
}

/// What stands between two quotes of a text, on one line.
fn quoted(text: &str) -> impl Iterator<Item = &str> {
    text.split(['"', '\'']).filter(|piece| !piece.contains('\n'))
}

/// A spec worked out: the build, its figures, its order of work and all findings.
#[derive(Debug, Serialize)]
pub struct Worked<'a> {
    /// What texts and templates are looked up in.
    #[serde(skip)]
    pub catalogue: Catalogue,
    /// The expanded build.
    pub build: Build<'a>,
    /// All that is computed of it.
    #[serde(flatten)]
    pub figures: Figures,
    /// Order of work; `None` where the tasks run in a circle.
    pub schedule: Option<Schedule>,
    /// What due dates are counted from; `None` without a handover date.
    #[serde(skip)]
    upkeep: Option<UpkeepPlan>,
    /// Due dates, once something asked for them.
    #[serde(skip)]
    due_dates: OnceLock<Option<DueDates>>,
    /// What handover still needs; empty when the van can be handed over.
    pub missing: Vec<Missing>,
    /// All findings, sorted by place, accepted ones marked.
    pub findings: Vec<Finding>,
    /// Signatures and circuit tests that are older than their work.
    #[serde(skip)]
    stale: BTreeMap<String, Stale>,
    /// The text of the spec, and of the shop's folder behind it.
    #[serde(skip)]
    source: &'a SourceFile,
    /// The words of its documents, once something asked for them.
    #[serde(skip)]
    words: OnceLock<Words>,
    /// Facts of the parts, once something asked for them.
    #[serde(skip)]
    facts: OnceLock<FactBook>,
    /// The same for the owner.
    #[serde(skip)]
    said: OnceLock<FactBook>,
    /// What everyone may be told of a build that hides something, once something asked for it.
    #[serde(skip)]
    open: OnceLock<Option<Open>>,
    /// The spec as a PDF may hold it; `None` where none may.
    #[serde(skip)]
    pub attached: Option<Cow<'a, str>>,
}

impl Deref for Worked<'_> {
    type Target = Figures;

    fn deref(&self) -> &Figures {
        &self.figures
    }
}

impl Worked<'_> {
    /// The build and its figures.
    #[must_use]
    pub const fn computed(&self) -> Computed<'_> {
        Computed { build: &self.build, figures: &self.figures }
    }

    /// Due dates, worked out once; `None` without a handover date.
    #[must_use]
    pub fn due_dates(&self) -> Option<&DueDates> {
        let laid_out = || self.upkeep.as_ref().map(|plan| plan.dates(&self.build));
        self.due_dates.get_or_init(laid_out).as_ref()
    }

    /// The facts of the parts, worked out once.
    fn facts(&self) -> &FactBook {
        self.facts.get_or_init(|| FactBook::of(&self.build, &self.electrical, &self.ledger, Voice::Shop))
    }

    /// The facts of the parts as the owner is told them, worked out once.
    fn said(&self) -> &FactBook {
        self.said.get_or_init(|| FactBook::of(&self.build, &self.electrical, &self.ledger, Voice::Owner))
    }

    /// What everyone may be told; `None` where nothing is hidden.
    fn open(&self) -> Option<&Open> {
        self.open.get_or_init(|| Open::of(self)).as_ref()
    }

    /// Whether lines of the spec could not be read: then only the reader's findings are there, and nothing is known of
    /// the rest.
    #[must_use]
    pub const fn unchecked(&self) -> bool {
        self.build.spec.unread > 0
    }

    /// Number of findings that stop, of open warnings, and of accepted ones. Defects as found are none of them.
    #[must_use]
    pub fn counts(&self) -> (usize, usize, usize) {
        let errors = self.findings.iter().filter(|f| f.severity == Severity::Error).count();
        let accepted = self.findings.iter().filter(|f| f.accepted.is_some()).count();
        (errors, self.findings.len() - errors - accepted - self.as_found(), accepted)
    }

    /// Number of defects of existing work.
    #[must_use]
    pub fn as_found(&self) -> usize {
        self.findings.iter().filter(|f| f.severity == Severity::AsFound).count()
    }
}

/// Expands, computes and checks.
///
/// # Errors
/// Where an embedded rule profile does not hold together.
pub fn work_out(loaded: &Loaded) -> Result<Worked<'_>, Fault> {
    work_out_after(loaded, None)
}

/// The same, after an earlier revision: circuits keep the ways they had, and what was signed or tested before its work
/// changed is found.
///
/// # Errors
/// Where an embedded rule profile does not hold together.
pub fn work_out_after<'a>(loaded: &'a Loaded, earlier: Option<&Snapshot>) -> Result<Worked<'a>, Fault> {
    let mut sink = Sink::default();
    let ways = earlier.map(|earlier| changes::kept_ways(earlier, loaded)).unwrap_or_default();
    let build = Build::expand_after(&loaded.spec, &loaded.library, &ways, &mut sink);
    let rules = build.about.rules.text().unwrap_or("us");
    let profile =
        Profile::named(&loaded.catalogue, rules).map_err(|e| Fault::of("a rule profile cannot be read", &e))?;
    let mut figures = Figures::compute(&build, profile);
    let (schedule, task_faults): (_, Vec<TaskFault>) =
        match work_plan::schedule_of(&build, &wiring_hours(&build, &figures.electrical)) {
            Ok(schedule) => (Some(schedule), Vec::new()),
            Err(faults) => (None, faults),
        };
    let (upkeep, upkeep_faults) = UpkeepPlan::of(&build);
    figures.readings = readings_of(&build, &figures);
    let mut worked = Worked {
        catalogue: loaded.catalogue.clone(),
        build,
        figures,
        schedule,
        upkeep,
        due_dates: OnceLock::new(),
        missing: Vec::new(),
        findings: loaded.findings.clone(),
        stale: BTreeMap::new(),
        source: &loaded.file,
        words: OnceLock::new(),
        facts: OnceLock::new(),
        said: OnceLock::new(),
        open: OnceLock::new(),
        attached: attached::open_text(&loaded.file, &loaded.spec),
    };
    // Of a text that is no spec there is nothing more to say; where lines or kinds could not be read, whatever else is
    // found may only follow from their absence.
    let unchecked = loaded.spec.unread > 0 || !loaded.library.faults.is_empty();
    if unchecked {
        sink = Sink::default();
    } else if !loaded.spec.components.is_empty() || loaded.findings.is_empty() {
        let (task_faults, upkeep_faults) = (&task_faults, &upkeep_faults);
        checks::run(&checks::Context { computed: worked.computed(), task_faults, upkeep_faults }, &mut sink);
    }
    worked.findings.extend(sink.into_sorted());
    checks::as_found::apply(&worked.build, &mut worked.findings);
    checks::assumed::apply(&worked.build, &mut worked.findings);
    let mut outdated = Vec::new();
    // Of a build with errors no documents are made, so nothing is compared.
    if let Some(earlier) = earlier.filter(|_| worked.counts().0 == 0) {
        let (stale, findings) = stale::since(&worked, earlier)?;
        worked.stale = stale;
        outdated = findings;
    }
    if !unchecked {
        checks::acceptance::apply(&loaded.spec, &mut worked.findings);
    }
    // Nobody can accept that work was not done: it is done and signed, or not.
    worked.findings.extend(outdated);
    let later = |f: &Finding| unchecked && !spec::is_syntax(f.name);
    worked.findings.sort_by_key(|f| (later(f), f.span.map_or(usize::MAX, |s| s.start), f.severity, f.name));
    worked.missing = handover::missing(&worked.build, &worked.readings, &worked.weight, &worked.findings);
    if unchecked {
        worked.missing.retain(|missing| missing.group == handover::Group::Errors);
    }
    shop::point_at_components(&mut worked, &loaded.file);
    // What the comparison with an earlier revision was told, it was told before all findings were there.
    worked.open = OnceLock::new();
    Ok(worked)
}

/// The tests of a build, judged. The facts of a part are worked out only where a text asks for one.
fn readings_of(build: &Build<'_>, figures: &Figures) -> Readings {
    let engine = OnceCell::new();
    let facts = OnceCell::new();
    let known: RefCell<BTreeMap<String, Facts>> = RefCell::default();
    let say = |part: &str, text: &str| {
        let text = in_words_but_differences(text, build.prints());
        if !text.contains("{{") && !text.contains("{%") {
            return text.into_owned();
        }
        let facts = facts.get_or_init(|| FactsOf::new(build, &figures.electrical, &figures.ledger, Voice::Shop));
        let mut known = known.borrow_mut();
        if !known.contains_key(part) {
            let own = build.bearer(part).map(|p| facts.own(p)).unwrap_or_default();
            known.insert(part.to_owned(), own);
        }
        let own = &known[part];
        let fact = |name: &str| facts.of_all.get(name).or_else(|| own.get(name)).map(String::as_str);
        let engine: &Option<Engine> = engine.get_or_init(|| Engine::new(&[]).ok());
        // A text that cannot be filled in stops the documents; here it only has no figure.
        let said = engine.as_ref().and_then(|e| e.fill(&text, &sheet::asked(&text, fact)).ok());
        said.unwrap_or_default().replace('\\', "")
    };
    Readings::compute(build, &figures.electrical, &say)
}

/// What `explain` knows: findings of the reader, of the expansion, of the checks and of acceptance, by name.
#[must_use]
pub fn finding_docs() -> Vec<crate::diag::FindingDoc> {
    let mut docs: Vec<_> = spec::READ_FINDINGS.to_vec();
    docs.extend_from_slice(spec::SHOP_FINDINGS);
    docs.extend_from_slice(crate::build::BUILD_FINDINGS);
    docs.extend(checks::all().map(|c| c.doc));
    docs.extend_from_slice(checks::acceptance::ACCEPTANCE_FINDINGS);
    docs.extend_from_slice(changes::CHANGE_FINDINGS);
    docs.extend_from_slice(stale::FINDINGS);
    docs.sort_by_key(|d| d.name);
    docs
}
