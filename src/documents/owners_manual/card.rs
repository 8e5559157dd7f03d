//! An emergency card: what is happening, and what to do at once.

use serde::Serialize;

/// A card: what is happening, and what to do with the shut-offs of this van.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Card {
    /// Id of its heading.
    pub id: String,
    /// Title.
    pub title: String,
    /// What else people look for it by.
    pub also: Vec<String>,
    /// What the owner notices, as Markdown.
    pub notice: String,
    /// The very first thing to do, as Markdown.
    pub first: String,
    /// Steps, as Markdown.
    pub steps: Vec<String>,
    /// What else can happen, from the kinds.
    pub entries: Vec<Emergency>,
}

/// What happens and what to do at once.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Emergency {
    /// What the owner notices, as Markdown.
    pub symptom: String,
    /// Names of the parts it comes from; "" where the symptom says them.
    pub parts: String,
    /// What to do, in order, as Markdown.
    pub actions: Vec<String>,
}

/// Id of the heading of a card.
pub(super) fn anchor_of(card: &str) -> String {
    format!("emergency-{card}")
}
