//! What happens on site: work done otherwise, snags, parts the customer brings, certificates, ways out bed by bed.

use crate::harness::{errors, findings, folder, house, rigbinder, root, spec_syntax};
use rigbinder::compute::handover::Group;
use rigbinder::drawings::Subject;
use rigbinder::pipeline::{self, Only};

/// A small van, with an opening, lists of the site and a part of the customer.
const VAN: &str = r#"
spec = 2
build = { title = "Small van", handover = 2027-06-09 }
vehicle = { gross_mass = "3000 kg" }
contact.shop = { role = "the shop that built the van" }
[place]
bench = { about = "Box under the bench" }
roof  = { about = "Roof", zone = "roof" }
[component]
bank   = { kind = "battery-bank", capacity = "100 Ah", max_discharge = "100 A", max_charge = "50 A", place = "bench" }
fuse   = { kind = "main-fuse", fed_from = "bank", run = "15 cm", place = "bench" }
switch = { kind = "battery-disconnect", fed_from = "fuse", run = "20 cm", place = "bench" }
busbar = { kind = "busbar", fed_from = "switch", run = "20 cm", place = "bench" }
fridge = { kind = "fridge", fed_from = "busbar", run = "2 m", place = "bench", from_customer = true, supplier = "Pole Star", price = "USD 900" }
fan    = { kind = "roof-fan", fed_from = "busbar", run = "3 m", place = "roof" }

[[deviation]]
conductor = "fridge.supply"
done      = "laid along the left wall"
why       = "a brace stood in the way"
agreed    = "E. Oswin"
date      = 2027-05-03
[[deviation]]
opening = "fan"
done    = "cut 40 mm further aft"
agreed  = "E. Oswin"
date    = 2027-05-04
[[deviation]]
task   = "fridge.fit"
done   = "held by two straps"
agreed = "E. Oswin"
date   = 2027-05-05
[[snag]]
what      = "The lid rattles"
component = "fridge"
owner     = "I. Mason"
found     = 2027-06-02
due       = 2027-07-01
[[snag]]
what  = "A scratch beside the hatch"
place = "roof"
owner = "K. Adair"
found = 2027-06-01
done  = 2027-06-03
by    = "E. Oswin"
[[certificate]]
of     = "electrical"
number = "E-118"
date   = 2027-06-01
by     = "L. Orme, licence 4711"
file   = "electrical.pdf"
digest = "E3B0C44298FC1C149AFBF4C8996FB92427AE41E4649B934CA495991B7852B855"
"#;

fn van() -> String {
    let library = rigbinder::kinds::Library::load(crate::harness::built_in()).expect("kinds");
    let first = library.get("fridge").expect("a kind").tasks[0].id.clone();
    VAN.replace("fridge.fit", &format!("fridge.{first}"))
}

