//! What is hidden: its place, its note, its route and its lengths stand in the box of the packets that fit and wire it and
//! on the private leaf of the binder, and in nothing else that is written.

use crate::harness::{demo_specs, stem};
use rigbinder::catalogue::Catalogue;
use rigbinder::pipeline::{self, Loaded, Only, Worked};
use std::fmt::Write;
use std::fs;

/// Words that stand nowhere in the demo specs: of the place, its id, the note and the route of a hidden part.
const WORDS: &[&str] = &["zz-nook", "zz nook", "xylophone", "zz-gap", "marmalade", "rhubarb", "mirror on a stick"];
/// Its route of 6.443 m, by 25.4 mm an inch 21 ft 1.7 in, and its cut length with the allowance.
const LENGTHS: &[&str] = &["6.443", "21 ft 1.75 in", "6.74 m", "6.743", "22 ft 1.5 in", "21.138"];

/// What its own task says, as packets print it.
const OWN_TASK: &[&str] = &[
    "Feel behind the xylophone",
    "**Marmalade.** Rhubarb. Xylophone.",
    "1. Reach under the marmalade.",
    "Click behind the xylophone",
    "It clicks by the rhubarb.",
    "mirror on a stick",
];

/// A hidden switch with a place, a note and a route of its own, fed from `from`.
pub(crate) fn hidden(from: &str) -> String {
    format!(
        "\n[place.zz-nook]\nabout = \"Behind the xylophone\"\nat = [\"1.23 m\", \"0.45 m\", \"0.67 m\"]\n\
         [place.zz-gap]\nabout = \"Under the marmalade\"\n\
         [component.zz-switch]\nkind = \"master-switch\"\nname = \"Quiet switch\"\nguard = \"hidden\"\n\
         fed_from = \"{from}\"\nrun = \"6.443 m\"\nthrough = [\"zz-gap\"]\nplace = \"zz-nook\"\n\
         note = \"Push the rhubarb.\"\nowner_note = \"It is by the rhubarb.\"\n\
         [task.quiet-work]\nstage = \"electrical-fit-off\"\ntitle = \"Feel behind the xylophone\"\ncomponent = \"zz-switch\"\n\
         place = \"zz-nook\"\ntools = [\"mirror on a stick\"]\nsteps = [\"Reach under the marmalade.\"]\nhold = \"It clicks by the rhubarb.\"\n\
         cautions = [{{ signal = \"notice\", hazard = \"Marmalade.\", consequence = \"Rhubarb.\", avoid = \"Xylophone.\" }}]\n\
         readings = [{{ id = \"click\", what = \"Click behind the xylophone\", words = \"rhubarb\" }}]\n\
         [upkeep.quiet-care]\ntitle = \"Dust the xylophone\"\ncomponent = \"zz-switch\"\nplace = \"zz-nook\"\n\
         every = \"6 months\"\nsteps = [\"Lift the marmalade.\"]\nhold = \"The rhubarb is back.\"\n"
    )
}

/// Everything that a compile of a build writes, by name; in the place of pages bound as PDF their Typst text.
fn written(worked: &Worked<'_>) -> Vec<(String, String)> {
    let mut all = Vec::new();
    let sheets = pipeline::sheets(worked, &Only::default()).expect("documents");
    let snapshot = pipeline::snapshot(worked, &sheets).expect("a snapshot");
    for sheet in sheets {
        all.push((format!("{}.md", sheet.stem), sheet.markdown));
        all.push((format!("{}.html", sheet.stem), sheet.html));
        all.push((format!("{}.typ", sheet.stem), sheet.typst));
        all.extend(sheet.beside.into_iter().map(|(name, text)| (name, text.to_string())));
    }
    let data = pipeline::data(worked).expect("data");
    let read = |f: pipeline::DataFile| String::from_utf8(f.bytes).ok().map(|text| (f.name, text));
    all.extend(data.into_iter().filter_map(read));
    let record = serde_json::to_string(&snapshot).expect("JSON");
    all.push(("record.json".to_owned(), record));
    all
}

/// The text without its section from `head` to the next heading of the same level.
fn without(text: &str, head: &str) -> String {
    let Some((before, section)) = text.split_once(head) else { return text.to_owned() };
    let after = section.find("\n## ").map_or("", |end| &section[end..]);
    format!("{before}{after}")
}

