//! The dates on which upkeep falls due, counted from the handover.
//!
//! The handover day itself is never a due date: the shop has just done everything. Ids stay the same when the
//! handover moves, so that a calendar that is read in again moves its entries instead of doubling them.

use super::{Cadence, CalendarInterval, Hemisphere, MonthDay, Season};
use jiff::civil::Date;
use serde::Serialize;

/// Years ahead that the dates of repeated upkeep are listed for, where nothing else is said.
pub(crate) const DEFAULT_HORIZON_YEARS: u16 = 5;

/// One upkeep of one component.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct UpkeepItem {
    /// Id of the component.
    pub component: String,
    /// Id of the upkeep within the component's kind.
    pub upkeep: String,
    /// Id of the system.
    pub system: String,
    /// What is to be done, one line.
    pub title: String,
    /// Who does it: `owner` or `service`.
    pub by: String,
    /// How long it takes.
    pub minutes: u32,
    /// When.
    pub cadence: Cadence,
    /// Distance after which it is due at the latest, as printed.
    pub distance: Option<String>,
    /// Running hours after which it is due at the latest, as printed.
    pub hours: Option<String>,
}

impl UpkeepItem {
    /// "10000 km or 500 h": the use after which it is due, whichever comes first.
    #[must_use]
    pub fn use_limit(&self) -> Option<String> {
        match (&self.distance, &self.hours) {
            (Some(distance), Some(hours)) => Some(format!("{distance} or {hours}")),
            (one, other) => one.clone().or_else(|| other.clone()),
        }
    }
}

/// When a warranty ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum WarrantyEnd {
    /// On a day.
    On(Date),
    /// So long after the handover.
    After(CalendarInterval),
}

/// The warranty of one component.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Warranty {
    /// Id of the component.
    pub component: String,
    /// Id of the system.
    pub system: String,
    /// One line for the calendar.
    pub title: String,
    /// Its end.
    pub ends: WarrantyEnd,
}

/// What the dates are counted from.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct DueOptions {
    /// Day of the handover.
    pub handover: Date,
    /// Day of the first frost at the owner's place, where it is known.
    pub first_frost: Option<MonthDay>,
    /// Where spring and autumn fall.
    pub hemisphere: Hemisphere,
    /// How far ahead repeated upkeep is listed.
    pub horizon: CalendarInterval,
}

impl DueOptions {
    /// From `handover` for five years, in the north, without a frost date.
    #[must_use]
    pub const fn new(handover: Date) -> Self {
        Self {
            handover,
            first_frost: None,
            hemisphere: Hemisphere::Northern,
            horizon: CalendarInterval::of_years(DEFAULT_HORIZON_YEARS),
        }
    }
}

/// Why there is a date.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum DueKind {
    /// Repeated upkeep.
    Routine,
    /// A single check after the handover.
    Once,
    /// Upkeep of a season.
    Seasonal,
    /// The end of a life.
    Replace,
    /// The end of a warranty.
    WarrantyEnds,
}

/// Something that falls due on a day.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Due {
    /// Stable and unique: `fridge.clean-condenser.3` (third since handover), `….2028` (season of a year),
    /// `….once`, `….replace`, `fridge..warranty` (an upkeep has no empty id).
    pub id: String,
    /// Id of the component.
    pub component: String,
    /// Id of the upkeep; empty for a warranty.
    pub upkeep: String,
    /// Id of the system.
    pub system: String,
    /// What is to be done.
    pub title: String,
    /// `owner` or `service`; `owner` for a warranty.
    pub by: String,
    /// How long it takes; 0 for a warranty.
    pub minutes: u32,
    /// The day.
    pub date: Date,
    /// Why.
    pub kind: DueKind,
    /// How often, in words.
    pub cadence: String,
    /// The use after which it is due earlier, as "10000 km or 500 h".
    pub or_use: Option<String>,
}

/// All upkeep of a build.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct DueDates {
    /// By date, system, component and upkeep.
    pub dated: Vec<Due>,
    /// Before every trip: no dates. In the order given.
    pub before_trip: Vec<UpkeepItem>,
    /// By distance or running hours alone: no dates. In the order given.
    pub by_use: Vec<UpkeepItem>,
    /// Ends of lives that began nobody knows when: no dates. In the order given.
    pub age_unknown: Vec<UpkeepItem>,
    /// Should have dates, but never comes due after the handover. In the order given.
    pub without_date: Vec<UpkeepItem>,
}

