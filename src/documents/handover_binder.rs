//! The handover binder: what the owner gets, bound in one. Here is its front, and what stands behind the documents
//! bound in it; all opens on what is needed in a hurry.

mod find;
mod register;
mod tested;
mod walk;

use super::alike::{Teller, plain};
use super::hidden::Hidden;
use super::identity;
use super::maintenance_calendar::{self, End};
use super::owners_manual;
use super::shared::{existing, site};
use super::{BuildView, Context, PictureView, test_record};
use crate::compute::handover::{Group, Missing};
use serde::Serialize;

/// File name, without an ending.
pub(crate) const STEM: &str = "handover-binder";

/// What the template prints. Texts are Markdown where their description says so, else plain.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct View {
    /// Head.
    pub build: BuildView,
    /// Who signed the handover; "" while it is a draft.
    pub released: String,
    /// What is missing, in groups; empty when it is released.
    pub missing: Vec<MissingGroup>,
    /// Questions asked in a hurry.
    pub quick: find::Quick,
    /// Whom to call.
    pub contacts: Vec<Contact>,
    /// The walk round the van.
    pub walk: Vec<walk::Station>,
    /// Hidden parts, for the leaf that can be taken out.
    pub hidden: Vec<Hidden>,
    /// Which vehicle it is, for the same leaf.
    pub vehicle: Vec<[String; 2]>,
    /// Cards to cut out.
    pub cards: Vec<PictureView>,
    /// Warnings that were accepted.
    pub accepted: Vec<Accepted>,
    /// What was done otherwise on site.
    pub deviations: Vec<site::DeviationRow>,
    /// What is still to be put right, or was.
    pub snags: Vec<site::SnagRow>,
    /// Papers of those who tested.
    pub certificates: Vec<site::CertificateRow>,
    /// Defects of existing work.
    pub defects: Option<existing::Defects>,
    /// Components with their fuses, serial numbers and warranties.
    pub register: Vec<register::SystemRows>,
    /// What was tested.
    pub tested: tested::Tested,
    /// What is replaced on a day.
    pub replace: Vec<End>,
    /// Locks and codes of this build.
    pub keys: Vec<String>,
    /// Terms and where they are.
    pub index: Vec<IndexEntry>,
}

/// Missing things of a group.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct MissingGroup {
    /// Title.
    pub title: &'static str,
    /// The things, in words: how they are written down is told to the shop where it asks.
    pub items: Vec<MissingThing>,
}

/// A thing that is missing.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct MissingThing {
    /// What.
    pub what: String,
    /// Expected value and tolerance of a reading; "" where there is none.
    pub expect: String,
}

/// Whom to call.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Contact {
    /// What for.
    pub role: String,
    /// Who.
    pub name: String,
    /// Number.
    pub phone: String,
    /// Hours, contract number.
    pub note: String,
}

/// A deviation that was accepted.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Accepted {
    /// Component; "" for the whole build.
    pub about: String,
    /// What deviates.
    pub what: String,
    /// Why it is accepted.
    pub reason: String,
    /// By whom.
    pub by: String,
}

/// A term of the index.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct IndexEntry {
    /// Term.
    pub term: String,
    /// Anchors in the front of the binder.
    pub front: Vec<&'static str>,
    /// Anchors in the manual.
    pub manual: Vec<String>,
    /// Anchor of its line among the components; "" where it has none.
    pub part: String,
}

/// The front of the binder.
#[must_use]
pub(crate) fn view(context: &Context<'_>) -> View {
    let build = context.build;
    let teller = Teller::new(context);
    let manual = owners_manual::view(context);
    let calendar = maintenance_calendar::view(context);
    let contacts = build.spec.contacts.values().map(|r| {
        let text = |field: &str| r.text(field).unwrap_or("").to_owned();
        Contact { role: text("role"), name: text("name"), phone: text("phone"), note: text("note") }
    });
    let draft = !context.missing.is_empty();
    let mut view = View {
        build: BuildView::of(build),
        released: if draft { String::new() } else { super::shared::signed(build, "handover") },
        missing: missing(context),
        quick: find::quick(&teller, &manual, &calendar.replace),
        contacts: contacts.collect(),
        walk: walk::stations(&teller),
        hidden: context.hidden.to_vec(),
        vehicle: identity::of(build),
        cards: context.pictures_of("card").into_iter().cloned().collect(),
        accepted: accepted(context),
        deviations: site::deviations_in_words(context),
        snags: site::snags(build),
        certificates: site::certificates(build),
        defects: existing::defects(context),
        register: register::systems(&teller),
        tested: tested::Tested::of(test_record::view(context)),
        replace: calendar.replace,
        keys: register::keys(build),
        index: index(context, &manual),
    };
    add_questions(&mut view, &manual);
    view
}

