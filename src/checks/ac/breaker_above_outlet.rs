//! A breaker rated above the outlet it protects.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;
use crate::units::Amps;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "breaker-above-outlet",
        severity: Severity::Warning,
        what: "The breaker of an outlet's circuit is rated above the outlet. Under US rules, 15 A outlets of two sockets or more may stand on 20 A.",
        why: "Several devices on one outlet, or one faulty device, overheat the outlet before the breaker opens.",
        example: "[component.outlet]\nkind = \"ac-outlet\"\nfed_from = \"rcd\"\nrating = \"15 A\"\nprotection = \"30 A\"",
        basis: "The maker's rating of the outlet; NEC 210.21(B), from memory, so it warns.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, figures) in context.circuits() {
        let Some(outlet) = context.part(&circuit.to).filter(|p| p.role() == Some(Role::Outlet)) else { continue };
        let told = (outlet.roles.rating().get(), outlet.roles.gangs().get(), figures.device.rating);
        let (Some(rating), Some(gangs), Some(breaker)) = told else { continue };
        let sockets = gangs.saturating_mul(outlet.count);
        let us = context.electrical.profile.id == "us";
        // NEC Table 210.21(B)(3), from memory: 15 A receptacles on a 20 A circuit of two or more.
        let duplex = us && sockets >= 2 && rating.0 >= 15.0 && breaker.0 <= 20.0;
        if duplex || !above(breaker.0, rating.0) {
            continue;
        }
        let [rated, opens]: [String; 2] = [rating, breaker].map(|a: Amps| a.show(context.build.prints()));
        sink.push(
            Finding::warning(CHECK.doc.name, format!("{}: {rated} outlet behind a {opens} breaker", outlet.id))
                .about(&outlet.id)
                .at(outlet.roles.rating().span, format!("{rated} outlet"))
                .label(breaker_span(context, circuit, &figures.device.at), format!("{opens} breaker"))
                .basis(format!("maker's rating of the outlet: {rated}; NEC 210.21(B), from memory"))
                .help(format!(
                    "a breaker of {rated} or less: give `protection = \"{rated}\"`, or an outlet for {opens}"
                )),
        );
    }
}

/// Where the spec names the breaker: in this circuit, or in the one further up that holds it.
fn breaker_span(
    context: &Context<'_>,
    circuit: &crate::build::Circuit,
    at: &crate::compute::network::DeviceAt,
) -> crate::source::Span {
    let parts = &context.build.parts;
    let upstream = match at {
        crate::compute::network::DeviceAt::Upstream(id) => context.build.circuits.get(id),
        _ => None,
    };
    upstream.unwrap_or(circuit).span_of(parts, "protection")
}
