//! A reading of a task: what is measured, what is expected and how far it may be off, as data.

use super::fault::Wrong;
use super::measured::{Measured, any_quantity};
use super::{Condition, FACTS, FIGURES};
use crate::fields::{Declarations, FieldType};
use crate::units::Dimension;
use serde::{Deserialize, Deserializer, Serialize};

/// Figures that are currents of a circuit: no test lets more flow than what protects it carries, whatever the tolerance.
const CARRIED: [&str; 2] = ["load_current", "test_current"];

/// The figure that is the rating of what protects a part's circuit.
const CARRIES: &str = "fuse_rating";

/// A value of a reading: written, or that of a field or figure.
#[derive(Clone, Debug, PartialEq)]
pub enum Term {
    /// A value with its unit, or a count.
    Value(String),
    /// A field of the kind or a figure of the build.
    Name(String),
    /// One field or figure times a count: the voltage of modules in series.
    Times(String, String),
    /// A share of a field or figure.
    Share(f64, String),
}

impl Term {
    fn read(text: &str) -> Self {
        let text = text.trim();
        if let Some((name, times)) = text.split_once(" × ") {
            return Self::Times(name.trim().to_owned(), times.trim().to_owned());
        }
        if let Some((share, name)) = text.split_once(" % of ")
            && let Ok(share) = share.parse::<f64>()
        {
            return Self::Share(share / 100.0, name.trim().to_owned());
        }
        let named = text.starts_with(|c: char| c.is_ascii_alphabetic());
        if named { Self::Name(text.to_owned()) } else { Self::Value(text.to_owned()) }
    }

    /// Fields and figures it names.
    fn names(&self) -> impl Iterator<Item = &str> {
        let (one, two) = match self {
            Self::Value(_) => (None, None),
            Self::Name(name) | Self::Share(_, name) => (Some(name), None),
            Self::Times(name, times) => (Some(name), Some(times)),
        };
        one.into_iter().chain(two).map(String::as_str)
    }

    /// As a text of the kind, for the documents.
    fn text(&self) -> String {
        match self {
            Self::Value(value) => value.clone(),
            Self::Name(name) => format!("{{{{ {name} }}}}"),
            Self::Times(name, times) => {
                format!("{{{{ {name} }}}}{{% if {times} != \"1\" %}} × {{{{ {times} }}}}{{% endif %}}")
            }
            Self::Share(share, name) => format!("{} % of {{{{ {name} }}}}", share * 100.0),
        }
    }

    /// Its figure, in the inside unit; `told` is what the documents print for a name.
    fn figure(&self, measured: Measured, told: &dyn Fn(&str) -> String) -> Option<f64> {
        match self {
            Self::Value(value) => measured.figure(value),
            Self::Name(name) => measured.figure(&told(name)),
            Self::Times(name, times) => Some(measured.figure(&told(name))? * told(times).parse::<f64>().ok()?),
            Self::Share(share, name) => Some(measured.figure(&told(name))? * share),
        }
    }
}

impl<'de> Deserialize<'de> for Term {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        #[derive(Deserialize)]
        #[serde(untagged)]
        enum Written {
            Count(i64),
            Text(String),
        }
        Ok(match Written::deserialize(deserializer)? {
            Written::Count(count) => Self::Value(count.to_string()),
            Written::Text(text) => Self::read(&text),
        })
    }
}

/// One term, or several of which the first counts that the build gives.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Terms(Vec<Term>);

impl<'de> Deserialize<'de> for Terms {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        #[derive(Deserialize)]
        #[serde(untagged)]
        enum Written {
            One(Term),
            Several(Vec<Term>),
        }
        Ok(Self(match Written::deserialize(deserializer)? {
            Written::One(term) => vec![term],
            Written::Several(terms) => terms,
        }))
    }
}

impl Terms {
    const fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// As a text of the kind: the first that the build gives, else `last`.
    fn text(&self, before: &str, last: &str) -> String {
        self.0.iter().rfold(last.to_owned(), |rest, term| {
            let own = format!("{before}{}", term.text());
            match term.names().next() {
                None => own,
                Some(_) if rest.is_empty() => own,
                Some(name) => format!("{{% if {name} %}}{own}{{% else %}}{rest}{{% endif %}}"),
            }
        })
    }