/// What must not be found, and where it is.
fn told(name: &str, text: &str, words: &[&str]) -> Vec<String> {
    let lower = text.to_lowercase();
    // A resistance of another circuit is no length: "6.74 mΩ" beside "6.74 m".
    let at = |w: &str| {
        let w = w.to_lowercase();
        lower.match_indices(&w).map(|(i, _)| i).find(|i| !(w.ends_with(" m") && lower[i + w.len()..].starts_with('ω')))
    };
    let near = |i: usize| text.get(i.saturating_sub(60)..(i + 60).min(text.len())).unwrap_or_default().to_owned();
    words.iter().filter_map(|w| at(w).map(|i| format!("{name}: {w}: {}", near(i)))).collect()
}

/// Holds a build with a hidden part to the law; gives how many boxes and leaves tell of it.
fn keeps_its_secret(loaded: &Loaded) -> (usize, usize) {
    let worked = pipeline::work_out(loaded).expect("profile");
    let words: Vec<&str> = WORDS.iter().chain(LENGTHS).copied().collect();
    let (mut boxes, mut leaves, mut tasks, mut found) = (0, 0, 0, Vec::new());
    for (name, text) in written(&worked) {
        let (mut rest, packet) = (text.clone(), name.starts_with("packet-"));
        if name.ends_with(".md") && packet && text.contains("## Confidential {#confidential}") {
            boxes += 1;
            rest = without(&text, "## Confidential {#confidential}");
            for word in ["Behind the xylophone", "Push the rhubarb."] {
                assert!(text.contains(word), "{name}: the box does not tell {word}");
            }
            // Its own task is told where it is done, whole, and in no other packet.
            let done_here = name.contains("electrical-fit-off");
            tasks += usize::from(done_here);
            for word in OWN_TASK {
                assert_eq!(text.contains(word), done_here, "{name}: {word}");
            }
        }
        if name == "handover-binder.md" {
            leaves += usize::from(text.contains("Behind the xylophone"));
            assert!(OWN_TASK.iter().all(|word| !text.contains(word)), "the leaf is the owner's");
            rest = without(&text, "## Private leaf {#private-leaf}");
        }
        // The same pages for screen and paper: what their Markdown tells once they tell once.
        let rendered = (name.ends_with(".html") || name.ends_with(".typ")) && (packet || name.starts_with("handover"));
        if !rendered {
            found.extend(told(&name, &rest, &words));
        }
    }
    assert!(found.is_empty(), "{}\n{}", found.len(), found.join("\n"));
    assert_eq!(tasks, 1, "a box tells of its own task");
    (boxes, leaves)
}

/// The panel or busbar that most circuits leave.
fn source(loaded: &Loaded) -> Option<String> {
    use rigbinder::kinds::{Network, Role};
    let worked = pipeline::work_out(loaded).expect("profile");
    let of_role = |role: Role| {
        let fits = |p: &&rigbinder::build::Part<'_>| {
            p.role() == Some(role) && p.electric().is_some_and(|e| e.network == Network::Dc)
        };
        worked.build.parts.values().find(fits).map(|p| p.id.clone())
    };
    of_role(Role::Bus).or_else(|| of_role(Role::Panel))
}

#[test]
fn the_place_of_a_hidden_part_is_told_to_few() {
    for path in demo_specs() {
        let text = fs::read_to_string(&path).expect("spec");
        assert!(WORDS.iter().all(|w| !text.contains(w)), "{}: the words are not its own", stem(&path));
        let plain = pipeline::load(crate::harness::house(), "plain.toml", text.as_bytes()).expect("kinds");
        let from = source(&plain).expect("a busbar or panel");
        for prints in ["us", "metric"] {
            let spec = text.replace("prints   = \"us\"", &format!("prints   = \"{prints}\"")) + &hidden(&from);
            let loaded = pipeline::load(crate::harness::house(), "hidden.toml", spec.as_bytes()).expect("kinds");
            let (boxes, leaves) = keeps_its_secret(&loaded);
            // Made a place in the furniture, pulled, terminated.
            assert_eq!((boxes, leaves), (3, 1), "{}", stem(&path));
        }
    }
}

