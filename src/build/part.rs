//! A component joined with its kind.

use super::{Masses, Reach, Scope};
use crate::fields::{Choice, Field, Record, Text};
use crate::kinds::{CutOut, Electric, HandoverSet, Kind, Library, Need, Post, PostForm, Role, Safety};
use crate::letters::capital;
use crate::roles::{Common, Key, Lead, Output, PostGiven, Roles, Supply, Switch};
use crate::source::Span;
use crate::spec::{Component, Spec};
use crate::units::{Kilograms, NewtonMetres};
use indexmap::IndexMap;
use serde::Serialize;
use serde::ser::SerializeMap;
use std::collections::BTreeMap;

/// A component of the build.
#[derive(Clone, Debug, Serialize)]
pub struct Part<'k> {
    /// Id.
    pub id: String,
    /// Where the spec names it.
    pub span: Span,
    /// What people call it.
    pub name: String,
    /// What is done to it in this job.
    #[serde(skip_serializing_if = "is_new")]
    pub scope: Scope,
    /// How many alike.
    pub count: i64,
    /// Ids of the places it stands in.
    pub places: Vec<String>,
    /// Its kind; of it `--emit build` shows its id and its part in an electrical network.
    #[serde(serialize_with = "kind_in_short")]
    pub kind: &'k Kind,
    /// Its fields.
    pub record: &'k Record,
    /// What every component can say.
    #[serde(skip)]
    pub common: Common,
    /// How it gets its current.
    #[serde(skip)]
    pub supply: Supply,
    /// Where its current goes.
    #[serde(skip)]
    pub output: Output,
    /// The parts it plays, with what it tells for each.
    #[serde(skip)]
    pub roles: Roles,
    /// What it has several of, in the order of the spec.
    #[serde(skip)]
    pub has: Vec<Inner>,
    /// What the spec says of its conductors, each by its own id.
    #[serde(skip)]
    pub leads: Vec<Inner>,
    /// What the spec says of its posts, each by its id.
    #[serde(skip)]
    pub posts: Vec<Inner>,
    /// How far it stands out, its size and what it sweeps, where its kind tells.
    #[serde(skip)]
    pub reach: Option<Reach>,
    /// Paper that answers for it, where its kind asks for one.
    #[serde(skip)]
    pub evidence: Field<Text>,
    /// People who sleep on it.
    #[serde(skip)]
    pub sleeps: Field<i64>,
    /// Mass of what lies on it, where people sleep.
    #[serde(skip)]
    pub bedding: Field<Kilograms>,
    /// What it weighs and holds, where its kind tells.
    #[serde(skip)]
    pub masses: Option<Masses>,
    /// Id of the part it rides on, where it only says how it is held and one part holds so.
    #[serde(skip)]
    pub base: Option<String>,
    /// Where it is must not be printed or drawn: a hidden switch, or the master of a panel whose master is hidden.
    #[serde(skip)]
    pub confidential: bool,
    /// It stays as it was, and its current comes by what this job fits.
    #[serde(skip)]
    pub fed: bool,
}

/// One of those that a part has several of: a switch of a panel.
#[derive(Clone, Debug)]
pub struct Inner {
    /// Id of its role.
    pub role: &'static str,
    /// Its own id.
    pub id: String,
    /// Where the spec names it.
    pub span: Span,
    /// What it tells: its one role.
    pub roles: Roles,
}

