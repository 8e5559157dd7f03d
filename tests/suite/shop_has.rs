//! What a part has several of (`[has.switch]` of a kind): read from spec, stock and `like`, held against its role, printed.

use crate::harness::{built_in, errors, folder, rigbinder, root, sheets};
use rigbinder::catalogue::{Catalogue, Layer};
use rigbinder::diag::short;
use rigbinder::pipeline;
use rigbinder::units::Amps;
use std::fs;

fn shop(files: &[(&str, &str)]) -> Catalogue {
    let files = files.iter().map(|(path, text)| ((*path).to_owned(), text.as_bytes().to_vec()));
    let page = ("shop.toml".to_owned(), b"[shop]\nname = \"Alder Works\"\n".to_vec());
    built_in().with(Layer::of_shop("my-shop", files.chain([page]).collect(), Vec::new()))
}

fn demo(components: &str) -> String {
    format!("{}\n{components}", fs::read_to_string(root().join("specs/weekend.toml")).expect("demo"))
}

/// A kind of the shop that has several of a role of its own figures, an item of it, and three boards of them.
const DESK: (&str, &str) = (
    "kinds/desk.toml",
    "like = \"control-panel\"\nname = \"Desk\"\n[has.switch]\nrating = { default = \"6 A\", max = \"20 A\" }\n",
);
const ITEM: (&str, &str) = (
    "stock/desk.toml",
    "[stock.desk-4]\nkind = \"desk\"\nswitch.pump = { label = \"PUMP\", row = 1, column = 2 }\nswitch.heat = { label = \"HEAT\", rating = \"8 A\" }\n",
);
const BOARDS: &str = r#"
[component.board]
kind = "control-panel"
fed_from = "panel"
run = "1 m"
place = "galley"
switches = ["Old one: still told"]
[component.board.switch.lamp]
row = 2
column = 1
[component.board.switch.pump]
label = "WATER PUMP"
does = "runs the pump when a tap is open"
row = 1
column = 3
rating = "16 A"
[component.desk]
stock = "desk-4"
fed_from = "panel"
run = "1 m"
place = "galley"
switch.pump = { label = "WATER" }
switch.spare = { row = 1, column = 1 }
[component.other-desk]
like = "desk"
switch.spare = { rating = "12 A" }
"#;

#[test]
fn switches_come_from_the_spec_its_like_and_its_stock_item_and_stand_in_the_order_of_the_panel() {
    let house = shop(&[DESK, ITEM]);
    let text = demo(BOARDS);
    let loaded = pipeline::load(&house, "van.toml", text.as_bytes()).expect("read");
    let worked = pipeline::work_out(&loaded).expect("worked out");
    assert_eq!(worked.counts().0, 0, "{:?}", worked.findings);
    let switches = |part: &str| {
        let part = &worked.build.parts[part];
        assert!(part.has.iter().all(|inner| inner.role == "switch"));
        let one = |(id, switch): (&str, &rigbinder::roles::Switch)| {
            (id.to_owned(), switch.label.text().map(str::to_owned), switch.rating.get(), switch.rating.given)
        };
        part.switches().into_iter().map(one).collect::<Vec<_>>()
    };
    let all = |of: &[(&str, Option<&str>, f64, bool)]| {
        of.iter()
            .map(|(id, label, rating, given)| ((*id).to_owned(), label.map(str::to_owned), Some(Amps(*rating)), *given))
            .collect::<Vec<_>>()
    };
    assert_eq!(switches("board"), all(&[("pump", Some("WATER PUMP"), 16.0, true), ("lamp", None, 10.0, false)]));
    let (pump, heat) = (("pump", Some("WATER"), 6.0, false), ("heat", Some("HEAT"), 8.0, true));
    assert_eq!(switches("desk"), all(&[("spare", None, 6.0, false), pump, heat]));
    assert_eq!(switches("other-desk"), all(&[("spare", None, 12.0, true), pump, heat]));
    let manual = sheets(&loaded).into_iter().find(|s| s.stem.contains("owners-manual")).expect("a manual").markdown;
    let words = "**Switches:** WATER PUMP: runs the pump when a tap is open; lamp; Old one: still told.";
    assert!(manual.contains(words), "{manual}");
    assert_eq!(manual.matches("**Switches:** spare; WATER; HEAT.").count(), 2, "{manual}");
}

