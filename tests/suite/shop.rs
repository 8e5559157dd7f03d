//! A shop's folder: what it gives to a spec, which value wins, and every fault in it told at its place.

use crate::harness::{built_in, errors, folder, rigbinder, root};
use rigbinder::catalogue::{Catalogue, Layer};
use rigbinder::diag::{Finding, Severity, human, json, short};
use rigbinder::pipeline::{self, Loaded};
use rigbinder::units::Watts;
use std::collections::BTreeSet;
use std::path::Path;

const PAGE: &str = "[shop]\nname = \"Alder Works\"\n";
const FRIDGE: &str = "[stock.fridge-110]\nkind = \"fridge\"\ndraw = \"45 W\"\nmass = \"31 kg\"\n";

/// A catalogue with a shop's layer of these files.
fn shop(files: &[(&str, &str)]) -> Catalogue {
    let files = files.iter().map(|(path, text)| ((*path).to_owned(), text.as_bytes().to_vec()));
    built_in().with(Layer::of_shop("my-shop", files.collect(), Vec::new()))
}

fn read(catalogue: &Catalogue, text: &str) -> Loaded {
    pipeline::load(catalogue, "van.toml", text.as_bytes()).expect("built-in texts hold together")
}

fn van(components: &str) -> String {
    format!("spec = 2\n[build]\ntitle = \"Van\"\n[place.galley]\nabout = \"Galley\"\n{components}")
}

fn names(findings: &[Finding]) -> Vec<&str> {
    findings.iter().filter(|f| f.severity == Severity::Error).map(|f| f.name).collect()
}

fn draw(loaded: &Loaded, id: &str) -> Watts {
    loaded.spec.components[id].record.watts("draw").expect("a draw")
}

#[test]
fn the_component_wins_over_what_it_is_like_that_over_the_stock_item_and_that_over_the_kind() {
    let catalogue = shop(&[("shop.toml", PAGE), ("stock/a.toml", FRIDGE)]);
    let loaded = read(
        &catalogue,
        &van("[component]\n\
             kind-alone = { kind = \"fridge\", place = \"galley\" }\n\
             item = { stock = \"fridge-110\", place = \"galley\" }\n\
             own = { stock = \"fridge-110\", draw = \"50 W\", place = \"galley\" }\n\
             copy = { like = \"own\", place = \"galley\" }\n\
             copy-of-item = { like = \"item\", draw = \"40 W\", place = \"galley\" }\n"),
    );
    assert_eq!(names(&loaded.findings), Vec::<&str>::new());
    let watts = ["item", "own", "copy", "copy-of-item"].map(|id| draw(&loaded, id));
    assert_eq!(watts, [45.0, 50.0, 50.0, 40.0].map(Watts));
    assert_ne!(draw(&loaded, "kind-alone"), Watts(45.0), "the kind's own default");
    for id in ["item", "own", "copy", "copy-of-item"] {
        let component = &loaded.spec.components[id];
        assert_eq!(component.kind.value, "fridge", "{id}");
        assert_eq!(component.stock.as_ref().expect("an item").value, "fridge-110", "{id}");
        assert!(component.record.gave("mass"), "a mass of the item is no default: {id}");
    }
}

#[test]
fn a_spec_with_a_stock_item_is_the_spec_with_its_fields_written_out() {
    let starter = rigbinder::spec::starter(built_in()).expect("starter").to_owned();
    let kind = starter
        .lines()
        .find(|l| l.starts_with("kind ") && l.ends_with("= \"fridge\""))
        .expect("the starter has a fridge");
    let item = "[stock.cold]\nkind = \"fridge\"\nmass = \"31.5 kg\"\n";
    let with = starter.replacen(kind, "stock = \"cold\"", 1);
    let loaded = read(&shop(&[("shop.toml", "[shop]\nname = \"Elsewhere\"\n"), ("stock/a.toml", item)]), &with);
    let plain = read(built_in(), &starter);
    let fields = |loaded: &Loaded| {
        let parts = loaded.spec.components.values();
        parts.map(|c| (c.id.value.clone(), c.kind.value.clone(), c.record.fields.len())).collect::<Vec<_>>()
    };
    let mut expected = fields(&plain);
    let gave = plain.spec.components.values().find(|c| c.kind.value == "fridge").expect("fridge");
    if gave.record.get("mass").is_none() {
        for (_, kind, fields) in &mut expected {
            *fields += usize::from(kind == "fridge");
        }
    }
    assert_eq!(fields(&loaded), expected);
}