impl Part<'_> {
    /// Its switches, each with its id: row by row from the top left, then those of no row, as the spec has them.
    #[must_use]
    pub fn switches(&self) -> Vec<(&str, &Switch)> {
        self.several(|roles| roles.switch.as_deref(), |switch| [&switch.row, &switch.column])
    }

    /// Its keys on a data bus, each with its id, in the order of switches.
    #[must_use]
    pub fn keys(&self) -> Vec<(&str, &Key)> {
        self.several(|roles| roles.key.as_deref(), |key| [&key.row, &key.column])
    }

    /// Those of one role that it has several of, each with its id: row by row from the top left, then those of no row, as the
    /// spec has them.
    fn several<'a, T>(
        &'a self,
        role: impl Fn(&'a Roles) -> Option<&'a T>,
        at: impl Fn(&'a T) -> [&'a Field<i64>; 2],
    ) -> Vec<(&'a str, &'a T)> {
        let mut all: Vec<_> = self.has.iter().filter_map(|own| Some((own.id.as_str(), role(&own.roles)?))).collect();
        all.sort_by_key(|(_, one)| at(one).map(|field| field.get().unwrap_or(i64::MAX)));
        all
    }

    /// What the spec says of one of its posts.
    #[must_use]
    pub fn said_of_post(&self, post: &str) -> Option<&PostGiven> {
        self.posts.iter().find(|own| own.id == post)?.roles.post.as_deref()
    }

    /// The torque that the spec gives for a fastener of the posts of some parts of one kind, by the words of the kind's row;
    /// of several posts on such ones, where all give the same.
    #[must_use]
    pub fn torque_of(parts: &[&Self], fastener: &str) -> Option<NewtonMetres> {
        let posts = parts.iter().flat_map(|part| part.kind.posts.iter().map(move |post| (part, post)));
        let on_it = posts.filter(|(part, post)| {
            let row = part.kind.torque_of(post, part.thread(post).unwrap_or_default());
            row.is_some_and(|row| row.what == fastener)
        });
        let given = on_it.map(|(part, post)| part.said_of_post(&post.id).and_then(|said| said.torque.get()));
        given.reduce(|one, other| if one == other { one } else { None }).flatten()
    }

    /// Its part in an electrical network.
    #[must_use]
    pub fn electric(&self) -> Option<Electric> {
        self.kind.electric
    }

    /// Its role, if it is electrical.
    #[must_use]
    pub fn role(&self) -> Option<Role> {
        self.kind.electric.map(|e| e.role)
    }

    /// Id of the part it rides on.
    #[must_use]
    pub fn rides_on(&self) -> Option<&str> {
        self.common.on.first().or(self.base.as_deref())
    }

    /// The part it rests on; `None` where that rests on it in turn.
    fn carried_by<'p, 'k>(&self, parts: &'p IndexMap<String, Part<'k>>) -> Option<&'p Part<'k>> {
        let base = parts.get(self.rides_on()?)?;
        let (mut at, mut left) = (Some(base), parts.len());
        while let Some(next) = at.filter(|p| p.id != self.id && left > 0) {
            at = next.rides_on().and_then(|id| parts.get(id));
            left -= 1;
        }
        at.is_none().then_some(base)
    }

    /// Words for the parts that hold it, by how it says that it is held; the nearest first.
    pub fn holders(&self) -> impl Iterator<Item = &str> {
        let ways = self.kind.load.iter().flat_map(|load| &load.held_by);
        ways.filter(|h| self.record.text(&h.field) == Some(h.is.as_str())).map(|h| h.by.as_str())
    }

    /// Whether it holds what says that it is held by `word`.
    #[must_use]
    pub fn bears(&self, word: &str) -> bool {
        self.kind.load.as_ref().is_some_and(|load| load.bears.as_deref() == Some(word))
    }

    /// Whether the spec says how it is held: on which part, or in which of the ways its kind knows.
    #[must_use]
    pub fn says_how_held(&self) -> bool {
        let load = self.kind.load.as_ref();
        let by = |h: &crate::kinds::HeldBy| self.record.gave(&h.field);
        let field = load.and_then(|l| l.on_roof.as_ref()).and_then(|r| r.field.as_deref());
        let ways = load.is_some_and(|l| l.held_by.iter().any(by)) || field.is_some_and(|f| self.record.gave(f));
        self.common.on.given || ways || load.is_none_or(|l| l.held_by.is_empty() && field.is_none())
    }

    /// Whether it is held by the roof itself, as its kind or the way it is held says.
    #[must_use]
    pub fn is_held_by_roof(&self) -> bool {
        let Some(roof) = self.kind.load.as_ref().and_then(|l| l.on_roof.as_ref()) else { return false };
        match &roof.field {
            Some(field) => self.record.text(field).is_some_and(|word| roof.is.iter().any(|w| w == word)),
            None => true,
        }
    }

    /// The side that an opening for it is in, where its kind has a field for that.
    #[must_use]
    pub fn side_of(&self, cut: &CutOut) -> Field<Choice> {
        Field::named(self.record, cut.side_from.as_deref())
    }

    /// How many holes an opening of each body of it is.
    #[must_use]
    pub fn holes_of(&self, cut: &CutOut) -> usize {
        let each = cut.each.as_deref().and_then(|field| self.record.count(field));
        each.and_then(|each| usize::try_from(each).ok()).unwrap_or(1).max(1)
    }

    /// Id of the place that an opening for it is at, where that is not its own.
    #[must_use]
    pub fn place_of(&self, cut: &CutOut) -> Option<&str> {
        let named = self.record.list(cut.place_from.as_deref()?);
        named.first().map(|place| place.value.as_str())
    }

    /// Thread of a post: what the spec or a stock item says, that of its kind, or what a field of the part tells.
    #[must_use]
    pub fn thread<'a>(&'a self, post: &'a Post) -> Option<&'a str> {
        let said = self.said_of_post(&post.id).and_then(|said| said.thread.text());
        said.or(post.thread.as_deref()).or_else(|| self.record.text(post.thread_from.as_deref()?))
    }

    /// How a conductor ends at a post: what the spec or a stock item says, else as its kind has it.
    #[must_use]
    pub fn form(&self, post: &Post) -> Option<PostForm> {
        let said = self.said_of_post(&post.id).and_then(|said| said.form.text());
        said.and_then(PostForm::read).or(post.form)
    }

    /// How many studs its bar or bonding point has; `None` where nobody says, and of what is neither.
    #[must_use]
    pub fn studs(&self) -> Option<usize> {
        let bond = self.roles.chassis_bond.as_ref().map(|bond| bond.studs.get().or(Some(1)));
        let bar = self.roles.negative_bar.as_ref().map(|bar| bar.studs.get());
        let studs = self.roles.bus.as_ref().map(|bus| bus.studs.get()).or(bar).or(bond)?;
        studs.and_then(|studs| usize::try_from(studs).ok())
    }

    /// How many pieces it is: its number, and of one with several fittings on its circuit each of them.
    #[must_use]
    pub fn bodies(&self) -> usize {
        let all = self.roles.fittings().get().map_or(self.count, |each| self.count.saturating_mul(each));
        usize::try_from(all).unwrap_or_default()
    }

    /// Whether handover asks for its serial number: what the spec says, else whether its kind carries one. Of what was
    /// there before and is left alone nobody asks it.
    #[must_use]
    pub fn carries_serial(&self) -> bool {
        if !self.is_worked_on() {
            false
        } else if self.common.serial_expected.given {
            self.common.serial_expected.is_set()
        } else {
            self.kind.serial.is_some()
        }
    }

    /// What one of it weighs by itself, where the spec or its kind tells.
    #[must_use]
    pub fn own_mass(&self) -> Option<Kilograms> {
        self.common.mass.get().or_else(|| self.masses.as_ref()?.own.get())
    }

    /// The set in which handover asks for its serial number; of a kind that carries none what the spec itself asks for
    /// is meant.
    #[must_use]
    pub fn serial_set(&self) -> HandoverSet {
        self.kind.serial.unwrap_or(HandoverSet::Essential)
    }

    /// `count` as a factor.
    #[must_use]
    pub fn times(&self) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "the reader bounds counts far below 2^52")]
        let times = self.count as f64;
        times
    }
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "the form serde asks for")]
fn is_new(scope: &Scope) -> bool {
    *scope == Scope::New
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "the form serde asks for")]
fn kind_in_short<S: serde::Serializer>(kind: &&Kind, serializer: S) -> Result<S::Ok, S::Error> {
    let mut map = serializer.serialize_map(Some(2))?;
    map.serialize_entry("id", &kind.id)?;
    map.serialize_entry("electric", &kind.electric)?;
    map.end()
}

