//! The embedded document templates, loaded into one engine.

use super::Fault;
use crate::assets;
use crate::render::Engine;
use std::sync::OnceLock;

/// The engine with every template of `templates/documents` and `templates/partials`; they are read once.
pub(super) fn engine() -> Result<&'static Engine, Fault> {
    static ENGINE: OnceLock<Result<Engine, Fault>> = OnceLock::new();
    ENGINE.get_or_init(read).as_ref().map_err(Clone::clone)
}

fn read() -> Result<Engine, Fault> {
    let mut named: Vec<(String, &str)> = Vec::new();
    for folder in ["documents", "partials"] {
        named
            .extend(assets::folder(folder, "md").into_iter().map(|(stem, text)| (format!("{folder}/{stem}.md"), text)));
    }
    let templates: Vec<(&str, &str)> = named.iter().map(|(name, text)| (name.as_str(), *text)).collect();
    Engine::new(&templates).map_err(|e| Fault::of("a document template cannot be read", &e))
}