#[test]
fn a_finding_on_a_value_of_an_item_points_into_its_file_and_at_the_component() {
    let item = "# a remark\n[stock.cold]\nkind = \"fridge\"\nmass = \"31\"\n";
    let catalogue = shop(&[("shop.toml", PAGE), ("stock/cold.toml", item)]);
    let loaded = read(&catalogue, &van("[component.fridge]\nstock = \"cold\"\nplace = \"galley\"\n"));
    let worked = pipeline::work_out(&loaded).expect("worked out");
    let lines = short::render(&worked.findings, &loaded.file);
    assert!(lines.contains("my-shop/stock/cold.toml:4:9: error: quantity-unreadable"), "{lines}");
    let text = human::render(&worked.findings, &loaded.file, false, false);
    assert!(text.contains("my-shop/stock/cold.toml:4:9") && text.contains("mass = \"31\""), "{text}");
    let value: serde_json::Value = serde_json::from_str(&json::render(&worked.findings, &loaded.file)).expect("JSON");
    let found = value.as_array().expect("list").iter().find(|f| f["name"] == "quantity-unreadable").expect("finding");
    assert_eq!((&found["file"], &found["line"]), (&"my-shop/stock/cold.toml".into(), &4.into()));

    // A check, which knows nothing of stock, on a value of an item.
    let text = van("[component]\n\
         bank = { kind = \"battery-bank\", place = \"galley\" }\n\
         panel = { kind = \"fuse-panel\", fed_from = \"bank\", run = \"1 m\", place = \"galley\" }\n\
         fridge = { stock = \"cold\", fed_from = \"panel\", run = \"3 m\", place = \"galley\" }\n");
    let item = "[stock.cold]\nkind = \"fridge\"\nprotection = \"80 A\"\nconductor = \"16 AWG\"\n";
    let loaded = read(&shop(&[("shop.toml", PAGE), ("stock/cold.toml", item)]), &text);
    let worked = pipeline::work_out(&loaded).expect("worked out");
    let found = worked.findings.iter().find(|f| f.name == "fuse-above-conductor").expect("80 A on 16 AWG");
    assert!(loaded.file.is_further(found.span.expect("a place")), "in the item's file");
    let stock = loaded.spec.components["fridge"].stock.as_ref().expect("an item").span;
    assert_eq!(loaded.file.slice(stock), "\"cold\"");
    assert!(found.labels.iter().any(|label| label.span == stock), "{:?}", found.labels);
    let shown = human::render(std::slice::from_ref(found), &loaded.file, false, false);
    assert!(shown.contains("my-shop/stock/cold.toml:") && shown.contains("van.toml:"), "{shown}");
}

#[test]
fn the_page_stands_in_where_the_spec_does_not_say() {
    let page = "[shop]\nname = \"Alder Works\"\nrules = \"eu\"\nprints = \"us\"\npaper = \"letter\"\n[words]\nfridge = \"Icebox\"\n";
    let catalogue = shop(&[("shop.toml", page)]);
    let parts = "[component.fridge]\nkind = \"fridge\"\nplace = \"galley\"\n";
    let loaded = read(&catalogue, &van(parts));
    let build = |field: &str| loaded.spec.build.text(field).unwrap_or("").to_owned();
    assert_eq!(["shop", "rules", "prints", "paper"].map(build), ["Alder Works", "eu", "us", "letter"]);
    let worked = pipeline::work_out(&loaded).expect("worked out");
    assert_eq!(worked.build.parts["fridge"].name, "Icebox");
    let own = van(parts).replace("title", "shop = \"Mine\"\nrules = \"us\"\ntitle");
    let loaded = read(&catalogue, &own);
    assert_eq!((loaded.spec.build.text("shop"), loaded.spec.build.text("rules")), (Some("Mine"), Some("us")));
}

