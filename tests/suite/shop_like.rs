//! Kinds of a shop that are `like` others: what is taken over, changed, added and dropped; every slip told at its place.

use crate::harness::{built_in, errors, folder, language, rigbinder, root, sheets};
use rigbinder::catalogue::{Catalogue, Layer};
use rigbinder::diag::{Severity, short};
use rigbinder::kinds::{HandoverSet, Kind, Library, starter_like};
use rigbinder::pipeline;
use std::collections::BTreeMap;
use std::fs;

const PAGE: (&str, &str) = ("shop.toml", "[shop]\nname = \"Alder Works\"\n");

fn shop(kinds: &[(&str, &str)]) -> Catalogue {
    let kinds = kinds.iter().map(|(id, text)| (format!("kinds/{id}.toml"), text.as_bytes().to_vec()));
    let page = (PAGE.0.to_owned(), PAGE.1.as_bytes().to_vec());
    built_in().with(Layer::of_shop("my-shop", kinds.chain([page]).collect(), Vec::new()))
}

/// What the folder's own check tells, a line each.
fn told(kinds: &[(&str, &str)]) -> Vec<String> {
    let checked = pipeline::check_shop(&shop(kinds), "my-shop").expect("checked");
    short::render(&checked.findings, &checked.file).lines().map(str::to_owned).collect()
}

fn read(kinds: &[(&str, &str)], id: &str) -> Kind {
    let library = Library::load_where(&shop(kinds), |known| known == id).expect("built-in kinds hold together");
    assert!(library.faults.is_empty(), "{:?}", library.faults);
    library.get(id).expect("the kind").clone()
}

const TEA: &str = r#"
like = "water-heater"
name = "Tea heater"
drop = ["upkeep.drain-frost", "owner.trouble.Hot water is only lukewarm.", "role.load.draw.max", "task.fit.hold"]
[role.load]
critical = true
hours = { default = "1 h" }
[role.water-heater]
relief_pressure = { default = "6 bar" }
[fields.colour]
type = "text"
about = "Colour of its lid."
[[task]]
id = "fit"
minutes = 15
steps = ["Fit {{ name }}."]
[[task]]
id = "taste"
stage = "commissioning"
title = "Taste the tea"
minutes = 5
needs = ["mounted"]
steps = ["Taste it."]
[[upkeep]]
id = "scale"
season = "spring"
[owner]
what = "A heater for tea."
[[owner.trouble]]
symptom = "No hot water."
do = ["Wait."]
[[owner.trouble]]
symptom = "The tea is weak."
do = ["Wait longer."]
"#;

#[test]
fn what_is_given_changes_what_it_is_like_and_the_rest_stays() {
    let (base, tea) = (read(&[], "water-heater"), read(&[("tea", TEA)], "tea"));
    assert_eq!((tea.id.as_str(), tea.name.as_str(), &tea.summary), ("tea", "Tea heater", &base.summary));
    assert_eq!((tea.system, tea.serial), (base.system, base.serial));
    assert_eq!((tea.ids().collect::<Vec<_>>(), base.ids().count()), (vec!["tea", "water-heater"], 1));
    // Settings of a role and its fields.
    assert_eq!(tea.roles, base.roles);
    let (own, was) = (tea.electric.expect("electric"), base.electric.expect("electric"));
    assert!(own.critical && !was.critical && own.continuous == was.continuous);
    let default = |kind: &Kind, field: &str| kind.fields[field].default.clone().map(|v| v.to_string());
    assert_eq!(default(&tea, "hours").as_deref(), Some("\"1 h\""));
    assert_eq!(tea.fields["hours"].about, base.fields["hours"].about, "what is not given of a field stays");
    assert_eq!(default(&tea, "draw"), default(&base, "draw"));
    assert!(tea.fields["draw"].max.is_none() && base.fields["draw"].max.is_some() && tea.fields["draw"].min.is_some());
    assert_eq!(default(&tea, "relief_pressure").as_deref(), Some("\"6 bar\""));
    assert!(tea.fields.contains_key("colour") && tea.fields.contains_key("energy"));
    // Tasks by id.
    let ids = |kind: &Kind| kind.tasks.iter().map(|t| t.id.clone()).collect::<Vec<_>>();
    assert_eq!(ids(&tea), [ids(&base), vec!["taste".to_owned()]].concat());
    let fit_of = |kind: &Kind| kind.tasks.iter().position(|t| t.id == "fit").expect("fitted");
    let (fit, old) = (&tea.tasks[fit_of(&tea)], &base.tasks[fit_of(&base)]);
    assert_eq!((fit.minutes, fit.steps.as_slice(), &fit.hold), (15, ["Fit {{ name }}.".to_owned()].as_slice(), &None));
    assert_eq!(
        (&fit.title, fit.stage, fit.people, fit.cautions.len()),
        (&old.title, old.stage, old.people, old.cautions.len())
    );
    // Upkeep by id: a season takes the place of an interval.
    let upkeep: Vec<&str> = tea.upkeep.iter().map(|u| u.id.as_str()).collect();
    assert_eq!(upkeep, ["relief", "scale"]);
    assert_eq!((tea.upkeep[1].every.as_deref(), tea.upkeep[1].season.as_deref()), (None, Some("spring")));
    assert_eq!(tea.upkeep[1].steps, base.upkeep[2].steps);
    // Texts of the owner by key, troubles by symptom.
    assert_eq!((tea.owner.what.as_str(), &tea.owner.usage), ("A heater for tea.", &base.owner.usage));
    let troubles: Vec<(&str, usize)> =
        tea.owner.trouble.iter().map(|t| (t.symptom.as_str(), t.actions.len())).collect();
    let drips = base.owner.trouble[1].actions.len();
    let expected =
        [("No hot water.", 1), ("Water drips from the relief pipe all the time.", drips), ("The tea is weak.", 1)];
    assert_eq!(troubles, expected);
}

