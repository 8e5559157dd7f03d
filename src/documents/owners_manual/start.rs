//! Before anything else: whom to call, what the van is made for, the first day and the first weeks.

use super::data::{FigureText, ManualData};
use super::{Line, Pair};
use crate::build::{Build, Part};
use crate::compute::ledger::{Amount, Figure};
use crate::compute::time::DueKind;
use crate::compute::wording::season;
use crate::documents::Context;
use crate::documents::alike::{Teller, date_words};
use crate::documents::calendar_feed::{self, DueGroup};
use crate::documents::facts::{Voice, show};
use crate::kinds::{OwnerFigure, OwnerTexts, PlacedStep, Role};
use crate::units::{Ratio, Volts, WattHours};
use indexmap::{IndexMap, IndexSet};
use jiff::civil::Date;
use serde::Serialize;

/// Whom to call.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Contact {
    /// What for.
    pub role: String,
    /// Who.
    pub name: String,
    /// Number.
    pub phone: String,
    /// The same as a link that a phone dials; "" where it is no plain number.
    pub dial: String,
    /// Hours, language, contract number.
    pub note: String,
}

/// The single checks of a day after the handover.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct FirstCheck {
    /// "14 June 2027".
    pub date: String,
    /// What, as Markdown.
    pub titles: Vec<String>,
    /// "1000 km", if use may bring it earlier.
    pub or_use: String,
    /// "Owner" or "Service".
    pub by: &'static str,
}

pub(super) fn contacts(build: &Build<'_>) -> Vec<Contact> {
    let contact = |r: &crate::fields::Record| {
        let text = |field: &str| r.text(field).unwrap_or("").to_owned();
        let phone = text("phone");
        Contact { role: text("role"), name: text("name"), dial: dial(&phone), phone, note: text("note") }
    };
    build.spec.contacts.values().map(contact).collect()
}

/// "+1 555 0142" → "tel:+15550142": digits, an optional plus, and the marks people write between them.
fn dial(phone: &str) -> String {
    let kept: String = phone.chars().filter(|c| c.is_ascii_digit() || *c == '+').collect();
    let plain = phone.chars().all(|c| c.is_ascii_digit() || " +-/().".contains(c));
    let digits = kept.strip_prefix('+').unwrap_or(&kept);
    if plain && digits.len() >= 3 && !digits.contains('+') { format!("tel:{kept}") } else { String::new() }
}

/// Limits the spec states, then those that are computed: of the whole van, and what kinds tell of their parts.
pub(super) fn limits(teller: &Teller<'_>, data: &ManualData) -> Vec<Pair> {
    let context = teller.context();
    let build = context.build;
    let value = |section: &str, field: &str| {
        let record = match section {
            "vehicle" => &build.spec.vehicle,
            "use.goals" => &build.spec.goals,
            _ => &build.spec.usage,
        };
        record.get(field).map(|e| show(build, &e.value, Voice::Owner)).filter(|v| !v.is_empty() && v != "0")
    };
    let pair = |l: &super::data::LimitText| Some(Pair { label: l.label.clone(), value: value(&l.section, &l.field)? });
    let computed = data.figures.iter().flat_map(|f| computed(context, f));
    let in_turn = one_at_a_time(build);
    data.limits.iter().filter_map(pair).chain(computed).chain(of_parts(teller)).chain(in_turn).collect()
}

/// Loads and devices of which one runs at a time, a line for each word that the spec has for such.
fn one_at_a_time(build: &Build<'_>) -> Vec<Pair> {
    let mut groups: IndexMap<&str, Vec<String>> = IndexMap::new();
    let loads = build
        .parts
        .values()
        .map(|part| (part.roles.load.as_ref().and_then(|load| load.one_of.text()), part.name.clone()));
    let devices = build.devices.iter().map(|(id, device)| (device.one_of.text(), called(build, &format!("use.{id}"))));
    for (word, name) in loads.chain(devices) {
        if let Some(word) = word {
            groups.entry(word).or_default().push(name);
        }
    }
    let several = groups.into_values().filter(|names| names.len() > 1);
    several.map(|names| Pair { label: "Only one of them at a time".to_owned(), value: names.join(", ") }).collect()
}

