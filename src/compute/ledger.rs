//! The calculation ledger: every computed figure with its formula, inputs, source and limit.

use crate::tables::citation::Citation;
use crate::units::{Dimension, System, print, said};
use indexmap::IndexMap;
use serde::Serialize;

/// A formula of the trade.
#[derive(Debug, Serialize)]
pub struct Formula {
    /// Id.
    pub id: &'static str,
    /// What it gives.
    pub name: &'static str,
    /// In symbols.
    pub expression: &'static str,
    /// Meaning of each symbol, in the order of the inputs.
    pub symbols: &'static [(&'static str, &'static str)],
    /// Where it comes from.
    #[serde(skip)]
    pub sources: &'static [&'static Citation],
}

/// An input or a limit: a quantity or a word.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
pub enum Amount {
    /// A quantity in the inside unit of its dimension.
    Of(Dimension, f64),
    /// A word, such as a conductor size.
    Word(String),
}

impl Amount {
    /// As calculations and tests print it.
    #[must_use]
    pub fn show(&self, system: System) -> String {
        match self {
            Self::Of(dimension, value) => print(*dimension, *value, system),
            Self::Word(word) => word.clone(),
        }
    }

    /// As a person would say it.
    #[must_use]
    pub fn said(&self, system: System) -> String {
        match self {
            Self::Of(dimension, value) => said(*dimension, *value, system),
            Self::Word(word) => word.clone(),
        }
    }
}

macro_rules! amounts {
    ($($ty:ident)*) => {$(
        impl From<crate::units::$ty> for Amount {
            fn from(value: crate::units::$ty) -> Self { Self::Of(crate::units::$ty::DIMENSION, value.0) }
        }
    )*};
}
amounts!(Amps Volts Ohms Watts WattHours AmpHours Metres Celsius Ratio Seconds Kilograms);

impl From<String> for Amount {
    fn from(word: String) -> Self {
        Self::Word(word)
    }
}

impl From<f64> for Amount {
    fn from(value: f64) -> Self {
        Self::Word(crate::units::number(value))
    }
}

/// On which side of its bound a figure has to stay.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Holds {
    /// Not above it.
    AtMost,
    /// Not below it.
    AtLeast,
    /// A difference, not further from nothing than the bound, to either side.
    Within,
}

impl Holds {
    /// In words before the bound.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::AtMost => "at most",
            Self::AtLeast => "at least",
            Self::Within => "within ±",
        }
    }

    /// As the sign before the bound.
    #[must_use]
    pub const fn sign(self) -> &'static str {
        match self {
            Self::AtMost => "≤",
            Self::AtLeast => "≥",
            Self::Within => "±",
        }
    }
}

/// Bound a figure is held to.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Limit {
    /// The bound.
    pub bound: Amount,
    /// On which side of the bound the figure has to stay.
    pub holds: Holds,
    /// Whether the figure keeps it.
    pub kept: bool,
}

/// One computed figure.
#[derive(Clone, Debug, Serialize)]
pub struct Figure {
    /// Id: `<subject>.<formula>`.
    pub id: String,
    /// Id of its formula.
    pub formula: &'static str,
    /// What it is about: a circuit, a component, the build.
    pub subject: String,
    /// Result.
    pub value: Amount,
    /// Inputs in the order of the formula's symbols.
    pub inputs: Vec<Amount>,
    /// Bound, where one applies.
    pub limit: Option<Limit>,
}

impl Figure {
    /// What is left to its limit, negative where it is broken; `None` without one, or where either is a word.
    #[must_use]
    pub fn margin(&self) -> Option<Amount> {
        let limit = self.limit.as_ref()?;
        match (&self.value, &limit.bound) {
            (Amount::Of(dimension, value), Amount::Of(of, bound)) if dimension == of => {
                let left = match limit.holds {
                    Holds::AtMost => bound - value,
                    Holds::AtLeast => value - bound,
                    Holds::Within => bound - value.abs(),
                };
                Some(Amount::Of(*dimension, left))
            }
            _ => None,
        }
    }
}

/// Figures by id, in the order computed.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Ledger {
    figures: IndexMap<String, Figure>,
}

impl Ledger {
    /// Enters a figure.
    pub fn enter(
        &mut self,
        formula: &'static Formula,
        subject: &str,
        value: impl Into<Amount>,
        inputs: Vec<Amount>,
        limit: Option<Limit>,
    ) {
        let id = format!("{subject}.{}", formula.id);
        let subject = subject.to_owned();
        self.figures
            .insert(id.clone(), Figure { id, formula: formula.id, subject, value: value.into(), inputs, limit });
    }

    /// The same without lengths where the subject is one of those that `secret` names.
    #[must_use]
    pub fn without_lengths(&self, secret: &dyn Fn(&str) -> bool) -> Self {
        let mut told = self.clone();
        for figure in told.figures.values_mut().filter(|f| secret(&f.subject)) {
            let bound = figure.limit.as_mut().map(|l| &mut l.bound);
            for amount in figure.inputs.iter_mut().chain([&mut figure.value]).chain(bound) {
                if matches!(amount, Amount::Of(Dimension::Length, _)) {
                    *amount = Amount::Word("confidential".to_owned());
                }
            }
        }
        told
    }

    /// The figures, in the order computed.
    pub fn figures(&self) -> impl Iterator<Item = &Figure> {
        self.figures.values()
    }

    /// The figure with this id.
    #[must_use]
    pub fn get(&self, id: &str) -> Option<&Figure> {
        self.figures.get(id)
    }

    /// Number of figures.
    #[must_use]
    pub fn len(&self) -> usize {
        self.figures.len()
    }

    /// Whether there is none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.figures.is_empty()
    }
}

/// A bound from above.
#[must_use]
pub fn at_most(value: f64, bound: f64, dimension: Dimension) -> Option<Limit> {
    Some(Limit { bound: Amount::Of(dimension, bound), holds: Holds::AtMost, kept: value <= bound * (1.0 + 1e-9) })
}

/// A bound from below.
#[must_use]
pub fn at_least(value: f64, bound: f64, dimension: Dimension) -> Option<Limit> {
    Some(Limit { bound: Amount::Of(dimension, bound), holds: Holds::AtLeast, kept: value >= bound * (1.0 - 1e-9) })
}
