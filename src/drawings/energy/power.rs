//! Power by the hour of a usual day: loads, sun, engine.

use super::{Frame, axes, clock_of_day, heading, nights};
use crate::compute::energy::{Hours, Season};
use crate::drawings::canvas::{Area, Canvas, Dash, Fill, Pen, Type};
use crate::units::{System, Watts, number};

/// Share of the height that the highest hour takes: above it is room for labels.
const HIGHEST: f64 = 0.8;

/// The series that are not all zero.
pub(super) struct Powers {
    series: Vec<(Source, Hours)>,
}

/// A place for a label: how far off it is, its baseline, the point it belongs to.
#[derive(Clone, Copy)]
struct Place {
    cost: f64,
    at: (f64, f64),
    own: (f64, f64),
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Source {
    Sun,
    Engine,
    Loads,
}

impl Source {
    const fn name(self) -> &'static str {
        match self {
            Self::Sun => "Sun",
            Self::Engine => "Engine",
            Self::Loads => "Loads",
        }
    }
}

/// Corners of a step line: each hour is one level.
fn steps(frame: Frame, hours: &Hours, full: f64) -> Vec<(f64, f64)> {
    let hour = |(h, watts): (u8, &f64)| {
        let up = watts / full;
        [frame.at(f64::from(h) / 24.0, up), frame.at((f64::from(h) + 1.0) / 24.0, up)]
    };
    (0_u8..).zip(hours).flat_map(hour).collect()
}

/// The full scale for a highest value, and its ticks: a round number above it, in four or five steps.
#[must_use]
pub(super) fn scale(highest: f64) -> (f64, Vec<f64>) {
    let wanted = (highest / HIGHEST).max(1e-6);
    let decade = 10.0_f64.powf((wanted / 5.0).log10().floor());
    let step = [1.0, 2.0, 2.5, 5.0, 10.0].into_iter().map(|s| s * decade).find(|s| s * 5.0 >= wanted).unwrap_or(wanted);
    let ticks: Vec<f64> = (0_u8..=5).map(|i| f64::from(i) * step).filter(|t| *t <= wanted + 1e-9).collect();
    (wanted, ticks)
}

impl Powers {
    pub(super) fn of(season: &Season) -> Self {
        let all =
            [(Source::Sun, season.solar.hours), (Source::Engine, season.engine), (Source::Loads, season.need.total())];
        Self { series: all.into_iter().filter(|(_, h)| h.iter().any(|w| *w > 0.05)).collect() }
    }

    pub(super) fn is_empty(&self) -> bool {
        self.series.is_empty()
    }

    /// Draws the plot; gives what it says in words.
    pub(super) fn draw(
        &self,
        canvas: &mut Canvas,
        frame: Frame,
        top: f64,
        name: &str,
        season: &Season,
        prints: System,
    ) -> String {
        let said = self.reading(prints);
        heading(canvas, top, &format!("Power through a usual day, {name}"), &said);
        let highest = self.series.iter().flat_map(|(_, h)| h).copied().fold(0.0, f64::max);
        let (full, ticks) = scale(highest);
        nights(canvas, frame, &season.sun, 0.0, 24.0);
        let ticks: Vec<_> =
            ticks.iter().map(|t| (t / full, format!("{} W", number((t * 10.0).round() / 10.0)))).collect();
        axes(canvas, frame, &ticks);
        clock_of_day(canvas, frame);
        let hatch = canvas.hatch(1, 45.0, 1.4);
        for (source, hours) in &self.series {
            let line = steps(frame, hours, full);
            let (stroke, ground) = match source {
                Source::Sun => (Pen::of(0.25).grey(0.35), Fill::Grey(0.78)),
                Source::Engine => (Pen::of(0.3).dash(Dash::Dashed), hatch),
                Source::Loads => (Pen::of(0.5), Fill::None),
            };
            if ground == Fill::None {
                canvas.polyline(&line, stroke);
            } else {
                for run in runs(hours) {
                    let corner = |h: usize| frame.at(f64::from(u8::try_from(h).unwrap_or(24)) / 24.0, 0.0);
                    let mut area = vec![corner(run.0)];
                    area.extend(&line[run.0 * 2..run.1 * 2]);
                    area.push(corner(run.1));
                    canvas.polygon(&area, stroke, ground);
                }
            }
        }
        for (source, hours) in self.series.iter().rev() {
            self.label(canvas, frame, full, *source, hours, prints);
        }
        said
    }