/// What kinds tell of their parts, each with the name of its part where several have one.
fn of_parts(teller: &Teller<'_>) -> Vec<Pair> {
    let parts = teller.context().build.parts.values();
    let all = parts.flat_map(|part| part.kind.owner.figures.iter().map(move |f| (f, part)));
    let told: Vec<_> = all.filter(|(f, part)| !teller.fact(&part.id, &f.of).is_empty()).collect();
    let alone = |label: &str| told.iter().filter(|(f, _)| f.label == label).count() == 1;
    let label = |f: &OwnerFigure, part: &Part<'_>| {
        if alone(&f.label) { f.label.clone() } else { format!("{}: {}", f.label, part.name) }
    };
    let pair = |(f, part): &(&OwnerFigure, &Part<'_>)| Pair {
        label: label(f, part),
        value: teller.fact(&part.id, &f.of).to_owned(),
    };
    told.iter().map(pair).collect()
}

/// A figure of the ledger; that of every subject for "*.", each with the name of its subject.
fn computed(context: &Context<'_>, text: &FigureText) -> Vec<Pair> {
    let prints = context.build.prints();
    let shown = |f: &Figure| {
        let (case, own) = (&text.case, f.said(prints));
        let Some((symbol, other)) = &text.other else { return own };
        let at = f.by.symbols.iter().position(|(name, _)| name == symbol);
        let beside = at.and_then(|at| f.inputs.get(at)).map(|input| input.said_bound(prints, f.by.gives));
        match beside.filter(|beside| *beside != own) {
            Some(beside) => format!("{own} {case}, {beside} {other}"),
            None => own,
        }
    };
    let Some(formula) = text.id.strip_prefix("*.") else {
        let found = context.ledger.get(&text.id);
        return found.map(|f| Pair { label: text.label.clone(), value: shown(f) }).into_iter().collect();
    };
    let all = context.ledger.figures().filter(|f| f.formula == formula);
    all.map(|f| Pair { label: format!("{}: {}", text.label, called(context.build, &f.subject)), value: shown(f) })
        .collect()
}

/// Name of a part, or the word for a season.
fn called(build: &Build<'_>, subject: &str) -> String {
    let plugged_in = subject.strip_prefix("use.");
    let device = || build.devices.get(plugged_in?)?.name.text().map(str::to_owned);
    let part = build.parts.get(subject).map(|p| p.name.clone());
    part.or_else(device).unwrap_or_else(|| season(plugged_in.unwrap_or(subject)))
}

/// Loads that take the most energy of a day, the largest first.
pub(super) fn users(context: &Context<'_>) -> Vec<Pair> {
    const SHOWN: usize = 8;
    // By the season of which it takes the most; a part with two supplies takes from both.
    let mut most: IndexMap<&str, f64> = IndexMap::new();
    for figure in context.ledger.figures() {
        let load = match figure.formula {
            "load-day" => Some(figure.subject.as_str()),
            "load-by-temperature" | "load-by-climate-day" => figure.subject.rsplit_once('.').map(|(load, _)| load),
            _ => None,
        };
        let (Some(load), Amount::Of(_, energy)) = (load, &figure.value) else { continue };
        let entry = most.entry(load).or_default();
        *entry = entry.max(*energy);
    }
    let mut of_parts: IndexMap<&str, f64> = IndexMap::new();
    for (load, energy) in most.into_iter().filter(|(_, energy)| *energy > 0.0) {
        let part = context.energy.loads.get(load).map_or(load, |l| l.part.as_str());
        *of_parts.entry(part).or_default() += energy;
    }
    let mut most: Vec<_> = of_parts.into_iter().collect();
    most.sort_by(|(_, a), (_, b)| b.total_cmp(a));
    let value = |energy| WattHours(energy).said(context.build.prints());
    let pair = |(part, energy)| Pair { label: called(context.build, part), value: value(energy) };
    most.into_iter().take(SHOWN).map(pair).collect()
}

