//! A year at a glance: how much is due in each of the twelve months after the handover.

use crate::compute::time::hours;
use crate::documents::calendar_feed::DueGroup;
use crate::kinds::System;
use crate::units::number;
use jiff::ToSpan;
use jiff::civil::Date;
use serde::Serialize;

/// Months in the table.
const MONTHS: usize = 12;

/// The table.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Glance {
    /// "Jun 27", …: the month of the handover first.
    pub months: Vec<String>,
    /// One row for each system with something due.
    pub rows: Vec<GlanceRow>,
    /// Hours of the owner in each month; "" for none.
    pub owner: Vec<String>,
    /// Those of them that are essential.
    pub essential: Vec<String>,
    /// Hours of the owner in the year, short rounds too.
    pub owner_year: String,
    /// Those of them that are essential.
    pub essential_year: String,
    /// Hours of the service in each month; "" for none.
    pub service: Vec<String>,
}

/// A system's row.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct GlanceRow {
    /// Title of the system.
    pub system: &'static str,
    /// Number of tasks in each month; "" for none.
    pub counts: Vec<String>,
}

/// The table for `groups`, from the month of `handover`; `None` where nothing falls due in it.
pub(super) fn glance(groups: &[DueGroup<'_>], handover: Date) -> Option<Glance> {
    let first = handover.first_of_month();
    let month_of = |date: Date| {
        let months = (i32::from(date.year()) - i32::from(first.year())) * 12 + i32::from(date.month())
            - i32::from(first.month());
        usize::try_from(months).ok().filter(|m| *m < MONTHS)
    };
    let mut counts = vec![[0_usize; MONTHS]; System::ALL.len()];
    let mut minutes = [[0_u64; MONTHS]; 3];
    let mut year = [0_u64; 2];
    let is_must = |group: &DueGroup<'_>| group.template.is_some_and(|t| t.essential);
    for group in groups {
        let (Some(month), Some(system)) = (month_of(group.date), group.system()) else { continue };
        if !group.is_service() {
            year[0] += group.minutes();
            year[1] += if is_must(group) { group.minutes() } else { 0 };
        }
        if group.is_frequent() {
            continue;
        }
        if let Some(row) = System::ALL.iter().position(|s| *s == system) {
            counts[row][month] += 1;
        }
        minutes[usize::from(group.is_service())][month] += group.minutes();
        if is_must(group) && !group.is_service() {
            minutes[2][month] += group.minutes();
        }
    }
    if counts.iter().flatten().all(|c| *c == 0) {
        return None;
    }
    let words = |n: &u64| if *n == 0 { String::new() } else { number((hours(*n) * 10.0).round() / 10.0) };
    let rows = System::ALL.iter().zip(&counts).filter(|(_, row)| row.iter().any(|c| *c > 0));
    Some(Glance {
        months: (0..MONTHS).filter_map(|m| month_title(first, m)).collect(),
        rows: rows
            .map(|(s, row)| GlanceRow { system: s.title(), counts: row.iter().copied().map(count).collect() })
            .collect(),
        owner: minutes[0].iter().map(words).collect(),
        service: minutes[1].iter().map(words).collect(),
        essential: minutes[2].iter().map(words).collect(),
        owner_year: number(hours(year[0]).round()),
        essential_year: number(hours(year[1]).round()),
    })
}

fn count(n: usize) -> String {
    if n == 0 { String::new() } else { n.to_string() }
}

fn month_title(first: Date, months: usize) -> Option<String> {
    let months = i64::try_from(months).ok()?;
    Some(first.checked_add(months.months()).ok()?.strftime("%b %y").to_string())
}
