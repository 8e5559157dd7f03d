//! Due dates for people: alike ones together, and the same as an iCalendar file for the phone.

use super::Context;
use super::alike::{Teller, plain, time_words};
use super::ics::{Calendar, Entry, Repeat, sequence_of};
use crate::build::{Build, Part};
use crate::compute::time::{Cadence, Due, DueKind};
use crate::compute::upkeep;
use crate::kinds::{System, UpkeepTemplate};
use crate::letters::capital;
use indexmap::IndexMap;
use jiff::civil::Date;
use std::collections::BTreeMap;

/// The same upkeep of one or several parts of a kind, due on one day.
pub(crate) struct DueGroup<'a> {
    /// Day.
    pub date: Date,
    /// Its dues, at least one.
    pub dues: Vec<&'a Due>,
    /// Parts they are about.
    pub parts: Vec<&'a Part<'a>>,
    /// What the kind says; `None` for the end of a warranty.
    pub template: Option<&'a UpkeepTemplate>,
    /// What is to be done, as Markdown.
    pub title: String,
}

impl DueGroup<'_> {
    /// Why there is a date.
    #[must_use]
    pub(crate) fn kind(&self) -> DueKind {
        self.dues.first().map_or(DueKind::Routine, |d| d.kind)
    }

    /// System of the parts.
    #[must_use]
    pub(crate) fn system(&self) -> Option<System> {
        self.parts.first().map(|p| p.kind.system)
    }

    /// Working time of all parts, in minutes.
    #[must_use]
    pub(crate) fn minutes(&self) -> u64 {
        self.dues.iter().map(|d| u64::from(d.minutes)).sum()
    }

    /// Use that may bring it earlier; "" where none does or the title says it.
    #[must_use]
    pub(crate) fn or_use(&self, build: &Build<'_>) -> String {
        let Some(template) = self.template else { return String::new() };
        if template.distance.as_ref().is_some_and(|d| template.title.contains(d.as_str())) {
            return String::new();
        }
        use_limit(build, template)
    }

    /// Work of a service workshop.
    #[must_use]
    pub(crate) fn is_service(&self) -> bool {
        self.dues.iter().any(|d| d.by == "service")
    }

    /// A short round, oftener than every four weeks: too often for a list by date.
    #[must_use]
    pub(crate) fn is_frequent(&self) -> bool {
        self.template.is_some_and(is_frequent)
    }
}

/// Use after which upkeep is due at the latest, in the units of the documents: "10000 km or 500 h"; "" where none is.
#[must_use]
pub(crate) fn use_limit(build: &Build<'_>, template: &UpkeepTemplate) -> String {
    let distance = template.distance.as_ref().map(|d| crate::units::in_words(d, build.prints()).into_owned());
    distance.into_iter().chain(template.hours.clone()).collect::<Vec<_>>().join(" or ")
}

/// Whether upkeep comes round oftener than every four weeks.
#[must_use]
pub(crate) fn is_frequent(template: &UpkeepTemplate) -> bool {
    match upkeep::cadence(template) {
        Ok(Cadence::Every(i)) => i.years == 0 && i.months == 0 && u32::from(i.weeks) * 7 + u32::from(i.days) < 28,
        _ => false,
    }
}

/// With which others upkeep of a part is told: of a kind with that of all parts of the kind, of the spec itself alone.
#[must_use]
pub(crate) fn group_of<'p>(part: &'p Part<'_>, template: Option<&UpkeepTemplate>) -> &'p str {
    if template.is_some_and(|t| t.own.is_some()) { "" } else { &part.kind.group }
}