/// What the sources can give.
pub(super) fn supply(teller: &Teller<'_>) -> Vec<Pair> {
    let context = teller.context();
    let (build, prints) = (context.build, context.build.prints());
    let mut pairs = Vec::new();
    for (id, bank) in &context.electrical.banks {
        let share = Ratio(bank.usable_share.0).said(prints);
        let value = format!(
            "{}, of which {} ({share}) are planned for use",
            bank.energy.said(prints),
            bank.usable.said(prints)
        );
        pairs.push(Pair { label: format!("{}: energy when full", build.name(id)), value });
    }
    let shore = build.parts.values().any(|p| p.role() == Some(Role::Inlet));
    for (id, source) in &context.electrical.ac_sources {
        let inlet = build.parts.get(id).and_then(crate::build::Part::role) == Some(Role::Inlet);
        let generator = build.parts.get(id).and_then(crate::build::Part::role) == Some(Role::Generator);
        let label = match (inlet, shore) {
            _ if generator => "on the generator",
            (true, _) => "on shore power",
            (false, true) => "away from shore power",
            (false, false) => "from the bank",
        };
        let volts = Volts(context.electrical.profile.ac.volts.0).said(prints);
        let value = format!("{} at {volts}", source.capacity.said(prints));
        pairs.push(Pair { label: format!("{}: all AC together {label}", build.name(id)), value });
    }
    for (id, strings) in &context.electrical.strings {
        let value = format!("{} in full sun", strings.power.said(prints));
        pairs.push(Pair { label: format!("{}: most it can give", build.name(id)), value });
    }
    pairs
}

/// Steps of a list that kinds say, each for every part, in the order of the list.
pub(super) fn steps<'a>(teller: &Teller<'a>, of: fn(&'a OwnerTexts) -> Option<&'a PlacedStep>) -> Vec<Line> {
    let parts = teller.context().build.parts.values();
    let mut told: Vec<_> = parts.filter_map(|part| Some((of(&part.kind.owner)?, part))).collect();
    told.sort_by_key(|(text, _)| text.place);
    let steps = told.into_iter().map(|(text, part)| teller.one(&part.id, &text.step));
    let steps: IndexSet<String> = steps.filter(|step| !step.is_empty()).collect();
    steps.into_iter().map(|text| Line { who: String::new(), text }).collect()
}

pub(super) fn first_weeks(teller: &Teller<'_>) -> Vec<FirstCheck> {
    let build = teller.context().build;
    let dues = teller.context().due_dates.map_or(&[][..], |p| p.dated.as_slice());
    let groups = calendar_feed::groups(teller, dues);
    let mut days: IndexMap<(Date, bool), Vec<&DueGroup<'_>>> = IndexMap::new();
    for group in groups.iter().filter(|g| g.kind() == DueKind::Once) {
        days.entry((group.date, group.is_service())).or_default().push(group);
    }
    let check = |((date, service), groups): ((Date, bool), Vec<&DueGroup<'_>>)| FirstCheck {
        date: date_words(date),
        titles: shortened(groups.iter().map(|g| g.title.clone())),
        or_use: groups.iter().map(|g| g.or_use(build)).find(|u| !u.is_empty()).unwrap_or_default(),
        by: if service { "Service" } else { "Owner" },
    };
    days.into_iter().map(check).collect()
}

/// Titles that begin and end alike, as one: "Re-torque the ladder after the first 1000 km" and the same of the rack.
fn shortened(titles: impl Iterator<Item = String>) -> Vec<String> {
    const JOINT: &str = " after the first ";
    let mut kept: IndexMap<(String, String), Vec<String>> = IndexMap::new();
    for title in titles {
        let cut = title.split_once(JOINT).and_then(|(what, after)| Some((what.split_once(" the ")?, after)));
        let (key, what) = match cut {
            Some(((verb, what), after)) => ((verb.to_owned(), after.to_owned()), what.to_owned()),
            None => ((String::new(), title.clone()), title),
        };
        kept.entry(key).or_default().push(what);
    }
    let joined = |((verb, after), what): ((String, String), Vec<String>)| match verb.as_str() {
        "" => what.join("; "),
        verb => format!("{verb} the {}{JOINT}{after}", what.join(", ")),
    };
    kept.into_iter().map(joined).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn titles_that_begin_and_end_alike_are_one() {
        let titles =
            ["Re-torque the rack after the first 1000 km", "Drive", "Re-torque the step after the first 1000 km"];
        let short = shortened(titles.map(str::to_owned).into_iter());
        assert_eq!(short, ["Re-torque the rack, step after the first 1000 km", "Drive"]);
    }

    #[test]
    fn only_plain_numbers_are_dialled() {
        assert_eq!(dial("+1 (555) 555-0142"), "tel:+15555550142");
        assert_eq!(dial("112"), "tel:112");
        for other in ["", "12", "ask", "555 0142 ext. 7", "1+555", "channel 16)](x"] {
            assert_eq!(dial(other), "", "{other}");
        }
    }
}
