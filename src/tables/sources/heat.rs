//! Sources of the heat formulas.

use crate::tables::citation::{Citation, Status};

crate::tables::sources::sources! {
    ISO_6946 Secondary "iso-6946-films",
        "ISO 6946: surface resistances 0.13 (level flow of heat) inside and 0.04 m²K/W outside",
        "reprint";
    ISO_6946_VERTICAL Memory "iso-6946-films-up-down",
        "ISO 6946: inside surface resistances 0.10 (heat flows up, roof) and 0.17 m²K/W (down, floor)",
        "";
    ISO_6946_COMBINED Secondary "iso-6946-combined",
        "ISO 6946, combined method: the mean of the upper and lower limit of the resistance; not for metal that bridges insulation. Checked against a published worked example",
        "reprint";
    RIB_ZONE Secondary "rib-zone",
        "Zone method for metal in insulation: a rib takes the heat of its width and of as much beside it, on each side, as it lies below the face, 13 mm at least; zones checked within 8 % against AISI S250. No published figure for the rib of a van exists",
        "";
    WOOD Computed "wood-conductivity",
        "Wood across the grain, 0.13 W/(mK)",
        "";
    HEAT_LOSS Computed "heat-loss",
        "Steady heat loss: Q = Σ U A · ΔT, the layers of a surface in series",
        "";
    INFILTRATION Computed "infiltration",
        "Heat of the air that is replaced: Q = ρ c n V ΔT / 3600, c = 1006 J/(kg K), ρ of the outside air at its altitude",
        "";
    ASHRAE_PSYCHROMETRICS Computed "ashrae-psychrometrics",
        "ASHRAE Handbook Fundamentals chapter 1: saturation pressure, moist air, pressure at altitude; checked against the library PsychroLib 2.5.0",
        "2017";
    AIR_CHANGE CommonPractice "air-change",
        "Inside 1.8 m of height over the floor where no volume is given; 20 °C inside, and 50 % where neither air nor humidity is told",
        "";
    CLOSED_BODY CommonPractice "closed-body",
        "A van has nine tenths of the surface of the box about it; where its inside is not measured, 10 cm off width and height, from half a metre before the hips in front to the rear end",
        "";
    EN_721 Secondary "en-721",
        "EN 721: openings that can't be shut: 75 cm² high up and 10 cm² low down to 5 m² of floor, 100 and 15 cm² to 10 m², where something burns that takes its air from the room; else 30 cm² (15 cm² in the roof) and 5 cm²",
        "2019, by a leaflet and a quotation";
    DIESEL_LHV Verified "diesel-lower-heating-value",
        "Diesel, lower heating value 128 488 Btu/gal = 35.81 MJ/L (US Department of Energy, AFDC)",
        "equivalency methodology";
    PETROL_LHV Secondary "petrol-lower-heating-value",
        "Petrol, lower heating value 116 090 Btu/gal = 32.36 MJ/L (US Department of Energy, AFDC)",
        "quoted";
    PROPANE_LHV Secondary "propane-lower-heating-value",
        "Propane, lower heating value 84 250 Btu/gal = 23.48 MJ/L (US Department of Energy, AFDC)",
        "quoted";
    PROPANE_LHV_MASS Computed "propane-lower-heating-value-mass",
        "Propane gas, lower heating value 46.33 MJ/kg, from its heat of formation; the library chemicals 1.5.2",
        "";
    GAINS CommonPractice "inside-gains",
        "Appliances of a parked van give 60 W",
        "";
    PEOPLE Secondary "people",
        "A person gives 105 W seated and 73 W asleep (1.0 and 0.7 met of 58.2 W/m²), 50 and 40 g/h of moisture in it, and 18.6 and 11 L/h of carbon dioxide; awake from 7:00 to 22:00",
        "several";
    CARBON_DIOXIDE CommonPractice "carbon-dioxide-outside",
        "420 ppm of carbon dioxide outside; 5,000 ppm is the mean of a working day that many states allow (from memory)",
        "";
    AIR_BALANCE Computed "air-balance",
        "Balance of what is given off into air that is replaced, solved exactly for each hour of a day that is like the one before",
        "";
    SOL_AIR Secondary "sol-air",
        "Sol-air temperature: air plus what the skin takes up of the sun over an outside film of 17 W/(m²K), less 4 K to the sky for a level surface (ASHRAE Fundamentals)",
        "quoted";
    DAY_HEAT Computed "heat-of-the-day",
        "Heat balance of one room with a lump of heat and a thermostat, solved exactly for each hour; the van may face any way round",
        "";
    AIRED CommonPractice "aired",
        "Above 20 °C outside doors and windows stand open while nothing cools: 20 air changes an hour",
        "";
    LIGHT Memory "very-light-building",
        "ISO 13790: a very light building takes 80 kJ to warm a square metre of floor by one kelvin",
        "";
    CYLINDER_LOSS Secondary "cylinder-loss",
        "Heat loss of an insulated pipe: q = ΔT / (ln(D2/D1)/(2π k) + 1/(h π D2)), 10 % on top for heat trace; checked against the library ht 1.2.0",
        "several pages";
    FREEZING Computed "freezing-time",
        "Water in a pipe as one lump: t0 = m c R ln((T−Ta)/(0−Ta)), then m · 334 kJ/kg · R/(0−Ta) until it is all ice",
        "";
    PIPE_FILM CommonPractice "pipe-film",
        "Outside film of a pipe: 10 W/(m² K) inside the body, 25 W/(m² K) in the wind (1 over the 0.04 m²K/W of ISO 6946)",
        "";
    TANK_LOSS Computed "tank-loss",
        "Heat loss of a box tank: Q = A · ΔT / (s/k + 1/25), k = 0.037 W/(m K) where not given",
        "";
}