    /// A label over the hours of its series: above everything there, as near to its own line as can be.
    fn label(&self, canvas: &mut Canvas, frame: Frame, full: f64, source: Source, hours: &Hours, prints: System) {
        let text = format!("{} {} a day", source.name(), Season::day(hours).said(prints));
        let look = Type::of(2.6).bold().middle();
        let mut best: Option<Place> = None;
        for hour in (0_u8..24).filter(|h| hours[usize::from(*h)] > 0.05) {
            let own = frame.at((f64::from(hour) + 0.5) / 24.0, hours[usize::from(hour)] / full);
            let wide = Canvas::measure((0.0, 0.0), &text, look).width() / 2.0 + 0.8;
            let x = own.0.clamp(frame.left + wide, frame.right() - wide);
            let roof = self.roof(frame, full, x - wide, x + wide);
            for lift in 0_u8..8 {
                let at = (x, f64::from(lift).mul_add(-3.4, roof - 1.6));
                let area = Canvas::measure(at, &text, look).grown(0.3);
                if area.top < frame.top + 0.2 || canvas.labels().iter().any(|l| l.area.overlaps(&area)) {
                    continue;
                }
                // A leader must not lead through the label or far aside.
                let cost = (own.1 - at.1) + (x - own.0).abs() * 2.0;
                if best.is_none_or(|b| cost < b.cost - 1e-9) {
                    best = Some(Place { cost, at, own });
                }
                break;
            }
        }
        let Some(Place { at, own, .. }) = best else { return };
        let area = canvas.text_on_white(at, &text, look);
        if own.1 - area.bottom > 2.0 {
            canvas.line((own.0.clamp(area.left + 1.0, area.right - 1.0), area.bottom + 0.5), own, Pen::of(0.18));
            canvas.circle(own, 0.5, Pen::NONE, Fill::Grey(0.0));
        }
    }

    /// The highest line between two points across, as a height on the sheet.
    fn roof(&self, frame: Frame, full: f64, from: f64, to: f64) -> f64 {
        let within = |hour: u8| {
            let left = frame.at(f64::from(hour) / 24.0, 0.0).0;
            Area { left, top: 0.0, right: left + frame.width / 24.0, bottom: 1.0 }.overlaps(&Area {
                left: from,
                top: 0.0,
                right: to,
                bottom: 1.0,
            })
        };
        let tops = (0_u8..24)
            .filter(|h| within(*h))
            .flat_map(|h| self.series.iter().map(move |(_, hours)| frame.at(0.0, hours[usize::from(h)] / full).1));
        tops.fold(frame.bottom(), f64::min)
    }

    fn reading(&self, prints: System) -> String {
        let one = |(source, hours): &(Source, Hours)| {
            let peak = hours.iter().copied().fold(0.0, f64::max);
            let at = hours.iter().position(|w| *w >= peak).unwrap_or(0);
            format!(
                "{}: {} a day, most at {at:02}:00 to {:02}:00 ({})",
                source.name(),
                Season::day(hours).said(prints),
                at + 1,
                Watts(peak).said(prints)
            )
        };
        let all: Vec<_> = self.series.iter().rev().map(one).collect();
        format!("{}.", all.join(". "))
    }
}

/// Runs of hours that are not zero: from, to.
fn runs(hours: &Hours) -> Vec<(usize, usize)> {
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for (at, _) in hours.iter().enumerate().filter(|(_, w)| **w > 0.0) {
        match runs.last_mut() {
            Some(run) if run.1 == at => run.1 = at + 1,
            _ => runs.push((at, at + 1)),
        }
    }
    runs
}
