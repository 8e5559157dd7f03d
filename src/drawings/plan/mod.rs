//! The van to scale: general arrangement, plans of all levels, sides, stages, the emergency map.

pub(crate) mod balloons;
pub(crate) mod body;
pub(crate) mod dims;
mod emergency;
pub(crate) mod frame;
pub(crate) mod key;
mod levels;
mod overview;
pub(crate) mod sheet;
pub(crate) mod sign;

use super::{Context, Drawing};
use crate::compute::geometry::spots::spots;
use crate::compute::geometry::van::Van;

/// The drawings to scale; none without a wheelbase.
#[must_use]
pub fn drawings(context: &Context<'_>) -> Vec<Drawing> {
    let build = context.build;
    let Some(van) = Van::of(build) else { return Vec::new() };
    let spots = spots(build, &van);
    let mut all = emergency::drawing(build, &van, &spots);
    all.push(overview::arrangement(context, &van));
    all.extend(overview::sides(build, &van, &spots));
    all.extend(levels::plans(build, &van, &spots));
    all
}

/// Plans of the work of each stage.
#[must_use]
pub fn stages(context: &Context<'_>) -> Vec<Drawing> {
    let build = context.build;
    let Some(van) = Van::of(build) else { return Vec::new() };
    levels::stages(build, &van, &spots(build, &van))
}
