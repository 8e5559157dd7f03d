//! Units in documents: each system keeps to its own, a converted figure is the same size, a range has two ends; and texts
//! of kinds are written so that they can be converted.

use crate::harness::{demo_specs, root, stem};
use rigbinder::kinds::{Kind, Library};
use rigbinder::pipeline;
use rigbinder::units::{Dimension, System, UNITS_OF_TEXTS, in_words, parse_quantity};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;

/// A figure with a unit, as it stands in a text.
#[derive(Clone, Debug, PartialEq)]
struct Figure {
    text: String,
    dimension: Dimension,
    value: f64,
    system: Option<System>,
    start: usize,
    end: usize,
}

/// Units of one system alone that the trade uses in both: wire in mm² by IEC and light on a module by its data sheet.
const OF_ALL: &[&str] = &["mm²", "mm2", "W/m²", "kWh/m²"];

/// Units that documents print, longest first.
fn units() -> Vec<(&'static str, Dimension)> {
    let printed = Dimension::ALL.iter().filter(|d| **d != Dimension::TemperatureDifference);
    let mut all: Vec<_> = printed.flat_map(|d| d.units().iter().map(move |u| (u.name, *d))).collect();
    all.push(("K", Dimension::TemperatureDifference));
    all.retain(|(name, _)| !["\"", "'", "C", "F", "d", "t", "cup"].contains(name));
    all.sort_by_key(|(name, _)| std::cmp::Reverse(name.len()));
    all
}

/// Length of the number that a text begins with: "12", "1 3/4", "0.5".
fn number(text: &str) -> Option<usize> {
    let digits = |t: &str| t.find(|c: char| !c.is_ascii_digit()).unwrap_or(t.len());
    let whole = digits(text);
    // No figure begins with a nought; a telephone number does.
    if whole == 0 || whole > 1 && text.starts_with('0') {
        return None;
    }
    let mut end = whole;
    let part = |from: usize| {
        let rest = text[from..].strip_prefix('/')?;
        (digits(rest) > 0).then(|| from + 1 + digits(rest))
    };
    if let Some(fraction) = text[end..].strip_prefix('.').filter(|t| digits(t) > 0) {
        end += 1 + digits(fraction);
    } else if let Some(over) = part(end) {
        end = over;
    } else if text[end..].starts_with(' ') && digits(&text[end + 1..]) > 0 {
        end = part(end + 1 + digits(&text[end + 1..])).unwrap_or(end);
    }
    Some(end)
}

/// Whether "in" behind a number is the unit: the word has another one behind it.
fn ends_there(unit: &str, after: &str) -> bool {
    let next = after.chars().next();
    if unit == "in" {
        let word = after.trim_start().starts_with(|c: char| c.is_alphanumeric());
        return !word || after.trim_start().starts_with("to ") || after.trim_start().starts_with("or ");
    }
    !next.is_some_and(|c| c.is_alphanumeric() || c == '/' || c == '·' || c == '_')
}

/// Figures with a unit of one system alone.
fn figures(text: &str) -> Vec<Figure> {
    let units = units();
    let mut found: Vec<Figure> = Vec::new();
    let mut at = 0;
    while at < text.len() {
        let before = text[..at].chars().next_back();
        let starts = !before.is_some_and(|c| c.is_alphanumeric() || matches!(c, '.' | '_' | '/' | '#' | '-'))
            || before == Some('-') && !text[..at - 1].ends_with(|c: char| c.is_alphanumeric());
        let Some(length) = number(&text[at..]).filter(|_| starts) else {
            at += text[at..].chars().next().map_or(1, char::len_utf8);
            continue;
        };
        let behind = at + length;
        let unit = text[behind..].strip_prefix(' ').and_then(|rest| {
            units.iter().find(|(name, _)| rest.starts_with(name) && ends_there(name, &rest[name.len()..]))
        });
        // "way 8 in" at the end of a line of a drawing.
        let of_way = text[..at].ends_with("way ");
        let Some((name, dimension)) = unit.filter(|_| !of_way) else {
            at = behind;
            continue;
        };
        let mut end = behind + 1 + name.len();
        let minus = before.is_some_and(|c| c == '−' || c == '-') && *dimension == Dimension::Temperature;
        // Feet and inches are one length.
        let mut words = format!("{}{}", if minus { "-" } else { "" }, &text[at..end]);
        if let Some(inches) = text[end..].strip_prefix(' ').filter(|_| *name == "ft").and_then(number) {
            let rest = &text[end + 1 + inches..];
            if rest.starts_with(" in") && !rest[3..].starts_with(char::is_alphanumeric) {
                end += 1 + inches + 3;
                text[at..end].clone_into(&mut words);
            }
        }
        let plain = words.replace('²', "2").replace('³', "3");
        let read = [words.as_str(), plain.as_str()].into_iter().find_map(|w| parse_quantity(w, *dimension).ok());
        let system = read.as_ref().and_then(|q| q.system).filter(|_| !OF_ALL.contains(name));
        if let (Some(q), Some(_)) = (read, system) {
            found.push(Figure { text: words, dimension: *dimension, value: q.value, system, start: at, end });
        }
        at = end;
    }
    found
}

