//! The bound binder: its front, and the documents that its directives name, as one document for the typesetter.

use super::sheet::{Sheet, broken};
use super::{Fault, shop};
use crate::parallel;
use crate::render;
use crate::typeset::{self, Attached, Block, Document, PageSetup, Pictures};
use std::collections::BTreeMap;
use std::fmt::Write;

/// The spec inside the PDF of the binder. It has one name whatever the file is called.
pub const SPEC: Attached<'static> = Attached {
    name: "specification.toml",
    about: "The specification that this binder was made from",
    media: "application/toml",
};

/// The binder with what it binds, from its front alone. Its PDF holds the spec and `shop`, what was used of a shop's
/// folder; nothing where that is `None`: a spec that tells where something hidden is stays out of every document.
///
/// The documents are read once more: their trees are larger than all texts, and keeping them that long costs more.
///
/// # Errors
/// A document that is not among `parts`: a fault of the front's template.
pub(super) fn bound<'a>(
    front: &Sheet,
    parts: impl Iterator<Item = &'a Sheet>,
    setup: &PageSetup,
    pictures: &Pictures,
    shop: Option<Vec<shop::File>>,
) -> Result<Sheet, Fault> {
    let broken = |errors| broken(&front.stem, errors);
    let read = |sheet: &Sheet| Ok((sheet.stem.clone(), typeset::parse(&sheet.markdown)?));
    let asked: Vec<&Sheet> = parts.collect();
    let parts = parallel::map(asked.len(), |at| read(asked[at])).into_iter();
    let parts = parts.collect::<Result<BTreeMap<_, _>, _>>().map_err(broken)?;
    let markdown = linked(front, &parts).map_err(broken)?;
    let document = typeset::parse(&markdown).map_err(broken)?;
    let html = typeset::to_html(&document, setup, pictures).map_err(broken)?;
    let holds_spec = shop.is_some();
    let shop = shop.unwrap_or_default();
    let beside = shop.iter().map(|file| Attached { name: &file.name, about: file.about, media: file.media });
    let attached: Vec<Attached<'_>> = holds_spec.then_some(SPEC).into_iter().chain(beside).collect();
    let mut typst = typeset::bind(&document, parts, setup, pictures, &attached).map_err(broken)?.text;
    typst.shrink_to_fit();
    let holds = shop.into_iter().map(|file| (file.name, file.bytes)).collect();
    Ok(Sheet { markdown, html, typst, holds_spec, holds, ..front.clone() })
}

/// The Markdown with a link behind the directive of each document: on a screen the document is a file of its own.
fn linked(front: &Sheet, parts: &BTreeMap<String, Document>) -> Result<String, Vec<typeset::TypesetError>> {
    let blocks = typeset::parse(&front.markdown)?.blocks;
    let mut out = String::with_capacity(front.markdown.len() + 256);
    for line in front.markdown.split_inclusive('\n') {
        out.push_str(line);
        let named = |block: &Block| match block {
            Block::Document { stem, title } if stem == title && directive(line) == Some(stem) => Some(stem.clone()),
            _ => None,
        };
        let Some(stem) = blocks.iter().find_map(named) else { continue };
        if let Some(part) = parts.get(&stem) {
            let title = render::markdown_text(&part.meta.document);
            let _ = writeln!(out, "\n[{title}]({stem}.md)");
        }
    }
    Ok(out)
}

/// The document that a line binds.
fn directive(line: &str) -> Option<&str> {
    Some(line.trim().strip_prefix("<!--")?.strip_suffix("-->")?.trim().strip_prefix("document:")?.trim())
}
