//! What the "over rating" checks share: a part that current passes through, and carries more than it may.

use super::words::carried_by;
use crate::checks::Context;
use crate::diag::{Finding, Sink};
use crate::kinds::Role;
use crate::units::{Amps, System};

/// Reports every part of `roles` that carries more than its rating. `it_is` goes before "rated …".
pub(super) fn find(
    context: &Context<'_>,
    sink: &mut Sink,
    name: &'static str,
    roles: &[Role],
    it_is: &str,
    help: &str,
) {
    for part in context.build.parts.values().filter(|p| p.role().is_some_and(|r| roles.contains(&r))) {
        let Some(panel) = context.electrical.panels.get(&part.id) else { continue };
        let Some(rating) = panel.rating.filter(|r| panel.carried.0 > r.0 * (1.0 + 1e-9)) else { continue };
        let show = |amps: Amps| amps.show(System::Metric);
        let headline = format!("{}: carries {}, {it_is} rated {}", part.id, show(panel.carried), show(rating));
        sink.push(
            Finding::error(name, headline)
                .about(&part.id)
                .at(part.roles.rating().span, format!("rated {}", show(rating)))
                .basis(carried_by(panel))
                .help(help),
        );
    }
}

/// Reports every part of `roles` that is rated for the current through it, but not for 125 % of the part of it that lasts.
pub(super) fn find_lasting(context: &Context<'_>, sink: &mut Sink, name: &'static str, roles: &[Role], help: &str) {
    for part in context.build.parts.values().filter(|p| p.role().is_some_and(|r| roles.contains(&r))) {
        let Some(panel) = context.electrical.panels.get(&part.id) else { continue };
        let Some(rating) = panel.rating.filter(|r| panel.design.0 > r.0 * (1.0 + 1e-9)) else { continue };
        if panel.carried.0 > rating.0 * (1.0 + 1e-9) {
            continue;
        }
        let show = |amps: Amps| amps.show(System::Metric);
        let headline = format!("{}: rated {}, the design current is {}", part.id, show(rating), show(panel.design));
        sink.push(
            Finding::warning(name, headline)
                .about(&part.id)
                .at(part.roles.rating().span, format!("rated {}", show(rating)))
                .basis(format!(
                    "{} lasts; what runs three hours or more is taken at 125 % (NEC 210.20, 215.3)",
                    show(panel.carried)
                ))
                .help(help),
        );
    }
}
