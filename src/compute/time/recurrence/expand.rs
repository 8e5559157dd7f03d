//! Walks the periods of a rule and gives its instances in order, with bounded work.

use super::days::{DayFilter, week_of};
use super::{Frequency, Recurrence};
use jiff::civil::{Date, DateTime, Time};
use jiff::{Span, ToSpan};

/// Days looked at in a row without an instance before the walk ends: those of 400 years, after which the calendar
/// repeats, so that a rule of days is proven empty. For hours, minutes and seconds it is steps, and a plain bound.
const BARREN: i64 = 146_097;

/// The instances of a rule from a start on.
pub(super) struct Series<'a> {
    rule: &'a Recurrence,
    filter: DayFilter<'a>,
    start: DateTime,
    until: DateTime,
    /// Begin of the next period; `None` at the end of the calendar.
    period: Option<DateTime>,
    step: i64,
    left: usize,
    barren: i64,
    set: PeriodSet,
}

/// The instances of one period, as days × times, so that a hostile rule costs no memory.
#[derive(Default)]
struct PeriodSet {
    days: Vec<Date>,
    times: Vec<Time>,
    /// Picked places in days × times; `None` for all.
    picks: Option<Vec<usize>>,
    next: usize,
}

impl PeriodSet {
    fn next(&mut self) -> Option<DateTime> {
        let place = match &self.picks {
            Some(picks) => *picks.get(self.next)?,
            None => self.next,
        };
        self.next += 1;
        let day = self.days.get(place.checked_div(self.times.len())?)?;
        Some(day.to_datetime(*self.times.get(place % self.times.len())?))
    }
}

impl<'a> Series<'a> {
    pub(super) fn new(rule: &'a Recurrence, start: DateTime, until: DateTime) -> Self {
        let midnight = |day: Date| day.to_datetime(Time::midnight());
        let first = match rule.frequency {
            Frequency::Yearly => Date::new(start.year(), 1, 1).ok().map(midnight),
            Frequency::Monthly => Some(midnight(start.date().first_of_month())),
            Frequency::Weekly => week_of(start.date(), rule.week_start).map(midnight),
            Frequency::Daily => Some(midnight(start.date())),
            Frequency::Hourly => Some(start.date().at(start.hour(), 0, 0, 0)),
            Frequency::Minutely => Some(start.date().at(start.hour(), start.minute(), 0, 0)),
            Frequency::Secondly => Some(start.date().at(start.hour(), start.minute(), start.second(), 0)),
        };
        let mut series = Self {
            rule,
            filter: DayFilter::new(rule, start.date()),
            start,
            until,
            period: first,
            step: 0,
            left: rule.count.unwrap_or(usize::MAX),
            barren: 0,
            set: PeriodSet::default(),
        };
        if rule.frequency >= Frequency::Daily {
            series.set.times = series.times_of(start);
        }
        series
    }

    /// Begin of the period `step` intervals after the first one, which contains the start.
    fn period_at(&self, first: DateTime, step: i64) -> Option<DateTime> {
        let amount = step.checked_mul(self.rule.interval)?;
        let span = Span::new();
        let span = match self.rule.frequency {
            Frequency::Yearly => span.try_years(amount),
            Frequency::Monthly => span.try_months(amount),
            Frequency::Weekly => span.try_weeks(amount),
            Frequency::Daily => span.try_days(amount),
            Frequency::Hourly => span.try_hours(amount),
            Frequency::Minutely => span.try_minutes(amount),
            Frequency::Secondly => span.try_seconds(amount),
        };
        first.checked_add(span.ok()?).ok()
    }

    /// The times of day of a period: given ones, else those of the period itself (short frequencies) or the start.
    fn times_of(&self, period: DateTime) -> Vec<Time> {
        let unit = self.rule.frequency;
        let own =
            |list: &[i8], long: bool, value: i8| if long && !list.is_empty() { list.to_vec() } else { vec![value] };
        let from = if unit >= Frequency::Daily { self.start } else { period };
        let hours = own(&self.rule.hours, unit > Frequency::Hourly, from.hour());
        let minute = if unit > Frequency::Minutely { self.start.minute() } else { from.minute() };
        let minutes = own(&self.rule.minutes, unit > Frequency::Minutely, minute);
        let second = if unit > Frequency::Secondly { self.start.second() } else { from.second() };
        let seconds = own(&self.rule.seconds, unit > Frequency::Secondly, second);
        let mut times = Vec::new();
        for hour in &hours {
            for minute in &minutes {
                times.extend(seconds.iter().filter_map(|second| Time::new(*hour, *minute, *second, 0).ok()));
            }
        }
        times
    }

