//! Which post a conductor ends on: positives by the way of the circuit, negatives back to the bar, the shunt or the bank.
//!
//! A negative comes back to the negative bar of the panel that feeds it, to the bar that mirrors a positive one, or to the
//! minus of its source, and never ends where there is no negative post.

use super::{Conductor, Landing};
use crate::build::{Build, Circuit, Part};
use crate::kinds::{Carries, Electric, Network, Post, PostSide, Role};
use indexmap::IndexSet;
use std::collections::BTreeMap;

/// Whether a negative can end on a part.
#[must_use]
pub fn has_negative(part: &Part<'_>) -> bool {
    let chops_negative = part.roles.switched_lead().is("negative");
    chops_negative || part.electric().is_none_or(Electric::has_negative)
}

/// Whether the batteries of a bank have cables of their own to bars that collect them.
pub(super) fn has_bars(part: &Part<'_>) -> bool {
    let own = |bank: &crate::roles::Bank| bank.battery_fuse.given || bank.battery_run.given;
    part.roles.parallel().get().is_some_and(|n| n > 1) && part.roles.bank.as_deref().is_some_and(own)
}

/// What the bars are called that the cables of all batteries of a bank lead to.
const COLLECTING: &str = "collecting bar";

/// Before the pole in the id of the post that such a bar is: "bar-plus".
const BAR: &str = "bar-";

/// The post of a part that takes what a conductor carries, on that side of it.
pub(super) fn post<'a>(part: &'a Part<'_>, carries: Carries, side: PostSide) -> Option<&'a Post> {
    let there = || part.kind.posts.iter().filter(|post| post.side.is_none_or(|own| own == side));
    there().find(|post| post.takes == carries).or_else(|| there().find(|post| post.takes.is_like(carries)))
}

impl Landing {
    /// On a part, at the post that takes what is carried there.
    pub(super) fn on(build: &Build<'_>, part: &str, carries: Carries, side: PostSide) -> Self {
        let found = build.parts.get(part).and_then(|p| Some((p, post(p, carries, side)?)));
        found.map_or_else(|| Self::words(part, ""), |(p, post)| Self::at(p, post))
    }

    /// At a post of a part.
    pub(super) fn at(part: &Part<'_>, post: &Post) -> Self {
        let place = post.place_from.as_deref().and_then(|field| {
            let listed = part.record.list(field).first().map(|id| id.value.clone());
            listed.or_else(|| part.record.text(field).map(str::to_owned))
        });
        let place = place.filter(|place| !place.trim().is_empty());
        // What leaves the batteries leaves the bars that collect them.
        let is_pole = matches!(post.takes, Carries::Positive | Carries::Negative);
        let bar = if is_pole && has_bars(part) { Self::collecting(&part.id, &post.id) } else { Self::default() };
        let post = if bar.post.is_empty() { post.id.clone() } else { bar.post };
        Self { part: part.id.clone(), post, place, words: bar.words, ..Self::default() }
    }

    /// On the bar that collects that pole of the batteries of a bank: a thing of its own, with studs of its own.
    pub(super) fn collecting(bank: &str, pole: &str) -> Self {
        Self { post: format!("{BAR}{pole}"), ..Self::words(bank, &format!("{COLLECTING}, {pole}")) }
    }

    /// What a sensor is screwed to, which measures a battery and no bar: the post of the first one.
    pub(super) fn on_battery(self) -> Self {
        match self.post.strip_prefix(BAR).filter(|_| self.is_collecting_bar()).map(str::to_owned) {
            Some(pole) => Self { words: format!("battery 1, {pole}"), post: pole, ..self },
            None => self,
        }
    }

    /// On a part, at an end that is no post of its kind.
    pub(super) fn words(part: &str, words: &str) -> Self {
        Self { part: part.to_owned(), words: words.to_owned(), ..Self::default() }
    }

    /// Whether it is on a bar that collects the batteries of a bank: one takes as many studs as it needs.
    #[must_use]
    pub fn is_collecting_bar(&self) -> bool {
        self.words.starts_with(COLLECTING)
    }

    /// As a label prints it: "House panel, way 5"; "Control panel, WATER PUMP in".
    #[must_use]
    pub fn show(&self, build: &Build<'_>) -> String {
        let name = build.name(&self.part);
        let terminal = self.terminal(build);
        if terminal.is_empty() { name.to_owned() } else { format!("{name}, {terminal}") }
    }

    /// Which terminal of its part, in words; "" where that goes without saying.
    #[must_use]
    pub fn terminal(&self, build: &Build<'_>) -> String {
        if let Some(way) = self.way {
            return format!("way {way}");
        }
        let part = build.parts.get(&self.part);
        if let Some(id) = &self.switch {
            let switches = part.map(Part::switches).unwrap_or_default();
            let label = switches.iter().find(|(own, _)| own == id).and_then(|(_, s)| s.label.text());
            return format!("{} {}", label.unwrap_or(id), self.post);
        }
        if !self.words.is_empty() {
            return self.words.clone();
        }
        match self.post.as_str() {
            "bar" => "negative bar".to_owned(),
            bar @ ("neutral" | "earth") if part.and_then(Part::role).is_some_and(Role::has_ways) => {
                format!("{bar} bar")
            }
            // What it carries is told beside it.
            "plus" | "minus" | "line" | "neutral" | "earth" | "stud" => {
                let is_bank = part.and_then(Part::role) == Some(Role::Bank);
                if is_bank { self.post.clone() } else { String::new() }
            }
            post => post.replace('-', " "),
        }
    }
}

