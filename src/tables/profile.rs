//! Rule profiles: what a build is held to under `rules = "us"` or `"eu"`. Data in `templates/rules/*.toml`.

use super::ampacity_rule::AmpacityRule;
use super::breaker_curve::Curve;
use super::conductor_series::Series;
use super::fuse_series::Family;
use super::insulation::Insulation;
use super::profile_read as read;
use crate::catalogue::Catalogue;
use crate::units::{Amps, Celsius, ConductorSize, Metres, Ratio, Volts};
use indexmap::IndexMap;
use serde::{Deserialize, Serialize};
use std::fmt;

/// One set of rules.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Profile {
    /// The word a spec uses.
    pub id: String,
    /// What documents call it.
    pub name: String,
    /// Series conductors are chosen from.
    pub series: Series,
    /// Tables that say what a conductor may carry.
    pub ampacity: AmpacityRule,
    /// Wire that ampacities assume where the spec names no other insulation.
    pub wire: WireTypes,
    /// Smallest conductor from equipment cases to the chassis.
    #[serde(deserialize_with = "read::size")]
    pub equipment_bond: ConductorSize,
    /// Smallest conductors for mechanical strength.
    pub mechanical_minimum: MechanicalMinimum,
    /// Air temperatures conductors are rated at.
    pub ambient: Ambient,
    /// Factor on a load that runs three hours or more.
    pub continuous_factor: f64,
    /// Voltage-drop limits.
    pub drop: DropLimits,
    /// Whether the bundling factor applies below 50 V as well.
    pub bundle_at_all_voltages: bool,
    /// Share of its rating in a bundle below which a conductor is left out of the count of the others.
    pub idle: IdleShare,
    /// Largest fuse as a share of the corrected ampacity.
    #[serde(deserialize_with = "read::ratio")]
    pub fuse_cap: Ratio,
    /// Alternating current.
    pub ac: AcRules,
    /// How far from its source a conductor may run unprotected.
    pub reach: Reach,
    /// Colours of conductors.
    pub colours: Colours,
    /// Why each value is as it is, by its name.
    pub basis: IndexMap<String, String>,
}

/// Wire by what it carries.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WireTypes {
    /// Direct current.
    pub dc: WireType,
    /// Alternating current of the mains.
    pub ac: WireType,
}

/// A type of wire as it is bought.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WireType {
    /// The least class of its insulation.
    #[serde(deserialize_with = "read::insulation")]
    pub insulation: Insulation,
    /// Names under which such wire is sold, with their standards.
    pub sold_as: String,
    /// What looks like it and does not do.
    pub not: String,
    /// What that stands.
    #[serde(deserialize_with = "read::celsius")]
    pub not_stands: Celsius,
}

/// How little a conductor may carry to be left out of the count of a bundle.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct IdleShare {
    /// Share of its rating among all the others.
    #[serde(deserialize_with = "read::ratio")]
    pub share: Ratio,
    /// Nominal voltage from which all count.
    #[serde(deserialize_with = "read::volts")]
    pub below: Volts,
}

/// Smallest conductors for mechanical strength.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MechanicalMinimum {
    /// A conductor by itself.
    #[serde(deserialize_with = "read::size")]
    pub separate: ConductorSize,
    /// Inside a sheath with others.
    #[serde(deserialize_with = "read::size")]
    pub sheathed: ConductorSize,
}

/// Air temperatures conductors are rated at.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Ambient {
    /// Living space.
    #[serde(deserialize_with = "read::celsius")]
    pub cabin: Celsius,
    /// Engine space.
    #[serde(deserialize_with = "read::celsius")]
    pub engine_space: Celsius,
}

/// Voltage-drop limits as a share of the nominal voltage.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DropLimits {
    /// Feeders, electronics, and all that must run.
    #[serde(deserialize_with = "read::ratio")]
    pub critical: Ratio,
    /// Everything else.
    #[serde(deserialize_with = "read::ratio")]
    pub other: Ratio,
}

