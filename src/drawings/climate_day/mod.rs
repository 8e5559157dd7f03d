//! A usual day of each season over 24 hours: temperatures, air inside, sun and state of charge; and what to do about it.

mod advice;

use super::canvas::{Canvas, Dash, Fill, Pen, Type};
use super::energy::{Frame, SHEET, axes, clock_of_day, shade_nights};
use super::letters::{self, Weight};
use super::{Context, Drawing, Subject};
use crate::compute::climate_day::{Day, Hours};
use crate::compute::energy::pattern::STAY_STARTS;
use crate::compute::solar::day::Facing;
use crate::compute::wording::season;
use crate::units::{Celsius, System, number};

/// Where all plots begin and how wide they are, mm; labels stand at their right.
const LEFT: f64 = 15.0;
const WIDTH: f64 = 130.0;
/// Height of one plot and of what stands between two, mm.
const HEIGHT: f64 = 20.0;
const BETWEEN: f64 = 10.5;
/// Between two labels at the right end, mm.
const APART: f64 = 3.2;

/// A line of a plot: its name, its look, its values at the ends of the hours on the scale of the plot.
struct Line {
    name: String,
    pen: Pen,
    hours: Hours,
}

/// A plot: what stands over it, its lowest and highest value, ticks with their words, lines.
struct Plot {
    head: &'static str,
    range: (f64, f64),
    ticks: Vec<(f64, String)>,
    /// Drawn as a grey field from the ground up, behind the lines.
    field: Option<(String, Hours)>,
    lines: Vec<Line>,
}

/// The days of all climates that are complete, in the order of the spec.
pub(super) fn sheets(context: &Context<'_>) -> Vec<Drawing> {
    context.climate_days.days.iter().map(|(id, day)| sheet(context, id, day)).collect()
}

fn sheet(context: &Context<'_>, id: &str, day: &Day) -> Drawing {
    let name = season(id);
    let advice = advice::of(context, id, day);
    let plots: Vec<_> =
        [Some(temperatures(context, day)), air(day), power(context, id, day)].into_iter().flatten().collect();
    let mut canvas = Canvas::new(SHEET, 100.0);
    let head = Type::of(3.2).bold();
    canvas.text(
        (0.5, 3.4),
        &letters::fitted(&format!("A usual day, {name}"), head.size, head.weight, SHEET - 1.0),
        head,
    );
    for (line, at) in letters::lines(&advice, 3.0, Weight::Regular, SHEET - 1.0).iter().take(2).zip(0_u8..) {
        canvas.text((0.5, f64::from(at).mul_add(3.8, 8.2)), line, Type::of(3.0));
    }
    let mut top = 19.0;
    let mut said = vec![advice.clone()];
    for plot in &plots {
        let frame = Frame { left: LEFT, top, width: WIDTH, height: HEIGHT };
        shade_nights(&mut canvas, frame, &day.weather.sun, 0.0, 24.0);
        plot.draw(&mut canvas, frame);
        said.push(plot.reading());
        top += HEIGHT + BETWEEN;
    }
    canvas.set_height(top - BETWEEN + 6.5);
    let description = format!("A usual day, {name}. {}", said.join(" "));
    Drawing::finish(&canvas, Subject::ClimateDay, id, id, &format!("A usual day: {name}"), &description)
}

/// A temperature on the scale of those who read it.
fn shown(celsius: f64, prints: System) -> f64 {
    match prints {
        System::Us => celsius.mul_add(1.8, 32.0),
        System::Metric => celsius,
    }
}