/// Lists what falls due after the handover. Single dates (once, replace, warranty) are listed however far ahead they
/// are, repeated ones up to and with the last day of the horizon, but the first one in any case.
#[must_use]
pub fn due_dates(items: &[UpkeepItem], warranties: &[Warranty], options: &DueOptions) -> DueDates {
    let mut plan = DueDates::default();
    for item in items {
        match item.cadence {
            Cadence::Season(Season::BeforeTrip) => plan.before_trip.push(item.clone()),
            Cadence::Use => plan.by_use.push(item.clone()),
            _ => {
                let before = plan.dated.len();
                plan.dated.extend(dates_of(item, options));
                if plan.dated.len() == before {
                    plan.without_date.push(item.clone());
                }
            }
        }
    }
    plan.dated.extend(warranties.iter().filter_map(|w| warranty_end(w, options.handover)));
    let order = |d: &Due| (d.date, d.system.clone(), d.component.clone(), d.upkeep.clone(), d.kind);
    plan.dated.sort_by_cached_key(order);
    plan
}

/// Whether an item should have dates and never comes due after the handover.
pub(crate) fn is_without_date(item: &UpkeepItem, options: &DueOptions) -> bool {
    match &item.cadence {
        Cadence::Season(Season::BeforeTrip) | Cadence::Use => false,
        Cadence::Every(interval) | Cadence::Once(interval) | Cadence::Replace(interval) => {
            interval.nth(options.handover, 1).is_none()
        }
        Cadence::Season(_) => dates_of(item, options).is_empty(),
    }
}

fn dates_of(item: &UpkeepItem, options: &DueOptions) -> Vec<Due> {
    let handover = options.handover;
    let last = options.horizon.nth(handover, 1).unwrap_or(Date::MAX);
    let numbered = |dates: Vec<Date>| (1_u32..).map(|n| n.to_string()).zip(dates).collect();
    let single = |name: &str, date: Option<Date>| date.map(|d| (name.to_owned(), d)).into_iter().collect();
    let (kind, dates): (_, Vec<(String, Date)>) = match &item.cadence {
        Cadence::Every(interval) => {
            let mut dates = interval.dates(handover, last);
            if dates.is_empty() {
                dates.extend(interval.nth(handover, 1));
            }
            (DueKind::Routine, numbered(dates))
        }
        Cadence::Once(interval) => (DueKind::Once, single("once", interval.nth(handover, 1))),
        Cadence::Replace(interval) => (DueKind::Replace, single("replace", interval.nth(handover, 1))),
        Cadence::Season(season) => {
            let dates = season.dates(handover, last, options.first_frost, options.hemisphere);
            (DueKind::Seasonal, dates.into_iter().map(|d| (d.year().to_string(), d)).collect())
        }
        Cadence::Use => (DueKind::Routine, Vec::new()),
    };
    let due = |(occurrence, date)| Due {
        id: format!("{}.{}.{occurrence}", item.component, item.upkeep),
        component: item.component.clone(),
        upkeep: item.upkeep.clone(),
        system: item.system.clone(),
        title: item.title.clone(),
        by: item.by.clone(),
        minutes: item.minutes,
        date,
        kind,
        cadence: item.cadence.to_string(),
        or_use: item.use_limit(),
    };
    dates.into_iter().map(due).collect()
}

