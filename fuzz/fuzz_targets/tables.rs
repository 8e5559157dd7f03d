//! Any texts as cells: the CSV and the workbook read back as they were typed, and nothing in them is a formula.

#![no_main]

use calamine::{Data, Reader as _, Xlsx};
use libfuzzer_sys::fuzz_target;
use rigbinder::spreadsheet::{About, Cell, Column, DataTable, csv, workbook};
use std::io::Cursor;

/// What OWASP's page "CSV Injection" says a cell must not begin with.
const FORMULA: [char; 11] = ['=', '+', '-', '@', '\t', '\r', '\n', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}'];

fuzz_target!(|text: &str| {
    let texts: Vec<&str> = text.split(';').collect();
    let column = |name| Column { name, unit: text.chars().take(20).collect() };
    let rows = texts.iter().map(|t| vec![Cell::Text((*t).to_owned()), Cell::Number(1.5)]).collect();
    let table = DataTable { id: "t", name: "T", columns: vec![column("A"), column("B")], rows };
    let written = csv(&table).expect("CSV");
    let mut reader = ::csv::ReaderBuilder::new().from_reader(written.as_slice());
    let read: Vec<::csv::StringRecord> = reader.records().map(|r| r.expect("a record")).collect();
    assert_eq!(read.len(), texts.len());
    for (record, text) in read.iter().zip(&texts) {
        assert!(record.len() == 2 && &record[1] == "1.5");
        assert!(!record[0].starts_with(FORMULA), "{:?}", &record[0]);
        let quoted = text.starts_with(FORMULA);
        assert_eq!(if quoted { record[0].strip_prefix('\'') } else { Some(&record[0]) }, Some(*text));
    }
    let about = About {
        title: text.to_owned(),
        subject: text.to_owned(),
        company: text.to_owned(),
        date: jiff::civil::date(2027, 5, 14),
        letter: false,
    };
    let bytes = workbook(&[table], &about).expect("workbook");
    let mut book: Xlsx<_> = calamine::open_workbook_from_rs(Cursor::new(bytes)).expect("a workbook");
    let formulas = book.worksheet_formula("T").expect("formulas");
    assert!(formulas.cells().all(|(_, _, f)| f.is_empty()), "a formula");
    // Controls are no text of a spec; those that XML cannot hold come back as escapes.
    if text.contains(|c: char| c.is_control() && !matches!(c, '\n' | '\t') || matches!(c, '\u{fffe}' | '\u{ffff}')) {
        return;
    }
    let sheet = book.worksheet_range("T").expect("the sheet");
    for (row, text) in (1..).zip(&texts) {
        match sheet.get_value((row, 0)) {
            Some(Data::String(read)) => assert_eq!(read, text),
            None | Some(Data::Empty) => assert!(text.is_empty(), "{text:?} is gone"),
            other => panic!("{text:?} came back as {other:?}"),
        }
    }
});
