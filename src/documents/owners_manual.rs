//! The owner's manual: read on a phone, at night, far from the shop. Emergencies first, facts of this build only.

mod card;
mod danger;
mod data;
mod finder;
mod lookup;
mod maps;
mod procedure;
mod seasons;
mod start;
mod systems;
mod whole;

use super::alike::{Teller, Told};
use super::maintenance_calendar::{self, Round};
use super::shared::existing;
use super::{BuildView, Context, PictureView};
use crate::build::Part;
use crate::compute::isolation;
use crate::kinds::System;
pub(crate) use danger::ShutOff;
pub(crate) use data::{DefectText, Texts};
pub(crate) use lookup::Entry;
use serde::Serialize;
use std::collections::BTreeMap;
use whole::Whole;

/// What the template prints. Texts are Markdown where their description says so, else plain.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct View {
    /// Head.
    pub build: BuildView,
    /// Handover day in words; "" where there is none.
    pub handover: String,
    /// Whom to call.
    pub contacts: Vec<start::Contact>,
    /// What to shut off, and where it is.
    pub shut_off: Vec<danger::ShutOff>,
    /// Safety gear, and where it is.
    pub safety: Vec<danger::Gear>,
    /// Emergency cards.
    pub emergencies: Vec<card::Card>,
    /// Drawings by subject.
    pub drawings: BTreeMap<String, Vec<PictureView>>,
    /// Who may use it, as Markdown.
    pub intended: Vec<String>,
    /// What it is not for, as Markdown.
    pub not_for: Vec<String>,
    /// What the van is for, as Markdown; "" where the spec does not say.
    pub purpose: String,
    /// Limits of vehicle and use.
    pub limits: Vec<Pair>,
    /// What bank, inverter and shore supply can give.
    pub supply: Vec<Pair>,
    /// Defects of earlier work that are still there.
    pub defects: Vec<existing::Defect>,
    /// Something is still missing for the handover.
    pub draft: bool,
    /// Check list of the first day.
    pub first_day: Vec<Line>,
    /// Single checks after the handover.
    pub first_weeks: Vec<start::FirstCheck>,
    /// Systems that are fitted, in the order of documents.
    pub systems: Vec<systems::SystemView>,
    /// Gas is aboard.
    pub gas: bool,
    /// Titles of systems that are not fitted.
    pub absent: Vec<&'static str>,
    /// Panels with numbered ways.
    pub panels: Vec<maps::PanelMap>,
    /// Switches and dimmers on their own.
    pub controls: Vec<maps::Control>,
    /// Panels of switches, lamps and displays.
    pub boards: Vec<maps::Board>,
    /// Outlets.
    pub outlets: Vec<maps::Outlet>,
    /// From what stopped to its fuse.
    pub finder: Vec<finder::GuardRow>,
    /// Fuses to keep aboard.
    pub spares: Vec<finder::Spare>,
    /// What anyone can notice.
    pub symptoms: Vec<lookup::Symptom>,
    /// What takes the most from the bank.
    pub users: Vec<Pair>,
    /// Work of the seasons.
    pub seasons: Vec<seasons::SeasonView>,
    /// Notes for storage.
    pub storage: Vec<Line>,
    /// How the van is switched off for storage, in order, as Markdown.
    pub storing: procedure::ProcedureView,
    /// How it is switched on after storage, in order, as Markdown.
    pub leaving_storage: procedure::ProcedureView,
    /// There is a bank.
    pub banks: bool,
    /// Names of the main switches; "" where there are none.
    pub main_switch: String,
    /// Notes for driving off.
    pub travel: Vec<Line>,
    /// Notes for arriving.
    pub arrival: Vec<Line>,
    /// Checks before a long trip.
    pub before_trip: Vec<seasons::Work>,
    /// Rounds of upkeep.
    pub care: Vec<Round>,
    /// Closing letter of the shop: lines by paragraphs.
    pub closing: Vec<Vec<String>>,
    /// Words used here.
    pub glossary: Vec<lookup::Word>,
    /// Terms and where they are.
    pub index: Vec<lookup::Entry>,
}

/// A name and its value.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(crate) struct Pair {
    /// What.
    pub label: String,
    /// Value with its unit.
    pub value: String,
}

/// A link inside the manual.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub(crate) struct Link {
    /// Words to follow.
    pub title: String,
    /// Id of the section.
    pub id: String,
}