fn missing(context: &Context<'_>) -> Vec<MissingGroup> {
    let thing = |m: &Missing| {
        let what = match m.group {
            // One part has several hold points, and a label stands on the cable.
            Group::Holds => match context.build.tasks.get(&m.id) {
                Some(task) => format!("{}: {}", m.what, plain(&super::shared::task_title(context, task))),
                None => m.what.clone(),
            },
            Group::Circuits => format!("{}: {}", m.id, m.what),
            _ => m.what.clone(),
        };
        MissingThing { what, expect: m.expect.clone() }
    };
    let group = |of_group: &[Missing]| MissingGroup {
        title: of_group[0].group.title(),
        items: of_group.iter().map(thing).collect(),
    };
    let all = context.missing;
    all.chunk_by(|a, b| a.group == b.group).map(group).collect()
}

/// The accepted warnings of a build, in the order of the findings.
fn accepted(context: &Context<'_>) -> Vec<Accepted> {
    let one = |f: &crate::diag::Finding| {
        let acceptance = f.accepted.as_ref()?;
        let about = f.subject.as_deref().filter(|id| context.build.parts.contains_key(*id));
        Some(Accepted {
            about: about.map_or_else(String::new, |id| context.build.name(id).to_owned()),
            what: f.headline.clone(),
            reason: acceptance.reason.clone(),
            by: acceptance.by.clone(),
        })
    };
    context.findings.iter().filter_map(one).collect()
}

/// Terms of the manual, with the line of the schedule where one is a component.
fn index(context: &Context<'_>, manual: &owners_manual::View) -> Vec<IndexEntry> {
    let entry = |e: &owners_manual::Entry| IndexEntry {
        term: e.term.clone(),
        front: if e.term == "Whom to call" { vec!["call"] } else { Vec::new() },
        manual: e.links.iter().map(|l| l.id.clone()).collect(),
        part: context.build.named(&e.term).map_or_else(String::new, |p| format!("part-{}", p.id)),
    };
    manual.index.iter().map(entry).collect()
}

/// Words under which an owner looks for what is no component and no section of the manual.
fn add_questions(view: &mut View, manual: &owners_manual::View) {
    let frost = view.quick.frost.as_ref().map(|f| f.id.clone());
    // On a card, and among the limits in the manual.
    let told = |card: &str, word: &str| {
        let card = view.cards.iter().any(|c| c.file.contains(card)).then_some("cards");
        let limit = manual.limits.iter().any(|l| l.label.to_lowercase().contains(word)).then_some("limits");
        (card.is_some() || limit.is_some(), card, limit)
    };
    let (height, tyres, weight) =
        (told("card-height", "height"), told("card-tyres", "tyres"), told("card-weight", "mass"));
    let mut put = |there: bool, term: &str, front: Option<&'static str>, section: Option<&str>| {
        if there {
            view.index.push(IndexEntry {
                term: term.to_owned(),
                front: front.into_iter().collect(),
                manual: section.map(str::to_owned).into_iter().collect(),
                part: String::new(),
            });
        }
    };
    put(true, "Deviations, accepted", Some("accepted"), None);
    put(true, "Tests, what was measured", Some("tested"), None);
    put(!view.certificates.is_empty(), "Certificates", Some("certificates"), None);
    put(!view.snags.is_empty(), "Snag list", Some("snags"), None);
    put(!view.deviations.is_empty(), "Deviations on site", Some("on-site"), None);
    put(view.defects.is_some(), "Defects of earlier work", Some("as-found"), None);
    put(frost.is_some(), "Frost, what to do before it", None, frost.as_deref());
    put(!manual.spares.is_empty(), "Fuses, spare", None, Some("spares"));
    put(height.0, "Height of the van", height.1, height.2);
    put(true, "Keys and codes", Some("keys"), None);
    put(!manual.shut_off.is_empty(), "Leaks, what to shut off", None, Some("shut-off"));
    put(!view.hidden.is_empty(), "Hidden parts", Some("private-leaf"), None);
    put(!view.replace.is_empty(), "Replacement dates", Some("replace"), None);
    put(!view.register.is_empty(), "Serial numbers", Some("register"), None);
    put(tyres.0, "Tyre pressures", tyres.1, tyres.2);
    put(!view.walk.is_empty(), "Walk round the van", Some("walk"), None);
    put(!view.register.is_empty(), "Warranties", Some("register"), None);
    put(weight.0, "Weight of the van", weight.1, weight.2);
    view.index.sort_by_cached_key(|e| e.term.to_lowercase());
}
