//! rigbinder: one TOML spec of a camper van build → checked figures, install packets, schedules, calendar, manual.
//!
//! | where | what |
//! | --- | --- |
//! | [`units`], [`source`] | quantities with units; places in the spec |
//! | `parallel`, `files` | work on all cores; files that may not be what their names say |
//! | [`letters`] | what single characters do in a text |
//! | [`catalogue`] | what is looked up, in layers: built in, then a shop's |
//! | [`diag`] | findings and how they are printed |
//! | [`tables`] | published tables, each with its citation |
//! | [`fields`], [`spec`] | declared fields; TOML to a typed spec |
//! | [`roles`] | what a kind must tell to play a part: one struct and contract a role |
//! | [`kinds`] | what each component kind brings (`templates/kinds/*.toml`) |
//! | [`build`] | components joined with kinds: circuits, tasks, upkeep |
//! | [`compute`] | figures and the calculation ledger |
//! | [`checks`] | one file per check, named for its fault |
//! | [`documents`] | one file per document: views |
//! | [`drawings`] | diagrams, plans, charts, panel faces as SVG |
//! | [`render`], [`typeset`], [`typst_cli`] | templates to Markdown, HTML, Typst, PDF |
//! | [`shop`] | a shop's folder on the disk |
//! | [`papers`] | certificates that lie beside a spec |
//! | [`spreadsheet`] | plain tables to a workbook and to CSV |
//! | [`pipeline`] | the one flow through all of this |
//! | [`publish`] | files put in place, whole or not at all |
//! | [`cli`] | commands |

pub mod assets;
pub mod build;
pub mod catalogue;
pub mod checks;
pub mod cli;
pub mod compute;
pub mod diag;
pub mod digest;
pub mod documents;
pub mod drawings;
pub mod fields;
pub(crate) mod files;
pub mod kinds;
pub mod letters;
pub mod papers;
pub(crate) mod parallel;
pub mod pipeline;
pub mod publish;
pub mod render;
pub mod roles;
pub mod shop;
pub mod source;
pub mod spec;
pub mod spreadsheet;
pub mod tables;
pub mod typeset;
pub mod typst_cli;
pub mod units;
