//! How far a part stands out, its own size and what it sweeps: the fields that its kind's `[role.envelope]` names.

use crate::fields::{Choice, Field, Record};
use crate::kinds::Envelope;
use crate::units::Metres;

/// Measures of a part; what its kind does not name says nothing.
#[derive(Clone, Debug)]
pub struct Reach {
    /// Highest point above the roof skin, loaded.
    pub above_roof: Field<Metres>,
    /// The same with nothing on it.
    pub above_roof_empty: Field<Metres>,
    /// How far it stands out behind the rear end, loaded.
    pub behind: Field<Metres>,
    /// The same folded.
    pub behind_empty: Field<Metres>,
    /// How far it stands out ahead of the front end.
    pub ahead: Field<Metres>,
    /// How far it stands out beyond the body side.
    pub beside: Field<Metres>,
    /// Lowest point above the ground.
    pub ground: Field<Metres>,
    /// How much it raises the body.
    pub lift: Field<Metres>,
    /// Its own three measures; empty where its kind has none.
    pub size: Vec<Field<Metres>>,
    /// It goes into a bay that is built round it.
    pub built_in: bool,
    /// What it sweeps when it opens.
    pub opens: Option<Opening>,
    /// It says where it hangs or how low it reaches.
    pub hangs_low: bool,
    /// Where its kind tells: whether it keeps the rear doors shut, since it does not swing away with them.
    pub bars_rear: Option<bool>,
}

/// A movement out of the place a part sits in.
#[derive(Clone, Debug)]
pub struct Opening {
    /// How far.
    pub by: Field<Metres>,
    /// Which way.
    pub direction: Field<Choice>,
    /// It moves outside the body, to the side it hangs on.
    pub outside: bool,
}

impl Reach {
    /// The measures of a component with these fields.
    pub(super) fn of(envelope: &Envelope, record: &Record) -> Self {
        let metres = |name: &Option<String>| Field::named(record, name.as_deref());
        let opens = envelope.opens.as_ref().map(|sweep| Opening {
            by: Field::at(record, &sweep.by),
            direction: Field::named(record, sweep.direction.as_deref()),
            outside: sweep.outside,
        });
        Self {
            above_roof: metres(&envelope.above_roof),
            above_roof_empty: metres(&envelope.above_roof_empty),
            behind: metres(&envelope.behind),
            behind_empty: metres(&envelope.behind_empty),
            ahead: metres(&envelope.ahead),
            beside: metres(&envelope.beside),
            ground: metres(&envelope.ground),
            lift: metres(&envelope.lift),
            size: envelope.size.iter().map(|name| Field::at(record, name)).collect(),
            built_in: envelope.built_in,
            opens,
            hangs_low: envelope.ground.is_some() || envelope.behind.is_some() || envelope.ahead.is_some(),
            bars_rear: envelope.bars.as_ref().map(|bars| {
                let held = bars.field.as_ref().and_then(|name| record.text(name));
                held.is_some_and(|word| bars.is.iter().any(|w| w == word))
            }),
        }
    }
}