const HATCH: &str = r#"
name    = "Observation hatch"
system  = "body"
summary = "A lid in the roof to look out of."
also    = ["dome"]
[[task]]
id = "fit"
stage = "furniture"
title = "Fit {{ name }}"
minutes = 30
steps = ["Fit {{ name }} at {{ place }}."]
[owner]
what = "A lid to look out of."
"#;

/// Makes it a load, to whose conductors nothing gives a post.
const WIRED: &str = "[role.load]\nnetwork = \"dc\"\ndraw = { default = \"5 W\" }\n";

/// A finding, the files that fire it, and what quiets it.
type Case = (&'static str, Vec<(&'static str, String)>, &'static str);

/// A case for each finding on a shop's folder.
fn cases() -> Vec<Case> {
    let file = |path: &'static str, text: &str| (path, text.to_owned());
    let page = |more: &str| file("shop.toml", &format!("{PAGE}{more}"));
    let item = |more: &str| file("stock/a.toml", &format!("{FRIDGE}{more}"));
    let taken = "[component.fridge]\nstock = \"fridge-110\"\nplace = \"galley\"\n";
    vec![
        ("accent-unusable", vec![page("accent = \"#ffee00\"\n")], ""),
        ("field-of-one-build", vec![page(""), item("place = \"galley\"\n")], taken),
        ("kind-shadows-another", vec![page(""), file("kinds/fridge.toml", HATCH)], "# fridge\n"),
        ("kind-unreadable", vec![page(""), file("kinds/hatch.toml", "like = \"hatch\"\n")], "# hatch\n"),
        (
            "kind-unreadable",
            vec![page(""), file("kinds/hatch.toml", "like = \"fridge\"\ndrop = [\"task.x\"]\n")],
            "# hatch\n",
        ),
        (
            "kind-text-unreadable",
            vec![page(""), file("kinds/hatch.toml", &HATCH.replace("{{ place }}", "{{ place"))],
            "# hatch\n",
        ),
        ("kind-unreadable", vec![page(""), file("kinds/hatch.toml", &HATCH.replace("system ", "sytem "))], "# hatch\n"),
        // What would end on nothing is told where the kind can be mended.
        ("kind-unreadable", vec![page(""), file("kinds/hatch.toml", &format!("{HATCH}{WIRED}"))], "# hatch\n"),
        ("picture-by-path", vec![page("logo = \"../logo.svg\"\n")], ""),
        ("picture-missing", vec![page("logo = \"logo.svg\"\n")], ""),
        (
            "stock-of-other-kind",
            vec![page(""), item("")],
            "[component.fridge]\nkind = \"freezer\"\nstock = \"fridge-110\"\nplace = \"galley\"\n",
        ),
        ("stock-twice", vec![page(""), item(""), file("stock/b.toml", FRIDGE)], ""),
        ("unknown-kind", vec![page(""), file("stock/a.toml", &FRIDGE.replace("\"fridge\"", "\"frigde\""))], taken),
        ("unknown-stock", vec![page(""), item("")], "[component.fridge]\nstock = \"frigde-110\"\nplace = \"galley\"\n"),
    ]
}

#[test]
fn every_finding_on_a_folder_fires_at_its_place_and_helps() {
    let mut fired: BTreeSet<&str> = BTreeSet::new();
    for (name, files, spec) in cases() {
        let files: Vec<(&str, &str)> = files.iter().map(|(path, text)| (*path, text.as_str())).collect();
        let loaded = read(&shop(&files), &van(spec));
        let found: Vec<&Finding> = loaded.findings.iter().filter(|f| f.name == name).collect();
        assert_eq!(found.len(), 1, "{name}: {:?}", loaded.findings);
        let span = found[0].span.expect("a place");
        let in_spec = ["stock-of-other-kind", "unknown-stock"].contains(&name);
        assert_eq!(loaded.file.is_further(span), !in_spec, "{name}");
        assert!(!found[0].help.is_empty() && pipeline::finding_docs().iter().any(|d| d.name == name), "{name}");
        fired.insert(name);
    }
    // Those on files as they lie on the disk are held by the next test.
    let docs = rigbinder::spec::SHOP_FINDINGS.iter().map(|d| d.name);
    let left: Vec<&str> = docs.filter(|name| !fired.contains(name)).collect();
    assert_eq!(left, ["picture-unusable", "shop-file-unreadable"]);
}

