//! Calculation sheet: every figure of the ledger with its formula, inputs, source and limit.

use super::shared::{fault_verdict, figure_anchor};
use super::{BuildView, Context};
use crate::compute::formulas;
use crate::compute::ledger::{Figure, Formula};
use crate::diag::{Finding, Severity};
use crate::tables::citation::Citation;
use crate::tables::sources;
use serde::Serialize;
use std::collections::BTreeSet;

/// What the template prints.
#[derive(Clone, Debug, Serialize)]
pub struct View {
    /// Head.
    pub build: BuildView,
    /// Rules in force.
    pub rules: String,
    /// Why each value of the rules is as it is.
    pub basis: Vec<Basis>,
    /// Formulas that this build uses, each with its figures.
    pub formulas: Vec<FormulaView>,
    /// Figures in all.
    pub count: usize,
    /// Figures that break their limit.
    pub over: usize,
    /// Sources.
    pub sources: Vec<SourceView>,
    /// Warnings that the spec accepts.
    pub accepted: Vec<AcceptedView>,
    /// Warnings that are open.
    pub open: Vec<WarningView>,
}

/// A value of the rules in force.
#[derive(Clone, Debug, Serialize)]
pub struct Basis {
    /// Its name.
    pub value: String,
    /// Why it is as it is.
    pub why: String,
}

/// A formula and its figures.
#[derive(Clone, Debug, Serialize)]
pub struct FormulaView {
    /// Name.
    pub name: &'static str,
    /// In symbols.
    pub expression: &'static str,
    /// Symbols.
    pub symbols: Vec<SymbolView>,
    /// Sources.
    pub sources: Vec<SourceRef>,
    /// Any of its figures is held to a limit or judged.
    pub judged: bool,
    /// Figures.
    pub rows: Vec<Row>,
}

/// A symbol.
#[derive(Clone, Debug, Serialize)]
pub struct SymbolView {
    /// The symbol.
    pub symbol: &'static str,
    /// Its meaning.
    pub meaning: &'static str,
}

/// A source beside a formula.
#[derive(Clone, Debug, Serialize)]
pub struct SourceRef {
    /// Id in the register.
    pub id: &'static str,
    /// How well it was checked.
    pub status: &'static str,
}

/// A figure.
#[derive(Clone, Debug, Serialize)]
pub struct Row {
    /// Anchor.
    pub anchor: String,
    /// Id of what it is about.
    pub subject: String,
    /// Name of what it is about.
    pub name: String,
    /// Inputs, as many as the formula has symbols.
    pub inputs: Vec<String>,
    /// Result.
    pub value: String,
    /// "≤ 15 A", "" where none applies.
    pub limit: String,
    /// "kept", "over", "under", "limited upstream", "".
    pub verdict: &'static str,
}

/// An entry of the register of sources.
#[derive(Clone, Debug, Serialize)]
pub struct SourceView {
    /// Id.
    pub id: &'static str,
    /// Rule, standard or book.
    pub text: &'static str,
    /// Edition.
    pub edition: &'static str,
    /// How well it was checked.
    pub status: &'static str,
    /// A formula on this sheet names it.
    pub used: bool,
}

/// A warning that the spec accepts.
#[derive(Clone, Debug, Serialize)]
pub struct AcceptedView {
    /// The warning.
    pub warning: WarningView,
    /// Why it is accepted.
    pub reason: String,
    /// By whom.
    pub by: String,
}

