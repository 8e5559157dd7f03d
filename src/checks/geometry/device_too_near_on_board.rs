//! A device that stands nearer to another on its electrical board than their kinds allow.

use crate::checks::{Check, Context};
use crate::compute::geometry::board::spoken_of;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::Metres;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "device-too-near-on-board",
        severity: Severity::Warning,
        what: "Two components with `on_board` and `size` stand nearer to each other than they ask: `air` above and below one of them, or `bars_apart` between bars of both poles.",
        why: "A controller without air gives less or switches itself off. A tool that falls across two bars shorts the bank.",
        example: "[component]\nbar   = { kind = \"busbar\", place = \"board\", size = [\"200 mm\", \"60 mm\", \"60 mm\"], on_board = [\"0 mm\", \"0 mm\"] }\nminus = { kind = \"negative-busbar\", place = \"board\", size = [\"200 mm\", \"60 mm\", \"60 mm\"], on_board = [\"0 mm\", \"70 mm\"] }",
        basis: "What the kinds ask: common practice, no source; the makers' figures win. Rectangles as the spec gives them.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let system = context.build.prints();
    for board in spoken_of(context.build) {
        let placed: Vec<_> = board.devices.iter().filter_map(|device| Some((device, device.placed()?))).collect();
        for (nth, (one, face)) in placed.iter().enumerate() {
            for (other, there) in &placed[nth + 1..] {
                // What stands in the same room is told as that.
                let near = |gap: &[f64; 2]| face.nearer(there, *gap) && !face.nearer(there, [0.0; 2]);
                let Some([across, up]) = one.asked(other).into_iter().find(near) else { continue };
                let (Some(part), Some(first)) = (context.part(&other.part), context.part(&one.part)) else { continue };
                let asked = Metres(up).show(system);
                let how = if across > 0.0 {
                    format!("{asked} between bars of both poles")
                } else {
                    format!("{asked} of air above and below")
                };
                sink.push(
                    Finding::warning(
                        CHECK.doc.name,
                        format!("{} and {} stand nearer to each other than {asked}", one.part, other.part),
                    )
                    .about(&other.part)
                    .at(part.common.on_board.span, format!("too near: {how} is asked"))
                    .label(first.common.on_board.span, "to this one")
                    .help("move one of them, or leave `on_board` out: what does not say where is laid out by rule")
                    .help("where its maker allows less, say so: `air` or `bars_apart` of the component"),
                );
            }
        }
    }
}