impl Part<'_> {
    /// The post of its kind that a conductor lands on; a switch of a panel has the posts `switch-in` and `switch-out` of
    /// its kind.
    #[must_use]
    pub fn post(&self, landing: &Landing) -> Option<&Post> {
        let of_switch = landing.switch.as_ref().map(|_| format!("switch-{}", landing.post));
        let id = of_switch.as_deref().unwrap_or(&landing.post);
        self.kind.posts.iter().find(|post| post.id == id)
    }
}

/// Tells apart what comes to a post of which each has one of its own: "sender 1", "source 2, in".
pub(super) fn number(build: &Build<'_>, list: &mut [Conductor]) {
    let word = |end: &Landing| build.parts.get(&end.part)?.post(end)?.each.as_deref();
    let by = |c: &Conductor| c.circuit.clone().unwrap_or_else(|| c.id.clone());
    let at = |end: &Landing| (end.part.clone(), end.post.clone());
    let mut coming: BTreeMap<(String, String), IndexSet<String>> = BTreeMap::new();
    for conductor in &*list {
        for end in conductor.ends().into_iter().filter(|end| word(end).is_some()) {
            coming.entry(at(end)).or_default().insert(by(conductor));
        }
    }
    if coming.is_empty() {
        return;
    }
    for conductor in list {
        let by = by(conductor);
        for end in [&mut conductor.from, &mut conductor.to] {
            let Some(word) = word(end) else { continue };
            let there = coming.get(&at(end)).filter(|there| there.len() > 1);
            let Some(n) = there.and_then(|there| there.get_index_of(&by)) else { continue };
            let number = format!("{word} {}", n + 1);
            end.words = if word == end.post { number } else { format!("{number}, {}", end.post.replace('-', " ")) };
        }
    }
}

/// A part in the way of the positive alone: a negative goes past it.
pub(super) fn is_bare(build: &Build<'_>, part: &Part<'_>) -> bool {
    part.role().is_some_and(Role::passes_through) && own_bar(build, part).is_none() && !has_negative(part)
}

/// The negative bar of a panel or busbar: one that mirrors it, or its own.
pub(super) fn own_bar(build: &Build<'_>, part: &Part<'_>) -> Option<Landing> {
    if let Some(bar) = build.mirror_of(&part.id) {
        return Some(Landing::on(build, &bar.id, Carries::Negative, PostSide::Out));
    }
    let has_ways = part.role().is_some_and(|r| r.has_ways() && r != Role::AcPanel);
    let own = has_ways && !part.roles.negative_bar().is_off();
    own.then(|| Landing::on(build, &part.id, Carries::Negative, PostSide::Out))
}

/// Where the current that leaves `part` comes back to.
pub(super) fn return_of(build: &Build<'_>, part: &str, network: Network) -> Landing {
    let above = build.upstream(part).along(|c| c.network == network && c.owner == c.to).single().parts();
    for here in build.parts.get(part).into_iter().chain(above) {
        if let Some(bar) = own_bar(build, here) {
            return bar;
        }
        match here.role() {
            Some(Role::Bank) => return of_bank(build, &here.id),
            // A return at the post upsets the vehicle's own measuring of it.
            Some(Role::StartBattery) => return Landing::words(&here.id, "chassis point"),
            Some(role) if !role.passes_through() || has_negative(here) && !role.has_ways() => {
                return Landing::on(build, &here.id, Carries::Negative, PostSide::Out);
            }
            _ => {}
        }
    }
    let bank = build.parts.values().find(|p| p.role() == Some(Role::Bank) && network == Network::Dc);
    bank.map_or_else(|| Landing::words(part, "minus of its supply"), |b| of_bank(build, &b.id))
}

/// A bank's return: the bar behind its shunt, the shunt, or its own post.
fn of_bank(build: &Build<'_>, bank: &str) -> Landing {
    if let Some(bar) = build.first_negative_bar() {
        return Landing::on(build, &bar.id, Carries::Negative, PostSide::Out);
    }
    let shunt = build.leaving(bank).find(|c| is_shunt(build, &c.to)).map(|c| c.to.as_str());
    Landing::on(build, shunt.unwrap_or(bank), Carries::Negative, PostSide::Out)
}

pub(super) fn is_shunt(build: &Build<'_>, part: &str) -> bool {
    build.parts.get(part).and_then(Part::role) == Some(Role::Shunt)
}

/// The nearest part on the way up, the first included, that has a protective earth to give.
pub(super) fn earth_of(build: &Build<'_>, circuit: &Circuit) -> Option<Landing> {
    let above = build.upstream(&circuit.from).along(|c| c.network == Network::Ac).single().parts();
    let mut parts = build.parts.get(&circuit.from).into_iter().chain(above);
    parts.find_map(|p| Some(Landing::at(p, post(p, Carries::Earth, PostSide::Out)?)))
}
