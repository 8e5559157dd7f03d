//! One edit of a spec at a time: its change notice names all that differs on paper, and nothing else.

use crate::harness::{demo_specs, errors, folder, rigbinder, root, stem, typst};
use rigbinder::documents::change_notice::changes::{Changes, Difference};
use rigbinder::documents::change_notice::stale::stale;
use rigbinder::documents::snapshot::Snapshot;
use rigbinder::pipeline::{self, Loaded, Only, Sheet};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::OnceLock;

/// What stands in the spec about where the hidden switch is, before and after it moves.
const SECRETS: [&str; 2] = ["behind the larboard flap", "under the starboard lid"];

/// A small build whose first stages are signed, with a switch that is to be hidden.
fn base() -> String {
    let path = demo_specs().into_iter().find(|p| stem(p) == "weekend").expect("spec");
    let spec = std::fs::read_to_string(path).expect("spec").replacen("[build]", "[build]\nrevision = \"A\"", 1);
    format!(
        "{spec}\n\
        warmer = {{ kind = \"appliance\", name = \"Lunch warmer\", what = \"A drawer of steel that warms two lunch boxes to about 65 °C.\", use = [\"Put the boxes in with their lids open.\", \"Turn its knob to 40 minutes.\"], limits = [\"No plastic boxes.\"], supply = \"dc\", draw = \"45 W\", hours = \"40 min\", used = \"meals\", fed_from = \"panel\", run = \"2.1 m\", place = \"galley\", mass = \"2 kg\" }}\n\
        aux-master = {{ kind = \"master-switch\", fed_from = \"busbar\", run = \"0.5 m\", guard = \"hidden\", place = \"bench\", note = \"It is {}.\" }}\n\
        aux = {{ kind = \"switch-panel\", fed_from = \"aux-master\", run = \"1 m\", ways = 4, master = \"hidden\", master_switch = \"aux-master\", place = \"galley\" }}\n\
        scene = {{ kind = \"exterior-light\", job = \"scene\", fed_from = \"aux\", run = \"2 m\", place = \"roof\" }}\n\
        [upkeep.warmer-tray]\n\
        title     = \"Wash the tray of the lunch warmer\"\n\
        component = \"warmer\"\n\
        every     = \"1 month\"\n\
        minutes   = 5\n\
        steps     = [\"Let it cool.\", \"Take the tray out and wash it.\", \"Put it back dry.\"]\n\
        [recorded.signed]\n\
        electrical-rough-in = {{ by = \"A. Signer\", date = 2027-03-02 }}\n\
        fridge.connect = {{ by = \"B. Signer\", date = 2027-03-09 }}\n\
        floor-walls-ceiling = {{ by = \"A. Signer\", date = 2027-03-09 }}\n\
        plumbing-fit-off = {{ by = \"C. Fitter\", date = 2027-03-16 }}\n",
        SECRETS[0]
    )
}

/// A build as text, and what it was.
struct Edition {
    sheets: Vec<Sheet>,
    snapshot: Snapshot,
    /// By label: from, to, length, places, sheath, size.
    wires: BTreeMap<String, String>,
    /// By circuit: panel and way.
    ways: BTreeMap<String, (String, Option<u32>)>,
    /// Rows of the file for the label printer, by label.
    printer: BTreeMap<String, String>,
}

fn loaded(text: &str) -> Loaded {
    pipeline::load(crate::harness::house(), "van.toml", text.as_bytes()).expect("loaded")
}

fn edition(loaded: &Loaded, before: Option<&Snapshot>) -> (Edition, Option<(Changes, String)>) {
    let worked = pipeline::work_out_after(loaded, before).expect("worked out");
    let faults: Vec<_> = worked.findings.iter().filter(|f| f.severity == rigbinder::diag::Severity::Error).collect();
    assert!(faults.is_empty(), "{faults:?}");
    let sheets = pipeline::sheets(&worked, &Only::default()).expect("documents");
    let snapshot = pipeline::snapshot(&worked, &sheets).expect("snapshot");
    let notice = before.map(|before| {
        let (notice, changes) = pipeline::change_notice(&worked, before, &snapshot).expect("notice");
        (changes, notice.markdown)
    });
    let size = |id: &str| worked.electrical.circuits.get(id).and_then(|f| f.conductor()).map(|s| s.size.to_string());
    let circuits = worked.build.circuits.values();
    let wires = circuits
        .clone()
        .map(|c| (c.id.clone(), format!("{:?}", (&c.from, &c.to, c.run, &c.through, c.sheathed, size(&c.id)))));
    let ways = circuits.map(|c| (c.id.clone(), (c.from.clone(), c.way)));
    let data = pipeline::data(&worked).expect("data");
    let file = data.iter().find(|f| f.name.ends_with("wire-labels.csv")).expect("labels");
    let text = String::from_utf8(file.bytes.clone()).expect("text");
    let mut printer: BTreeMap<String, String> = BTreeMap::new();
    for row in text.lines().skip(1) {
        printer.entry(row.split(',').next().expect("label").to_owned()).or_default().push_str(row);
    }
    let (wires, ways) = (wires.collect(), ways.collect());
    (Edition { sheets, snapshot, wires, ways, printer }, notice)
}