#[test]
fn a_kind_may_be_like_one_of_the_shop_and_stand_in_for_a_built_in_one() {
    let kinds = [
        ("water-heater", "like = \"water-heater\"\nname = \"House heater\"\n"),
        ("tea", "like = \"water-heater\"\nsummary = \"For tea.\"\n"),
        ("strong-tea", "like = \"tea\"\nserial = false\n"),
    ];
    assert_eq!(told(&kinds), Vec::<String>::new());
    let (own, tea, strong) = (read(&kinds, "water-heater"), read(&kinds, "tea"), read(&kinds, "strong-tea"));
    assert_eq!([&own.name, &tea.name, &strong.name], ["House heater"; 3]);
    assert_eq!((strong.summary.as_str(), strong.serial, tea.serial), ("For tea.", None, Some(HandoverSet::Full)));
    assert_eq!(strong.ids().collect::<Vec<_>>(), ["strong-tea", "tea", "water-heater"]);
    assert_eq!(own.ids().collect::<Vec<_>>(), ["water-heater"]);
    // The built-in kind is gone for this shop, and there once in every list.
    let library = Library::load(&shop(&kinds)).expect("kinds");
    assert_eq!(
        library.iter().filter(|k| k.id == "water-heater").map(|k| k.name.as_str()).collect::<Vec<_>>(),
        ["House heater"]
    );
    let ids = Library::ids(&shop(&kinds));
    assert_eq!(ids.iter().filter(|id| *id == "water-heater").count(), 1);
}

/// What others wait for, and what the manual asks of a kind, holds for one that is like it.
#[test]
fn a_kind_that_is_like_another_counts_as_one() {
    let text = fs::read_to_string(root().join("specs/heron.toml")).expect("spec");
    let layer = rigbinder::shop::read(&root().join("specs/shop"));
    let mut files: BTreeMap<String, Vec<u8>> =
        layer.paths().map(|path| (path.to_owned(), layer.bytes(path).expect("file").to_vec())).collect();
    let plain = built_in().with(Layer::of_shop("specs/shop", files.clone(), Vec::new()));
    // The pump of the demo's shop, as a kind of the shop's own.
    let water = String::from_utf8(files["stock/water.toml"].clone()).expect("text");
    let own = water.replacen("\"water-pump\"", "\"quiet-pump\"", 1);
    assert_ne!(own, water);
    files.insert("stock/water.toml".to_owned(), own.into_bytes());
    files.insert("kinds/quiet-pump.toml".to_owned(), b"like = \"water-pump\"\n".to_vec());
    let with = built_in().with(Layer::of_shop("specs/shop", files, Vec::new()));
    let made = |catalogue: &Catalogue| {
        let loaded = pipeline::load(catalogue, "heron.toml", text.as_bytes()).expect("read");
        let worked = pipeline::work_out(&loaded).expect("worked out");
        assert_eq!(worked.counts().0, 0, "{:?}", worked.findings);
        let order: Vec<(String, Vec<String>)> = worked
            .build
            .tasks
            .iter()
            .map(|(id, task)| (id.clone(), task.after.ids().map(str::to_owned).collect()))
            .collect();
        let all = sheets(&loaded).into_iter().map(|s| (s.stem, s.markdown)).collect::<Vec<_>>();
        (order, all)
    };
    let (one, other) = (made(&plain), made(&with));
    assert_eq!(one.0, other.0, "the same work in the same order");
    // Marks that links lead to bear the id of the kind.
    for ((stem, one), (_, other)) in one.1.iter().zip(&other.1) {
        assert_eq!(*one, other.replace("quiet-pump", "water-pump"), "{stem}");
    }
}

