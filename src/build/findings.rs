//! What `explain` tells about the findings of the expansion.

use crate::diag::{FindingDoc, Severity};

/// Findings that expanding a build can bring.
pub const BUILD_FINDINGS: &[FindingDoc] = &[
    FindingDoc {
        name: "feeding-loop",
        severity: Severity::Error,
        what: "Components feed each other in a loop.",
        why: "No current can be told for any circuit of the loop.",
        example: "[component.panel-a]\nkind = \"fuse-panel\"\nfed_from = \"panel-b\"\n\n[component.panel-b]\nkind = \"fuse-panel\"\nfed_from = \"panel-a\"",
        basis: "Structure of the spec.",
    },
    FindingDoc {
        name: "feeding-too-deep",
        severity: Severity::Error,
        what: "More than 100 components feed each other in a row.",
        why: "No van is wired so; it is a slip in the spec, and every drop would add up.",
        example: "[component.bus-101]\nkind = \"busbar\"\nfed_from = \"bus-100\"",
        basis: "Structure of the spec.",
    },
    FindingDoc {
        name: "need-unmet",
        severity: Severity::Error,
        what: "A task waits for what must be so before it, and nothing in the build makes it so.",
        why: "Done all the same it could hurt someone: a flame that no alarm watches, gas in a line that nobody tested.",
        example: "[component]\nheater = { kind = \"air-heater\" }      # and no alarm at all",
        basis: "Register of states.",
    },
    FindingDoc {
        name: "reading-twice",
        severity: Severity::Error,
        what: "A task of the spec takes a reading that its component brings already, by the same id.",
        why: "What is recorded under that id would belong to two tests.",
        example: "[task.cool-down]\nstage = \"commissioning\"\ntitle = \"Cool the fridge down\"\ncomponent = \"fridge\"\nreadings = [{ id = \"amps-running\", what = \"Current\", type = \"current\", is = \"4 A\" }]",
        basis: "Structure of the spec.",
    },
    FindingDoc {
        name: "reading-unclear",
        severity: Severity::Error,
        what: "A reading of the spec says nothing of what is good, or a value that is none of what it measures.",
        why: "Nobody could judge what is recorded.",
        example: "readings = [{ id = \"group\", what = \"Pressure\", type = \"pressure\", is = \"9 V\" }]",
        basis: "Structure of the spec.",
    },
    FindingDoc {
        name: "unknown-state",
        severity: Severity::Error,
        what: "`brings` of a task names no state, or one of a part in a task about no component.",
        why: "What waits for it would not.",
        example: "[task.line-roof]\nstage = \"furniture\"\ntitle = \"Line the roof\"\nbrings = [\"closed\"]      # closed-in",
        basis: "Structure of the spec.",
    },
    FindingDoc {
        name: "unknown-task",
        severity: Severity::Error,
        what: "`needs` of a task names neither a task of this build nor a state of the van or of a component.",
        why: "The order of work would be a guess.",
        example: "[task.fit-plaque]\nstage = \"handover\"\ntitle = \"Fit the plaque\"\nneeds = [\"fridge.fitt\"]",
        basis: "Structure of the spec.",
    },
    FindingDoc {
        name: "upkeep-twice",
        severity: Severity::Error,
        what: "Upkeep of the spec has the id of upkeep that its component brings already.",
        why: "Of two with one id a calendar shows one, and the other is never done.",
        example: "[upkeep.condenser]\ntitle = \"Look at the fins\"\ncomponent = \"fridge\"\nevery = \"3 months\"",
        basis: "Structure of the spec.",
    },
];
