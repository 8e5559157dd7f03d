//! Applies the mechanics to a build and enters the figures in the ledger.

use super::fasteners::{self, DRY};
use super::strut::{Lid, RESERVE};
use super::{CLOSING_LIMIT, HEAVY, MechanicsFigures, Restraint, Struts, TieDown, restraint};
use crate::build::{Build, Part};
use crate::compute::formulas::mechanics as f;
use crate::compute::ledger::{Amount, Ledger, at_least, at_most};
use crate::compute::weight::Weight;
use crate::compute::weight::items::Item;
use crate::fields::Record;
use crate::kinds::{Content, Mechanics};
use crate::tables::bolts::{Class, Metric};
use crate::units::{Dimension, Kilograms};
use std::collections::BTreeMap;

impl MechanicsFigures {
    /// The mechanics of `build`. What the spec leaves out gives no figure.
    pub fn compute(build: &Build<'_>, weight: &Weight, ledger: &mut Ledger) -> Self {
        let mut all = Self::default();
        let aboard = Aboard::of(build, weight);
        for part in build.parts.values() {
            let Some(role) = part.kind.mechanics.map(|m| m.role) else { continue };
            match role {
                Mechanics::Held | Mechanics::Tray => {
                    if let Some(held) = restraint_of(&aboard, part) {
                        all.restraints.insert(part.id.clone(), held);
                    }
                }
                Mechanics::Lashing => {
                    if let Some(points) = tie_down_of(&aboard, part) {
                        all.tie_downs.insert(part.id.clone(), points);
                    }
                }
                Mechanics::Strut => {
                    if let Some(struts) = struts_of(part) {
                        all.struts.insert(part.id.clone(), struts);
                    }
                }
            }
        }
        all.enter(build, ledger);
        all
    }

    fn enter(&self, build: &Build<'_>, ledger: &mut Ledger) {
        let force = |newtons: f64| Amount::Of(Dimension::Force, newtons);
        for (id, r) in &self.restraints {
            let bolts = match (r.bolts, &r.size) {
                (Some(n), Some(size)) => format!("{n} × {size}"),
                _ => format!("not given; {} × M8 would do", r.needed),
            };
            let limit = r.holds.and_then(|h| at_most(r.force, h, Dimension::Force));
            ledger.enter(&f::RESTRAINT, id, force(r.force), vec![r.mass.into(), bolts.into()], limit);
            ledger.enter(&f::CRASH, id, force(r.crash), vec![r.mass.into()], None);
            if let Some(bolt) = r.size.as_deref().and_then(Metric::named) {
                let clamp = fasteners::clamp(bolt, Class::C88);
                let torque = Amount::Of(Dimension::Torque, fasteners::torque(DRY, bolt.diameter, clamp));
                let mark = format!("{} class {}", bolt.size, Class::C88.mark());
                ledger.enter(&f::TORQUE, id, torque, vec![mark.into(), DRY.into(), force(clamp)], None);
            }
        }
        for (id, t) in &self.tie_downs {
            let points = build.parts.get(id).map_or(0.0, points);
            let one = if points > 0.0 { t.rated / points } else { 0.0 };
            let limit = at_least(t.rated, t.required, Dimension::Force);
            ledger.enter(&f::TIE_DOWN, id, force(t.rated), vec![points.into(), force(one), t.mass.into()], limit);
        }
        for (id, s) in &self.struts {
            let lever = s.lid.lever(s.lid.open_angle).unwrap_or_default();
            let inputs =
                vec![s.lid.mass.into(), s.lid.centre.into(), s.lid.struts.into(), lever.into(), force(s.holding)];
            ledger.enter(&f::STRUT_FORCE, id, force(s.sized), inputs, None);
            if let Some(closing) = s.closing {
                let inputs = vec![force(s.given.unwrap_or(s.sized)), s.lid.length.into()];
                let limit = at_most(closing, CLOSING_LIMIT, Dimension::Force);
                ledger.enter(&f::CLOSING_FORCE, id, force(closing), inputs, limit);
            }
        }
    }
}

