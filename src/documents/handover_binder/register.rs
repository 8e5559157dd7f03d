//! What was fitted: serial numbers, days, warranties, photos; and what has a key or a code.

use crate::build::{Build, Part};
use crate::documents::alike::Teller;
use crate::documents::shared;
use crate::kinds::{Stage, System};
use serde::Serialize;

/// Components of a system.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct SystemRows {
    /// Title of the system.
    pub title: &'static str,
    /// Some component has a fuse or breaker.
    pub fused: bool,
    /// Some component has a serial number or a warranty, or should have.
    pub papered: bool,
    /// Its components.
    pub rows: Vec<ComponentRow>,
}

/// A component, its fuse and its papers.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct ComponentRow {
    /// How many.
    pub quantity: i64,
    /// Name.
    pub name: String,
    /// Anchor of its line.
    pub id: String,
    /// "existing" or "altered"; "" where it is new.
    pub scope: &'static str,
    /// Where; "" where that is told to nobody here.
    pub place: String,
    /// "15 A blade fuse, House panel, way 3"; "" where it has none.
    pub fuse: String,
    /// Serial numbers; "" where none is recorded.
    pub serial: String,
    /// A serial number is missing.
    pub open: bool,
    /// Day its last stage before commissioning was signed; "" where it is not.
    pub installed: String,
    /// Last day of the warranty; "" where it has none.
    pub until: String,
    /// Who gives it, and where its papers are.
    pub papers: String,
}

/// All components by system, systems in the order of documents.
pub(super) fn systems(teller: &Teller<'_>) -> Vec<SystemRows> {
    let build = teller.context().build;
    let group = |system: &System| {
        let parts = build.parts.values().filter(|p| p.kind.system == *system);
        let rows: Vec<ComponentRow> = parts.map(|p| row(teller, p)).collect();
        SystemRows {
            title: system.title(),
            fused: rows.iter().any(|r| !r.fuse.is_empty()),
            papered: rows.iter().any(ComponentRow::has_papers),
            rows,
        }
    };
    System::ALL.iter().map(group).filter(|g| !g.rows.is_empty()).collect()
}

impl ComponentRow {
    fn has_papers(&self) -> bool {
        self.open || [&self.serial, &self.until, &self.papers].iter().any(|text| !text.is_empty())
    }
}

fn row(teller: &Teller<'_>, p: &Part<'_>) -> ComponentRow {
    let build = teller.context().build;
    let serial = shared::serial(build, &p.id);
    let warranty = build.spec.recorded.warranty.get(&p.id);
    let text = |field: &str| warranty.and_then(|w| w.text(field)).unwrap_or("").to_owned();
    let seller = p.common.from_customer.is_set().then(|| "its seller; brought by the owner".to_owned());
    let of = Some(text("of")).filter(|of| !of.is_empty()).or(seller).unwrap_or_default();
    let fact = |name: &str| teller.fact(&p.id, name);
    let way = Some(fact("way")).filter(|way| !way.is_empty()).map(|way| format!("way {way}")).unwrap_or_default();
    let joined = |all: &[&str]| all.iter().filter(|t| !t.is_empty()).copied().collect::<Vec<_>>().join(", ");
    let fused = !fact("fuse").is_empty();
    ComponentRow {
        quantity: p.count,
        name: p.name.clone(),
        id: format!("part-{}", p.id),
        scope: if p.was_there() { p.scope.word() } else { "" },
        place: teller.place(p),
        fuse: if fused { joined(&[fact("fuse"), fact("panel"), &way]) } else { String::new() },
        open: p.carries_serial() && serial.is_empty(),
        serial,
        installed: installed(build, p),
        until: warranty.and_then(|w| w.date("until")).map_or_else(String::new, |d| d.to_string()),
        papers: joined(&[&of, &text("papers")]),
    }
}

fn installed(build: &Build<'_>, part: &Part<'_>) -> String {
    let stages = build.tasks_of(&part.id).map(|t| t.stage);
    let last = stages.filter(|s| *s < Stage::Commissioning).max();
    let signed = last.and_then(|s| build.spec.recorded.signed.get(s.id()));
    signed.and_then(|s| s.value.date).map_or_else(String::new, |d| d.to_string())
}

/// Names of parts with a lock. What is hidden is not among them.
pub(super) fn keys(build: &Build<'_>) -> Vec<String> {
    let locked = |p: &&Part<'_>| {
        let closed = [p.roles.lock(), p.roles.guard(), p.roles.master()];
        let keyed = closed.iter().any(|f| matches!(f.text(), Some("key" | "keyed" | "code")));
        keyed && !p.confidential
    };
    build.parts.values().filter(locked).map(|p| p.name.clone()).collect()
}
