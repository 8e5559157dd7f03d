//! A device that stands nearer to another on its electrical board than their kinds allow.

use crate::checks::{Check, Context};
use crate::compute::geometry::board::{Board, Device, spoken_of};
use crate::diag::{Finding, FindingDoc, Severity, Sink};
use crate::units::Metres;

pub(super) static CHECK: Check = Check {
    doc: FindingDoc {
        name: "device-too-near-on-board",
        severity: Severity::Warning,
        what: "A component with `on_board` and `size` stands nearer to another, or to the upper or lower rim of its board, than they ask: `air` above and below one of them, or `bars_apart` between bare metal of both poles.",
        why: "A controller without air gives less or switches itself off. A tool that falls across two poles shorts the bank.",
        example: "[component]\nbar   = { kind = \"busbar\", place = \"board\", size = [\"200 mm\", \"60 mm\", \"60 mm\"], on_board = [\"0 mm\", \"0 mm\"] }\nminus = { kind = \"negative-busbar\", place = \"board\", size = [\"200 mm\", \"60 mm\", \"60 mm\"], on_board = [\"0 mm\", \"70 mm\"] }",
        basis: "What the kinds ask: common practice, no source; the makers' figures win. Rectangles as the spec gives them.",
    },
    run,
};

fn run(context: &Context<'_>, sink: &mut Sink) {
    let system = context.build.prints();
    for board in spoken_of(context.build) {
        for device in &board.devices {
            at_the_rim(context, &board, device, sink);
        }
        let placed: Vec<_> = board.devices.iter().filter_map(|device| Some((device, device.placed()?))).collect();
        for (nth, (one, face)) in placed.iter().enumerate() {
            for (other, there) in &placed[nth + 1..] {
                // What stands in the same room is told as that.
                let near = |gap: &[f64; 2]| face.nearer(there, *gap) && !face.nearer(there, [0.0; 2]);
                let Some([across, up]) = one.asked(other).into_iter().find(near) else { continue };
                let (Some(part), Some(first)) = (context.part(&other.part), context.part(&one.part)) else { continue };
                let asked = Metres(up).show(system);
                let how = if across > 0.0 {
                    format!("{asked} between bare metal of both poles")
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

/// What needs air above and below needs it to the rims of the board too, where a shelf or a floor is.
fn at_the_rim(context: &Context<'_>, board: &Board, device: &Device, sink: &mut Sink) {
    let system = context.build.prints();
    let told = device.air.zip(device.placed()).zip(board.size).filter(|((_, face), size)| face.is_on(*size));
    let Some(((air, face), size)) = told else { return };
    let Some((rim, free)) = face.rim(size[1], air) else { return };
    let (Some(part), Some(place)) = (context.part(&device.part), context.build.places.get(&board.place)) else {
        return;
    };
    let [asked, free] = [air, free.max(0.0)].map(|metres| Metres(metres).show(system));
    sink.push(
        Finding::warning(CHECK.doc.name, format!("{} stands {free} from the {rim} rim of its board", device.part))
            .about(&device.part)
            .at(part.common.on_board.span, format!("too near: {asked} of air above and below is asked"))
            .label(place.size.span, "the board ends there")
            .help("move it, or leave `on_board` out: what does not say where is laid out by rule")
            .help("where the board is open there, or its maker allows less, say so: `air` of the component"),
    );
}