fn first() -> &'static Edition {
    static FIRST: OnceLock<Edition> = OnceLock::new();
    FIRST.get_or_init(|| edition(&loaded(&base()), None).0)
}

fn named(difference: &Difference) -> BTreeSet<&str> {
    let changed = difference.changed.iter().map(|c| c.id.as_str());
    let whole = difference.added.iter().chain(&difference.removed).map(|n| n.id.as_str());
    changed.chain(whole).collect()
}

/// Cells of the rows below a heading of the notice that are ids.
fn ids_below<'n>(notice: &'n str, heading: &str) -> BTreeSet<&'n str> {
    let section = notice.split("\n## ").find(|s| s.starts_with(heading)).unwrap_or("");
    section.lines().filter(|l| l.starts_with("| ☐")).filter_map(|l| l.split('`').nth(1)).collect()
}

fn differing<V: PartialEq>(old: &BTreeMap<String, V>, new: &BTreeMap<String, V>) -> BTreeSet<String> {
    let all = old.keys().chain(new.keys());
    all.filter(|k| old.get(*k) != new.get(*k)).cloned().collect()
}

/// The events of the calendar file by the id that a phone knows them by.
fn events(edition: &Edition) -> BTreeMap<String, String> {
    let sheet = edition.sheets.iter().find(|s| s.stem == "maintenance-calendar").expect("calendar");
    let (_, text) = sheet.beside.iter().find(|(name, _)| name.ends_with(".ics")).expect("file");
    let unfolded = text.replace("\r\n ", "");
    let event = |event: &str| {
        let lines: Vec<_> = event
            .lines()
            .filter(|l| !["DTSTAMP", "LAST-MODIFIED", "SEQUENCE"].iter().any(|stamp| l.starts_with(stamp)))
            .collect();
        let uid = lines.iter().find_map(|l| l.strip_prefix("UID:")).expect("uid").to_owned();
        (uid, lines.join("\n"))
    };
    unfolded.split("BEGIN:VEVENT").skip(1).map(event).collect()
}

/// What is on a document: for a book its own pages.
fn face(sheet: &Sheet) -> String {
    let own = if sheet.binds.is_empty() { &sheet.typst } else { "" };
    let drawings = sheet.beside.iter().filter(|(name, _)| name.ends_with(".svg"));
    format!("{}{own}{:?}", sheet.markdown, drawings.collect::<Vec<_>>())
}