/// Dues of one day for parts of one kind put together, by day and system, and then in an order that neither another id
/// of a part nor another order of the spec moves: by what people call the parts and where they are.
#[must_use]
pub(crate) fn groups<'a>(teller: &Teller<'a>, dues: &'a [Due]) -> Vec<DueGroup<'a>> {
    let build = teller.context().build;
    let mut groups: IndexMap<(Date, &str, &str, u8), DueGroup<'a>> = IndexMap::new();
    let mut faces: BTreeMap<&str, (&str, String, Option<usize>)> = BTreeMap::new();
    for due in dues {
        let name = build.name(&due.component);
        let place = || build.bearer(&due.component).map_or_else(String::new, |part| teller.place(part));
        let at = || build.parts.get_index_of(&due.component);
        faces.entry(&due.component).or_insert_with(|| (name, place(), at()));
    }
    let mut dues: Vec<&Due> = dues.iter().collect();
    // The sort keeps the order of equals, which is that of the plan.
    dues.sort_by(|a, b| {
        let key = |d: &'a Due| (d.date, &d.system, faces.get(d.component.as_str()), &d.upkeep);
        key(a).cmp(&key(b))
    });
    for due in dues {
        let Some(part) = build.bearer(&due.component) else { continue };
        let upkeep = build.upkeep_of(&due.component, &due.upkeep).filter(|_| due.kind != DueKind::WarrantyEnds);
        let template = upkeep.map(|u| &*u.template);
        let together = group_of(part, template);
        let group = groups.entry((due.date, together, &due.upkeep, due.kind as u8)).or_insert_with(|| DueGroup {
            date: due.date,
            dues: Vec::new(),
            parts: Vec::new(),
            template,
            title: String::new(),
        });
        group.dues.push(due);
        group.parts.push(part);
    }
    // The same parts come due together again and again under the same title.
    let mut titles: BTreeMap<(&str, Vec<&str>), String> = BTreeMap::new();
    let with_titles = groups.into_values().map(|mut group| {
        if let Some(due) = group.dues.first() {
            let parts = group.parts.iter().map(|p| p.id.as_str()).collect();
            let title = titles.entry((&due.title, parts)).or_insert_with(|| teller.joined(&group.parts, &due.title));
            group.title.clone_from(title);
        }
        group
    });
    with_titles.collect()
}

/// So many things due on one day are single entries of the phone's calendar; more become one entry.
const SINGLE: usize = 3;

/// The due dates as an iCalendar file. Without a handover date it has no entries.
#[must_use]
pub(crate) fn calendar(context: &Context<'_>) -> Calendar {
    let build = context.build;
    let teller = Teller::new(context);
    let dues = context.due_dates.map_or(&[][..], |p| p.dated.as_slice());
    let number = build.about.number.or_empty();
    Calendar {
        name: format!("{}: upkeep", build.about.title.or_empty()),
        build: if number.is_empty() { build.about.title.or_empty() } else { number }.to_owned(),
        sequence: sequence_of(build.about.revision.or_empty()),
        // The handover day stands for the day of writing: the same spec gives the same file.
        stamp: build.about.handover.get().unwrap_or(Date::constant(2000, 1, 1)),
        entries: entries(&teller, &groups(&teller, dues)).into_iter().map(|entry| worded(context, entry)).collect(),
    }
}

/// An entry in the words of the rules.
fn worded(context: &Context<'_>, entry: Entry) -> Entry {
    let say = |text: &String| (context.worded)(text);
    Entry { summary: say(&entry.summary), description: entry.description.iter().map(say).collect(), ..entry }
}

fn entries(teller: &Teller<'_>, groups: &[DueGroup<'_>]) -> Vec<Entry> {
    let mut days: IndexMap<(Date, bool), Vec<&DueGroup<'_>>> = IndexMap::new();
    let mut entries = frequent_entries(teller, groups);
    for group in groups {
        match group.kind() {
            DueKind::Replace | DueKind::WarrantyEnds => entries.push(entry(teller, group)),
            _ if group.is_frequent() => {}
            _ => days.entry((group.date, group.is_service())).or_default().push(group),
        }
    }
    // Numbered in order, so that the nth round of a newer file takes the place of the nth round of this one.
    let mut rounds = [0_u32; 2];
    for ((date, service), groups) in days {
        if groups.len() <= SINGLE {
            entries.extend(groups.into_iter().map(|g| entry(teller, g)));
        } else {
            let round = &mut rounds[usize::from(service)];
            *round += 1;
            entries.push(round_entry(date, service, *round, &groups));
        }
    }
    entries.sort_by(|a, b| (a.date, &a.id).cmp(&(b.date, &b.id)));
    entries
}