    fn figure(&self, measured: Measured, told: &dyn Fn(&str) -> String) -> Option<f64> {
        self.0.iter().find_map(|term| term.figure(measured, told))
    }
}

/// Figures that a reading takes as good, both ends included, in the inside unit.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Limits {
    /// Smallest.
    pub low: Option<f64>,
    /// Largest.
    pub high: Option<f64>,
}

/// A reading to take, with what to expect. What stands behind `expect` counts where the build does not give it.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reading {
    /// Id, unique in the kind but for readings of which `when` lets one stand.
    pub id: String,
    /// What is read.
    pub what: String,
    /// What it is a figure of.
    #[serde(rename = "type")]
    pub measured: Measured,
    /// Field or figure that is expected; of several the first that the build gives.
    #[serde(default)]
    pub expect: Terms,
    /// Value that is expected.
    #[serde(default)]
    pub is: Terms,
    /// Least that is good.
    #[serde(default)]
    pub at_least: Terms,
    /// Most that is good.
    #[serde(default)]
    pub at_most: Terms,
    /// What is expected, in words.
    #[serde(default)]
    pub words: String,
    /// How far it may be off, both ways.
    #[serde(default)]
    pub within: Option<Term>,
    /// How far it may lie above.
    #[serde(default)]
    pub above: Option<Term>,
    /// How far it may lie below.
    #[serde(default)]
    pub below: Option<Term>,
    /// Reading of the same task that it stands for: a voltage at the current that was measured.
    #[serde(default)]
    pub with: Option<String>,
    /// Handover can't be without it, whatever else is left open.
    #[serde(default)]
    pub essential: bool,
    /// What must be so for it to exist.
    #[serde(default)]
    pub when: Option<Condition>,
    /// What the circuits must bring for it to exist.
    #[serde(default)]
    pub mains: Option<MainsAsked>,
}

/// What the circuits say of mains at a part, where a reading stands only then.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum MainsAsked {
    /// A source brings it there.
    Arrives,
    /// Another source stands in the van that neither feeds the part nor is fed by it.
    Beside,
}

