//! Text of a spec is data: it comes out as literal text and becomes no template, Typst, HTML or path.

use crate::harness::{errors, folder, rigbinder, root};
use std::fs;

/// What a stranger might write where a text goes.
const NASTY: &[&str] = &[
    "#read(\"/etc/passwd\")",
    "{{ 1+1 }}",
    "{% include \"x\" %}",
    "<script>alert(1)</script>",
    "| a | b |",
    "[x](javascript:alert(1))",
    "`code` *star* _low_ $x$",
    "..//../etc",
    "![i](/etc/passwd)",
    "</style><img src=x>",
    "# heading",
    "\\input{x}",
];

fn spec(text: &str) -> String {
    let quoted = serde_json::to_string(text).expect("quoted");
    let demo = fs::read_to_string(root().join("specs/weekend.toml")).expect("demo");
    let demo = demo.replace("title    = \"Weekend\"", &format!("title = {quoted}\nshop = {quoted}\nowner = {quoted}"));
    assert!(demo.contains("shop = "), "the demo's title stands where this test expects it");
    format!(
        "{demo}\n[component.nasty]\nkind = \"fridge\"\nname = {quoted}\nfed_from = \"panel\"\nrun = \"1 m\"\nplace = \"galley\"\n\
             note = {quoted}\nowner_note = {quoted}\nsupplier = {quoted}\npart = {quoted}\n"
    )
}

#[test]
fn nasty_text_comes_out_as_it_was_written() {
    let here = folder("injection");
    for (i, nasty) in NASTY.iter().enumerate() {
        let name = format!("n{i}.toml");
        fs::write(here.join(&name), spec(nasty)).expect("spec");
        let output = rigbinder(&here, &["compile", &name, "--no-pdf"]);
        assert_eq!(output.status.code(), Some(0), "{nasty}: {}", errors(&output));
        let folder = here.join(format!("docs-out/n{i}"));
        let html = fs::read_to_string(folder.join("schedule.html")).expect("schedule");
        let literal = nasty.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;");
        // Long words may carry break hints between their letters.
        let seen = html.replace("<wbr>", "").replace('\u{200b}', "").replace('\u{a0}', " ");
        assert!(
            seen.contains(&literal) || seen.contains(&literal.replace("&quot;", "\"")),
            "{nasty} is not in the schedule"
        );
        assert!(
            html.matches("<script").count() == 1 && !html.contains("javascript:alert(1)\"") && !html.contains("<img"),
            "{nasty}"
        );
    }
}

#[test]
fn ids_that_could_be_paths_are_refused() {
    let here = folder("injection-ids");
    for id in ["../x", "a/b", "..//..", "{{ 1+1 }}", "a b", "<script>"] {
        let text = format!(
            "[build]\ntitle = \"T\"\n[component.{}]\nkind = \"fridge\"\n",
            serde_json::to_string(id).expect("quoted")
        );
        fs::write(here.join("spec.toml"), text).expect("spec");
        let output = rigbinder(&here, &["compile", "spec.toml", "--no-pdf"]);
        assert_eq!(output.status.code(), Some(1), "{id}");
        assert!(errors(&output).contains("id-not-plain"), "{id}: {}", errors(&output));
    }
    assert!(!here.join("docs-out").exists());
}

#[test]
fn terminal_codes_do_not_reach_the_terminal() {
    let here = folder("injection-terminal");
    let text = "[build]\ntitle = \"\\u001b[31mred\\u001b[0m\"\n[component.a]\nkind = \"\\u001b]0;owned\\u0007\"\n";
    fs::write(here.join("spec.toml"), text).expect("spec");
    for format in ["human", "short", "json"] {
        let output = rigbinder(&here, &["check", "spec.toml", "--message-format", format]);
        let all = [output.stdout, output.stderr].concat();
        assert!(!all.contains(&0x1b) && !all.contains(&0x07), "{format}");
    }
}