fn temperatures(context: &Context<'_>, day: &Day) -> Plot {
    let prints = context.build.prints();
    let of = |hours: &Hours| hours.map(|t| shown(t, prints));
    let mut lines =
        vec![Line { name: "Outside".to_owned(), pen: Pen::of(0.35).dash(Dash::Dashed), hours: of(&day.weather.air) }];
    if let Some(inside) = &day.inside {
        if let Some(pane) = &day.pane {
            lines.push(Line {
                name: "Coldest pane".to_owned(),
                pen: Pen::of(0.35).dash(Dash::Dotted),
                hours: of(pane),
            });
        }
        lines.push(Line { name: "Inside".to_owned(), pen: Pen::of(0.55), hours: of(&inside.celsius) });
    }
    let all = || lines.iter().flat_map(|l| l.hours);
    let (low, high) = (all().fold(f64::INFINITY, f64::min), all().fold(f64::NEG_INFINITY, f64::max));
    let (range, ticks) = scale(low, high);
    // A reading of a thermometer, in the words of its unit.
    let said = |t: f64| {
        let celsius = if prints == System::Us { (t - 32.0) / 1.8 } else { t };
        Celsius(celsius).said(prints)
    };
    let ticks = ticks.into_iter().map(|t| (t, said(t))).collect();
    Plot { head: "Temperature; the night is grey", range, ticks, field: None, lines }
}

/// Humidity and carbon dioxide of the air inside. `None` without a shell.
fn air(day: &Day) -> Option<Plot> {
    let inside = day.inside.as_ref()?;
    let most = inside.carbon_dioxide.iter().map(|c| c * 1e6).fold(0.0, f64::max);
    let (full, _) = scale_up(most.max(1000.0));
    let humidity = Line { name: "Humidity".to_owned(), pen: Pen::of(0.55), hours: inside.humidity.map(|h| h * 100.0) };
    let carbon_dioxide = Line {
        name: format!("CO₂, top {} ppm", number(full)),
        pen: Pen::of(0.35).dash(Dash::Dashed),
        hours: inside.carbon_dioxide.map(|c| c * 1e6 / full * 100.0),
    };
    let ticks = [0.0, 50.0, 100.0].map(|t| (t, format!("{} %", number(t)))).to_vec();
    Some(Plot {
        head: "Air inside: humidity, and carbon dioxide up to the top of the plot",
        range: (0.0, 100.0),
        ticks,
        field: None,
        lines: vec![humidity, carbon_dioxide],
    })
}

/// The sun on level ground, and the bank through the first whole day of a stay. `None` without either.
fn power(context: &Context<'_>, id: &str, day: &Day) -> Option<Plot> {
    let sun = day.weather.sun.on_plane(0.0, Facing::Any, day.weather.albedo.0);
    let most = sun.iter().copied().fold(0.0, f64::max);
    let full = scale_up(most.max(100.0)).0;
    let field = (most > 0.5).then(|| (format!("Sun, top {} W/m²", number(full)), sun.map(|w| w / full * 100.0)));
    let season = context.energy.seasons.get(id);
    let store = context.energy.store.as_ref();
    let mut lines = Vec::new();
    if let Some((season, store)) = season.zip(store).filter(|(_, store)| store.full.0 > 0.0) {
        // From the first midnight of the stay to the next.
        let of = |stay: &crate::compute::energy::Stay| -> Option<Hours> {
            let hours = stay.hours.get(24 - STAY_STARTS..48 - STAY_STARTS)?;
            Some(std::array::from_fn(|h| (hours[h].state / store.full.0 * 100.0).clamp(0.0, 100.0)))
        };
        let stays = [
            ("Bank, parked", 0.35, Dash::Dashed, &season.parked),
            ("Bank, driving", 0.55, Dash::None, &season.driving),
        ];
        for (name, width, dash, stay) in stays {
            if let Some(hours) = stay.as_ref().and_then(of) {
                lines.push(Line { name: name.to_owned(), pen: Pen::of(width).dash(dash), hours });
            }
        }
    }
    let ticks = [0.0, 50.0, 100.0].map(|t| (t, format!("{} %", number(t)))).to_vec();
    let any = field.is_some() || !lines.is_empty();
    any.then_some(Plot {
        head: "State of charge on the first whole day of a stay, and the sun on level ground",
        range: (0.0, 100.0),
        ticks,
        field,
        lines,
    })
}

/// A round number at or above `most`.
fn scale_up(most: f64) -> (f64, f64) {
    let decade = 10.0_f64.powf(most.max(1e-6).log10().floor());
    let full = [1.0, 2.0, 2.5, 5.0, 10.0].into_iter().map(|s| s * decade).find(|f| *f >= most - 1e-9);
    (full.unwrap_or(most), decade)
}

