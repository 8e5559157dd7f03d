//! Energy of a season: state of charge through the stay, and power by hour of a usual day.

mod power;
mod state;

use super::canvas::{Area, Canvas, Fill, Pen, Type};
use super::letters::{self, Weight};
use super::{Context, Drawing, Subject};
use crate::compute::energy::Season;
use crate::compute::solar::day::SunDay;
use crate::compute::wording;

/// A plot on the sheet, mm.
#[derive(Clone, Copy, Debug)]
pub struct Frame {
    /// Left.
    pub left: f64,
    /// Top.
    pub top: f64,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
}

impl Frame {
    /// Where a share of the width and a share of the height (from below) are.
    #[must_use]
    pub fn at(&self, across: f64, up: f64) -> (f64, f64) {
        (self.width.mul_add(across, self.left), self.height.mul_add(1.0 - up, self.top))
    }

    fn bottom(&self) -> f64 {
        self.top + self.height
    }

    fn right(&self) -> f64 {
        self.left + self.width
    }
}

/// Width of the sheet, and of the plots on it, mm.
pub(super) const SHEET: f64 = 176.0;

/// State of charge: 0 to 100 % over the hours of the stay.
pub const STATE: Frame = Frame { left: 13.0, top: 20.0, width: 138.0, height: 66.0 };

/// Height of the plot of power, mm.
const POWER_HEIGHT: f64 = 50.0;

/// Texts at the axes.
pub(super) const AXIS: Type = Type::of(2.3).grey(0.2);

/// What stands over a plot.
const HEAD: Type = Type::of(3.2).bold();

/// Charts of all seasons, in the order of the spec.
#[must_use]
pub fn charts(context: &Context<'_>) -> Vec<Drawing> {
    context.energy.seasons.iter().filter_map(|(id, season)| chart(context, id, season)).collect()
}

fn chart(context: &Context<'_>, id: &str, season: &Season) -> Option<Drawing> {
    let name = wording::season(id);
    let mut canvas = Canvas::new(SHEET, 100.0);
    let stay = state::Stays::of(context, season);
    let hours = power::Powers::of(season);
    if stay.is_none() && hours.is_empty() {
        return None;
    }
    let mut said = Vec::new();
    let mut top = 3.4;
    if let Some(stay) = &stay {
        said.extend(stay.draw(&mut canvas, &name, season));
        top = STATE.bottom() + 19.0;
    }
    if hours.is_empty() {
        canvas.set_height(STATE.bottom() + 13.0);
    } else {
        let frame = Frame { top: top + 11.0, height: POWER_HEIGHT, ..STATE };
        said.push(hours.draw(&mut canvas, frame, top, &name, season, context.build.prints()));
        canvas.set_height(frame.bottom() + 8.5);
    }
    let what = match (&stay, hours.is_empty()) {
        (Some(_), false) => "State of charge through the stay, and below it the power by hour of a usual day",
        (Some(_), true) => "State of charge through the stay",
        (None, _) => "Power by hour of a usual day",
    };
    let description = format!("{what}, {name}. {}", said.join(" "));
    Some(Drawing::finish(&canvas, Subject::Energy, id, id, &format!("Energy: {name}"), &description))
}

/// Sunrise and sunset of a season, hours of solar time; the day lies around noon.
fn daylight(sun: &SunDay) -> (f64, f64) {
    let half = (sun.day_length / 2.0).clamp(0.0, 12.0);
    (12.0 - half, 12.0 + half)
}

/// Shades the nights of `hours` hours that begin at `first` o'clock, and names one of them.
fn nights(canvas: &mut Canvas, frame: Frame, sun: &SunDay, first: f64, hours: f64) {
    if let Some(middle) = shade_nights(canvas, frame, sun, first, hours) {
        canvas.text((middle, frame.top - 1.0), "night", Type::of(2.2).grey(0.3).middle());
    }
}

/// Shades them alone; gives the middle of the first that has room for a word.
pub(super) fn shade_nights(canvas: &mut Canvas, frame: Frame, sun: &SunDay, first: f64, hours: f64) -> Option<f64> {
    let (rise, set) = daylight(sun);
    let mut named = None;
    let mut noon = -12.0;
    while noon - 24.0 < first + hours {
        let from = (noon - 36.0 + set).max(first);
        let to = (noon - 12.0 + rise).min(first + hours);
        noon += 24.0;
        if to - from < 1e-6 {
            continue;
        }
        let (left, top) = frame.at((from - first) / hours, 1.0);
        let (right, _) = frame.at((to - first) / hours, 1.0);
        canvas.rect(Area { left, top, right, bottom: frame.bottom() }, 0.0, Pen::NONE, Fill::Grey(0.92));
        if right - left > 7.0 {
            named = named.or(Some(f64::midpoint(left, right)));
        }
    }
    named
}

/// The hours of one day under a plot.
pub(super) fn clock_of_day(canvas: &mut Canvas, frame: Frame) {
    for hour in (0_u8..=24).step_by(3) {
        let (x, y) = frame.at(f64::from(hour) / 24.0, 0.0);
        canvas.line((x, y), (x, y + 1.0), Pen::of(0.25));
        canvas.text((x, y + 4.4), &format!("{hour:02}:00"), AXIS.middle());
    }
}

/// The two lines of a plot's frame, and light lines across it at its ticks.
pub(super) fn axes(canvas: &mut Canvas, frame: Frame, ticks: &[(f64, String)]) {
    for (up, text) in ticks {
        let (x, y) = frame.at(0.0, *up);
        if *up > 0.0 {
            canvas.line((x, y), (frame.right(), y), Pen::of(0.18).grey(0.78));
        }
        canvas.line((x - 1.0, y), (x, y), Pen::of(0.25));
        canvas.text((x - 1.8, y + 0.8), text, AXIS.end());
    }
    canvas.line((frame.left, frame.top), (frame.left, frame.bottom()), Pen::of(0.25));
    canvas.line((frame.left, frame.bottom()), (frame.right(), frame.bottom()), Pen::of(0.25));
}

/// A heading, and under it what to read from the plot, in at most two lines.
fn heading(canvas: &mut Canvas, top: f64, head: &str, reading: &str) {
    canvas.text((0.5, top), &letters::fitted(head, HEAD.size, HEAD.weight, SHEET - 1.0), HEAD);
    let lines = letters::lines(reading, 2.6, Weight::Regular, SHEET - 1.0);
    for (line, at) in lines.iter().take(2).zip(0_u8..) {
        canvas.text((0.5, f64::from(at).mul_add(3.4, top + 4.2)), line, Type::of(2.6));
    }
}