/// Holds the notice of an edit against both editions; gives it for a closer look.
fn notice_of(what: &str, new: &str) -> (Changes, String) {
    let old = first();
    let loaded = loaded(new);
    let (new, notice) = edition(&loaded, Some(&old.snapshot));
    let (changes, notice) = notice.expect("notice");
    let faces = |e: &Edition| e.sheets.iter().map(|s| (s.stem.clone(), face(s))).collect::<BTreeMap<_, _>>();
    let mut differ = differing(&faces(old), &faces(&new));
    if old.snapshot.page != new.snapshot.page {
        differ.extend(new.sheets.iter().filter(|s| !s.binds.is_empty()).map(|s| s.stem.clone()));
    }
    let sheets: BTreeSet<String> = ids_below(&notice, "Sheets").into_iter().map(str::to_owned).collect();
    // A book holds what is bound in it: its row is there, too, when its own pages stay.
    let fronts = || old.sheets.iter().chain(&new.sheets).filter(|s| !s.binds.is_empty());
    let holding = fronts().filter(|s| s.binds.iter().any(|stem| differ.contains(stem))).map(|s| s.stem.clone());
    let expected: BTreeSet<String> = differ.iter().cloned().chain(holding).collect();
    assert_eq!(sheets, expected, "{what}: sheets\n{notice}");
    assert!(!notice.contains("| text |"), "{what}: does not say where the text differs\n{notice}");
    for front in new.sheets.iter().filter(|s| !s.binds.is_empty()) {
        let begins = format!("Sections of the {} to swap", front.meta.document.to_lowercase());
        let swapped = notice.lines().find(|l| l.starts_with(&begins)).unwrap_or("");
        for sheet in &new.sheets {
            let swaps = differ.contains(&sheet.stem) && (front.binds.contains(&sheet.stem) || sheet.stem == front.stem);
            let title = [&sheet.meta.document, &sheet.meta.title].into_iter().find(|t| !t.is_empty());
            assert_eq!(swapped.contains(title.expect("title").as_str()), swaps, "{what}: {} in {swapped}", sheet.stem);
        }
    }
    let wires = ids_below(&notice, "Wires").into_iter().map(str::to_owned).collect::<BTreeSet<_>>();
    let expected = if changes.renamed.is_empty() { differing(&old.wires, &new.wires) } else { BTreeSet::new() };
    assert_eq!(wires, expected, "{what}: wires\n{notice}");
    let flags = named(&changes.labels).into_iter().filter_map(|id| id.strip_suffix(".flag"));
    let flags: BTreeSet<String> = flags.map(str::to_owned).collect();
    let drawn = |e: &Edition, what: &str| {
        let labels = e.sheets.iter().find(|s| s.stem == "labels").expect("labels");
        labels.beside.iter().filter(|(name, _)| name.contains(what)).cloned().collect::<Vec<_>>()
    };
    // A label that is there already is not drawn, and says what it said.
    let there = changes.components.changed.iter().any(|c| c.values.iter().any(|v| v.name == "scope"));
    let drawn = |e: &Edition, what: &str| if there { Vec::new() } else { drawn(e, what) };
    assert_eq!(flags.is_empty(), drawn(old, "labels-wires") == drawn(&new, "labels-wires"), "{what}: flags {flags:?}");
    // The table for a label printer has a row for the conductors of a circuit that lie side by side.
    let printed = differing(&old.printer, &new.printer);
    let is_printed = |flag: &String| printed.iter().any(|label| flag.starts_with(label.as_str()));
    assert!(flags.iter().all(is_printed), "{what}: flags {flags:?}");
    let plates = named(&changes.labels).into_iter().any(|id| id.ends_with(".plate"));
    assert_eq!(!plates, drawn(old, "labels-equipment") == drawn(&new, "labels-equipment"), "{what}: equipment labels");
    let (before, after) = (events(old), events(&new));
    // Another title is another calendar to a phone.
    if before.keys().next().map(|u| u.split('.').next()) == after.keys().next().map(|u| u.split('.').next()) {
        let moved = differing(&before, &after);
        assert_eq!(moved.len(), named(&changes.calendar).len(), "{what}: {moved:?} and {:?}", named(&changes.calendar));
    }
    let touched = named(&changes.circuits);
    for (id, way) in &new.ways {
        let renamed = changes.renamed.iter().any(|(_, is)| id == is || way.0 == *is);
        let earlier = old.ways.get(id).filter(|_| !touched.contains(id.as_str()) && !renamed);
        assert!(earlier.is_none_or(|e| e == way), "{what}: {id} moved from {earlier:?} to {way:?}");
    }
    for secret in SECRETS {
        assert!(!notice.contains(secret), "{what}: tells where the hidden switch is\n{notice}");
        assert!(!serde_json::to_string(&changes).expect("JSON").contains(secret), "{what}: tells of the hidden switch");
    }
    (changes, notice)
}

