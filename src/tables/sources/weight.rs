//! Sources of the weights.

use crate::tables::citation::{Citation, Status};

crate::tables::sources::sources! {
    STATICS Computed "statics",
        "Balance of forces and moments about the front axle; the empty vehicle is taken as even left and right",
        "";
    PLATE CommonPractice "vehicle-plate",
        "Plate and handbook of the vehicle: gross mass, axle limits, roof load. They win over every figure here",
        "";
    CFR_571_110 Verified "49-cfr-571-110",
        "49 CFR 571.110 S9: combined weight of occupants and cargo of a motor home; 68 kg (150 lb) for each belted seat may not exceed it; water is cargo",
        "72 FR 68442 of 4 December 2007, interpretation 08-003469";
    CFR_571_110_S10 Verified "49-cfr-571-110-s10",
        "49 CFR 571.110 S10: weight added between certification and first sale is told on a label where it exceeds the lesser of 1.5 % of gross mass or 100 lb",
        "72 FR 68442 of 4 December 2007";
    EU_1230_2012 Verified "eu-1230-2012-2",
        "Regulation (EU) No 1230/2012, article 2: mass in running order, with driver (75 kg), fuel tank at 90 % or more, liquids and standard equipment. Fresh water is counted full here, the cautious reading",
        "text in force to July 2022; (EU) 2021/535 took its place";
    EU_PAYLOAD Secondary "eu-1230-2012-payload",
        "Regulation (EU) No 1230/2012, Annex I part A, 2.6.4.1.2: least payload of a motor caravan, 10 kg · (n + L), n people with the driver, L in metres; (EU) 2021/535 Annex XIII has the same",
        "quoted";
    AXLE_BALANCE CommonPractice "axle-balance",
        "Balance that drives well: at least 35 % of the mass on the front axle, the sides within 5 % of the mass",
        "";
    COMPONENT_RATING CommonPractice "component-rating",
        "Rating by the maker of the component, as the spec gives it",
        "";
}
