//! `[vehicle]`: what the base vehicle is, weighs and measures.

use crate::fields::{Choice, Text, typed};
use crate::units::{Kilograms, Kilometres, Kilopascals, Litres, Metres, SquareMetres};

typed! {
    /// `[vehicle]`: what the base vehicle is, weighs and measures.
    Vehicle = "vehicle" {
        /// What the vehicle is, as on its papers.
        name: Text;
        /// Year it was first registered.
        year: i64;
        /// Identification number, as stamped into the vehicle.
        identification: Text;
        /// Number plate.
        plate: Text;
        /// Odometer when the vehicle came in.
        odometer: Kilometres;
        /// Distance between the axles.
        wheelbase: Metres;
        /// Highest permitted mass, from the plate.
        gross_mass: Kilograms;
        /// Highest permitted load on the front axle, from the plate.
        front_axle_limit: Kilograms;
        /// Highest permitted load on the rear axle, from the plate.
        rear_axle_limit: Kilograms;
        /// Load on the front axle before the work, weighed with a full tank.
        front_axle_empty: Kilograms;
        /// Load on the rear axle before the work, weighed with a full tank.
        rear_axle_empty: Kilograms;
        /// What of the components that were there before was aboard at that weighing: none (bare), those that stay (stripped), or also those that come out (as-it-came).
        weighed_as: Choice;
        /// Air in the heated body, like "12 m3". Left out, the floor of `[shell]` at `inside_height`, or 1.8 m.
        inside_volume: Litres;
        /// Length of the heated body inside, from its foremost to its rearmost surface.
        inside_length: Metres;
        /// Width of the heated body inside.
        inside_width: Metres;
        /// Height of the heated body inside.
        inside_height: Metres;
        /// Free area of the openings high up that can't be shut: in the roof, or well above the topmost bed.
        vent_high: SquareMetres;
        /// Free area of the openings low down that can't be shut, close above the floor.
        vent_low: SquareMetres;
        /// Height of the empty vehicle without anything on its roof.
        height: Metres;
        /// Length of the empty vehicle.
        length: Metres;
        /// Width of the body without mirrors.
        width: Metres;
        /// From the front axle to the foremost point.
        front_overhang: Metres;
        /// From the rear axle to the rearmost point.
        rear_overhang: Metres;
        /// Distance between the wheels of one axle.
        track: Metres;
        /// Radius of the loaded tyre.
        tyre_radius: Metres;
        /// Clearance below the lowest fixed point of the vehicle.
        ground_clearance: Metres;
        /// Lowest edge of the front end above the ground, at the foremost point.
        front_clearance: Metres;
        /// Lowest edge of the rear end above the ground, at the rearmost point.
        rear_clearance: Metres;
        /// Floor of the load space above the ground.
        floor_height: Metres;
        /// Centre of gravity of the empty vehicle above the ground, from its body builder's guide.
        empty_centre_height: Metres;
        /// From the front axle aft to the hips of those on the front seats.
        front_seats: Metres;
        /// Seats with belts, the driver's included.
        seats: i64;
        /// What the engine runs on.
        fuel: Choice;
        /// Size of the fuel tank.
        fuel_tank: Litres;
        /// Highest permitted load on the roof while driving, from the handbook.
        roof_load_limit: Kilograms;
        /// Size, load index and speed index of the tyres.
        tyres: Text;
        /// Cold pressure of the front tyres, loaded.
        tyre_pressure_front: Kilopascals;
        /// Cold pressure of the rear tyres, loaded.
        tyre_pressure_rear: Kilopascals;
        /// The vehicle lowers the alternator's voltage to save fuel.
        smart_alternator: bool;
    }
}