/// Alternating current.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AcRules {
    /// Nominal voltage.
    #[serde(deserialize_with = "read::volts")]
    pub volts: Volts,
    /// Frequency in hertz.
    pub frequency: f64,
    /// Family of the breakers.
    #[serde(deserialize_with = "read::family")]
    pub breaker: Family,
    /// Curve of breakers of which the spec tells none; `None` where the rules know no curves.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub curve: Option<Curve>,
    /// Poles of the breakers of ways of which the spec tells none.
    pub way_poles: u32,
    /// Smallest conductor of fixed wiring.
    #[serde(deserialize_with = "read::size")]
    pub least: ConductorSize,
    /// Residual current at which protection of persons trips.
    #[serde(deserialize_with = "read::amps")]
    pub rcd_trip: Amps,
}

/// Longest unprotected length of an ungrounded conductor, from its source to its fuse.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reach {
    /// Conductor by itself.
    #[serde(deserialize_with = "read::metres")]
    pub open: Metres,
    /// In a sheath or enclosure throughout.
    #[serde(deserialize_with = "read::metres")]
    pub sheathed: Metres,
    /// In a sheath throughout, straight from a battery.
    #[serde(deserialize_with = "read::metres")]
    pub battery_sheathed: Metres,
}

/// Colours of conductors.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Colours {
    /// DC positive; the first is the one this profile chooses.
    pub positive: Vec<String>,
    /// DC negative; the first is the one this profile chooses.
    pub negative: Vec<String>,
    /// Bond of metal parts.
    pub bond: String,
    /// AC line.
    pub ac_line: String,
    /// Second AC line of a split-phase supply.
    pub ac_line_two: String,
    /// AC neutral.
    pub ac_neutral: String,
    /// AC protective earth.
    pub ac_earth: String,
}

/// Why a profile could not be had.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ProfileFault {
    /// There is none of this name.
    Unknown(String),
    /// Its file does not read; the text says where.
    Unreadable(String),
}

impl fmt::Display for ProfileFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unknown(id) => {
                write!(f, "there are no rules named \"{id}\"; known are {}", Profile::NAMES.join(", "))
            }
            Self::Unreadable(why) => write!(f, "the rules do not read: {why}"),
        }
    }
}

impl std::error::Error for ProfileFault {}

