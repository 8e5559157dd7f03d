//! Bonds to the body and links between the batteries of a bank.

use super::ends::{has_bars, post};
use super::{Conductor, Landing, Purpose, Route};
use crate::build::{Build, Part};
use crate::kinds::{Carries, Post, PostSide, Role};
use crate::source::Span;

pub(super) fn conductors(build: &Build<'_>) -> Vec<Conductor> {
    let mut list = Vec::new();
    for part in build.parts.values() {
        if part.role() == Some(Role::Bank) {
            if has_bars(part) {
                batteries(part, &mut list);
            } else {
                links(part, &mut list);
            }
        }
        if part.roles.chassis_bond.is_some() {
            bonds(build, part, &mut list);
        }
    }
    list
}

/// A conductor of no circuit.
pub(super) fn plain(
    owner: &Part<'_>,
    local: &str,
    carries: Carries,
    ends: [Landing; 2],
    purpose: Purpose,
) -> Conductor {
    let id = format!("{}.{local}", owner.id);
    let [from, to] = ends;
    Conductor {
        cable: id.clone(),
        id,
        owner: owner.id.clone(),
        local: local.to_owned(),
        circuit: None,
        also: None,
        carries,
        from,
        to,
        purpose,
        fuse: None,
        shielded: false,
        makers: None,
        route: Route::default(),
        span: owner.span,
        confidential: owner.confidential,
    }
}

/// Between the first battery and the second two links, positive and negative, and so on: with one more battery the others
/// keep their numbers.
fn links(bank: &Part<'_>, list: &mut Vec<Conductor>) {
    let Some(batteries) = bank.roles.parallel().get() else { return };
    for n in 1..batteries {
        for (number, carries, post) in [(2 * n - 1, Carries::Positive, "plus"), (2 * n, Carries::Negative, "minus")] {
            let end = |battery: i64| Landing {
                post: post.to_owned(),
                ..Landing::words(&bank.id, &format!("battery {battery}, {post}"))
            };
            list.push(plain(bank, &format!("link-{number}"), carries, [end(n), end(n + 1)], Purpose::Link));
        }
    }
}

/// From each battery to the bars that collect them: plus over its own fuse, and minus.
fn batteries(bank: &Part<'_>, list: &mut Vec<Conductor>) {
    let (Some(batteries), Some(role)) = (bank.roles.parallel().get(), &bank.roles.bank) else { return };
    for n in 1..=batteries {
        for (back, carries, post) in [("", Carries::Positive, "plus"), ("-return", Carries::Negative, "minus")] {
            let own = Landing { post: post.to_owned(), ..Landing::words(&bank.id, &format!("battery {n}, {post}")) };
            let bar = Landing::collecting(&bank.id, post);
            let ends = if back.is_empty() { [own, bar] } else { [bar, own] };
            let mut conductor = plain(bank, &format!("battery-{n}{back}"), carries, ends, Purpose::Battery);
            conductor.fuse = role.battery_fuse.get().filter(|_| back.is_empty());
            conductor.route.length = role.battery_run.get();
            list.push(conductor);
        }
    }
}

/// From the negative bar to the point, and from each case to it.
fn bonds(build: &Build<'_>, bond: &Part<'_>, list: &mut Vec<Conductor>) {
    let body = || {
        let post = post(bond, Carries::Bond, PostSide::In);
        post.map_or_else(|| Landing::words(&bond.id, "body"), |post| Landing::at(bond, post))
    };
    let negative = build.first_negative_bar().or_else(|| build.parts.values().find(|p| p.role() == Some(Role::Bank)));
    if let Some(negative) = negative {
        let from = Landing::on(build, &negative.id, Carries::Negative, PostSide::Out);
        list.push(plain(bond, "bond", Carries::Bond, [from, body()], Purpose::Bond));
    }
    let named = bond.roles.chassis_bond.iter().flat_map(|b| b.equipment.all());
    let named: Vec<(&Part<'_>, Span)> =
        named.filter_map(|id| Some((build.parts.get(&id.value)?, span_or(id.span, bond.span)))).collect();
    let is_named = |part: &Part<'_>| named.iter().any(|(one, _)| one.id == part.id);
    // What has to be bonded whether or not somebody names it.
    let asked = build.parts.values().filter(|part| part.id != bond.id && asks_for_bond(part) && !is_named(part));
    for (part, span) in named.iter().copied().chain(asked.map(|part| (part, part.span))) {
        // Of a consumer unit it is the earth bar, of a pipe the clamp round it, of a machine its case.
        let bar = post(part, Carries::Earth, PostSide::In).filter(|_| part.role().is_some_and(Role::has_ways));
        let own = bar.or_else(|| own_bond(part));
        let from = own.map_or_else(|| Landing::words(&part.id, "case"), |post| Landing::at(part, post));
        let mut conductor = plain(part, "bond", Carries::Bond, [from, body()], Purpose::EquipmentBond);
        conductor.span = span;
        conductor.confidential |= bond.confidential;
        list.push(conductor);
    }
}

/// The post of a part that takes a bond.
fn own_bond<'a>(part: &'a Part<'_>) -> Option<&'a Post> {
    part.kind.posts.iter().find(|post| post.takes == Carries::Bond)
}

/// Whether a part is bonded though nobody names it: its kind has a post for that, or it has the bar that the protective earths
/// of the van meet on.
fn asks_for_bond(part: &Part<'_>) -> bool {
    own_bond(part).is_some() || part.role() == Some(Role::AcPanel)
}

const fn span_or(span: Span, other: Span) -> Span {
    if span.start == span.end { other } else { span }
}
