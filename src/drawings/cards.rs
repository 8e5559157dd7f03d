//! Cards to cut out and carry: height for the windscreen, weights, tyre pressures. In metric and US units.

use super::canvas::{Anchor, Area, Canvas, Dash, Fill, Pen, Type, Weight};
use super::{Context, Drawing, Subject, letters};
use crate::compute::geometry::signs;
use crate::compute::weight::signs::{allowed, present};
use crate::fields::Field;
use crate::kinds::Air;
use crate::roles::Roles;
use crate::units::{Dimension, Kilograms, Kilopascals, Metres, System, print};

/// Room between the line to cut along and the text, mm.
const EDGE: f64 = 6.0;

/// The cards of a build that there is something to say on.
pub(super) fn drawings(context: &Context<'_>) -> Vec<Drawing> {
    [height(context), weight(context), tyres(context)].into_iter().flatten().collect()
}

/// An empty card: its line to cut along with scissors on it, and its heading.
fn card(width: f64, height: f64, title: &str, build: &str) -> Canvas {
    let mut canvas = Canvas::new(width, height);
    let dashed = Pen::of(0.25).grey(0.3).dash(Dash::Dashed);
    canvas.rect(Area::at(2.5, 2.5, width - 5.0, height - 5.0), 2.0, dashed, Fill::None);
    scissors(&mut canvas, (10.0, 2.5));
    canvas.text((EDGE + 1.0, 10.5), title, Type::of(4.0).bold());
    let room = width - 2.0 * EDGE - letters::width(title, 4.0, Weight::Semibold) - 8.0;
    let build = letters::fitted(build, 2.8, Weight::Regular, room);
    canvas.text((width - EDGE - 1.0, 10.5), &build, Type::of(2.8).grey(0.3).end());
    canvas.line((EDGE, 12.8), (width - EDGE, 12.8), Pen::of(0.35));
    canvas
}

fn scissors(canvas: &mut Canvas, at: (f64, f64)) {
    let pen = Pen::of(0.3);
    let (x, y) = at;
    canvas.rect(Area::at(x - 2.4, y - 1.6, 7.0, 3.2), 0.0, Pen::NONE, Fill::Grey(1.0));
    for side in [-1.0, 1.0] {
        canvas.circle((x - 1.4, y + side), 0.7, pen, Fill::None);
        canvas.line((x - 0.8, y + 0.6 * side), (x + 4.0, y - 0.8 * side), pen);
    }
}

/// "Heron, W-0412, revision C".
fn of_build(context: &Context<'_>) -> String {
    let build = context.build;
    let revision = build.about.revision.or_empty();
    let revision = if revision.is_empty() { String::new() } else { format!("revision {revision}") };
    let words = [build.about.title.or_empty().to_owned(), build.about.number.or_empty().to_owned(), revision];
    words.into_iter().filter(|w| !w.is_empty()).collect::<Vec<_>>().join(", ")
}

/// Both systems, that of the documents first.
fn both(context: &Context<'_>, metric: String, us: String) -> [String; 2] {
    if context.build.prints() == System::Us { [us, metric] } else { [metric, us] }
}

fn measure(context: &Context<'_>, value: Metres) -> [String; 2] {
    both(context, signs::metric(value), signs::us(value))
}

/// A mass in both systems, as `sign` rounds it.
fn mass(context: &Context<'_>, value: Kilograms, sign: fn(Kilograms, System) -> String) -> [String; 2] {
    both(context, sign(value, System::Metric), sign(value, System::Us))
}

