//! A transfer rated below what a source behind it may give.

use crate::build::{Build, Circuit, Part};
use crate::checks::ac::reach;
use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::compute::network::Device;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::{Network, Role};
use crate::units::Amps;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "transfer-below-source",
        severity: Severity::Error,
        what: "The contacts of a transfer switch, or the transfer relay of an inverter-charger, are rated below the inlet, breaker or inverter that feeds them.",
        why: "Contacts that carry more than their rating weld or burn. Welded contacts join the shore supply and the inverter.",
        example: "[component.inlet]\nkind = \"shore-inlet\"\nrating = \"30 A\"\n\n[component.transfer]\nkind = \"transfer-switch\"\nfed_from = \"inlet\"\nrating = \"16 A\"",
        basis: "The rating that the maker of the transfer gives.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let build = context.build;
    for part in build.parts.values() {
        let field = match part.role() {
            Some(Role::Transfer) => part.roles.rating(),
            Some(Role::InverterCharger) => part.roles.transfer_rating(),
            _ => continue,
        };
        let Some(rating) = field.get() else { continue };
        for circuit in reach::arriving(build, &part.id) {
            let Some(gives) = may_give(context, circuit).filter(|g| above(g.0, rating.0)) else { continue };
            let [gives, rated] = [gives, rating].map(|a| a.show(build.prints()));
            sink.push(
                Finding::error(
                    CHECK.doc.name,
                    format!("{}: contacts for {rated} behind {}, which may give {gives}", part.id, circuit.from),
                )
                .about(&part.id)
                .at(field.span, format!("contacts for {rated}"))
                .label(source_span(build, circuit), format!("may give {gives}"))
                .basis(format!("maker's rating of the transfer: {rated}"))
                .help(format!("a transfer for {gives} or more, or a breaker of {rated} before it")),
            );
        }
    }
}

fn source_span(build: &Build<'_>, circuit: &Circuit) -> crate::source::Span {
    let inverts = |r: Option<Role>| matches!(r, Some(Role::Inverter | Role::InverterCharger));
    let from = build.parts.get(&circuit.from);
    from.map_or(circuit.span, |p| if inverts(p.role()) { p.roles.power().span } else { p.roles.rating().span })
}

/// What can flow through a circuit before something opens.
fn may_give(context: &Context<'_>, circuit: &Circuit) -> Option<Amps> {
    let device = |c: &Circuit| context.electrical.circuits.get(&c.id).map(|f| &f.device);
    let passes = |id: &str| {
        let role = context.part(id).and_then(Part::role);
        role.is_some_and(|r| r.passes_through() && r != Role::AcPanel)
    };
    let opens = |c: &Circuit| device(c).is_none_or(Device::is_own) || !passes(&c.from);
    let above = context.build.upstream(&circuit.from).along(|c| c.network == Network::Ac).until(opens);
    let above = above.take_while(|_| !opens(circuit));
    let gives = |c: &Circuit| {
        if device(c)?.is_own() {
            return device(c)?.rating;
        }
        let from = context.part(&c.from)?;
        match from.role()? {
            Role::Inlet | Role::Generator => from.roles.rating().get(),
            Role::Inverter | Role::InverterCharger => reach::output_current(from, context.electrical.profile.ac.volts),
            _ => None,
        }
    };
    std::iter::once(circuit).chain(above).filter_map(gives).reduce(Amps::max)
}