/// Short rounds: one entry that comes again for each, and one for all that fall on the same days, so that a phone
/// shows one line a week and not a hundred entries to clear.
fn frequent_entries(teller: &Teller<'_>, groups: &[DueGroup<'_>]) -> Vec<Entry> {
    let mut jobs: IndexMap<(&str, &str), Vec<&DueGroup<'_>>> = IndexMap::new();
    for group in groups.iter().filter(|g| g.is_frequent()) {
        let (Some(part), Some(template)) = (group.parts.first(), group.template) else { continue };
        jobs.entry((group_of(part, Some(template)), &template.id)).or_default().push(group);
    }
    let mut rounds: BTreeMap<(Date, Repeat, bool), Vec<&DueGroup<'_>>> = BTreeMap::new();
    let mut entries = Vec::new();
    for dues in jobs.into_values() {
        let dates: Vec<Date> = dues.iter().map(|g| g.date).collect();
        match Repeat::of(&dates) {
            Some(repeat) => rounds.entry((dates[0], repeat, dues[0].is_service())).or_default().push(dues[0]),
            None => entries.extend(dues.into_iter().map(|g| entry(teller, g))),
        }
    }
    for ((date, repeat, service), groups) in rounds {
        let mut one = match groups.as_slice() {
            [single] => entry(teller, single),
            several => round_entry(date, service, 0, several),
        };
        if groups.len() > 1 {
            one.id = format!("round.{}.every-{}-days", if service { "service" } else { "owner" }, repeat.days);
            if groups.len() <= SINGLE {
                one.summary = groups.iter().map(|g| plain(&g.title)).collect::<Vec<_>>().join("; ");
            }
            one.alarm_days_before = None;
        }
        one.repeat = Some(repeat);
        entries.push(one);
    }
    entries
}

/// One entry for all that is due on a day.
fn round_entry(date: Date, service: bool, number: u32, groups: &[&DueGroup<'_>]) -> Entry {
    let (who, word) = if service { ("Service", "service") } else { ("Owner", "owner") };
    let minutes: u64 = groups.iter().map(|g| g.minutes()).sum();
    let mut lines = vec!["Steps: maintenance calendar of the van.".to_owned()];
    let mut by_system: Vec<_> = groups.to_vec();
    by_system.sort_by_key(|g| g.system());
    let mut system = None;
    for group in by_system {
        if group.system() != system {
            system = group.system();
            lines.extend(system.map(|s| format!("{}:", s.title())));
        }
        lines.push(format!("- {} ({})", plain(&group.title), time_words(group.minutes())));
    }
    Entry {
        id: format!("round.{word}.{number}"),
        date,
        summary: format!(
            "{}: {} tasks, {}",
            if service { "Van service" } else { "Van upkeep" },
            groups.len(),
            time_words(minutes)
        ),
        description: lines,
        categories: vec![who.to_owned()],
        repeat: None,
        alarm_days_before: Some(if service { 14 } else { 1 }),
    }
}

fn entry(teller: &Teller<'_>, group: &DueGroup<'_>) -> Entry {
    let service = group.is_service();
    let mut categories = vec![if service { "Service" } else { "Owner" }.to_owned()];
    categories.extend(group.system().map(|s| s.title().to_owned()));
    Entry {
        id: group.dues.first().map_or_else(String::new, |d| d.id.clone()),
        date: group.date,
        summary: plain(&group.title),
        description: description(teller, group),
        categories,
        repeat: None,
        alarm_days_before: days_before(group, service),
    }
}

/// Reminder ahead: time to order a part or book a workshop, a day for one's own work, none for a short round.
fn days_before(group: &DueGroup<'_>, service: bool) -> Option<u16> {
    match group.kind() {
        DueKind::Replace | DueKind::WarrantyEnds => Some(30),
        _ if group.is_frequent() => None,
        _ if service => Some(14),
        _ => Some(1),
    }
}

fn description(teller: &Teller<'_>, group: &DueGroup<'_>) -> Vec<String> {
    let mut lines = Vec::new();
    for part in &group.parts {
        let place = group.template.map_or_else(|| teller.place(part), |t| teller.place_of(part, t));
        lines.push(if place.is_empty() { part.name.clone() } else { format!("{}: {place}", part.name) });
    }
    let Some(due) = group.dues.first() else { return lines };
    let limit = match group.or_use(teller.context().build) {
        none if none.is_empty() => none,
        limit => format!(", or {limit} if that comes first"),
    };
    if !due.cadence.is_empty() {
        lines.push(format!("{}{limit}. About {}.", capital(&due.cadence), time_words(group.minutes())));
    }
    let Some(template) = group.template else { return lines };
    for caution in teller.cautions(&group.parts, &template.cautions) {
        let [hazard, consequence, avoid] = [caution.hazard, caution.consequence, caution.avoid].map(|t| plain(&t));
        lines.push(format!("{}: {hazard} {consequence} {avoid}", caution.signal));
    }
    let steps: Vec<&str> = template.steps.iter().map(String::as_str).collect();
    for told in teller.tell_listed(&group.parts, &steps) {
        if !told.who.is_empty() {
            lines.push(format!("{}:", told.who));
        }
        lines.extend(told.kept().iter().enumerate().map(|(i, step)| format!("{}. {}", i + 1, plain(step))));
    }
    lines
}