/// What a part is by itself, whatever its fields.
struct Head {
    id: String,
    span: Span,
    name: String,
    count: i64,
    places: Vec<String>,
}

impl<'k> Part<'k> {
    /// The part of a kind with these fields: what they tell is read into its structs here alone.
    fn of(kind: &'k Kind, record: &'k Record, head: Head) -> Self {
        let Head { id, span, name, count, places } = head;
        let safety = |setting: fn(&Safety) -> Option<&str>| kind.safety.as_ref().and_then(setting);
        Self {
            id,
            span,
            name,
            scope: Scope::of(record),
            count,
            places,
            kind,
            record,
            common: Common::of(record),
            supply: Supply::of(record),
            output: Output::of(record),
            roles: Roles::of(kind.roles.iter().copied(), record),
            has: kind.has.iter().flat_map(|role| inner(role, record)).collect(),
            leads: inner(Lead::CONTRACT.id, record).collect(),
            posts: inner(PostGiven::CONTRACT.id, record).collect(),
            reach: kind.envelope.as_ref().map(|e| Reach::of(e, record)),
            evidence: Field::named(record, kind.evidence.as_ref().map(|e| e.field.as_str())),
            sleeps: Field::named(record, safety(|s| s.sleeps.as_deref())),
            bedding: Field::named(record, safety(|s| s.bedding.as_deref())),
            masses: kind.load.as_ref().map(|l| Masses::of(l, record)),
            base: None,
            confidential: false,
            fed: false,
        }
    }

