//! Starters of a shop's folder check clean; its brand is on the documents; the record tells what was used of it.

use crate::harness::{built_in, errors, folder, rigbinder, sheets};
use rigbinder::catalogue::{Catalogue, Layer};
use rigbinder::pipeline::{self, Loaded};
use std::fs;

const LOGO: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 1 1\"><path d=\"M0 0h1v1z\"/></svg>\n";

fn shop(files: &[(&str, &str)]) -> Catalogue {
    let files = files.iter().map(|(path, text)| ((*path).to_owned(), text.as_bytes().to_vec()));
    built_in().with(Layer::of_shop("my-shop", files.collect(), Vec::new()))
}

#[test]
fn starters_check_clean_and_nothing_is_written_over() {
    let here = folder("shop-starters");
    let run = |args: &[&str]| {
        let run = rigbinder(&here, args);
        (run.status.code(), errors(&run))
    };
    assert_eq!(run(&["new", "--shop", "shop"]).0, Some(0));
    let told = run(&["check", "--shop", "shop"]);
    assert!(told.0 == Some(0) && told.1.contains("0 stock items, 0 kinds of its own: 0 errors"), "{told:?}");
    assert_eq!(run(&["new", "--kind", "observation-hatch"]).0, Some(0), "the folder lies here");
    assert_eq!(run(&["new", "--kind", "tea-heater", "--like", "water-heater"]).0, Some(0));
    // Items of built-in kinds and of the shop's own.
    for (id, kind) in [
        ("fridge-110", "fridge"),
        ("hatch-60", "observation-hatch"),
        ("bank", "battery-bank"),
        ("tap", "tap"),
        ("tea", "tea-heater"),
    ] {
        let told = run(&["new", "--stock", id, "--kind", kind]);
        assert_eq!(told.0, Some(0), "{id}: {}", told.1);
    }
    let told = run(&["check", "--shop", "shop"]);
    assert!(told.0 == Some(0) && told.1.contains("2 kinds of its own: 0 errors"), "{told:?}");
    // Every line that a starter of an item offers can be taken as it stands, but for those without a value.
    let text = fs::read_to_string(here.join("shop/stock/fridge-110.toml")).expect("item");
    let offered = text.lines().map(|line| match line.strip_prefix("# ") {
        Some(field) if field.contains(" = ") && !field.contains(" = …") && !field.starts_with("A component") => field,
        _ => line,
    });
    let offered = offered.collect::<Vec<_>>().join("\n");
    assert_ne!(offered, text.trim_end(), "nothing is offered");
    fs::write(here.join("shop/stock/fridge-110.toml"), offered).expect("item");
    let told = run(&["check", "--shop", "shop"]);
    assert!(told.0 == Some(0), "{told:?}");
    for (args, words) in [
        (vec!["new", "--shop", "shop"], "nothing that exists is written over"),
        (vec!["new", "--kind", "fridge"], "there is a kind fridge already"),
        (vec!["new", "--kind", "Bad Name"], "is no id"),
        (vec!["new", "--kind", "../x"], "is no id"),
        (vec!["new", "--kind", "x", "--like", "frigde"], "there is no kind frigde"),
        (vec!["new", "--stock", "y", "--kind", "frigde"], "there is no kind frigde"),
        (vec!["new"], "name the spec to make"),
        (vec!["new", "--kind", "x", "--no-shop"], "there is no shop's folder here"),
    ] {
        let told = run(&args);
        assert!(told.0 == Some(2) && told.1.contains(words), "{args:?}: {told:?}");
    }
    // A spec that takes what was begun compiles.
    assert_eq!(run(&["new", "van.toml"]).0, Some(0));
    let mut spec = fs::read_to_string(here.join("van.toml")).expect("spec");
    spec.push_str("\n[component.hatch]\nstock = \"hatch-60\"\n");
    fs::write(here.join("van.toml"), spec).expect("spec");
    let told = run(&["compile", "van.toml", "--no-pdf"]);
    assert_eq!(told.0, Some(0), "{}", told.1);
    let packets = fs::read_dir(here.join("docs-out/van")).expect("documents");
    let texts = packets.filter_map(|e| fs::read_to_string(e.expect("entry").path()).ok()).collect::<String>();
    assert!(texts.to_lowercase().contains("fit observation hatch"), "the task of the new kind is in a packet");
}