#[test]
fn what_happened_on_site_stands_where_it_is_looked_for() {
    let text = van();
    let loaded = pipeline::load(house(), "site.toml", text.as_bytes()).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    assert_eq!(worked.counts().0, 0, "{:?}", worked.findings);
    let sheets = pipeline::sheets(&worked, &Only::default()).expect("documents");
    let sheet = |stem: &str| {
        let sheet = sheets.iter().find(|s| s.stem == stem);
        sheet.map_or_else(|| panic!("no {stem}"), |s| s.markdown.as_str())
    };
    let row = |text: &str, of: &str| text.lines().any(|l| l.starts_with(of));
    // The conductor: on the lists that pull and terminate it, and in the schedule.
    for stem in ["packet-04-electrical-rough-in", "packet-08-electrical-fit-off", "schedule"] {
        let text = sheet(stem);
        assert!(text.contains("`fridge` Δ"), "{stem} does not mark it");
        assert!(!text.contains("`fan` Δ"), "{stem} marks another");
        assert!(row(text, "| Δ Conductor | `fridge.supply` | laid along the left wall"), "{stem} does not tell it");
    }
    // The opening and the task, in the packets that do them.
    let cut = sheets.iter().filter(|s| s.stem.starts_with("packet-")).find(|s| s.markdown.contains("(`fan` Δ)"));
    assert!(row(&cut.expect("an opening schedule").markdown, "| Δ Opening for | `fan` | cut 40 mm further aft"));
    let told = sheets.iter().filter(|s| s.stem.starts_with("packet-"));
    let told: Vec<&str> =
        told.filter(|s| s.markdown.contains("Δ done otherwise: held by two straps")).map(|s| s.stem.as_str()).collect();
    assert_eq!(told.len(), 1, "{told:?}");
    // Drawings mark them as well.
    let drawings = pipeline::drawings(&worked);
    assert!(drawings.iter().any(|d| d.stem.contains("terminals") && d.svg.contains("fridge.supply Δ")));
    // Snags: in the last packet, and kept in the binder; the open one first.
    for stem in ["packet-12-handover", "handover-binder"] {
        let list = sheet(stem).split("{#snags}").nth(1).expect("a list");
        let (open, done) = (list.find("The lid rattles").expect("open"), list.find("A scratch").expect("done"));
        assert!(open < done && list.contains("2027-06-03, E. Oswin"), "{stem}");
    }
    // The customer's fridge: tried at receipt, not bought, no warranty of the shop's.
    assert!(row(sheet("packet-01-intake"), "| 1 | Compressor fridge | `fridge` |"));
    let bought = sheet("schedule").split("## Purchase").nth(1).unwrap_or_default();
    assert!(!bought.contains("Pole Star"), "it is bought");
    let binder = sheet("handover-binder");
    let register = binder.split("{#register}").nth(1).expect("a register");
    assert!(register.lines().any(|l| l.contains("Compressor fridge") && l.contains("brought by the owner")));
    assert_eq!(spec_syntax(&sheets), Vec::<String>::new());
    let paper = binder.split("{#certificates}").nth(1).expect("a list");
    assert!(paper.contains("E-118") && paper.contains("`e3b0c44298fc1c14"), "{paper}");
}

/// What was laid or cut otherwise is marked wherever a person could take the old way for true: in drawings, on labels and
/// in the data.
#[test]
fn what_was_laid_otherwise_is_marked_in_drawings_labels_and_data() {
    let text = van()
        .replace("gross_mass = \"3000 kg\"", "gross_mass = \"3000 kg\", wheelbase = \"3.6 m\"")
        .replace("\"Box under the bench\" }", "\"Box under the bench\", at = [\"3 m\", \"0.5 m\", \"0.2 m\"] }\ngalley = { about = \"Galley\", at = [\"4.6 m\", \"0.5 m\", \"0.2 m\"] }")
        .replace("fed_from = \"busbar\", run = \"2 m\", place = \"bench\"", "fed_from = \"busbar\", place = \"galley\"")
        .replace("[component]", "[channel.duct]\ninside = \"20 mm\"\npoints = [[\"3 m\", \"0.5 m\", \"0.2 m\"], [\"4.6 m\", \"0.5 m\", \"0.2 m\"]]\n[component]");
    let loaded = pipeline::load(house(), "site.toml", text.as_bytes()).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    assert_eq!(worked.counts().0, 0, "{:?}", worked.findings);
    let drawings = pipeline::drawings(&worked);
    for (subject, mark) in
        [(Subject::DcOneLine, "fridge Δ"), (Subject::PullPlan, "Δ fridge.supply"), (Subject::Labels, "Δ 1")]
    {
        let of_it: Vec<_> = drawings.iter().filter(|d| d.subject == subject).collect();
        let told = of_it.iter().flat_map(|d| &d.labels).filter(|label| label.text.contains(mark)).count();
        assert!(told > 0, "{subject:?} does not mark it");
        assert!(of_it.iter().all(|d| !d.svg.contains("fan Δ")), "{subject:?} marks another");
    }
    let table = |name: &str, of: &str, column: &str| {
        let data = pipeline::data(&worked).expect("tables");
        let file = data.iter().find(|f| f.name.ends_with(&format!("{name}.csv"))).expect(name);
        let text = String::from_utf8(file.bytes.clone()).expect("text");
        let mut lines = text.lines();
        // The last column: what stands before it may hold commas.
        assert!(lines.next().expect("a head").ends_with(column), "{name}: no {column}");
        lines.filter(|line| line.contains(of) && line.ends_with(",yes")).count()
    };
    for (name, of, column) in [
        ("conductors", "fridge.supply", "Laid otherwise"),
        ("wire-labels", "fridge", "Laid otherwise"),
        ("openings", "fan", "Cut otherwise"),
    ] {
        assert!(table(name, of, column) > 0, "{name}: {of}");
        assert_eq!(table(name, if of == "fan" { "fridge" } else { "fan." }, column), 0, "{name}");
    }
}

