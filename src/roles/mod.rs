//! What kinds must tell to play a part in a build: one file a role, each a struct and its contract.
//!
//! A kind says `[role.inverter]`; loading it holds the kind against the contract (`kinds`). A struct is built once a
//! part, when a build is expanded. Outside this room no code names a field of a kind.

mod ac_panel;
mod accumulator;
mod across;
mod alternator;
mod array;
mod bank;
mod bank_path;
mod basin;
mod burner;
mod bus;
mod charger;
mod chassis_bond;
mod city_inlet;
mod clearance;
mod co_alarm;
mod coil;
mod common;
mod compressor;
mod contract;
mod control;
mod control_board;
mod converter;
mod cooler;
mod cover;
mod device;
mod disconnect;
mod display;
mod drain_valve;
mod envelope;
mod escape_route;
mod escape_window;
mod evidence;
mod expiring;
mod extinguisher;
mod fill_inlet;
mod filter;
mod fresh_tank;
mod gas_line;
mod gas_regulator;
mod generator;
mod gives_heat;
mod grey_tank;
mod guessed;
mod hand_valve;
mod held;
mod inlet;
mod insulation;
mod inverter;
mod inverter_charger;
mod key;
mod keyed;
mod keypad;
mod lashing;
mod lead;
mod levelling;
mod load;
mod lp_alarm;
mod lpg_locker;
mod mass;
mod motor_valve;
mod negative_bar;
mod neutral_bond;
mod outlet;
mod output;
mod pad;
mod panel;
mod pipe;
mod post_given;
mod protection;
mod pump;
mod rcd;
mod sender;
mod settings;
mod shunt;
mod sleeping;
mod smoke_alarm;
mod space_heater;
mod start_battery;
mod strainer;
mod strut;
mod supply;
mod switch;
mod switch_panel;
mod trace;
mod transfer;
mod tray;
mod tyres;
mod warmer;
mod water_heater;
mod water_outlet;
mod weighing;
mod window;
mod winter_port;

pub use ac_panel::AcPanel;
pub use accumulator::Accumulator;
pub use alternator::Alternator;
pub use array::Array;
pub use bank::Bank;
pub use bank_path::BankPath;
pub use basin::Basin;
pub use burner::Burner;
pub use bus::Bus;
pub use charger::Charger;
pub use chassis_bond::ChassisBond;
pub use city_inlet::CityInlet;
pub use clearance::Clearance;
pub use co_alarm::CoAlarm;
pub use coil::Coil;
pub use common::Common;
pub use compressor::Compressor;
pub use contract::{Block, Contract, RoleField};
pub use control::Control;
pub use control_board::ControlBoard;
pub use converter::Converter;
pub use cooler::Cooler;
pub use cover::Cover;
pub use device::Device;
pub use disconnect::Disconnect;
pub use display::Display;
pub use drain_valve::DrainValve;
pub use envelope::Envelope;
pub use escape_route::EscapeRoute;
pub use escape_window::EscapeWindow;
pub use evidence::Evidence;
pub use expiring::Expiring;
pub use extinguisher::Extinguisher;
pub use fill_inlet::FillInlet;
pub use filter::Filter;
pub use fresh_tank::FreshTank;
pub use gas_line::GasLine;
pub use gas_regulator::GasRegulator;
pub use generator::Generator;
pub use gives_heat::GivesHeat;
pub use grey_tank::GreyTank;
pub use guessed::{GUESSED, LONGER, Worse};
pub use hand_valve::HandValve;
pub use held::Held;
pub use inlet::Inlet;
pub use insulation::Insulation;
pub use inverter::Inverter;
pub use inverter_charger::InverterCharger;
pub use key::Key;
pub use keyed::Keyed;
pub use keypad::Keypad;
pub use lashing::Lashing;
pub use lead::Lead;
pub use levelling::Levelling;
pub use load::Load;
pub use lp_alarm::LpAlarm;
pub use lpg_locker::LpgLocker;
pub use mass::Mass;
pub use motor_valve::MotorValve;
pub use negative_bar::NegativeBar;
pub use neutral_bond::NeutralBond;
pub use outlet::Outlet;
pub use output::Output;
pub use pad::Pad;
pub use panel::Panel;
pub use pipe::Pipe;
pub use post_given::PostGiven;
pub use protection::Protection;
pub use pump::Pump;
pub use rcd::Rcd;
pub use sender::Sender;
pub use shunt::Shunt;
pub use sleeping::Sleeping;
pub use smoke_alarm::SmokeAlarm;
pub use space_heater::SpaceHeater;
pub use start_battery::StartBattery;
pub use strainer::Strainer;
pub use strut::Strut;
pub use supply::Supply;
pub use switch::Switch;
pub use switch_panel::SwitchPanel;
pub use trace::Trace;
pub use transfer::Transfer;
pub use tray::Tray;
pub use tyres::Tyres;
pub use warmer::Warmer;
pub use water_heater::WaterHeater;
pub use water_outlet::WaterOutlet;
pub use weighing::Weighing;
pub use window::Window;
pub use winter_port::WinterPort;

