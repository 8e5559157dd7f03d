//! What ends and holds the conductors that this job cuts: lugs, ferrules, sleeves, fuse holders, collecting bars, draw-in
//! channels.

use super::conductors::wires;
use super::{fuses, worked};
use crate::compute::network::{ConductorEnd, DeviceAt};
use crate::documents::Context;
use crate::kinds::PostForm;
use crate::units::{ConductorSize, Metres};
use indexmap::IndexMap;
use serde::Serialize;

/// What a kind does not tell is bought with the device in hand.
const AT_DEVICE: &str = "lug or ferrule as the device asks,";

/// So many of one small part.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(crate) struct SmallPart {
    /// What it is: "ring 8 AWG × M5".
    pub what: String,
    /// How many; of a channel one.
    pub count: usize,
    /// Length of a channel, "" of what is counted.
    pub length: String,
}

/// All of them.
pub(crate) fn all(context: &Context<'_>) -> Vec<SmallPart> {
    of_ends(context).into_iter().chain(channels(context)).collect()
}

/// Lugs and ferrules, thick before thin, then sleeves and holders.
pub(crate) fn of_ends(context: &Context<'_>) -> Vec<SmallPart> {
    let mut ends: IndexMap<String, (ConductorSize, usize)> = IndexMap::new();
    let mut sleeves: IndexMap<String, (ConductorSize, usize)> = IndexMap::new();
    for (_, figures) in wires(context).filter(|(c, _)| c.is_cut()) {
        for end in figures.ends.iter().chain(figures.holder.iter().flat_map(|holder| &holder.ends)) {
            let Some(size) = end.size else { continue };
            ends.entry(named(end)).or_insert((size, 0)).1 += 1;
            if is_crimped(end) {
                sleeves.entry(format!("heat-shrink sleeve for {size}")).or_insert((size, 0)).1 += 1;
            }
        }
    }
    let mut all = Vec::new();
    for mut group in [ends, sleeves] {
        group.sort_by(|a, (x, _), b, (y, _)| y.area().0.total_cmp(&x.area().0).then_with(|| a.cmp(b)));
        all.extend(group.into_iter().map(|(what, (_, count))| SmallPart { what, count, length: String::new() }));
    }
    all.extend(holders(context));
    all.extend(collecting_bars(context));
    all
}

/// A splice joins two conductors: the other is the device's own.
fn named(end: &ConductorEnd) -> String {
    let lug = end.lug();
    if end.form.is_some() { lug } else { format!("{AT_DEVICE} {lug}") }
}

/// Whether a barrel is crimped on that a sleeve closes against water and pull.
fn is_crimped(end: &ConductorEnd) -> bool {
    matches!(end.form, Some(PostForm::Ring | PostForm::PushOn | PostForm::Splice))
}

/// Holders of fuses that stand in the line, of circuits and of leads: by rating too, since a family has holders of several
/// sizes.
fn holders(context: &Context<'_>) -> Vec<SmallPart> {
    let in_line = worked(context).filter(|(_, f)| f.device.at == DeviceAt::InLine);
    let of_circuits = in_line.map(|(_, f)| f.device.show());
    let of_leads = wires(context).filter_map(|(c, _)| fuses::of_lead(context, c));
    let mut counts: IndexMap<String, usize> = IndexMap::new();
    for device in of_circuits.chain(of_leads) {
        *counts.entry(format!("in-line holder for a {}", device.replace(" in-line", ""))).or_default() += 1;
    }
    counts.into_iter().map(|(what, count)| SmallPart { what, count, length: String::new() }).collect()
}

/// Bars that collect the batteries of a bank, with how many lugs each takes and what it carries.
fn collecting_bars(context: &Context<'_>) -> Vec<SmallPart> {
    let build = context.build;
    let mut lugs: IndexMap<(&str, &str), usize> = IndexMap::new();
    for end in wires(context).flat_map(|(c, _)| c.ends()).filter(|end| end.is_collecting_bar()) {
        *lugs.entry((end.part.as_str(), end.words.as_str())).or_default() += 1;
    }
    let row = |((bank, bar), lugs): ((&str, &str), usize)| {
        let batteries = context.electrical.banks.get(bank).and_then(|bank| bank.batteries.as_ref());
        let carries = batteries.map_or_else(String::new, |b| format!(", for {}", b.design.show(build.prints())));
        let what = format!("{bar}, of {}: {lugs} lugs{carries}, with its cover", build.name(bank));
        SmallPart { what, count: 1, length: String::new() }
    };
    lugs.into_iter().map(row).collect()
}

/// Conduit and duct by form and inside, as long as their points are apart.
fn channels(context: &Context<'_>) -> Vec<SmallPart> {
    let system = context.build.prints();
    let mut all: IndexMap<String, (usize, f64)> = IndexMap::new();
    for channel in context.build.channels.values() {
        let inside = channel.inside.show(system).map(|inside| format!(", {inside} inside")).unwrap_or_default();
        let what = format!("{}{inside}", channel.form.or_empty());
        let entry = all.entry(what).or_default();
        entry.0 += 1;
        entry.1 += channel.points.length().0;
    }
    let row = |(what, (count, length)): (String, (usize, f64))| SmallPart {
        what,
        count,
        length: Metres(length).show(system),
    };
    all.into_iter().map(row).collect()
}