/// What a document says, without marks of its format.
fn said(name: &str, text: &str) -> String {
    let mut text = text.replace("\r\n ", "").replace(['\u{a0}', '\u{202f}'], " ").replace('\\', "");
    if name.ends_with(".svg") {
        let mut plain = String::new();
        let mut rest = text.as_str();
        while let Some((before, tag)) = rest.split_once('<') {
            plain.push_str(before);
            plain.push('\n');
            rest = tag.split_once('>').map_or("", |(_, after)| after);
        }
        text = plain;
    }
    text.replace("**", "")
}

/// Names and texts of all documents, drawings and tables of a spec that prints `system`.
fn printed(spec: &str, system: &str) -> Vec<(String, String)> {
    let lines = spec
        .lines()
        .map(|line| if line.starts_with("prints") { format!("prints = \"{system}\"") } else { line.to_owned() });
    let mut spec = lines.collect::<Vec<_>>().join("\n");
    if !spec.contains("\nprints = ") {
        spec = spec.replacen("[build]", &format!("[build]\nprints = \"{system}\""), 1);
    }
    let loaded = pipeline::load(crate::harness::house(), "spec.toml", spec.as_bytes()).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    let sheets = pipeline::sheets(&worked, &pipeline::Only::default()).expect("documents");
    let mut all = Vec::new();
    for sheet in sheets {
        all.push((format!("{}.md", sheet.stem), sheet.markdown));
        all.extend(sheet.beside.into_iter().map(|(name, text)| (name, text.to_string())));
    }
    let tables = pipeline::data(&worked).expect("data").into_iter().filter(|f| f.name.ends_with(".csv"));
    all.extend(tables.map(|f| (f.name, String::from_utf8(f.bytes).expect("UTF-8"))));
    let mut seen = BTreeSet::new();
    all.retain(|(name, _)| seen.insert(name.clone()));
    all.into_iter().map(|(name, text)| (name.clone(), said(&name, &text))).collect()
}

/// Texts of a spec, which documents print as they are written: strings that are no quantity.
fn texts(spec: &str) -> String {
    let strings = spec.split('"').skip(1).step_by(2);
    let quantity = |t: &&str| Dimension::ALL.iter().any(|d| parse_quantity(t, *d).is_ok());
    strings.filter(|t| !quantity(t)).collect::<Vec<_>>().join("\n")
}

/// Share of a figure in US units that one in its second digit makes up: a limit is rounded that far to its safe side.
fn last_digit(figure: &Figure) -> f64 {
    let digits = figure.text.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(figure.text.len());
    let number = figure.text[..digits].parse::<f64>().ok().filter(|n| *n > 0.0 && figure.system == Some(System::Us));
    number.map_or(0.0, |n| 10_f64.powf(n.log10().floor() - 1.0) / n)
}

/// Whether two figures say the same, as well as their digits tell.
fn alike(a: &Figure, b: &Figure) -> bool {
    let degrees = matches!(a.dimension, Dimension::Temperature | Dimension::TemperatureDifference);
    let apart = (a.value - b.value).abs();
    let share = last_digit(a).max(last_digit(b)).max(0.06);
    if degrees { apart <= 0.6 } else { apart <= share * a.value.abs().max(b.value.abs()) + 1e-4 }
}

