//! Outer measures and angles against what the spec asks for.

use crate::checks::Context;
use crate::checks::compare::above;
use crate::compute::geometry::Angle;
use crate::compute::geometry::outline::Extent;
use crate::diag::{Finding, Sink};
use crate::units::{Bound, Dimension, Metres, print};

/// One outer measure and the fields about it.
pub(super) struct Measure<'a> {
    pub(super) name: &'static str,
    pub(super) word: &'static str,
    pub(super) extent: Option<&'a Extent>,
    pub(super) field: &'static str,
    pub(super) road: Metres,
    pub(super) road_basis: &'static str,
}

/// Reports a measure above the spec's own limit, or else above that of the road.
pub(super) fn measure(context: &Context<'_>, measure: &Measure<'_>, sink: &mut Sink) {
    let Some(extent) = measure.extent else { return };
    let (build, system) = (context.build, context.build.prints());
    let own = build.spec.usage.metres(measure.field);
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
    let span = match own {
        Some(_) => build.spec.usage.span_of(measure.field),
        None => build.spec.vehicle.span_of(measure.word),
    };
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
    field: &str,
    sink: &mut Sink,
) {
    let wanted = context.build.spec.usage.quantity(field, Dimension::Angle);
    let (Some(angle), Some(wanted)) = (angle, wanted) else { return };
    if !above(wanted.value, angle.degrees) {
        return;
    }
    let system = context.build.prints();
    let degrees = |d: f64| print(Dimension::Angle, d, system);
    let point = &angle.point;
    let part = context.part(&point.part);
    let what = part.map_or_else(|| "the vehicle itself".to_owned(), |p| p.name.clone());
    let mut finding = Finding::warning(name, format!("{word} angle {}: {what} hangs too low", degrees(angle.degrees)))
        .at(
            part.map_or(context.build.spec.vehicle.span, |p| p.record.span_of("ground_clearance")),
            format!("{} above the ground, {} aft of the front axle", point.height.show(system), point.x.show(system)),
        )
        .basis("49 CFR 523.2 and ISO 612: tangent from the loaded tyre to the point")
        .help("hang it higher or nearer to the axle, or fold it away before rough ground");
    if part.is_some() {
        finding = finding.about(&point.part);
    }
    if !context.build.spec.usage.gave(field) {
        finding = finding.basis(format!(
            "at least {}: common practice, no source; `{field}` in [use] asks for another",
            degrees(wanted.value)
        ));
    }
    sink.push(finding);
}
