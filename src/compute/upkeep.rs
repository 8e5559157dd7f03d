//! Due dates of upkeep and ends of warranties: what kinds and spec say, laid out from the handover day on.
//!
//! Titles in the plan are still texts with `{{ facts }}` of their component; documents print them.

use crate::build::{Build, Part, Upkeep};
use crate::compute::time::{
    self, Cadence, CadenceFault, CadenceText, CalendarInterval, DueDates, DueKind, DueOptions, Hemisphere, MonthDay,
    TextFault, UpkeepItem, Warranty, WarrantyEnd,
};
use crate::fields::Value;
use crate::kinds::UpkeepTemplate;
use crate::source::Span;
use crate::units::Dimension;
use jiff::civil::Date;

/// What is wrong with a date or interval that the plan needs.
#[derive(Clone, Debug, PartialEq)]
pub struct UpkeepFault {
    /// Component or section it is about.
    pub subject: String,
    /// Where in the spec.
    pub span: Span,
    /// One line.
    pub message: String,
    /// What to do.
    pub help: Option<String>,
}

/// What the due dates of a build are counted from.
#[derive(Clone, Debug)]
pub(crate) struct UpkeepPlan {
    items: Vec<UpkeepItem>,
    warranties: Vec<Warranty>,
    options: DueOptions,
    age_unknown: Vec<UpkeepItem>,
}

impl UpkeepPlan {
    /// Of a build, and what could not be read. No plan without a handover date.
    #[must_use]
    pub(crate) fn of(build: &Build<'_>) -> (Option<Self>, Vec<UpkeepFault>) {
        let mut faults = Vec::new();
        let items = build.upkeep.values().filter_map(|u| item(build, u, &mut faults));
        let (age_unknown, items): (Vec<_>, Vec<_>) = items.partition(|item| is_of_unknown_age(build, item));
        let warranties: Vec<_> = build.parts.values().filter_map(|p| warranty(p, &mut faults)).collect();
        let first_frost = first_frost(build, &mut faults);
        let Some(handover) = build.about.handover.get() else { return (None, faults) };
        let options = DueOptions { first_frost, hemisphere: hemisphere(build), ..DueOptions::new(handover) };
        for item in items.iter().filter(|item| time::is_without_date(item, &options)) {
            faults.push(UpkeepFault {
                subject: item.component.clone(),
                span: build.bearer(&item.component).map_or(build.about.span, |p| p.span),
                message: format!("upkeep `{}` of `{}` never comes due: {}", item.upkeep, item.component, item.cadence),
                help: Some("mend the rule in the kind's file".to_owned()),
            });
        }
        (Some(Self { items, warranties, options, age_unknown }), faults)
    }

    /// The dates, laid out from the handover day on.
    #[must_use]
    pub(crate) fn dates(&self, build: &Build<'_>) -> DueDates {
        let mut plan = time::due_dates(&self.items, &self.warranties, &self.options);
        use_printed_dates(build, &mut plan);
        plan.age_unknown.clone_from(&self.age_unknown);
        plan
    }
}

/// How often a piece of upkeep comes due.
///
/// # Errors
/// The key whose text cannot be read.
pub(crate) fn cadence(template: &UpkeepTemplate) -> Result<Cadence, CadenceFault> {
    Cadence::read(&CadenceText {
        every: template.every.as_deref(),
        once: template.once.as_deref(),
        replace: template.replace.as_deref(),
        season: template.season.as_deref(),
        distance: template.distance.as_deref(),
        hours: template.hours.as_deref(),
    })
}

/// Title of a piece of upkeep as a text with facts. Where several parts of the kind have it, it names the part.
#[must_use]
pub(crate) fn title(build: &Build<'_>, upkeep: &Upkeep<'_>) -> String {
    let title = &upkeep.template.title;
    if upkeep.template.own.is_some() || says_name(title) || build.alike(upkeep) < 2 {
        return title.clone();
    }
    format!("{title}: {{{{ name }}}}")
}

/// Whether a title already prints the name of its part.
fn says_name(title: &str) -> bool {
    title.split("{{").skip(1).any(|rest| rest.split("}}").next().is_some_and(|fact| fact.trim() == "name"))
}

fn item(build: &Build<'_>, upkeep: &Upkeep<'_>, faults: &mut Vec<UpkeepFault>) -> Option<UpkeepItem> {
    let part = build.bearer(&upkeep.part)?;
    let template = &*upkeep.template;
    let cadence = match cadence(template) {
        Ok(cadence) => cadence,
        Err(fault) => {
            let message = format!("`{}` of upkeep `{}`: {}", fault.key, upkeep.id, fault.fault.message);
            let (mut subject, mut span) = (part.id.clone(), part.span);
            if template.own.is_some()
                && let Some(record) = build.spec.upkeep.get(&template.id)
            {
                (subject, span) = (template.id.clone(), record.span_of(fault.key));
            }
            faults.push(UpkeepFault { subject, span, message, help: fault.fault.help });
            return None;
        }
    };
    for (key, text, units) in [("distance", &template.distance, &["km", "mi"][..]), ("hours", &template.hours, &["h"])]
    {
        let Some(text) = text.as_ref().filter(|text| !is_use(text, units)) else { continue };
        let record = build.spec.upkeep.get(&template.id).filter(|_| template.own.is_some());
        faults.push(UpkeepFault {
            subject: record.map_or(&part.id, |_| &template.id).clone(),
            span: record.map_or(part.span, |record| record.span_of(key)),
            message: format!("`{key}` of upkeep `{}`: \"{text}\" is no number with {}", upkeep.id, units.join(" or ")),
            help: Some(format!("write it like \"500 {}\"", units[0])),
        });
        return None;
    }
    Some(UpkeepItem {
        component: part.id.clone(),
        upkeep: template.id.clone(),
        system: part.kind.system.id().to_owned(),
        title: title(build, upkeep),
        by: template.by.clone(),
        minutes: template.minutes,
        cadence,
        distance: template.distance.clone(),
        hours: template.hours.clone(),
    })
}