const PAGE: &str = "[shop]\nname = \"Alder & Works\"\naddress = [\"1 Mill Lane\", \"Wexcombe\"]\ntelephones = [\"555-0117\"]\n\
    logo = \"logo.svg\"\naccent = \"#1f5a7a\"\n[texts]\ncover = \"Built <in> Wexcombe.\"\nfoot = \"Good *wood*\"\n\
    closing = \"Call us [when](x) it rattles.\"\n";

fn van(page: &str) -> Loaded {
    let spec = std::fs::read_to_string(crate::harness::root().join("specs/weekend.toml")).expect("spec");
    let catalogue = shop(&[("shop.toml", page), ("pictures/logo.svg", LOGO)]);
    pipeline::load(&catalogue, "van.toml", spec.as_bytes()).expect("read")
}

#[test]
fn the_brand_is_on_covers_feet_and_screens_and_nothing_else_changes() {
    let (with, without) = (sheets(&van(PAGE)), sheets(&van("[shop]\nname = \"Alder & Works\"\n")));
    assert_eq!(with.len(), without.len());
    let mut covers = 0;
    for (with, without) in with.iter().zip(&without) {
        let stem = &with.stem;
        for words in ["contact: \"1 Mill Lane, Wexcombe, 555-0117\"", "foot: \"Good *wood*\"", "logo: \"/logo.svg\""] {
            assert!(with.typst.contains(words), "{stem}: {words}");
            assert!(!without.typst.contains(words), "{stem}: {words}");
        }
        assert_eq!(
            with.typst.contains("accent: rgb(\"#1f5a7a\")"),
            !with.meta.mono,
            "{stem}: packets are black and white"
        );
        assert!(
            with.html.contains("Alder &amp; Works") && with.html.contains("src=\"data:image/svg+xml;base64,"),
            "{stem}"
        );
        assert!(with.html.contains("1 Mill Lane, Wexcombe, 555-0117 · Good *wood*"), "{stem}");
        assert!(!with.html.contains("<in>"), "{stem}: a text is no mark-up");
        covers += usize::from(with.html.contains("Built &lt;in&gt; Wexcombe."));
        // The text itself is the same, but for the closing letter.
        if ["owners-manual", "handover-binder"].contains(&stem.as_str()) {
            continue;
        }
        assert_eq!(with.markdown, without.markdown, "{stem}");
    }
    assert!(covers > 0, "the text for covers is on one");
    let manual = |sheets: &[pipeline::Sheet]| {
        sheets.iter().find(|s| s.stem == "owners-manual").expect("manual").markdown.clone()
    };
    let letter = manual(&with);
    assert!(letter.contains("## From the shop {#closing}") && letter.contains("rattles"), "the closing letter");
    assert!(!letter.contains("[when](x)"), "its text is no link");
    assert!(!manual(&without).contains("From the shop"));
}

/// A draft stays one, whatever the shop says.
#[test]
fn a_shop_cannot_take_out_draft() {
    let loaded = van(&PAGE.replace("Good *wood*", "FINAL"));
    let draft = sheets(&loaded).iter().filter(|s| s.html.contains("DRAFT – not for handover")).count();
    let plain =
        sheets(&van("[shop]\nname = \"x\"\n")).iter().filter(|s| s.html.contains("DRAFT – not for handover")).count();
    assert!(draft > 0 && draft == plain, "{draft} of {plain}");
}