#[test]
fn slips_on_site_are_told_at_their_places() {
    let text = van();
    let told = |was: &str, is: &str| -> Vec<(String, String)> {
        assert!(text.contains(was), "{was}");
        let text = text.replacen(was, is, 1);
        let here = |f: &rigbinder::diag::Finding| text[f.span.map_or(0..0, |s| s.start..s.end)].to_owned();
        let all = findings(&text);
        all.iter()
            .filter(|f| f.severity == rigbinder::diag::Severity::Error)
            .map(|f| (f.name.to_owned(), here(f)))
            .collect()
    };
    let one = |name: &str, here: &str| vec![(name.to_owned(), here.to_owned())];
    assert_eq!(told("\"fridge.supply\"", "\"fridge.suply\""), one("deviation-of-nothing", "\"fridge.suply\""));
    assert_eq!(told("opening = \"fan\"", "opening = \"fridge\""), one("deviation-of-nothing", "\"fridge\""));
    let both = told("opening = \"fan\"", "opening = \"fan\"\ntask = \"fan.fit\"");
    assert_eq!(both.iter().map(|(name, _)| name.as_str()).collect::<Vec<_>>(), ["deviation-of-nothing"]);
    assert_eq!(told("done  = 2027-06-03", "done  = 2027-05-03"), one("snag-done-before-found", "2027-05-03"));
    assert_eq!(told("due       = 2027-07-01", "due = \"soon\"").len(), 1);
    assert_eq!(told("component = \"fridge\"", "component = \"frige\"").len(), 1);
    let missing = told("agreed    = \"E. Oswin\"\n", "");
    assert_eq!(missing.first().map(|(name, _)| name.as_str()), Some("missing-field"), "{missing:?}");
    let short = told("E3B0C4", "");
    assert_eq!(short.first().map(|(name, _)| name.as_str()), Some("certificate-digest-unreadable"));
    let single = told("[[snag]]\nwhat      = \"The lid rattles\"", "[snag]\nwhat = \"The lid rattles\"");
    assert!(!single.is_empty(), "a list in single brackets");
}

