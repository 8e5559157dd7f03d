//! Fields that several roles tell, asked of a part whatever its role: `part.roles.rating()`.

use super::Roles;
use crate::fields::{Choice, Component, Components, Field, Places, Text, Texts};
use crate::units::{
    AmpHours, Amps, Celsius, ConductorSize, Degrees, Kilograms, Kilopascals, Litres, LitresPerMinute, Metres, Newtons,
    Ohms, Ratio, Seconds, SquareMetres, Volts, Watts, WattsPerMetreKelvin,
};
use jiff::civil::Date;

/// The field of the first of some roles that a part plays; nothing where it plays none of them.
macro_rules! first_of {
    ($roles:ident, $field:ident, $($role:ident),+) => {{
        $(if let Some(role) = &$roles.$role {
            return &role.$field;
        })+
        Field::NONE
    }};
}

macro_rules! across {
    ($($field:ident: $ty:ty => $($role:ident),+;)*) => {
        impl Roles {$(
            #[doc = concat!("`", stringify!($field), "` of whichever of its roles tells it; nothing where none does.")]
            #[must_use]
            pub fn $field(&self) -> &Field<$ty> {
                first_of!(self, $field, $($role),+)
            }
        )*}
    };
}

/// Two things are called `capacity`.
impl Roles {
    /// Charge of a battery.
    #[must_use]
    pub fn capacity_charge(&self) -> &Field<AmpHours> {
        first_of!(self, capacity, bank, start_battery)
    }

    /// Volume of a tank or heater.
    #[must_use]
    pub fn capacity_litres(&self) -> &Field<Litres> {
        first_of!(self, capacity, fresh_tank, grey_tank, water_heater)
    }
}

