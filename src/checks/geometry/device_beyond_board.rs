//! A device that stands beyond the edge of its electrical board.

use crate::checks::{Check, Context};
use crate::compute::geometry::board::spoken_of;
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::Metres;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "device-beyond-board",
        severity: Severity::Warning,
        what: "A component with `on_board` and `size` reaches beyond its board: the longer side and the height of its place.",
        why: "There is nothing behind it to hold its screws.",
        example: "[place]\nboard = { at = [\"4 m\", \"0.7 m\", \"0.3 m\"], size = [\"0.6 m\", \"0.2 m\", \"0.5 m\"] }\n\n[component.bar]\nkind = \"busbar\"\nplace = \"board\"\nsize = [\"200 mm\", \"60 mm\", \"60 mm\"]\non_board = [\"450 mm\", \"0 mm\"]",
        basis: "Measures as the spec gives them.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let system = context.build.prints();
    for board in spoken_of(context.build) {
        let Some(size) = board.size else { continue };
        for device in &board.devices {
            let Some(face) = device.placed().filter(|face| !face.is_on(size)) else { continue };
            let (Some(part), Some(place)) = (context.part(&device.part), context.build.places.get(&board.place)) else {
                continue;
            };
            let [wide, high] = size.map(|metres| Metres(metres).show(system));
            let [right, top] = [0, 1].map(|k| Metres(face.at[k] + face.size[k]).show(system));
            sink.push(
                Finding::warning(CHECK.doc.name, format!("{} stands beyond its board {}", device.part, board.place))
                    .about(&device.part)
                    .at(part.common.on_board.span, format!("reaches to {right}, {top}"))
                    .label(place.size.span, format!("the board is {wide} wide and {high} high"))
                    .help("move it, or correct the size of the place"),
            );
        }
    }
}
