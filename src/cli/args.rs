//! The command line.

use crate::documents::table::words;
use clap::builder::{OsStringValueParser, PossibleValue, PossibleValuesParser, TypedValueParser};
use clap::{Parser, Subcommand, ValueEnum};
use clap_complete::Shell;
use std::path::PathBuf;

/// Compiles one TOML spec of a camper van build into install packets, schedules, a maintenance calendar and an
/// owner's manual.
#[derive(Debug, Parser)]
#[command(version, propagate_version = true, arg_required_else_help = true)]
pub struct Args {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
    /// How findings are printed.
    #[arg(long, global = true, value_enum, default_value_t = MessageFormat::Human)]
    pub message_format: MessageFormat,
    /// Print findings and faults only.
    #[arg(long, short, global = true)]
    pub quiet: bool,
    /// Folder of the shop: its page, kinds, stock, pictures. Left out, `RIGBINDER_SHOP`, else `shop.toml` or `shop/` beside
    /// the spec or one folder above it.
    #[arg(long, global = true, value_name = "DIR")]
    pub shop: Option<PathBuf>,
    /// Use no shop's folder, whatever lies beside the spec.
    #[arg(long, global = true, conflicts_with = "shop")]
    pub no_shop: bool,
}

/// Forms of findings.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum MessageFormat {
    /// With the lines of the spec, for people.
    Human,
    /// One line each.
    Short,
    /// JSON, for programs.
    Json,
}

/// What can be printed between the steps.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Emit {
    /// The spec as read.
    Spec,
    /// The expanded build.
    Build,
    /// The calculation ledger.
    Figures,
}

/// Asks for the data files alone, which every other choice writes too.
pub(super) const DATA: &str = "data";

/// The documents that can be asked for, by their words.
fn documents() -> PossibleValuesParser {
    let data = (DATA, "The data files alone: workbook, CSV, JSON. Every other choice writes them too");
    PossibleValuesParser::new(words().chain([data]).map(|(word, about)| PossibleValue::new(word).help(about)))
}

/// What a spec can be checked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Purpose {
    /// Handing the van over: signatures, readings, serials, weights.
    Handover,
}

/// What has a JSON Schema.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum SchemaOf {
    /// The spec.
    Spec,
    /// The resolved build, `data/build.json`.
    Build,
    /// What a compile keeps of itself, `record.json`.
    Record,
}

/// Commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Check a spec and print what is wrong with it
    Check {
        /// The spec file. Left out with --shop: the shop's folder alone is checked, all of it.
        spec: Option<PathBuf>,
        /// List what is missing for this, and where to write it.
        #[arg(long = "for", value_enum)]
        purpose: Option<Purpose>,
        /// Folder of the output: where its last release lies, the spec is compared with it.
        #[arg(long, default_value = "docs-out")]
        out: PathBuf,
    },
    /// Check specs and write their documents
    Compile(Compile),
    /// Compile specs whole and keep a copy of each that nothing writes over
    ///
    /// A release comes after the last release of its spec: circuits keep their ways, and a change notice leads from
    /// it. So there is no --revision-from here. To begin again, move the folder `<spec>.released` away.
    Release(Release),
    /// Compile specs and again whenever one is saved, until Ctrl-C
    Watch(Watch),
    /// Write a commented starter: a spec, a shop's folder (--shop DIR), a kind or a stock item in one
    New {
        /// File to write; it must not exist yet. `-` prints the spec.
        spec: Option<PathBuf>,
        /// Name of a kind to begin in the shop's folder; with --stock, the kind of the item.
        #[arg(long, value_name = "NAME", conflicts_with = "spec")]
        kind: Option<String>,
        /// A kind to begin with: the new one has all that it has.
        #[arg(long, value_name = "KIND", requires = "kind", conflicts_with_all = ["spec", "stock"])]
        like: Option<String>,
        /// Id of a stock item to begin in the shop's folder.
        #[arg(long, value_name = "NAME", requires = "kind", conflicts_with = "spec")]
        stock: Option<String>,
    },
    /// Tell what changed between two specs, and what follows from it
    Compare {
        /// The earlier spec, or the `record.json` of an earlier compile.
        old: PathBuf,
        /// The later spec.
        new: PathBuf,
    },
    /// Tell what a finding means
    Explain {
        /// Name of the finding; all names where left out.
        finding: Option<String>,
    },
    /// List the component kinds, tell what one brings, or find one by what people call it
    Kinds {
        /// A kind, words for a thing, or a section of a spec.
        kind: Vec<String>,
        /// What a kind must tell to play this role; without a word, all roles
        #[arg(long, num_args = 0..=1, default_missing_value = "", conflicts_with = "kind")]
        role: Option<String>,
    },
    /// Print the JSON Schema of the spec, for editors, of `data/build.json` or of `record.json`
    Schema {
        /// Of what.
        #[arg(long, value_enum, default_value_t = SchemaOf::Spec)]
        of: SchemaOf,
    },
    /// Print completions for a shell
    Completions {
        /// The shell.
        shell: Shell,
    },
    /// Print the manual page
    Man,
}