/// Whether kelvins and degrees Fahrenheit say the same difference.
fn rise(a: &Figure, b: &Figure) -> bool {
    let (kelvins, other) = if a.text.ends_with(" K") { (a, b) } else { (b, a) };
    let read = parse_quantity(&other.text, Dimension::TemperatureDifference);
    kelvins.text.ends_with(" K") && read.is_ok_and(|q| (q.value - kelvins.value).abs() < 0.6)
}

/// Whether a figure stands beside the same in the other system: "23 N m (17 ft lb)", "11 ft 7 in = 3.53 m".
fn in_both(line: &str, all: &[Figure], at: usize) -> bool {
    let beside = |a: &Figure, b: &Figure| {
        let between = line[a.end..b.start].trim_matches(['≤', '<', '>', ' ']);
        matches!(between, "(" | "=")
            && a.system != b.system
            && (a.dimension == b.dimension && alike(a, b) || rise(a, b))
    };
    at > 0 && beside(&all[at - 1], &all[at]) || all.get(at + 1).is_some_and(|next| beside(&all[at], next))
}

/// Lines of the calculation sheet that print what others published, or a formula in its own units.
fn is_quoted(name: &str, line: &str) -> bool {
    name == "calculation-sheet.md"
        && (line.contains("<a id=\"source-")
            || line.contains("Formulas are written in SI units")
            || line.starts_with('`')
            || is_basis(line)
            || line.contains("Table 5")
            || line.contains("IEC 60364-5-52, method"))
}

/// "| reach battery sheathed | 33 CFR … |": why a value of the rules is as it is.
fn is_basis(line: &str) -> bool {
    let cells: Vec<&str> = line.split('|').map(str::trim).collect();
    cells.len() == 4 && cells[1].chars().all(|c| c.is_ascii_lowercase() || c == ' ') && !cells[1].is_empty()
}

/// Figures of a spec's documents in units of the other system; each with where it stands.
fn foreign(spec: &str, system: System) -> (usize, Vec<String>) {
    let word = if system == System::Us { "us" } else { "metric" };
    let own = texts(spec).replace(['\u{a0}', '\u{202f}'], " ");
    let (mut read, mut found) = (0, Vec::new());
    for (name, text) in printed(spec, word) {
        // The cards of the windscreen show each figure in both, side by side.
        // The ruler that tells whether a sheet was printed at its size is one of millimetres.
        if name.contains("card-") && name.ends_with(".svg") || name == "labels.md" || name.contains("labels-ruler") {
            continue;
        }
        for line in text.lines() {
            let all = figures(line);
            read += all.len();
            for (at, figure) in all.iter().enumerate().filter(|(_, f)| f.system != Some(system)) {
                if !in_both(line, &all, at) && !is_quoted(&name, line) && !own.contains(&figure.text) {
                    found.push(format!("{name}: {}: {line}", figure.text));
                }
            }
        }
    }
    (read, found)
}

#[test]
fn documents_keep_to_their_units() {
    let (mut read, mut found) = (0, Vec::new());
    for path in demo_specs() {
        let spec = fs::read_to_string(&path).expect("spec");
        for system in [System::Us, System::Metric] {
            let (count, strange) = foreign(&spec, system);
            read += count;
            found.extend(strange.into_iter().map(|f| format!("{} {system:?}: {f}", stem(&path))));
        }
    }
    assert!(read > 12_000, "{read} figures read");
    assert!(found.is_empty(), "{} of {read} figures\n{}", found.len(), found.join("\n"));
}

/// The same spec in both systems: line by line the same words, and figures of the same size.
#[test]
fn a_converted_figure_is_the_same_size() {
    let (mut read, mut found) = (0, Vec::new());
    for path in demo_specs() {
        let spec = fs::read_to_string(&path).expect("spec");
        let (us, metric) = (printed(&spec, "us"), printed(&spec, "metric"));
        // Drawings may take another number of sheets.
        let metric: BTreeMap<&str, &str> = metric.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
        for (name, us) in us.iter().filter(|(name, _)| name.ends_with(".md")) {
            let metric = metric[name.as_str()];
            for (us, metric) in us.lines().zip(metric.lines()) {
                let (a, b) = (figures(us), figures(metric));
                if a.len() != b.len() || is_quoted(name, us) {
                    continue;
                }
                read += a.len();
                for (a, b) in a.iter().zip(&b) {
                    // What is a difference in one is printed in degrees Fahrenheit in the other.
                    if !(rise(a, b) || a.dimension == b.dimension && alike(a, b)) {
                        found.push(format!("{} {name}: {} is not {}: {us}", stem(&path), a.text, b.text));
                    }
                }
            }
        }
    }
    assert!(read > 5_000, "{read} figures compared");
    assert!(found.is_empty(), "{} of {read}\n{}", found.len(), found.join("\n"));
}