    /// The last day of the period that begins at `begin`.
    fn last_day(&self, begin: Date) -> Date {
        match self.rule.frequency {
            Frequency::Yearly => begin.last_of_year(),
            Frequency::Monthly => begin.last_of_month(),
            Frequency::Weekly => begin.checked_add(6.days()).unwrap_or(Date::MAX),
            _ => begin,
        }
    }

    /// Fills the set with the period that begins at `begin`; gives the number of days looked at.
    fn fill(&mut self, begin: DateTime) -> i64 {
        let last = self.last_day(begin.date());
        let mut looked_at = 0;
        self.set.days.clear();
        let mut next = Some(begin.date());
        while let Some(day) = next.filter(|d| *d <= last) {
            if self.filter.has(day) {
                self.set.days.push(day);
            }
            looked_at += 1;
            next = day.tomorrow().ok();
        }
        if self.rule.frequency < Frequency::Daily {
            self.set.times = if self.set.days.is_empty() { Vec::new() } else { self.times_of(begin) };
        }
        let length = self.set.days.len() * self.set.times.len();
        self.set.picks = (!self.rule.positions.is_empty()).then(|| {
            let place = |position: &i16| match usize::from(position.unsigned_abs()) {
                n if *position > 0 => Some(n - 1),
                n => length.checked_sub(n),
            };
            let mut picks: Vec<usize> = self.rule.positions.iter().filter_map(place).filter(|p| *p < length).collect();
            picks.sort_unstable();
            picks.dedup();
            picks
        });
        self.set.next = 0;
        looked_at
    }

    /// For the short frequencies: where a period that can't match ends, so that the walk may leap to there.
    fn barren_until(&self, period: DateTime) -> Option<DateTime> {
        let rule = self.rule;
        let day = period.date();
        let out = |list: &[i8], value: i8| !list.is_empty() && !list.contains(&value);
        let midnight = Time::midnight();
        if rule.frequency >= Frequency::Daily {
            None
        } else if !self.filter.has_month(day) {
            Some(day.last_of_month().tomorrow().map_or(DateTime::MAX, |d| d.to_datetime(midnight)))
        } else if !self.filter.has(day) {
            Some(day.tomorrow().map_or(DateTime::MAX, |d| d.to_datetime(midnight)))
        } else if out(&rule.hours, period.hour()) {
            let hour = day.at(period.hour(), 0, 0, 0);
            Some(hour.checked_add(1.hour()).unwrap_or(DateTime::MAX))
        } else if rule.frequency < Frequency::Hourly && out(&rule.minutes, period.minute()) {
            let minute = day.at(period.hour(), period.minute(), 0, 0);
            Some(minute.checked_add(1.minute()).unwrap_or(DateTime::MAX))
        } else if rule.frequency == Frequency::Secondly && out(&rule.seconds, period.second()) {
            Some(period.checked_add(1.second()).unwrap_or(DateTime::MAX))
        } else {
            None
        }
    }

    /// Steps to take from `from` so that the period does not begin before `to`; at least one.
    fn steps_to(&self, from: DateTime, to: DateTime) -> i64 {
        let seconds = match self.rule.frequency {
            Frequency::Hourly => 3600,
            Frequency::Minutely => 60,
            _ => 1,
        };
        let stride = self.rule.interval.saturating_mul(seconds);
        let gap = from.duration_until(to).as_secs();
        (gap / stride + i64::from(gap % stride != 0)).max(1)
    }

    /// Goes on to the next period that may have instances; `false` at the end.
    fn advance(&mut self) -> bool {
        while let Some(first) = self.period {
            let Some(begin) = self.period_at(first, self.step).filter(|b| *b <= self.until) else { break };
            if self.barren > BARREN {
                break;
            }
            if let Some(end) = self.barren_until(begin) {
                self.step = self.step.saturating_add(self.steps_to(begin, end));
                self.barren += 1;
                continue;
            }
            self.step += 1;
            self.barren += self.fill(begin);
            return true;
        }
        self.period = None;
        false
    }
}

impl Iterator for Series<'_> {
    type Item = DateTime;

    fn next(&mut self) -> Option<DateTime> {
        while self.left > 0 {
            let Some(moment) = self.set.next() else {
                if self.advance() {
                    continue;
                }
                break;
            };
            if moment > self.until {
                break;
            }
            if moment >= self.start {
                self.left -= 1;
                self.barren = 0;
                return Some(moment);
            }
        }
        self.left = 0;
        None
    }
}