/// The file of a certificate goes with the documents under a name that they tell; a link or a file elsewhere never does.
#[test]
fn certificates_are_copied_with_their_digest() {
    let here = folder("site-certificates");
    let text = std::fs::read_to_string(root().join("tests/quiet/certificate-file-missing.toml")).expect("spec");
    let text = text.replace("gas-test.txt", "papers/gas.txt");
    std::fs::write(here.join("van.toml"), &text).expect("spec");
    std::fs::create_dir(here.join("papers")).expect("folder");
    // Check value of FIPS 180-4 for the message "abc".
    std::fs::write(here.join("papers/gas.txt"), "abc").expect("paper");
    let compile = || rigbinder(&here, &["compile", "van.toml", "--no-pdf", "--only", "binder"]);
    let output = compile();
    assert_eq!(output.status.code(), Some(0), "{}", errors(&output));
    let copy = here.join("docs-out/van/certificates/papers-gas.txt");
    assert_eq!(std::fs::read_to_string(&copy).expect("a copy"), "abc");
    let binder = std::fs::read_to_string(here.join("docs-out/van/handover-binder.md")).expect("binder");
    let list = binder.split("{#certificates}").nth(1).expect("a list");
    let digest = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
    assert!(list.contains("certificates/papers-gas.txt") && list.contains(digest), "{list}");
    // Another file, another copy: the output depends on it as on the spec.
    std::fs::write(here.join("papers/gas.txt"), "abd").expect("paper");
    assert_eq!(compile().status.code(), Some(0));
    assert_eq!(std::fs::read_to_string(&copy).expect("a copy"), "abd");
    let check = |file: &str| {
        std::fs::write(here.join("van.toml"), text.replace("papers/gas.txt", file)).expect("spec");
        let output = rigbinder(&here, &["check", "van.toml"]);
        (output.status.code(), errors(&output))
    };
    for outside in ["../van.toml", "/etc/hostname", "papers/../../gas.txt", "van.toml", "papers"] {
        let (code, told) = check(outside);
        assert!(code == Some(1) && told.contains("certificate-file-unusable"), "{outside}: {told}");
    }
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink(here.join("van.toml"), here.join("papers/link.txt")).expect("link");
        std::os::unix::fs::symlink(here.join("papers"), here.join("linked")).expect("link");
        for link in ["papers/link.txt", "linked/gas.txt"] {
            let (code, told) = check(link);
            assert!(code == Some(1) && told.contains("is a link"), "{link}: {told}");
        }
    }
    let (code, told) = check("papers/none.txt");
    assert!(code == Some(0) && told.contains("certificate-file-missing"), "{told}");
}

/// EN 1949 asks for a test of the gas installation, and Europe for its paper (common practice, no source read).
#[test]
fn gas_that_this_job_works_on_needs_its_paper_in_europe() {
    let asks = |more: &str, certificate: &str| {
        let text = format!(
            "spec = 2\nbuild = {{ title = \"Van\", rules = \"eu\", job = \"refit\" }}\nplace.a = {{ about = \"A\" }}\n\
             [component]\nhob = {{ kind = \"cooktop-lpg\", place = \"a\"{more} }}\n{certificate}"
        );
        let loaded = pipeline::load(house(), "gas.toml", text.as_bytes()).expect("kinds");
        let worked = pipeline::work_out(&loaded).expect("profile");
        worked.missing.iter().any(|m| m.group == Group::Certificates)
    };
    let paper = "[[certificate]]\nof = \"gas\"\nnumber = \"G-1\"\ndate = 2027-06-01\nby = \"L. Orme\"\n";
    assert!(asks("", "") && !asks("", paper) && !asks(", scope = \"existing\"", ""));
    assert!(asks("", &paper.replace("gas", "electrical")), "another paper");
}

/// NFPA 1192 (2018) 6.2.1.2, quoted: each sleeping area has two unobstructed paths to an exit.
#[test]
fn each_bed_has_two_ways_out() {
    let van = |serves: &str| {
        let text = format!(
            "spec = 2\nbuild = {{ title = \"Van\" }}\nplace.a = {{ about = \"A\" }}\n[component]\n\
             rear = {{ kind = \"bed\", place = \"a\" }}\nbunk = {{ kind = \"bed\", place = \"a\" }}\n\
             door = {{ kind = \"escape-route\", opening = \"door\", place = \"a\" }}\n\
             cab = {{ kind = \"escape-route\", opening = \"door\", place = \"a\"{serves} }}\n"
        );
        let all = findings(&text);
        let missing = all.into_iter().filter(|f| f.name == "escape-route-missing");
        missing.filter_map(|f| f.subject).collect::<Vec<_>>()
    };
    assert!(van("").is_empty());
    assert_eq!(van(", serves = [\"rear\"]"), ["bunk"]);
    assert!(van(", serves = [\"rear\", \"bunk\"]").is_empty());
}
