//! A text from a stranger in every field that takes one changes the words of the output and nothing else: each form is
//! read by a parser that is not ours, and its structure compared with that of the same build with plain words.

use crate::harness::root;
use pulldown_cmark::{Event, LinkType, Options, Parser, Tag};
use rigbinder::catalogue::{Catalogue, Layer};
use rigbinder::diag::Severity;
use rigbinder::pipeline::{self, Only};
use std::collections::{BTreeMap, BTreeSet};
use typst_syntax::ast::AstNode as _;
use typst_syntax::{SyntaxKind, SyntaxNode, ast};

/// What one text could be in one of the output forms, with words of the same number around it.
const NASTY: &[&str] = &[
    // Markdown
    "a | b\n| --- | --- |\nc",
    "# a\n## b",
    "- [ ] a\n- b\n1. c",
    "[a](file:///etc/passwd) ![b](/etc/passwd)",
    "[a]: http://a.example\n[a]",
    "<http://a.example> a@b.example http://c.example www.d.example",
    "a[^1]\n\n[^1]: b",
    "> [!WARNING]\n> a",
    "```\na\n```",
    "    a",
    "***\n+++\ntitle = \"a\"\n+++\n---",
    "<!-- page --> <!-- widths: 1 1 -->",
    "a {#b .c} [@](#d)",
    "<div><script>a()</script></div>",
    "&lt;b&gt; &#60;c&#62; &amp;",
    // Links and names of files
    "javascript:alert(1)",
    "tel:+1;phone-context=a",
    "../../etc/passwd",
    "data:text/html,<b>",
    // HTML and SVG
    "\" onload=\"a()\" x=\"",
    "' onload='a()'",
    "</text><a href=\"x\"><image href=\"x\"/></a><text>",
    "]]><![CDATA[a",
    "<?xml a?><!DOCTYPE a [<!ENTITY b \"c\">]>&b;",
    "</title></style></script><svg/onload=a()>",
    "\u{ad}a\u{34f}\u{200d}b\u{fffd}",
    // Typst
    "#eval(\"1\") #read(\"/a\") #import \"a\": *",
    "\\u{22} \" + read(\"/a\") + \"",
    "`#a` ```typ #a``` $a$ @b <c> ~ \\",
    "*/ /* // a",
    // iCalendar
    "a\nEND:VEVENT\nBEGIN:VALARM\nTRIGGER:-PT0M",
    "a;VALUE=URI:http://a.example,b\\,c\\;d\\n",
    "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa:b",
    // Templates
    "{{ part.secret }} {% for a in b %}{% endfor %} {# a #}",
    "{{ get_env(name=\"HOME\") }}",
];

/// A build with a text wherever a plain one may stand; `text` gives one after the other.
fn spec(text: &mut dyn FnMut() -> String) -> String {
    let demo = std::fs::read_to_string(root().join("specs/weekend.toml")).expect("demo");
    let head = "title = @@\nnumber = @@\nrevision = @@\nshop = @@\nowner = @@";
    let demo = demo.replace("title    = \"Weekend\"", head);
    let demo = demo.replace("\"Whoever built it\", phone = \"555-0142\"", "@@, name = @@, phone = No @@, note = @@");
    let demo = demo.replace("about = \"Galley, left\"", "about = @@").replace("\"small panel van, petrol\"", "@@");
    // Its name stands in descriptions and captions of pictures.
    let demo = demo.replace("{ kind = \"fuse-panel\",", "{ kind = \"fuse-panel\", name = @@,");
    assert_eq!(demo.matches("@@").count(), 12, "the demo has the lines this test expects");
    let form = format!(
        "{demo}\n\
         [component.nasty]\nkind = \"fridge\"\nname = @@\nfed_from = \"panel\"\nrun = \"1 m\"\nplace = \"galley\"\n\
         maker_ref = @@\nsupplier = @@\npart = @@\n\
         [component.board]\nkind = \"control-panel\"\nfed_from = \"panel\"\nrun = \"1 m\"\nplace = \"galley\"\n\
         switch.one = {{ label = @@, does = @@, row = 1 }}\nswitch.other = {{ label = @@ }}\n\
         [task.nasty]\nstage = \"furniture\"\ntitle = @@\nminutes = 10\ntools = [@@]\nsteps = [@@, @@]\nhold = @@\ncaution = @@\n\
         readings = [{{ id = \"seen\", what = @@, words = @@ }}, {{ id = \"deep\", what = @@, type = \"length\", words = @@ }}]\n\
         [upkeep.nasty]\ntitle = @@\nevery = \"1 month\"\nsteps = [@@]\nhold = @@\n\
         readings = [{{ id = \"seen\", what = @@, words = @@ }}, {{ id = \"deep\", what = @@, type = \"length\", words = @@ }}]\n\
         cautions = [{{ signal = \"warning\", hazard = @@, consequence = @@, avoid = @@ }}]\n\
         [[accepted]]\nfinding = \"extinguisher-missing\"\nreason = @@\nby = @@\n\
         [recorded.serials]\nnasty = No @@\n\
         [recorded.signed]\nintake = {{ by = No @@, date = 2027-03-01 }}\n\
         [recorded.warranty]\nnasty = {{ until = 2030-01-01, of = @@, papers = @@ }}\n\
         [recorded.photos]\nnasty = {{ files = [@@, @@], show = @@ }}\n"
    );
    filled(&form, text)
}

