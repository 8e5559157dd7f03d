//! Tables of the wiring: circuits, panel directories, wire labels, cable, fuses.

use super::{Context, count, table, yes};
use crate::build::{Circuit, Conductor, RouteBy};
use crate::compute::directory::{self, Directory, WayRow};
use crate::compute::electrical::interrupting::Interrupting;
use crate::compute::network::{CircuitFigures, ConductorEnd, colour};
use crate::documents::schedule::circuits as schedule;
use crate::documents::shared::conductors::{Wire, cut, good, landing, lug};
use crate::documents::shared::{self, Reader, Told, Wired, cable, fuses as fuse_views, small_parts};
use crate::spreadsheet::DataTable;
use crate::units::Dimension as D;

pub(super) fn circuits(context: &Context<'_>) -> DataTable {
    let build = context.build;
    let system = build.prints();
    let rows: Vec<Wired<'_>> = shared::wired(context).collect();
    let conductor = |f: &CircuitFigures| f.conductor().cloned();
    table("circuits", "Circuits", &rows)
        .text("Label", |(c, _)| c.id.as_str())
        .text("Network", |(c, _)| shared::network_name(c.network))
        .text("From", |(c, _)| build.name(&c.from))
        .number("Way", "", |(c, _)| c.way.map(f64::from))
        .text("To", |(c, _)| build.name(&c.to))
        .quantity("Nominal voltage", D::Voltage, system, |(_, f)| Some(f.nominal.0))
        .quantity("Load", D::Current, system, |(_, f)| Some(f.demand.load.0))
        .quantity("Design current", D::Current, system, |(_, f)| Some(f.design.0))
        .text("Protection", |(_, f)| shared::protection(build, &f.device))
        .quantity("Protection rating", D::Current, system, |(_, f)| f.device.rating.map(|r| r.0))
        .text("Conductor", |(_, f)| shared::conductor(f))
        .quantity("Cross-section", D::Section, system, move |(_, f)| conductor(f).map(|s| s.size.area().0 * s.shares()))
        .quantity("Ampacity", D::Current, system, move |(_, f)| conductor(f)?.ampacity.map(|a| a.corrected.0))
        .quantity("Run, one way", D::Length, system, |(c, _)| c.run.map(|r| r.0))
        .quantity("Voltage drop", D::Ratio, system, move |(_, f)| {
            conductor(f).filter(|_| f.run_known).map(|s| s.drop.share.0)
        })
        .quantity("Limit of the drop", D::Ratio, system, |(_, f)| Some(f.drop_limit.0))
        .quantity("Conductor, cold", D::Resistance, system, |(_, f)| f.acceptance.map(|a| a.good.conductor.0))
        .quantity("Conductor, at most", D::Resistance, system, |(_, f)| f.acceptance.map(|a| a.good.conductor_most.0))
        .quantity("Fault current", D::Current, system, |(_, f)| f.fault.map(|s| s.current.0))
        .quantity("Can break", D::Current, system, |(_, f)| {
            f.device.breaks.credited().filter(|_| f.breaking.is_some()).map(|a| a.0)
        })
        .text("Breaks it", |(_, f)| f.breaking.map_or("", Interrupting::words))
        .text("Governed by", move |(_, f)| conductor(f).map_or("", |s| schedule::governed(s.governed_by)))
        .done()
}

pub(super) fn panels(context: &Context<'_>) -> DataTable {
    let system = context.build.prints();
    let directories = directory::directories(context.build, &context.electrical, Reader::Binder);
    let rows: Vec<(&Directory, &WayRow)> =
        directories.iter().flat_map(|d| d.rows.iter().map(move |r| (d, r))).collect();
    let figures = |row: &WayRow| context.electrical.circuits.get(&row.label);
    table("panel-stickers", "Panel directories", &rows)
        .text("Panel", |(d, _)| d.id.as_str())
        .text("Panel name", |(d, _)| d.name.as_str())
        .text("Place", |(d, _)| d.place.as_str())
        .number("Way", "", |(_, r)| r.number.map(f64::from))
        .text("Label", |(_, r)| r.label.as_str())
        .text("Feeds", |(_, r)| r.feeds.as_str())
        .text("Fuse or breaker", |(_, r)| r.device.as_str())
        .quantity("Rating", D::Current, system, move |(_, r)| figures(r)?.device.rating.map(|r| r.0))
        .text("Colour", |(_, r)| r.colour.as_str())
        .text("Conductor", |(_, r)| r.conductor.as_str())
        .quantity("Load", D::Current, system, move |(_, r)| figures(r).map(|f| f.demand.load.0))
        .done()
}

