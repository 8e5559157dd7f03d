//! Drawings: all of a build bound together, with a list of what each is for.

use super::{BuildView, Context, PictureView};
use serde::Serialize;

/// What the template prints.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct View {
    /// Head.
    pub build: BuildView,
    /// The drawings, in their order.
    pub sheets: Vec<SheetView>,
    /// Subjects with a drawing, by their words: what the notes on reading depend on.
    pub subjects: Vec<&'static str>,
}

/// A drawing and what it is for.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct SheetView {
    /// Id of its heading.
    pub id: String,
    /// The drawing.
    pub picture: PictureView,
    /// Whom it serves; "" where it goes on from the one before.
    pub purpose: &'static str,
}

/// The drawings of a build; `None` where it has none.
#[must_use]
pub(crate) fn view(context: &Context<'_>) -> Option<View> {
    let mut subjects: Vec<&'static str> = Vec::new();
    let mut sheets: Vec<SheetView> = Vec::new();
    // Cards are cut out of the binder, labels out of the label sheets: a list of drawings has no use for either.
    for picture in context.pictures.iter().filter(|p| !matches!(p.subject, "card" | "labels")) {
        if !subjects.contains(&picture.subject) {
            subjects.push(picture.subject);
        }
        let told = sheets.last().is_some_and(|s| s.picture.subject == picture.subject);
        let stem = picture.file.rsplit('/').next().unwrap_or_default().trim_end_matches(".svg");
        sheets.push(SheetView {
            id: format!("drawing-{stem}"),
            picture: picture.clone(),
            purpose: if told { "" } else { purpose(picture.subject) },
        });
    }
    (!sheets.is_empty()).then(|| View { build: BuildView::of(context.build), sheets, subjects })
}

/// What drawings of a subject are for.
fn purpose(subject: &str) -> &'static str {
    match subject {
        "emergency" => "Everyone aboard: what to shut off, what helps, the ways out. Hang a copy inside the van.",
        "plan" => "Anyone who looks for a component: every one with its place and id.",
        "stage" => "The technician at the van: where the parts of a stage go.",
        "openings" => {
            "Whoever marks and cuts: each surface of the van with its openings, numbered as in the opening schedule."
        }
        "pull-plan" => "Electrician at the rough-in: where the channels lie, and what is pulled through each.",
        "dc-one-line" => {
            "Electrician, service workshop: from the bank to every circuit, with protection and conductor."
        }
        "ac-one-line" => "Licensed electrician: the AC side, from inlet and inverter to the outlets.",
        "board" => "Electrician at the fit-off: where each device stands on the board, to scale.",
        "terminals" => "Electrician, service workshop: which conductor is on which post, with lug and torque.",
        "switch-panel" => "Shop: the face of the panel, to be cut out and engraved.",
        "fuse-sticker" => "Shop: the sticker inside the lid of the fuse panel.",
        "water" => "Plumber, owner in winter: tanks, pumps, pipes, valves, drains.",
        "energy" => "Designer, owner: charge and use hour by hour.",
        "climate-day" => "Designer, owner: what a usual day of each season is like inside, and what to do about it.",
        "weight" => "Designer, weighbridge: axle loads, sides, centre of gravity.",
        "storage" => "Owner: what may be kept where, and how much.",
        _ => "",
    }
}
