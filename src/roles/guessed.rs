//! Which side of a guess is the worse one, field by field: what nobody has looked at is reckoned with there.

/// What is worse than what was guessed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Worse {
    /// A way that is longer loses more voltage and pressure.
    Longer,
    /// A conductor that is thinner carries less and loses more.
    Thinner,
}

/// How much longer than guessed a way may be. Common practice, no source.
pub const LONGER: f64 = 1.25;

/// The fields that have a worse side.
pub const GUESSED: [(&str, Worse); 7] = [
    ("conductor", Worse::Thinner),
    ("output_conductor", Worse::Thinner),
    ("second_conductor", Worse::Thinner),
    ("run", Worse::Longer),
    ("output_run", Worse::Longer),
    ("second_run", Worse::Longer),
    ("length", Worse::Longer),
];
