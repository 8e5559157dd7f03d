//! Electrical hazards that hold for a whole stage; they stand before everything else in the packet.

use crate::documents::{CautionView, Context};
use crate::kinds::{Network, Role, Signal, Stage};
use crate::units::Amps;

/// The hazards of `stage`, by what this build has.
pub(super) fn of(context: &Context<'_>, stage: Stage) -> Vec<CautionView> {
    let build = context.build;
    let has_role = |role: Role| build.parts.values().any(|p| p.role() == Some(role));
    let circuits = build.has_wiring_work();
    let bank = has_role(Role::Bank);
    let mains = build.circuits.values().any(|c| c.network == Network::Ac && build.is_worked_on(c));
    let old_mains = build.circuits.values().any(|c| c.network == Network::Ac && !build.is_worked_on(c));
    let solar = has_role(Role::Array);
    let generator = has_role(Role::Generator);
    let mut all = Vec::new();
    match stage {
        // What others wired lies behind linings that come off, beside cables that are pulled.
        Stage::Intake if old_mains => all.push(mains_off(generator)),
        Stage::ElectricalRoughIn if circuits => {
            if old_mains {
                all.push(mains_off(generator));
            }
            all.push(vehicle_battery());
            all.push(message(
                Signal::Notice,
                "Cable ends stay open until fit-off.",
                "A bare end that touches metal later blows a fuse or burns the cable.",
                "Cut each end square, cap it, label it, and leave it unconnected.",
            ));
        }
        Stage::ElectricalFitOff if circuits => {
            all.push(vehicle_battery());
            if bank {
                all.push(bank_arc(
                    context,
                    "Leave the main fuse out. Cover every post. Take off rings and watches. Use insulated tools.",
                ));
            }
            if solar {
                all.push(sun());
            }
            if mains || old_mains {
                all.push(mains_off(generator));
            }
        }
        Stage::PlumbingFitOff | Stage::Exterior => {
            if bank {
                all.push(bank_arc(
                    context,
                    "Open the main disconnect and take the main fuse out before you drill or work near cables.",
                ));
            }
            if solar && stage == Stage::Exterior {
                all.push(sun());
            }
            if mains {
                all.push(mains_off(generator));
            }
        }
        Stage::Commissioning => {
            if mains {
                all.push(mains_live());
            }
            if bank {
                all.push(bank_arc(
                    context,
                    "Take off rings and watches. Use insulated tools and fused test leads. Keep posts covered.",
                ));
            }
            if solar {
                all.push(sun());
            }
        }
        _ => {}
    }
    all
}

/// What to make safe before finished wiring of these networks is opened again.
pub(in crate::documents) fn of_finished_wiring(context: &Context<'_>, networks: &[Network]) -> Vec<CautionView> {
    let has = |network: Network| networks.contains(&network);
    let has_role = |role: Role| context.build.parts.values().any(|p| p.role() == Some(role));
    let (bank, generator) = (has_role(Role::Bank), has_role(Role::Generator));
    let mut all = Vec::new();
    if has(Network::Ac) {
        all.push(mains_off(generator));
    }
    if has(Network::Start) {
        all.push(vehicle_battery());
    }
    if bank && (has(Network::Dc) || has(Network::Start)) {
        all.push(bank_arc(
            context,
            "Open the main disconnect, switch every charger off and take the main fuse out. \
             Prove the cable dead with a tested meter before you cut or loosen it.",
        ));
    }
    if has(Network::Pv) {
        all.push(sun());
    }
    all
}

fn message(signal: Signal, hazard: &str, consequence: &str, avoid: &str) -> CautionView {
    let text = str::to_owned;
    CautionView { signal: signal.title(), hazard: text(hazard), consequence: text(consequence), avoid: text(avoid) }
}

fn vehicle_battery() -> CautionView {
    message(
        Signal::Warning,
        "The vehicle's own battery feeds cables behind the panels.",
        "A drill, blade or bare end that meets one can arc, burn and fire an airbag.",
        "Disconnect the vehicle's battery as its maker describes, and wait as long as its maker says, before the first cut.",
    )
}

fn bank_arc(context: &Context<'_>, avoid: &str) -> CautionView {
    let fault = context.electrical.banks.values().filter_map(|b| b.fault).fold(Amps(0.0), Amps::max);
    let hazard = if fault > Amps(0.0) {
        format!("The house bank can drive about {} through a short.", fault.show(context.build.prints()))
    } else {
        "The house bank can drive a very high current through a short.".to_owned()
    };
    message(Signal::Warning, &hazard, "A tool across two posts can melt, burn you and start a fire.", avoid)
}

fn sun() -> CautionView {
    message(
        Signal::Warning,
        "Solar modules give voltage whenever light falls on them.",
        "Opening a loaded string or touching both ends can arc, burn or shock.",
        "Cover the modules and open the solar isolator before you touch a string or its controller.",
    )
}

fn mains_off(generator: bool) -> CautionView {
    message(
        Signal::Danger,
        if generator {
            "AC conductors are live when shore power is plugged in, an inverter is on or a generator runs."
        } else {
            "AC conductors are live when shore power is plugged in or an inverter is on."
        },
        "Contact kills or injures gravely.",
        if generator {
            "Unplug shore, isolate the inverter, take the start fuse of the generator out, lock all off, and prove each \
             conductor dead with a tested meter. Local codes decide who may do AC work; leave it to a licensed person \
             where they ask for one."
        } else {
            "Unplug shore, isolate the inverter, lock both off, and prove each conductor dead with a tested meter. \
             Local codes decide who may do AC work; leave it to a licensed person where they ask for one."
        },
    )
}

fn mains_live() -> CautionView {
    message(
        Signal::Danger,
        "AC circuits are live during these tests.",
        "Contact kills or injures gravely.",
        "Keep covers on wherever a test does not need them off. Use leads and meters rated for the voltage. \
         Leave AC tests to a licensed person where local codes ask for one.",
    )
}
