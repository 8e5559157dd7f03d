//! Calculation sheet: every figure of the ledger with its formula, inputs, source and limit.

use super::shared::{fault_verdict, figure_anchor};
use super::{BuildView, Context, PictureView};
use crate::compute::electrical::interrupting::Interrupting;
use crate::compute::formulas;
use crate::compute::ledger::{Figure, Formula};
use crate::compute::wording::season;
use crate::diag::{Finding, Severity};
use crate::tables::citation::Citation;
use crate::tables::sources;
use crate::units::{System, in_words};
use serde::Serialize;
use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

/// What the template prints.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct View {
    /// Head.
    pub build: BuildView,
    /// Figures are printed in US units, the formulas are written in SI.
    pub us: bool,
    /// Rules in force.
    pub rules: String,
    /// Why each value of the rules is as it is.
    pub basis: Vec<Basis>,
    /// Fields with the formulas that this build uses, each with its figures.
    pub chapters: Vec<Chapter>,
    /// Figures in all.
    pub count: usize,
    /// Figures that break their limit.
    pub over: usize,
    /// Figures whose limit judges a part of the question alone.
    pub partial: usize,
    /// Devices that nothing shows to break the fault current at their place.
    pub unproven: usize,
    /// Sources that a formula on this sheet names.
    pub sources: Vec<SourceView>,
    /// Warnings that the spec accepts.
    pub accepted: Vec<AcceptedView>,
    /// Warnings that are open.
    pub open: Vec<WarningView>,
}

/// A value of the rules in force.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Basis {
    /// Its name.
    pub value: String,
    /// Why it is as it is.
    pub why: String,
}

/// A field of the trade.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct Chapter {
    /// Title.
    pub title: &'static str,
    /// The usual day of each season stands here.
    pub pictures: Vec<PictureView>,
    /// Its formulas.
    pub formulas: Vec<FormulaView>,
}

/// A formula and its figures.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct FormulaView {
    /// Id.
    pub id: &'static str,
    /// Name.
    pub name: Cow<'static, str>,
    /// In symbols.
    pub expression: &'static str,
    /// An earlier formula of this sheet that reads the same, with its id and name.
    pub like: Option<[Cow<'static, str>; 2]>,
    /// Symbols.
    pub symbols: Vec<SymbolView>,
    /// Sources.
    pub sources: Vec<SourceRef>,
    /// Any of its figures is held to a limit or judged.
    pub judged: bool,
    /// The subjects have names of their own that this table has to tell.
    pub named: bool,
    /// Symbols that have a column.
    pub columns: Vec<&'static str>,
    /// Narrow and long enough for two columns on the page.
    pub narrow: bool,
    /// Figures.
    pub rows: Vec<ReckonedRow>,
}

/// A symbol.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct SymbolView {
    /// The symbol.
    pub symbol: &'static str,
    /// Its meaning.
    pub meaning: Cow<'static, str>,
    /// Its value where it is the same in every row and has no column, else "".
    pub common: String,
}

/// A source beside a formula.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct SourceRef {
    /// Id in the register.
    pub id: &'static str,
    /// How well it was checked.
    pub status: &'static str,
}

/// A figure.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct ReckonedRow {
    /// Anchor.
    pub anchor: String,
    /// Id of what it is about.
    pub subject: String,
    /// Name of what it is about.
    pub name: String,
    /// Inputs, as many as the table has columns for.
    pub inputs: Vec<String>,
    /// Result.
    pub value: String,
    /// "≤ 15 A", "" where none applies.
    pub limit: String,
    /// "kept", "over", "under", "tested pair", "not proven", what is judged and what is not, or "".
    pub verdict: Cow<'static, str>,
    /// It breaks its limit.
    pub broken: bool,
}

/// An entry of the register of sources.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct SourceView {
    /// Id.
    pub id: &'static str,
    /// Rule, standard or book.
    pub text: &'static str,
    /// Edition.
    pub edition: &'static str,
    /// How well it was checked.
    pub status: &'static str,
}

/// A warning that the spec accepts.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct AcceptedView {
    /// The warning.
    pub warning: WarningView,
    /// Why it is accepted.
    pub reason: String,
    /// By whom.
    pub by: String,
}

/// A warning.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct WarningView {
    /// Name.
    pub name: &'static str,
    /// What it is about, "" for the whole build.
    pub subject: String,
    /// One line.
    pub headline: String,
    /// What it rests on.
    pub basis: String,
    /// What to do.
    pub help: String,
}

