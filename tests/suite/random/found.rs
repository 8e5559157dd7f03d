//! Builds that drawing found documents to fail on, as small as they could be made.

use super::files;
use rigbinder::pipeline::{self, Only};

/// A build of `components` and what else its sections say: documents and data are whole.
fn is_whole(sections: &str, components: &str) {
    let text = format!("[build]\ntitle = \"Found\"\n{sections}\n[component]\n{components}\n");
    let loaded = pipeline::load(crate::harness::house(), "found.toml", text.as_bytes()).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    assert_eq!(worked.counts().0, 0, "{:?}", worked.findings);
    files::are_well_formed(&pipeline::sheets(&worked, &Only::default()).expect("documents"));
    files::are_data(&pipeline::data(&worked).expect("data"));
}

#[test]
fn a_supplier_of_blanks_heads_no_list() {
    is_whole("", "ladder = { kind = \"ladder\", supplier = \"\u{a0}\", mass = \"4 kg\" }");
}

#[test]
fn a_calendar_without_a_round_names_none() {
    is_whole("handover = 2026-04-08", "coat = { kind = \"body-coating\" }");
    is_whole("handover = 2026-04-08", "cooktop = { kind = \"cooktop-lpg\" }\nalarm = { kind = \"co-alarm\" }");
}
