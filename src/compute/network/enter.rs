//! Enters the electrical figures in the ledger.

use super::{Bank, CircuitFigures, DeviceAt, Electrical, assumed, demand, ends, supply_drop};
use crate::build::{Build, Circuit};
use crate::compute::electrical::interrupting::Interrupting;
use crate::compute::electrical::protection::cfr_largest_rating;
use crate::compute::electrical::{ac, acceptance};
use crate::compute::formulas::electrical as f;
use crate::compute::ledger::{Amount, Hold, Ledger, at_least, at_most};
use crate::kinds::{Network, Role};
use crate::tables::ampacity_rule::AmpacityRule;
use crate::tables::rv_low_voltage;
use crate::units::{Amps, Dimension, Seconds, System, number, significant, with_minus};

pub(super) fn enter(build: &Build<'_>, all: &Electrical, ledger: &mut Ledger) {
    for (id, figures) in &all.circuits {
        if let Some(circuit) = build.circuits.get(id) {
            enter_circuit((build, all), circuit, figures, ledger);
            enter_supply_drop(build, all, circuit, ledger);
            enter_acceptance(build, circuit, figures, ledger);
        }
    }
    enter_banks(all, ledger);
    for (id, panel) in &all.panels {
        let limit = panel.rating.map(at_most);
        ledger.enter(&f::LOADING, id, panel.carried, vec![panel.connected.into(), panel.diversity.into()], limit);
        for (formula, load) in [&f::LINE_ONE, &f::LINE_TWO].into_iter().zip(panel.lines.into_iter().flatten()) {
            ledger.enter(formula, id, load, vec![panel.diversity.into()], panel.rating.map(at_most));
        }
    }
    enter_loops(all, ledger);
    for part in build.parts.values() {
        let own = part.roles.generator.as_ref().and_then(|g| g.own_tank.get());
        let told = own.zip(part.roles.fuel_per_hour().get()).filter(|(_, hour)| hour.0 > 0.0);
        if let Some((tank, hour)) = told {
            let time = Seconds(tank.0 / hour.0 * 3600.0);
            ledger.enter(
                &f::TANK_TIME,
                &part.id,
                time,
                [tank, hour].map(|q| Amount::Of(Dimension::Volume, q.0)).to_vec(),
                None,
            );
        }
    }
    for part in build.parts.values().filter(|p| matches!(p.role(), Some(Role::Inverter | Role::InverterCharger))) {
        let told = (part.roles.power().get(), part.roles.efficiency().get(), part.roles.low_cutoff().get());
        let (Some(power), Some(efficiency), Some(low)) = told else { continue };
        let Some((steady, _)) = demand::inverter_draw(part) else { continue };
        let inputs = vec![power.into(), efficiency.into(), low.into()];
        ledger.enter(&f::INVERTER_CURRENT, &part.id, steady, inputs, None);
    }
    for (id, source) in &all.ac_sources {
        let limit = Some(at_most(source.capacity));
        ledger.enter(&f::AC_LOAD, id, source.fixed_load, vec![source.capacity.into()], limit);
    }
    enter_strings(build, all, ledger);
}

fn enter_loops(all: &Electrical, ledger: &mut Ledger) {
    for (id, found) in &all.loops {
        let volts = all.profile.ac.volts;
        let inputs = vec![ac::COLD.into(), volts.into(), found.curve.opens_at().into(), found.rating.into()];
        ledger.enter(&f::LOOP_MOST, id, found.most, inputs, None);
        if let Some(own) = found.own {
            ledger.enter(&f::LOOP_OWN, id, own, vec![found.lead.into()], Some(at_most(found.most)));
        }
    }
}

