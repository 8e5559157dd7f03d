//! The JSON Schema accepts what the reader accepts and refuses what an editor can know to be wrong.

use super::{known, language, starter};
use crate::catalogue::{Catalogue, Layer};
use crate::diag::Sink;
use crate::source::SourceFile;
use crate::spec::{Shelf, schema};
use crate::units::{Dimension, parse_quantity};
use serde_json::Value;

/// A shop with a fridge, a lamp and something of no kind there is.
fn shelf() -> Shelf {
    let stock = "[stock.cold]\nkind = \"fridge\"\n[stock.lamp]\nkind = \"strip-light\"\n[stock.odd]\nkind = \"odd\"\n";
    let files = [("shop.toml", "[shop]\nname = \"x\"\n"), ("stock/a.toml", stock)];
    let files = files.map(|(path, text)| (path.to_owned(), text.as_bytes().to_vec())).into();
    let catalogue = Catalogue::built_in().with(Layer::of_shop("shop", files, Vec::new()));
    Shelf::gather(&catalogue, &mut SourceFile::default(), &mut Sink::default())
}

fn validator() -> jsonschema::Validator {
    let schema = schema(language(), known(), &shelf());
    assert!(jsonschema::meta::is_valid(&schema));
    jsonschema::validator_for(&schema).expect("schema compiles")
}

/// TOML as editors hand it to a JSON Schema: dates as texts.
fn as_json(text: &str) -> Value {
    fn convert(value: toml::Value) -> Value {
        match value {
            toml::Value::Datetime(when) => Value::String(when.to_string()),
            toml::Value::Array(list) => list.into_iter().map(convert).collect(),
            toml::Value::Table(table) => Value::Object(table.into_iter().map(|(k, v)| (k, convert(v))).collect()),
            other => serde_json::to_value(other).expect("plain value"),
        }
    }
    convert(toml::Value::Table(toml::from_str(text).expect("TOML")))
}

const GOOD: &str = "\
[build]
title = \"T\"
handover = 2027-05-14
[place]
galley = { at = [\"1.9 m\", \"-0.5 m\", \"1 1/2 in\"] }
[component]
panel = { kind = \"fuse-panel\", place = \"galley\" }
fridge = { kind = \"fridge\", fed_from = \"panel\", run = \"12 ft 6 in\", conductor = \"1/0 AWG\", price = \"USD 240\" }
fridge-2 = { like = \"fridge\" }
fridge-3 = { stock = \"cold\", fed_from = \"panel\", volume = \"90 L\" }
lamp = { stock = \"lamp\", like = \"lamp-2\", fed_from = \"panel\" }
bank = { kind = \"battery-bank\", capacity = \"280 Ah\" }
[recorded.serials]
fridge = \"1\"
[recorded.readings]
fridge.volts = \"13 V\"
[recorded.signed]
intake = { by = \"K\", date = 2027-03-01 }
fridge.fit = { by = \"K\" }
[[accepted]]
finding = \"x\"
reason = \"y\"
by = \"z\"
";

#[test]
fn good_specs_pass() {
    let validator = validator();
    for text in [GOOD, starter()] {
        let errors: Vec<String> =
            validator.iter_errors(&as_json(text)).map(|e| format!("{} {e}", e.instance_path())).collect();
        assert!(errors.is_empty(), "{}", errors.join("\n"));
    }
}

#[test]
fn broken_specs_fail() {
    let validator = validator();
    for (from, to) in [
        ("title = \"T\"", "titel = \"T\""),
        ("title = \"T\"", "number = \"T\""),
        ("12 ft 6 in", "4,2 m"),
        ("12 ft 6 in", "4.2 kg"),
        ("12 ft 6 in", "4.2"),
        ("kind = \"fridge\"", "kind = \"fridg\""),
        ("kind = \"fridge\", ", ""),
        ("panel = {", "Panel = {"),
        ("run = ", "rnu = "),
        ("1/0 AWG", "10 ga"),
        ("USD 240", "240 USD"),
        ("capacity = \"280 Ah\"", "capacity = 280"),
        (", capacity = \"280 Ah\"", ""),
        ("[place]", "[palce]"),
        ("\"1.9 m\", ", ""),
        ("2027-05-14", "\"14 May\""),
        // A field of a fridge in a stock item that is a lamp, and the other way round; an item that is not there.
        ("stock = \"cold\"", "stock = \"lamp\""),
        ("volume = \"90 L\"", "fittings = 3"),
        ("stock = \"cold\"", "stock = \"clod\""),
        ("volume = \"90 L\"", "volume = \"90 kg\""),
        // What is like another may have any field of some kind, and no other one.
        ("{ like = \"fridge\" }", "{ like = \"fridge\", volmue = \"90 L\" }"),
        ("[[accepted]]", "[accepted]"),
        ("reason = \"y\"\n", ""),
    ] {
        let broken = GOOD.replacen(from, to, 1);
        assert_ne!(broken, GOOD);
        assert!(!validator.is_valid(&as_json(&broken)), "{from} -> {to}");
    }
}

#[test]
fn patterns_and_parser_agree_on_every_unit() {
    let schema = schema(language(), known(), &shelf());
    for dimension in Dimension::ALL {
        let name = format!("quantity-{}", dimension.word().replace(' ', "-"));
        let pattern = &schema["$defs"][name.as_str()];
        let validator = jsonschema::validator_for(pattern).expect("pattern compiles");
        for unit in dimension.units() {
            for text in [format!("4.2 {}", unit.name), format!("1 1/2{}", unit.name), format!("-3 {}", unit.name)] {
                // How large a value may be is no matter of its pattern.
                let read = parse_quantity(&text, *dimension).err().is_none_or(|f| f.message.contains("too large"));
                assert_eq!(validator.is_valid(&Value::String(text.clone())), read, "{text}");
            }
        }
        for text in ["", "4", "m", "4,2 m", "4 nonsense", "nan m", "4 m x"] {
            assert!(!validator.is_valid(&Value::String(text.into())), "{name}: {text}");
        }
    }
}