fn warranty_end(warranty: &Warranty, handover: Date) -> Option<Due> {
    let (date, cadence) = match warranty.ends {
        WarrantyEnd::On(date) => (date, "warranty".to_owned()),
        WarrantyEnd::After(interval) => (interval.nth(handover, 1)?, format!("warranty of {interval}")),
    };
    Some(Due {
        id: format!("{}..warranty", warranty.component),
        component: warranty.component.clone(),
        upkeep: String::new(),
        system: warranty.system.clone(),
        title: warranty.title.clone(),
        by: "owner".to_owned(),
        minutes: 0,
        date,
        kind: DueKind::WarrantyEnds,
        cadence,
        or_use: None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::compute::time::CadenceText;
    use jiff::civil::date;
    use std::collections::BTreeSet;

    const NONE: CadenceText =
        CadenceText { every: None, once: None, replace: None, season: None, distance: None, hours: None };

    fn item(component: &str, upkeep: &str, text: CadenceText) -> UpkeepItem {
        UpkeepItem {
            component: component.to_owned(),
            upkeep: upkeep.to_owned(),
            system: "galley".to_owned(),
            title: "Do it".to_owned(),
            by: "owner".to_owned(),
            minutes: 10,
            cadence: Cadence::read(&text).expect("a cadence"),
            distance: text.distance.map(str::to_owned),
            hours: text.hours.map(str::to_owned),
        }
    }

    fn dates(text: CadenceText, handover: Date) -> Vec<String> {
        let plan = due_dates(&[item("a", "b", text)], &[], &DueOptions::new(handover));
        plan.dated.iter().map(|d| format!("{} {}", d.id, d.date)).collect()
    }

    #[test]
    fn counts_from_the_handover_and_comes_back_to_the_31st() {
        let text = CadenceText { every: Some("6 months"), ..NONE };
        let got = dates(text, date(2025, 8, 31));
        assert_eq!(got[..3], ["a.b.1 2026-02-28", "a.b.2 2026-08-31", "a.b.3 2027-02-28"]);
        assert_eq!(got[9], "a.b.10 2030-08-31", "the last day of the horizon counts");
        assert_eq!(got.len(), 10);
    }

    #[test]
    fn ids_stay_when_the_handover_moves() {
        for text in [
            CadenceText { every: Some("12 months"), ..NONE },
            CadenceText { season: Some("before-first-frost"), ..NONE },
            CadenceText { replace: Some("7 years"), ..NONE },
        ] {
            let ids = |handover| -> Vec<String> {
                dates(text, handover).iter().filter_map(|d| Some(d.split_once(' ')?.0.to_owned())).collect()
            };
            assert_eq!(ids(date(2027, 5, 14)), ids(date(2027, 5, 28)));
        }
    }

    #[test]
    fn first_dates_are_listed_even_beyond_the_horizon() {
        let handover = date(2027, 5, 14);
        assert_eq!(dates(CadenceText { replace: Some("10 years"), ..NONE }, handover), ["a.b.replace 2037-05-14"]);
        assert_eq!(dates(CadenceText { every: Some("6 years"), ..NONE }, handover), ["a.b.1 2033-05-14"]);
        assert_eq!(dates(CadenceText { once: Some("1 month"), ..NONE }, handover), ["a.b.once 2027-06-14"]);
    }

    #[test]
    fn what_has_no_date_is_listed_apart() {
        let items = [
            item("van", "walk-round", CadenceText { season: Some("before-trip"), ..NONE }),
            item("winch", "oil", CadenceText { distance: Some("10000 km"), hours: Some("500 h"), ..NONE }),
        ];
        let plan = due_dates(&items, &[], &DueOptions::new(date(2027, 5, 14)));
        assert_eq!(plan.dated, []);
        assert_eq!(plan.before_trip, items[..1]);
        assert_eq!(plan.by_use, items[1..]);
        assert_eq!(items[1].use_limit().as_deref(), Some("10000 km or 500 h"));
        assert_eq!(plan.without_date, []);
    }

    #[test]
    fn everything_in_order_of_date_with_unique_ids() {
        let items = [
            item("b", "monthly", CadenceText { every: Some("1 month"), hours: Some("50 h"), ..NONE }),
            item("a", "test", CadenceText { every: Some("1 month"), ..NONE }),
            item("a", "spring", CadenceText { season: Some("spring"), ..NONE }),
        ];
        let after = |text: &str| WarrantyEnd::After(text.parse().expect("an interval"));
        let warranty = |component: &str, ends| Warranty {
            component: component.to_owned(),
            system: "ac".to_owned(),
            title: "Warranty ends".to_owned(),
            ends,
        };
        let warranties = [warranty("a", after("2 years")), warranty("b", WarrantyEnd::On(date(2028, 1, 1)))];
        let plan = due_dates(&items, &warranties, &DueOptions::new(date(2027, 5, 14)));
        assert_eq!(plan.dated.len(), 60 + 60 + 5 + 2);
        assert!(plan.dated.is_sorted_by_key(|d| (d.date, &d.system)));
        let first: Vec<&str> = plan.dated[..3].iter().map(|d| d.id.as_str()).collect();
        assert_eq!(first, ["a.test.1", "b.monthly.1", "a.test.2"]);
        assert_eq!(plan.dated[1].or_use.as_deref(), Some("50 h"));
        let ids: BTreeSet<&str> = plan.dated.iter().map(|d| d.id.as_str()).collect();
        assert_eq!(ids.len(), plan.dated.len());
        let ends = |id| plan.dated.iter().find(|d| d.id == id).map(|d| d.date);
        assert_eq!(ends("a..warranty"), Some(date(2029, 5, 14)));
        assert_eq!(ends("b..warranty"), Some(date(2028, 1, 1)));
    }
}