/// `compile`.
#[derive(Debug, clap::Args)]
pub struct Compile {
    /// The spec files.
    #[arg(required = true, value_name = "SPEC")]
    pub specs: Vec<PathBuf>,
    /// What to make of them.
    #[command(flatten)]
    pub wanted: Wanted,
    /// Print the spec, build or figures as JSON and write nothing.
    #[arg(long, value_enum)]
    pub emit: Option<Emit>,
}

/// `watch`.
#[derive(Debug, clap::Args)]
pub struct Watch {
    /// The spec files.
    #[arg(required = true, value_name = "SPEC")]
    pub specs: Vec<PathBuf>,
    /// What to make of them.
    #[command(flatten)]
    pub wanted: Wanted,
}

/// `release`.
#[derive(Debug, clap::Args)]
pub struct Release {
    /// The spec files; each needs a `revision` in `[build]`.
    #[arg(required = true, value_name = "SPEC")]
    pub specs: Vec<PathBuf>,
    /// Folder for the output; the copies go to `<spec>.released/<revision>/` in it.
    #[arg(long, default_value = "docs-out")]
    pub out: PathBuf,
    /// With what the PDFs are made.
    #[command(flatten)]
    pub typesetter: Typesetter,
}

/// With what PDFs are made.
#[derive(Debug, clap::Args)]
pub struct Typesetter {
    /// The `typst` program to use (version 0.15).
    // An empty variable of the environment means none.
    #[arg(long, env = "RIGBINDER_TYPST", value_parser = OsStringValueParser::new().map(PathBuf::from))]
    pub typst: Option<PathBuf>,
    /// Longest time for one PDF; `typst` is ended when it takes longer.
    #[arg(long, value_name = "SECONDS", default_value_t = 120, value_parser = clap::value_parser!(u32).range(1..=86_400))]
    pub typst_limit: u32,
}

/// Which documents, and where.
#[derive(Debug, clap::Args)]
pub struct Wanted {
    /// Folder for the output; each spec gets a folder of its own in it.
    #[arg(long, default_value = "docs-out")]
    pub out: PathBuf,
    /// Make only this document; may be given several times.
    #[arg(long, value_parser = documents())]
    pub only: Vec<String>,
    /// Make only the packet of this stage; may be given several times.
    #[arg(long)]
    pub stage: Vec<String>,
    /// Make no PDFs; those whose text is still the same stay.
    #[arg(long)]
    pub no_pdf: bool,
    /// Write where the documents of a spec with another name stand: for a spec that was renamed or moved.
    #[arg(long)]
    pub take_over: bool,
    /// The `record.json` of an earlier compile, instead of the last release: circuits keep the ways they had, and a
    /// change notice is written.
    #[arg(long, value_name = "RECORD")]
    pub revision_from: Option<PathBuf>,
    /// With what the PDFs are made.
    #[command(flatten)]
    pub typesetter: Typesetter,
}

impl Wanted {
    /// Whether all documents are asked for.
    pub(super) fn whole(&self) -> bool {
        self.only.is_empty() && self.stage.is_empty()
    }
}
