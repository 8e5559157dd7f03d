//! The way of the water from a pump to an outlet, by the pipes of a build.

use super::friction::{HOSE, Pipe, SMOOTH};
use crate::build::{Build, Part};
use crate::fields::Field;
use crate::kinds::PlumbingRole;
use crate::units::Metres;
use std::collections::BTreeSet;

/// Temperature of the water in the cold lines, °C. Source: [`crate::tables::sources::COLD_SUPPLY`].
pub(super) const COLD: f64 = 10.0;

/// Temperature of the water in the hot lines, °C. Source: [`crate::tables::sources::COLD_SUPPLY`].
pub(super) const HOT: f64 = 50.0;

/// One way from a pump to an outlet.
#[derive(Clone, Debug)]
pub struct Line<'a> {
    /// Whether its last pipe carries hot water.
    pub hot: bool,
    /// The pump.
    pub pump: &'a Part<'a>,
    /// Its pipes, the outlet's first; those on the suction side of the pump last.
    pub pipes: Vec<&'a Part<'a>>,
    /// Filters on the way.
    pub filters: Vec<&'a Part<'a>>,
}

/// Parts that play `role`.
pub(crate) fn of_role<'a>(build: &'a Build<'_>, role: PlumbingRole) -> impl Iterator<Item = &'a Part<'a>> {
    build.parts.values().filter(move |p| role_of(p) == Some(role))
}

/// Part that `part` plays in the water system.
fn role_of(part: &Part<'_>) -> Option<PlumbingRole> {
    part.kind.plumbing.map(|p| p.role)
}

/// The pipe of a pipe run: its own bore, its fittings as bends of one diameter. `None` without bore or length.
pub(crate) fn pipe_of(run: &Part<'_>) -> Option<Pipe> {
    let of = |field: &Field<Metres>| field.get().map(|m| m.0);
    let hose = run.roles.material().text().is_some_and(|m| m.ends_with("hose"));
    Some(Pipe {
        diameter: of(run.roles.inside_diameter()).filter(|d| *d > 0.0)?,
        length: of(run.roles.length())?,
        bends: crate::compute::network::count(run.roles.bends().get()?),
        bend_radius: 1.0,
        roughness: if hose { HOSE } else { SMOOTH },
        rise: of(run.roles.rise())?,
    })
}

/// What runs in a pipe run.
fn medium<'a>(run: &'a Part<'_>) -> &'a str {
    run.roles.medium().or_empty()
}

/// Pipes with pressure in them that end at `part`.
fn arriving<'a>(build: &'a Build<'_>, part: &'a str, media: &'a [&'a str]) -> impl Iterator<Item = &'a Part<'a>> {
    of_role(build, PlumbingRole::Pipe).filter(move |r| r.roles.to().first() == Some(part) && media.contains(&medium(r)))
}

/// Whether a pipe run carries hot water.
pub(super) fn is_hot(run: &Part<'_>) -> bool {
    run.roles.medium().is("hot")
}

/// All ways from a pump to `outlet`, one for each pipe that ends there.
///
/// A pipe is followed back from end to beginning. Something that no pipe leads to, such as a heater that stands at the
/// pump, takes its water from the build's first pump. A filter that no pipe names stands in every cold way.
#[must_use]
pub fn lines_to<'a>(build: &'a Build<'_>, outlet: &'a str) -> Vec<Line<'a>> {
    let Some(first_pump) = of_role(build, PlumbingRole::Pump).next() else { return Vec::new() };
    arriving(build, outlet, &["cold", "hot"]).map(|last| follow(build, last, first_pump)).collect()
}

fn follow<'a>(build: &'a Build<'_>, last: &'a Part<'a>, first_pump: &'a Part<'a>) -> Line<'a> {
    let hot = medium(last) == "hot";
    let (mut pipes, mut filters, mut pump) = (vec![last], Vec::new(), first_pump);
    let mut seen = BTreeSet::from([last.id.as_str()]);
    let mut at = last.roles.from().first();
    while let Some(id) = at {
        let Some(part) = build.parts.get(id) else { break };
        match role_of(part) {
            Some(PlumbingRole::Pump) => {
                pump = part;
                break;
            }
            Some(PlumbingRole::Filter) => filters.push(part),
            // A tee is written as a pipe that begins at another pipe.
            Some(PlumbingRole::Pipe) if seen.insert(part.id.as_str()) => {
                pipes.push(part);
                at = part.roles.from().first();
                continue;
            }
            _ => {}
        }
        let next = arriving(build, id, &["cold", "hot", "suction"]).find(|r| !seen.contains(r.id.as_str()));
        let Some(next) = next else { break };
        seen.insert(next.id.as_str());
        pipes.push(next);
        at = next.roles.from().first();
    }
    pipes.extend(arriving(build, &pump.id, &["suction", "cold"]).filter(|r| !seen.contains(r.id.as_str())));
    if !hot {
        let in_a_pipe = |f: &Part<'_>| {
            of_role(build, PlumbingRole::Pipe)
                .any(|r| r.roles.from().first() == Some(&f.id) || r.roles.to().first() == Some(&f.id))
        };
        filters.extend(of_role(build, PlumbingRole::Filter).filter(|f| !in_a_pipe(f)));
    }
    Line { hot, pump, pipes, filters }
}