/// A form with a text in the place of every `@@`.
fn filled(form: &str, text: &mut dyn FnMut() -> String) -> String {
    let mut parts = form.split("@@");
    let first = parts.next().unwrap_or("").to_owned();
    parts.fold(first, |spec, part| {
        // What begins like a blank to fill in is no record, which is told: these begin like one.
        let (spec, begin) = spec.strip_suffix("No ").map_or((spec.as_str(), ""), |spec| (spec, "No. 7 "));
        spec.to_owned() + &serde_json::to_string(&format!("{begin}{}", text())).expect("quoted") + part
    })
}

/// A shop's folder with a text wherever its page, an item and a kind of its own may have one.
fn folder(text: &mut dyn FnMut() -> String) -> Catalogue {
    let page = "[shop]\nname = @@\naddress = [@@, @@]\ntelephones = [@@]\n[words]\nfuse-panel = @@\n\
                [texts]\ncover = @@\nfoot = @@\nclosing = @@\n";
    let item = "[stock.nasty]\nkind = \"nasty\"\npart = @@\nsupplier = @@\nmaker_ref = @@\nnote = @@\nown = @@\nmass = \"4 kg\"\n";
    let caution = "{ signal = \"warning\", hazard = @@, consequence = @@, avoid = @@ }";
    let kind = format!(
        "like = \"fridge\"\nname = @@\nsummary = @@\n\
         [fields.own]\ntype = \"text\"\nabout = @@\ndefault = @@\n\
         [[task]]\nid = \"nasty\"\nstage = \"furniture\"\ntitle = @@\nminutes = 9\ntools = [@@, @@]\ncautions = [{caution}]\n\
         steps = [@@, \"See {{{{ own }}}} and {{{{ name }}}}.\", @@]\nhold = @@\nsigns = \"second-person\"\nlatest = \"exterior\"\nproof = \"inspection\"\ncut_outs = [{{ what = @@, size = @@ }}]\n\
         torque = [{{ what = @@, value = \"4 Nm\", source = @@ }}]\n\
         [[task]]\nid = \"try\"\nstage = \"commissioning\"\ntitle = @@\nminutes = 9\nsteps = [@@]\n\
         readings = [{{ id = \"nasty\", what = @@, type = \"text\", words = @@ }}, {{ id = \"nasty-length\", what = @@, type = \"length\", words = @@ }}]\n\
         [[procedure]]\nof = \"winterise\"\nneeds = [\"tanks-empty\"]\nbrings = [\"outlets-open\"]\nsteps = [@@, @@]\ncautions = [{caution}]\n\
         [[procedure]]\nof = \"store\"\nsteps = [@@, \"See {{{{ own }}}}.\"]\ncautions = [{caution}]\n\
         [[procedure]]\nof = \"wake\"\nneeds = [\"dc-live\"]\nsteps = [@@]\ncautions = [{caution}]\n\
         [[upkeep]]\nid = \"nasty\"\ntitle = @@\nevery = \"1 month\"\nby = \"owner\"\nminutes = 9\ncautions = [{caution}]\n\
         steps = [@@, @@]\n\
         [owner]\nwhat = @@\ncautions = [{caution}]\nuse = [@@, @@]\nnormal = [@@]\nlimits = [@@]\n\
         [[owner.trouble]]\nsymptom = @@\ndo = [@@]\n[[owner.emergency]]\nsymptom = @@\ndo = [@@]\n"
    );
    let files = [("shop.toml", page), ("stock/nasty.toml", item), ("kinds/nasty.toml", kind.as_str())];
    let files = files.map(|(path, form)| (path.to_owned(), filled(form, text).into_bytes()));
    crate::harness::built_in().with(Layer::of_shop("shop", files.into(), Vec::new()))
}

