//! Words that several checks share.

use crate::build::{DcNetwork, Part};
use crate::checks::Context;
use crate::compute::electrical::ampacity::Ampacity;
use crate::compute::network::Panel;
use crate::fields::Field;
use crate::kinds::Role;
use crate::units::{System, Volts, number, significant};

/// What the ampacity of a conductor rests on.
pub(super) fn ampacity_basis(ampacity: &Ampacity) -> String {
    format!(
        "{}, {}, {}, ambient factor {}, bundling factor {}",
        ampacity.table_words(),
        ampacity.row,
        ampacity.insulation.limit().show(System::Metric),
        number(ampacity.ambient_factor.0),
        number(ampacity.bundle_factor.0),
    )
}

/// Where the current through a panel, busbar or switch comes from.
pub(super) fn carried_by(panel: &Panel) -> String {
    let drawn = panel.connected * panel.diversity.0;
    if panel.carried.0 > drawn.0 * (1.0 + 1e-9) {
        return format!("{} of charge current flows back through it", panel.carried.show(System::Metric));
    }
    let behind = panel.connected.show(System::Metric);
    let share = significant(panel.diversity.0 * 100.0, 3);
    if panel.diversity.0 < 1.0 {
        format!("{behind} behind it, {share} % of that at one time")
    } else {
        format!("{behind} behind it")
    }
}

/// The field with the rated voltage of a part that opens or passes on direct current, or that has switches which do, and
/// the DC network it stands in; none of a fuse, whose family counts too.
pub(super) fn rated_part<'a>(context: &Context<'a>, part: &'a Part<'a>) -> Option<(&'a Field<Volts>, DcNetwork)> {
    let passes = |role| {
        matches!(role, Role::Disconnect | Role::Shunt | Role::Control | Role::Bus | Role::Panel | Role::SwitchPanel)
    };
    part.role().filter(|role| passes(*role) || !part.has.is_empty())?;
    let circuit = context.build.arriving(&part.id).find_map(|c| context.build.known_dc_network(c));
    Some((part.roles.rated_voltage(), circuit?))
}