use crate::fields::Record;

macro_rules! all_roles {
    ($($field:ident: $role:ident,)*) => {
        /// Contracts of all roles.
        pub const ALL: &[&Contract] = &[$(&$role::CONTRACT,)*];

        /// The parts that a component plays.
        #[derive(Clone, Debug, Default)]
        pub struct Roles {
            $(#[doc = concat!("Its part as [`", stringify!($role), "`].")] pub $field: Option<Box<$role>>,)*
        }

        impl Roles {
            /// The parts with these ids, of a component with these fields.
            #[must_use]
            pub fn of<'a>(ids: impl Iterator<Item = &'a str>, record: &Record) -> Self {
                let mut roles = Self::default();
                for id in ids {
                    $(if id == $role::CONTRACT.id {
                        roles.$field = Some(Box::new($role::of(record)));
                    })*
                }
                roles
            }
        }
    };
}

all_roles! {
    bank: Bank,
    protection: Protection,
    disconnect: Disconnect,
    shunt: Shunt,
    control: Control,
    bus: Bus,
    panel: Panel,
    switch_panel: SwitchPanel,
    switch: Switch,
    lead: Lead,
    coil: Coil,
    bank_path: BankPath,
    keypad: Keypad,
    key: Key,
    post: PostGiven,
    device: Device,
    charger: Charger,
    converter: Converter,
    array: Array,
    alternator: Alternator,
    start_battery: StartBattery,
    inverter: Inverter,
    inverter_charger: InverterCharger,
    generator: Generator,
    inlet: Inlet,
    transfer: Transfer,
    ac_panel: AcPanel,
    rcd: Rcd,
    outlet: Outlet,
    load: Load,
    display: Display,
    fresh_tank: FreshTank,
    grey_tank: GreyTank,
    pump: Pump,
    water_heater: WaterHeater,
    filter: Filter,
    water_outlet: WaterOutlet,
    basin: Basin,
    city_inlet: CityInlet,
    pipe: Pipe,
    motor_valve: MotorValve,
    hand_valve: HandValve,
    drain_valve: DrainValve,
    winter_port: WinterPort,
    trace: Trace,
    pad: Pad,
    fill_inlet: FillInlet,
    strainer: Strainer,
    accumulator: Accumulator,
    sender: Sender,
    space_heater: SpaceHeater,
    cooler: Cooler,
    window: Window,
    cover: Cover,
    insulation: Insulation,
    burner: Burner,
    sleeping: Sleeping,
    smoke_alarm: SmokeAlarm,
    co_alarm: CoAlarm,
    lp_alarm: LpAlarm,
    extinguisher: Extinguisher,
    escape_route: EscapeRoute,
    escape_window: EscapeWindow,
    lpg_locker: LpgLocker,
    held: Held,
    tray: Tray,
    strut: Strut,
    lashing: Lashing,
    compressor: Compressor,
    tyres: Tyres,
    mass: Mass,
    envelope: Envelope,
    clearance: Clearance,
    evidence: Evidence,
    weighing: Weighing,
    negative_bar: NegativeBar,
    control_board: ControlBoard,
    neutral_bond: NeutralBond,
    chassis_bond: ChassisBond,
    expiring: Expiring,
    warmer: Warmer,
    keyed: Keyed,
    gives_heat: GivesHeat,
    levelling: Levelling,
    gas_line: GasLine,
    gas_regulator: GasRegulator,
}

/// The contract with this id.
#[must_use]
pub fn contract(id: &str) -> Option<&'static Contract> {
    ALL.iter().copied().find(|c| c.id == id)
}
