//! How much lies in a channel: what the list of the packet and the pull plan both tell.

use super::figures::Computed;
use crate::build::{Build, Conductor};
use crate::tables::fill;
use crate::units::Metres;
use std::collections::BTreeSet;

/// What lies in a channel.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ChannelUse {
    /// Cables that lie in some piece of it.
    pub cables: usize,
    /// Their conductors.
    pub conductors: usize,
    /// Share that is filled where it is fullest, and the most that may be; `None` where its room is not known.
    pub filled: Option<(f64, f64)>,
    /// Least radius of its bends; `None` where nothing lies in it.
    pub bend: Option<Metres>,
}

impl ChannelUse {
    /// Of the channel `id`; nothing where there is none of that id.
    #[must_use]
    pub fn of(context: &Computed<'_>, id: &str) -> Self {
        let build = context.build;
        let Some(channel) = build.channels.get(id) else { return Self::default() };
        let size = |c: &Conductor| context.electrical.conductors.get(&c.id).and_then(|f| f.size);
        let cables = |all: &[&Conductor]| all.iter().map(|c| c.cable.as_str()).collect::<BTreeSet<_>>().len();
        let inside = build.wiring.in_channel(id);
        let (area, fullest) = build.wiring.fullest(id, |c| fill::cable(size(c)));
        let room = fill::room(channel.form.or_empty(), channel.inside.get(), channel.inside_width.get());
        let thickest = inside.iter().map(|c| size(c)).max_by(|a, b| fill::cable(*a).total_cmp(&fill::cable(*b)));
        Self {
            cables: cables(&inside),
            conductors: inside.len(),
            filled: room.map(|room| (area / room, fill::limit(cables(&fullest)))),
            bend: thickest.map(|size| Metres(fill::bend(size))),
        }
    }
}

/// The letter of a channel in plans and lists; `None` of one without a way.
#[must_use]
pub(crate) fn letter(build: &Build<'_>, id: &str) -> Option<String> {
    let with_way = build.channels.iter().filter(|(_, channel)| channel.points.all().len() > 1);
    with_way.map(|(id, _)| id).position(|other| other == id).map(letters)
}

/// "A" to "Z", then "AA".
fn letters(at: usize) -> String {
    let letter = |n: usize| char::from(b'A' + u8::try_from(n % 26).unwrap_or_default());
    if at < 26 { letter(at).to_string() } else { format!("{}{}", letters(at / 26 - 1), letter(at)) }
}