/// An edit: what it is, what stands in the spec, what stands there then, words of its notice, words not in it.
type Edit = (&'static str, &'static str, &'static str, &'static [&'static str], &'static [&'static str]);

const EDITS: &[Edit] = &[
    (
        "a longer run",
        "run = \"2.6 m\", draw",
        "run = \"7.9 m\", draw",
        &[
            "`fridge`",
            "**To do:**",
            "sign again",
            "A. Signer, 2027-03-02",
            "text: “At a glance”, “Cable to take”, “Wires to pull”",
            "“Terminations”",
        ],
        &["`pump`", "## Calendar"],
    ),
    (
        "a conductor",
        "run = \"2.6 m\", draw",
        "run = \"2.6 m\", conductor = \"8 AWG\", draw",
        &["`fridge`", "8 AWG", "**The house bank can drive"],
        &["`pump`"],
    ),
    (
        "a load more",
        "co-alarm   =",
        "fan = { kind = \"roof-fan\", fed_from = \"panel\", run = \"2 m\", place = \"roof\", mass = \"3 kg\" }\nco-alarm =",
        &["(`fan`): new", "| pull |"],
        &["(`pump`)"],
    ),
    (
        "a load less",
        "lights     = { kind = \"light-zone\", fed_from = \"panel\", run = \"3.5 m\", place = \"galley\" }\n",
        "",
        &["(`lights`): taken out", "| take out | Light zone |", "take off"],
        &["(`pump`)", "gone"],
    ),
    (
        "a load under a new id",
        "lights     =",
        "lamps =",
        &["## New names", "| `lights` | `lamps` |"],
        &["## Wires", "## Tasks", "(`lamps`)"],
    ),
    (
        "a load on another source",
        "fridge     = { kind = \"fridge\", bolts = 4, bolt_size = \"M6\", critical = false, fed_from = \"panel\"",
        "fridge = { kind = \"fridge\", bolts = 4, bolt_size = \"M6\", critical = false, fed_from = \"busbar\"",
        &["pull again", "`fridge`"],
        &["(`pump`)"],
    ),
    (
        "a place moved",
        "at = [\"1.90 m\", \"0.50 m\", \"0 m\"]",
        "at = [\"1.70 m\", \"0.50 m\", \"0 m\"]",
        &["Place “Galley, left”"],
        &["## Wires", "## Labels"],
    ),
    (
        "a place under another name",
        "about = \"Galley, left\"",
        "about = \"Kitchen, left\"",
        &["Galley, left", "Kitchen, left"],
        &["## Wires"],
    ),
    ("more mass", "mass  = \"4 kg\"\n", "mass  = \"24 kg\"\n", &["axle", "`solar`"], &["## Wires", "## Labels"]),
    (
        "a larger tank",
        "capacity = \"20 L\"",
        "capacity = \"30 L\"",
        &["`water`", "| replace | Take out Fresh water tank, fit another | capacity: 20 L → 30 L |"],
        &["## Wires"],
    ),
    (
        "a component elsewhere",
        "draw = \"45 W\", place = \"galley\"",
        "draw = \"45 W\", place = \"bench\"",
        &[
            "| move | Compressor fridge | place: Galley, left → Box under the bench, right |",
            "| do again | Fit the fridge in its bay | Compressor fridge: moved |",
            "| do again | Ends and protection of fridge | Compressor fridge: moved |",
            "**This stage is signed by C. Fitter, 2027-03-16.**",
        ],
        &["`pump`"],
    ),
    (
        "another one of its kind",
        "draw = \"45 W\", place = \"galley\"",
        "draw = \"45 W\", maker_ref = \"CB-45\", place = \"galley\"",
        &[
            "| replace | Take out Compressor fridge, fit another | maker ref: – → CB-45 |",
            "Fitter",
            "Tests of circuit fridge",
        ],
        &["`pump`", "## Wires"],
    ),
    ("a colder season", "low         = \"11 °C\"", "low         = \"6 °C\"", &["Climate “summer”"], &["## Labels"]),
    (
        "handover a month later",
        "2027-04-09",
        "2027-05-09",
        &["handover", "2027-05-09", "on another day"],
        &["## Wires", "## Labels", "**The house bank"],
    ),
    ("other units", "revision = \"A\"", "revision = \"A\"\nprints = \"us\"", &["prints"], &["(`pump`)"]),
    (
        "a larger bank",
        "\"100 Ah\"",
        "\"120 Ah\"",
        &["| replace | Take out Battery bank, fit another | capacity: 100 Ah → 120 Ah |"],
        &["## Labels"],
    ),
    (
        "another voice on the phone",
        "555-0142",
        "555-0143",
        &["555-0142", "555-0143"],
        &["## Wires", "## Labels", "**The house bank"],
    ),
    (
        "another title",
        "\"Weekend\"",
        "\"Weekender\"",
        &["head and foot of every sheet"],
        &["## Wires", "**The house bank"],
    ),
    (
        "upkeep of the spec comes oftener",
        "every     = \"1 month\"",
        "every     = \"2 weeks\"",
        &["lunch warmer", "## Calendar"],
        &["## Wires", "## Labels"],
    ),
    (
        "upkeep of the spec has another step",
        "Put it back dry.",
        "Put it back with a cloth under it.",
        &["lunch warmer", "with a cloth under it"],
        &["## Wires", "## Labels"],
    ),
    (
        "upkeep of the spec more",
        "[upkeep.warmer-tray]",
        "[upkeep.roof]\ntitle = \"Wash the roof\"\nplace = \"roof\"\nseason = \"spring\"\nsteps = [\"Wash it.\"]\n\n[upkeep.warmer-tray]",
        &["Wash the roof", "## Calendar"],
        &["## Wires", "## Labels"],
    ),
    (
        "what the owner is told of an appliance",
        "No plastic boxes.",
        "No boxes of paper.",
        &["No plastic boxes.", "No boxes of paper."],
        &["## Wires", "## Labels"],
    ),
    ("three for two", "count = 2", "count = 3", &["`usb`", "count"], &["(`pump`)"]),
    (
        "another name",
        "kind = \"fridge\",",
        "kind = \"fridge\", name = \"Cold box\",",
        &["Cold box", "## Labels"],
        &["## Wires"],
    ),
    (
        "a taller van",
        "height           = \"1.86 m\"",
        "height           = \"1.96 m\"",
        &["height"],
        &["## Wires", "## Labels"],
    ),
    (
        "a reading",
        "[recorded.signed]",
        "[recorded.readings]\nfridge.amps-running = \"3.1 A\"\n[recorded.signed]",
        &["## Recorded on the van", "3.1 A"],
        &["## Wires", "## What was changed"],
    ),
    (
        "a signature",
        "[recorded.signed]\n",
        "[recorded.signed]\nintake = { by = \"C. Signer\", date = 2027-02-01 }\n",
        &["intake.signed", "C. Signer"],
        &["## Wires", "## What was changed"],
    ),
    (
        "a serial number",
        "[recorded.signed]",
        "[recorded.serials]\nbattery = \"SN-7\"\n[recorded.signed]",
        &["battery.serial", "SN-7"],
        &["## Wires"],
    ),
    (
        "a photo",
        "[recorded.signed]",
        "[recorded.photos]\nintake = { files = [\"a.jpg\"], show = \"corners\" }\n[recorded.signed]",
        &["a.jpg"],
        &["## Wires"],
    ),
    (
        "a warranty",
        "[recorded.signed]",
        "[recorded.warranty]\nbattery = { until = 2029-05-14, of = \"maker\" }\n[recorded.signed]",
        &["battery.warranty"],
        &["## Wires"],
    ),
    (
        "the hidden switch elsewhere",
        "place = \"bench\", note = \"It is behind the larboard flap.\"",
        "place = \"roof\", note = \"It is under the starboard lid.\"",
        &["A hidden switch may have been moved."],
        &["`aux-master`, place", "## Wires", "another version"],
    ),
    (
        "what is there already",
        "kind = \"fridge\",",
        "kind = \"fridge\", scope = \"existing\", known = { conductor = \"assumed\", protection = \"assumed\" },",
        &["`fridge`", "existing", "conductor assumed, protection assumed", "no longer"],
        &["## Wires", "## Labels", "(`pump`)"],
    ),
    (
        "what comes out",
        "lights     = { kind = \"light-zone\",",
        "lights     = { kind = \"light-zone\", scope = \"removed\",",
        &["(`lights`): taken out", "| take out | Light zone |", "take off"],
        &["(`pump`)"],
    ),
    (
        "the papers of the vehicle",
        "[vehicle]\n",
        "[vehicle]\nplate = \"QX 4711\"\n",
        &["text: “At a glance”"],
        &["## Wires", "## Labels", "QX 4711"],
    ),
    (
        "a task of one's own",
        "[recorded.signed]",
        "[task.wax]\ntitle = \"Wax the cavities\"\nstage = \"exterior\"\nminutes = 60\nsteps = [\"Spray wax into the sills.\"]\n[recorded.signed]",
        &["Wax the cavities", "| new |"],
        &["## Wires"],
    ),
];

#[test]
fn a_notice_names_all_that_differs_on_paper_and_nothing_else() {
    let spec = base();
    let mut faults = Vec::new();
    for (what, was, is, tells, not) in EDITS {
        assert_eq!(spec.matches(was).count(), 1, "{what}: `{was}` stands otherwise in the spec");
        let new = spec.replacen(was, is, 1);
        let held = std::panic::catch_unwind(|| notice_of(what, &new));
        let Ok((changes, notice)) = held else {
            faults.push((*what).to_owned());
            continue;
        };
        if let Ok(folder) = std::env::var("RIGBINDER_NOTICES") {
            std::fs::write(format!("{folder}/{}.md", what.replace(' ', "-")), &notice).expect("written");
        }
        let missing = tells.iter().filter(|word| !notice.contains(**word)).map(|w| format!("{what}: nothing of {w}"));
        let idle = not.iter().filter(|word| notice.contains(**word)).map(|w| format!("{what}: needless {w}"));
        faults.extend(missing.chain(idle));
        // A heading, then another or the end: nothing to say under it.
        let lines: Vec<&str> = notice.lines().filter(|l| !l.is_empty()).collect();
        let empty = lines.windows(2).any(|w| w[0].starts_with('#') && w[1].starts_with('#'));
        if empty || lines.last().is_some_and(|l| l.starts_with('#')) {
            faults.push(format!("{what}: an empty section"));
        }
        assert!(!changes.is_empty() || !changes.sheets.is_empty(), "{what}: told as no change");
    }
    assert!(faults.is_empty(), "{faults:#?}");
}

#[test]
fn what_was_tested_and_signed_under_an_earlier_id_is_found_with_the_new_one() {
    let tested = |id: &str| format!("[recorded.circuits]\n{id} = {{ continuity = \"0.1 ohm\" }}\n[recorded.signed]");
    let old = base().replacen("[recorded.signed]", &tested("fridge"), 1);
    let old = edition(&loaded(&old), None).0.snapshot;
    // The panel goes elsewhere: the far end of the fridge's cable is opened, and nothing of the fridge itself changed.
    let new = base().replacen("[recorded.signed]", &tested("cold-box"), 1);
    let new = new.replacen("fridge     =", "cold-box =", 1).replacen("fridge.connect", "cold-box.connect", 1);
    let new = new.replacen("ways = 8, place = \"bench\"", "ways = 8, place = \"galley\"", 1);
    let new = edition(&loaded(&new), Some(&old)).0.snapshot;
    let changes = Changes::between(&old, &new);
    assert_eq!(changes.renamed, [("fridge".to_owned(), "cold-box".to_owned())]);
    let found = stale(&old, &new);
    assert!(found.contains_key("circuits.cold-box"), "{found:?}");
    // What was found once is carried on under the next name, too.
    let mut carried = new.clone();
    carried.stale = found;
    let back = base().replacen("[recorded.signed]", &tested("ice-box"), 1);
    let back = back.replacen("fridge     =", "ice-box =", 1).replacen("fridge.connect", "ice-box.connect", 1);
    let back = back.replacen("ways = 8, place = \"bench\"", "ways = 8, place = \"galley\"", 1);
    let back = edition(&loaded(&back), Some(&carried)).0.snapshot;
    assert!(stale(&carried, &back).contains_key("circuits.ice-box"));
}

#[test]
fn a_hidden_switch_that_alone_moved_is_told_without_its_place() {
    let here = folder("changes-hidden");
    let (old, new) = (base(), base().replacen(SECRETS[0], SECRETS[1], 1));
    assert_ne!(old, new);
    std::fs::write(here.join("old.toml"), old).expect("spec");
    std::fs::write(here.join("new.toml"), new).expect("spec");
    let compare = |new: &str| {
        let output = rigbinder(&here, &["compare", "old.toml", new]);
        assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
        String::from_utf8(output.stdout).expect("text")
    };
    assert!(compare("old.toml").starts_with("Nothing changed"));
    let told = compare("new.toml");
    assert!(told.contains("A hidden switch may have been moved."), "{told}");
    assert!(SECRETS.iter().all(|secret| !told.contains(secret)), "{told}");
}

#[test]
fn what_changes_nothing_is_told_as_nothing() {
    let spec = base();
    let other = spec.replace("run = \"2.6 m\"", "run = \"260 cm\"").replace("capacity      =", "capacity =");
    let (changes, notice) = notice_of("blanks and units", &format!("# a remark\n{other}"));
    assert!(changes.is_empty() && notice.contains("Nothing changed."), "{notice}");
}

#[test]
fn a_place_under_a_new_id_is_a_new_name_and_nothing_else() {
    let new = base().replace("galley =", "kitchen =").replace("place = \"galley\"", "place = \"kitchen\"");
    let (changes, notice) = notice_of("a place renamed", &new);
    assert_eq!(changes.places, [("galley".to_owned(), "kitchen".to_owned())]);
    assert!(changes.components.is_empty() && changes.settings.is_empty(), "{notice}");
    assert!(notice.contains("| `galley` | `kitchen` |"), "{notice}");
}

#[test]
fn only_the_pdfs_that_the_notice_names_are_written_anew() {
    let Some(typst) = typst() else {
        assert!(std::env::var_os("REQUIRE_TYPST").is_none(), "no typst");
        return;
    };
    let here = folder("changes-pdfs");
    let typst = typst.display().to_string();
    let run = |args: &[&str]| {
        let output = rigbinder(&here, &[args, &["--typst", &typst]].concat());
        assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
    };
    std::fs::write(here.join("van.toml"), base()).expect("spec");
    run(&["compile", "van.toml"]);
    let out = here.join("docs-out/van");
    std::fs::copy(out.join("record.json"), here.join("issued.json")).expect("record");
    let pdfs = || {
        let entries = std::fs::read_dir(&out).expect("folder").map(|e| e.expect("entry").path());
        let pdfs = entries.filter(|p| p.extension().is_some_and(|e| e == "pdf"));
        let stamp = |p: &std::path::Path| {
            let about = std::fs::metadata(p).expect("file");
            (about.modified().expect("date"), std::fs::read(p).expect("bytes"))
        };
        pdfs.map(|p| (stem(&p).to_owned(), stamp(&p))).collect::<BTreeMap<_, _>>()
    };
    let before = pdfs();
    let longer = base().replacen("run = \"2.6 m\", draw", "run = \"7.9 m\", draw", 1);
    std::fs::write(here.join("van.toml"), longer).expect("spec");
    run(&["compile", "van.toml", "--revision-from", "issued.json"]);
    let notice = std::fs::read_to_string(out.join("change-notice.md")).expect("notice");
    let mut named: BTreeSet<String> = ids_below(&notice, "Sheets").into_iter().map(str::to_owned).collect();
    named.insert("change-notice".to_owned());
    assert_eq!(differing(&before, &pdfs()), named, "{notice}");
    for sheet in ["packet-04-electrical-rough-in", "packet-08-electrical-fit-off", "schedule", "labels"] {
        assert!(named.contains(sheet), "{named:?}");
    }
    assert!(!named.contains("packet-05-plumbing-rough-in") && !named.contains("maintenance-calendar"), "{named:?}");
}

#[test]
fn a_record_of_an_earlier_form_is_compared_by_what_both_know() {
    let record = std::fs::read_to_string(root().join("tests/reference/record-1.json")).expect("record");
    let record: serde_json::Value = serde_json::from_str(&record).expect("JSON");
    let old: Snapshot = serde_json::from_value(record["build"].clone()).expect("snapshot");
    assert_eq!(old.form, 0);
    let mut known = first().snapshot.clone();
    let as_it_was = |value: &mut rigbinder::documents::snapshot::Stated| {
        if let Some(bare) = value.exact.strip_prefix("places:") {
            value.exact = bare.to_owned();
        } else if value.exact.starts_with("printed:") {
            value.exact.clear();
        }
    };
    known.form = 0;
    known.components.values_mut().flat_map(|c| c.values.values_mut()).for_each(as_it_was);
    known.circuits.values_mut().flat_map(|c| c.values.values_mut()).for_each(as_it_was);
    known.figures.values_mut().for_each(|f| as_it_was(&mut f.value));
    (known.labels, known.calendar, known.findings) = Default::default();
    (known.page, known.units) = Default::default();
    known.sheets.values_mut().for_each(|s| s.drawings.clear());
    let changes = Changes::between(&known, &first().snapshot);
    assert!(changes.is_empty() && changes.sheets.is_empty() && changes.page.is_none(), "{changes:?}");
    assert!(changes.labels.is_empty() && changes.calendar.is_empty());
}
