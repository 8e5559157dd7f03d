//! A shore lead that is thinner than its inlet asks for, or longer than the rules allow.

use crate::checks::compare::above;
use crate::checks::{Check, Context};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::kinds::Role;
use crate::tables::conductor_series::Series;
use crate::tables::shore_lead::least;
use crate::units::{Bound, Metres, System};

/// IEC 60364-7-721: 25 m and 2 m more at most; reprints.
const LONGEST: Metres = Metres(27.0);

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "shore-lead-unfit",
        severity: Severity::Error,
        what: "The shore lead that goes with an inlet has thinner conductors than its rating asks for: 2.5 mm² at 16 A, 6 mm² at 32 A, 10 AWG at 30 A, 6 AWG at 50 A. Under EU rules also one that is longer than 25 m and 2 m.",
        why: "At full load a thin lead overheats. In a long one a short draws so little that the breaker of the pitch opens late.",
        example: "rules = \"eu\"\n\n[component.inlet]\nkind = \"shore-inlet\"\nrating = \"16 A\"\ncord_conductor = \"1.5 mm2\"",
        basis: "IEC 60364-7-721: 2.5 mm² at 16 A, 25 m ± 2 m; read in reprints. Its larger leads and NEC 551.46 are from memory: a warning.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let profile = &context.electrical.profile;
    let system = context.build.prints();
    for part in context.build.parts.values().filter(|p| p.role() == Some(Role::Inlet)) {
        let (cord, size) = (part.roles.cord(), part.roles.cord_conductor());
        let asked = size.get().zip(part.roles.rating().get());
        let asked = asked.and_then(|(given, rating)| Some((given, rating, least(rating, Series::of(given))?)));
        if let Some((given, rating, (least, source))) =
            asked.filter(|(given, _, (least, _))| above(least.area().0, given.area().0))
        {
            let amps = rating.show(System::Metric);
            let headline = format!("{}: a shore lead of {given} goes with {amps}; {least} is the least", part.id);
            let finding = Finding::error_if(source.status.may_carry_error(), CHECK.doc.name, headline);
            let basis = format!("{} ({})", source.text, source.status.words());
            sink.push(finding.about(&part.id).at(size.span, "too thin").basis(basis).help(format!("{least} or more")));
        }
        let longest = LONGEST.bound(Bound::Most, system);
        if let Some(given) = cord.get().filter(|given| profile.id == "eu" && above(given.0, LONGEST.0)) {
            let headline = format!("{}: its shore lead is {}; {longest} is the longest", part.id, given.show(system));
            sink.push(
                Finding::error(CHECK.doc.name, headline)
                    .about(&part.id)
                    .at(cord.span, "too long")
                    .basis("IEC 60364-7-721: 25 m ± 2 m; read in reprints")
                    .help(format!("a lead of {longest} or less")),
            );
        }
    }
}