/// The binder has one leaf for it, by itself on its page; its text says where the place is told.
#[test]
fn the_private_leaf_is_a_page_of_its_own() {
    let path = demo_specs().into_iter().find(|p| stem(p) == "weekend").expect("weekend");
    let text = fs::read_to_string(path).expect("spec");
    let plain = pipeline::load(crate::harness::house(), "plain.toml", text.as_bytes()).expect("kinds");
    let spec = text + &hidden(&source(&plain).expect("a panel"));
    let loaded = pipeline::load(crate::harness::house(), "hidden.toml", spec.as_bytes()).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    let sheets = pipeline::sheets(&worked, &Only::default()).expect("documents");
    let of = |stem: &str| &sheets.iter().find(|s| s.stem == stem).expect("a document").markdown;
    let binder = of("handover-binder");
    let leaf = binder.find("## Private leaf {#private-leaf}").expect("a leaf");
    assert!(binder[..leaf].trim_end().ends_with("<!-- page -->"), "it begins its page");
    let after = &binder[leaf..];
    let end = after.find("<!-- page -->").expect("a page after it");
    assert!(after[..end].contains("Behind the xylophone") && after[..end].matches("\n## ").count() == 0);
    assert!(of("owners-manual").contains("told on the private leaf of the binder"));
    assert!(!of("owners-manual").contains("printed nowhere"));
    // No spec is attached, and no search finds the leaf.
    assert!(sheets.iter().all(|s| !s.holds_spec));
    assert!(include_str!("../../templates/html/search.js").contains("/private-leaf$/"));
}

/// Whatever stands as the master of a panel whose master is hidden is hidden too.
#[test]
fn any_kind_can_be_hidden() {
    let path = demo_specs().into_iter().find(|p| stem(p) == "weekend").expect("weekend");
    let text = fs::read_to_string(path).expect("spec");
    let plain = pipeline::load(crate::harness::house(), "plain.toml", text.as_bytes()).expect("kinds");
    let from = source(&plain).expect("a panel");
    for kind in ["battery-disconnect", "dimmer", "strip-light", "cabinet"] {
        let switch = hidden(&from).replace("kind = \"master-switch\"", &format!("kind = \"{kind}\""));
        let switch = switch.replace("guard = \"hidden\"\n", "");
        // What takes no current has no cable.
        let cable = format!("fed_from = \"{from}\"\nrun = \"6.443 m\"\nthrough = [\"zz-gap\"]\n");
        let gap = "[place.zz-gap]\nabout = \"Under the marmalade\"\n";
        let wired = kind != "cabinet";
        let switch = if wired { switch } else { switch.replace(&cable, "").replace(gap, "") };
        let panel =
            "[component.zz-panel]\nkind = \"switch-panel\"\nmaster = \"hidden\"\nmaster_switch = \"zz-switch\"\n";
        let loaded =
            pipeline::load(crate::harness::house(), "hidden.toml", format!("{text}{switch}{panel}").as_bytes())
                .expect("kinds");
        let (boxes, leaves) = keeps_its_secret(&loaded);
        assert!(boxes > 0 && leaves == 1, "{kind}: {boxes} boxes, {leaves} leaves");
    }
}

/// The law for a build drawn at random.
pub(crate) fn holds(house: &Catalogue, spec: &str) -> bool {
    let plain = pipeline::load(house, "plain.toml", spec.as_bytes()).expect("kinds");
    let Some(from) = source(&plain) else { return false };
    let spec = format!("{spec}{}", hidden(&from));
    let loaded = pipeline::load(house, "hidden.toml", spec.as_bytes()).expect("kinds");
    keeps_its_secret(&loaded);
    true
}

/// Begins every text that only the law below writes.
const MARK: &str = "quokka";

/// A confidential copy of a part, in which every field that may tell a place tells one of its own: what is appended to the
/// spec, and the numbers of its lengths.
fn confidential_copy(part: &rigbinder::build::Part<'_>, n: usize) -> (String, Vec<String>) {
    use rigbinder::fields::FieldType;
    use rigbinder::roles::{Common, Supply};
    use rigbinder::units::{Dimension, Metres, System, parse_quantity};
    let electric = part.electric().is_some();
    let supply = Supply::CONTRACT.declarations().into_iter().filter(|_| electric);
    let fields: std::collections::BTreeMap<_, _> =
        Common::CONTRACT.declarations().into_iter().chain(supply).chain(part.kind.fields.clone()).collect();
    let (mut lines, mut places, mut numbers) = (Vec::new(), String::new(), Vec::new());
    for (m, (name, field)) in fields.into_iter().filter(|(_, f)| f.tells_place()).enumerate() {
        let word = format!("{MARK}{n}x{m}");
        let place = |places: &mut String| {
            writeln!(places, "[place.{word}]\nabout = \"Nook {word}\"").expect("a text");
            format!("\"{word}\"")
        };
        let value = match field.ty {
            FieldType::Text | FieldType::Prose => format!("\"{word}\""),
            FieldType::Texts => format!("[\"{word}\"]"),
            FieldType::Place => place(&mut places),
            FieldType::Places => format!("[{}]", place(&mut places)),
            FieldType::Quantity(Dimension::Length) => {
                let bound = |value: &Option<toml::Value>| {
                    let text = value.as_ref()?.as_str()?;
                    parse_quantity(text, Dimension::Length).ok().map(|q| q.value)
                };
                let (least, most) = (bound(&field.min).unwrap_or(0.0), bound(&field.max).unwrap_or(60.0));
                let odd = f64::from(u32::try_from(7 * (37 * n + m) % 1000).expect("below 1000"));
                let fits = [3.0, 1.0, 0.3, 0.1, 0.03, 0.01, 0.003].map(|base| base * (1.0 + (odd + 0.37) / 1e4));
                let Some(length) = fits.into_iter().find(|v| (least..=most).contains(v)) else { continue };
                let length = format!("{length:.7}");
                let metres: f64 = length.parse().expect("a number");
                numbers.push(length.clone());
                let shown = Metres(metres).show(System::Metric);
                numbers.extend(shown.split(' ').next().filter(|number| number.len() > 4).map(str::to_owned));
                format!("\"{length} m\"")
            }
            _ => continue,
        };
        lines.push(format!("{name} = {value}\n"));
    }
    let text = format!(
        "{places}[component.zz-{n}]\nlike = \"{}\"\nname = \"Quiet thing {n}\"\n{}\
         [component.zz-panel-{n}]\nkind = \"switch-panel\"\nmaster = \"hidden\"\nmaster_switch = \"zz-{n}\"\n",
        part.id,
        lines.concat()
    );
    (text, numbers)
}