/// Items by the part they are and by the part they ride on.
struct Aboard<'a> {
    with: BTreeMap<&'a str, Vec<&'a Item>>,
    on: BTreeMap<&'a str, Vec<&'a Item>>,
}

impl<'a> Aboard<'a> {
    fn of(build: &'a Build<'_>, weight: &'a Weight) -> Self {
        let mut aboard = Self { with: BTreeMap::new(), on: BTreeMap::new() };
        for item in &weight.items.all {
            let own = item.part.as_str();
            let base = build.parts.get(own).and_then(Part::rides_on);
            aboard.with.entry(own).or_default().push(item);
            if let Some(base) = base {
                aboard.on.entry(base).or_default().push(item);
                if base != own {
                    aboard.with.entry(base).or_default().push(item);
                }
            }
        }
        aboard
    }

    /// Mass that moves with one piece of `part`: itself, what it holds but people, and what rides on it.
    fn moving(&self, part: &Part<'_>) -> (Kilograms, bool) {
        let with = self.with.get(part.id.as_str()).map_or(&[][..], Vec::as_slice);
        let moving = || with.iter().filter(|i| i.content != Some(Content::People));
        (moving().map(|i| i.mass).sum::<Kilograms>() / part.times(), moving().any(|i| i.usual))
    }
}

fn restraint_of(aboard: &Aboard<'_>, part: &Part<'_>) -> Option<Restraint> {
    let (mass, usual) = aboard.moving(part);
    if mass < HEAVY {
        return None;
    }
    let bolts = part.record.count("bolts").map(whole);
    let size = part.record.text("bolt_size").map(str::to_owned);
    let thread = size.as_deref().and_then(Metric::named);
    let crash = restraint::force(mass, restraint::CRASH);
    Some(Restraint {
        mass,
        usual,
        force: restraint::force(mass, restraint::BREAKING[0]),
        crash,
        bolts,
        given: part.record.gave("bolts") && part.record.gave("bolt_size"),
        holds: bolts.zip(thread).map(|(n, t)| n * fasteners::shear(t, Class::C88)),
        size,
        needed: Metric::named("M8").map_or(0.0, |m8| fasteners::needed(crash, m8, Class::C88)),
    })
}

fn tie_down_of(aboard: &Aboard<'_>, part: &Part<'_>) -> Option<TieDown> {
    let one = newtons(part.record, "working_load")?;
    let riding: Kilograms = aboard.on.get(part.id.as_str()).into_iter().flatten().map(|i| i.mass).sum();
    let mass = riding + part.record.kilograms("secures").unwrap_or_default();
    (mass.0 > 0.0).then(|| TieDown {
        mass,
        required: restraint::working_load(mass),
        rated: one * points(part),
        given: part.record.gave("working_load"),
    })
}

/// Points of all pieces of a lashing rail.
fn points(part: &Part<'_>) -> f64 {
    part.record.count("points").map_or(1.0, whole) * part.times()
}

fn struts_of(part: &Part<'_>) -> Option<Struts> {
    let r = part.record;
    let degrees = |field: &str| r.quantity(field, Dimension::Angle).map(|q| q.value);
    let lid = Lid {
        struts: r.count("struts").map(whole)?,
        mass: r.kilograms("lid_mass")?,
        length: r.metres("lid_length")?,
        centre: r.metres("centre_of_gravity")?,
        arm_lid: r.metres("arm_lid")?,
        arm_body: r.metres("arm_body")?,
        body_angle: degrees("body_angle")?,
        open_angle: degrees("open_angle")?,
        rest_angle: degrees("lid_at_rest")?,
    };
    let holding = lid.holding_force()?;
    let given = newtons(r, "force");
    let sized = holding * RESERVE;
    Some(Struts { lid, holding, sized, given, closing: lid.closing_force(given.unwrap_or(sized)) })
}

fn newtons(record: &Record, field: &str) -> Option<f64> {
    record.quantity(field, Dimension::Force).map(|q| q.value)
}

fn whole(n: i64) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "the reader bounds counts far below 2^52")]
    let n = n.max(0) as f64;
    n
}
