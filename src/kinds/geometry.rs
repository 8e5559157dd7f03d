//! `[role.envelope]` of a kind: how far it stands out of the vehicle, its own size, and what it sweeps when it opens.

use serde::{Deserialize, Serialize};

/// A movement out of the place a component sits in.
#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Sweep {
    /// Length field: how far.
    pub by: String,
    /// Choice field: which way (`inward`, `outward`, `forward`, `rearward`, `left`, `right`).
    #[serde(default)]
    pub direction: Option<String>,
    /// It moves outside the body, to the side it hangs on.
    #[serde(default)]
    pub outside: bool,
}

/// When a component that stands behind the van keeps the rear doors shut: it does not swing away with them.
#[derive(Clone, Debug, Default, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Bars {
    /// Choice field that says how it is held.
    #[serde(default)]
    pub field: Option<String>,
    /// Its words that put it in front of the doors; none: it always swings with them.
    #[serde(default)]
    pub is: Vec<String>,
}

/// `[role.envelope]` of a kind. All but `opens`, `bars`, `size` and `built_in` name a length
/// field.
#[derive(Clone, Debug, Default, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Envelope {
    /// Highest point above the roof skin, loaded.
    #[serde(default)]
    pub above_roof: Option<String>,
    /// The same with nothing on it.
    #[serde(default)]
    pub above_roof_empty: Option<String>,
    /// How far it stands out behind the rear end, loaded.
    #[serde(default)]
    pub behind: Option<String>,
    /// The same folded.
    #[serde(default)]
    pub behind_empty: Option<String>,
    /// How far it stands out ahead of the front end.
    #[serde(default)]
    pub ahead: Option<String>,
    /// How far it stands out beyond the body side.
    #[serde(default)]
    pub beside: Option<String>,
    /// Lowest point above the ground.
    #[serde(default)]
    pub ground: Option<String>,
    /// How much it raises the body.
    #[serde(default)]
    pub lift: Option<String>,
    /// Its own size: three length fields.
    #[serde(default)]
    pub size: Vec<String>,
    /// It goes into a bay that is built round it: its outer size is asked for.
    #[serde(default)]
    pub built_in: bool,
    /// What it sweeps when it opens.
    #[serde(default)]
    pub opens: Option<Sweep>,
    /// When it keeps the rear doors shut.
    #[serde(default)]
    pub bars: Option<Bars>,
}

impl Envelope {
    /// The length fields it names, with the setting that names each.
    pub(super) fn lengths(&self) -> impl Iterator<Item = (&'static str, &str)> {
        let single = [
            ("above_roof", &self.above_roof),
            ("above_roof_empty", &self.above_roof_empty),
            ("behind", &self.behind),
            ("behind_empty", &self.behind_empty),
            ("ahead", &self.ahead),
            ("beside", &self.beside),
            ("ground", &self.ground),
            ("lift", &self.lift),
        ];
        let single = single.into_iter().filter_map(|(key, field)| Some((key, field.as_deref()?)));
        single.chain(self.size.iter().map(|field| ("size", field.as_str())))
    }
}
