//! One binary for all integration tests.

#![expect(clippy::expect_used, reason = "a test that cannot go on says why and stops")]
#![allow(
    clippy::unwrap_used,
    clippy::disallowed_methods,
    clippy::print_stderr,
    clippy::print_stdout,
    clippy::case_sensitive_file_extension_comparisons,
    reason = "tests look at files they made themselves, at tools of the machine and at the time they take"
)]

mod ac;
mod acceptance;
mod appliance;
mod apt;
mod architecture;
mod bad_input;
mod books;
mod carried;
mod catalogue;
mod changes;
mod changes_edits;
mod circles;
mod command_line;
mod compiled;
mod currents;
mod data;
mod dc_parts;
#[cfg(unix)]
mod determinism;
mod devices;
mod documents;
mod drawings;
mod drawings_board;
mod drawings_energy;
mod drawings_one_line;
mod drawings_panels;
mod drawings_plan;
mod drawings_pull_plan;
mod drawings_terminals;
mod drawings_water;
mod earlier;
mod electrician;
mod emergencies;
mod energy;
mod extremes;
#[cfg(unix)]
mod faults;
mod findings;
mod goals;
mod growth;
mod handover;
mod harness;
mod hidden;
mod hours;
#[cfg(unix)]
mod in_the_way;
mod injection;
mod injection_shape;
mod injury;
mod joins;
mod kind_facts;
mod known_by_id;
mod leads;
mod limits;
mod linked;
mod loads;
mod meaning;
mod mechanics;
#[cfg(unix)]
mod networks;
mod newcomer;
mod openings;
mod orders;
mod orders_done;
mod orders_first;
mod orders_fit;
mod orders_live;
mod orders_road;
mod outside;
mod owner;
mod owner_frost;
mod owner_laws;
mod owner_switches;
mod owner_texts;
mod pages;
mod parallel;
mod pdf;
mod plain_words;
mod polarity;
mod printed_limits;
#[cfg(unix)]
mod proof;
mod protection;
mod publishing;
mod random;
mod recalculated;
#[cfg(unix)]
mod records;
mod refit;
#[cfg(unix)]
mod releases;
mod rows;
mod scope;
mod shop;
mod shop_form;
mod shop_has;
mod shop_kinds;
mod shop_like;
mod shop_made;
mod site;
mod stale;
mod torques;
mod trade;
mod typeset;
mod units_printed;
mod vehicle;
mod vocabulary;
mod walks;
#[cfg(unix)]
mod watching;
mod water_heat;
mod wire;
mod wiring;
mod wiring_findings;
mod work_places;