/// Kinds of a shop's folder with what stands in them, where a finding points, and its words.
type Slip = (Vec<(&'static str, String)>, &'static str, &'static str);

/// Each slip: the file, what it says, where, and the words.
#[test]
fn every_slip_is_told_at_its_place_in_the_file_that_can_mend_it() {
    let like = |rest: &str| format!("like = \"water-heater\"\n{rest}");
    let cases: Vec<Slip> = vec![
        (
            vec![("a", "like = \"b\"\n".into()), ("b", "like = \"a\"\n".into())],
            "kinds/a.toml:1:8: error: kind-unreadable",
            "in a circle: a → b → a",
        ),
        (vec![("a", "like = \"a\"\n".into())], "kinds/a.toml:1:8: error: kind-unreadable", "like itself"),
        (
            vec![("a", "like = \"water-heatr\"\n".into())],
            "kinds/a.toml:1:8: error: kind-unreadable",
            "perhaps `water-heater`",
        ),
        (vec![("a", "like = 3\n".into())], "kinds/a.toml:1:8: error: kind-unreadable", "the id of one kind in quotes"),
        (
            vec![("a", "name = \"A\"\ndrop = [\"task.fit\"]\n".into())],
            "kinds/a.toml:2:8: error: kind-unreadable",
            "there is no `like`",
        ),
        (vec![("a", like("drop = \"task.fit\"\n"))], "kinds/a.toml:2:8: error: kind-unreadable", "takes a list"),
        (
            vec![("a", like("drop = [\"upkeep.relief\", 4]\n"))],
            "kinds/a.toml:2:26: error: kind-unreadable",
            "takes a list",
        ),
        (
            vec![("a", like("drop = [\"upkeep.releif\"]\n"))],
            "kinds/a.toml:2:9: error: kind-unreadable",
            "perhaps `upkeep.relief`",
        ),
        (
            vec![("a", like("drop = [\"task.fit\"]\n"))],
            "kinds/a.toml:1:8: error: kind-unreadable",
            "no other task of this kind brings `mounted` (taken over from the kind `water-heater`)",
        ),
        (vec![("a", like("drop = [\"name\"]\n"))], "kinds/a.toml:1:1: error: kind-unreadable", "missing field `name`"),
        (vec![("a", like("sumary = \"x\"\n"))], "kinds/a.toml:2:1: error: kind-unreadable", "sumary"),
        (
            vec![("a", like("[role.load]\ndraww = { default = \"5 W\" }\n"))],
            "kinds/a.toml:3:1: error: kind-unreadable",
            "draww",
        ),
        (
            vec![("a", like("[[task]]\nid = \"new\"\nminutes = 3\n"))],
            "kinds/a.toml:2:1: error: kind-unreadable",
            "missing field",
        ),
        (
            vec![("a", like("[[task]]\nid = \"run\"\nneeds = [\"mountd\"]\n"))],
            "kinds/a.toml:4:1: error: kind-unreadable",
            "no state of the register; perhaps `mounted`",
        ),
        (
            vec![("a", like("[[task]]\nid = \"run\"\n[[task]]\nid = \"run\"\n"))],
            "kinds/a.toml:5:1: error: kind-unreadable",
            "task `run` stands twice",
        ),
        (
            vec![("a", like("[owner]\nwhat = \"{{ colour }}\"\n"))],
            "kinds/a.toml:3:8: error: kind-unreadable",
            "names `colour`",
        ),
        (
            vec![("a", like("[owner]\nwhat = \"{{ capacity\"\n"))],
            "kinds/a.toml:3:8: error: kind-text-unreadable",
            "does not parse",
        ),
        (
            vec![("fridge", like(""))],
            "kinds/fridge.toml:1:8: error: kind-shadows-another",
            "a built-in kind of this name",
        ),
    ];
    for (kinds, place, words) in cases {
        let kinds: Vec<(&str, &str)> = kinds.iter().map(|(id, text)| (*id, text.as_str())).collect();
        let told = told(&kinds);
        let found = told.iter().any(|line| line.contains(place) && line.contains(words));
        assert!(found, "{kinds:?}\nnot {place} … {words}: {told:#?}");
    }
    // What is wrong in a kind of the shop is told there, and where another one is like it.
    let broken = [("a", "like = \"b\"\n"), ("b", "like = \"water-heater\"\n[owner\n")];
    let told = told(&broken);
    assert!(told.iter().any(|l| l.contains("kinds/b.toml:2")), "{told:#?}");
    assert!(
        told.iter()
            .any(|l| l.contains("kinds/a.toml:1:8") && l.contains("`b`, which it is like, does not hold together")),
        "{told:#?}"
    );
    let unparsed = [
        ("a", "like = \"b\"\n"),
        ("b", "like = \"water-heater\"\n[owner]\nwhat = \"{{ capacity\"\nuse = [\"{% if %}\"]\n"),
    ];
    let told = self::told(&unparsed);
    let of = |file: &str| told.iter().filter(|l| l.contains(file) && l.contains("kind-text-unreadable")).count();
    assert_eq!((of("kinds/a.toml:1:8"), of("kinds/b.toml")), (1, 2), "{told:#?}");
}

/// A spec that names the kind hears of the slip, and nothing is written.
#[test]
fn a_kind_that_cannot_be_read_stops_the_spec_that_takes_it_alone() {
    let here = folder("shop-like-stops");
    fs::create_dir_all(here.join("shop/kinds")).expect("folder");
    fs::write(here.join("shop/shop.toml"), PAGE.1).expect("page");
    fs::write(here.join("shop/kinds/tea.toml"), "like = \"strong-tea\"\n").expect("kind");
    fs::write(here.join("shop/kinds/strong-tea.toml"), "like = \"tea\"\n").expect("kind");
    let spec = rigbinder::spec::starter(built_in()).expect("starter");
    fs::write(here.join("van.toml"), spec).expect("spec");
    assert_eq!(rigbinder(&here, &["compile", "van.toml", "--no-pdf"]).status.code(), Some(0));
    fs::remove_dir_all(here.join("docs-out")).expect("documents");
    fs::write(here.join("van.toml"), format!("{spec}\n[component.tea]\nkind = \"tea\"\n")).expect("spec");
    let run = rigbinder(&here, &["compile", "van.toml", "--no-pdf"]);
    let said = errors(&run);
    assert!(run.status.code() == Some(1) && said.contains("in a circle: tea → strong-tea → tea"), "{said}");
    assert!(said.contains("shop/kinds/tea.toml:1:8"), "{said}");
    assert!(!here.join("docs-out/van").exists(), "nothing is written");
}

/// Begun like any kind there is, a kind reads clean: as it is, with everything taken that its file offers, and without
/// what it offers to take away.
#[test]
fn a_starter_like_any_built_in_kind_reads_clean() {
    let ids = Library::ids(built_in());
    let name = |id: &str| format!("own-{id}");
    let text =
        |id: &str| starter_like(built_in(), &name(id), "Own one", id).expect("reads").expect("the kind is there");
    let texts: Vec<(String, String)> = ids.iter().map(|id| (name(id), text(id))).collect();
    let taken = |text: &String| {
        let offered = |line: &'_ str| line.strip_prefix('#').filter(|l| !l.starts_with(' ')).unwrap_or(line).to_owned();
        text.lines().map(offered).collect::<Vec<_>>()
    };
    // What goes goes: what is given of it beside would be there again, as a part of it.
    let whole = |lines: Vec<String>| {
        lines.into_iter().filter(|line| !line.starts_with("drop = ")).collect::<Vec<_>>().join("\n")
    };
    let gone =
        |lines: Vec<String>| lines.into_iter().take_while(|line| !line.starts_with('[')).collect::<Vec<_>>().join("\n");
    let wholes: Vec<(String, String)> = texts.iter().map(|(id, text)| (id.clone(), whole(taken(text)))).collect();
    let gones: Vec<(String, String)> = texts.iter().map(|(id, text)| (id.clone(), gone(taken(text)))).collect();
    let shape =
        |kind: &Kind| format!("{:?} {:?} {:?} {:?} {:?}", kind.fields, kind.tasks, kind.upkeep, kind.owner, kind.roles);
    let bases = Library::load(built_in()).expect("kinds");
    let mut dropped = 0;
    for (what, files) in [("begun", &texts), ("whole", &wholes), ("gone", &gones)] {
        let files: Vec<(&str, &str)> = files.iter().map(|(id, text)| (id.as_str(), text.as_str())).collect();
        assert_eq!(told(&files), Vec::<String>::new(), "{what}");
        let library = Library::load(&shop(&files)).expect("kinds");
        for id in &ids {
            let (base, own) = (bases.get(id).expect("base"), library.get(&name(id)).expect("own"));
            let text = &files.iter().find(|(known, _)| *known == own.id).expect("its file").1;
            assert_eq!(own.name, "Own one");
            if what == "gone" && text.contains("drop = ") {
                dropped += 1;
                assert_ne!(shape(own), shape(base), "{id}: {text}");
            } else {
                assert_eq!(shape(own), shape(base), "{id}: what is offered is what it is: {text}");
            }
        }
    }
    assert!(dropped * 10 > ids.len() * 9, "only {dropped} offer to take anything away");
    assert!(wholes.iter().zip(&texts).all(|((_, whole), (_, text))| whole.lines().count() > 10 && whole != text));
}

/// The record tells the files of all kinds that were used, and of those they are like; a PDF holds them.
#[test]
fn what_a_kind_is_like_is_in_the_record_and_beside_the_spec() {
    let spec = rigbinder::spec::starter(built_in()).expect("starter");
    let spec = format!("{spec}\n[component.locker]\nkind = \"tea-box\"\nplace = \"bed\"\n");
    let spec = if spec.contains("[place.bed]") { spec } else { spec.replace("place = \"bed\"\n", "") };
    let kinds = |summary: &str| {
        [
            ("tea-box", "like = \"dry-box\"\nname = \"Tea box\"\n".to_owned()),
            ("dry-box", format!("like = \"overhead-locker\"\nsummary = \"{summary}\"\n")),
            ("never", "like = \"fridge\"\n".to_owned()),
        ]
    };
    let made = |summary: &str| {
        let kinds = kinds(summary);
        let kinds: Vec<(&str, &str)> = kinds.iter().map(|(id, text)| (*id, text.as_str())).collect();
        let loaded = pipeline::load(&shop(&kinds), "van.toml", spec.as_bytes()).expect("read");
        let worked = pipeline::work_out(&loaded).expect("worked out");
        let errors: Vec<_> =
            worked.findings.iter().filter(|f| f.severity == Severity::Error).map(|f| &f.headline).collect();
        assert_eq!(errors, Vec::<&String>::new());
        let snapshot = pipeline::whole_snapshot(&worked).expect("snapshot");
        let record = pipeline::about(&worked, &snapshot).expect("record");
        let file = sheets(&loaded).into_iter().find(|s| s.stem == "service-file").expect("service file");
        let held: Vec<String> = file.holds.iter().map(|(name, _)| name.clone()).collect();
        (record["shop"]["kinds"].clone(), held)
    };
    let (one, held) = made("Dry.");
    let names: Vec<&str> = one.as_object().expect("kinds").keys().map(String::as_str).collect();
    assert_eq!(names, ["dry-box", "tea-box"]);
    for kind in names {
        assert!(held.contains(&format!("shop/kinds/{kind}.toml")), "{held:?}");
    }
    let (other, _) = made("Very dry.");
    assert_eq!(one["tea-box"], other["tea-box"]);
    assert_ne!(one["dry-box"], other["dry-box"]);
}

/// `kinds` and `schema` know the shop's kinds with what they take over.
#[test]
fn kinds_and_schema_show_what_is_taken_over() {
    let here = folder("shop-like-shown");
    fs::create_dir_all(here.join("shop/kinds")).expect("folder");
    fs::write(here.join("shop/shop.toml"), PAGE.1).expect("page");
    fs::write(here.join("shop/kinds/tea.toml"), TEA).expect("kind");
    let out = |args: &[&str]| {
        let run = rigbinder(&here, args);
        assert_eq!(run.status.code(), Some(0), "{}", errors(&run));
        String::from_utf8_lossy(&run.stdout).into_owned()
    };
    let shown = out(&["kinds", "tea"]);
    for words in ["Like the kind water-heater", "capacity", "colour", "Taste the tea"] {
        assert!(shown.contains(words), "{words}: {shown}");
    }
    assert!(!shown.contains("before-first-frost"), "{shown}");
    let schema: serde_json::Value = serde_json::from_str(&out(&["schema"])).expect("JSON");
    let fields = schema["$defs"]["kind-tea"]["properties"].as_object().expect("fields");
    assert!(fields.contains_key("capacity") && fields.contains_key("colour"));
    assert!(fields.len() > language().component.common.len());
}
