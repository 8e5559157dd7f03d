//! What a shop's kind may say of its work beside the steps: who signs, how late, its share of what is told once for the van.

use crate::harness::{built_in, errors, folder, rigbinder, root, sheets};
use rigbinder::catalogue::{Catalogue, Layer};
use rigbinder::diag::short;
use rigbinder::kinds::Library;
use rigbinder::pipeline;
use std::fs;

fn shop(kinds: &[(&str, &str)]) -> Catalogue {
    let kinds = kinds.iter().map(|(id, text)| (format!("kinds/{id}.toml"), text.as_bytes().to_vec()));
    let page = ("shop.toml".to_owned(), b"[shop]\nname = \"Alder Works\"\n".to_vec());
    built_in().with(Layer::of_shop("my-shop", kinds.chain([page]).collect(), Vec::new()))
}

/// What the folder's own check tells, a line each.
fn told(kinds: &[(&str, &str)]) -> Vec<String> {
    let checked = pipeline::check_shop(&shop(kinds), "my-shop").expect("checked");
    short::render(&checked.findings, &checked.file).lines().map(str::to_owned).collect()
}

/// The demo of the weekend van with components of the shop's kinds.
fn documents(kinds: &[(&str, &str)], components: &str) -> Vec<(String, String)> {
    let demo = fs::read_to_string(root().join("specs/weekend.toml")).expect("demo");
    let loaded = pipeline::load(&shop(kinds), "van.toml", format!("{demo}\n{components}").as_bytes()).expect("read");
    sheets(&loaded).into_iter().map(|s| (s.stem, s.markdown)).collect()
}

fn text<'s>(documents: &'s [(String, String)], stem: &str) -> &'s str {
    &documents.iter().find(|(s, _)| s.contains(stem)).unwrap_or_else(|| panic!("no {stem}")).1
}

/// What stands under the heading of a task, up to the next heading.
fn task<'t>(packet: &'t str, title: &str) -> &'t str {
    let start = packet.find(title).unwrap_or_else(|| panic!("no {title}"));
    let rest = &packet[start..];
    &rest[..rest.find("\n#").unwrap_or(rest.len())]
}

const KILN: &str = r#"
like = "cabinet"
name = "Kiln"
[[task]]
id = "first"
stage = "furniture"
latest = "exterior"
title = "Try the first lock of {{ name }}"
minutes = 9
steps = ["Turn it."]
hold = "It turns."
proof = "inspection"
signs = "licensed-gas"
[[task]]
id = "second"
stage = "furniture"
title = "Try the second lock of {{ name }}"
minutes = 9
steps = ["Turn it."]
hold = "It turns."
proof = "inspection"
hold_first = true
signs = "licensed-electrician"
[[task]]
id = "third"
stage = "furniture"
title = "Try the third lock of {{ name }}"
minutes = 9
steps = ["Turn it."]
hold = "It turns."
proof = "inspection"
signs = "technician"
"#;

#[test]
fn the_packet_says_who_signs_where_it_is_not_the_technician_and_until_when_a_task_may_wait() {
    let kinds = [("kiln", KILN)];
    assert_eq!(told(&kinds), Vec::<String>::new());
    let one = "[component.kiln]\nkind = \"kiln\"\nplace = \"galley\"\n";
    let documents = documents(&kinds, one);
    let packet = text(&documents, "packet-07");
    let (first, second, third) =
        (task(packet, "Try the first lock"), task(packet, "Try the second lock"), task(packet, "Try the third lock"));
    assert!(first.contains("Work stops here until it is signed by a person licensed for LPG work."), "{first}");
    assert!(second.contains("Work does not begin until it is signed by a person licensed for AC work."), "{second}");
    assert!(third.contains("Work stops here until it is signed.") && !third.contains("signed by"), "{third}");
    assert!(first.contains(". May wait until Exterior fit.") && first.matches("May wait").count() == 1, "{first}");
    assert!(!second.contains("May wait") && !third.contains("May wait"));
    // Told once for several, each signs in its own line.
    let two = format!("{one}[component.other-kiln]\nkind = \"kiln\"\nplace = \"galley\"\n");
    let documents = self::documents(&kinds, &two);
    let packet = text(&documents, "packet-07");
    let words = "signed by a person licensed for LPG work, for each component.";
    assert!(packet.contains(words), "{packet}");
}

