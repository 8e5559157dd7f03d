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
        name: "unknown-task",
        severity: Severity::Error,
        what: "`after` of a task names a task that this build does not have.",
        why: "The order of work would be a guess.",
        example: "[task.fit-plaque]\nstage = \"handover\"\ntitle = \"Fit the plaque\"\nafter = [\"fridge.fitt\"]",
        basis: "Structure of the spec.",
    },
];
