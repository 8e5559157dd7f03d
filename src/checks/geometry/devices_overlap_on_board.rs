//! Two devices that stand in the same room of an electrical board.

use crate::checks::{Check, Context};
use crate::compute::geometry::board::spoken_of;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::Metres;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "devices-overlap-on-board",
        severity: Severity::Warning,
        what: "Two components with `on_board` and `size` take the same room of their board.",
        why: "The second cannot be screwed on, and the cables of both are cut by then.",
        example: "[component]\nfuse = { kind = \"terminal-fuse\", place = \"board\", size = [\"60 mm\", \"60 mm\", \"40 mm\"], on_board = [\"0 mm\", \"0 mm\"] }\nbar  = { kind = \"busbar\", place = \"board\", size = [\"200 mm\", \"60 mm\", \"60 mm\"], on_board = [\"50 mm\", \"0 mm\"] }",
        basis: "Rectangles as the spec gives them.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let system = context.build.prints();
    for board in spoken_of(context.build) {
        let mut placed: Vec<_> = board.devices.iter().filter_map(|device| Some((device, device.placed()?))).collect();
        placed.sort_by(|a, b| a.1.at[0].total_cmp(&b.1.at[0]));
        for (nth, (one, face)) in placed.iter().enumerate() {
            // What begins beyond its right edge begins there for all that follow.
            let near = placed[nth + 1..].iter().take_while(|(_, other)| other.at[0] < face.at[0] + face.size[0]);
            for (other, _) in near.filter(|(_, other)| face.nearer(other, [0.0; 2])) {
                let (Some(part), Some(first)) = (context.part(&other.part), context.part(&one.part)) else { continue };
                let [right, up] = face.at.map(|metres| Metres(metres).show(system));
                let [wide, high] = face.size.map(|metres| Metres(metres).show(system));
                sink.push(
                    Finding::warning(
                        CHECK.doc.name,
                        format!("{} and {} stand in the same room of their board", one.part, other.part),
                    )
                    .about(&other.part)
                    .at(part.common.on_board.span, "reaches into the other")
                    .label(first.common.on_board.span, format!("{wide} × {high} from {right}, {up}"))
                    .help("move one of them, or leave `on_board` out: what does not say where is laid out by rule"),
                );
            }
        }
    }
}