    /// The van as a whole, which is no component.
    pub(super) fn whole(kind: &'k Kind, record: &'k Record, id: &str) -> Self {
        let name = kind.name.clone();
        Self::of(kind, record, Head { id: id.to_owned(), span: Span::default(), name, count: 1, places: Vec::new() })
    }

    /// The same part with other fields, as one is told that hides something.
    pub(super) fn with(&self, record: &'k Record) -> Self {
        let head = Head {
            id: self.id.clone(),
            span: self.span,
            name: self.name.clone(),
            count: self.count,
            places: self.places.clone(),
        };
        Self {
            base: self.base.clone(),
            scope: self.scope,
            confidential: self.confidential,
            ..Self::of(self.kind, record, head)
        }
    }
}

/// The parts that a field of `part` names, or, where it names none, all that have a role of that name; by `on` the one that
/// it rests on.
pub(super) fn meant<'p, 'k>(
    parts: &'p IndexMap<String, Part<'k>>,
    part: &'p Part<'k>,
    of: &'p str,
) -> impl Iterator<Item = &'p Part<'k>> {
    let base = if of == Need::ON { part.carried_by(parts) } else { None };
    let named = if of == Need::ON { &[][..] } else { part.record.list(of) };
    let has_role = move |p: &&Part<'_>| named.is_empty() && p.kind.roles.contains(&of);
    base.into_iter().chain(named.iter().filter_map(|id| parts.get(&id.value))).chain(parts.values().filter(has_role))
}

/// Those of a role that a part has several of.
fn inner(role: &'static str, record: &Record) -> impl Iterator<Item = Inner> {
    record.parts(role).iter().map(move |(id, own)| Inner {
        role,
        id: id.value.clone(),
        span: id.span,
        roles: Roles::of(std::iter::once(role), own),
    })
}

/// The parts of the van as it will be, and those that come out, each by id.
type Parts<'k> = (IndexMap<String, Part<'k>>, IndexMap<String, Part<'k>>);

pub(super) fn parts<'k>(spec: &'k Spec, library: &'k Library) -> Parts<'k> {
    let (mut parts, mut removed) = (IndexMap::new(), IndexMap::new());
    // The only nameless one of a kind is called after its kind, several after their ids. What comes out counts by itself.
    let mut nameless: BTreeMap<(&str, bool), usize> = BTreeMap::new();
    let goes = |component: &Component| Scope::of(&component.record) == Scope::Removed;
    for component in spec.components.values().filter(|c| c.record.text("name").is_none()) {
        *nameless.entry((component.kind.value.as_str(), goes(component))).or_default() += 1;
    }
    for (id, component) in &spec.components {
        let Some(kind) = library.of(id, &component.kind.value) else { continue };
        let record = &component.record;
        let mut places: Vec<String> = record.list("places").iter().map(|p| p.value.clone()).collect();
        if places.is_empty() {
            places.extend(record.list("place").first().map(|p| p.value.clone()));
        }
        let name = match record.text("name").filter(|n| !n.trim().is_empty()) {
            Some(name) => name.to_owned(),
            None if nameless.get(&(kind.id.as_str(), goes(component))) == Some(&1) => {
                spec.page.word(&kind.id).map_or_else(|| kind.name.clone(), str::to_owned)
            }
            None => readable(id),
        };
        let count = record.count("count").unwrap_or_default().max(1);
        let span = component.id.span;
        let part = Part::of(kind, record, Head { id: id.clone(), span, name, count, places });
        let list = if part.scope == Scope::Removed { &mut removed } else { &mut parts };
        list.insert(part.id.clone(), part);
    }
    (parts, removed)
}

/// An id as words: "house-bank" → "House bank".
fn readable(id: &str) -> String {
    capital(&id.replace('-', " "))
}
