//! More voltage lost in a circuit than it may lose.

use crate::checks::{Check, Context};
use crate::compute::network::is_end;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::{System, significant};

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "voltage-drop-over-limit",
        severity: Severity::Error,
        what: "The voltage lost from the source to a load and back is above the limit: an error where a critical circuit (3 %) loses as much by itself, else a warning (10 % where it is not critical, 6.66 % under EU rules). Feeders, fuses, switches, shunt and negative bars count.",
        why: "Motors stall, electronics switch off, and a charger reads the wrong voltage.",
        example: "[component.fridge]\nkind = \"fridge\"\nfed_from = \"house-panel\"\nrun = \"9 m\"\nconductor = \"16 AWG\"",
        basis: "ABYC E-11: 3 % for panel feeders, electronics and the like, 10 % for other circuits. EU rules: ISO 10133 and EN 1648-2. Resistance at the conductor's temperature.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    for (circuit, figures) in context.circuits().filter(|(_, f)| f.run_known) {
        let Some(sized) = figures.conductor() else { continue };
        let (own, limit) = (sized.drop.share.0, figures.drop_limit.0);
        // At a load all counts that is lost since the source, elsewhere the circuit itself.
        let total = figures.total_share().filter(|_| is_end(context.build, circuit)).map_or(own, |t| t.0.max(own));
        if total <= limit * (1.0 + 1e-9) {
            continue;
        }
        let percent = |x: f64| format!("{} %", significant(x * 100.0, 3));
        let headline = if total > own {
            let (all, own) = (percent(total), percent(own));
            format!(
                "{}: {all} of the voltage is lost from source to load, {own} of it in {}; {} is the limit",
                circuit.id,
                sized.show(),
                percent(limit)
            )
        } else {
            format!(
                "{}: {} of the voltage is lost in {}; {} is the limit",
                circuit.id,
                percent(own),
                sized.show(),
                percent(limit)
            )
        };
        // What fuses and switches lose is common practice: alone it makes no error.
        let critical = limit <= context.electrical.profile.drop.critical.0 && own > limit * (1.0 + 1e-9);
        let finding = Finding::error_if(critical, CHECK.doc.name, headline);
        let limit_of_insulation = figures.installation.insulation.limit();
        let warm = crate::units::Celsius(sized.drop_temperature(limit_of_insulation).0.round());
        let run = circuit.run.unwrap_or_default().show(context.build.prints());
        let (worst, lost) = context.electrical.loses_most(context.build, circuit);
        let help = if worst.id == circuit.id {
            "a larger conductor or a shorter route; left out, conductors are sized".to_owned()
        } else {
            let with = context.electrical.circuits.get(&worst.id).and_then(|f| f.conductor());
            let with = with.map_or_else(String::new, |sized| format!(", {}", sized.show()));
            let (id, lost) = (&worst.id, lost.show(System::Metric));
            format!(
                "begin at its feeder `{id}`{with}, which loses the most of it, {lost}: a larger conductor or a shorter route there"
            )
        };
        let finding = if worst.id == circuit.id {
            finding
        } else {
            finding.label(worst.span_of(&context.build.parts, "conductor"), "loses the most")
        };
        sink.push(
            finding
                .about(&circuit.owner)
                .at(circuit.span_of(&context.build.parts, "run"), format!("{run} one way"))
                .label(circuit.span_of(&context.build.parts, "conductor"), sized.show())
                .basis(format!(
                    "{} at {}, both conductors, at {}",
                    sized.drop.volts.show(System::Metric),
                    figures.demand.load.show(System::Metric),
                    warm.show(context.build.prints())
                ))
                .basis(context.electrical.profile.basis.get("drop").cloned().unwrap_or_default())
                .help(help),
        );
    }
}
