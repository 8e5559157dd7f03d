//! Where conductors end on a part, and the leads it needs beside its supply: `posts` and `leads` of a kind.

use super::fault::{Wrong, misnamed};
use super::{Condition, Electric, Network, Role};
use crate::fields::{Declarations, FieldType};
use crate::roles::Common;
use crate::units::{ConductorSize, Dimension, parse_quantity};
use serde::{Deserialize, Serialize};

/// What a conductor carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Carries {
    /// The positive of a battery, an array or an alternator.
    Positive,
    /// The same behind a switch of the part that feeds it.
    SwitchedPositive,
    /// The return to the negative of the battery.
    Negative,
    /// The live conductor of AC.
    Line,
    /// The second live conductor of split-phase AC.
    LineTwo,
    /// The neutral of AC.
    Neutral,
    /// The protective earth.
    Earth,
    /// Bonding to the body or another case.
    Bond,
    /// A voltage that is measured.
    Sense,
    /// What switches something on or off.
    Control,
    /// Messages.
    Data,
    /// A sensor's signal.
    Signal,
    /// What an antenna sends and receives.
    Antenna,
}

/// How a conductor ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum PostForm {
    /// A crimped ring on a stud or under a screw.
    Ring,
    /// A ferrule in a clamp that a screw closes.
    Clamp,
    /// A crimped receptacle on a blade.
    PushOn,
    /// A plug of the maker.
    Plug,
    /// A crimped splice to the maker's own lead.
    Splice,
}

impl Carries {
    /// Its polarity, as a label and a meter's leads name it; of what has none, what it is.
    #[must_use]
    pub const fn sign(self) -> &'static str {
        match self {
            Self::Positive | Self::SwitchedPositive => "+",
            Self::Negative => "−",
            Self::Line => "L",
            Self::LineTwo => "L2",
            Self::Neutral => "N",
            Self::Earth => "PE",
            Self::Bond => "bond",
            Self::Sense => "sense",
            Self::Control => "control",
            Self::Data => "data",
            Self::Signal => "signal",
            Self::Antenna => "antenna",
        }
    }

    /// As documents print it.
    #[must_use]
    pub const fn show(self) -> &'static str {
        match self {
            Self::Positive => "positive",
            Self::SwitchedPositive => "switched positive",
            Self::Negative => "negative",
            Self::Line => "line",
            Self::LineTwo => "line 2",
            Self::Neutral => "neutral",
            Self::Earth => "earth",
            other => other.sign(),
        }
    }
}

impl PostForm {
    /// As a kind or a spec writes it.
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let all = [Self::Ring, Self::Clamp, Self::PushOn, Self::Plug, Self::Splice];
        all.into_iter()
            .zip(["ring", "clamp", "push-on", "plug", "splice"])
            .find(|(_, word)| *word == text)
            .map(|(form, _)| form)
    }

    /// Whether it is pushed or crimped on, with no screw or nut to tighten.
    #[must_use]
    pub const fn is_untightened(self) -> bool {
        matches!(self, Self::PushOn | Self::Plug | Self::Splice)
    }

    /// What is crimped on, as documents print it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Ring => "ring",
            Self::Clamp => "ferrule",
            Self::PushOn => "push-on",
            Self::Plug => "plug",
            Self::Splice => "splice",
        }
    }
}

impl Carries {
    /// Whether a post that takes this takes a conductor that carries `other` as well.
    #[must_use]
    pub fn is_like(self, other: Self) -> bool {
        use Carries::{Line, LineTwo, Positive, SwitchedPositive};
        let both = (self, other);
        self == other || matches!(both, (Positive, SwitchedPositive) | (SwitchedPositive, Positive) | (Line, LineTwo))
    }
}

/// Which circuits end at a post.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum PostSide {
    /// Those that bring current to the part.
    In,
    /// Those that leave it.
    Out,
    /// Legs to further fittings, where a switch stands between this post and the one that brings the current.
    Fittings,
}