impl Reading {
    /// A reading that a spec itself takes, by what stands in its fields: values alone, since it names no field of a kind.
    ///
    /// # Errors
    /// The field that is at fault, and what is wrong.
    pub fn of_spec<'t>(said: impl Iterator<Item = (&'t str, &'t str)>) -> Result<Self, (&'static str, String)> {
        let said: toml::Table = said.map(|(field, text)| (field.to_owned(), text.into())).collect();
        let measured = said.get("type").cloned().unwrap_or_else(|| FieldType::Text.word().into());
        let said: toml::Table = said.into_iter().chain([("type".to_owned(), measured)]).collect();
        let reading = Self::deserialize(said).map_err(|e| ("id", e.message().trim().to_owned()))?;
        if reading.is_in_words() && reading.words.is_empty() {
            return Err(("id", format!("reading `{}` says nothing of what is good", reading.id)));
        }
        let spreads = [&reading.within, &reading.above, &reading.below].into_iter().flatten();
        let terms = [&reading.expect, &reading.is, &reading.at_least, &reading.at_most];
        if let Some(name) = terms.iter().flat_map(|t| &t.0).chain(spreads).find_map(|term| term.names().next()) {
            return Err(("id", format!("reading `{}` takes values, and `{name}` is none", reading.id)));
        }
        match reading.fault(&Declarations::new(), &[]) {
            Some(fault) => Err(fault),
            None => Ok(reading),
        }
    }

    /// Whether what is expected is said in words alone.
    #[must_use]
    pub const fn is_in_words(&self) -> bool {
        self.expect.is_empty() && self.is.is_empty() && self.at_least.is_empty() && self.at_most.is_empty()
    }

    /// What is expected, as a text of the kind.
    #[must_use]
    pub fn expected(&self) -> String {
        let ahead = |terms: &Terms| terms.0.first().map_or_else(String::new, |t| format!("{} or more ahead", t.text()));
        let limit = if self.measured == Measured::Day {
            ahead(&self.at_least)
        } else if self.at_most.is_empty() {
            self.at_least.text("≥ ", &self.words)
        } else {
            self.at_most.text("≤ ", &self.words)
        };
        self.expect.text("", &self.is.text("", &limit))
    }

    /// How far it may be off, as a text of the kind; nothing where a limit stands in for what is expected.
    #[must_use]
    pub fn tolerance(&self) -> String {
        let all = [(&self.within, "± "), (&self.above, "+ "), (&self.below, "− ")];
        let own = all.iter().find_map(|(term, sign)| term.as_ref().map(|t| format!("{sign}{}", t.text())));
        let own = own.unwrap_or_default();
        let limited = !self.at_least.is_empty() || !self.at_most.is_empty();
        match self.expect.0.first().and_then(|t| t.names().next()) {
            Some(name) if limited && !own.is_empty() => format!("{{% if {name} %}}{own}{{% endif %}}"),
            _ => own,
        }
    }

    /// How far it may be off for one part: where what protects its circuit carries less than the top of the band, no more
    /// than that. `told` is what the documents print for a field or figure.
    #[must_use]
    pub fn tolerance_of(&self, told: &dyn Fn(&str) -> String) -> String {
        let cut = self.within.as_ref().and_then(|within| {
            let measured = self.measured;
            let most = self.carried(measured, told)?;
            let centre = self.expect.figure(measured, told)?;
            let top = centre + spread(measured, within, centre, told)?;
            (most < top).then(|| within.text())
        });
        cut.map_or_else(|| self.tolerance(), |within| format!("− {within}, ≤ {{{{ {CARRIES} }}}}"))
    }

    /// The most that may flow in it, where it expects the current of a circuit.
    fn carried(&self, measured: Measured, told: &dyn Fn(&str) -> String) -> Option<f64> {
        let expected = self.expect.0.first().and_then(|term| term.names().next());
        expected.filter(|name| CARRIED.contains(name)).and_then(|_| measured.figure(&told(CARRIES)))
    }

    /// Figures that are good; `None` where a person judges. `told` is what the documents print for a field or figure:
    /// who reads the paper judges by that, so a record is held against it and not against digits nobody sees.
    #[must_use]
    pub fn limits(&self, told: &dyn Fn(&str) -> String) -> Option<Limits> {
        let measured = self.measured(told);
        let centre = self.expect.figure(measured, told).or_else(|| self.is.figure(measured, told));
        let Some(centre) = centre else {
            let of = |terms: &Terms| terms.figure(measured, told);
            let limits = Limits { low: of(&self.at_least), high: of(&self.at_most) };
            return (limits != Limits::default()).then_some(limits);
        };
        let spread = |term: &Option<Term>| term.as_ref().map(|t| spread(measured, t, centre, told));
        let (low, high) = match (spread(&self.within), spread(&self.below), spread(&self.above)) {
            (Some(both), _, _) => (both?, both?),
            (None, None, None) if measured == Measured::Count => (0.0, 0.0),
            // Any other bare figure is only a hint.
            (None, None, None) => return None,
            (None, below, above) => (below.unwrap_or(Some(0.0))?, above.unwrap_or(Some(0.0))?),
        };
        let top = centre + high;
        let carried = self.within.as_ref().and_then(|_| self.carried(measured, told));
        Some(Limits { low: Some(centre - low), high: Some(carried.map_or(top, |most| top.min(most))) })
    }

    /// What it is a figure of: where that is a text of the kind, what that text says.
    #[must_use]
    pub fn measured(&self, told: &dyn Fn(&str) -> String) -> Measured {
        let expected = self.expect.0.iter().filter(|_| self.measured == Measured::Words).find_map(|term| match term {
            Term::Name(name) => Some(told(name)),
            _ => None,
        });
        let dimension = expected.and_then(|text| any_quantity(&text));
        dimension.map_or(self.measured, Measured::Of)
    }

    /// Whether no component takes both.
    pub(super) fn excludes(&self, other: &Self) -> bool {
        self.when.as_ref().zip(other.when.as_ref()).is_some_and(|(one, two)| one.excludes(two))
    }

    /// What is wrong with it for a kind with these fields: the key, and what.
    pub(super) fn fault(&self, fields: &Declarations, of_task: &[Self]) -> Option<Wrong> {
        let lists =
            [("expect", &self.expect), ("is", &self.is), ("at_least", &self.at_least), ("at_most", &self.at_most)];
        if self.is_in_words() && self.words.is_empty() {
            return Some(("id", format!("reading `{}` needs expect, is, at_least, at_most or words", self.id)));
        }
        let spreads = [("within", &self.within), ("above", &self.above), ("below", &self.below)];
        let terms = lists.iter().flat_map(|(key, terms)| terms.0.iter().map(move |t| (*key, t, false)));
        let spreads = spreads.into_iter().filter_map(|(key, t)| Some((key, t.as_ref()?, true)));
        for (key, term, is_spread) in terms.chain(spreads) {
            if let Some(message) = self.term_fault(fields, key, term, is_spread) {
                return Some((key, message));
            }
        }
        if let Some(with) = self.with.as_ref().filter(|w| !of_task.iter().any(|r| r.id == **w && r.id != self.id)) {
            return Some(("with", format!("`with` names `{with}`, which is no other reading of this task")));
        }
        self.when.as_ref().and_then(|c| c.fault(fields)).map(|message| ("when", message))
    }

    fn term_fault(&self, fields: &Declarations, key: &str, term: &Term, is_spread: bool) -> Option<String> {
        if let Term::Value(value) = term {
            let none = |_: &str| String::new();
            let good = if is_spread {
                spread(self.measured, term, 1.0, &none).is_some()
            } else {
                key != "expect" && self.measured.figure(value).is_some()
            };
            return (!good).then(|| {
                let wanted =
                    if key == "expect" { "a field or figure by name".to_owned() } else { self.measured.wanted() };
                format!("`{key} = \"{value}\"` should be {wanted}")
            });
        }
        for (place, name) in term.names().enumerate() {
            let figure = FIGURES.iter().find(|(figure, _)| *figure == name).map(|(_, dimension)| *dimension);
            let there = match (fields.get(name).map(|f| f.ty), figure) {
                (Some(FieldType::Quantity(dimension)), _) | (None, Some(dimension)) => Measured::Of(dimension),
                (Some(FieldType::Count), _) => Measured::Count,
                (Some(FieldType::Text), _) => Measured::Words,
                (None, None) if FACTS.contains(&name) => {
                    return Some(format!("`{key}` names `{name}`, which is a text and no figure"));
                }
                (None, None) => {
                    return Some(format!("`{key}` names `{name}`, which is no field of this kind and no figure"));
                }
                (Some(ty), _) => return Some(format!("`{key}` names `{name}`, which is {} and no figure", ty.word())),
            };
            let fits = match (place, is_spread) {
                (1, _) => there == Measured::Count,
                (_, false) => there == self.measured,
                (_, true) => {
                    let kelvins = Measured::Of(Dimension::TemperatureDifference);
                    there == self.measured
                        || there == Measured::Of(Dimension::Ratio)
                        || there == kelvins && self.measured == Measured::Of(Dimension::Temperature)
                }
            };
            if !fits {
                return Some(format!(
                    "`{key}` names `{name}`, which is {}; the reading is {}",
                    there.word(),
                    self.measured.word()
                ));
            }
        }
        None
    }
}

