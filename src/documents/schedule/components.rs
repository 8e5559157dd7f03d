//! Components by system.

use crate::documents::Context;
use crate::documents::shared::{Reader, place_of, serial, with_known};
use crate::fields::{Field, Text};
use crate::kinds::System;
use serde::Serialize;

/// Components of one system.
#[derive(Clone, Debug, Serialize)]
pub struct SystemGroup {
    /// Title of the system.
    pub title: &'static str,
    /// Some component has a supplier or part number.
    pub bought: bool,
    /// Some component has a serial number, or should have.
    pub serials: bool,
    /// Components.
    pub rows: Vec<ComponentRow>,
}

/// A component.
#[derive(Clone, Debug, Serialize)]
pub struct ComponentRow {
    /// How many.
    pub quantity: i64,
    /// Name.
    pub name: String,
    /// Id.
    pub id: String,
    /// Kind.
    pub kind: String,
    /// "existing" or "altered"; "" where it is new.
    pub scope: &'static str,
    /// Place.
    pub place: String,
    /// Supplier.
    pub supplier: String,
    /// Part number.
    pub part: String,
    /// Recorded serial, "" where none is.
    pub serial: String,
    /// Handover asks for it.
    pub serial_expected: bool,
    /// Mass of one.
    pub mass: String,
    /// Note, inline Markdown.
    pub note: String,
}

/// Components by system, systems in the order of documents.
#[must_use]
pub(crate) fn systems(context: &Context<'_>) -> Vec<SystemGroup> {
    let group = |system: &System| {
        let rows = rows(context, *system);
        SystemGroup {
            title: system.title(),
            bought: rows.iter().any(|r| !r.supplier.is_empty() || !r.part.is_empty()),
            serials: rows.iter().any(|r| r.serial_expected || !r.serial.is_empty()),
            rows,
        }
    };
    let groups = System::ALL.iter().map(group);
    groups.filter(|g| !g.rows.is_empty()).collect()
}

fn rows(context: &Context<'_>, system: System) -> Vec<ComponentRow> {
    let build = context.build;
    let parts = build.parts.values().filter(|p| p.kind.system == system);
    let row = |p: &crate::build::Part<'_>| {
        let text = |field: &Field<Text>| field.or_empty().to_owned();
        ComponentRow {
            quantity: p.count,
            name: p.name.clone(),
            id: p.id.clone(),
            kind: p.kind.name.clone(),
            place: place_of(build, &p.id, Reader::Binder),
            supplier: text(&p.common.supplier),
            part: text(&p.common.part),
            serial: serial(build, &p.id),
            serial_expected: p.carries_serial(),
            mass: with_known(
                p.common.mass.get().map_or_else(String::new, |m| m.show(build.prints())),
                p.known(p.common.mass.name),
            ),
            scope: if p.was_there() { p.scope.word() } else { "" },
            note: p.common.note.or_empty().to_owned(),
        }
    };
    parts.map(row).collect()
}
