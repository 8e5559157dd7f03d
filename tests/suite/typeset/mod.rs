//! Typesetting: text stays text, every construct looks as agreed, faults are found, PDFs are accessible.

mod binder;
mod faults;
mod golden;
mod literal;
mod pdf;

use rigbinder::typeset::{self, PageSetup, Paper, Pictures};

/// A page set-up for tests.
pub(crate) fn setup(paper: Paper) -> PageSetup {
    PageSetup {
        build: "Heron".into(),
        number: "W-0412".into(),
        revision: "C".into(),
        mark: "4f2c9a".into(),
        shop: "The shop".into(),
        date: (2027, 5, 14),
        paper,
        draft: false,
        lang: "en".into(),
        region: "GB".into(),
        brand: typeset::Brand::default(),
    }
}

/// One drawing, as `water.svg`.
pub(crate) fn pictures() -> Pictures {
    let svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"60\" height=\"20\">\
               <rect width=\"60\" height=\"20\" fill=\"#eee\"/></svg>";
    Pictures::from([("water.svg".to_owned(), svg.into())])
}

/// A box in the head would be one to tick; what stands behind a box in a cell does not run on under it.
#[test]
fn the_head_of_a_table_has_no_box_to_tick() {
    let text = "# T\n\n| ☐ | Tool |\n| --- | --- |\n| ☐ | ☐ a long name |\n";
    let document = typeset::parse(text).expect("a document");
    let html = typeset::to_html(&document, &setup(Paper::A4), &pictures()).expect("html");
    let (head, rows) = html.split_once("</thead>").expect("a table");
    assert!(head.contains("aria-label=\"Done\"></th>") && !head.contains('☐'), "{head}");
    assert!(rows.contains("<td class=\"ticked\""), "{rows}");
    let print = typeset::to_typst(&document, &setup(Paper::A4), &pictures()).expect("typst").text;
    let head = print.split("head: (").nth(1).and_then(|t| t.split('\n').next()).expect("a head");
    assert!(head.starts_with("[], ["), "{head}");
}
