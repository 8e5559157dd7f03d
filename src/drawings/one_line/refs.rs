//! On which sheet a part is drawn.

use std::collections::BTreeMap;

/// Sheets by part, of this drawing and of the other.
#[derive(Clone, Debug)]
pub(super) struct Refs<'a> {
    /// Hubs of this drawing.
    pub(super) own: &'a BTreeMap<String, usize>,
    /// Parts of the other drawing.
    pub(super) other: &'a BTreeMap<String, usize>,
    /// What the other is called.
    pub(super) other_name: &'static str,
    /// The sheet that is being drawn.
    pub(super) sheet: usize,
}

impl Refs<'_> {
    /// Where to look on for `part`: "→ sheet 3", "→ AC sheet 1".
    pub(super) fn show(&self, part: &str) -> Option<String> {
        match (self.own.get(part), self.other.get(part)) {
            (Some(&sheet), _) if sheet == self.sheet => Some("→ this sheet".to_owned()),
            (Some(sheet), _) => Some(format!("→ sheet {sheet}")),
            (None, Some(sheet)) => Some(format!("→ {} sheet {sheet}", self.other_name)),
            (None, None) => None,
        }
    }
}
