//! Conductors that are cut where they stay: between parts of one electrical board, and within a bank. Nothing is pulled, and
//! nobody knows their length before both ends stand.

use super::geometry::board::boards;
use super::readings::is_skipped;
use crate::build::{Build, Conductor, Landing, Purpose};
use crate::kinds::Stage;
use std::collections::BTreeMap;

/// Which conductors of a build are links.
#[derive(Clone, Debug, Default)]
pub(crate) struct Links<'b> {
    /// What stands on a board, with the place of the board.
    on_board: BTreeMap<&'b str, &'b str>,
    apart: bool,
}

impl<'b> Links<'b> {
    /// Those of a build; none where one of the stages that tell them apart is left out.
    pub(crate) fn of(build: &'b Build<'_>) -> Self {
        let apart = ![Stage::ElectricalRoughIn, Stage::ElectricalFitOff].iter().any(|s| is_skipped(build, *s));
        let mut on_board = BTreeMap::new();
        for board in boards(build).iter().filter(|board| apart && !board.place.is_empty()) {
            let Some((place, _)) = build.places.get_key_value(&board.place) else { continue };
            let bonds = build.parts.values().filter(|part| part.roles.chassis_bond.is_some());
            let bonds = bonds.filter(|part| part.places.first() == Some(place));
            let devices = board.devices.iter().filter_map(|device| build.parts.get(&device.part));
            on_board.extend(devices.chain(bonds).map(|part| (part.id.as_str(), place.as_str())));
        }
        Self { on_board, apart }
    }

    /// Whether it is cut in the fit-off, where its ends stand.
    pub(crate) fn has(&self, conductor: &Conductor) -> bool {
        let board = |end: &Landing| self.on_board.get(end.part.as_str()).filter(|_| end.place.is_none());
        let [from, to] = conductor.ends();
        // Between two bodies of one part nobody knows where the second is.
        let on_one_board = from.part != to.part && board(from).is_some() && board(from) == board(to);
        self.apart && (matches!(conductor.purpose, Purpose::Link | Purpose::Battery) || on_one_board)
    }
}