/// The structure of everything a build is written as.
#[derive(Debug, PartialEq, Eq)]
struct Shape {
    /// Of each document: kinds of its Markdown nodes with where links lead, and how often each is there. Not their order:
    /// an index stands in that of its words.
    markdown: Vec<(String, BTreeMap<String, usize>)>,
    /// Functions that the Typst files call.
    typst: BTreeSet<String>,
    /// Elements of the drawings with their attributes.
    drawings: BTreeSet<String>,
    /// Names of the lines of the calendar, in order.
    calendar: Vec<String>,
    /// Tags of the pages with the names of their attributes.
    pages: BTreeSet<String>,
}

fn shape(house: &Catalogue, spec: &str) -> Shape {
    let loaded = pipeline::load(house, "spec.toml", spec.as_bytes()).expect("kinds");
    let mut worked = pipeline::work_out(&loaded).expect("profile");
    // The sheets list what these find in a text, as they should.
    let of_texts = |name: &str| ["letters-not-in-typeface", "markup-in-note"].contains(&name);
    worked.findings.retain(|f| !of_texts(f.name));
    worked.missing.retain(|m| !of_texts(&m.id));
    let errors: Vec<_> = worked.findings.iter().filter(|f| f.severity == Severity::Error).collect();
    assert!(errors.is_empty(), "{errors:?}");
    let sheets = pipeline::sheets(&worked, &Only::default()).expect("documents");
    assert!(sheets.len() > 10);
    let mut shape = Shape {
        markdown: Vec::new(),
        typst: BTreeSet::new(),
        drawings: BTreeSet::new(),
        calendar: Vec::new(),
        pages: BTreeSet::new(),
    };
    for sheet in &sheets {
        shape.markdown.push((sheet.stem.clone(), markdown(&sheet.markdown)));
        let root = typst_syntax::parse(&sheet.typst);
        let (errors, _) = root.errors_and_warnings();
        assert!(errors.is_empty(), "{errors:?}");
        calls(&root, &mut shape.typst);
        tags(&sheet.html, &mut shape.pages);
        for (name, content) in &sheet.beside {
            if name.ends_with(".ics") {
                shape.calendar = calendar(content);
            }
        }
    }
    for drawing in pipeline::drawings(&worked) {
        let read = roxmltree::Document::parse(&drawing.svg).unwrap_or_else(|e| panic!("{}: {e}", drawing.stem));
        for node in read.descendants().filter(|n| !n.is_text() && !n.is_root()) {
            assert!(node.is_element(), "{} has a node that is no element", drawing.stem);
            let attributes: Vec<_> = node.attributes().map(|a| a.name().to_owned()).collect();
            shape.drawings.insert(format!("{} {}", node.tag_name().name(), attributes.join(" ")));
        }
    }
    shape
}

/// Nodes of Markdown with all extensions on, without those of text, and where links lead.
fn markdown(text: &str) -> BTreeMap<String, usize> {
    // Front matter is a block of its own.
    let body = text.strip_prefix("+++\n").and_then(|t| t.split_once("\n+++\n")).map_or(text, |(_, body)| body);
    let nodes = Parser::new_ext(body, Options::all()).filter_map(|event| match event {
        Event::Start(Tag::Link { link_type, dest_url, .. }) => {
            assert_ne!(link_type, LinkType::Autolink);
            // A heading's own words may be in the mark that leads to it.
            Some(format!("link {}", dest_url.split('#').next().unwrap_or("")))
        }
        Event::Start(Tag::Image { dest_url, .. }) => Some(format!("image {dest_url}")),
        Event::Start(tag) => Some(format!("{:?}", tag.to_end())),
        Event::Html(html) | Event::InlineHtml(html) => Some(format!("html {html}")),
        Event::FootnoteReference(name) => Some(format!("note {name}")),
        Event::TaskListMarker(_) => Some("box".to_owned()),
        Event::Rule => Some("rule".to_owned()),
        _ => None,
    });
    let mut counted = BTreeMap::new();
    nodes.for_each(|node| *counted.entry(node).or_default() += 1);
    counted
}

/// Names of the functions a Typst text calls, and every node that runs or loads something.
fn calls(node: &SyntaxNode, into: &mut BTreeSet<String>) {
    if let Some(call) = node.cast::<ast::FuncCall<'_>>() {
        into.insert(call.callee().to_untyped().full_text().to_string());
    }
    let runs = [SyntaxKind::ModuleImport, SyntaxKind::ModuleInclude, SyntaxKind::Raw, SyntaxKind::Equation];
    if runs.contains(&node.kind()) || node.kind() == SyntaxKind::Ref || node.kind() == SyntaxKind::Label {
        into.insert(format!("{:?}", node.kind()));
    }
    node.children().for_each(|child| calls(child, into));
}

