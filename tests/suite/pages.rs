//! HTML documents as a phone shows them, and the shape of all documents before they are set.

use crate::harness::{demo_specs, folder, load, root, sheets};
use crate::outside;
use rigbinder::typeset::{self, Block};
use std::fs;
use std::path::PathBuf;

/// Writes documents of a build where they can be opened.
fn written(test: &str, spec: &str, stems: &[&str]) -> Vec<PathBuf> {
    let here = folder(&format!("pages-{test}-{spec}"));
    let sheets = sheets(&load(&root().join(format!("specs/{spec}.toml"))));
    let wanted = sheets.iter().filter(|s| stems.is_empty() || stems.contains(&s.stem.as_str()));
    let paths: Vec<_> = wanted
        .map(|sheet| {
            let path = here.join(format!("{spec}-{}.html", sheet.stem));
            fs::write(&path, &sheet.html).expect("written");
            path
        })
        .collect();
    assert!(paths.len() >= stems.len(), "{stems:?}");
    paths
}

/// See `tests/outside/check_html.py`. Without a Chromium the pages are read but not opened, and it says so.
#[test]
fn pages_work_on_a_phone() {
    let mut pages =
        written("open", "weekend", &["owners-manual", "schedule", "maintenance-calendar", "handover-binder"]);
    pages.extend(written(
        "open",
        "heron",
        &["owners-manual", "handover-binder", "schedule", "packet-08-electrical-fit-off"],
    ));
    let paths: Vec<_> = pages.iter().map(PathBuf::as_path).collect();
    let Some((good, told)) = outside::run("check_html.py", &paths) else { return };
    assert!(good, "{told}");
    eprintln!("{told}");
    // All others, as text.
    let rest: Vec<_> = ["turnstone", "purfling", "basalt", "heron"]
        .into_iter()
        .flat_map(|spec| written("closed", spec, &[]))
        .collect();
    let paths: Vec<_> =
        std::iter::once(std::path::Path::new("--closed")).chain(rest.iter().map(PathBuf::as_path)).collect();
    let Some((good, told)) = outside::run("check_html.py", &paths) else { return };
    assert!(good, "{told}");
}

/// A page that is spoiled is found out, with or without a Chromium.
#[test]
fn spoiled_pages_are_found_out() {
    let page = written("spoiled", "weekend", &["schedule"]).remove(0);
    let html = fs::read_to_string(&page).expect("page");
    for (from, to, fault) in [
        ("<main", "<script>alert(1)</script><main", "2 scripts"),
        ("'use strict'", "'use  strict'", "the policy does not name the script"),
        ("<main", "<p onclick=\"x()\">y</p><main", "runs code: onclick"),
        ("<main", "<img alt=\"x\" src=\"https://example.org/a.png\"><main", "loads something"),
        ("<main", "<a href=\"javascript:x()\">y</a><main", "leads to"),
        ("<main", "<a href=\"#nowhere\">y</a><main", "link to #nowhere"),
        ("<main", "<p id=\"main:text\"></p><main", "stands twice"),
        ("default-src 'none'", "default-src *", "the policy lacks"),
    ] {
        assert!(html.contains(from), "{from}");
        fs::write(&page, html.replacen(from, to, 1)).expect("written");
        let Some((good, told)) = outside::run("check_html.py", &["--closed".as_ref(), &page]) else { return };
        assert!(!good && told.contains(fault), "{fault}: {told}");
    }
}

/// A heading has something under it, of its own or of a deeper heading.
#[test]
fn no_heading_stands_over_nothing() {
    fn look(blocks: &[Block], before: &mut Option<(u8, String)>, wrong: &mut Vec<String>) {
        for block in blocks {
            match block {
                Block::Heading { level, body, .. } => {
                    if let Some((above, text)) = before.take()
                        && *level <= above
                    {
                        wrong.push(text);
                    }
                    *before = Some((*level, typeset::tree::plain_text(body)));
                }
                Block::Landscape(body) | Block::Keep(body) | Block::Columns(body) => look(body, before, wrong),
                Block::PageBreak => {}
                _ => *before = None,
            }
        }
    }
    for path in demo_specs() {
        for sheet in sheets(&load(&path)) {
            let (mut before, mut wrong) = (None, Vec::new());
            let document = typeset::parse(&sheet.markdown).expect("read before");
            look(&document.blocks, &mut before, &mut wrong);
            wrong.extend(before.map(|(_, text)| text));
            assert!(wrong.is_empty(), "{} {}: nothing under {wrong:?}", path.display(), sheet.stem);
        }
    }
}