#[test]
fn the_record_tells_what_was_used_and_a_changed_item_is_told() {
    let here = folder("shop-record");
    for inside in ["shop/stock", "shop/pictures"] {
        fs::create_dir_all(here.join(inside)).expect("folder");
    }
    let item = |watts: &str| {
        format!(
            "[stock.fridge-110]\nkind = \"fridge\"\ndraw = \"{watts}\"\nprice = \"USD 900\"\n[stock.unused]\nkind = \"fridge\"\n"
        )
    };
    fs::write(here.join("shop/shop.toml"), PAGE).expect("page");
    fs::write(here.join("shop/pictures/logo.svg"), LOGO).expect("logo");
    fs::write(here.join("shop/stock/a.toml"), item("55 W")).expect("item");
    let run = |args: &[&str]| {
        let run = rigbinder(&here, args);
        (run.status.code(), errors(&run), String::from_utf8_lossy(&run.stdout).into_owned())
    };
    assert_eq!(run(&["new", "van.toml"]).0, Some(0));
    let spec = fs::read_to_string(here.join("van.toml")).expect("spec");
    let spec = spec.replace("kind     = \"fridge\"", "stock    = \"fridge-110\"");
    assert!(spec.contains("fridge-110"), "the starter has a fridge");
    let spec = spec.replace("[build]\n", "[build]\nrevision = \"A\"\n");
    fs::write(here.join("van.toml"), spec).expect("spec");
    let told = run(&["compile", "van.toml", "--no-pdf"]);
    assert_eq!(told.0, Some(0), "{}", told.1);
    let record = || -> serde_json::Value {
        let text = fs::read_to_string(here.join("docs-out/van/record.json")).expect("record");
        serde_json::from_str(&text).expect("JSON")
    };
    let first = record();
    let used = &first["shop"];
    assert!(used["page"].as_str().is_some_and(|d| d.len() >= 32), "{used}");
    assert_eq!(used["stock"].as_object().expect("items").keys().collect::<Vec<_>>(), ["fridge-110"]);
    assert_eq!(used["pictures"].as_object().expect("pictures").keys().collect::<Vec<_>>(), ["logo.svg"]);
    assert_eq!(first["build"]["settings"]["stock.fridge-110.draw"]["shown"], "55 W");
    fs::copy(here.join("docs-out/van/record.json"), here.join("before.json")).expect("kept");
    // What no component takes changes nothing.
    fs::write(here.join("shop/stock/a.toml"), item("55 W").replace("[stock.unused]", "[stock.other]")).expect("item");
    assert_eq!(run(&["compile", "van.toml", "--no-pdf"]).0, Some(0));
    assert_eq!(record()["shop"], first["shop"]);
    fs::write(here.join("shop/stock/a.toml"), item("60 W")).expect("item");
    let told = run(&["compare", "before.json", "van.toml"]);
    assert_eq!(told.0, Some(0), "{}", told.1);
    let plain = told.2.replace('\u{a0}', " ");
    assert!(plain.contains("Stock fridge-110") && plain.contains("draw 55 W → 60 W"), "{plain}");
    let told = run(&["compile", "van.toml", "--no-pdf"]);
    assert_eq!(told.0, Some(0), "a changed item is compiled again: {}", told.1);
    assert_ne!(record()["shop"]["stock"], first["shop"]["stock"]);
}

/// What a PDF holds beside the spec: the used files without money, and with them the same documents.
#[test]
fn what_is_attached_makes_the_same_documents_again_and_tells_no_money() {
    let item = "[stock.cold]\nkind = \"fridge\"\ndraw = \"52 W\"\nprice = \"USD 912\"\nsupplier = \"Sloe & Sons\"\nlead_time = \"3 weeks\"\n\
                [stock.other]\nkind = \"fridge\"\ndraw = \"53 W\"\n";
    let page = format!("{PAGE}[labour.bench]\nrate = \"USD 93\"\n");
    let files = [("shop.toml", page.as_str()), ("stock/a.toml", item), ("pictures/logo.svg", LOGO)];
    let spec = std::fs::read_to_string(crate::harness::root().join("specs/weekend.toml")).expect("spec");
    let spec = format!(
        "{spec}\n[component.cold-box]\nstock = \"cold\"\nplace = \"bench\"\nfed_from = \"panel\"\nrun = \"1 m\"\n"
    );
    let made = |catalogue: &Catalogue| {
        let loaded = pipeline::load(catalogue, "van.toml", spec.as_bytes()).expect("read");
        let errors: Vec<_> = loaded.findings.iter().map(|f| f.headline.clone()).collect();
        assert_eq!(errors, Vec::<String>::new());
        sheets(&loaded)
    };
    let first = made(&shop(&files));
    let file = first.iter().find(|s| s.stem == "service-file").expect("service file");
    let names: Vec<&str> = file.holds.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names, ["shop/shop.toml", "shop/stock/used.toml", "shop/pictures/logo.svg"]);
    let texts: Vec<(String, String)> = file
        .holds
        .iter()
        .map(|(name, bytes)| (name.trim_start_matches("shop/").to_owned(), String::from_utf8_lossy(bytes).into_owned()))
        .collect();
    for (name, text) in &texts {
        assert!(file.typst.contains(&format!("#pdf.attach(\"/shop/{name}\"")), "{name}");
        for money in ["912", "Sloe", "3 weeks", "93", "stock.other", "53 W"] {
            assert!(!text.contains(money), "{name} tells {money}");
        }
    }
    let unpacked: Vec<(&str, &str)> = texts.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
    let again = made(&shop(&unpacked));
    // The same folder before, money apart.
    let rich = |line: &&str| !["price", "supplier", "lead_time"].iter().any(|field| line.starts_with(field));
    let poor: String = item.lines().filter(rich).fold(String::new(), |all, line| all + line + "\n");
    let poor = [("shop.toml", PAGE), ("stock/a.toml", poor.as_str()), ("pictures/logo.svg", LOGO)];
    let plain =
        |sheets: &[pipeline::Sheet]| sheets.iter().map(|s| (s.stem.clone(), s.markdown.clone())).collect::<Vec<_>>();
    assert_eq!(plain(&made(&shop(&poor))), plain(&again));
    assert!(first.iter().filter(|s| s.stem != "service-file").all(|s| s.holds.is_empty()));
}

