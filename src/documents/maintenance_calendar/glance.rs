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
    let mut minutes = [[0_u64; MONTHS]; 2];
    for group in groups.iter().filter(|g| !g.is_frequent()) {
        let (Some(month), Some(system)) = (month_of(group.date), group.system()) else { continue };
        if let Some(row) = System::ALL.iter().position(|s| *s == system) {
            counts[row][month] += 1;
        }
        minutes[usize::from(group.is_service())][month] += group.minutes();
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
    })
}

fn count(n: usize) -> String {
    if n == 0 { String::new() } else { n.to_string() }
}

fn month_title(first: Date, months: usize) -> Option<String> {
    let months = i64::try_from(months).ok()?;
    Some(first.checked_add(months.months()).ok()?.strftime("%b %y").to_string())
}