fn height(context: &Context<'_>) -> Option<Drawing> {
    let card_of = &context.geometry.card;
    let loaded = card_of.height.as_ref()?;
    let [first, second] = measure(context, loaded.value);
    let empty = card_of.height_empty.as_ref().filter(|e| e.value.0 < loaded.value.0);
    let small = [
        empty.map(|e| ("Carriers on the roof empty", e.value)),
        card_of.width.as_ref().map(|e| ("Width without mirrors", e.value)),
        card_of.length.as_ref().map(|e| ("Length, carriers loaded", e.value)),
    ];
    let small: Vec<_> = small.into_iter().flatten().collect();
    let tall = if small.is_empty() { 80.0 } else { 96.0 };
    let mut canvas = card(170.0, tall, "HEIGHT", &of_build(context));
    let middle = 85.0;
    for (text, baseline, size) in [(&first, 40.0, 27.0), (&second, 63.0, 21.0)] {
        let wide = letters::width(text, size, Weight::Semibold);
        let size = if wide > 156.0 { size * 156.0 / wide } else { size };
        canvas.text((middle, baseline), text, Type::of(size).bold().middle());
    }
    let by =
        if loaded.by.is_empty() { String::new() } else { format!(" Highest: {}.", context.build.name(&loaded.by)) };
    let note = format!("Measures are rounded up. With everything on the roof.{by}");
    let note = letters::fitted(&note, 3.2, Weight::Regular, 156.0);
    canvas.text((middle, 71.5), &note, Type::of(3.2).middle());
    if !small.is_empty() {
        canvas.line((EDGE, 75.5), (170.0 - EDGE, 75.5), Pen::of(0.2));
    }
    #[expect(clippy::cast_precision_loss, reason = "at most three columns")]
    for (at, (what, value)) in small.iter().enumerate() {
        let x = EDGE + 1.0 + at as f64 * 53.0;
        let [one, other] = measure(context, *value);
        canvas.text((x, 80.5), what, Type::of(2.8).grey(0.25));
        canvas.text((x, 86.5), &format!("{one} = {other}"), Type::of(4.0).bold());
    }
    let said = format!("Height {first} = {second}. {note}");
    Some(Drawing::finish(&canvas, Subject::Card, "height", "height", "Height card", &said).at_true_size())
}

/// A table on a card: what, then two columns of figures.
fn table(canvas: &mut Canvas, width: f64, heads: [&str; 2], rows: &[(String, [String; 2])]) {
    let columns = [width - 34.0, width - EDGE - 1.0];
    for (head, x) in heads.iter().zip(columns) {
        canvas.text((x, 17.6), head, Type { anchor: Anchor::End, ..Type::of(2.8).grey(0.25) });
    }
    let mut y = 23.4;
    for (what, figures) in rows {
        let what = letters::fitted(what, 3.4, Weight::Regular, width - 34.0 - 26.0 - EDGE);
        canvas.text((EDGE + 1.0, y), &what, Type::of(3.4));
        for (figure, x) in figures.iter().zip(columns) {
            canvas.text((x, y), figure, Type::of(4.0).bold().end());
        }
        canvas.line((EDGE, y + 2.0), (width - EDGE, y + 2.0), Pen::of(0.18).grey(0.5));
        y += 6.8;
    }
}

/// Height of a card with so many rows, and a note.
#[expect(clippy::cast_precision_loss, reason = "a card has few rows")]
fn tall(rows: usize) -> f64 {
    23.4 + rows as f64 * 6.8 + 7.0
}