#[test]
fn every_slip_in_a_switch_is_told_at_its_place() {
    let lines = demo("").lines().count();
    for (given, line, column, words) in [
        ("switch.pump.lable = \"X\"", 1, 13, "control-panel.switch.pump: there is no field `lable`"),
        ("switch.pump.rating = \"16 V\"", 1, 26, "control-panel.switch.pump: `rating`"),
        ("switch.pump.rating = 16", 1, 22, "control-panel.switch.pump: `rating`"),
        ("switch.pump.row = 0", 1, 19, "control-panel.switch.pump: `row`"),
        ("switch.Pump_1 = { row = 1 }", 1, 8, "has the id \"Pump_1\", which is no id"),
        ("switch.pump = 4", 1, 15, "takes a table for each, and `pump` is"),
        ("switch.label = \"X\"", 1, 16, "takes a table for each, and `label` is"),
        ("switch = [\"Pump\"]", 1, 10, "`switch` cannot be"),
        ("lever.pump = { row = 1 }", 1, 1, "there is no field `lever`"),
        ("[component.fridge.switch.pump]", 1, 19, "there is no field `switch`"),
    ] {
        let (head, extra) = if given.starts_with('[') {
            ("", 0)
        } else {
            (
                "[component.control-panel]\nkind = \"control-panel\"\nfed_from = \"panel\"\nrun = \"1 m\"\nplace = \"galley\"\n",
                5,
            )
        };
        let text = if head.is_empty() {
            demo("").replace("fridge     = { kind = \"fridge\",", "fridge     = { switch.pump = {}, kind = \"fridge\",")
        } else {
            demo(&format!("{head}{given}\n"))
        };
        let loaded = pipeline::load(built_in(), "van.toml", text.as_bytes()).expect("read");
        let worked = pipeline::work_out(&loaded).expect("worked out");
        let told = short::render(&worked.findings, &loaded.file);
        let place = if head.is_empty() {
            "van.toml:".to_owned()
        } else {
            format!("van.toml:{}:{column}: error", lines + extra + line)
        };
        let found = told.lines().any(|l| l.starts_with(&place) && l.contains(words));
        assert!(found, "{given}\nnot {place} … {words}:\n{told}");
    }
}

#[test]
fn the_commands_know_what_a_kind_has_several_of() {
    let here = folder("shop-has");
    for (path, text) in [("shop.toml", "[shop]\nname = \"Alder Works\"\n"), DESK, ITEM] {
        let path = here.join(path);
        fs::create_dir_all(path.parent().expect("a folder")).expect("folder");
        fs::write(path, text).expect("file");
    }
    let out = |args: &[&str]| {
        let run = rigbinder(&here, args);
        assert!(run.status.success(), "{}", errors(&run));
        String::from_utf8(run.stdout).expect("text")
    };
    let desk = out(&["kinds", "desk"]);
    assert!(
        desk.contains("\nFields of each switch: switch.<id> = { … }\n") && desk.contains("[current, \"6 A\"]"),
        "{desk}"
    );
    let role = out(&["kinds", "--role", "switch"]);
    assert!(role.contains("in (positive), out (switched-positive)"), "{role}");
    let schema: serde_json::Value = serde_json::from_str(&out(&["schema"])).expect("JSON");
    let of = |kind: &str| {
        schema.pointer(&format!("/$defs/kind-{kind}/properties/switch/additionalProperties/properties")).cloned()
    };
    let desk = of("desk").expect("switches");
    assert_eq!(desk.pointer("/rating/default").and_then(serde_json::Value::as_str), Some("6 A"));
    assert!(of("fridge").is_none() && of("control-panel").is_some());
    // A starter of an item offers it, so that it can be taken as it stands.
    assert!(out(&["check", "--shop", "."]).is_empty());
}

/// What is wrong in an item is told there, and a role of the shop's kind is held like any other.
#[test]
fn slips_in_items_and_kinds_of_a_shop_are_told_in_their_files() {
    let told = |files: &[(&str, &str)]| {
        let checked = pipeline::check_shop(&shop(files), "my-shop").expect("checked");
        short::render(&checked.findings, &checked.file)
    };
    assert_eq!(told(&[DESK, ITEM]), "");
    let item = ITEM.1.replace("\"8 A\"", "\"8 V\"");
    let said = told(&[DESK, (ITEM.0, &item)]);
    assert!(said.contains("stock/desk.toml:4:") && said.contains("stock desk-4.switch.heat: `rating`"), "{said}");
    let item = ITEM.1.replace("\"8 A\"", "\"21 A\"");
    assert!(
        told(&[DESK, (ITEM.0, &item)]).contains("stock desk-4.switch.heat: `rating`"),
        "its kind takes no more than 20 A"
    );
    let kind = DESK.1.replace("\"6 A\"", "\"6 V\"");
    let said = told(&[(DESK.0, &kind)]);
    assert!(
        said.contains("kinds/desk.toml:4:12: error: kind-unreadable") && said.contains("`rating` is current"),
        "{said}"
    );
    let gone = "like = \"control-panel\"\ndrop = [\"has.switch\"]\n";
    let said = told(&[(DESK.0, gone), ITEM]);
    assert!(said.contains("stock/desk.toml:3:1") && said.contains("there is no field `switch`"), "{said}");
}