#[test]
fn without_faults_the_folder_is_quiet() {
    let kind = ("kinds/hatch.toml", HATCH);
    let files = [("shop.toml", PAGE), ("stock/a.toml", FRIDGE), kind];
    let spec = van(
        "[component]\nfridge = { stock = \"fridge-110\", place = \"galley\" }\nhatch = { kind = \"hatch\", place = \"galley\" }\n",
    );
    let loaded = read(&shop(&files), &spec);
    assert_eq!(names(&loaded.findings), Vec::<&str>::new());
    let checked = pipeline::check_shop(&shop(&files), "my-shop").expect("checked");
    assert_eq!((names(&checked.findings), checked.items, checked.kinds), (vec![], 1, 1));
    let worked = pipeline::work_out(&loaded).expect("worked out");
    assert!(worked.build.tasks.keys().any(|id| id.contains("hatch")), "the kind of the shop brings its task");
}

/// An item that no spec takes is checked with the folder alone.
#[test]
fn the_folder_alone_is_checked_whole() {
    let files = [
        ("shop.toml", PAGE),
        ("stock/a.toml", "[stock.a]\nkind = \"fridge\"\nmass = \"31\"\n[stock.b]\nkind = \"frigde\"\n"),
    ];
    let checked = pipeline::check_shop(&shop(&files), "my-shop").expect("checked");
    assert_eq!(names(&checked.findings), ["quantity-unreadable", "unknown-kind"]);
    let loaded = read(&shop(&files), &van(""));
    assert_eq!(names(&loaded.findings), Vec::<&str>::new(), "a spec that takes neither hears of neither");
}

/// Writes a shop's folder beside a spec; gives the folder that holds both.
fn on_disk(test: &str, spec: &str) -> std::path::PathBuf {
    let here = folder(test);
    for inside in ["shop/stock", "shop/kinds", "shop/pictures"] {
        std::fs::create_dir_all(here.join(inside)).expect("folder");
    }
    let logo = format!("{PAGE}logo = \"logo.svg\"\n");
    for (path, text) in [
        ("shop/shop.toml", logo.as_str()),
        ("shop/stock/a.toml", FRIDGE),
        ("shop/pictures/logo.svg", "<svg xmlns=\"http://www.w3.org/2000/svg\"><path d=\"M0 0h1v1z\"/></svg>\n"),
        ("van.toml", spec),
    ] {
        std::fs::write(here.join(path), text).expect("file");
    }
    here
}

#[test]
fn the_folder_is_found_named_or_left_out_and_said() {
    let here = on_disk("shop-found", &van("[component.fridge]\nstock = \"fridge-110\"\nplace = \"galley\"\n"));
    std::fs::create_dir_all(here.join("specs")).expect("folder");
    std::fs::copy(here.join("van.toml"), here.join("specs/van.toml")).expect("copy");
    let said = |args: &[&str]| errors(&rigbinder(&here, args));
    for spec in ["van.toml", "specs/van.toml"] {
        let told = said(&["check", spec]);
        assert!(told.lines().filter(|l| l.starts_with("shop's folder: ")).count() == 1, "{told}");
        assert!(!told.contains("unknown-stock"), "{told}");
        let told = said(&["check", spec, "--no-shop"]);
        assert!(!told.contains("shop's folder: ") && told.contains("unknown-stock"), "{told}");
    }
    let told = said(&["check", "van.toml", "--shop", "nowhere"]);
    assert!(told.contains("there is no folder nowhere"), "{told}");
    let told = said(&["check", "van.toml", "--shop", "specs"]);
    assert!(told.contains("specs has no shop.toml"), "{told}");
    let told = said(&["check", "--shop", "shop"]);
    assert!(told.contains("1 stock item, 0 kinds of its own: 0 errors"), "{told}");
    let told = said(&["check"]);
    assert!(told.contains("name a spec, or a shop's folder"), "{told}");
}