/// The numbers in a text.
fn numbers_of(text: &str) -> std::collections::BTreeSet<&str> {
    text.split(|c: char| !c.is_ascii_digit() && c != '.').map(|n| n.trim_matches('.')).collect()
}

/// Whatever part of a van is made confidential: no text, place or length of it is in anything that is written but in the
/// boxes and on the private leaf.
#[test]
fn whatever_is_confidential_is_told_to_few() {
    use rigbinder::kinds::Role;
    let (mut fields, mut found) = (0, Vec::new());
    for path in demo_specs() {
        let text = fs::read_to_string(&path).expect("spec").replace("prints   = \"us\"", "prints   = \"metric\"");
        let plain = pipeline::load(crate::harness::house(), "plain.toml", text.as_bytes()).expect("kinds");
        let open = pipeline::work_out(&plain).expect("profile");
        let mut kinds = std::collections::BTreeSet::new();
        let one_of_each = open.build.parts.values().filter(|p| p.role() != Some(Role::SwitchPanel));
        let one_of_each = one_of_each.filter(|p| kinds.insert(p.kind.id.clone()));
        let copies: Vec<_> = one_of_each.enumerate().map(|(n, part)| confidential_copy(part, n)).collect();
        let spec = copies.iter().fold(text.clone() + "\n", |spec, (copy, _)| spec + copy);
        let loaded = pipeline::load(crate::harness::house(), "hidden.toml", spec.as_bytes()).expect("kinds");
        let worked = pipeline::work_out(&loaded).expect("profile");
        assert_eq!(worked.build.parts.len(), open.build.parts.len() + 2 * copies.len(), "{}", stem(&path));
        assert!(worked.build.parts.values().filter(|p| p.confidential).count() >= copies.len(), "{}", stem(&path));
        let before: Vec<String> = written(&open).into_iter().map(|(_, text)| text).collect();
        let before: std::collections::BTreeSet<&str> = before.iter().flat_map(|text| numbers_of(text)).collect();
        let lengths: Vec<&str> = copies.iter().flat_map(|(_, numbers)| numbers).map(String::as_str).collect();
        let lengths: std::collections::BTreeSet<&str> = lengths.into_iter().filter(|n| !before.contains(n)).collect();
        fields += lengths.len();
        for (name, text) in written(&worked) {
            let (packet, binder) = (name.starts_with("packet-"), name.starts_with("handover-binder"));
            // The same pages for screen and paper: what their Markdown tells once they tell once.
            if (packet || binder) && !name.ends_with(".md") {
                continue;
            }
            let rest = without(
                &text,
                if packet { "## Confidential {#confidential}" } else { "## Private leaf {#private-leaf}" },
            );
            found.extend(told(&name, &rest, &[MARK]));
            let told = numbers_of(&rest).into_iter().filter(|n| lengths.contains(n));
            found.extend(told.map(|n| {
                let at = rest.find(n).unwrap_or_default();
                format!(
                    "{name}: {n}: {}",
                    rest.get(at.saturating_sub(80)..(at + 40).min(rest.len())).unwrap_or_default()
                )
            }));
        }
    }
    assert!(found.is_empty(), "{}\n{}", found.len(), found[..found.len().min(60)].join("\n"));
    assert!(fields > 100, "only {fields} lengths could be told");
}