/// The calculation sheet of a build.
#[must_use]
pub(crate) fn view(context: &Context<'_>) -> View {
    let chapters = formulas::CHAPTERS.iter().map(|&(title, of)| {
        let own: Vec<_> = of.iter().filter_map(|f| formula(context, f)).collect();
        // Where the heat of the day is worked out.
        let here = own.iter().any(|f: &FormulaView| f.id == formulas::heat::INFILTRATION.id);
        let pictures = if here { context.pictures_of("climate-day") } else { Vec::new() };
        Chapter { title, pictures: pictures.into_iter().cloned().collect(), formulas: own }
    });
    let mut chapters: Vec<_> = chapters.filter(|c| !c.formulas.is_empty()).collect();
    refer(&mut chapters);
    let formulas = chapters.iter().flat_map(|c| &c.formulas);
    let used: BTreeSet<&str> = formulas.flat_map(|f| f.sources.iter().map(|s| s.id)).collect();
    let profile = &context.electrical.profile;
    let warnings = || context.findings.iter().filter(|f| f.severity == Severity::Warning);
    let accepted = |f: &Finding| {
        let acceptance = f.accepted.as_ref()?;
        Some(AcceptedView { warning: warning(f), reason: acceptance.reason.clone(), by: acceptance.by.clone() })
    };
    let unproven = |f: &&Figure| verdict(context, f) == Interrupting::Unproven.words();
    View {
        build: BuildView::of(context.build),
        us: context.build.prints() == System::Us,
        rules: profile.name.clone(),
        basis: profile.basis.iter().map(|(v, why)| Basis { value: v.replace('_', " "), why: why.clone() }).collect(),
        count: context.ledger.len(),
        over: context.ledger.figures().filter(|f| f.is_broken() && !unproven(f)).count(),
        partial: context.ledger.figures().filter(|f| !f.open().is_empty()).count(),
        unproven: context.ledger.figures().filter(unproven).count(),
        sources: sources::all().filter(|s| used.contains(s.id)).map(source).collect(),
        accepted: warnings().filter_map(accepted).collect(),
        open: warnings().filter(|f| f.accepted.is_none()).map(warning).collect(),
        chapters,
    }
}

/// Lets each formula that reads as an earlier one refer to that: the same law of cold and of hot water.
fn refer(chapters: &mut [Chapter]) {
    let reads = |f: &FormulaView| {
        let symbols: Vec<_> = f.symbols.iter().map(|s| (s.symbol, s.meaning.clone())).collect();
        (f.expression, symbols)
    };
    let mut told = BTreeMap::new();
    for formula in chapters.iter_mut().flat_map(|c| &mut c.formulas) {
        let first = told.entry(reads(formula)).or_insert_with(|| [formula.id.into(), formula.name.clone()]);
        formula.like = (first[0] != formula.id).then(|| first.clone());
    }
}

fn formula(context: &Context<'_>, formula: &'static Formula) -> Option<FormulaView> {
    let system = context.build.prints();
    let figures = context.ledger.figures().filter(|f| f.formula == formula.id);
    let mut rows: Vec<_> = figures.map(|f| row(context, formula, f)).collect();
    let first = rows.first()?.inputs.clone();
    // What is the same in every row is told once above the table, what no row has gets no column.
    let same = |i: usize| rows.iter().all(|r| r.inputs[i] == first[i]);
    let common: Vec<bool> =
        (0..first.len()).map(|i| same(i) && (first[i].is_empty() || rows.len() >= FEW_ROWS)).collect();
    for row in &mut rows {
        row.inputs = row.inputs.drain(..).zip(&common).filter(|(_, c)| !**c).map(|(i, _)| i).collect();
    }
    let symbols = formula.symbols.iter().zip(&common).zip(first);
    // The ends of a circuit stand under its design current; the tables after it go by its id.
    let told =
        |r: &ReckonedRow| context.ledger.get(&format!("{}.{}", r.subject, formulas::electrical::DESIGN_CURRENT.id));
    let later = is_of_circuits(formula) && formula.id != formulas::electrical::DESIGN_CURRENT.id;
    let named = rows.iter().any(|r| r.name != r.subject && !(later && told(r).is_some()));
    let columns: Vec<_> = formula.symbols.iter().zip(&common).filter(|(_, c)| !**c).map(|(s, _)| s.0).collect();
    Some(FormulaView {
        id: formula.id,
        name: in_words(formula.name, system),
        expression: formula.expression,
        like: None,
        narrow: !named && rows.len() > LONG && width(&rows, &columns) <= HALF_PAGE,
        symbols: symbols
            .map(|((&(symbol, meaning), &common), value)| {
                let common = if common { value } else { String::new() };
                SymbolView { symbol, meaning: in_words(meaning, system), common }
            })
            .collect(),
        named,
        columns,
        sources: formula
            .sources
            .iter()
            .filter(|s| !context.electrical.profile.ampacity.is_strange_to(s))
            .map(|s| SourceRef { id: s.id, status: s.status.words() })
            .collect(),
        judged: rows.iter().any(|r| !r.verdict.is_empty()),
        rows,
    })
}