/// Tags of a page with the names of their attributes.
fn tags(html: &str, into: &mut BTreeSet<String>) {
    let mut rest = html;
    while let Some(at) = rest.find('<') {
        rest = &rest[at + 1..];
        let (mut quoted, mut bare) = (false, String::new());
        for c in rest.chars() {
            match c {
                '"' => quoted = !quoted,
                '>' if !quoted => break,
                c if !quoted => bare.push(c),
                _ => {}
            }
        }
        let name = bare.split([' ', '\n']).next().unwrap_or("").to_owned();
        into.insert(bare);
        // What stands in these is no page.
        if ["style", "script"].contains(&name.as_str()) {
            let end = rest.find(&format!("</{name}>")).expect("an end");
            rest = &rest[end..];
        }
    }
}

/// Names of the unfolded lines of a calendar.
fn calendar(text: &str) -> Vec<String> {
    assert!(!text.replace("\r\n", "").contains(['\r', '\n']), "a line end that is none of the format's");
    let unfolded = text.replace("\r\n ", "");
    unfolded.split_terminator("\r\n").map(|l| l.split([':', ';']).next().unwrap_or("").to_owned()).collect()
}

/// What the second shape has and the first has not; nothing else may differ either.
fn nothing_is_new(round: usize, plain: &Shape, other: &Shape) {
    assert!(plain.markdown.iter().map(|(_, nodes)| nodes.values().sum::<usize>()).sum::<usize>() > 3000);
    assert!(plain.typst.contains("sheet.with") && plain.calendar.contains(&"SUMMARY".to_owned()));
    assert!(plain.drawings.len() > 10 && plain.pages.len() > 20);
    for (was, is) in plain.markdown.iter().zip(&other.markdown) {
        let changed = is.1.iter().map(|(node, n)| (node, was.1.get(node), n)).filter(|(_, was, is)| *was != Some(*is));
        let changed: Vec<_> = changed.collect();
        assert!(was == is, "round {round}, {}.md: {changed:?}", was.0);
    }
    let new = |name: &str, was: &BTreeSet<String>, is: &BTreeSet<String>| {
        let added: Vec<_> = is.difference(was).collect();
        assert!(added.is_empty(), "round {round} adds to the {name}: {added:?}");
    };
    new("Typst", &plain.typst, &other.typst);
    new("drawings", &plain.drawings, &other.drawings);
    new("pages", &plain.pages, &other.pages);
    assert_eq!(plain.calendar, other.calendar, "round {round}");
}

#[test]
fn a_strangers_text_changes_words_and_nothing_else() {
    let house = crate::harness::house();
    // Each text stands in another field every time, and has words of its own to compare with.
    for round in 0..4 {
        let mut numbers = (0..NASTY.len()).cycle().skip(round * 9);
        let plain = shape(house, &spec(&mut || format!("plain words {}", numbers.next().unwrap_or(0))));
        let mut texts = NASTY.iter().cycle().skip(round * 9);
        let other = shape(house, &spec(&mut || texts.next().map_or_else(String::new, |t| (*t).to_owned())));
        nothing_is_new(round, &plain, &other);
    }
}

/// A shop's folder comes from a stranger too: it may go from hand to hand with a PDF.
#[test]
fn a_strangers_shop_changes_words_and_nothing_else() {
    let spec = std::fs::read_to_string(root().join("specs/weekend.toml")).expect("demo");
    let spec = format!(
        "{spec}\n[component.nasty]\nstock = \"nasty\"\nfed_from = \"panel\"\nrun = \"1 m\"\nplace = \"galley\"\n"
    );
    // What a text of a kind has in tags of the template language is told before anything is written.
    let texts: Vec<&str> =
        NASTY.iter().copied().filter(|t| !["{{", "{%", "{#"].iter().any(|tag| t.contains(tag))).collect();
    assert!(texts.len() > 25, "hardly a text is left");
    for round in 0..4 {
        let mut numbers = (0..texts.len()).cycle().skip(round * 9);
        let plain = folder(&mut || format!("plain words {}", numbers.next().unwrap_or(0)));
        let mut nasty = texts.iter().cycle().skip(round * 9);
        let other = folder(&mut || nasty.next().map_or_else(String::new, |t| (*t).to_owned()));
        let (mut plain, mut other) = (shape(&plain, &spec), shape(&other, &spec));
        // Texts of kinds keep *emphasis* and **strong**, as notes do.
        for shape in [&mut plain, &mut other] {
            let nodes = shape.markdown.iter_mut().map(|(_, nodes)| nodes);
            nodes.for_each(|nodes| nodes.retain(|node, _| !["Emphasis", "Strong"].contains(&node.as_str())));
        }
        nothing_is_new(round, &plain, &other);
    }
}
