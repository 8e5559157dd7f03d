//! Texts of a spec that stand among those of a kind: each is a fact, so that it is printed as it stands.

/// Texts by the names under which the facts have them.
#[derive(Debug)]
pub struct Said {
    stem: String,
    texts: Vec<(String, String)>,
}

impl Said {
    /// None yet; their names begin with `stem`.
    #[must_use]
    pub fn under(stem: String) -> Self {
        Self { stem, texts: Vec::new() }
    }

    /// Keeps a text; gives what stands for it in a text of a kind.
    pub fn fact(&mut self, text: &str) -> String {
        let name = format!("{}_{}", self.stem, self.texts.len() + 1);
        let shown = format!("{{{{ {name} }}}}");
        self.texts.push((name, text.to_owned()));
        shown
    }

    /// All that were kept, with their names.
    #[must_use]
    pub fn into_texts(self) -> Vec<(String, String)> {
        self.texts
    }
}
