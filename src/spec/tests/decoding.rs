//! What a good spec becomes.

use super::{known, language, places, read_text, starter};
use crate::diag::Sink;
use crate::fields::Value;
use crate::source::SourceFile;
use crate::spec::{decode_text, read, template_faults};
use crate::units::{Kilograms, Metres, Watts};

const SPEC: &str = "\
spec = 2
[build]
title = \"Wren\"
handover = 2027-05-14
note = \"\"\"Two
lines\"\"\"
[climate.winter]
month = 1
latitude = \"44 °\"
irradiation = \"1.6 kWh/m2\"
low = \"-14 °C\"
high = \"26 °F\"
first_frost = \"09-15\"
[place]
galley = { at = [\"2.35 m\", \"-0.55 m\", \"2 ft\"], zone = \"cabin\" }
[component.panel]
kind = \"fuse-panel\"
[component.fridge]
kind = \"fridge\"
fed_from = \"panel\"
way = 3
run = \"4.2 m\"
place = \"galley\"
mass = \"31 kg\"
price = \"EUR 640.50\"
conductor = \"10 AWG\"
[component.fridge-2]
like = \"fridge\"
run = \"2 m\"
[[accepted]]
finding = \"long-run\"
about = \"fridge\"
reason = \"measured\"
by = \"K\"
[recorded.serials]
fridge = \"A-1\"
[recorded.readings]
fridge.drop-running = \"0.3 V\"
\"fridge.volts-idle\" = \"13.1 V\"
[recorded.signed]
intake = { by = \"K\", date = 2027-03-01 }
fridge.fit = { by = \"L\" }
[recorded.weights]
front_axle = \"1500 kg\"
";

#[test]
fn a_good_spec_has_no_findings_and_typed_values() {
    let (_, spec, findings) = read_text(SPEC);
    assert_eq!(findings, []);
    assert_eq!(spec.build.text("title"), Some("Wren"));
    assert_eq!(spec.build.text("note"), Some("Two\nlines"));
    assert_eq!(spec.build.date("handover"), Some(jiff::civil::date(2027, 5, 14)));
    assert_eq!((spec.build.text("prints"), spec.build.gave("prints")), (Some("metric"), false));
    assert_eq!(spec.build.text("revision"), None, "nobody gave it one");
    assert_eq!(spec.usage.count("people"), Some(2));
    assert_eq!(spec.climates["winter"].text("first_frost"), Some("09-15"));
    assert!((spec.climates["winter"].celsius("high").expect("high").0 + 3.333_333).abs() < 1e-5);
    let at = spec.places["galley"].get("at").map(|entry| &entry.value);
    let Some(Value::Quantities(at)) = at else { panic!("{at:?}") };
    let at: Vec<f64> = at.iter().map(|q| q.value.value).collect();
    assert!(at.len() == 3 && at.iter().zip([2.35, -0.55, 0.6096]).all(|(a, b)| (a - b).abs() < 1e-12), "{at:?}");
    let fridge = &spec.components["fridge"];
    assert_eq!((fridge.kind.value.as_str(), fridge.record.count("way")), ("fridge", Some(3)));
    assert_eq!(fridge.record.kilograms("mass"), Some(Kilograms(31.0)));
    assert_eq!((fridge.record.watts("draw"), fridge.record.gave("draw")), (Some(Watts(55.0)), false));
    assert_eq!(fridge.record.list("fed_from")[0].value, "panel");
    assert_eq!(fridge.record.conductor("conductor").map(|c| c.to_string()).as_deref(), Some("10 AWG"));
    let price = fridge.record.get("price").map(|e| &e.value);
    assert_eq!(price, Some(&Value::Price { currency: "EUR".into(), amount: 640.5 }));
    assert_eq!(spec.accepted[0].about.as_ref().map(|a| a.value.as_str()), Some("fridge"));
    assert_eq!(spec.recorded.serials["fridge"].value, "A-1");
    assert_eq!(spec.recorded.readings.keys().collect::<Vec<_>>(), ["fridge.drop-running", "fridge.volts-idle"]);
    assert_eq!(spec.recorded.signed["fridge.fit"].value.by, "L");
    assert_eq!(spec.recorded.signed["intake"].value.date, Some(jiff::civil::date(2027, 3, 1)));
    assert_eq!(spec.recorded.weights.kilograms("front_axle"), Some(Kilograms(1500.0)));
}

#[test]
fn like_copies_what_is_given_but_not_place_and_way() {
    let (_, spec, _) = read_text(SPEC);
    let (first, second) = (&spec.components["fridge"].record, &spec.components["fridge-2"].record);
    assert_eq!(spec.components["fridge-2"].kind.value, "fridge");
    assert_eq!(second.metres("run"), Some(Metres(2.0)));
    assert_eq!(second.get("mass"), first.get("mass"));
    assert_eq!(second.list("fed_from"), first.list("fed_from"));
    assert!(second.get("place").is_none() && second.get("way").is_none());
    let chain = "[component.c]\nlike = \"b\"\n[component.b]\nlike = \"a\"\nmass = \"2 kg\"\n\
                 [component.a]\nkind = \"sink\"\nmass = \"1 kg\"\nsupplier = \"s\"\n";
    let (_, spec, findings) = read_text(&format!("[build]\ntitle = \"T\"\n{chain}"));
    assert_eq!(findings, []);
    let last = &spec.components["c"];
    assert_eq!((last.record.kilograms("mass"), last.record.text("supplier")), (Some(Kilograms(2.0)), Some("s")));
}

#[test]
fn places_of_values_are_those_of_the_file() {
    for text in [SPEC.to_owned(), SPEC.replace('\n', "\r\n"), format!("\u{feff}{SPEC}")] {
        let (file, spec, findings) = read_text(&text);
        assert_eq!(findings, []);
        let fridge = &spec.components["fridge"];
        let at = |span: crate::source::Span| &file.text[span.start..span.end];
        assert_eq!(at(fridge.id.span), "fridge");
        assert_eq!(at(fridge.kind.span), "\"fridge\"");
        assert_eq!(at(fridge.record.span_of("run")), "\"4.2 m\"");
        assert_eq!(at(fridge.record.span_of("draw")), "[component.fridge]");
        assert_eq!(at(spec.recorded.serials["fridge"].span), "\"A-1\"");
        assert_eq!(file.position(fridge.id.span.start), (18, 12));
        assert_eq!(spec.build.text("note"), Some("Two\nlines"));
    }
}

#[test]
fn the_starter_reads_without_findings() {
    assert_eq!(places(starter()), Vec::<String>::new());
    let (_, spec, _) = read_text(starter());
    assert!(spec.components.len() >= 15 && spec.places.len() >= 4 && spec.climates.len() == 1);
    assert_eq!(spec.components["usb-bed"].kind.value, "usb-outlet");
}

#[test]
fn defaults_and_bounds_of_every_kind_fit_their_types() {
    let faults: Vec<String> = known()
        .kinds
        .iter()
        .flat_map(|(kind, fields)| template_faults(fields).into_iter().map(move |f| format!("{kind}: {f}")))
        .collect();
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn bytes_that_are_not_utf8_give_one_finding_with_their_place() {
    let mut bytes = b"[build]\ntitle = \"T\"\nnote = \"-22 ".to_vec();
    bytes.extend([0xb0, b'C', b'"', b'\n']);
    for (bytes, place) in
        [(bytes.clone(), Some((3, 13))), ([b"\xef\xbb\xbf", bytes.as_slice()].concat(), Some((3, 13)))]
    {
        let mut sink = Sink::default();
        let file = decode_text("t.toml", &bytes, &mut sink);
        let spec = read(&file, language(), known(), &crate::spec::Shelf::default(), &mut sink);
        let findings = sink.into_sorted();
        assert_eq!(findings.len(), 1);
        assert_eq!((findings[0].name, spec.build.text("title")), ("not-utf8", None));
        assert_eq!(findings[0].span.map(|s| file.position(s.start)), place);
    }
    let mut sink = Sink::default();
    let file = decode_text("t.toml", &vec![b'['; 10_000_000], &mut sink);
    read(&file, language(), known(), &crate::spec::Shelf::default(), &mut sink);
    assert_eq!(sink.findings().iter().map(|f| f.name).collect::<Vec<_>>(), ["file-too-large"]);
    let mut sink = Sink::default();
    let file: SourceFile = decode_text("t.toml", SPEC.as_bytes(), &mut sink);
    assert_eq!((file.text.as_str(), sink.findings().len()), (SPEC, 0));
}

/// White space, fillers, selectors of variants and the soft hyphen show nothing: a supplier of that name would head an
/// empty list. What no text may hold at all is told instead of passed over.
#[test]
fn a_text_without_a_sign_in_it_is_as_good_as_none() {
    let text = "[build]\ntitle = \"T\"\nshop = \"\u{a0}\"\nowner = \"\u{3164}\u{fe0f} \u{ad}\"\nrevision = \" \"\nnumber = \" 7 \"\n";
    let (_, spec, findings) = read_text(text);
    assert!(findings.is_empty(), "{findings:?}");
    assert_eq!(["shop", "owner", "number"].map(|f| spec.build.text(f)), [None, None, Some(" 7 ")]);
    assert_eq!(spec.build.text("revision"), None);
    let names = |text: &str| read_text(text).2.iter().map(|f| f.name).collect::<Vec<_>>();
    assert_eq!(names("[build]\ntitle = \"\u{115f}\"\n"), ["missing-field"]);
    // Not missing too: something was given, and one finding tells what is wrong with it.
    for c in ['\u{200e}', '\u{200f}', '\u{e000}', '\u{fdd0}'] {
        assert_eq!(names(&format!("[build]\ntitle = \"{c}\"\n")), ["control-character"], "U+{:04X}", u32::from(c));
        let owner = format!("[build]\ntitle = \"T\"\nowner = \"{c}\"\n");
        assert_eq!(names(&owner), ["control-character"], "U+{:04X}", u32::from(c));
    }
}