impl Profile {
    /// Names of the profiles there are.
    pub const NAMES: &'static [&'static str] = &["us", "eu"];

    /// The profile `id`.
    ///
    /// # Errors
    /// [`ProfileFault`] where there is none of this name, or its file does not read.
    pub fn named(catalogue: &Catalogue, id: &str) -> Result<Self, ProfileFault> {
        if !Self::NAMES.contains(&id) {
            return Err(ProfileFault::Unknown(id.to_owned()));
        }
        let text = catalogue
            .text(&format!("rules/{id}.toml"))
            .ok_or_else(|| ProfileFault::Unreadable(format!("rules/{id}.toml is missing")))?;
        Self::read(text)
    }

    /// The share below which a conductor of a network of `volts` is left out of the count of a bundle; `None` where all
    /// count.
    #[must_use]
    pub fn idle_share(&self, volts: Volts) -> Option<Ratio> {
        (volts.0 < self.idle.below.0).then_some(self.idle.share)
    }

    /// Reads a profile from TOML.
    ///
    /// # Errors
    /// [`ProfileFault::Unreadable`] where a value is missing, unknown or no quantity of its dimension.
    pub fn read(text: &str) -> Result<Self, ProfileFault> {
        toml::from_str(text).map_err(|e| ProfileFault::Unreadable(e.to_string()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ABYC E-11 ([`crate::tables::sources::ABYC_DROP_LIMITS`]): panel feeders, electronics and all that must run; then
    /// lighting and circuits that are not critical.
    const DROP_LIMITS: (Ratio, Ratio) = (Ratio(0.03), Ratio(0.10));
    /// EN 1648-2 ([`crate::tables::sources::EN_1648_2`]): 0.8 V on a supply line of 12 V.
    const EN_1648_DROP: f64 = 0.8 / 12.0;

    #[test]
    fn built_in_profiles_read_and_hold_the_cited_values() {
        for id in Profile::NAMES {
            let profile = Profile::named(&Catalogue::built_in(), id).expect("profile");
            assert_eq!(profile.id, *id);
            assert_eq!(profile.drop.critical, DROP_LIMITS.0);
            let other = if *id == "eu" { EN_1648_DROP } else { DROP_LIMITS.1.0 };
            assert!(profile.drop.other.0 <= other && profile.drop.other.0 > other - 1e-4, "{id}");
            assert_eq!(profile.fuse_cap, Ratio(1.0));
            assert!((profile.continuous_factor - 1.25).abs() < 1e-12);
            assert_eq!(Series::of(profile.mechanical_minimum.separate), profile.series);
            assert!(profile.mechanical_minimum.sheathed <= profile.mechanical_minimum.separate);
            // 33 CFR 183.455(b): 7 in, 40 in; ABYC E-11: 72 in.
            for (got, inches) in
                [(profile.reach.open, 7.0), (profile.reach.sheathed, 40.0), (profile.reach.battery_sheathed, 72.0)]
            {
                assert!((got.0 - inches * 0.0254).abs() < 1e-9, "{id}: {inches} in");
            }
        }
        let us = Profile::named(&Catalogue::built_in(), "us").expect("us");
        assert_eq!(us.mechanical_minimum.separate, ConductorSize::Awg(16));
        assert_eq!(us.ac.volts, Volts(120.0));
        let eu = Profile::named(&Catalogue::built_in(), "eu").expect("eu");
        assert_eq!(eu.ac.volts, Volts(230.0));
        // ISO 10133, as its reprints have it.
        let least = |item: &str| {
            let facts = crate::tables::reference::rows("iso10133-small-facts");
            let row = facts.iter().find(|r| r["item"].starts_with(item)).expect("row");
            let (number, _) = row["value"].split_once(' ').expect("value");
            ConductorSize::Metric(number.parse().expect("number"))
        };
        assert_eq!(eu.mechanical_minimum.separate, least("minimum single conductor"));
        assert_eq!(eu.mechanical_minimum.sheathed, least("minimum in multi-core sheath"));
        // The mains keep theirs.
        assert_eq!(eu.ac.least, ConductorSize::Metric(1.5));
    }

    /// Wire is named by a class that the tables in force have, and what does not do is said to stand less.
    #[test]
    fn wire_is_of_a_class_of_the_tables_in_force() {
        for id in Profile::NAMES {
            let profile = Profile::named(&Catalogue::built_in(), id).expect("profile");
            for wire in [&profile.wire.dc, &profile.wire.ac] {
                let limit = wire.insulation.limit();
                assert_eq!(profile.ampacity.class(limit), Some(wire.insulation), "{id}");
                assert!(wire.not_stands < limit && !wire.not.is_empty() && !wire.sold_as.is_empty(), "{id}");
            }
            // IEC 60364-5-52: 30 %. 33 CFR 183.435(b) asks for no bundling below 50 V; above it has no such note.
            let (low, mains) = (profile.idle_share(Volts(12.0)), profile.idle_share(profile.ac.volts));
            assert_eq!(low, Some(Ratio(0.3)));
            assert_eq!(mains.is_some(), *id == "eu");
        }
    }

    #[test]
    fn every_value_has_a_basis() {
        for id in Profile::NAMES {
            let profile = Profile::named(&Catalogue::built_in(), id).expect("profile");
            let json = serde_json::to_value(&profile).expect("json");
            let keys = json.as_object().expect("table").keys();
            for key in keys.filter(|k| !["id", "name", "basis"].contains(&k.as_str())) {
                assert!(profile.basis.contains_key(key), "{id}: {key} has no basis");
            }
        }
    }

    #[test]
    fn faults_say_what_is_wrong() {
        let unknown = Profile::named(&Catalogue::built_in(), "../us").expect_err("unknown");
        assert!(unknown.to_string().contains("known are us, eu"));
        let built_in = Catalogue::built_in();
        let text = built_in.text("rules/us.toml").expect("text");
        let wrong = Profile::read(&text.replace("\"7 in\"", "\"7 A\"")).expect_err("wrong");
        assert!(wrong.to_string().contains("length"), "{wrong}");
        assert!(Profile::read(&text.replace("105 °C", "50 °C")).is_err());
        assert!(Profile::read(&text.replace("ac-breaker-us", "glass")).is_err());
    }
}