/// Ranges of a text whose ends print the same.
fn collapsed(text: &str) -> Vec<String> {
    let all = figures(text);
    let pairs = all.windows(2).filter(|p| text[p[0].end..p[1].start].trim() == "to" && p[0].text == p[1].text);
    pairs.map(|p| p[0].text.clone()).collect()
}

#[test]
fn a_range_has_two_ends() {
    let (mut found, mut ranges) = (Vec::new(), 0);
    for path in demo_specs() {
        let spec = fs::read_to_string(&path).expect("spec");
        for system in ["us", "metric"] {
            for (name, text) in printed(&spec, system) {
                for line in text.lines() {
                    ranges += line.matches(" to ").count();
                    found.extend(collapsed(line).iter().map(|f| format!("{} {name}: {f}: {line}", stem(&path))));
                }
            }
        }
    }
    let library = Library::load(crate::harness::house()).expect("kinds");
    for text in library.iter().flat_map(kind_texts).chain(document_texts()) {
        found.extend(collapsed(&in_words(&text, System::Us)).iter().map(|f| format!("{f}: {text}")));
    }
    assert!(ranges > 1000 && found.is_empty(), "{ranges}\n{}", found.join("\n"));
}

/// Every text of a kind that a document prints.
fn kind_texts(kind: &Kind) -> Vec<String> {
    let readings =
        kind.tasks.iter().flat_map(|t| &t.readings).flat_map(|r| [r.what.clone(), r.expected(), r.tolerance()]);
    let readings: Vec<String> = readings.collect();
    let mut all: Vec<&str> = readings.iter().map(String::as_str).collect();
    for task in &kind.tasks {
        all.push(&task.title);
        all.extend(task.steps.iter().chain(&task.tools).chain(&task.hold).map(String::as_str));
        all.extend(task.cautions.iter().flat_map(|c| [c.hazard.as_str(), &c.consequence, &c.avoid]));
        all.extend(task.cut_outs.iter().flat_map(|c| [c.what.as_str(), &c.size]));
        all.extend(task.torque.iter().map(|t| t.what.as_str()));
    }
    for upkeep in &kind.upkeep {
        all.push(&upkeep.title);
        all.extend(upkeep.steps.iter().map(String::as_str));
        all.extend(upkeep.cautions.iter().flat_map(|c| [c.hazard.as_str(), &c.consequence, &c.avoid]));
    }
    let owner = &kind.owner;
    all.push(&owner.what);
    all.extend(owner.usage.iter().chain(&owner.normal).chain(&owner.limits).chain(&owner.show).map(String::as_str));
    for trouble in owner.trouble.iter().chain(&owner.emergency) {
        all.push(&trouble.symptom);
        all.extend(trouble.actions.iter().map(String::as_str));
    }
    let defaults = kind.fields.values().filter_map(|d| d.default.as_ref()?.as_str());
    let words = defaults.filter(|t| t.contains(' ') && !Dimension::ALL.iter().any(|d| parse_quantity(t, *d).is_ok()));
    all.into_iter().chain(words).map(str::to_owned).collect()
}

/// Texts of the templates of documents that are filled in as those of kinds are.
fn document_texts() -> Vec<String> {
    let folder = root().join("templates/documents");
    let files = fs::read_dir(folder).expect("folder").map(|e| e.expect("entry").path());
    let texts = files.map(|p| fs::read_to_string(p).expect("text"));
    texts.flat_map(|t| t.lines().map(str::to_owned).collect::<Vec<_>>()).collect()
}

