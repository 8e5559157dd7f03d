//! Components that come out of the van: in no other list.

use crate::build::Part;
use crate::documents::Context;
use crate::documents::shared::serial;
use serde::Serialize;

/// A component that comes out.
#[derive(Clone, Debug, Serialize)]
pub struct RemovedRow {
    /// How many.
    pub quantity: i64,
    /// Name.
    pub name: String,
    /// Id.
    pub id: String,
    /// Kind.
    pub kind: String,
    /// Where it is until then.
    pub place: String,
    /// Recorded serial, "" where none is.
    pub serial: String,
    /// Mass of one.
    pub mass: String,
    /// Note, inline Markdown.
    pub note: String,
}

/// The components that come out, in the order of the spec.
#[must_use]
pub(crate) fn rows(context: &Context<'_>) -> Vec<RemovedRow> {
    let build = context.build;
    let row = |p: &Part<'_>| RemovedRow {
        quantity: p.count,
        name: p.name.clone(),
        id: p.id.clone(),
        kind: p.kind.name.clone(),
        place: p.places.iter().map(|id| build.place_name(id)).collect::<Vec<_>>().join(", "),
        serial: serial(build, &p.id),
        mass: p.common.mass.get().map_or_else(String::new, |m| m.show(build.prints())),
        note: p.common.note.or_empty().to_owned(),
    };
    build.removed.values().map(row).collect()
}
