//! Document tree to one self-contained HTML page: works on a phone without a network, prints, has a dark mode.

use std::fmt::Write as _;

use super::contents::{CONTENTS_ID, contents};
use super::escape::html_text;
use super::html::Writer;
use super::tree::Document;
use super::{PageSetup, Pictures, TypesetError, media_of};
use data_encoding::BASE64;

const CSS: &str = include_str!("../../templates/html/style.css");
/// The one script of a page: search. It stands between its tags as it is, so that its hash is the file's.
const SCRIPT: &str = include_str!("../../templates/html/search.js");
/// SHA-256 of [`SCRIPT`] in base 64: no other script may run. `tests/outside/check_html.py` compares it.
const SCRIPT_HASH: &str = "Xh5liQLviB4Jx578+SG09EzeVaBnSnbBBa5/iP1vroc=";

/// Writes the document as an HTML page with its style and drawings inside; it needs no other file, and without its
/// script only the search is missing.
///
/// # Errors
/// A picture that is not in the map.
pub fn to_html(document: &Document, setup: &PageSetup, pictures: &Pictures) -> Result<String, Vec<TypesetError>> {
    let mut writer = Writer::new(document, pictures);
    writer.blocks(&document.blocks);
    let (body, notes, errors) = writer.finish();
    if !errors.is_empty() {
        return Err(errors);
    }
    let meta = &document.meta;
    let mut page = String::with_capacity(body.len() + CSS.len() + 4096);
    page.push_str("<!doctype html>\n<html lang=\"");
    page.push_str(&html_text(&language(setup)));
    page.push_str("\">\n<head>\n<meta charset=\"utf-8\">\n");
    let _ = writeln!(
        page,
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:; style-src 'unsafe-inline'; script-src 'sha256-{SCRIPT_HASH}'; base-uri 'none'; form-action 'none'\">"
    );
    page.push_str("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
    page.push_str("<meta name=\"color-scheme\" content=\"light dark\">\n<title>");
    page.push_str(&html_text(&join(" – ", &[&meta.title, &setup.build])));
    page.push_str("</title>\n<meta name=\"author\" content=\"");
    page.push_str(&html_text(&setup.shop));
    page.push_str("\">\n<style>\n");
    page.push_str(CSS);
    page.push_str(&coloured(setup, meta.mono));
    page.push_str("</style>\n</head>\n");
    let class = if meta.mono { " class=\"mono\"" } else { "" };
    let _ = writeln!(page, "<body{class}>");
    page.push_str("<a class=\"skip\" href=\"#main:text\">Skip to the text</a>\n");
    page.push_str(&header(document, setup));
    let list = if meta.contents { contents(document, 2) } else { String::new() };
    let listed = !list.is_empty() || body.contains(CONTENTS_ID);
    let body = once(body, usize::from(list.is_empty()));
    page.push_str(&bar(listed));
    page.push_str(&list);
    page.push_str("<main id=\"main:text\">\n");
    page.push_str(&body);
    page.push_str(&notes);
    page.push_str("</main>\n");
    page.push_str(&footer(setup));
    let _ = write!(page, "<script>{SCRIPT}</script>\n</body>\n</html>\n");
    Ok(page)
}

/// Titles and heads in the colour of the shop. On a dark screen they stay as they are: the colour is dark.
fn coloured(setup: &PageSetup, mono: bool) -> String {
    let accent = &setup.brand.accent;
    let logo = if setup.brand.logo.is_some() { ".logo { max-height: 4rem; max-width: 14rem; }\n" } else { "" };
    if accent.is_empty() || mono {
        return logo.to_owned();
    }
    format!(
        "{logo}@media (prefers-color-scheme: light) {{ h1, h2, h3 {{ color: {accent}; }} header {{ border-color: {accent}; }} }}\n"
    )
}

fn language(setup: &PageSetup) -> String {
    if setup.region.is_empty() { setup.lang.clone() } else { format!("{}-{}", setup.lang, setup.region) }
}

fn join(separator: &str, parts: &[&str]) -> String {
    let filled: Vec<&str> = parts.iter().copied().filter(|p| !p.is_empty()).collect();
    filled.join(separator)
}

fn build_line(setup: &PageSetup) -> String {
    let revision = if setup.revision.is_empty() { String::new() } else { format!("revision {}", setup.revision) };
    let (year, month, day) = setup.date;
    let date = format!("{year:04}-{month:02}-{day:02}");
    let mark = if setup.mark.is_empty() { String::new() } else { format!("text {}", setup.mark) };
    join(" · ", &[&setup.build, &setup.number, &revision, &date, &mark])
}

fn header(document: &Document, setup: &PageSetup) -> String {
    let meta = &document.meta;
    let mut out = String::from("<header id=\"page:top\">\n");
    if setup.draft {
        out.push_str("<p class=\"draft\">DRAFT – not for handover</p>\n");
    }
    if let Some(logo) = &setup.brand.logo {
        let _ = writeln!(
            out,
            "<p><img class=\"logo\" alt=\"{}\" src=\"data:{};base64,{}\"></p>",
            html_text(&setup.shop),
            media_of(&logo.name),
            BASE64.encode(&logo.bytes)
        );
    }
    let _ = writeln!(out, "<p class=\"build\">{}</p>", html_text(&build_line(setup)));
    let _ = writeln!(out, "<h1>{}</h1>", html_text(&meta.title));
    if !meta.subtitle.is_empty() {
        let _ = writeln!(out, "<p class=\"subtitle\">{}</p>", html_text(&meta.subtitle));
    }
    let about = [("What this is for", &meta.purpose), ("Who should read it", &meta.audience)];
    if about.iter().any(|(_, text)| !text.is_empty()) {
        out.push_str("<dl class=\"about\">\n");
        for (term, text) in about {
            if !text.is_empty() {
                let _ = writeln!(out, "<div><dt>{term}</dt><dd>{}</dd></div>", html_text(text));
            }
        }
        out.push_str("</dl>\n");
    }
    if meta.cover && !setup.brand.cover.is_empty() {
        let _ = writeln!(out, "<p>{}</p>", html_text(&setup.brand.cover));
    }
    out.push_str("</header>\n");
    out
}

/// Leaves the identifier to as many contents lists of the body: one in the whole page.
fn once(body: String, many: usize) -> String {
    let Some(end) = body.match_indices(CONTENTS_ID).nth(many).map(|(at, _)| at) else { return body };
    let (before, behind) = body.split_at(end);
    format!("{before}{}", behind.replace(CONTENTS_ID, ""))
}

/// Stays at the top of the screen: the way to the contents, and the search, which its script shows.
fn bar(listed: bool) -> String {
    let (place, name) = if listed { ("list:contents", "Contents") } else { ("page:top", "Top") };
    format!(
        "<div class=\"bar\">\n<a href=\"#{place}\">{name}</a>\n\
         <div id=\"search:box\" role=\"search\" hidden>\n\
         <input id=\"search:field\" type=\"search\" aria-label=\"Search this document\" placeholder=\"Search\" \
         autocomplete=\"off\" autocapitalize=\"off\" spellcheck=\"false\" aria-controls=\"search:panel\">\n\
         <div id=\"search:panel\" hidden>\n<p id=\"search:said\" role=\"status\"></p>\n\
         <ul id=\"search:hits\"></ul>\n</div>\n</div>\n</div>\n"
    )
}

fn footer(setup: &PageSetup) -> String {
    let brand = &setup.brand;
    let line = join(" · ", &[&setup.shop, &brand.contact, &brand.foot, &build_line(setup)]);
    format!("<footer><p>{}</p></footer>\n", html_text(&line))
}

#[cfg(test)]
mod tests {
    use super::BASE64;

    /// The test vectors of RFC 4648, section 10.
    #[test]
    fn base_64_is_that_of_its_standard() {
        let vectors =
            [("", ""), ("f", "Zg=="), ("fo", "Zm8="), ("foo", "Zm9v"), ("foob", "Zm9vYg=="), ("foobar", "Zm9vYmFy")];
        for (plain, coded) in vectors {
            assert_eq!(BASE64.encode(plain.as_bytes()), coded);
        }
    }
}