/// A post of a part, or several that are alike.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Post {
    /// Id, unique in the kind.
    pub id: String,
    /// What a conductor there carries.
    pub takes: Carries,
    /// How it ends; left out, as the maker has it.
    #[serde(default)]
    pub form: Option<PostForm>,
    /// Which circuits end there; left out, all.
    #[serde(default)]
    pub side: Option<PostSide>,
    /// Thread of the stud or screw.
    #[serde(default)]
    pub thread: Option<String>,
    /// Field of the kind that tells the thread.
    #[serde(default)]
    pub thread_from: Option<String>,
    /// The row of `torque` of one of the kind's tasks that counts, by its `what`. Left out, the one that begins with
    /// the thread.
    #[serde(default)]
    pub fastener: Option<String>,
    /// The torque goes by the conductor, as published for slotted screws of No. 10 and larger.
    #[serde(default)]
    pub by_conductor: bool,
    /// Field with the place of a second body, where it is on that.
    #[serde(default)]
    pub place_from: Option<String>,
    /// State of the part after which there is something to end on, where that is not when the part is mounted: a second
    /// body that another task fits.
    #[serde(default)]
    pub fitted_by: Option<String>,
    /// Each that comes there has a screw or socket of its own, and the word by which they are numbered where there are
    /// several: "sender" → "sender 1".
    #[serde(default)]
    pub each: Option<String>,
    /// Nothing need be connected there: it is for what some builds have.
    #[serde(default)]
    pub optional: bool,
}

/// A lead that a part needs beside its supply and return.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lead {
    /// Id, unique in the kind.
    pub id: String,
    /// Post it comes from: see [`LeadEnd`].
    pub from: String,
    /// Post it goes to.
    pub to: String,
    /// Size of the conductor, or "supply" for that of its part's supply; left out, the maker's.
    #[serde(default)]
    pub conductor: Option<String>,
    /// Field that tells the fuse at its start.
    #[serde(default)]
    pub fuse_from: Option<String>,
    /// Field with the places of bodies between both ends, that it leads over: each piece is a conductor.
    #[serde(default)]
    pub along: Option<String>,
    /// Length of a lead that the maker gives, which is never cut.
    #[serde(default)]
    pub length: Option<String>,
    /// Field that tells the length of its route.
    #[serde(default)]
    pub run_from: Option<String>,
    /// What is cut for it has a shield round it.
    #[serde(default)]
    pub shielded: bool,
    /// What must be so for it to exist.
    #[serde(default)]
    pub when: Option<Condition>,
}

