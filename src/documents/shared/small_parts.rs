//! What ends and holds the conductors that this job cuts: lugs, ferrules, sleeves, fuse holders, draw-in channels.

use super::conductors::wires;
use super::worked;
use crate::compute::network::{ConductorEnd, DeviceAt, family_name};
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
        for end in &figures.ends {
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

/// Holders of fuses that stand in the line, of circuits and of leads.
fn holders(context: &Context<'_>) -> Vec<SmallPart> {
    let in_line = worked(context).filter(|(_, f)| f.device.at == DeviceAt::InLine);
    let of_circuits =
        in_line.filter_map(|(_, f)| Some(format!("in-line holder for a {} fuse", family_name(f.device.family?))));
    let of_leads =
        wires(context).filter(|(c, _)| c.fuse.is_some()).map(|_| "in-line holder for the fuse of a lead".to_owned());
    let mut counts: IndexMap<String, usize> = IndexMap::new();
    for what in of_circuits.chain(of_leads) {
        *counts.entry(what).or_default() += 1;
    }
    counts.into_iter().map(|(what, count)| SmallPart { what, count, length: String::new() }).collect()
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