fn weight(context: &Context<'_>) -> Option<Drawing> {
    let build = context.build;
    let vehicle = &build.vehicle;
    let weighed = &build.weights;
    let on_scale = weighed.front_axle.given && weighed.rear_axle.given;
    let mut rows: Vec<(String, [String; 2])> = Vec::new();
    let mut put = |what: &str, value: Option<Kilograms>, sign: fn(Kilograms, System) -> String| {
        if let Some(value) = value {
            rows.push((what.to_owned(), mass(context, value, sign)));
        }
    };
    put("Never more, whole van", vehicle.gross_mass.get(), allowed);
    put("Never more, front axle", vehicle.front_axle_limit.get(), allowed);
    put("Never more, rear axle", vehicle.rear_axle_limit.get(), allowed);
    if on_scale {
        put("As weighed, front axle", weighed.front_axle.get(), present);
        put("As weighed, rear axle", weighed.rear_axle.get(), present);
        put("As weighed, whole van", weighed.total.get(), present);
    } else if let Some(case) = context.weight.cases.first() {
        put("As computed, front axle", Some(case.axles.front), present);
        put("As computed, rear axle", Some(case.axles.rear), present);
        put("As computed, whole van", Some(case.axles.total()), present);
    }
    put("Left for people and load, as computed", context.weight.label.map(|l| l.capacity), allowed);
    let water = context.weight.label.map(|l| l.water).filter(|w| w.0 > 0.0);
    put("of this, fresh water when full", water, present);
    put("Driving, all on the roof, racks too", vehicle.roof_load_limit.get(), allowed);
    for driving in &context.weight.driving {
        let what = format!("Driving, on “{}”", build.name(&driving.part));
        put(&what, Some(driving.limit), allowed);
    }
    if rows.is_empty() {
        return None;
    }
    let width = 124.0;
    let height = tall(rows.len());
    let mut canvas = card(width, height, "WEIGHT", &of_build(context));
    table(&mut canvas, width, if build.prints() == System::Us { ["US", "metric"] } else { ["metric", "US"] }, &rows);
    let state = if on_scale { "Weighed empty, as the test record says." } else { "Not weighed yet." };
    let note = format!("What is allowed is rounded down, what is there up. {state}");
    let note = letters::fitted(&note, 2.8, Weight::Regular, width - 2.0 * EDGE - 2.0);
    canvas.text((EDGE + 1.0, height - 5.8), &note, Type::of(2.8).grey(0.25));
    let said = format!("{} {note}", spoken(&rows));
    Some(Drawing::finish(&canvas, Subject::Card, "weight", "weight", "Weight card", &said).at_true_size())
}

fn tyres(context: &Context<'_>) -> Option<Drawing> {
    let build = context.build;
    let wheels = build.parts.values().find(|p| p.kind.air.as_ref().is_some_and(|a| a.role == Air::Tyres));
    let (wheels, vehicle) = (wheels.map(|w| &w.roles), &build.vehicle);
    let fitted = |of: fn(&Roles) -> &Field<Kilopascals>| wheels.and_then(|w| of(w).get());
    let given = [
        ("Front, road", fitted(Roles::pressure_front).or(vehicle.tyre_pressure_front.get())),
        ("Rear, road", fitted(Roles::pressure_rear).or(vehicle.tyre_pressure_rear.get())),
        ("All, rough track", fitted(Roles::pressure_track)),
        ("All, sand", fitted(Roles::pressure_sand)),
    ];
    let shown = |p: f64| {
        let us = print(Dimension::Pressure, p, System::Us);
        both(context, print(Dimension::Pressure, p, System::Metric), us)
    };
    let rows: Vec<_> = given.into_iter().filter_map(|(what, p)| Some((what.to_owned(), shown(p?.0)))).collect();
    if rows.is_empty() {
        return None;
    }
    let width = 124.0;
    let height = tall(rows.len());
    let mut canvas = card(width, height, "TYRES, COLD", &of_build(context));
    table(&mut canvas, width, if build.prints() == System::Us { ["US", "metric"] } else { ["metric", "US"] }, &rows);
    let size = build.vehicle.tyres.or_empty();
    let slow = if rows.len() > 2 { "Inflate again before the next fast road. " } else { "" };
    let note = letters::fitted(&format!("{slow}{size}"), 2.8, Weight::Regular, width - 2.0 * EDGE - 2.0);
    canvas.text((EDGE + 1.0, height - 5.8), &note, Type::of(2.8).grey(0.25));
    let said = spoken(&rows);
    Some(Drawing::finish(&canvas, Subject::Card, "tyres", "tyres", "Tyre pressure card", &said).at_true_size())
}

/// The rows in words.
fn spoken(rows: &[(String, [String; 2])]) -> String {
    let row = |(what, [one, other]): &(String, [String; 2])| format!("{what}: {one} = {other}.");
    rows.iter().map(row).collect::<Vec<_>>().join(" ")
}
