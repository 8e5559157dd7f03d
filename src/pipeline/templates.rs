//! The document templates of a catalogue, loaded into one engine.

use super::Fault;
use crate::catalogue::Catalogue;
use crate::render::Engine;
use std::sync::Arc;

/// The engine with every template of `templates/documents` and `templates/partials`; they are read once a catalogue.
pub(super) fn engine(catalogue: &Catalogue) -> Result<Arc<Engine>, Fault> {
    catalogue.keep("templates", |catalogue| {
        let in_folder = |folder: &'static str| {
            let name = move |stem: &str| format!("{folder}/{stem}.md");
            catalogue.folder(folder, "md").into_iter().map(move |template| (name(template.stem), template.text))
        };
        let named: Vec<(String, &str)> = ["documents", "partials"].into_iter().flat_map(in_folder).collect();
        let templates: Vec<(&str, &str)> = named.iter().map(|(name, text)| (name.as_str(), *text)).collect();
        Engine::new(&templates).map_err(|e| Fault::of("a document template cannot be read", &e))
    })
}