/// A range of round numbers about `low` and `high`, and its ticks.
fn scale(low: f64, high: f64) -> ((f64, f64), Vec<f64>) {
    let wide = (high - low).max(1.0);
    let step = [5.0, 10.0, 20.0, 25.0, 50.0, 100.0].into_iter().find(|s| wide / s <= 4.0).unwrap_or(wide);
    let (from, to) = ((low / step).floor(), (high / step).ceil().max((low / step).floor() + 1.0));
    let mut ticks = Vec::new();
    let mut at = from;
    while at <= to + 1e-9 {
        ticks.push(at * step);
        at += 1.0;
    }
    ((from * step, to * step), ticks)
}

impl Plot {
    fn up(&self, value: f64) -> f64 {
        let (low, high) = self.range;
        ((value - low) / (high - low).max(1e-9)).clamp(0.0, 1.0)
    }

    fn draw(&self, canvas: &mut Canvas, frame: Frame) {
        canvas.text((frame.left, frame.top - 1.4), self.head, Type::of(2.5).bold());
        let mut ends: Vec<(f64, String)> = Vec::new();
        if let Some((name, hours)) = &self.field {
            let mut points = vec![frame.at(0.0, 0.0)];
            for (hour, value) in (0_u8..).zip(hours) {
                points.push(frame.at((f64::from(hour) + 0.5) / 24.0, self.up(*value)));
            }
            points.push(frame.at(1.0, 0.0));
            canvas.polygon(&points, Pen::of(0.2).grey(0.35), Fill::Grey(0.8));
            ends.push((frame.top + HEIGHT - 0.6, name.clone()));
        }
        let ticks: Vec<_> = self.ticks.iter().map(|(value, text)| (self.up(*value), text.clone())).collect();
        axes(canvas, frame, &ticks);
        clock_of_day(canvas, frame);
        for line in &self.lines {
            let at = |(hour, value): (u8, &f64)| frame.at((f64::from(hour) + 0.5) / 24.0, self.up(*value));
            let points: Vec<_> = (0_u8..).zip(&line.hours).map(at).collect();
            canvas.polyline(&points, line.pen);
            if let Some(last) = points.last() {
                ends.push((last.1, line.name.clone()));
            }
        }
        label(canvas, frame, ends);
    }

    /// Lowest and highest of each line, in words.
    fn reading(&self) -> String {
        let one = |line: &Line| {
            let low = line.hours.iter().copied().fold(f64::INFINITY, f64::min);
            let high = line.hours.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            format!("{} from {} to {}", line.name, number(low.round()), number(high.round()))
        };
        let all: Vec<_> = self.lines.iter().map(one).collect();
        format!("{}: {}.", self.head, if all.is_empty() { "the sun alone".to_owned() } else { all.join(", ") })
    }
}

/// Labels beside the right ends of the lines, moved apart where they would touch.
fn label(canvas: &mut Canvas, frame: Frame, mut ends: Vec<(f64, String)>) {
    ends.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut placed: Vec<f64> = ends.iter().map(|e| e.0).collect();
    for at in 1..placed.len() {
        placed[at] = placed[at].max(placed[at - 1] + APART);
    }
    let over = placed.last().map_or(0.0, |y| (y - frame.top - frame.height).max(0.0));
    if let Some(last) = placed.last_mut() {
        *last -= over;
    }
    for at in (1..placed.len()).rev() {
        placed[at - 1] = placed[at - 1].min(placed[at] - APART);
    }
    let right = frame.left + frame.width;
    for ((y, (own, text)), look) in placed.iter().zip(&ends).zip(std::iter::repeat(Type::of(2.4))) {
        if (y - own).abs() > 0.3 {
            canvas.line((right + 0.3, *own), (right + 1.6, *y), Pen::of(0.18).grey(0.4));
        }
        canvas.text((right + 2.0, y + look.size * 0.33), text, look);
    }
}
