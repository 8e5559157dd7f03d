//! What was signed or tested before its work changed counts for nothing until it is signed and tested anew.

use crate::harness::{errors, rigbinder};
use crate::publishing::{bench, compile, contents, spec};
use std::fs;
use std::path::Path;

/// The small spec of a revision, with what stands recorded.
fn write(here: &Path, revision: &str, run: &str, [rough_in, furniture, below]: [&str; 3]) {
    let text = spec("Van", run).replacen("[build]\n", &format!("[build]\nrevision = \"{revision}\"\n"), 1);
    let recorded = format!(
        "[recorded.signed]\nelectrical-rough-in = {{ by = \"A. P.\", date = {rough_in} }}\n\
         furniture = {{ by = \"A. P.\", date = {furniture} }}\n\
         [recorded.circuits]\nfridge = {{ continuity = \"0.1 ohm\", below = \"{below}\" }}\n"
    );
    fs::write(here.join("mine.toml"), text + &recorded).expect("spec");
}

/// The names that the finding is about.
fn stale(here: &Path) -> Vec<String> {
    let output = compile(here, &["--message-format", "json"]);
    assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
    let told = String::from_utf8(output.stdout).expect("text");
    let findings: serde_json::Value = serde_json::from_str(&told).unwrap_or_else(|e| panic!("{e}: {told}"));
    let all = findings.as_array().expect("findings").iter().filter(|f| f["name"] == "recorded-before-change");
    all.map(|f| f["subject"].as_str().expect("subject").to_owned()).collect()
}

fn release(here: &Path) {
    let output = rigbinder(here, &["release", "mine.toml", "--out", "out", "--typst", "./typst"]);
    assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
}

#[test]
fn a_signature_older_than_its_work_is_found_until_it_is_given_anew() {
    let here = bench("stale");
    let signed = ["2027-03-01", "2027-03-08", "0.2 V"];
    write(&here, "A", "3 m", signed);
    assert!(stale(&here).is_empty(), "nothing came before");
    release(&here);
    assert!(stale(&here).is_empty(), "nothing changed");

    // A longer cable: its stage, and the tests of its circuit. Furniture was not touched.
    write(&here, "B", "7 m", signed);
    assert_eq!(stale(&here), ["electrical-rough-in", "fridge"]);
    // The test record shows the old test as one to repeat, and the signature as one to give again.
    let record = fs::read_to_string(here.join("out/mine/test-record.md")).expect("test record");
    let row = record.lines().find(|l| l.starts_with("| `fridge` |")).expect("circuit");
    assert!(row.contains("0.1 ohm") && row.ends_with("**REPEAT** |"), "{row}");
    assert!(record.contains("**2 to repeat**") && record.contains("2027-03-01; changed since, sign again"), "{record}");
    assert!(!record.contains("2027-03-08; changed since"), "{record}");
    // A check knows it too.
    let output = rigbinder(&here, &["check", "mine.toml", "--out", "out", "--for", "handover"]);
    assert_eq!(output.status.code(), Some(1), "{}", errors(&output));
    assert!(String::from_utf8(output.stdout).expect("text").contains("recorded-before-change: fridge"));
    // Accepting it makes no work done.
    let text = fs::read_to_string(here.join("mine.toml")).expect("spec");
    let entry = "[[accepted]]\nfinding = \"recorded-before-change\"\nreason = \"no time\"\nby = \"A. P.\"\n";
    fs::write(here.join("mine.toml"), text.clone() + entry).expect("spec");
    assert_eq!(stale(&here), ["electrical-rough-in", "fridge"]);
    let accepted = fs::read_to_string(here.join("out/mine/test-record.md")).expect("test record");
    assert!(accepted.contains("**REPEAT**"), "{accepted}");
    fs::write(here.join("mine.toml"), text).expect("spec");
    // Releasing it makes no work done.
    release(&here);
    let released = contents(&here.join("out/mine.released/b"));
    assert_eq!(stale(&here), ["electrical-rough-in", "fridge"]);
    let out = contents(&here.join("out/mine"));
    let differ = |(name, bytes): &(&String, &Vec<u8>)| *name != "record.json" && out[*name] != **bytes;
    assert_eq!(released.iter().find(differ).map(|(name, _)| name), None, "the released documents stand");

    // Signed anew, then tested anew.
    write(&here, "C", "7 m", ["2027-03-20", signed[1], signed[2]]);
    assert_eq!(stale(&here), ["fridge"]);
    write(&here, "C", "7 m", ["2027-03-20", signed[1], "0.3 V"]);
    assert!(stale(&here).is_empty());
    let record = fs::read_to_string(here.join("out/mine/test-record.md")).expect("test record");
    assert!(!record.contains("REPEAT") && !record.contains("changed since"), "{record}");
}