#[cfg(unix)]
#[test]
fn what_is_wrong_on_the_disk_is_told_and_nothing_is_written() {
    use std::os::unix::fs::symlink;
    type Harm = fn(&Path);
    let spec = van("[component.fridge]\nstock = \"fridge-110\"\nplace = \"galley\"\n");
    let good = on_disk("shop-good", &spec);
    let sound =
        |told: &str| ["shop-file", "picture-", "stock"].iter().all(|name| !told.contains(&format!("error: {name}")));
    assert!(sound(&errors(&rigbinder(&good, &["check", "van.toml"]))));
    let harms: [(&str, Harm, &str); 8] = [
        ("link", |p| symlink("/etc/hostname", p.join("stock/b.toml")).expect("link"), "stock/b.toml is a link"),
        (
            "pictures",
            |p| {
                std::fs::rename(p.join("pictures"), p.join("elsewhere")).expect("moved");
                symlink("elsewhere", p.join("pictures")).expect("link");
            },
            "pictures is a link",
        ),
        (
            "logo-link",
            |p| {
                std::fs::remove_file(p.join("pictures/logo.svg")).expect("gone");
                symlink("/etc/hostname", p.join("pictures/logo.svg")).expect("link");
            },
            "pictures/logo.svg is a link",
        ),
        (
            "large",
            |p| {
                let file = std::fs::File::create(p.join("pictures/logo.svg")).expect("file");
                file.set_len(40_000_000).expect("long");
            },
            "too large: it has 40000000 bytes",
        ),
        (
            "script",
            |p| std::fs::write(p.join("pictures/logo.svg"), "<svg><script/></svg>").expect("file"),
            "does more than draw",
        ),
        (
            "png",
            |p| {
                std::fs::write(p.join("shop.toml"), format!("{PAGE}logo = \"logo.png\"\n")).expect("page");
                std::fs::write(p.join("pictures/logo.png"), b"\x89PNG\r\n\x1a\nno").expect("file");
            },
            "cut off or damaged",
        ),
        ("latin", |p| std::fs::write(p.join("stock/b.toml"), b"[stock.caf\xe9]").expect("file"), "is not UTF-8 text"),
        (
            "pipe",
            |p| {
                assert!(
                    std::process::Command::new("mkfifo")
                        .arg(p.join("stock/b.toml"))
                        .status()
                        .expect("mkfifo")
                        .success()
                );
            },
            "a pipe, a socket or a device",
        ),
    ];
    for (name, harm, told) in harms {
        let here = on_disk(&format!("shop-{name}"), &spec);
        harm(&here.join("shop"));
        let run = rigbinder(&here, &["compile", "van.toml", "--no-pdf"]);
        let said = errors(&run);
        assert!(said.contains(told), "{name}: {said}");
        assert_eq!(run.status.code(), Some(1), "{name}: {said}");
        assert!(!here.join("docs-out/van").exists(), "{name}: nothing is written");
    }
    let here = on_disk("shop-away", &spec);
    std::fs::rename(here.join("shop"), here.join("real")).expect("moved");
    symlink("real", here.join("shop")).expect("link");
    let run = rigbinder(&here, &["check", "van.toml"]);
    assert!(errors(&run).contains("shop is a link") && run.status.code() == Some(2), "{}", errors(&run));
    assert!(sound(&errors(&rigbinder(&here, &["check", "van.toml", "--shop", "shop"]))), "named, it may be one");
}

/// Specs without a shop's folder are what they were.
#[test]
fn a_page_that_says_nothing_changes_nothing() {
    let text = std::fs::read_to_string(root().join("specs/weekend.toml")).expect("spec");
    let text = text.replacen("[build]\n", "[build]\nshop = \"Mine\"\n", 1);
    let plain = read(built_in(), &text);
    let with = read(&shop(&[("shop.toml", "[shop]\nname = \"x\"\n"), ("stock/a.toml", FRIDGE)]), &text);
    let sheets = |loaded: &Loaded| {
        let sheets = crate::harness::sheets(loaded);
        sheets.into_iter().map(|sheet| sheet.markdown).collect::<Vec<_>>()
    };
    assert!(plain.spec.build.gave("shop"), "the spec names its shop, so the page does not stand in");
    assert_eq!(sheets(&plain), sheets(&with));
}

