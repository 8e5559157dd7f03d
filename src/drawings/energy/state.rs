//! State of charge by the hour of a stay.

use super::{AXIS, Frame, STATE, axes, heading, nights};
use crate::compute::energy::pattern::STAY_STARTS;
use crate::compute::energy::store::Store;
use crate::compute::energy::{Season, Stay};
use crate::drawings::Context;
use crate::drawings::canvas::{Canvas, Dash, Fill, Pen, Type};
use crate::units::System;

/// The stays of a season, with the bank they draw on.
pub(super) struct Stays<'a> {
    store: &'a Store,
    /// What each is called, and its line.
    lines: Vec<(&'static str, Dash, &'a Stay)>,
    nights: usize,
    prints: System,
}

/// Between two labels at the right end, mm.
const APART: f64 = 3.4;

impl<'a> Stays<'a> {
    /// Those that there are; `None` without a bank or a night off grid.
    pub(super) fn of(context: &Context<'a>, season: &'a Season) -> Option<Self> {
        let store = context.figures.energy.store.as_ref()?;
        let states = |s: &'a Stay| s.hours.iter().map(|h| h.state.to_bits()).collect::<Vec<_>>();
        let stays = match (&season.driving, &season.parked) {
            (Some(d), Some(p)) if states(d) == states(p) => vec![("Driving or parked", Dash::None, d)],
            (d, p) => {
                let d = d.iter().map(|s| ("Driving", Dash::None, s));
                d.chain(p.iter().map(|s| ("Parked", Dash::Dashed, s))).collect()
            }
        };
        let some = stays.iter().any(|(.., s)| !s.hours.is_empty());
        some.then(|| Self { store, lines: stays, nights: context.energy.nights, prints: context.build.prints() })
    }

    /// Draws the plot; gives what it says in words.
    #[expect(clippy::cast_precision_loss, reason = "hours of sixty days")]
    pub(super) fn draw(&self, canvas: &mut Canvas, name: &str, season: &Season) -> Vec<String> {
        let frame = STATE;
        let hours = self.lines.iter().map(|(.., s)| s.hours.len()).max().unwrap_or(1).max(1) as f64;
        let said: Vec<_> = self.lines.iter().map(|(name, _, stay)| self.reading(name, stay)).collect();
        let nights_word = if self.nights == 1 { "night" } else { "nights" };
        let head = format!(
            "State of charge, {name}: {} {nights_word} off grid from a full bank at {STAY_STARTS}:00",
            self.nights
        );
        heading(canvas, 3.4, &head, &said.join(" "));
        nights(canvas, frame, &season.sun, STAY_STARTS as f64, hours);
        let ticks: Vec<_> = [0.0, 0.25, 0.5, 0.75, 1.0].iter().map(|s| (*s, format!("{} %", s * 100.0))).collect();
        axes(canvas, frame, &ticks);
        clock(canvas, frame, hours);
        // What stands at the right end: its height, and its words.
        let mut ends: Vec<(f64, String, bool)> = Vec::new();
        let reserve = self.share(self.store.reserve.0);
        if reserve > 0.0 {
            canvas.line(frame.at(0.0, reserve), frame.at(1.0, reserve), Pen::of(0.25).dash(Dash::Dotted));
            ends.push((frame.at(1.0, reserve).1, format!("Reserve {}", self.store.reserve.said(self.prints)), false));
        }
        for (name, dash, stay) in &self.lines {
            let points = self.points(stay, hours);
            canvas.polyline(&points, Pen::of(0.45).dash(*dash));
            if let Some(end) = points.last() {
                ends.push((end.1, (*name).to_owned(), true));
            }
        }
        for (_, _, stay) in &self.lines {
            if let Some(lowest) = self.lowest_at(stay) {
                let at = frame.at((lowest + 1) as f64 / hours, self.share(stay.hours[lowest].state));
                canvas.circle(at, 0.9, Pen::of(0.3), Fill::Grey(1.0));
            }
        }
        label_ends(canvas, frame, ends);
        said
    }

    fn share(&self, energy: f64) -> f64 {
        if self.store.full.0 > 0.0 { (energy / self.store.full.0).clamp(0.0, 1.0) } else { 0.0 }
    }

