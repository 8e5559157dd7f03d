//! The service file: what a technician needs of the van later, bound in one. Here is its front, and the work that the
//! calendar leaves to a workshop.

use super::shared::accepted::{self, Accepted};
use super::{BuildView, Context, drawing_sheets, maintenance_calendar};
use crate::kinds::System;
use serde::Serialize;

/// File name, without an ending.
pub(crate) const STEM: &str = "service-file";

/// What the template prints.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct View {
    /// Head.
    pub build: BuildView,
    /// Gas is aboard.
    pub gas: bool,
    /// Warnings that were accepted.
    pub accepted: Vec<Accepted>,
    /// What a workshop does, by system, with its steps.
    pub systems: Vec<maintenance_calendar::SystemJobs>,
    /// There are drawings to bind.
    pub drawings: bool,
}

/// The front of the service file.
#[must_use]
pub(crate) fn view(context: &Context<'_>) -> View {
    let build = context.build;
    View {
        build: BuildView::of(build),
        gas: build.parts.values().any(|p| p.kind.system == System::Lpg),
        accepted: accepted::rows(context),
        systems: maintenance_calendar::serviced(context),
        drawings: drawing_sheets::view(context).is_some(),
    }
}
