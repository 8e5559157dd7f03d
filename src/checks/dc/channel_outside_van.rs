//! A channel with a point outside the vehicle.

use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::Metres;

/// Room for measures that are rounded to the centimetre, and for what sits on the skin.
const ROUNDING: f64 = 0.05;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "channel-outside-van",
        severity: Severity::Warning,
        what: "A point of a channel lies outside the body of the vehicle by its length, width and height.",
        why: "A sign or a digit is wrong, and every cable in the channel is cut too long.",
        example: "[vehicle]\nwidth = \"2.02 m\"\n\n[channel.riser]\npoints = [[\"4.1 m\", \"8 m\", \"0.3 m\"], [\"4.1 m\", \"0.8 m\", \"0.9 m\"]]",
        basis: "Geometry: measures of the vehicle as the spec gives them, 50 mm for what lies on the skin.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    let vehicle = &build.vehicle;
    let metres = |field: &crate::fields::Field<Metres>| field.get().map(|m| m.0);
    // Along, across, up: the least and the most of each, where the spec tells.
    let ahead = metres(&vehicle.front_overhang).map(|front| -front);
    let behind = ahead.zip(metres(&vehicle.length)).map(|(ahead, length)| ahead + length);
    let side = metres(&vehicle.width).map(|width| width / 2.0);
    let below = metres(&vehicle.floor_height).map(|floor| -floor);
    let above = below.zip(metres(&vehicle.height)).map(|(below, height)| below + height);
    let bounds = [(ahead, behind), (side.map(|s| -s), side), (below, above)];
    for (id, channel) in &build.channels {
        let beyond = |point: &&[f64; 3]| {
            point.iter().zip(bounds).any(|(at, (least, most))| {
                least.is_some_and(|least| *at < least - ROUNDING) || most.is_some_and(|most| *at > most + ROUNDING)
            })
        };
        let Some(point) = channel.points.all().iter().find(beyond) else { continue };
        let shown = point.map(|metres| Metres(metres).show(build.prints())).join(", ");
        sink.push(
            Finding::warning(CHECK.doc.name, format!("channel {id}: {shown} lies outside the vehicle"))
                .about(id)
                .at(channel.points.span, "one of these points")
                .help("look for a sign or a digit too many; points are aft of the front axle, to the left, above the floor"),
        );
    }
}