    /// The curve: full on arrival, then the state at the end of each hour.
    #[expect(clippy::cast_precision_loss, reason = "hours of sixty days")]
    fn points(&self, stay: &Stay, hours: f64) -> Vec<(f64, f64)> {
        let ends = stay.hours.iter().enumerate().map(|(i, h)| ((i + 1) as f64 / hours, self.share(h.state)));
        [(0.0, 1.0)].into_iter().chain(ends).map(|(across, up)| STATE.at(across, up)).collect()
    }

    /// The hour at the end of which the bank is lowest; `None` where it never leaves full.
    fn lowest_at(&self, stay: &Stay) -> Option<usize> {
        let at =
            stay.hours.iter().position(|h| h.state <= stay.lowest.0 * self.store.full.0 + 1e-9 * self.store.full.0)?;
        (stay.lowest.0 < 1.0 - 1e-9).then_some(at)
    }

    fn reading(&self, name: &str, stay: &Stay) -> String {
        let Some(at) = self.lowest_at(stay) else { return format!("{name}: always full.") };
        let mut out = format!("{name}: lowest {} on {}", stay.lowest.said(self.prints), moment(at + 1));
        if let Some(from) = stay.below_reserve {
            out = format!("{out}, below the reserve from {}", moment(from));
        }
        if let Some(from) = stay.short_from {
            out = format!("{out}, loads go short from {}", moment(from));
        }
        out + "."
    }
}

/// "day 4, 07:00", so many hours after arrival.
fn moment(after: usize) -> String {
    let hour = STAY_STARTS + after;
    format!("day {}, {:02}:00", hour / 24 + 1, hour % 24)
}

/// Ticks at the clock, and the days under them.
#[expect(
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "hours of sixty days"
)]
fn clock(canvas: &mut Canvas, frame: Frame, hours: f64) {
    let total = hours as usize;
    let a_day = frame.width / hours * 24.0;
    let step = if a_day >= 32.0 {
        6
    } else if a_day >= 16.0 {
        12
    } else {
        24
    };
    for clock in (STAY_STARTS..=STAY_STARTS + total).filter(|c| c % step == 0) {
        let (x, y) = frame.at((clock - STAY_STARTS) as f64 / hours, 0.0);
        let midnight = clock % 24 == 0;
        canvas.line((x, y), (x, y + if midnight && step < 24 { 2.0 } else { 1.0 }), Pen::of(0.25));
        if step < 24 {
            canvas.text((x, y + 4.4), &format!("{:02}:00", clock % 24), AXIS.middle());
        }
    }
    let every = (12.0 / a_day).ceil().max(1.0) as usize;
    let last = (STAY_STARTS + total).div_ceil(24);
    for day in (0..last).filter(|d| d % every == 0) {
        let from = (day * 24).max(STAY_STARTS) - STAY_STARTS;
        let to = ((day + 1) * 24).min(STAY_STARTS + total) - STAY_STARTS;
        let wide = (to - from) as f64 / hours * frame.width;
        if every == 1 && wide < 7.0 {
            continue;
        }
        let (x, y) = frame.at((from + to) as f64 / 2.0 / hours, 0.0);
        let low = if step < 24 { 8.4 } else { 4.4 };
        canvas.text((x.max(frame.left + 3.0), y + low), &format!("Day {}", day + 1), AXIS.middle());
    }
}

/// Labels beside the right ends of the lines, moved apart where they would touch.
fn label_ends(canvas: &mut Canvas, frame: Frame, mut ends: Vec<(f64, String, bool)>) {
    ends.sort_by(|a, b| a.0.total_cmp(&b.0));
    let wanted: Vec<f64> = ends.iter().map(|e| e.0).collect();
    let mut placed = wanted.clone();
    for at in 1..placed.len() {
        placed[at] = placed[at].max(placed[at - 1] + APART);
    }
    let over = placed.last().map_or(0.0, |y| (y - frame.bottom()).max(0.0));
    if let Some(last) = placed.last_mut() {
        *last -= over;
    }
    for at in (1..placed.len()).rev() {
        placed[at - 1] = placed[at - 1].min(placed[at] - APART);
    }
    for ((y, line), (_, text, main)) in placed.iter().zip(&wanted).zip(&ends) {
        let from = (frame.right() + 0.4, *line);
        let to = (frame.right() + 2.4, *y);
        if (y - line).abs() > 0.3 {
            canvas.line(from, to, Pen::of(0.18).grey(0.4));
        }
        let look = if *main { Type::of(2.6).bold() } else { Type::of(2.3) };
        canvas.text((to.0 + 0.6, y + look.size * 0.33), text, look);
    }
}
