//! The handover binder: what the owner gets, bound in one. Here is its front; the documents it names follow in it.

use super::{BuildView, Context};
use serde::Serialize;

/// What the template prints.
#[derive(Clone, Debug, Serialize)]
pub struct View {
    /// Head.
    pub build: BuildView,
}

/// The front of the binder.
#[must_use]
pub fn view(context: &Context<'_>) -> View {
    View { build: BuildView::of(context.build) }
}
