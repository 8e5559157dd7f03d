//! Data files of a build: the tables as a workbook and as CSV.

use super::sheet::{in_context, page_setup};
use super::{Fault, Worked};
use crate::documents::data as tables;
use crate::parallel;
use crate::spreadsheet::{self, About, DataTable};
use crate::typeset::Paper;
use serde::Serialize;

/// Folder of the data files below that of the documents.
pub const DATA: &str = "data";

/// A data file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DataFile {
    /// Its name, with its folder.
    pub name: String,
    /// What is in it.
    pub bytes: Vec<u8>,
}

/// The data files of a build.
///
/// # Errors
/// Where a table does not hold together: a fault of rigbinder.
pub fn data(worked: &Worked<'_>) -> Result<Vec<DataFile>, Fault> {
    let parts = [tabled, whole];
    let made = parallel::map(parts.len(), |at| parts[at](worked)).into_iter().collect::<Result<Vec<_>, _>>()?;
    Ok(made.into_iter().flatten().collect())
}

/// The tables: each as CSV that other programs ask for, all of them as one workbook.
fn tabled(worked: &Worked<'_>) -> Result<Vec<DataFile>, Fault> {
    in_context(worked, &[], |context| {
        let tables = tables::tables(context);
        let is_csv = |t: &&DataTable| tables::AS_CSV.contains(&t.id);
        let csv = tables.iter().filter(is_csv).map(|t| file(&format!("{}.csv", t.id), spreadsheet::csv(t)));
        csv.chain([file("schedules.xlsx", spreadsheet::workbook(&tables, &about(worked)))]).collect()
    })
}

/// The whole build, and the schema that describes it.
fn whole(worked: &Worked<'_>) -> Result<Vec<DataFile>, Fault> {
    in_context(worked, &[], |context| {
        let build = file("build.json", json(&tables::whole(context)))?;
        Ok(vec![build, file("build.schema.json", json(&build_schema()))?])
    })
}

fn file(name: &str, bytes: Result<Vec<u8>, String>) -> Result<DataFile, Fault> {
    match bytes {
        Ok(bytes) => Ok(DataFile { name: format!("{DATA}/{name}"), bytes }),
        Err(error) => Err(Fault::of(&format!("{name} cannot be written"), &error)),
    }
}

/// JSON text, with a line end.
fn json(value: &impl Serialize) -> Result<Vec<u8>, String> {
    let mut bytes = serde_json::to_vec_pretty(value).map_err(|e| e.to_string())?;
    bytes.push(b'\n');
    bytes.shrink_to_fit();
    Ok(bytes)
}

/// JSON Schema of `data/build.json`.
#[must_use]
pub fn build_schema() -> serde_json::Value {
    tables::whole::schema()
}

fn about(worked: &Worked<'_>) -> About {
    let setup = page_setup(worked);
    let (year, month, day) = setup.date;
    let small = |n: u8| i8::try_from(n).unwrap_or(1);
    let date = jiff::civil::Date::new(i16::try_from(year).unwrap_or(2000), small(month), small(day));
    let parts = [
        setup.number.clone(),
        if setup.revision.is_empty() { String::new() } else { format!("revision {}", setup.revision) },
    ];
    About {
        title: setup.build,
        subject: parts.into_iter().filter(|p| !p.is_empty()).collect::<Vec<_>>().join(", "),
        company: setup.shop,
        date: date.unwrap_or(jiff::civil::date(2000, 1, 1)),
        letter: setup.paper == Paper::UsLetter,
    }
}