/// A warning.
#[derive(Clone, Debug, Serialize)]
pub struct WarningView {
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
pub fn view(context: &Context<'_>) -> View {
    let formulas: Vec<_> = formulas::all().filter_map(|f| formula(context, f)).collect();
    let used: BTreeSet<&str> = formulas.iter().flat_map(|f| f.sources.iter().map(|s| s.id)).collect();
    let profile = &context.electrical.profile;
    let warnings = || context.findings.iter().filter(|f| f.severity == Severity::Warning);
    let accepted = |f: &Finding| {
        let acceptance = f.accepted.as_ref()?;
        Some(AcceptedView { warning: warning(f), reason: acceptance.reason.clone(), by: acceptance.by.clone() })
    };
    View {
        build: BuildView::of(context.build),
        rules: profile.name.clone(),
        basis: profile.basis.iter().map(|(v, why)| Basis { value: v.replace('_', " "), why: why.clone() }).collect(),
        count: context.ledger.len(),
        over: context.ledger.figures().filter(|f| matches!(verdict(context, f), "over" | "under")).count(),
        sources: sources::all().map(|s| source(s, &used)).collect(),
        accepted: warnings().filter_map(accepted).collect(),
        open: warnings().filter(|f| f.accepted.is_none()).map(warning).collect(),
        formulas,
    }
}

fn formula(context: &Context<'_>, formula: &'static Formula) -> Option<FormulaView> {
    let figures = context.ledger.figures().filter(|f| f.formula == formula.id);
    let rows: Vec<_> = figures.map(|f| row(context, formula, f)).collect();
    if rows.is_empty() {
        return None;
    }
    Some(FormulaView {
        name: formula.name,
        expression: formula.expression,
        symbols: formula.symbols.iter().map(|&(symbol, meaning)| SymbolView { symbol, meaning }).collect(),
        sources: formula.sources.iter().map(|s| SourceRef { id: s.id, status: s.status.words() }).collect(),
        judged: rows.iter().any(|r| !r.verdict.is_empty()),
        rows,
    })
}

fn row(context: &Context<'_>, formula: &Formula, figure: &Figure) -> Row {
    let system = context.build.prints();
    let mut inputs: Vec<String> = figure.inputs.iter().map(|i| i.show(system)).collect();
    // One column a symbol, whatever a figure brings: a ragged table would not print.
    inputs.resize(formula.symbols.len(), String::new());
    let limit = figure.limit.as_ref();
    Row {
        anchor: figure_anchor(&figure.id),
        subject: figure.subject.clone(),
        name: subject_name(context, formula, &figure.subject),
        inputs,
        value: figure.value.show(system),
        limit: limit
            .map_or_else(String::new, |l| format!("{} {}", if l.at_most { "≤" } else { "≥" }, l.bound.show(system))),
        verdict: verdict(context, figure),
    }
}

fn verdict(context: &Context<'_>, figure: &Figure) -> &'static str {
    if figure.formula == formulas::electrical::FAULT.id {
        return fault_verdict(context, figure);
    }
    match figure.limit.as_ref().map(|l| (l.kept, l.at_most)) {
        None => "",
        Some((true, _)) => "kept",
        Some((false, true)) => "over",
        Some((false, false)) => "under",
    }
}

/// Formulas whose figures are about a circuit; the others are about a part, which may bear the same id.
const OF_CIRCUITS: &[&Formula] = &[
    &formulas::electrical::DESIGN_CURRENT,
    &formulas::electrical::AMPACITY,
    &formulas::electrical::PROTECTION,
    &formulas::electrical::CFR_CAP,
    &formulas::electrical::VOLTAGE_DROP,
    &formulas::electrical::FAULT,
];

/// A circuit by its ends, a part by its name, anything else by its id.
fn subject_name(context: &Context<'_>, formula: &Formula, subject: &str) -> String {
    let build = context.build;
    let of_circuit = OF_CIRCUITS.iter().any(|f| f.id == formula.id);
    match build.circuits.get(subject).filter(|_| of_circuit) {
        Some(circuit) => format!("{} → {}", build.name(&circuit.from), build.name(&circuit.to)),
        // A figure of a part in a season: `<part>.<season>`.
        None => match subject.split_once('.').filter(|(part, _)| build.parts.contains_key(*part)) {
            Some((part, season)) => format!("{}, {}", build.name(part), season.replace('-', " ")),
            None => build.name(subject).to_owned(),
        },
    }
}

fn source(citation: &'static Citation, used: &BTreeSet<&str>) -> SourceView {
    SourceView {
        id: citation.id,
        text: citation.text,
        edition: citation.edition,
        status: citation.status.words(),
        used: used.contains(citation.id),
    }
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
