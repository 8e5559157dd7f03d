//! DC networks of a build that is drawn: parts are for the voltage of what feeds them, and converters stand between two.

use super::draft::Table;
use super::plan::PartPlan;
use super::wiring::{Placed, Site, fields_of, kinds_that};
use indexmap::IndexMap;
use rigbinder::kinds::{Kind, Network, Role};
use toml::Value;

/// Nominal voltage that kinds are for where they say nothing else.
pub(super) const TWELVE: u16 = 12;

/// Nominal voltage of the system that something of `volts` is of.
pub(super) fn system(volts: f64) -> u16 {
    if volts > 36.0 {
        48
    } else if volts > 18.0 {
        24
    } else {
        TWELVE
    }
}

/// What parts that stand already give on: a table a part, feeders first.
pub(super) fn read_back<'a>(standing: &mut [Placed], tables: impl Iterator<Item = &'a Table>) {
    let text = |table: &Table, field: &str| table.fields.get(field).and_then(Value::as_str).map(str::to_owned);
    let number = |table: &Table, field: &str| text(table, field)?.split(' ').next()?.parse::<f64>().ok();
    for table in tables {
        let fed = text(table, "fed_from");
        let above = standing.iter().find(|p| Some(&p.id) == fed.as_ref()).map_or(TWELVE, |p| p.volts);
        let Some(own) = standing.iter_mut().find(|p| Some(&p.id) == table.id.as_ref()) else { continue };
        let gives = match own.kind.electric.map(|e| e.role) {
            Some(Role::Bank) => number(table, "voltage"),
            Some(Role::Converter) => number(table, "output_voltage"),
            _ => None,
        };
        own.volts = gives.map_or(above, system);
    }
}

impl Site {
    /// Makes a part one for the DC network that feeds it, or that it charges; the voltage of what it gives on.
    pub(super) fn suit(&self, kind: &Kind, fields: &mut IndexMap<String, Value>, needed: &mut Vec<String>) -> u16 {
        let link = |name: &str| {
            let to = fields.get(name).and_then(Value::as_str);
            self.placed.iter().find(|p| Some(p.id.as_str()) == to).map(|p| p.volts)
        };
        let (fed, charged) = (link("fed_from"), link("feeds"));
        let Some(electric) = kind.electric else { return TWELVE };
        let mut give = |name: &str, volts: u16| {
            if fields_of(&kind.id).contains_key(name) {
                fields.insert(name.to_owned(), Value::from(format!("{volts} V")));
                needed.push(name.to_owned());
            }
        };
        let fed_with = fed.unwrap_or(self.volts);
        let uses =
            matches!(electric.role, Role::Load | Role::Display | Role::Inverter | Role::InverterCharger | Role::Outlet);
        if electric.network == Network::Dc && fed_with != TWELVE {
            match electric.role {
                Role::Panel | Role::SwitchPanel => give("way_voltage", 58),
                Role::Protection => give("rated_voltage", 125),
                _ if uses => give("made_for", fed_with),
                _ => {}
            }
        }
        if electric.role == Role::Charger || electric.role == Role::Alternator && electric.network == Network::Dc {
            give("output_voltage", charged.unwrap_or(self.volts));
        }
        if electric.role == Role::Bank {
            give("voltage", self.volts);
        }
        match electric.role {
            Role::Converter => fields
                .get("output_voltage")
                .and_then(Value::as_str)
                .map_or(TWELVE, |text| text.split(' ').next().and_then(|n| n.parse().ok()).map_or(TWELVE, system)),
            Role::Bank => self.volts,
            _ => fed_with,
        }
    }

    /// A converter of either kind on the busbar of the bank, and a busbar behind it.
    pub(super) fn converter(&mut self, plan: &PartPlan, top: Option<&str>) {
        let Some(top) = top.map(str::to_owned) else { return };
        let others: Vec<u16> = [12, 24, 48].into_iter().filter(|volts| *volts != self.volts).collect();
        let out = others[usize::from(plan.die.which) % others.len()];
        let from = f64::from(self.volts);
        let fits = |kind: &&Kind| {
            let [least, most] = kind.electric.expect("electric").made_for().map(|v| v.0);
            // What steps down is made for no 12 V.
            (least..=most).contains(&from) && (out < self.volts) == (least > f64::from(TWELVE))
        };
        let kinds = kinds_that(|role, _| role == Role::Converter);
        let Some(kind) = kinds.into_iter().find(fits) else { return };
        let given = ("output_voltage", format!("{} V", f64::from(out) * 1.04));
        let id = self.tie(kind, plan, &[("fed_from", top), given, ("rating", "60 A".to_owned())]);
        self.of_role(Role::Bus, Network::Dc, plan, &[("fed_from", id)]);
    }
}