/// Words that make a difference of the temperature before or behind them.
const BEFORE: &[&str] = &["each", "every", "per", "within", "by", "±", "of", "another", "rises", "falls", "drops"];
const BEHIND: &[&str] = &[
    "warmer",
    "colder",
    "cooler",
    "hotter",
    "higher",
    "lower",
    "above the",
    "below the",
    "above inside",
    "above its",
    "below its",
    "more than",
    "less than",
    "difference",
    "rise",
    "over the",
    "under the",
    "apart",
];
/// Names of units in words, which nothing converts.
const SPELLED: &[&str] = &[
    "litre",
    "litres",
    "metre",
    "metres",
    "millimetre",
    "millimetres",
    "centimetre",
    "centimetres",
    "kilometre",
    "kilometres",
    "kilogram",
    "kilograms",
    "gram",
    "grams",
    "kelvin",
    "kelvins",
    "inch",
    "inches",
    "pound",
    "pounds",
    "gallon",
    "gallons",
    "mile",
    "miles",
    "ounce",
    "ounces",
    "newton",
    "newtons",
];

/// What keeps a text from being converted.
fn faults(text: &str) -> Vec<String> {
    let mut found = Vec::new();
    for figure in figures(text) {
        let before = text[..figure.start].trim_end().to_lowercase();
        let last = before.split([' ', '(']).next_back().unwrap_or_default();
        let behind = text[figure.end..].trim_start();
        let unit = figure.text.trim_start_matches(|c: char| c.is_ascii_digit() || "-. /".contains(c));
        if figure.dimension == Dimension::Temperature
            && (BEFORE.contains(&last) || BEHIND.iter().any(|w| behind.starts_with(w)))
        {
            found.push(format!("{}: a difference is written in K", figure.text));
        }
        if figure.system == Some(System::Us) {
            found.push(format!("{}: texts are written in metric units", figure.text));
        } else if !UNITS_OF_TEXTS.iter().any(|(name, _)| *name == unit) && unit != "mg/L" {
            found.push(format!("{}: nothing converts this unit", figure.text));
        }
        // "2 to 6 mm": the first number has no unit.
        let bare = ["to", "or", "and", "–", "bis"].contains(&last);
        let number = before.strip_suffix(last).unwrap_or_default().trim_end();
        if bare && number.ends_with(|c: char| c.is_ascii_digit()) || last.ends_with('–') {
            found.push(format!("{}: each end of a range has its unit", figure.text));
        }
    }
    let words = text.split(|c: char| !c.is_alphabetic());
    found.extend(words.filter(|w| SPELLED.contains(w)).map(|w| format!("{w}: a unit in words")));
    found
}

#[test]
fn texts_can_be_converted() {
    let library = Library::load(crate::harness::house()).expect("kinds");
    let (mut found, mut read) = (Vec::new(), 0);
    for kind in library.iter() {
        for text in kind_texts(kind) {
            read += 1;
            found.extend(faults(&text).into_iter().map(|f| format!("{}: {f}: {text}", kind.id)));
        }
    }
    found
        .extend(document_texts().iter().flat_map(|text| faults(text).into_iter().map(move |f| format!("{f}: {text}"))));
    assert!(read > 5000, "{read} texts");
    assert!(found.is_empty(), "{}\n{}", found.len(), found.join("\n"));
}

#[test]
fn what_cannot_be_converted_is_seen() {
    for text in [
        "less 3 % for each 10 °C above 25 °C",
        "within 5 °C of the set point",
        "± 3 °C",
        "10 °C warmer than outside",
        "5 °C above the air",
        "drill 2 to 6 mm",
        "12 in.",
        "0.5 mL/L",
        "3 m³ of air",
        "for each litre",
    ] {
        let ok = text == "0.5 mL/L";
        assert!(ok || !faults(text).is_empty(), "{text}");
    }
    for text in ["20 °C or more", "Above 25 °C, open it.", "≤ 20 K", "0 bar to 6 bar", "Join 1 in series.", "50 mg/L"]
    {
        assert!(faults(text).is_empty(), "{text}: {:?}", faults(text));
    }
    let read = |text: &str| figures(text).into_iter().map(|f| f.text).collect::<Vec<_>>();
    assert_eq!(read("12 ft 6 in, 1 3/4 in; way 8 in 12 V"), ["12 ft 6 in", "1 3/4 in"]);
    assert_eq!(read("−4 °C (24 °F)"), ["-4 °C", "24 °F"]);
    assert_eq!(collapsed("1/16 in to 1/16 in"), ["1/16 in"]);
    let line = "torque 23 N m (17 ft lb), 10 N m (44 lbf)";
    let all = figures(line);
    assert_eq!([0, 1, 2, 3].map(|at| in_both(line, &all, at)), [true, true, false, false]);
}