across! {
    absorb_voltage: Volts => bank;
    air: Metres => clearance;
    altitude_limit: Metres => space_heater;
    antifreeze_volume: Litres => winter_port;
    area: SquareMetres => cover;
    backing_plate: Metres => held, tray;
    bars_apart: Metres => clearance;
    bends: i64 => pipe;
    between: Places => control;
    bleach: Ratio => fresh_tank;
    blocked_by: Components => escape_route;
    bolt_size: Choice => held, tray, lashing;
    bolts: i64 => held, tray, lashing;
    bond_relay: bool => inverter_charger;
    breaking_capacity: Amps => ac_panel;
    burner_hours: Seconds => burner;
    bypass_of: Component => hand_valve;
    charge_above: Celsius => bank;
    chemistry: Choice => bank;
    clear_of: Components => escape_route;
    cooling: Watts => cooler;
    cord: Metres => inlet;
    cord_conductor: ConductorSize => inlet;
    current: Amps => load;
    current_limit: Ratio => converter;
    cut_out: Kilopascals => pump;
    cylinder_gas: Kilograms => lpg_locker;
    cylinders: i64 => lpg_locker;
    dimmable: bool => load;
    diversity: Ratio => panel, switch_panel, ac_panel;
    drains: Components => drain_valve;
    drains_to: Component => water_outlet, basin;
    draw: Watts => load, display, trace, pad, cooler;
    dry: bool => basin;
    duty: Ratio => load, cooler;
    duty_limit: Ratio => compressor;
    edge_distance: Metres => held, tray;
    efficiency: Ratio => charger, converter, inverter, inverter_charger, water_heater;
    escape: bool => escape_window;
    family: Choice => protection, panel, switch_panel;
    fault_current: Amps => bank;
    fault_current_from: Text => bank;
    fittings: i64 => load;
    fixed_to: Choice => held, tray;
    float_voltage: Volts => bank;
    flow: LitresPerMinute => pump, water_outlet, city_inlet;
    force: Newtons => strut;
    free_air_delivery: LitresPerMinute => compressor;
    from: Component => pipe;
    frost_opening: bool => drain_valve;
    fuel: Choice => space_heater, burner;
    fuel_per_hour: Litres => space_heater, burner;
    fuel_reserve: Litres => space_heater;
    full_draw: Watts => load;
    gangs: i64 => outlet;
    gas_per_hour: Kilograms => burner;
    glazed_area: SquareMetres => window;
    guard: Choice => control;
    heat_given: Watts => gives_heat;
    heat_loss: Watts => window, cover;
    heat_output: Watts => water_heater, space_heater, burner;
    heated: bool => bank;
    height: Metres => control_board, fresh_tank, grey_tank, escape_route;
    holds: Components => control_board;
    hours: Seconds => inverter, inverter_charger, charger, load, burner;
    idle_draw: Watts => inverter, inverter_charger, converter;
    imp: Amps => array;
    input_current: Amps => charger;
    inside_diameter: Metres => pipe;
    insulated: bool => pipe;
    insulation: Celsius => negative_bar;
    insulation_conductivity: WattsPerMetreKelvin => pipe;
    insulation_thickness: Metres => pipe, trace;
    internal_resistance: Ohms => bank;
    isc: Amps => array;
    largest_way: Amps => panel, switch_panel;
    isolated: bool => charger;
    lead: Metres => array;
    leads_through: Component => escape_route;
    legs: Choice => load, outlet;
    length: Metres => fresh_tank, grey_tank, pipe, trace, sleeping;
    length_open: Metres => strut;
    lid_load: Kilograms => strut;
    lid_of: Component => strut;
    lock: Choice => keyed;
    low_cutoff: Volts => inverter, inverter_charger, converter;
    main_poles: i64 => ac_panel;
    made: Date => smoke_alarm, co_alarm, lp_alarm, extinguisher, expiring;
    master: Choice => switch_panel;
    master_switch: Component => switch_panel;
    material: Choice => pipe;
    max_charge: Amps => bank;
    max_discharge: Amps => bank;
    max_pressure: Kilopascals => water_heater, accumulator, compressor;
    max_pv_current: Amps => charger;
    max_pv_voltage: Volts => charger;
    max_run: Seconds => compressor;
    medium: Choice => pipe;
    min_pressure: Kilopascals => water_outlet;
    mirrors: Component => negative_bar;
    mixed_temperature: Celsius => water_heater;
    mixer: bool => water_outlet;
    negative_bar: bool => panel;
    noct: Celsius => array;
    on_below: Celsius => load, trace, pad, warmer;
    on_inverter: bool => rcd, outlet;
    opening_height: Metres => escape_window;
    opening_width: Metres => escape_window;
    opens_below: Celsius => drain_valve;
    output_current: Amps => charger, inverter_charger;
    output_voltage: Volts => inverter, inverter_charger, charger, converter, alternator;
    outside: bool => switch_panel;
    outside_diameter: Metres => pipe;
    parallel: i64 => bank, array;
    points: i64 => lashing;
    poles: i64 => disconnect, transfer, rcd;
    position: Choice => fresh_tank, grey_tank, pipe;
    power: Watts => array, inverter, inverter_charger, converter, generator;
    power_factor: Ratio => charger;
    power_per_kelvin: Ratio => array;
    pressure_front: Kilopascals => tyres;
    pressure_loss: Kilopascals => filter;
    pressure_rear: Kilopascals => tyres;
    pressure_sand: Kilopascals => tyres;
    pressure_track: Kilopascals => tyres;
    protects: Components => trace;
    rated_voltage: Volts => protection, disconnect, shunt, control, bus, panel, switch_panel, switch;
    rating: Amps => protection, disconnect, shunt, control, converter, bus, panel, switch_panel, switch, alternator, generator, inlet, transfer, ac_panel, rcd, outlet, negative_bar;
    regulated_pressure: Kilopascals => city_inlet;
    relief_pressure: Kilopascals => water_heater;
    replace_by: Date => smoke_alarm, co_alarm, lp_alarm, extinguisher, expiring;
    residual: Litres => fresh_tank;
    returns_to: Component => negative_bar, shunt;
    rise: Metres => pipe;
    room_sealed: bool => burner;
    second_place: Text => control;
    second_draw: Watts => load;
    secures: Kilograms => lashing;
    senses_co: bool => lp_alarm;
    series: i64 => array;
    serves: Components => escape_route;
    set_temperature: Celsius => water_heater;
    shading: Ratio => array;
    sheet: Metres => held, tray;
    shore_from: Component => inverter_charger;
    shore_limit: Amps => inverter_charger;
    side: Choice => inlet, window, escape_route, escape_window;
    solar_gain: Ratio => window, cover;
    standing_loss: Watts => water_heater;
    start_current: Amps => load, generator;
    stroke: Metres => strut;
    suction_lift: Metres => pump;
    surge_power: Watts => inverter, inverter_charger, generator;
    switched_by: Component => neutral_bond;
    switched_lead: Choice => control;
    tank: Component => display, motor_valve, hand_valve, pad, sender;
    tank_insulation: Metres => pad;
    technology: Choice => sender;
    temperature_sense: bool => charger;
    tilt: Degrees => array;
    to: Component => pipe;
    to_exit: Metres => extinguisher;
    to_free: Texts => escape_route;
    transfer_rating: Amps => inverter_charger;
    trip_current: Amps => rcd;
    tyre_volume: Litres => tyres;
    use_share: Ratio => array;
    usable: Ratio => bank;
    usb_watts: Watts => outlet;
    vmp: Volts => array;
    voc: Volts => array;
    voltage: Volts => bank, start_battery;
    volume: Litres => accumulator;
    warms: Component => warmer;
    watts: Watts => load;
    waveform: Choice => rcd;
    way_interrupting: Amps => panel, switch_panel;
    way_voltage: Volts => panel, switch_panel;
    way_interrupting_from: Text => panel, switch_panel;
    way_names: Texts => switch_panel;
    way_tested_with: Component => panel, switch_panel;
    ways: i64 => panel, switch_panel, ac_panel;
    wet_zone: bool => outlet;
    wheels: i64 => tyres;
    while_driving: bool => water_heater;
    width: Metres => control_board, fresh_tank, grey_tank, sleeping, escape_route;
    window: Components => cover;
    with_overcurrent: bool => rcd;
    working_load: Newtons => lashing;
}