fn enter_circuit(
    (build, all): (&Build<'_>, &Electrical),
    circuit: &Circuit,
    figures: &CircuitFigures,
    ledger: &mut Ledger,
) {
    if figures.device.at == DeviceAt::Vehicle {
        return;
    }
    let id = circuit.id.as_str();
    let demand = figures.demand;
    let inputs = vec![demand.load.into(), demand.continuous.into(), all.profile.continuous_factor.into()];
    ledger.enter(&f::DESIGN_CURRENT, id, figures.design, inputs, None);
    let Some(sized) = figures.conductor() else { return };
    let rating = figures.device.rating;
    if let Some(ampacity) = &sized.ampacity {
        let inputs = vec![
            sized.show().into(),
            format!("{} °C", ampacity.insulation.limit().0).into(),
            ampacity.table.into(),
            ampacity.ambient_factor.into(),
            ampacity.bundle_factor.into(),
            ampacity.table_words().into(),
        ];
        // A return has no device of its own: it is held to that of its positive.
        let needed = rating.or(sized.protection).map_or(figures.design, |r| r.max(figures.design));
        let guess = assumed::of_conductor(build, circuit);
        let limit = at_least(needed).leaving_out(guess.clone());
        ledger.enter(&f::AMPACITY, id, ampacity.corrected, inputs, Some(limit));
        if let (Some(rating), true) = (rating, figures.device.is_own()) {
            let inputs = vec![figures.design.into(), ampacity.corrected.into(), figures.device.show().into()];
            let limit = at_most(ampacity.corrected).leaving_out(guess);
            ledger.enter(&f::PROTECTION, id, rating, inputs, Some(limit));
            let federal = figures.device.family.filter(|_| ampacity.rule == AmpacityRule::Cfr);
            if let (Some(family), Network::Dc | Network::Start) = (federal, circuit.network) {
                let cap = cfr_largest_rating(ampacity.corrected, figures.nominal, family);
                ledger.enter(&f::CFR_CAP, id, cap, vec![ampacity.corrected.into()], None);
                if let Some(most) = rv_low_voltage::largest_device(sized.size) {
                    let says = if rating.0 <= most.0 * (1.0 + 1e-9) { "within" } else { "above" };
                    let inputs = vec![sized.size.to_string().into(), rating.into(), says.to_owned().into()];
                    ledger.enter(&f::RV_TABLE, id, most, inputs, None);
                }
            }
        }
    }
    ends::enter(build, all, circuit, ledger);
    if figures.run_known {
        let inputs = vec![
            circuit.run.unwrap_or_default().into(),
            sized.drop.loop_resistance.into(),
            demand.load.into(),
            sized.drop_temperature(figures.installation.insulation.limit()).into(),
            sized.drop.volts.into(),
        ];
        let limit = at_most(figures.drop_limit).leaving_out(assumed::of_length(build, circuit));
        ledger.enter(&f::VOLTAGE_DROP, id, sized.drop.share, inputs, Some(limit));
        if let Some(share) = figures.total_share().filter(|_| super::is_end(build, circuit)) {
            let inputs = vec![sized.drop.share.into(), demand.load.into(), figures.total.into()];
            let limit = at_most(figures.drop_limit).leaving_out(assumed::of_path(build, circuit));
            ledger.enter(&f::TOTAL_DROP, id, share, inputs, Some(limit));
        }
    }
    if let (Some(fault), true) = (figures.fault, figures.device.is_own()) {
        let credited = figures.device.breaks.credited();
        let kept = figures.breaking.is_some_and(Interrupting::is_kept);
        let bound = credited.map_or_else(|| Amount::Word("none known".to_owned()), Amount::from);
        let limit = Some(at_most(bound).judged(kept).leaving_out(assumed::of_fault(build, circuit)));
        ledger.enter(&f::FAULT, id, fault.current, vec![fault.volts.into(), fault.ohms.into()], limit);
    }
}

/// What EN 1648-2 makes of the whole way to a load.
fn enter_supply_drop(build: &Build<'_>, all: &Electrical, circuit: &Circuit, ledger: &mut Ledger) {
    let Some(drop) = supply_drop(build, all, circuit) else { return };
    let amps = all.circuits.get(&circuit.id).map_or(Amps(0.0), |f| f.demand.running);
    let says = if drop.is_kept() { "within" } else { "above" };
    let inputs = vec![amps.into(), drop.ohms.into(), drop.most.into(), says.to_owned().into()];
    ledger.enter(&f::EN_1648_DROP, &circuit.id, drop.drop, inputs, None);
}

/// What the tests of a circuit expect of its conductors.
fn enter_acceptance(build: &Build<'_>, circuit: &Circuit, figures: &CircuitFigures, ledger: &mut Ledger) {
    let (Some(good), Some(sized), Some(run)) = (figures.acceptance, figures.conductor(), circuit.run) else { return };
    if figures.device.at == DeviceAt::Vehicle {
        return;
    }
    let amps = figures.demand.running;
    let id = circuit.id.as_str();
    let inputs = vec![
        run.into(),
        sized.size.to_string().into(),
        acceptance::end(sized.size).into(),
        significant(acceptance::stretch(run), 3).into(),
    ];
    let limit = |hold: Hold| Some(hold.leaving_out(assumed::of_length(build, circuit)));
    ledger.enter(&f::CONTINUITY, id, good.good.conductor, inputs, limit(at_most(good.good.conductor_most)));
    if !good.good.is_tellable() {
        let (drop, most) = (good.good.drop(amps), good.good.drop_most(amps));
        ledger.enter(&f::CONDUCTOR_DROP, id, drop, vec![good.good.warm.into(), amps.into()], limit(at_most(most)));
    }
    let ends = super::is_end(build, circuit);
    if let (Some(path), Some(most), true) = (good.path, good.below_most(amps), ends) {
        let inputs = vec![path.conductors.into(), path.most.into(), amps.into(), good.meters.into()];
        let limit = at_most(most).leaving_out(assumed::of_path(build, circuit));
        ledger.enter(&f::BELOW_SOURCE, id, figures.drop_alone, inputs, Some(limit));
    }
}

fn enter_banks(all: &Electrical, ledger: &mut Ledger) {
    for (id, bank) in &all.banks {
        let inputs = vec![bank.capacity.into(), bank.volts.into(), bank.usable_share.into()];
        ledger.enter(&f::BANK_ENERGY, id, bank.usable, inputs, None);
        if let Some(fault) = bank.fault {
            let from = bank.fault_from.clone().unwrap_or_else(|| {
                (if bank.fault_given { "not named" } else { "usual for such a bank, no source" }).to_owned()
            });
            let usual = bank.usual_fault.map_or_else(|| Amount::Word(String::new()), Amount::from);
            let range = bank.plausible_fault.map_or_else(String::new, |range| {
                let [low, high] = range.map(|amps| amps.show(System::Metric));
                format!("{low} to {high}")
            });
            let inputs = vec![bank.volts.into(), bank.resistance.into(), usual, range.into(), from.into()];
            ledger.enter(&f::BANK_FAULT, id, fault, inputs, None);
        }
        enter_batteries(id, bank, ledger);
        for (formula, value, limit) in
            [(&f::BANK_DISCHARGE, bank.discharge, bank.max_discharge), (&f::BANK_CHARGE, bank.charge, bank.max_charge)]
        {
            let bound = limit.map_or_else(|| Amount::Word("not given".to_owned()), Amount::from);
            ledger.enter(formula, id, value, vec![bound], limit.map(at_most));
        }
    }
}

/// Of batteries that have a fuse each.
fn enter_batteries(id: &str, bank: &Bank, ledger: &mut Ledger) {
    let Some((batteries, fuse)) = bank.batteries.as_ref().and_then(|b| Some((b, b.fuse?))) else { return };
    let number = || batteries.number.to_string().into();
    let inputs = vec![batteries.design.into(), number()];
    ledger.enter(&f::BATTERY_SHARE, id, batteries.share, inputs, Some(at_most(fuse)));
    if let (Some(fault), Some(all)) = (batteries.fault, bank.fault) {
        let kept = batteries.breaking.is_some_and(Interrupting::is_kept);
        let bound = batteries.credited.map_or_else(|| Amount::Word("none known".to_owned()), Amount::from);
        ledger.enter(&f::BATTERY_FAULT, id, fault, vec![all.into(), number()], Some(at_most(bound).judged(kept)));
    }
}

fn enter_strings(build: &Build<'_>, all: &Electrical, ledger: &mut Ledger) {
    for (id, string) in &all.strings {
        let controller = string.controller.as_ref().and_then(|c| build.parts.get(c));
        if let (Some(volts), Some(coldest)) = (string.voc_cold, string.coldest) {
            let bound = controller.and_then(|c| c.roles.max_pv_voltage().get());
            let per_kelvin = with_minus(&format!("{} %/K", number(string.per_kelvin.0 * 100.0)));
            let inputs = vec![string.voc.into(), per_kelvin.into(), coldest.into()];
            ledger.enter(&f::STRING_VOLTAGE, id, volts, inputs, bound.map(at_most));
        }
        let bound = controller.and_then(|c| c.roles.max_pv_current().get());
        ledger.enter(&f::STRING_CURRENT, id, string.isc, vec![string.isc.into()], bound.map(at_most));
    }
}
