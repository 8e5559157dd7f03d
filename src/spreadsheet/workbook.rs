//! Tables as an Office Open XML workbook, one sheet each, the same bytes on any day.

use super::{Cell, DataTable};
use jiff::civil::Date;
use rust_xlsxwriter::{
    DocProperties, ExcelDateTime, Format, FormatAlign, FormatBorder, Workbook, Worksheet, XlsxError,
};

/// What the file says of itself.
#[derive(Clone, Debug)]
pub struct About {
    /// Title.
    pub title: String,
    /// Number and revision of the build.
    pub subject: String,
    /// The shop.
    pub company: String,
    /// Day of the documents.
    pub date: Date,
    /// Paper is US Letter, else A4.
    pub letter: bool,
}

/// Width of the widest column, in digits.
const WIDEST: usize = 46;

/// UTF-16 units a cell holds (limit of the format).
const CELL: usize = 32_767;

/// Characters of a text in the head of a page; the format allows 255 with its marks.
const LINE: usize = 100;

/// Codes of the format for paper sizes.
const LETTER: u8 = 1;
const A4: u8 = 9;

/// The workbook. Texts are written as texts, so none can be a formula; numbers are numbers, their unit is in the head.
///
/// # Errors
/// Where a table does not fit a sheet: 1 048 576 rows, 31 characters of a name.
pub fn workbook(tables: &[DataTable], about: &About) -> Result<Vec<u8>, String> {
    write(tables, about).map_err(|e| e.to_string())
}

fn write(tables: &[DataTable], about: &About) -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    let created = day(about.date).or_else(|_| ExcelDateTime::from_ymd(2000, 1, 1))?;
    let properties = DocProperties::new()
        .set_title(&about.title)
        .set_subject(&about.subject)
        .set_company(&about.company)
        .set_author(&about.company)
        // Without it the clock would be written.
        .set_creation_datetime(&created);
    book.set_properties(&properties);
    let looks = Looks::new();
    for table in tables {
        sheet(book.add_worksheet(), table, about, &looks)?;
    }
    book.save_to_buffer()
}

struct Looks {
    head: Format,
    text: Format,
    date: Format,
}

impl Looks {
    fn new() -> Self {
        let top = || Format::new().set_align(FormatAlign::Top);
        Self {
            head: top().set_bold().set_text_wrap().set_border_bottom(FormatBorder::Thin),
            text: top().set_text_wrap(),
            date: top().set_num_format("yyyy-mm-dd"),
        }
    }
}

fn sheet(sheet: &mut Worksheet, table: &DataTable, about: &About, looks: &Looks) -> Result<(), XlsxError> {
    sheet.set_name(table.name)?;
    let last_row = u32::try_from(table.rows.len()).unwrap_or(u32::MAX);
    for (column, number) in table.columns.iter().zip(0_u16..) {
        sheet.write_string_with_format(0, number, column.head(), &looks.head)?;
        let cells = table.rows.iter().filter_map(|r| r.get(usize::from(number)));
        sheet.set_column_width(number, width(&column.head(), cells))?;
    }
    for (row, number) in table.rows.iter().zip(1_u32..) {
        for (cell, column) in row.iter().zip(0_u16..) {
            match cell {
                Cell::Empty => {}
                Cell::Text(text) => {
                    sheet.write_string_with_format(number, column, cut(text, CELL), &looks.text)?;
                }
                Cell::Number(value) => {
                    sheet.write_number_with_format(number, column, *value, &looks.text)?;
                }
                Cell::Date(date) => match day(*date) {
                    Ok(day) => {
                        sheet.write_datetime_with_format(number, column, &day, &looks.date)?;
                    }
                    // Before 1900, where days of a workbook begin.
                    Err(_) => {
                        sheet.write_string_with_format(number, column, date.to_string(), &looks.text)?;
                    }
                },
            }
        }
    }
    let last_column = u16::try_from(table.columns.len().saturating_sub(1)).unwrap_or(u16::MAX);
    sheet.autofilter(0, 0, last_row, last_column)?;
    sheet.set_freeze_panes(1, 0)?;
    sheet.set_repeat_rows(0, 0)?;
    sheet.set_landscape();
    sheet.set_paper_size(if about.letter { LETTER } else { A4 });
    sheet.set_print_fit_to_pages(1, 0);
    sheet.set_header(format!("&L{}&R&A", rim(&about.title)));
    sheet.set_footer(format!("&L{}&RPage &P of &N", rim(&about.subject)));
    Ok(())
}

/// Width for the longest word of the head and the longest cell, with room for the button of the filter.
fn width<'c>(head: &str, cells: impl Iterator<Item = &'c Cell>) -> f64 {
    let long = |cell: &Cell| match cell {
        Cell::Empty => 0,
        Cell::Text(text) => text.chars().count(),
        Cell::Number(number) => number.to_string().len(),
        Cell::Date(_) => 10,
    };
    let word = head.split(' ').map(|w| w.chars().count()).max().unwrap_or(0) + 3;
    let widest = cells.map(long).max().unwrap_or(0).max(word).min(WIDEST);
    u32::try_from(widest).map_or(0.0, f64::from) + 2.0
}

/// A day as the format knows it, from 1900 to 9999.
fn day(date: Date) -> Result<ExcelDateTime, XlsxError> {
    let [month, day] = [date.month(), date.day()].map(|n| u8::try_from(n).unwrap_or(0));
    ExcelDateTime::from_ymd(u16::try_from(date.year()).unwrap_or(0), month, day)
}

/// The beginning of a text that has at most `most` UTF-16 units.
fn cut(text: &str, most: usize) -> &str {
    let mut units = 0;
    let end = text.char_indices().find(|(_, c)| {
        units += c.len_utf16();
        units > most
    });
    end.map_or(text, |(at, _)| &text[..at])
}

/// A text for the head or foot of a page.
fn rim(text: &str) -> String {
    cut(text, LINE).replace('&', "&&")
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn about() -> About {
        let text = |t: &str| t.to_owned();
        About { title: text("A & B"), subject: text("R1"), company: text("S"), date: date(2027, 5, 14), letter: false }
    }

    #[test]
    fn the_same_tables_give_the_same_bytes() {
        let column = crate::spreadsheet::Column { name: "Name", unit: String::new() };
        let rows = [Cell::Text("=1+1".into()), Cell::Number(2.5), Cell::Date(date(1850, 1, 1)), Cell::Empty];
        let rows = rows.map(|c| vec![c]).to_vec();
        let table = DataTable { id: "t", name: "T", columns: vec![column], rows };
        let first = workbook(std::slice::from_ref(&table), &about()).unwrap();
        std::thread::sleep(std::time::Duration::from_millis(1100));
        assert_eq!(first, workbook(&[table], &about()).unwrap());
        assert!(first.starts_with(b"PK"));
    }

    #[test]
    fn a_text_is_cut_between_characters() {
        assert_eq!(cut("aé😀b", 3), "aé");
        assert_eq!(cut("aé😀b", 4), "aé😀");
        assert_eq!(cut("abc", 9), "abc");
        let long = About { title: "x&".repeat(500), ..about() };
        assert!(workbook(&[], &long).is_ok());
    }
}
