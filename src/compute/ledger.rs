//! The calculation ledger: every computed figure with its formula, inputs, source and limit.

use crate::tables::citation::Citation;
use crate::units::{Bound, Dimension, System, print, print_bound, said, said_bound};
use indexmap::IndexMap;
use serde::Serialize;
use std::borrow::Cow;

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
    /// Which symbols are limits themselves, in their order: they are rounded to their safe side.
    #[serde(skip)]
    pub bounds: &'static [Option<Bound>],
    /// Where it comes from.
    #[serde(skip)]
    pub sources: &'static [&'static Citation],
    /// Set where what it gives is a limit itself.
    #[serde(skip)]
    pub gives: Option<Bound>,
    /// Set where its limit judges a part of the question alone.
    #[serde(skip)]
    pub judges: Option<Judges>,
}

/// What a limit judges where it does not judge all that decides.
#[derive(Clone, Copy, Debug)]
pub struct Judges {
    /// In place of "kept".
    pub holds: &'static str,
    /// In place of "over" and "under".
    pub fails: &'static str,
    /// What nobody has judged.
    pub open: &'static str,
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

    /// As calculations and tests print it where it is a limit: rounded to its safe side.
    #[must_use]
    pub fn show_bound(&self, system: System, bound: Option<Bound>) -> String {
        match (self, bound) {
            (Self::Of(dimension, value), Some(bound)) => print_bound(*dimension, *value, system, bound),
            _ => self.show(system),
        }
    }