/// A shop may be as hostile as a spec: its texts pass the same escapers.
#[test]
fn texts_of_a_shop_are_no_markup() {
    let evil = "<script>alert(1)</script> #panic() $x$ [a](javascript:x) | `{{ x }}`";
    let text = format!("{evil:?}");
    let page = format!(
        "[shop]\nname = {text}\naddress = [{text}]\ntelephones = [{text}]\n[words]\nfridge = {text}\n[texts]\ncover = {text}\nfoot = {text}\nclosing = {text}\n"
    );
    let item = format!(
        "[stock.cold]\nkind = \"fridge\"\nmaker_ref = {text}\nnote = {text}\nowner_note = {text}\npart = {text}\nsupplier = {text}\n"
    );
    let spec = std::fs::read_to_string(crate::harness::root().join("specs/weekend.toml")).expect("spec");
    let spec = format!(
        "{spec}\n[component.cold-box]\nstock = \"cold\"\nplace = \"bench\"\nfed_from = \"panel\"\nrun = \"1 m\"\n"
    );
    let catalogue = shop(&[("shop.toml", &page), ("stock/a.toml", &item)]);
    let loaded = pipeline::load(&catalogue, "van.toml", spec.as_bytes()).expect("read");
    let worked = pipeline::work_out(&loaded).expect("worked out");
    // A note keeps no link, and says so; nothing else is wrong with these texts.
    let errors: Vec<_> =
        worked.findings.iter().filter(|f| f.severity == rigbinder::diag::Severity::Error).map(|f| f.name).collect();
    assert!(errors.iter().all(|name| *name == "markup-in-note"), "{errors:?}");
    for sheet in pipeline::sheets(&worked, &pipeline::Only::default()).expect("documents") {
        assert!(!sheet.html.contains("<script>alert"), "{}", sheet.stem);
        assert!(!sheet.html.contains("href=\"javascript"), "{}", sheet.stem);
        // In Typst all of it stands in quotes or with its signs escaped.
        let code = sheet.typst.lines().filter(|line| !line.trim_start().starts_with("//"));
        for line in code {
            let bare = line.match_indices("#panic()").find(|(at, _)| {
                let before = &line[..*at];
                !before.ends_with('\\') && before.matches('"').count() % 2 == 0
            });
            assert!(bare.is_none(), "{}: {line}", sheet.stem);
        }
    }
}

/// The folder of the demo specs is whole, and they take a good part of what they are made of from it.
#[test]
fn the_demo_folder_is_clean_and_used() {
    let checked = pipeline::check_shop(crate::harness::house(), "specs/shop").expect("checked");
    let faults: Vec<_> = checked.findings.iter().map(|f| f.headline.clone()).collect();
    assert_eq!(faults, Vec::<String>::new());
    let mut taken = std::collections::BTreeSet::new();
    for name in ["heron", "turnstone", "purfling", "basalt", "ember"] {
        let loaded = crate::harness::load(&crate::harness::root().join(format!("specs/{name}.toml")));
        assert!(!loaded.spec.stock.is_empty(), "{name} takes nothing from stock");
        taken.extend(loaded.spec.stock.keys().cloned());
    }
    assert!(taken.len() >= 25, "{}", taken.len());
    assert_eq!(taken.len(), checked.items, "an item that no demo takes");
}
