//! Tables of figures: the calculation ledger, and the load cases.

use super::{Context, number_cell, table};
use crate::compute::formulas;
use crate::compute::ledger::{Amount, Figure, Formula};
use crate::compute::weight::cases::Case;
use crate::documents::calculation_sheet;
use crate::spreadsheet::{Cell, DataTable};
use crate::units::{Dimension as D, System, in_words, significant_bound};

pub(super) fn ledger(context: &Context<'_>) -> DataTable {
    let build = context.build;
    let system = build.prints();
    let rows: Vec<&Figure> = context.ledger.figures().collect();
    let title = |f: &Figure| in_words(formulas::by_id(f.formula).map_or("", |f| f.name), system);
    let chapter = |f: &Figure| {
        let has = |of: &[&Formula]| of.iter().any(|o| o.id == f.formula);
        formulas::CHAPTERS.iter().find(|(_, of)| has(of)).map_or("", |(title, _)| *title)
    };
    table("figures", "Figures", &rows)
        .text("Figure", |f| f.id.as_str())
        .text("Chapter", move |f| chapter(f))
        .text("What", move |f| title(f))
        .text("About", |f| build.name(&f.subject))
        .cells("Value", |f| amount(Some(&f.value), system))
        .text("Unit", move |f| unit(&f.value, system))
        .text("Word", |f| word(Some(&f.value)))
        .text("Limit is", |f| f.limit.as_ref().map_or("", |l| l.holds.words()))
        .cells("Limit", |f| limit(f, system))
        .text("Limit, word", move |f| word(bound(f)))
        .text("Verdict", |f| calculation_sheet::verdict(context, f).into_owned())
        .done()
}

/// A number of any dimension; its unit stands in a column of its own.
fn amount(of: Option<&Amount>, system: System) -> Cell {
    match of {
        Some(Amount::Of(dimension, value)) => number_cell(dimension.column_unit(system).of_inside(*value)),
        _ => Cell::Empty,
    }
}

/// The bound as a number, rounded to its safe side.
fn limit(figure: &Figure, system: System) -> Cell {
    let Some(limit) = &figure.limit else { return Cell::Empty };
    let Amount::Of(dimension, value) = limit.bound else { return Cell::Empty };
    let shown = dimension.column_unit(system).of_inside(value);
    significant_bound(shown, 6, limit.holds.side()).parse().map_or(Cell::Empty, Cell::Number)
}

fn bound(figure: &Figure) -> Option<&Amount> {
    figure.limit.as_ref().map(|l| &l.bound)
}

fn unit(amount: &Amount, system: System) -> String {
    match amount {
        Amount::Of(dimension, _) => dimension.column_unit(system).printed(),
        Amount::Word(_) => String::new(),
    }
}

fn word(amount: Option<&Amount>) -> String {
    match amount {
        Some(Amount::Word(word)) => word.clone(),
        _ => String::new(),
    }
}

pub(super) fn weights(context: &Context<'_>) -> DataTable {
    let system = context.build.prints();
    let rows: Vec<&Case> = context.weight.cases.iter().collect();
    table("weights", "Weights", &rows)
        .text("Load case", |c| c.id.title())
        .quantity("Front axle", D::Mass, system, |c| Some(c.axles.front.0))
        .quantity("Rear axle", D::Mass, system, |c| Some(c.axles.rear.0))
        .quantity("Total", D::Mass, system, |c| Some(c.total().0))
        .quantity("Added by the build", D::Mass, system, |c| Some(c.added.0))
        .quantity("Of it without a place", D::Mass, system, |c| Some(c.unplaced.0))
        .quantity("Left wheels", D::Mass, system, |c| c.left.map(|m| m.0))
        .quantity("Centre of gravity behind front axle", D::Length, system, |c| c.behind_front.map(|m| m.0))
        .quantity("Centre of gravity above ground", D::Length, system, |c| c.height.map(|m| m.0))
        .done()
}
