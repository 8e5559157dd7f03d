//! Typesetting: text stays text, every construct looks as agreed, faults are found, PDFs are accessible.

mod binder;
mod faults;
mod golden;
mod literal;
mod pdf;

use rigbinder::typeset::{PageSetup, Paper, Pictures};

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
    }
}

/// One drawing, as `water.svg`.
pub(crate) fn pictures() -> Pictures {
    let svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"60\" height=\"20\">\
               <rect width=\"60\" height=\"20\" fill=\"#eee\"/></svg>";
    Pictures::from([("water.svg".to_owned(), svg.to_owned())])
}
