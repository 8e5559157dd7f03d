//! What each stage is for, in one sentence.

use crate::kinds::Stage;

/// What `stage` is for.
pub(super) const fn purpose(stage: Stage) -> &'static str {
    match stage {
        Stage::Intake => {
            "Record how the vehicle arrives (weight, damage, what works), protect what stays, and strip what goes."
        }
        Stage::Openings => {
            "Cut every opening in the body, frame and bond what needs it, and protect each bare edge from rust."
        }
        Stage::Insulation => "Line the shell against noise, heat and cold before anything covers it.",
        Stage::ElectricalRoughIn => {
            "Pull every cable to its place with a label at both ends, and test it dead before anything covers it. Nothing is \
             connected in this stage."
        }
        Stage::PlumbingRoughIn => "Fit tanks, pipes, gas lines and ducts that walls and furniture will hide.",
        Stage::FloorWallsCeiling => "Close the shell: floor, walls and ceiling over what lies behind them.",
        Stage::Furniture => "Build in the cabinets, beds, seats and worktops, with openings for what goes into them.",
        Stage::ElectricalFitOff => {
            "Fit panels and devices, terminate every conductor, fit every fuse holder, and tighten to torque. \
             The bank feeds nothing until commissioning."
        }
        Stage::PlumbingFitOff => {
            "Fit appliances, taps, pumps and heaters, and connect them to pipes, ducts and cables."
        }
        Stage::Exterior => "Fit racks, awning, carriers, lights and chassis parts to the outside of the vehicle.",
        Stage::Commissioning => {
            "Prove each circuit and system by test, in order, with the expected reading beside the blank."
        }
        Stage::Handover => "Clean the van, walk round it with the owner, and hand it over with its binder.",
    }
}