#[test]
fn kinds_of_the_library_tell_who_signs_and_the_command_prints_it() {
    let here = folder("shop-form");
    fs::create_dir_all(here.join("kinds")).expect("folder");
    fs::write(here.join("shop.toml"), "[shop]\nname = \"Alder Works\"\n").expect("page");
    fs::write(here.join("kinds/kiln.toml"), KILN).expect("kind");
    let out = |kind: &str| {
        let run = rigbinder(&here, &["kinds", kind]);
        assert!(run.status.success(), "{}", errors(&run));
        String::from_utf8(run.stdout).expect("text")
    };
    let kiln = out("kiln");
    assert!(
        kiln.contains(
            "Try the first lock of kiln; signed by a person licensed for LPG work; may wait until exterior\n"
        ),
        "{kiln}"
    );
    assert!(kiln.contains("Try the third lock of kiln\n"), "{kiln}");
    assert!(out("lpg-line").contains("; signed by a person licensed for LPG work\n"));
    assert!(out("consumer-unit").contains("; signed by a person licensed for mains work\n"));
    assert!(out("cabinet").contains("; signed by a second person\n"));
}

/// A hold point that goes takes along what is said of it.
#[test]
fn who_signs_goes_with_the_hold() {
    let dropped = "like = \"cabinet\"\ndrop = [\"task.fit.hold\"]\n";
    assert_eq!(told(&[("shelf", dropped)]), Vec::<String>::new());
    let slip = "like = \"cabinet\"\n[[task]]\nid = \"own\"\nstage = \"exterior\"\nlatest = \"intake\"\ntitle = \"Look\"\nminutes = 5\n";
    let told = told(&[("shelf", slip)]);
    assert!(told.iter().any(|l| l.contains("kinds/shelf.toml:5:1: error: kind-unreadable")), "{told:?}");
}

/// Parts of a shop whose shares name each other's states, in the order of the spec against that of the states.
#[test]
fn shares_in_a_procedure_are_told_in_the_order_of_the_states() {
    let tub = "like = \"cabinet\"\nname = \"Tub\"\n[[procedure]]\nof = \"store\"\nbrings = [\"sources-off\"]\nsteps = [\"Cover {{ name }}.\"]\n\
               [[procedure]]\nof = \"winterise\"\nneeds = [\"tanks-empty\"]\nbrings = [\"tried\"]\nsteps = [\"Tip {{ name }}.\"]\n\
               cautions = [{ signal = \"caution\", hazard = \"It tips fast.\", consequence = \"Wet feet.\", avoid = \"Stand behind it.\" }]\n";
    let oven = "like = \"cabinet\"\nname = \"Oven\"\n[[procedure]]\nof = \"store\"\nneeds = [\"sources-off\"]\nsteps = [\"Bolt {{ name }}.\"]\n\
                cautions = [{ signal = \"warning\", hazard = \"It is hot.\", consequence = \"Burns.\", avoid = \"Let it cool.\" }]\n\
                [[procedure]]\nof = \"winterise\"\nneeds = [\"on.tried\"]\nsteps = [\"Dry {{ name }}.\"]\n";
    let kinds = [("tub", tub), ("oven", oven)];
    assert_eq!(told(&kinds), Vec::<String>::new());
    let components = "[component.oven]\nkind = \"oven\"\nplace = \"galley\"\non = \"tub\"\n[component.tub]\nkind = \"tub\"\nplace = \"galley\"\n";
    let documents = documents(&kinds, components);
    let manual = text(&documents, "owners-manual");
    let (_, storage) = manual.split_once("{#storing}").expect("storage");
    let at = |text: &str, words: &str| text.find(words).unwrap_or_else(|| panic!("no {words}"));
    let storage = &storage[..at(storage, "Back to use")];
    assert!(at(storage, "Cover Tub.") < at(storage, "Bolt Oven."), "{storage}");
    assert!(at(storage, "Cover Tub.") < at(storage, "turn it OFF, after"), "{storage}");
    assert!(at(storage, "It is hot.") < at(storage, "Bolt Oven."), "{storage}");
    let (_, frost) = manual.split_once("{#season-before-first-frost}").expect("frost");
    let frost = &frost[..at(frost, "\n### ")];
    assert!(at(frost, "Drain the fresh tank before frost") < at(frost, "Tip Tub."), "{frost}");
    assert!(
        at(frost, "Tip Tub.") < at(frost, "Dry Oven.") && at(frost, "It tips fast.") < at(frost, "Tip Tub."),
        "{frost}"
    );
}