/// How far a tolerance reaches: in what is measured, in kelvins, or as a share of what is expected.
fn spread(measured: Measured, term: &Term, centre: f64, told: &dyn Fn(&str) -> String) -> Option<f64> {
    let of = |dimension| term.figure(Measured::Of(dimension), told);
    let own = match measured {
        Measured::Of(Dimension::Temperature) => of(Dimension::TemperatureDifference),
        measured => term.figure(measured, told),
    };
    own.or_else(|| of(Dimension::Ratio).map(|share| centre.abs() * share))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reading(toml: &str) -> Reading {
        toml::from_str(&format!("id = \"x\"\nwhat = \"X\"\n{toml}")).expect("a reading")
    }

    fn limits(toml: &str) -> Option<(Option<f64>, Option<f64>)> {
        let told = |name: &str| match name {
            "rating" => "8 A".to_owned(),
            "load_current" => "45 A".to_owned(),
            "fuse_rating" => "50 A".to_owned(),
            "test_volts" => "12.41 V (0.16 V below the source)".to_owned(),
            "voc" => "18.2 V".to_owned(),
            "series" => "2".to_owned(),
            "step" => "25 %".to_owned(),
            _ => String::new(),
        };
        let round = |v: f64| (v * 1e6).round() / 1e6;
        reading(toml).limits(&told).map(|l| (l.low.map(round), l.high.map(round)))
    }

    #[test]
    fn limits_follow_from_what_is_expected() {
        let both = |low, high| Some((Some(low), Some(high)));
        assert_eq!(limits("type = \"voltage\"\nis = \"13.4 V\"\nwithin = \"0.2 V\""), both(13.2, 13.6));
        assert_eq!(limits("type = \"voltage\"\nexpect = \"test_volts\"\nwithin = \"0.3 V\""), both(12.11, 12.71));
        assert_eq!(limits("type = \"voltage\"\nexpect = \"voc × series\"\nwithin = \"10 %\""), both(32.76, 40.04));
        assert_eq!(limits("type = \"current\"\nat_least = \"50 % of rating\""), Some((Some(4.0), None)));
        assert_eq!(limits("type = \"current\"\nat_most = [\"none\", \"1 A\"]"), Some((None, Some(1.0))));
        assert_eq!(
            limits("type = \"current\"\nexpect = \"none\"\nwithin = \"9 %\"\nat_most = \"1 A\""),
            Some((None, Some(1.0)))
        );
        assert_eq!(limits("type = \"current\"\nis = \"0 A\"\nabove = \"10 mA\""), both(0.0, 0.01));
        assert_eq!(limits("type = \"ratio\"\nis = \"100 %\"\nbelow = \"step\""), both(0.75, 1.0));
        assert_eq!(limits("type = \"ratio\"\nis = \"50 %\"\nwithin = \"10 %\""), both(0.4, 0.6));
        assert_eq!(limits("type = \"temperature\"\nis = \"4 °C\"\nwithin = \"3 K\""), both(1.0, 7.0));
        assert_eq!(limits("type = \"count\"\nis = 0"), both(0.0, 0.0));
        assert_eq!(limits("type = \"current\"\nis = \"2 A\""), None, "a bare figure is a hint");
        assert_eq!(
            limits("type = \"current\"\nexpect = \"load_current\"\nwithin = \"30 %\""),
            both(31.5, 50.0),
            "no test lets more flow than the fuse carries"
        );
        assert_eq!(limits("type = \"mass\"\nwords = \"half of the total\"\nwithin = \"4 %\""), None);
    }

    #[test]
    fn no_current_is_asked_for_that_a_fuse_does_not_carry() {
        let read = reading("type = \"current\"\nexpect = \"load_current\"\nwithin = \"30 %\"");
        let with = |fuse: &'static str| {
            move |name: &str| if name == "fuse_rating" { fuse.to_owned() } else { "45 A".to_owned() }
        };
        assert_eq!(read.tolerance_of(&with("45 A")), "− 30 %, ≤ {{ fuse_rating }}");
        assert_eq!(read.tolerance_of(&with("80 A")), "± 30 %");
        assert_eq!(read.tolerance_of(&with("")), "± 30 %");
    }

    #[test]
    fn texts_say_what_the_documents_print() {
        let texts = |toml: &str| (reading(toml).expected(), reading(toml).tolerance());
        let pair = |a: &str, b: &str| (a.to_owned(), b.to_owned());
        assert_eq!(texts("type = \"voltage\"\nis = \"0 V\"\nabove = \"0.1 V\""), pair("0 V", "+ 0.1 V"));
        assert_eq!(
            texts("type = \"flow\"\nexpect = [\"a\", \"b\"]\nwithin = \"25 %\""),
            pair("{% if a %}{{ a }}{% else %}{{ b }}{% endif %}", "± 25 %")
        );
        assert_eq!(
            texts("type = \"length\"\nexpect = \"a\"\nwords = \"none\"\nwithin = \"9 mm\""),
            pair("{% if a %}{{ a }}{% else %}none{% endif %}", "± 9 mm")
        );
        assert_eq!(
            texts("type = \"current\"\nexpect = \"a\"\nat_most = \"1 A\"\nwithin = \"9 %\""),
            pair("{% if a %}{{ a }}{% else %}≤ 1 A{% endif %}", "{% if a %}± 9 %{% endif %}")
        );
        assert_eq!(
            texts("type = \"current\"\nat_most = [\"a\", \"1 A\"]"),
            pair("{% if a %}≤ {{ a }}{% else %}≤ 1 A{% endif %}", "")
        );
        assert_eq!(texts("type = \"date\"\nat_least = \"8 years\""), pair("8 years or more ahead", ""));
    }
}
