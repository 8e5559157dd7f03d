//! Which days of a period belong to a rule.

use super::{Frequency, Recurrence};
use jiff::ToSpan;
use jiff::civil::{Date, Weekday};

/// The parts that pick days, with what the rule leaves out taken from the start.
pub(super) struct DayFilter<'a> {
    rule: &'a Recurrence,
    months: Vec<i16>,
    month_days: Vec<i16>,
    weekday: Option<Weekday>,
}

impl<'a> DayFilter<'a> {
    pub(super) fn new(rule: &'a Recurrence, start: Date) -> Self {
        let mut filter = Self { rule, months: rule.months.clone(), month_days: rule.month_days.clone(), weekday: None };
        let picks_days = !(rule.weekdays.is_empty() && rule.month_days.is_empty() && rule.year_days.is_empty());
        if picks_days {
            return filter;
        }
        match rule.frequency {
            Frequency::Yearly if !rule.weeks.is_empty() => filter.weekday = Some(start.weekday()),
            Frequency::Yearly => {
                filter.month_days = vec![start.day().into()];
                if filter.months.is_empty() {
                    filter.months = vec![start.month().into()];
                }
            }
            Frequency::Monthly => filter.month_days = vec![start.day().into()],
            Frequency::Weekly => filter.weekday = Some(start.weekday()),
            _ => {}
        }
        filter
    }

    /// Whether the rule has `day` as far as days go.
    pub(super) fn has(&self, day: Date) -> bool {
        let rule = self.rule;
        let fits = |list: &[i16], value: i16, length: i16| {
            list.is_empty() || list.contains(&value) || list.contains(&(value - length - 1))
        };
        (self.months.is_empty() || self.months.contains(&day.month().into()))
            && fits(&self.month_days, day.day().into(), day.days_in_month().into())
            && self.weekday.is_none_or(|w| w == day.weekday())
            && self.has_weekday(day)
            && fits(&rule.year_days, day.day_of_year(), day.days_in_year())
            && (rule.weeks.is_empty() || self.has_week(day))
    }

    /// Whether a month can hold a day of the rule: lets the short frequencies leap over the others.
    pub(super) fn has_month(&self, day: Date) -> bool {
        self.months.is_empty() || self.months.contains(&day.month().into())
    }

    fn has_weekday(&self, day: Date) -> bool {
        // Numbers count in the month, but in the year for FREQ=YEARLY without BYMONTH.
        let in_year = self.rule.frequency == Frequency::Yearly && self.rule.months.is_empty();
        let (index, length) = if in_year {
            (day.day_of_year(), day.days_in_year())
        } else {
            (day.day().into(), day.days_in_month().into())
        };
        let from_start = (index - 1) / 7 + 1;
        let from_end = (length - index) / 7 + 1;
        self.rule.weekdays.is_empty()
            || self.rule.weekdays.iter().any(|d| {
                let nth = i16::from(d.nth);
                d.weekday == day.weekday() && (nth == 0 || nth == from_start || -nth == from_end)
            })
    }

    fn has_week(&self, day: Date) -> bool {
        let start = self.rule.week_start;
        let year = day.year();
        let Some(first) = first_week(year, start) else { return false };
        let next = year.checked_add(1).and_then(|y| first_week(y, start));
        let (begin, end) = match next {
            _ if day < first => (year.checked_sub(1).and_then(|y| first_week(y, start)), Some(first)),
            Some(next) if day >= next => (Some(next), year.checked_add(2).and_then(|y| first_week(y, start))),
            next => (Some(first), next),
        };
        // At the ends of the calendar the number of weeks is not known; there are no instances there.
        let (Some(begin), Some(end)) = (begin, end) else { return false };
        let weeks_between = |a: Date, b: Date| i16::try_from(days_between(a, b) / 7).unwrap_or(0);
        let week = weeks_between(begin, day) + 1;
        let weeks = weeks_between(begin, end);
        self.rule.weeks.contains(&week) || self.rule.weeks.contains(&(week - weeks - 1))
    }
}

/// First day of week 1: the first week with four days or more in the year (RFC 5545, as ISO 8601).
fn first_week(year: i16, week_start: Weekday) -> Option<Date> {
    week_of(Date::new(year, 1, 4).ok()?, week_start)
}

/// First day of the week that `day` is in.
pub(super) fn week_of(day: Date, week_start: Weekday) -> Option<Date> {
    let back = day.weekday().since(week_start);
    day.checked_sub(i32::from(back).days()).ok()
}

/// Days from `a` to `b`.
pub(super) fn days_between(a: Date, b: Date) -> i64 {
    a.until(b).map_or(0, |span| i64::from(span.get_days()))
}
