//! What nobody has looked at is reckoned with at its worse side: a way longer than guessed, a conductor one size thinner.

use super::Scope;
use super::worked_on::ASSUMED;
use crate::fields::{Record, Value};
use crate::roles::{Common, GUESSED, LONGER, Worse};
use crate::spec::Spec;
use crate::tables::conductor_series::Series;
use crate::units::{ConductorSize, System, print};

/// Puts what is worse in the place of each guess of a part that was there; the guess itself is kept to be told.
pub fn reckon_worse(spec: &mut Spec) {
    for (id, component) in &mut spec.components {
        if !matches!(Scope::of(&component.record), Scope::Existing | Scope::Altered) {
            continue;
        }
        let known = Common::of(&component.record).known;
        for (field, worse) in GUESSED.iter().filter(|(field, _)| known.word(field) == Some(ASSUMED)) {
            if let Some(guess) = replace(&mut component.record, field, *worse) {
                spec.guesses.entry(id.clone()).or_default().insert((*field).to_owned(), guess);
            }
        }
    }
}

/// Puts the worse value in, and returns the guess as it was written; nothing where the spec gives none.
fn replace(record: &mut Record, field: &str, worse: Worse) -> Option<String> {
    let value = &mut record.fields.get_mut(field).filter(|entry| entry.given)?.value;
    match (value, worse) {
        (Value::Quantity(length), Worse::Longer) => {
            let guess = length.written.clone();
            length.value *= LONGER;
            length.written = print(length.dimension, length.value, length.system.unwrap_or(System::Metric));
            Some(guess)
        }
        (Value::Conductor(size), Worse::Thinner) => {
            let guess = size.to_string();
            *size = thinner(*size);
            Some(guess)
        }
        _ => None,
    }
}

/// The next size that is stocked and thinner; the same where there is none.
fn thinner(size: ConductorSize) -> ConductorSize {
    let below = |other: &&ConductorSize| other.area().0 < size.area().0 * (1.0 - 1e-9);
    Series::of(size).stocked().iter().rev().find(below).copied().unwrap_or(size)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// IEC 60228 class 5 and ASTM B258: the stocked sizes in their order.
    #[test]
    fn the_next_thinner_size_is_one_that_is_stocked() {
        for (size, below) in [(2.5, 1.5), (16.0, 10.0), (1.5, 1.0), (0.5, 0.5)] {
            assert_eq!(thinner(ConductorSize::Metric(size)), ConductorSize::Metric(below), "{size}");
        }
        assert_eq!(thinner(ConductorSize::Awg(10)), ConductorSize::Awg(12));
    }
}