/// Whether a text is a number above zero with one of these units.
fn is_use(text: &str, units: &[&str]) -> bool {
    let number = |unit: &&str| text.trim().strip_suffix(unit)?.trim_end().parse::<f64>().ok();
    units.iter().filter_map(number).any(|n| n.is_finite() && n > 0.0)
}

/// End of a part's warranty, from `warranty` (a period from handover) or `warranty_until` (a date).
fn warranty(part: &Part<'_>, faults: &mut Vec<UpkeepFault>) -> Option<Warranty> {
    let ends = match part.common.warranty_until.get() {
        Some(date) => WarrantyEnd::On(date),
        // What is left alone gets no new warranty by this handover.
        None if !part.is_worked_on() => return None,
        None => WarrantyEnd::After(period(part, "warranty", faults)?),
    };
    Some(Warranty {
        component: part.id.clone(),
        system: part.kind.system.id().to_owned(),
        title: "Warranty ends: {{ name }}".to_owned(),
        ends,
    })
}

/// A calendar period as the spec wrote it: "2 years" keeps its meaning, which a number of seconds would not.
fn period(part: &Part<'_>, field: &str, faults: &mut Vec<UpkeepFault>) -> Option<CalendarInterval> {
    let entry = part.record.get(field)?;
    let written = match &entry.value {
        Value::Quantity(q) if q.dimension == Dimension::Duration => q.written.as_str(),
        Value::Text(text) => text.as_str(),
        _ => return None,
    };
    match CalendarInterval::parse(written) {
        Ok(interval) => Some(interval),
        Err(fault) => {
            faults.push(text_fault(&part.id, entry.span, &format!("`{field}` of `{}`", part.id), fault));
            None
        }
    }
}

/// Day of the first frost: `first_frost` of the first `[climate.…]` that has one.
fn first_frost(build: &Build<'_>, faults: &mut Vec<UpkeepFault>) -> Option<MonthDay> {
    let (name, field) =
        build.climates.iter().map(|(name, c)| (name, &c.first_frost)).find(|(_, f)| f.text().is_some())?;
    match MonthDay::parse(field.text()?) {
        Ok(day) => Some(day),
        Err(fault) => {
            faults.push(text_fault(name, field.span, "`first_frost`", fault));
            None
        }
    }
}

/// Hemisphere by the first latitude of the spec; northern where there is none.
fn hemisphere(build: &Build<'_>) -> Hemisphere {
    let latitude = build.climates.values().find_map(|c| c.latitude.get()).map(|a| a.0);
    latitude.map_or(Hemisphere::Northern, Hemisphere::of_latitude)
}

fn text_fault(subject: &str, span: Span, what: &str, fault: TextFault) -> UpkeepFault {
    let message = format!("{what}: {}", fault.message);
    UpkeepFault { subject: subject.to_owned(), span, message, help: fault.help }
}

/// Whether a life ends that did not begin with this handover, and nothing tells when it did: the part was there before,
/// and bears no date.
fn is_of_unknown_age(build: &Build<'_>, item: &UpkeepItem) -> bool {
    let Some(part) = build.parts.get(&item.component) else { return false };
    let dated = part.roles.replace_by().get().or_else(|| part.roles.made().get()).is_some();
    matches!(item.cadence, Cadence::Replace(_)) && part.was_there() && !dated
}

/// A date printed on the part wins over the life its kind states; a date of manufacture starts that life.
fn use_printed_dates(build: &Build<'_>, plan: &mut DueDates) {
    for due in plan.dated.iter_mut().filter(|d| d.kind == DueKind::Replace) {
        let Some(part) = build.parts.get(&due.component) else { continue };
        if let Some(date) = part.roles.replace_by().get() {
            due.date = date;
            "replace by the date on it".clone_into(&mut due.cadence);
        } else if let Some(date) = end_of_life(build, part, &due.upkeep) {
            due.date = date;
        }
    }
    plan.dated.sort_by(|a, b| {
        (a.date, &a.system, &a.component, &a.upkeep).cmp(&(b.date, &b.system, &b.component, &b.upkeep))
    });
}

fn end_of_life(build: &Build<'_>, part: &Part<'_>, upkeep: &str) -> Option<Date> {
    let made = part.roles.made().get()?;
    let upkeep = build.upkeep.get(&format!("{}.{upkeep}", part.id))?;
    CalendarInterval::parse(upkeep.template.replace.as_deref()?).ok()?.nth(made, 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_title_with_the_name_is_told_from_one_without() {
        assert!(says_name("Test the smoke alarm {{ name }}"));
        assert!(says_name("Look at {{name}}"));
        assert!(!says_name("Clean the drawer runners"));
        assert!(!says_name("Charge {{ capacity }} of the bank by name"));
    }
}
