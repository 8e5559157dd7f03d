//! Sources of the solar formulas.

use crate::tables::citation::{Citation, Status};

crate::tables::sources::sources! {
    DUFFIE_BECKMAN Secondary "duffie-beckman",
        "Duffie and Beckman, Solar Engineering of Thermal Processes, sections 1.6 to 2.19; Table 1.10.1 (reproduced as the average over all days of the month) and Example 2.19.1 (all twelve months) within 0.06 MJ/m²",
        "4th edition, 2013, as quoted in public test suites";
    COOPER Secondary "cooper-1969-declination",
        "Cooper 1969: declination δ = 23.45°·sin(360°·(284 + n)/365), up to 0.9° off; used because the handbook's tables and fits are made with it",
        "as in Duffie and Beckman 1.6.1";
    ERBS Memory "erbs-1982-monthly-diffuse",
        "Erbs, Klein and Duffie 1982: diffuse share of a month's mean day; coefficients from memory, which reproduce Duffie and Beckman Example 2.19.1",
        "";
    COLLARES_PEREIRA Secondary "collares-pereira-rabl-1979",
        "Collares-Pereira and Rabl 1979, Liu and Jordan 1960: hourly shares of a day's total and diffuse irradiation, here normalised to add up to the day",
        "as in Duffie and Beckman 2.13";
    LIU_JORDAN Secondary "liu-jordan-isotropic",
        "Liu and Jordan 1963: beam, isotropic sky and ground on a tilted plane; checked against the library pvlib 0.16.1",
        "as in Duffie and Beckman 2.15";
    ANY_DIRECTION CommonPractice "array-of-any-direction",
        "A tilted array on a van is averaged over twelve directions, one set up by hand faces the equator",
        "";
    ROSS Secondary "ross-noct",
        "Ross 1976: cell temperature from the nominal operating cell temperature; power falls in a straight line with it; checked against pvlib 0.16.1",
        "";
}