/// Every conductor with its two ends: of what is pulled, terminated, labelled and tested there is no other list.
pub(super) fn conductors(context: &Context<'_>) -> DataTable {
    let build = context.build;
    let system = build.prints();
    let all = build.wiring.conductors.values();
    let rows: Vec<Wire<'_>> = all.filter_map(|c| Some((c, context.electrical.conductors.get(&c.id)?))).collect();
    let colours = &context.electrical.profile.colours;
    let torque = |end: &ConductorEnd| end.torque;
    let by = |c: &Conductor| match c.route.by {
        RouteBy::Given => "given",
        RouteBy::Channels => "channels",
        RouteBy::Straight => "straight",
        RouteBy::Back => "back along the runs",
        RouteBy::Unknown => "to measure",
    };
    let cable = |c: &Conductor| c.cable.clone();
    table("conductors", "Conductors", &rows)
        .text("Conductor", |(c, _)| c.id.as_str())
        .text("Cable", move |(c, _)| cable(c))
        .text("Circuit", |(c, _)| c.circuit.clone().unwrap_or_default())
        .text("Carries", |(c, _)| c.carries.show())
        .text("From", |(c, _)| landing(context, &c.from, Told::Name(Reader::Binder)))
        .text("Lug there", |(_, f)| lug(&f.ends[0]))
        .quantity("Torque there", D::Torque, system, move |(_, f)| torque(&f.ends[0]))
        .text("To", |(c, _)| landing(context, &c.to, Told::Name(Reader::Binder)))
        .text("Lug at the end", |(_, f)| lug(&f.ends[1]))
        .quantity("Torque at the end", D::Torque, system, move |(_, f)| torque(&f.ends[1]))
        .text("Size", |(c, f)| {
            f.size.map_or_else(|| if c.is_cut() { "" } else { "maker’s" }.to_owned(), |s| s.to_string())
        })
        .quantity("Cross-section", D::Section, system, |(_, f)| f.size.map(|s| s.area().0))
        .text("Colour", |(c, _)| colour(c.carries, colours))
        .text("Channels", |(c, _)| c.route.channels.join(", "))
        .quantity("Route", D::Length, system, |(c, _)| c.route.length.or(c.makers).map(|l| l.0))
        .text("Route is", move |(c, _)| if c.is_cut() { by(c) } else { "maker’s, not cut" })
        .quantity("Cut", D::Length, system, |(c, f)| cut((c, f)).map(|l| l.0))
        .quantity("Fuse of its own", D::Current, system, |(c, _)| c.fuse.map(|a| a.0))
        .quantity("Cold, end to end", D::Resistance, system, |(c, f)| good((c, f)).map(|g| g.conductor.0))
        .quantity("At most", D::Resistance, system, |(c, f)| good((c, f)).map(|g| g.conductor_most.0))
        .text("Laid otherwise", |(c, _)| yes(build.site.has_conductor(c)))
        .done()
}

pub(super) fn labels(context: &Context<'_>) -> DataTable {
    let rows = schedule::labels(context);
    let otherwise = context.build.laid_otherwise();
    let way = |label: &str| context.build.circuits.get(label).and_then(|c: &Circuit| c.way);
    table("wire-labels", "Wire labels", &rows)
        .text("Label", |r| r.label.as_str())
        .text("Conductors", |r| r.conductors.as_str())
        .number("Way", "", move |r| way(&r.label).map(f64::from))
        .text("From", |r| r.from.as_str())
        .text("To", |r| r.to.as_str())
        .text("Size", |r| r.conductor.as_str())
        .text("Colours", |r| r.colours.as_str())
        .number("Labels", "", |r| Some(count(r.count)))
        .text("Laid otherwise", move |r| yes(otherwise.contains(&r.label.as_str())))
        .done()
}

pub(super) fn cable(context: &Context<'_>) -> DataTable {
    let system = context.build.prints();
    let rows = cable::cut_lines(context);
    let known = |l: &cable::CutLine, value: f64| (l.pieces > 0).then_some(value);
    table("cable", "Cable cut list", &rows)
        .text("Size", |l| l.size.to_string())
        .quantity("Cross-section", D::Section, system, |l| Some(l.size.area().0))
        .text("Conductor", |l| l.core.show())
        .text("Colour", |l| l.colour.as_str())
        .number("Pieces", "", |l| Some(count(l.pieces)))
        .quantity("Longest", D::Length, system, move |l| known(l, l.longest.0))
        .quantity("Length", D::Length, system, move |l| known(l, l.length.0))
        .number("Pieces to measure", "", |l| Some(count(l.to_measure)))
        .done()
}

pub(super) fn small_parts(context: &Context<'_>) -> DataTable {
    let rows = small_parts::all(context);
    table("small-parts", "Lugs and small parts", &rows)
        .text("What", |r| r.what.as_str())
        .number("Number", "", |r| Some(count(r.count)))
        .text("Length together", |r| r.length.as_str())
        .done()
}

pub(super) fn fuses(context: &Context<'_>) -> DataTable {
    let rows = fuse_views::fuse_list(context);
    table("fuses", "Fuses and breakers", &rows)
        .text("Device", |r| r.device.as_str())
        .text("Colour", |r| r.colour.as_str())
        .number("Fitted", "", |r| Some(count(r.fitted)))
        .number("Spare", "", |r| Some(count(r.spare)))
        .number("Total", "", |r| Some(count(r.total)))
        .text("Circuits", |r| r.labels.as_str())
        .done()
}
