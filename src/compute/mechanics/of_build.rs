//! Applies the mechanics to a build and enters the figures in the ledger.

use super::fasteners;
use super::strut::{Lid, NoForce, RESERVE, STATED_AT, share_at};
use super::substrate::{self, Ground, Into, Stance};
use super::{CLOSING_LIMIT, Fixing, HEAVY, MechanicsFigures, Restraint, Struts, TieDown, restraint};
use crate::build::{Build, Part};
use crate::compute::formulas::mechanics as f;
use crate::compute::ledger::{Amount, Ledger, at_least, at_most};
use crate::compute::weight::Weight;
use crate::compute::weight::items::Item;
use crate::fields::Field;
use crate::kinds::{Content, Mechanics};
use crate::tables::bolts::{self, Class, DRY, Metric};
use crate::units::{Celsius, Degrees, Dimension, Kilograms, Metres, Ratio};
use std::collections::BTreeMap;

/// Distance of the outer rows of bolts over the length of the thing that they hold. Common practice, no source.
const ROWS: f64 = 0.8;

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
                Mechanics::Strut => match struts_of(build, &aboard, part) {
                    Ok(struts) => drop(all.struts.insert(part.id.clone(), struts)),
                    Err(why) => drop(all.no_force.insert(part.id.clone(), why)),
                },
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
            let limit = r.holds.map(|h| at_most(force(h)));
            let mut inputs = vec![r.mass.into(), bolts.into()];
            if let Some(fixing) = &r.fixing {
                let metres = |m: f64| Amount::from(Metres(m));
                let none = || Amount::Word("none".to_owned());
                inputs.push(if fixing.ground.into == Into::Frame { none() } else { metres(fixing.ground.sheet) });
                let unknown = || Amount::Word("not given".to_owned());
                inputs.push(fixing.stance.map_or_else(unknown, |s| metres(s.height)));
                inputs.push(fixing.stance.map_or_else(unknown, |s| metres(s.base)));
                inputs.push(Amount::Word(fixing.link.show().to_owned()));
                let formula = if fixing.stance.is_some() { &f::FIXING } else { &f::FIXING_SIDEWAYS };
                ledger.enter(formula, id, force(r.force), inputs, limit);
            } else {
                ledger.enter(&f::RESTRAINT, id, force(r.force), inputs, limit);
            }
            ledger.enter(&f::CRASH, id, force(r.crash), vec![r.mass.into()], None);
            if let Some(bolt) = r.size.as_deref().and_then(Metric::named) {
                let clamp = bolts::clamp(bolt, Class::C88);
                let torque = Amount::Of(Dimension::Torque, bolts::torque(DRY, bolt.diameter, clamp));
                let mark = format!("{} class {}", bolt.size, Class::C88.mark());
                ledger.enter(&f::TORQUE, id, torque, vec![mark.into(), DRY.into(), force(clamp)], None);
            }
        }
        for (id, t) in &self.tie_downs {
            let Some(points) = build.parts.get(id).and_then(points).filter(|n| *n > 0.0) else { continue };
            let one = t.rated / points;
            let limit = Some(at_least(force(t.required)));
            ledger.enter(&f::TIE_DOWN, id, force(t.rated), vec![points.into(), force(one), t.mass.into()], limit);
        }
        for (id, s) in &self.struts {
            let lever = s.lid.lever(s.lid.open_angle).unwrap_or_default();
            let degrees = |celsius: Option<f64>| {
                celsius.map_or_else(|| "20 °C, no season given".to_owned().into(), |t| Amount::from(Celsius(t)))
            };
            let share = |celsius: Option<f64>| Amount::from(Ratio(share_at(celsius.unwrap_or(STATED_AT))));
            let inputs = vec![
                (s.lid.mass - s.load).into(),
                s.load.into(),
                s.lid.centre.into(),
                s.lid.struts.into(),
                Amount::Of(Dimension::Angle, s.lid.rest_angle + s.lid.open_angle),
                lever.into(),
                force(s.holding),
                degrees(s.cold),
                share(s.cold),
            ];
            let limit = s.given.map(|g| at_most(force(g)));
            ledger.enter(&f::STRUT_FORCE, id, force(s.sized), inputs, limit);
            let one = s.given.unwrap_or(s.sized);
            if let Some(closing) = s.closing {
                let limit = Some(at_most(force(CLOSING_LIMIT)));
                ledger.enter(&f::CLOSING_FORCE, id, force(closing), vec![force(one), s.lid.length.into()], limit);
            }
            if let (Some(closing), Some(_)) = (s.closing_hot, s.hot) {
                let limit = Some(at_most(force(CLOSING_LIMIT)));
                let inputs = vec![force(one), degrees(s.hot), share(s.hot), s.lid.length.into()];
                ledger.enter(&f::CLOSING_FORCE_HOT, id, force(closing), inputs, limit);
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
            aboard.with.entry(own).or_default().push(item);
            for base in build.carriers(own) {
                aboard.on.entry(&base.id).or_default().push(item);
                aboard.with.entry(&base.id).or_default().push(item);
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
    let bolts = part.roles.bolts().get().map(whole);
    let size = part.roles.bolt_size().text().map(str::to_owned);
    let thread = size.as_deref().and_then(Metric::named);
    let crash = restraint::force(mass, restraint::CRASH);
    let (holds, fixing) = match bolts.zip(thread) {
        Some((n, thread)) => match fixing_of(part, n, thread) {
            Some((holds, fixing)) => (Some(holds), Some(fixing)),
            None => (Some(n * fasteners::shear(thread, Class::C88)), None),
        },
        None => (None, None),
    };
    Some(Restraint {
        mass,
        usual,
        force: restraint::force(mass, restraint::BREAKING[0]),
        crash,
        bolts,
        given: part.roles.bolts().given && part.roles.bolt_size().given,
        holds,
        fixing,
        size,
        needed: Metric::named("M8").map_or(0.0, |m8| fasteners::needed(crash, m8, Class::C88)),
    })
}

/// What the bolts of a part hold in what they go into; `None` where the spec does not say what that is.
fn fixing_of(part: &Part<'_>, bolts: f64, thread: Metric) -> Option<(f64, Fixing)> {
    let into = Into::read(part.roles.fixed_to().text()?)?;
    let ground = Ground {
        into,
        sheet: part.roles.sheet().get().map_or(substrate::USUAL_SHEET, |t| t.0),
        edge: part.roles.edge_distance().get().map(|e| e.0),
        plate: part.roles.backing_plate().get().map_or(substrate::USUAL_PLATE, |side| side.0),
    };
    // Pushed forward it tips about its front edge: the rows of its bolts lie within its own length.
    let stance = part.common.size.metres().map(|[long, _, high]| Stance { height: high / 2.0, base: ROWS * long });
    let (holds, link) = substrate::holds(&ground, thread, Class::C88, bolts, stance)?;
    Some((holds, Fixing { ground, stance, link }))
}

fn tie_down_of(aboard: &Aboard<'_>, part: &Part<'_>) -> Option<TieDown> {
    let one = part.roles.working_load().get()?.0;
    let riding: Kilograms = aboard.on.get(part.id.as_str()).into_iter().flatten().map(|i| i.mass).sum();
    let mass = part.roles.secures().get().into_iter().fold(riding, |all, loose| all + loose);
    let points = points(part)?;
    (mass.0 > 0.0).then(|| TieDown {
        mass,
        required: restraint::working_load(mass),
        rated: one * points,
        given: part.roles.working_load().given,
    })
}

/// Points of all pieces of a lashing rail.
fn points(part: &Part<'_>) -> Option<f64> {
    Some(whole(part.roles.points().get()?) * part.times())
}

fn struts_of(build: &Build<'_>, aboard: &Aboard<'_>, part: &Part<'_>) -> Result<Struts, NoForce> {
    let strut = part.roles.strut.as_ref().ok_or(NoForce::NoMeasure("lid_mass"))?;
    let degrees = |field: &Field<Degrees>, name| field.get().map(|a| a.0).ok_or(NoForce::NoMeasure(name));
    let metres = |field: &Field<Metres>, name| field.get().ok_or(NoForce::NoMeasure(name));
    let load = on_lid(build, aboard, part);
    let own = strut.lid_mass.get().ok_or(NoForce::NoMeasure("lid_mass"))?;
    // Hung from its upper edge a lid begins below the level of its hinge, hinged at its lower edge above it.
    let tilt = degrees(&strut.lid_at_rest, "lid_at_rest")?.abs();
    let lid = Lid {
        struts: strut.struts.get().map(whole).ok_or(NoForce::NoMeasure("struts"))?,
        mass: own + load,
        length: metres(&strut.lid_length, "lid_length")?,
        centre: metres(&strut.centre_of_gravity, "centre_of_gravity")?,
        arm_lid: metres(&strut.arm_lid, "arm_lid")?,
        arm_body: metres(&strut.arm_body, "arm_body")?,
        body_angle: degrees(&strut.body_angle, "body_angle")?,
        open_angle: degrees(&strut.open_angle, "open_angle")?,
        rest_angle: if strut.hinge.is("bottom") { tilt } else { -tilt },
    };
    if own.0 <= 0.0 {
        return Err(NoForce::NoMeasure("lid_mass"));
    }
    let holding = lid.holding_force()?;
    let given = strut.force.get().map(|f| f.0);
    let seasons = || build.climates.values();
    let both = |a: &Field<Celsius>, b: &Field<Celsius>| [a.get(), b.get()].into_iter().flatten().map(|t| t.0);
    let cold = seasons().flat_map(|c| both(&c.record_low, &c.low)).reduce(f64::min);
    let hot = seasons().flat_map(|c| both(&c.record_high, &c.high)).reduce(f64::max);
    // Where it is never colder than that, a strut still has to hold at 20 °C.
    let cold = cold.map(|t| t.min(STATED_AT));
    let sized = holding * RESERVE / share_at(cold.unwrap_or(STATED_AT));
    let one = given.unwrap_or(sized);
    let closing_hot = hot.and_then(|t| lid.closing_force(one * share_at(t)));
    Ok(Struts { lid, load, cold, hot, holding, sized, given, closing: lid.closing_force(one), closing_hot })
}

/// Mass that lies on a lid when it is opened: as given, else the bedding of the bed it belongs to; and what rests on it.
fn on_lid(build: &Build<'_>, aboard: &Aboard<'_>, part: &Part<'_>) -> Kilograms {
    let riding: Kilograms = aboard.on.get(part.id.as_str()).into_iter().flatten().map(|i| i.mass).sum();
    if let Some(given) = part.roles.lid_load().get() {
        return given + riding;
    }
    let named = part.roles.lid_of().all();
    let is_its = |bed: &&Part<'_>| match named {
        [] => bed.places.iter().any(|p| part.places.contains(p)),
        named => named.iter().any(|n| n.value == bed.id),
    };
    let bedding = |bed: &Part<'_>| bed.bedding.get();
    riding + build.parts.values().filter(is_its).filter_map(bedding).sum::<Kilograms>()
}

fn whole(n: i64) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "the reader bounds counts far below 2^52")]
    let n = n.max(0) as f64;
    n
}
