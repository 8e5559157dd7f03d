//! The sections of a document by their headings, each with a digest, so that a notice can say where a text differs.

use super::digest;
use std::collections::BTreeMap;

/// What stands before the first heading.
pub(crate) const HEAD: &str = "first lines";

/// So many digits tell two texts of one section apart.
const DIGITS: usize = 12;

/// A section of a document.
#[derive(Clone, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize, schemars::JsonSchema)]
pub struct SectionItem {
    /// Its place in the document, from 0.
    pub at: u32,
    /// Digest of its text.
    pub digest: String,
}

/// Sections of a Markdown text by heading: without its number, so that one more before it moves nothing. Sections of
/// one name count as one.
#[must_use]
pub(crate) fn sections(markdown: &str) -> BTreeMap<String, SectionItem> {
    let mut order: Vec<String> = Vec::new();
    let mut texts: BTreeMap<String, String> = BTreeMap::new();
    let mut name = HEAD.to_owned();
    for line in markdown.lines() {
        if let Some(heading) = heading(line) {
            name = heading;
            continue;
        }
        let text = texts.entry(name.clone()).or_insert_with(|| {
            order.push(name.clone());
            String::new()
        });
        text.push_str(line);
        text.push('\n');
    }
    let item = |(at, name): (usize, String)| {
        let mut short = digest(texts.get(&name).map_or("", String::as_str));
        short.truncate(DIGITS);
        (name, SectionItem { at: u32::try_from(at).unwrap_or(u32::MAX), digest: short })
    };
    order.clone().into_iter().enumerate().map(item).collect()
}

/// The words of a heading, without number, anchor and marks.
fn heading(line: &str) -> Option<String> {
    let text = line.trim_start_matches('#').strip_prefix(' ').filter(|_| line.starts_with('#'))?;
    let text = text.rsplit_once(" {#").map_or(text, |(text, _)| text);
    let numbered = text.split_once(". ").filter(|(n, _)| !n.is_empty() && n.bytes().all(|b| b.is_ascii_digit()));
    let text = numbered.map_or(text, |(_, text)| text);
    // "Warnings to fix (9)" is the same section as with ten.
    let counted = text.strip_suffix(')').and_then(|t| t.rsplit_once(" ("));
    let counted = counted.filter(|(_, n)| n.bytes().all(|b| b.is_ascii_digit()));
    let text = counted.map_or(text, |(text, _)| text);
    let plain = text.chars().filter(|c| !matches!(c, '`' | '*' | '\\')).collect::<String>();
    Some(plain.trim().to_owned()).filter(|t| !t.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_section_goes_by_its_heading_alone() {
        let a = sections("+++\nt\n+++\n## Wires {#w}\none\n### 2. Cut `x`\ntwo\n## Sign-off\nthree\n");
        assert_eq!(a.keys().collect::<Vec<_>>(), ["Cut x", "Sign-off", "Wires", HEAD]);
        assert_eq!((a[HEAD].at, a["Wires"].at, a["Cut x"].at, a["Sign-off"].at), (0, 1, 2, 3));
        let b = sections("+++\nt\n+++\n## Wires (2)\none\n### 3. Cut x\nother\n## Sign-off\nthree\n");
        let differ: Vec<_> = a.keys().filter(|k| a[*k].digest != b[*k].digest).collect();
        assert_eq!(differ, ["Cut x"]);
    }
}