/// From so many rows on a repeated input is worth a word above the table.
const FEW_ROWS: usize = 2;
/// Tables longer than this may stand in two columns.
const LONG: usize = 12;
/// Points that half a page gives to a table.
const HALF_PAGE: usize = 260;

/// About how many points wide a table is: 4 a character of its widest cells, 10 beside each column.
fn width(rows: &[ReckonedRow], columns: &[&str]) -> usize {
    let widest = |cell: &dyn Fn(&ReckonedRow) -> usize| rows.iter().map(cell).max().unwrap_or(0);
    let length = |text: &str| text.chars().count();
    let mut cells = vec![widest(&|r| length(&r.subject)), widest(&|r| length(&r.value).max(6))];
    cells.extend(columns.iter().enumerate().map(|(i, c)| length(c).max(widest(&|r| length(&r.inputs[i])))));
    if rows.iter().any(|r| !r.verdict.is_empty()) {
        cells.push(widest(&|r| length(&r.limit)));
        cells.push(widest(&|r| length(&r.verdict).max(7)));
    }
    cells.iter().map(|c| c * 4 + 10).sum()
}

fn row(context: &Context<'_>, formula: &Formula, figure: &Figure) -> ReckonedRow {
    let system = context.build.prints();
    let bounds = formula.bounds.iter().copied().chain(std::iter::repeat(None));
    let mut inputs: Vec<String> = figure.inputs.iter().zip(bounds).map(|(i, b)| i.show_bound(system, b)).collect();
    // One column a symbol, whatever a figure brings: a ragged table would not print.
    inputs.resize(formula.symbols.len(), String::new());
    let limit = figure.limit.as_ref();
    ReckonedRow {
        anchor: figure_anchor(&figure.id),
        subject: figure.subject.clone(),
        name: subject_name(context, formula, &figure.subject),
        inputs,
        value: figure.show(system),
        limit: limit.map_or_else(String::new, |l| format!("{} {}", l.holds.sign(), l.show(system))),
        verdict: verdict(context, figure),
        broken: figure.is_broken(),
    }
}

/// Whether a figure keeps its limit, in words.
#[must_use]
pub(crate) fn verdict(context: &Context<'_>, figure: &Figure) -> Cow<'static, str> {
    if figure.formula == formulas::electrical::FAULT.id {
        return fault_verdict(context, figure);
    }
    figure.verdict()
}

/// Formulas whose figures are about a circuit; the others are about a part, which may bear the same id.
const OF_CIRCUITS: &[&Formula] = &[
    &formulas::electrical::DESIGN_CURRENT,
    &formulas::electrical::AMPACITY,
    &formulas::electrical::PROTECTION,
    &formulas::electrical::CFR_CAP,
    &formulas::electrical::RV_TABLE,
    &formulas::electrical::EN_1648_DROP,
    &formulas::electrical::VOLTAGE_DROP,
    &formulas::electrical::FAULT,
    &formulas::electrical::END_AT_START,
    &formulas::electrical::END_AT_END,
];

fn is_of_circuits(formula: &Formula) -> bool {
    OF_CIRCUITS.iter().any(|f| f.id == formula.id)
}

/// A circuit by its ends, a part by its name, anything else by its id.
fn subject_name(context: &Context<'_>, formula: &Formula, subject: &str) -> String {
    let build = context.build;
    match build.circuits.get(subject).filter(|_| is_of_circuits(formula)) {
        Some(circuit) => format!("{} → {}", build.name(&circuit.from), build.name(&circuit.to)),
        // A figure of a part in a season: `<part>.<season>`.
        None => match subject.split_once('.') {
            Some(("shell", surface)) => format!("Shell, {}", surface.replace('-', " ")),
            Some((part, of)) if build.parts.contains_key(part) => format!("{}, {}", build.name(part), season(of)),
            _ => build.name(subject).to_owned(),
        },
    }
}

fn source(citation: &'static Citation) -> SourceView {
    SourceView { id: citation.id, text: citation.text, edition: citation.edition, status: citation.status.words() }
}

fn warning(finding: &Finding) -> WarningView {
    WarningView {
        name: finding.name,
        subject: finding.subject.clone().unwrap_or_default(),
        headline: finding.headline.clone(),
        basis: finding.basis.join("; "),
        help: finding.help.join("; "),
    }
}