    /// As a person would say it where it is a limit: rounded to its safe side.
    #[must_use]
    pub fn said_bound(&self, system: System, bound: Option<Bound>) -> String {
        match (self, bound) {
            (Self::Of(dimension, value), Some(bound)) => said_bound(*dimension, *value, system, bound),
            _ => self.said(system),
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

impl Holds {
    /// The side of its bound that is allowed.
    #[must_use]
    pub const fn side(self) -> Bound {
        match self {
            Self::AtMost | Self::Within => Bound::Most,
            Self::AtLeast => Bound::Least,
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
    /// What this figure leaves out, so that it says less than it seems to.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub open: Option<String>,
}

impl Limit {
    /// The bound as documents print it, rounded to its safe side.
    #[must_use]
    pub fn show(&self, system: System) -> String {
        self.bound.show_bound(system, Some(self.holds.side()))
    }
}

/// What a figure is held to as it is entered; the ledger judges it by the value that it enters.
#[derive(Clone, Debug)]
pub struct Hold {
    bound: Amount,
    holds: Holds,
    /// Judged by another rule than the bound alone.
    judged: Option<bool>,
    open: Option<String>,
}

impl Hold {
    fn to(bound: impl Into<Amount>, holds: Holds) -> Self {
        Self { bound: bound.into(), holds, judged: None, open: None }
    }

    /// The same where something else than the bound alone tells whether it is kept.
    #[must_use]
    pub const fn judged(mut self, kept: bool) -> Self {
        self.judged = Some(kept);
        self
    }

    /// The same of a figure that leaves something out.
    #[must_use]
    pub fn leaving_out(mut self, what: Option<String>) -> Self {
        self.open = what;
        self
    }

    /// Whether `value` keeps it, to a rounding. What cannot be compared is not kept.
    fn keeps(&self, value: &Amount) -> bool {
        let (Amount::Of(of, value), Amount::Of(dimension, bound)) = (value, &self.bound) else { return false };
        // Degrees are no share of anything.
        let slack = if *dimension == Dimension::Temperature { 1e-9 } else { 1e-9 * bound.abs() };
        of == dimension
            && match self.holds {
                Holds::AtMost => *value <= bound + slack,
                Holds::AtLeast => *value >= bound - slack,
                Holds::Within => value.abs() <= bound + slack,
            }
    }

    fn judge(self, value: &Amount) -> Limit {
        let kept = self.judged.unwrap_or_else(|| self.keeps(value));
        Limit { bound: self.bound, holds: self.holds, kept, open: self.open }
    }
}

/// A bound from above.
#[must_use]
pub fn at_most(bound: impl Into<Amount>) -> Hold {
    Hold::to(bound, Holds::AtMost)
}

/// A bound from below.
#[must_use]
pub fn at_least(bound: impl Into<Amount>) -> Hold {
    Hold::to(bound, Holds::AtLeast)
}

/// A bound to a difference, to either side.
#[must_use]
pub fn within(bound: impl Into<Amount>) -> Hold {
    Hold::to(bound, Holds::Within)
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
    /// The formula itself.
    #[serde(skip)]
    pub by: &'static Formula,
}

impl Figure {
    /// The value as calculations and tests print it. Beside its limit it never looks as if it broke a limit that it
    /// keeps, or kept one that it breaks.
    #[must_use]
    pub fn show(&self, system: System) -> String {
        let plain = self.value.show_bound(system, self.by.gives);
        let Some(limit) = self.limit.as_ref() else { return plain };
        let (Amount::Of(of, value), Amount::Of(dimension, bound)) = (&self.value, &limit.bound) else { return plain };
        let close = (value - bound).abs() <= 0.01 * bound.abs();
        if of != dimension || !close || self.by.gives.is_some() || limit.holds == Holds::Within {
            return plain;
        }
        let side = match (limit.holds, limit.kept) {
            (Holds::AtMost, true) | (Holds::AtLeast, false) => Bound::Most,
            _ => Bound::Least,
        };
        self.value.show_bound(system, Some(side))
    }

    /// The value as a person would say it.
    #[must_use]
    pub fn said(&self, system: System) -> String {
        self.value.said_bound(system, self.by.gives)
    }

    /// What is left to its limit, rounded down: what may still be added; where it is broken what is too much, up.
    #[must_use]
    pub fn show_margin(&self, system: System) -> Option<String> {
        match self.margin()? {
            Amount::Of(dimension, left) if left < 0.0 => Some(print_bound(dimension, -left, system, Bound::Least)),
            Amount::Of(dimension, left) => Some(print_bound(dimension, left, system, Bound::Most)),
            Amount::Word(word) => Some(word),
        }
    }

    /// Whether it breaks its limit.
    #[must_use]
    pub fn is_broken(&self) -> bool {
        self.limit.as_ref().is_some_and(|l| !l.kept)
    }

    /// What nobody has judged of the question that its limit answers in part; "" where it answers it whole.
    #[must_use]
    pub fn open(&self) -> String {
        let of_formula = self.by.judges.map(|j| j.open.to_owned());
        let own = self.limit.as_ref().and_then(|l| l.open.clone());
        self.limit
            .as_ref()
            .map_or_else(String::new, |_| of_formula.into_iter().chain(own).collect::<Vec<_>>().join("; "))
    }

    /// Whether its limit is kept, in words. "Kept" alone is said of what was judged whole.
    #[must_use]
    pub fn verdict(&self) -> Cow<'static, str> {
        let Some(limit) = &self.limit else { return Cow::Borrowed("") };
        let word = match (self.by.judges, limit.kept, limit.holds) {
            (Some(judges), true, _) => judges.holds,
            (Some(judges), false, _) => judges.fails,
            (None, true, _) => "kept",
            (None, false, Holds::AtMost | Holds::Within) => "over",
            (None, false, Holds::AtLeast) => "under",
        };
        let open = self.open();
        if open.is_empty() || !limit.kept { Cow::Borrowed(word) } else { Cow::Owned(format!("{word}; {open}")) }
    }

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
    /// Enters a figure: by its formula, of its subject, from its inputs, held to a bound where there is one. This is the
    /// one way in.
    pub fn enter(
        &mut self,
        formula: &'static Formula,
        subject: &str,
        value: impl Into<Amount>,
        inputs: Vec<Amount>,
        hold: Option<Hold>,
    ) {
        let value = value.into();
        let limit = hold.map(|hold| hold.judge(&value));
        let id = format!("{subject}.{}", formula.id);
        let subject = subject.to_owned();
        let figure = Figure { id: id.clone(), formula: formula.id, subject, value, inputs, limit, by: formula };
        self.figures.insert(id, figure);
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Amps, Celsius, Volts};

    fn kept(hold: &Hold, value: impl Into<Amount>) -> bool {
        hold.clone().judge(&value.into()).kept
    }

    #[test]
    fn a_bound_may_be_met_exactly_and_not_passed() {
        let (most, least, off) = (at_most(Amps(30.0)), at_least(Amps(30.0)), within(Amps(0.3)));
        assert!(kept(&most, Amps(30.0)) && kept(&most, Amps(-31.0)) && !kept(&most, Amps(30.01)));
        assert!(kept(&least, Amps(30.0)) && !kept(&least, Amps(29.99)));
        assert!(kept(&off, Amps(0.1 + 0.2)) && kept(&off, Amps(-0.3)) && !kept(&off, Amps(-0.31)));
        assert!(kept(&at_least(Celsius(-5.0)), Celsius(-5.0)) && !kept(&at_least(Celsius(0.0)), Celsius(-0.01)));
    }

    #[test]
    fn what_cannot_be_compared_is_not_kept_unless_it_was_judged() {
        let most = at_most(Amps(30.0));
        assert!(!kept(&most, Volts(3.0)) && !kept(&most, "not known".to_owned()));
        assert!(!kept(&at_most("none known".to_owned()), Amps(3.0)));
        assert!(kept(&at_most("none known".to_owned()).judged(true), Amps(3.0)));
    }
}
