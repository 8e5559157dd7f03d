//! The service file: what a technician needs of the van later, bound in one. Here is its front, and the work that the
//! calendar leaves to a workshop.

use super::shared;
use super::{BuildView, Context, drawing_sheets, maintenance_calendar};
use crate::kinds::{Stage, System};
use serde::Serialize;

/// What the template prints.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct View {
    /// Head.
    pub build: BuildView,
    /// Its PDF holds the specification: nothing in that must not be told.
    pub holds_spec: bool,
    /// Gas is aboard.
    pub gas: bool,
    /// What a workshop does, by system, with its steps.
    pub systems: Vec<maintenance_calendar::SystemJobs>,
    /// Photos by what they show.
    pub photos: Vec<Photo>,
    /// There are drawings to bind.
    pub drawings: bool,
}

/// Photos.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Photo {
    /// Stage or component.
    pub about: String,
    /// What they show.
    pub show: String,
    /// File names.
    pub files: Vec<String>,
}

/// The front of the service file.
#[must_use]
pub(crate) fn view(context: &Context<'_>) -> View {
    let build = context.build;
    View {
        build: BuildView::of(build),
        holds_spec: !build.hides(),
        gas: build.parts.values().any(|p| p.kind.system == System::Lpg),
        systems: maintenance_calendar::serviced(context),
        photos: photos(context),
        drawings: drawing_sheets::view(context).is_some(),
    }
}

fn photos(context: &Context<'_>) -> Vec<Photo> {
    let build = context.build;
    let about = |id: &str| {
        Stage::from_id(id).map_or_else(|| build.name(id).to_owned(), |stage| shared::stage_title(build, stage))
    };
    let photo = |(id, record): (&String, &crate::fields::Record)| Photo {
        about: about(id),
        show: record.text("show").unwrap_or("").to_owned(),
        files: record.list("files").iter().map(|f| f.value.clone()).collect(),
    };
    build.spec.recorded.photos.iter().map(photo).collect()
}
