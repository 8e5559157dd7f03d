//! `schema`, `completions`, `man`: what editors and shells want.

use super::house::House;
use super::print::Print;
use super::{Args, CLEAN, SchemaOf};
use crate::diag::Sink;
use crate::kinds::Library;
use crate::pipeline;
use crate::source::SourceFile;
use crate::spec::{self, Language, Shelf};
use clap::CommandFactory;
use clap_complete::Shell;
use std::path::Path;

pub(super) fn schema(print: &Print, house: &House<'_>, of: SchemaOf) -> Result<u8, String> {
    let schema = match of {
        SchemaOf::Build => pipeline::build_schema(),
        SchemaOf::Record => pipeline::record_schema(),
        SchemaOf::Spec => {
            let catalogue = &house.catalogue(Path::new("here.toml"))?;
            let library = Library::load(catalogue).map_err(|e| e.to_string())?;
            let language = Language::of(catalogue).map_err(|e| e.to_string())?;
            let shared = &language.component;
            // What is wrong with an item is told by `check`.
            let shelf = Shelf::gather(catalogue, &mut SourceFile::default(), &mut Sink::default());
            spec::schema(&language, &library.fields(&shared.common, &shared.supply, &shared.output), &shelf)
        }
    };
    let text = serde_json::to_string_pretty(&schema).map_err(|e| e.to_string())?;
    print.out(&format!("{text}\n"));
    Ok(CLEAN)
}

#[expect(clippy::unnecessary_wraps, reason = "all commands have one shape")]
pub(super) fn completions(print: &Print, shell: Shell) -> Result<u8, String> {
    let mut bytes = Vec::new();
    clap_complete::generate(shell, &mut Args::command(), "rigbinder", &mut bytes);
    print.out(&String::from_utf8_lossy(&bytes));
    Ok(CLEAN)
}

pub(super) fn man(print: &Print) -> Result<u8, String> {
    let mut bytes = Vec::new();
    clap_mangen::Man::new(Args::command()).render(&mut bytes).map_err(|e| e.to_string())?;
    print.out(&String::from_utf8_lossy(&bytes));
    Ok(CLEAN)
}