/// The place of a signature is its own line, also where several share the dotted name of a component.
#[test]
fn a_signature_is_found_where_it_stands() {
    let text = spec("Van", "3 m")
        + "[recorded.signed]\nfridge.fit = { by = \"A. P.\", date = 2027-03-01 }\n\
           fridge.connect = { by = \"B. P.\", date = 2027-03-02 }\n";
    let loaded = rigbinder::pipeline::load(crate::harness::house(), "mine.toml", text.as_bytes()).expect("library");
    for task in ["fit", "connect"] {
        let span = loaded.spec.recorded.signed[&format!("fridge.{task}")].span;
        assert!(text[span.start..].starts_with(task), "{task}: {}", &text[span.start..]);
    }
}

/// What was read on the unit before is nothing that anyone knows of the one that took its place.
#[test]
fn a_replaced_unit_keeps_neither_serial_nor_readings_nor_hold_points() {
    let here = bench("stale-unit");
    let write = |revision: &str, part: &str, serial: &str, [volts, amps]: [&str; 2], signed: &str| {
        let text = spec("Van", "3 m").replacen("[build]\n", &format!("[build]\nrevision = \"{revision}\"\n"), 1);
        let text =
            text.replacen("kind = \"battery-bank\",", &format!("kind = \"battery-bank\", part = \"{part}\","), 1);
        let recorded = format!(
            "[recorded.serials]\nbank = \"{serial}\"\nmain = \"M-7\"\n\
             [recorded.readings]\nbank.rest-volts = \"{volts}\"\nbank.spread = \"{amps}\"\nmain.short-test = \"48 kohm\"\n\
             [recorded.signed]\nbank.join = {{ by = \"A. P.\", date = {signed} }}\n"
        );
        fs::write(here.join("mine.toml"), text + &recorded).expect("spec");
    };
    let read = ["13.3 V", "0.02 V"];
    write("A", "LF-200", "B-1001", read, "2027-03-01");
    assert!(stale(&here).is_empty(), "nothing came before");
    release(&here);
    write("B", "LF-240", "B-1001", read, "2027-03-01");
    let found = stale(&here);
    for about in ["bank.serial", "bank.rest-volts", "bank.spread", "bank.join"] {
        assert!(found.iter().any(|f| f == about), "{about} is not in {found:?}");
    }
    assert!(!found.iter().any(|f| f.starts_with("main")), "{found:?}");
    let record = fs::read_to_string(here.join("out/mine/test-record.md")).expect("test record");
    assert!(record.lines().any(|l| l.contains("13.3 V") && l.contains("**REPEAT**")), "{record}");
    let output = rigbinder(&here, &["check", "mine.toml", "--out", "out", "--for", "handover"]);
    assert_eq!(output.status.code(), Some(1), "{}", errors(&output));
    // One reading is taken again, the rest stays to be done.
    write("B", "LF-240", "B-2044", ["13.4 V", "0.02 V"], "2027-03-20");
    assert_eq!(stale(&here), ["bank.spread"]);
    write("B", "LF-240", "B-2044", ["13.4 V", "0.01 V"], "2027-03-20");
    assert!(stale(&here).is_empty());
    // The same figure, read again: its day tells.
    let text = fs::read_to_string(here.join("mine.toml")).expect("spec");
    let again = |date: &str| format!("{text}[recorded.taken]\nbank.spread = {{ by = \"A. P.\", date = {date} }}\n");
    fs::write(here.join("mine.toml"), again("2027-03-19")).expect("spec");
    release(&here);
    let other =
        |date: &str| again(date).replacen("revision = \"B\"", "revision = \"C\"", 1).replace("LF-240", "LF-280");
    fs::write(here.join("mine.toml"), other("2027-03-19")).expect("spec");
    assert!(stale(&here).iter().any(|f| f == "bank.spread"));
    fs::write(here.join("mine.toml"), other("2027-03-27")).expect("spec");
    let found = stale(&here);
    assert!(!found.iter().any(|f| f == "bank.spread") && found.iter().any(|f| f == "bank.rest-volts"), "{found:?}");
}
