//! Sources of the electrical tables and formulas.

use crate::tables::citation::{Citation, Status};

crate::tables::sources::sources! {
    CFR_TABLE_5 Verified "33-cfr-183-425-table-5",
        "33 CFR 183.425, Table 5: allowable amperage of conductors (written for boats; used here as a published ampacity table)",
        "text in force";
    CFR_ENGINE_SPACE Secondary "33-cfr-183-425-note-1",
        "33 CFR 183.425, Table 5, note 1: factors for engine spaces (50 °C), 105 °C insulation",
        "US Coast Guard compliance guideline, reprint";
    CFR_ENGINE_SPACE_MEMORY Memory "33-cfr-183-425-note-1-other-classes",
        "33 CFR 183.425, Table 5, note 1: factors for the other insulation classes; the smaller of the remembered factor and √((Tc−50)/(Tc−30)) is used",
        "";
    HEAT_BALANCE Computed "ampacity-heat-balance",
        "Heat balance of a conductor: its temperature rise goes with the square of its current, so I(Ta)/I(30 °C) = √((Tc−Ta)/(Tc−30 °C))",
        "";
    CFR_BUNDLING Secondary "33-cfr-183-425-note-2",
        "33 CFR 183.425, Table 5, note 2: factors for bundled conductors",
        "US Coast Guard compliance guideline, reprint";
    CFR_BUNDLING_SCOPE Verified "33-cfr-183-435-b",
        "33 CFR 183.435(b): the bundling factors apply to circuits of 50 V or more",
        "text in force";
    CFR_CONDUCTORS Verified "33-cfr-183-425",
        "33 CFR 183.425: stranded copper, 16 AWG or larger if installed separately, 18 AWG or larger inside a sheath",
        "text in force";
    CFR_OVERCURRENT Verified "33-cfr-183-455",
        "33 CFR 183.455: overcurrent protection, its rating (c) and its place, within 7 in of the source, or 40 in if sheathed (b)",
        "text in force";
    IEC_B_52_2 Secondary "iec-60364-5-52-b-52-2",
        "IEC 60364-5-52, Table B.52.2: copper with PVC insulation (70 °C), two loaded conductors, air of 30 °C, by method of installation (A1 and A2 in an insulated wall, B1 and B2 in conduit or a cavity, C clipped to a surface)",
        "six reprints that agree";
    IEC_B_52_3 Secondary "iec-60364-5-52-b-52-3",
        "IEC 60364-5-52, Table B.52.3: the same with cross-linked insulation (90 °C)",
        "six reprints that agree";
    IEC_ANNEX_D Computed "iec-60364-5-52-annex-d",
        "IEC 60364-5-52, Annex D: I = A · S^m, which gives the rows of 1.5 mm² to 95 mm² within 2 %. It stands in for 0.75 mm² and 1 mm², and with 5 % less for sizes above 95 mm²",
        "reprint";
    IEC_B_52_14 Secondary "iec-60364-5-52-b-52-14",
        "IEC 60364-5-52, Table B.52.14: factors for air of other temperature than 30 °C",
        "five reprints that agree";
    IEC_B_52_17 Secondary "iec-60364-5-52-b-52-17",
        "IEC 60364-5-52, Table B.52.17, item 1: factors for circuits bunched in air, on a surface, embedded or enclosed",
        "seven reprints that agree";
    IEC_IDLE_SHARE Secondary "iec-60364-5-52-idle",
        "IEC 60364-5-52: a circuit that carries at most 30 % of its grouped rating may be left out of the count of a group",
        "reprint";
    ABYC_72_INCH Secondary "abyc-e-11-72-inch",
        "ABYC E-11: 72 in from a battery if the conductor is sheathed throughout",
        "quoted in published surveys";
    ASTM_B258 Secondary "astm-b258",
        "ASTM B258: diameters of American wire gauge, d = 0.127 mm × 92^((36−n)/39)",
        "quoted";
    COPPER Secondary "iec-60287-1-1-copper",
        "Annealed copper, 100 % IACS: ρ(20 °C) = 1.7241e-8 Ω m, α = 0.00393 per K (IEC 60287-1-1, NBS Handbook 100)",
        "quoted";
    NEC_TABLE_8 Secondary "nec-chapter-9-table-8",
        "NFPA 70 (NEC) Chapter 9 Table 8: conductor properties; its stranded rows are 2 % above a solid conductor (lay of the strands)",
        "reprint";
    IEC_60228 Secondary "iec-60228-class-5",
        "IEC 60228 Table 3: largest resistance of class 5 flexible copper conductors at 20 °C",
        "2004, two reprints";
    OHM Computed "ohms-law",
        "Ohm’s law over both conductors of a circuit: ΔV = 2 · L · R′ · I",
        "";
    ABYC_CIRCULAR_MILS Secondary "abyc-e-11-circular-mils",
        "ABYC E-11: CM = K · I · L / E with K = 10.75 and L the length of both conductors in feet",
        "reprint";
    ABYC_DROP_LIMITS Secondary "abyc-e-11-drop-limits",
        "ABYC E-11: 3 % for panel feeders, bilge blowers, electronics and navigation lights; 10 % for other lighting and circuits that are not critical",
        "reprint";
    ISO_10133_DROP Secondary "iso-10133-drop",
        "ISO 10133: 3 % for main conductors of panels, navigation lights and bilge pumps, 10 % for others",
        "2012, two reprints";
    EN_1648_2 Secondary "en-1648-2",
        "EN 1648-2: a supply line of 12 V drops at most 0.8 V, the line to a second battery 0.2 V (another quotation: below 0.25 V): A = 0.01989 Ω mm²/m · L · I / ΔV over the length out and back",
        "two quotations";
    NEC_CONTINUOUS Secondary "nec-210-20-215-3",
        "NFPA 70 (NEC) 210.20 and 215.3: device and conductor for 100 % of the non-continuous and 125 % of the continuous load",
        "quoted";
    ISO_8820_3 Secondary "iso-8820-3",
        "ISO 8820-3: blade fuses, types C, E and F",
        "2015, ratings from a reprint";
    ISO_8820_5 Memory "iso-8820-5",
        "ISO 8820-5: bolt-down strip fuses",
        "";
    TERMINAL_CUBE Memory "terminal-cube-fuse",
        "Cube fuse on a battery terminal: usual ratings",
        "";
    UL_248_15 Memory "ul-248-15",
        "UL 248-15: class T fuses: usual ratings",
        "";
    ISO_8820_3_BREAKS Secondary "iso-8820-3-interrupting",
        "ISO 8820-3: blade fuses, types C, E and F, break 1000 A at 32 V; at 58 V only parts marked for it",
        "2015, scope reprinted";
    ISO_8820_5_BREAKS Secondary "iso-8820-5-interrupting",
        "ISO 8820-5: small and large bolt-down strip fuses (SF30, SF51) break 2000 A at 32 V",
        "2015, scope reprinted";
    ISO_8820_6_BREAKS Secondary "iso-8820-6-interrupting",
        "ISO 8820-6: single-bolt (cube) fuses break 2000 A at 58 V. The 10 kA at 14 V of the trade stands in data sheets alone",
        "2019, scope reprinted";
    UL_248_DC Secondary "ul-248-dc",
        "UL 248-2 and -12: a DC rating is optional, so a class T fuse without a marked one has none",
        "reprint";
    SERIES_RATING Secondary "nec-240-86",
        "NFPA 70 (NEC) 240.86: a fuse before another device helps it only as a combination that was tested and is marked. No published statement credits class T as back-up of a blade fuse",
        "quoted";
    NEC_240_6 Memory "nec-240-6-a",
        "NFPA 70 (NEC) 240.6(A): standard ratings of fuses and breakers",
        "";
    IEC_60898 Memory "iec-60898-1",
        "IEC 60898-1: preferred ratings of miniature circuit breakers",
        "";
    IEC_60898_CURVES Memory "iec-60898-1-curves",
        "IEC 60898-1: a breaker of curve B opens at once at 5 times its rating, one of curve C at 10 times",
        "";
    LOOP_COLD CommonPractice "loop-impedance",
        "A breaker opens at once where the loop lets U / (k · I) flow; measured cold, a loop has 0.8 of what it has when it fails",
        "";
    SHORE_LEAD_721 Secondary "iec-60364-7-721-lead",
        "IEC 60364-7-721: a shore lead of 2.5 mm² at 16 A, 25 m ± 2 m",
        "reprints";
    SHORE_LEAD_LARGER Memory "iec-60364-7-721-larger-leads",
        "IEC 60364-7-721: shore leads of 4 mm², 6 mm², 16 mm² and 35 mm² at 25 A, 32 A, 63 A and 100 A",
        "";
    SHORE_LEAD_US Memory "nec-551-46-cord",
        "NFPA 70 (NEC) 551.46: power-supply cords of 10 AWG at 30 A and 6 AWG at 50 A",
        "";
    FUEL_TIME Computed "fuel-time",
        "Running time: what a tank holds over what is used in an hour",
        "";
    DC_BREAKER CommonPractice "dc-breakers",
        "Ratings of panel breakers for direct current",
        "";
    ABYC_LARGE_BANK Secondary "abyc-e-11-large-banks",
        "ABYC E-11: banks above 2200 CCA or 500 Ah need the battery maker’s short-circuit figure, or 20 kA at 125 V DC where that figure exceeds 10 kA; parallel batteries add, cells in series do not",
        "quoted";
    FUSE_CAP HouseRule "house-rule-fuse-cap",
        "No fuse above the corrected ampacity of the conductor behind it (33 CFR 183.455(c)(1) allows 150 % of Table 5 below 50 V)",
        "";
    FAULT_CURRENT Computed "fault-current",
        "Ohm’s law around the fault: I = V / (R of the bank + R of the cable both ways)",
        "";
    USUAL_INTERNAL_RESISTANCE CommonPractice "usual-internal-resistance",
        "Internal resistance of a 12 V battery: 0.2 Ω Ah over its capacity (lithium iron phosphate, cells and links only), 0.45 Ω Ah (absorbed glass mat). Low on purpose, so that the fault current is not understated; a third to twice of that is plausible. The maker’s figure wins",
        "";
    COORDINATION CommonPractice "fuse-coordination",
        "Two fuses in a row are selective where the upstream rating is at least twice the downstream one",
        "";
    POWER_BALANCE Computed "inverter-power-balance",
        "Power balance of an inverter: I = P / (η · V)",
        "";
    ENERGY Computed "battery-energy",
        "Energy of a battery: E = C · V; time = E / P",
        "";
    BUSBAR Computed "busbar-current",
        "Kirchhoff’s current law: a busbar cannot carry more than all that may flow in, nor more than all that may flow out",
        "";
    NEC_240_4_D Secondary "nec-240-4-d",
        "NFPA 70 (NEC) 240.4(D): small conductors, 14 AWG 15 A, 12 AWG 20 A, 10 AWG 30 A (copper)",
        "quoted";
    METRIC_BREAKERS CommonPractice "metric-breakers",
        "Least metric conductor behind an AC breaker: 1.5 mm² to 10 A, 2.5 mm² to 20 A, 4 mm² to 25 A, 6 mm² to 32 A",
        "";
    UL_486 Secondary "ul-486a-486b",
        "UL 486A-486B as reprinted in NFPA 70 (NEC) Informative Annex I, Table I.1: torque of slotted screws of No. 10 and larger by conductor, where the maker gives none",
        "reprint";
    MODULE_DATA_SHEET CommonPractice "module-data-sheet",
        "Data sheet of the solar module: open-circuit voltage, short-circuit current and temperature coefficient at 1000 W/m² and 25 °C; voltage changes in proportion to the cell temperature",
        "";
    UL_486A_PULL Secondary "ul-486a-pull-out",
        "UL 486A: force that a crimped conductor must hold, 28 AWG to 2/0 AWG; 1 AWG, 3/0 AWG and 4/0 AWG from memory. A metric conductor takes the figure of the next smaller AWG. The lower figures of UL 486E are for set screws",
        "three reprints that agree";
    NEC_552_10_E Memory "nec-552-10-e-1",
        "NFPA 70 (NEC) Table 552.10(E)(1), low-voltage wiring of recreational vehicles: largest overcurrent device by conductor, 18 AWG 6 A, 16 AWG 8 A, 14 AWG 15 A, 12 AWG 20 A, 10 AWG 30 A. The last three are those of NEC 240.4(D)",
        "";
    RINGS CommonPractice "rings-sold",
        "Rings that shops stock, by stud and conductor: M3 to 2.5 mm², M4 to 6 mm², M5 to 25 mm², M6 to 35 mm², M8 to 120 mm², M10 from 4 mm² (12 AWG), M12 from 10 mm² (8 AWG)",
        "";
    PUSH_ONS CommonPractice "push-on-receptacles-sold",
        "Push-on receptacles that shops stock for blades of 6.3 mm (0.25 in): to 6 mm² (10 AWG)",
        "";
    LUG_WIDTHS CommonPractice "lug-widths",
        "Lugs are 2.8 mm wide for each square root of a mm² (a tube pressed flat; within a tenth of DIN 46235, from memory), washers as wide as those of ISO 7089, 2 mm between",
        "";
    FUSE_HOLDERS CommonPractice "fuse-holders",
        "Holders of fuses on a board: face, depth, studs (M5 and M8 for strips, M8 for cubes, clips, M6, M8 and M10 for class T by rating)",
        "";
    JOINTS CommonPractice "joints-and-contacts",
        "Resistance of good work: an end (crimp with screw, stud or clamp) as much as 0.1 m of its conductor, 0.1 mΩ to 1 mΩ; a fuse or breaker 0.1 V at its rating; a switch, relay, busbar or shunt 0.05 V at its rating; a conductor 0.3 m, at most half its route, longer than its route; the meter and warm copper 10 %",
        "";
}