#[test]
fn a_kind_that_does_not_read_brings_no_word_against_its_components() {
    let kind = "name = \"Player\"\nsystem = \"body\"\nsummary = \"Plays {{ lid_gape }}.\"\nalso = []\n\
                [role.load]\nnetwork = \"dc\"\ndraw = { default = \"9 W\" }\n[owner]\nwhat = \"{{ lid_gape }}\"\n";
    let item = "[stock.turntable]\nkind = \"player\"\ndraw = \"12 W\"\n";
    let catalogue = shop(&[("shop.toml", PAGE), ("kinds/player.toml", kind), ("stock/a.toml", item)]);
    let text = van("[component]\nfuses = { kind = \"fuse-panel\", place = \"galley\" }\n\
                    deck = { kind = \"player\", fed_from = \"fuses\", run = \"1 m\", place = \"galley\" }\n\
                    other = { stock = \"turntable\", fed_from = \"fuses\", run = \"1 m\", place = \"galley\" }\n");
    let loaded = read(&catalogue, &text);
    let worked = pipeline::work_out(&loaded).expect("profile");
    assert_eq!(names(&worked.findings), ["kind-unreadable"], "{:?}", worked.findings);
}

#[test]
fn the_shop_is_called_where_a_spec_names_nobody() {
    let page = format!("{PAGE}telephones = [\"+1 555 0100\", \"+1 555 0101\"]\n");
    let catalogue = shop(&[("shop.toml", &page)]);
    let phones = |text: &str| {
        let loaded = read(&catalogue, text);
        let contacts = loaded.spec.contacts.values();
        contacts.map(|c| (c.text("name").map(str::to_owned), c.text("phone").map(str::to_owned))).collect::<Vec<_>>()
    };
    let alder = |phone: &str| (Some("Alder Works".to_owned()), Some(phone.to_owned()));
    assert_eq!(phones(&van("")), [alder("+1 555 0100"), alder("+1 555 0101")]);
    let named = van("[contact.me]\nrole = \"Me\"\nphone = \"+1 555 0102\"\n");
    assert_eq!(phones(&named), [(None, Some("+1 555 0102".to_owned()))]);
    let blank = van(
        "[contact.me]\nrole = \"Me\"\nphone = \"+00 000 000000\"\n[component]\nt = { kind = \"table\", place = \"galley\" }\n",
    );
    let loaded = read(&catalogue, &blank);
    let worked = pipeline::work_out(&loaded).expect("profile");
    assert!(worked.missing.iter().any(|m| m.id == "me" && m.what.contains("reaches nobody")), "{:?}", worked.missing);
}

/// Every line of a starter that is taken off its mark as it stands is a default, or does not read.
#[test]
fn a_starter_of_an_item_holds_no_value_that_nobody_gave() {
    let here = folder("starter-items");
    let made = rigbinder(&here, &["new", "--shop", "shop"]);
    assert!(made.status.success(), "{}", errors(&made));
    for kind in ["fridge", "solar-array", "battery-bank"] {
        let made = rigbinder(&here, &["new", "--stock", kind, "--kind", kind, "--shop", "shop"]);
        assert!(made.status.success(), "{}", errors(&made));
        let text = std::fs::read_to_string(here.join(format!("shop/stock/{kind}.toml"))).expect("an item");
        let library = rigbinder::kinds::Library::load(built_in()).expect("kinds");
        let fields = &library.get(kind).expect("a kind").fields;
        let mut own = 0;
        for line in text.lines().filter_map(|l| l.strip_prefix("# ")) {
            let Some((field, value)) = line.split_once(" = ") else { continue };
            let value = value.split("  # ").next().unwrap_or_default().trim();
            let default = fields.get(field.trim()).and_then(|decl| decl.default.as_ref()).map(ToString::to_string);
            own += usize::from(default.is_some());
            assert!(value == "…" || default.is_none_or(|default| default == value), "{kind}: {line}");
        }
        assert!(own > 2, "{kind}: {text}");
    }
    let made = rigbinder(&here, &["new", "van.toml"]);
    assert!(made.status.success(), "{}", errors(&made));
    let text = std::fs::read_to_string(here.join("van.toml")).expect("a spec");
    for marked in ["# paper", "# rules", "# prints", "# [contact.shop]", "# phone"] {
        assert!(text.contains(marked), "{marked}: {text}");
    }
}