/// A text and whom it is about.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(crate) struct Line {
    /// Names of the parts; "" where the text says it.
    pub who: String,
    /// Markdown of one line.
    pub text: String,
}

/// The view.
#[must_use]
pub(crate) fn view(context: &Context<'_>) -> View {
    let (build, texts) = (context.build, context.texts);
    let data = &texts.data;
    let teller = Teller::new(context);
    let groups = systems::groups(build);
    let systems = systems::systems(&teller, &groups, data);
    let mut whole = Whole::of(&teller, data.words());
    let emergencies = danger::cards(&texts.cards, &teller, &groups, &whole);
    whole.tell_cards(&texts.cards, &emergencies);
    let symptoms = lookup::symptoms(&texts.symptoms, &whole, &systems);
    let purposes = |texts: &[data::ForText]| {
        texts.iter().filter(|t| whole.has(&t.needs)).map(|t| whole.text(&t.text)).collect::<Vec<_>>()
    };
    let mut view = View {
        build: BuildView::of(build),
        handover: build.about.handover.get().map_or_else(String::new, super::alike::date_words),
        contacts: start::contacts(build),
        shut_off: danger::shut_off(&teller),
        safety: danger::safety(&teller),
        purpose: build.usage.about.or_empty().to_owned(),
        limits: start::limits(&teller, data),
        supply: start::supply(&teller),
        defects: existing::defects(context).map_or_else(Vec::new, |defects| defects.rows),
        draft: !context.missing.is_empty(),
        first_day: start::steps(&teller, |owner| owner.first_day.as_ref()),
        arrival: start::steps(&teller, |owner| owner.arrival.as_ref()),
        drawings: drawings(context),
        intended: purposes(&data.intended),
        not_for: purposes(&data.not_for),
        users: start::users(context),
        first_weeks: start::first_weeks(&teller),
        gas: build.parts.values().any(|p| p.kind.system == System::Lpg),
        absent: systems::absent(build),
        panels: maps::panels(&teller),
        controls: maps::controls(&teller),
        boards: maps::boards(&teller),
        outlets: maps::outlets(&teller),
        finder: finder::rows(&teller),
        spares: finder::spares(context),

        seasons: seasons::seasons(&teller, &groups),
        storing: procedure::told(&teller, &whole, &data.shares, "store"),
        leaving_storage: procedure::told(&teller, &whole, &data.shares, "wake"),
        banks: !context.electrical.banks.is_empty(),
        main_switch: isolation::names(&isolation::main_switches(build)),
        storage: seasons::sentences(&teller, &groups, &data.sentences.storage),
        travel: seasons::sentences(&teller, &groups, &data.sentences.travel),
        before_trip: seasons::before_trip(&teller, &groups),
        care: maintenance_calendar::rounds(&teller),
        index: lookup::index(context, &systems, &emergencies, &symptoms),
        symptoms,
        closing: paragraphs(build.spec.page.text("closing")),
        glossary: Vec::new(),
        emergencies,
        systems,
    };
    view.glossary = lookup::glossary(&texts.words, &view);
    view
}

/// The drawings that are there, by subject.
fn drawings(context: &Context<'_>) -> BTreeMap<String, Vec<PictureView>> {
    let mut drawings: BTreeMap<String, Vec<PictureView>> = BTreeMap::new();
    for picture in context.pictures {
        drawings.entry(picture.subject.to_owned()).or_default().push(picture.clone());
    }
    drawings
}

/// Id of the anchor of a part in this manual.
fn anchor(part: &Part<'_>) -> String {
    format!("about-{}", part.id)
}

/// Texts that were told one by one, as lines.
fn lines(told: Vec<Told>) -> impl Iterator<Item = Line> {
    told.into_iter().flat_map(|t| {
        let who = t.who.clone();
        t.kept().into_iter().map(move |text| Line { who: who.clone(), text })
    })
}

/// The lines of a text by paragraphs, as a letter has them.
fn paragraphs(text: &str) -> Vec<Vec<String>> {
    let lines: Vec<&str> = text.lines().map(str::trim).collect();
    let paragraphs = lines.split(|line| line.is_empty()).filter(|lines| !lines.is_empty());
    paragraphs.map(|lines| lines.iter().map(|line| (*line).to_owned()).collect()).collect()
}
