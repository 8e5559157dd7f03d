//! Tables of the components: all of them, what to buy, serial numbers and warranties.

use super::{Context, table, yes};
use crate::build::Scope;
use crate::compute::time::{Due, DueKind};
use crate::documents::alike::plain;
use crate::documents::schedule::{components, purchase, removed};
use crate::spreadsheet::DataTable;
use crate::units::Dimension as D;
use jiff::civil::Date;

/// Seconds of a day.
const DAY: f64 = 86_400.0;

/// A component under the title of its system.
type Fitted<'v> = (&'static str, &'v components::ComponentRow);

pub(super) fn components(context: &Context<'_>) -> DataTable {
    let build = context.build;
    let systems = components::systems(context);
    let rows: Vec<Fitted<'_>> = systems.iter().flat_map(|s| s.rows.iter().map(|r| (s.title, r))).collect();
    let mass = |id: &str| build.parts.get(id)?.common.mass.get().map(|m| m.0);
    let all = table("components", "Components", &rows)
        .text("Id", |(_, r)| r.id.as_str())
        .text("Name", |(_, r)| r.name.as_str())
        .text("Kind", |(_, r)| r.kind.as_str())
        .text("System", |(title, _)| *title)
        .number("Quantity", "", |(_, r)| u32::try_from(r.quantity).ok().map(f64::from))
        .text("Place", |(_, r)| r.place.as_str())
        .text("Supplier", |(_, r)| r.supplier.as_str())
        .text("Part number", |(_, r)| r.part.as_str())
        .text("Serial number", |(_, r)| r.serial.as_str())
        .text("Serial expected", |(_, r)| yes(r.serial_expected))
        .quantity("Mass of one", D::Mass, build.prints(), move |(_, r)| mass(&r.id))
        .text("Note", |(_, r)| plain(&r.note));
    // A van that is built from empty has nothing to tell apart.
    if build.keeps_or_removes() {
        return all.text("Scope", |(_, r)| if r.scope.is_empty() { Scope::New.word() } else { r.scope }).done();
    }
    all.done()
}

/// What comes out of the van.
pub(super) fn removed(context: &Context<'_>) -> DataTable {
    let build = context.build;
    let rows = removed::rows(context);
    let mass = |id: &str| build.removed.get(id)?.common.mass.get().map(|m| m.0);
    table("removed", "What comes out", &rows)
        .text("Id", |r| r.id.as_str())
        .text("Name", |r| r.name.as_str())
        .text("Kind", |r| r.kind.as_str())
        .number("Quantity", "", |r| u32::try_from(r.quantity).ok().map(f64::from))
        .text("Place", |r| r.place.as_str())
        .text("Serial number", |r| r.serial.as_str())
        .quantity("Mass of one", D::Mass, build.prints(), move |r| mass(&r.id))
        .text("Note", |r| plain(&r.note))
        .done()
}

pub(super) fn purchase(context: &Context<'_>) -> DataTable {
    let purchase = purchase::purchase(context.build);
    let named = purchase.suppliers.iter().flat_map(|s| s.rows.iter().map(|r| (s.name.as_str(), r)));
    let rows: Vec<(&str, &purchase::PurchaseRow)> = named.chain(purchase.open.iter().map(|r| ("", r))).collect();
    table("purchase", "Purchase list", &rows)
        .text("Supplier", |(s, _)| *s)
        .text("Part number", |(_, r)| r.part.as_str())
        .text("Id", |(_, r)| r.id.as_str())
        .text("Name", |(_, r)| r.name.as_str())
        .number("Quantity", "", |(_, r)| u32::try_from(r.quantity).ok().map(f64::from))
        .number("Lead time", "days", |(_, r)| r.lead.map(|s| s.0 / DAY))
        .text("Currency", |(_, r)| r.money.as_ref().map_or("", |m| m.0.as_str()))
        .number("Price of one", "", |(_, r)| r.money.as_ref().map(|m| m.1))
        .number("Sum", "", |(_, r)| r.money.as_ref().map(|m| m.2))
        .done()
}

/// A component, and the end of its warranty.
type Registered<'v> = (&'v components::ComponentRow, Option<Date>);

pub(super) fn serials(context: &Context<'_>) -> DataTable {
    let systems = components::systems(context);
    let ends = |id: &str| {
        let ends = |d: &&Due| d.kind == DueKind::WarrantyEnds && d.component == id;
        context.due_dates?.dated.iter().find(ends).map(|d| d.date)
    };
    let all = systems.iter().flat_map(|s| &s.rows).map(|r| (r, ends(&r.id)));
    let rows: Vec<Registered<'_>> =
        all.filter(|(r, end)| r.serial_expected || !r.serial.is_empty() || end.is_some()).collect();
    table("serials", "Serial numbers", &rows)
        .text("Id", |(r, _)| r.id.as_str())
        .text("Name", |(r, _)| r.name.as_str())
        .text("Supplier", |(r, _)| r.supplier.as_str())
        .text("Part number", |(r, _)| r.part.as_str())
        .text("Serial number", |(r, _)| r.serial.as_str())
        .text("Serial missing", |(r, _)| yes(r.serial_expected && r.serial.is_empty()))
        .day("Warranty ends", |(_, end)| *end)
        .done()
}
