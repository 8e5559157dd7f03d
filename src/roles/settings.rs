//! Settings of roles: what a kind says of its part once for all components, beside the fields.

use super::{Block, Contract};

type Setting = (&'static str, &'static str);

const ELECTRIC: &[Setting] = &[
    ("network", "Network it is fed from: `dc`, `ac`, `pv` or `start`."),
    ("second", "Network of a second supply with a circuit of its own: the second of `fed_from`."),
    ("continuous", "It runs three hours or more at a stretch."),
    ("critical", "It is held to the tighter voltage-drop limit."),
    ("long_start", "Its `start_current` lasts a minute or more: fuse and cable are laid out for it."),
    ("negative", "A negative can end on it, or not, other than its role tells."),
    (
        "made_for",
        "Lowest and highest nominal voltage of the DC networks its parts are made for, in V: `[12, 24]`; left out, 12 V alone.",
    ),
    ("symbol", "What a one-line diagram shows: `lamp`, `motor`, `heater`, `socket`, `dimmer` or `relay`."),
    (
        "at",
        "Part of the day for its `hours`: `always`, `waking`, `day`, `evening`, `night`, `meals`, `washing`, `hot` or `driving`.",
    ),
    ("follows", "What its use follows: `cold-box`, `heating`, `cooling` or `frost`."),
    ("faces", "Which way the planes of an array face: `any` or `equator`."),
];

const SLEEPING: &[Setting] =
    &[("sleeps", "Count field with the people who sleep there."), ("bedding", "Mass field of what lies on it.")];

const BURNER: &[Setting] = &[("burns", "Fuel it burns, where no field `fuel` tells.")];

const MASS: &[Setting] = &[
    ("none", "It brings no mass: part of the vehicle as it came, or work rather than a thing."),
    ("light", "A few kilograms at most: left out without a finding where the spec gives no mass."),
    ("own", "Mass field with its own mass, where the common `mass` is not given."),
    (
        "holds",
        "What it holds, a list of `what` (`fixed`, `fresh-water`, `waste`, `people`, `animals`, `cargo`, `sport`) with `mass` (fields) or `volume` (a field), and `times` (a count field).",
    ),
    ("contents", "Text field with what it is for."),
    (
        "rating",
        "What it may hold: `of` (`carrier`, `tray`, `storage`), `limit` and `parked` (mass fields), `each_side`, `own`.",
    ),
    (
        "held_by",
        "Parts it rides on where `on` is not given: those that bear `by`, by the word `is` of the choice field `field`.",
    ),
    ("bears", "What it is to those that ride on it: the word of their `held_by`."),
    ("on_roof", "The roof carries it: always, or where the choice field `field` is one of the words `is`."),
];

const ENVELOPE: &[Setting] = &[
    ("above_roof", "Length field: highest point above the roof skin, loaded."),
    ("above_roof_empty", "The same with nothing on it."),
    ("behind", "Length field: how far it stands out behind the rear end, loaded."),
    ("behind_empty", "The same folded."),
    ("ahead", "Length field: how far it stands out ahead of the front end."),
    ("beside", "Length field: how far it stands out beyond the body side."),
    ("ground", "Length field: lowest point above the ground."),
    ("lift", "Length field: how much it raises the body."),
    ("size", "Three length fields: its own size."),
    ("built_in", "It goes into a bay that is built round it: its outer size is asked for."),
    ("opens", "What it sweeps: `by` (a length field), `direction` (a choice field), `outside`."),
    ("bars", "When it keeps the rear doors shut: the choice field `field` is one of the words `is`."),
];

const EVIDENCE: &[Setting] = &[
    ("field", "Text field with the number of the certificate, approval or report."),
    ("answers_for", "What it answers for, as a clause."),
];

/// A post that every part of a role has: its id, and what a conductor there carries.
type RolePost = (&'static str, &'static str);

impl Contract {
    /// Posts that every one of the role has, where the role itself tells them: of what a part has several of.
    #[must_use]
    pub const fn posts(&self) -> &'static [RolePost] {
        match self.id.as_bytes() {
            b"switch" => &[("in", "positive"), ("out", "switched-positive")],
            _ => &[],
        }
    }

    /// Its settings, each with what it says.
    #[must_use]
    pub const fn settings(&self) -> &'static [(&'static str, &'static str)] {
        match (self.block, self.id.as_bytes()) {
            (Block::Electric, _) => ELECTRIC,
            (_, b"sleeping") => SLEEPING,
            (_, b"burner") => BURNER,
            (_, b"mass") => MASS,
            (_, b"envelope") => ENVELOPE,
            (_, b"evidence") => EVIDENCE,
            _ => &[],
        }
    }
}