#[test]
fn every_slip_in_a_share_is_told_at_its_place() {
    let share = |rest: &str| format!("like = \"cabinet\"\n[[procedure]]\n{rest}");
    for (rest, place, words) in [
        ("of = \"winterize\"\nsteps = [\"x\"]\n", "3:1", "perhaps `winterise`; there are winterise, store, wake"),
        ("of = \"store\"\n", "2:1", "missing field `steps`"),
        ("of = \"store\"\nsteps = []\n", "4:1", "a share has `steps`"),
        ("of = \"store\"\nsteps = [\"x\"]\nbrings = [\"bank-of\"]\n", "5:1", "perhaps `bank-off`"),
        ("of = \"store\"\nsteps = [\"x\"]\nneeds = [\"bank-of\"]\n", "5:1", "perhaps `bank-off`"),
        ("of = \"store\"\nsteps = [\"x\"]\nneeds = [\"tried\"]\n", "5:1", "a state of a part"),
        ("of = \"store\"\nsteps = [\"x\"]\nneeds = [\"bed.tried\"]\n", "5:1", "no role and no field"),
        ("of = \"store\"\nsteps = [\"x\"]\nneeds = [\"bank.bank-off\"]\n", "5:1", "leave `bank.` out"),
        (
            "of = \"store\"\nsteps = [\"x\"]\nneeds = [\"bank-off\"]\nbrings = [\"bank-off\"]\n",
            "5:1",
            "brings `bank-off` itself",
        ),
        ("of = \"store\"\nsteps = [\"x\"]\nwhen = \"shiny\"\n", "5:1", "names no flag field"),
        ("of = \"store\"\nsteps = [\"{{ colour }}\"]\n", "4:10", "names `colour`"),
        (
            "of = \"store\"\nsteps = [\"x\"]\n[[procedure]]\nof = \"store\"\nsteps = [\"y\"]\n",
            "6:1",
            "a share in `store` stands twice",
        ),
        ("of = \"store\"\nsteps = [\"x\"]\nplace = 4\n", "5:1", "unknown field `place`"),
        (
            "of = \"store\"\nsteps = [\"x\"]\n[[upkeep]]\nid = \"a\"\ntitle = \"A\"\nseason = \"spring\"\nby = \"owner\"\nminutes = 1\nprocedure = \"store\"\n",
            "11:1",
            "told on its own and is no upkeep",
        ),
        (
            "of = \"winterise\"\nsteps = [\"x\"]\n[[upkeep]]\nid = \"a\"\ntitle = \"A\"\nseason = \"spring\"\nby = \"owner\"\nminutes = 1\nprocedure = \"winterise\"\n",
            "11:1",
            "belongs to the season `before-first-frost`",
        ),
        (
            "of = \"store\"\nsteps = [\"x\"]\n[[upkeep]]\nid = \"a\"\ntitle = \"A\"\nevery = \"1 month\"\nby = \"owner\"\nminutes = 1\nprocedure = \"stor\"\n",
            "11:1",
            "no share in a procedure `stor`; perhaps `store`",
        ),
    ] {
        let text = share(rest);
        let told = told(&[("a", &text)]);
        let found = told.iter().any(|line| {
            line.contains(&format!("kinds/a.toml:{place}: error: kind-unreadable")) && line.contains(words)
        });
        assert!(found, "{rest}\nnot {place} … {words}: {told:#?}");
    }
}

#[test]
fn kinds_whose_shares_wait_for_each_other_are_refused_where_the_shop_can_mend_it() {
    // The built-in disconnect brings `bank-off` after `sources-off`: what needs the one and brings the other never ends.
    let round = "like = \"cabinet\"\n[[procedure]]\nof = \"store\"\nneeds = [\"bank-off\"]\nbrings = [\"sources-off\"]\nsteps = [\"x\"]\n";
    let told = told(&[("a", round)]);
    let words = "shares in `store` wait for each other in a circle: ";
    assert!(
        told.iter().any(|l| l.contains("kinds/a.toml:4:1: error: kind-unreadable") && l.contains(words)),
        "{told:#?}"
    );
    assert_eq!(self::told(&[("a", &round.replace("sources-off", "tried"))]), Vec::<String>::new());
}

/// What upkeep takes from a share is there once, goes with it, and may be said anew.
#[test]
fn upkeep_takes_its_steps_from_the_share() {
    let kinds = [
        ("basin", "like = \"sink\"\ndrop = [\"upkeep.trap-frost\"]\n"),
        ("bowl", "like = \"sink\"\n[[upkeep]]\nid = \"trap-frost\"\nsteps = [\"Blow it out.\"]\n"),
    ];
    assert_eq!(told(&kinds), Vec::<String>::new());
    let library = Library::load(&shop(&kinds)).expect("kinds");
    let of = |id: &str| library.get(id).expect("kind");
    let steps = |id: &str| of(id).upkeep.iter().find(|u| u.id == "trap-frost").map(|u| u.steps.clone());
    assert_eq!(steps("sink"), Some(of("sink").share("winterise").expect("a share").steps.clone()));
    assert_eq!((steps("basin"), of("basin").share("winterise").is_none()), (None, true));
    assert_eq!(steps("bowl"), Some(vec!["Blow it out.".to_owned()]));
}