/// Where a lead ends, as its kind says it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LeadEnd<'a> {
    /// A post of its own part.
    Own(&'a str),
    /// `<role>.<post>` of the nearest part of a role that has the post, or `<field>.<post>` of the part that a field
    /// names; without one there is no lead. Where the field names a switch of a panel: its side, `in` or `out`.
    Of(&'a str, &'a str),
    /// `vehicle.<words>`: something that the vehicle brought along, in words: "vehicle.reverse-lamp signal".
    Vehicle(&'a str),
    /// `words.<field>`: something beside the parts, in the words of a field; without them there is no lead.
    Words(&'a str),
    /// `feed`: the positive that feeds a coil: of the part that `coil_from` names, else of what feeds the part itself.
    Feed,
    /// `return`: where the negative of the part goes.
    Return,
}

impl<'a> LeadEnd<'a> {
    /// An end as a kind writes it.
    #[must_use]
    pub fn read(text: &'a str) -> Self {
        match text.split_once('.') {
            Some(("vehicle", words)) => Self::Vehicle(words),
            Some(("words", field)) => Self::Words(field),
            Some((whose, post)) => Self::Of(whose, post),
            None if text == "return" => Self::Return,
            None if text == "feed" => Self::Feed,
            None => Self::Own(text),
        }
    }
}

/// What ends on a part by the part it plays: what brings it current and takes it back, and what leaves it.
fn ends_of(electric: Electric) -> Vec<(Carries, PostSide)> {
    use PostSide::{In, Out};
    let live = |ac: bool| if ac { Carries::Line } else { Carries::Positive };
    let back = |ac: bool| if ac { Carries::Neutral } else { Carries::Negative };
    let role = electric.role;
    if role == Role::Shunt {
        return vec![(Carries::Negative, In), (Carries::Negative, Out)];
    }
    let mut ends = Vec::new();
    for network in [Some(electric.network), electric.second].into_iter().flatten().filter(|_| !role.is_source()) {
        let ac = network == Network::Ac;
        ends.push((live(ac), In));
        // A negative goes past what only stands in the way of the positive.
        if ac || electric.has_negative() && !role.passes_through() {
            ends.push((back(ac), In));
        }
    }
    let own = role.has_output() || role == Role::Converter;
    if own || role.is_source() || role.passes_through() {
        let ac = role.gives_ac() || electric.network == Network::Ac && !own;
        ends.push((live(ac), Out));
        if !role.passes_through() {
            ends.push((back(ac), Out));
        }
    }
    ends
}

/// What a kind with these posts has none for, though its wiring brings it.
pub(super) fn endless(electric: Electric, posts: &[Post]) -> Option<String> {
    let fits = |post: &&Post, (carries, side): (Carries, PostSide)| {
        post.takes.is_like(carries) && post.side.is_none_or(|own| own == side)
    };
    let (carries, side) = ends_of(electric).into_iter().find(|end| !posts.iter().any(|post| fits(&post, *end)))?;
    let (word, side) = match side {
        PostSide::In => ("arrives", "in"),
        PostSide::Out => ("leaves", "out"),
        // No circuit of a role ends there.
        PostSide::Fittings => return None,
    };
    let shown = carries.show();
    Some(format!(
        "no post takes the {shown} that {word} there: the conductor would end on nothing; give one with takes = \"{shown}\", and side = \"{side}\" where another takes the other side"
    ))
}

/// Sides of a switch of a panel.
const SIDES: [&str; 2] = ["in", "out"];

/// Word for a lead of the size of its part's supply, which carries the same current.
const AS_SUPPLY: &str = "supply";

impl Post {
    /// What is wrong with it for a kind with these fields.
    pub(super) fn fault(&self, fields: &Declarations) -> Option<Wrong> {
        let thread = named(fields, "thread_from", self.thread_from.as_deref(), &[FieldType::Text, FieldType::Choice]);
        let common = |name: &String| Common::CONTRACT.field(name).is_some_and(|f| f.ty == FieldType::Place);
        let place = || {
            // What every component can say, such as where it is switched.
            if self.place_from.as_ref().is_some_and(common) {
                return None;
            }
            named(
                fields,
                "place_from",
                self.place_from.as_deref(),
                &[FieldType::Place, FieldType::Places, FieldType::Text],
            )
        };
        let both = || {
            let twice = self.thread.is_some() && self.thread_from.is_some();
            twice.then(|| ("thread_from", "`thread` tells it already".to_owned()))
        };
        thread.or_else(place).or_else(both)
    }

    /// That none of the tasks of its kind fits it by the state that it names.
    pub(super) fn unfitted(&self, brought: impl Fn(&str) -> bool) -> Option<Wrong> {
        let state = self.fitted_by.as_deref().filter(|state| !brought(state))?;
        Some(("fitted_by", format!("no task of the kind brings `{state}`")))
    }
}

impl Lead {
    /// Whether it carries the current of its part's supply and has its size.
    #[must_use]
    pub fn is_as_supply(&self) -> bool {
        self.conductor.as_deref() == Some(AS_SUPPLY)
    }

    /// What is wrong with it for a kind with these fields and posts. Whether the part of a role has the post is looked
    /// at when all kinds are there.
    pub(super) fn fault(&self, fields: &Declarations, posts: &[Post]) -> Option<Wrong> {
        for (key, end) in [("from", &self.from), ("to", &self.to)] {
            let known = match LeadEnd::read(end) {
                LeadEnd::Own(id) => posts.iter().any(|p| p.id == id),
                LeadEnd::Vehicle(words) => !words.trim().is_empty(),
                LeadEnd::Words(field) => fields.get(field).is_some_and(|f| f.ty == FieldType::Text),
                LeadEnd::Return | LeadEnd::Feed => true,
                LeadEnd::Of(whose, post) => {
                    let named = fields.get(whose).is_some_and(|f| match f.ty {
                        FieldType::Component | FieldType::Components => true,
                        FieldType::Switch => SIDES.contains(&post),
                        _ => false,
                    });
                    named || crate::roles::contract(whose).is_some()
                }
            };
            if !known {
                let message = format!(
                    "`{key}` names `{end}`, which is no post of this kind, no `<role>.<post>`, no `<field>.<post>`, no \
                     `vehicle.<words>`, no `words.<field>` and neither `feed` nor `return`"
                );
                return Some((key, message));
            }
        }
        let size = |text: &String| text != AS_SUPPLY && ConductorSize::parse(text).is_none();
        if let Some(text) = self.conductor.as_ref().filter(|c| size(c)) {
            return Some((
                "conductor",
                format!("`{text}` is no size of a conductor, such as \"18 AWG\", nor \"{AS_SUPPLY}\""),
            ));
        }
        if let Some(text) = self.length.as_ref().filter(|l| parse_quantity(l, Dimension::Length).is_err()) {
            return Some(("length", format!("`{text}` is no length, such as \"3 m\"")));
        }
        if self.conductor.is_some() == self.length.is_some() {
            let message = "a lead has a `conductor` that is cut, or the `length` of the maker's own".to_owned();
            return Some(("id", message));
        }
        let current = [FieldType::Quantity(Dimension::Current)];
        let fuse = named(fields, "fuse_from", self.fuse_from.as_deref(), &current);
        let along = named(fields, "along", self.along.as_deref(), &[FieldType::Places]);
        let run = named(fields, "run_from", self.run_from.as_deref(), &[FieldType::Quantity(Dimension::Length)]);
        fuse.or(run)
            .or(along)
            .or_else(|| self.when.as_ref().and_then(|c| c.fault(fields)).map(|message| ("when", message)))
    }
}

/// A key that names a field: it must be there, and be of one of these types.
fn named(fields: &Declarations, key: &'static str, name: Option<&str>, types: &[FieldType]) -> Option<Wrong> {
    Some((key, misnamed(fields, key, name?, types)?))
}

#[cfg(test)]
mod tests {
    use super::LeadEnd;
    use crate::catalogue::Catalogue;
    use crate::kinds::Library;

    /// `<role>.<post>` of a lead leads somewhere: a kind of that role has the post.
    #[test]
    fn leads_end_at_posts_that_are_there() {
        let library = Library::load(&Catalogue::built_in()).expect("the kinds hold together");
        let mut faults = Vec::new();
        for kind in library.iter() {
            for end in kind.leads.iter().flat_map(|l| [&l.from, &l.to]) {
                let LeadEnd::Of(whose, post) = LeadEnd::read(end) else { continue };
                // A field names any part; some kind has the post that it must have.
                let is_role = crate::roles::contract(whose).is_some();
                let may = library.iter().filter(|k| !is_role || k.roles.contains(&whose));
                let side = |p: &&super::Post| p.id == post || p.id == format!("switch-{post}");
                let takes = may.flat_map(|k| &k.posts).filter(side).count();
                if takes == 0 {
                    faults.push(format!("{}: no part has the post {end}", kind.id));
                }
            }
        }
        assert!(faults.is_empty(), "{}", faults.join("\n"));
    }

    /// Whatever is wired has posts for what its wiring brings.
    #[test]
    fn what_is_wired_has_posts() {
        let library = Library::load(&Catalogue::built_in()).expect("the kinds hold together");
        let wired = library.iter().filter_map(|k| Some((k, k.electric?)));
        let without: Vec<_> = wired.filter_map(|(k, e)| Some((&k.id, super::endless(e, &k.posts)?))).collect();
        assert!(without.is_empty(), "{without:#?}");
        // A part in a circuit has at least one end that is asked of it.
        let ends: Vec<usize> = library.iter().filter_map(|k| k.electric).map(|e| super::ends_of(e).len()).collect();
        assert!(ends.len() > 60 && ends.iter().all(|ends| *ends > 0), "{ends:?}");
    }
}
