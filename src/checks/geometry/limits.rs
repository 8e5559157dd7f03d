//! Outer measures and angles against what the spec asks for.

use crate::checks::Context;
use crate::checks::compare::above;
use crate::compute::geometry::Angle;
use crate::compute::geometry::outline::Extent;
use crate::diag::{Finding, Sink};
use crate::fields::Field;
use crate::units::{Bound, Degrees, Dimension, Metres, print};

/// One outer measure and the fields about it.
pub(super) struct Measure<'a> {
    pub(super) name: &'static str,
    pub(super) word: &'static str,
    pub(super) extent: Option<&'a Extent>,
    pub(super) own: &'a Field<Metres>,
    pub(super) vehicle: &'a Field<Metres>,
    pub(super) road: Metres,
    pub(super) road_basis: &'static str,
}

/// Reports a measure above the spec's own limit, or else above that of the road.
pub(super) fn measure(context: &Context<'_>, measure: &Measure<'_>, sink: &mut Sink) {
    let Some(extent) = measure.extent else { return };
    let (build, system) = (context.build, context.build.prints());
    let own = measure.own.get();
    let limit = own.map_or(measure.road, |l| l.min(measure.road));
    if !above(extent.value.0, limit.0) {
        return;
    }
    let by = if extent.by.is_empty() { "the vehicle itself".to_owned() } else { build.name(&extent.by).to_owned() };
    let over = Metres(extent.value.0 - limit.0);
    let headline = format!(
        "overall {} {}: {} over {}",
        measure.word,
        extent.value.show(system),
        over.show(system),
        limit.bound(Bound::Most, system)
    );
    let span = if own.is_some() { measure.own.span } else { measure.vehicle.span };
    let mut finding = Finding::warning(measure.name, headline)
        .at(span, format!("{by} decides it"))
        .help("a lower, shorter or narrower item there, or one that folds; or another way")
        .help("measure the finished van and put the card on the dashboard");
    if let Some(part) = context.part(&extent.by) {
        finding = finding.about(&extent.by).label(part.span, "this one");
    }
    if own.is_none_or(|l| l.0 > measure.road.0) {
        finding = finding.basis(measure.road_basis);
    }
    sink.push(finding);
}

/// Reports an angle below the one wanted.
pub(super) fn angle(
    context: &Context<'_>,
    name: &'static str,
    word: &str,
    angle: Option<&Angle>,
    (field, wanted): (&str, &Field<Degrees>),
    sink: &mut Sink,
) {
    let (Some(angle), Some(least)) = (angle, wanted.get()) else { return };
    if !above(least.0, angle.degrees) {
        return;
    }
    let system = context.build.prints();
    let degrees = |d: f64| print(Dimension::Angle, d, system);
    let point = &angle.point;
    let part = context.part(&point.part);
    let what = part.map_or_else(|| "the vehicle itself".to_owned(), |p| p.name.clone());
    let mut finding = Finding::warning(name, format!("{word} angle {}: {what} hangs too low", degrees(angle.degrees)))
        .at(
            part.map_or(context.build.vehicle.span, |p| p.reach.as_ref().map_or(p.span, |r| r.ground.span)),
            format!("{} above the ground, {} aft of the front axle", point.height.show(system), point.x.show(system)),
        )
        .basis("49 CFR 523.2 and ISO 612: tangent from the loaded tyre to the point")
        .help("hang it higher or nearer to the axle, or fold it away before rough ground");
    if part.is_some() {
        finding = finding.about(&point.part);
    }
    if !wanted.given {
        finding = finding.basis(format!(
            "at least {}: common practice, no source; `{field}` in [use] asks for another",
            degrees(least.0)
        ));
    }
    sink.push(finding);
}
