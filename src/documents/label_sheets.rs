//! Label sheets: wire flags, equipment labels, panel stickers and faces, at true size, to print and cut.

use super::shared::wire::{self, WireRow};
use super::{BuildView, Context, PictureView};
use serde::Serialize;

/// File name, without an ending.
pub(crate) const STEM: &str = "labels";

/// What the template prints.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct View {
    /// Head.
    pub build: BuildView,
    /// A line to measure.
    pub ruler: Vec<PictureView>,
    /// Sheets of wire labels.
    pub wires: Vec<PictureView>,
    /// The wire that they go on.
    pub wire: Vec<WireRow>,
    /// Sheets of equipment labels.
    pub equipment: Vec<PictureView>,
    /// Stickers of fuse panels.
    pub stickers: Vec<PictureView>,
    /// Faces of switch panels.
    pub faces: Vec<PictureView>,
}

/// The label sheets of a build; `None` where there is nothing to label.
#[must_use]
pub(crate) fn view(context: &Context<'_>) -> Option<View> {
    let of = |subject: &str| context.pictures_of(subject).into_iter().cloned().collect::<Vec<_>>();
    let about = |what: &str| of("labels").into_iter().filter(|p| p.about == what).collect::<Vec<_>>();
    let [ruler, wires, equipment] = ["ruler", "wires", "equipment"].map(about);
    // Those of a panel that this job leaves alone are there.
    let again = |p: &PictureView| context.build.parts.get(&p.about).is_none_or(|part| context.build.is_worked_at(part));
    let [stickers, faces] =
        ["fuse-sticker", "switch-panel"].map(|subject| of(subject).into_iter().filter(again).collect::<Vec<_>>());
    let any = [&wires, &equipment, &stickers, &faces].iter().any(|sheets| !sheets.is_empty());
    let wire = if wires.is_empty() { Vec::new() } else { wire::types(context) };
    any.then(|| View { build: BuildView::of(context.build), ruler, wires, wire, equipment, stickers, faces })
}
