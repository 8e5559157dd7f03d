//! What a shop's kind may say of its work beside the steps: who signs, how late, its share of what is told once for the van.

use crate::harness::{built_in, errors, folder, rigbinder, root, sheets};
use rigbinder::catalogue::{Catalogue, Layer};
use rigbinder::diag::short;
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
signs = "licensed-gas"
[[task]]
id = "second"
stage = "furniture"
title = "Try the second lock of {{ name }}"
minutes = 9
steps = ["Turn it."]
hold = "It turns."
hold_first = true
signs = "licensed-electrician"
[[task]]
id = "third"
stage = "furniture"
title = "Try the third lock of {{ name }}"
minutes = 9
steps = ["Turn it."]
hold = "It turns."
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
    assert!(second.contains("Work does not begin until it is signed by a person licensed for mains work."), "{second}");
    assert!(third.contains("Work stops here until it is signed.") && !third.contains("signed by"), "{third}");
    assert!(first.contains(". May wait until Exterior fit.") && first.matches("May wait").count() == 1, "{first}");
    assert!(!second.contains("May wait") && !third.contains("May wait"));
    // Told once for several, the sentence points to the table.
    let two = format!("{one}[component.other-kiln]\nkind = \"kiln\"\nplace = \"galley\"\n");
    let documents = self::documents(&kinds, &two);
    let packet = text(&documents, "packet-07");
    let words = "signed by a person licensed for LPG work in the table, for each component.";
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
