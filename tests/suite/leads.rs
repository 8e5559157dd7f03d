//! Leads, legs and straps: what a part needs beside its supply and return is in the list of conductors, end by end.

use crate::harness::{built_in, demo_specs, findings, house, load};
use rigbinder::build::{Build, Conductor, Part, Purpose, RouteBy, VEHICLE};
use rigbinder::kinds::{Carries, Condition, Kind, LeadEnd, Library, Post};
use rigbinder::pipeline::{self, Worked};
use std::collections::BTreeSet;

const HEAD: &str = r#"
[build]
title = "Van"
[place]
board = { about = "Board" }
entry = { about = "Entry" }
bed = { about = "Bed" }
bench = { about = "Bench" }
[component]
bank = { kind = "battery-bank", capacity = "100 Ah", place = "board" }
fuse = { kind = "main-fuse", fed_from = "bank", run = "0.1 m", place = "board" }
bar = { kind = "busbar", fed_from = "fuse", run = "0.1 m", place = "board" }
minus = { kind = "negative-busbar", mirrors = "bar", returns_to = "bank", run = "0.2 m", place = "board" }
panel = { kind = "fuse-panel", fed_from = "bar", run = "0.3 m", place = "board" }
"#;

/// Works out a build and asks of it.
fn of<T>(components: &str, ask: impl FnOnce(&Worked<'_>) -> T) -> T {
    let text = format!("{HEAD}{components}");
    let loaded = pipeline::load(built_in(), "test.toml", text.as_bytes()).expect("kinds");
    ask(&pipeline::work_out(&loaded).expect("profile"))
}

/// The conductors of a part that are none of its circuit: id, ends.
fn beside(build: &Build<'_>, part: &str) -> Vec<String> {
    let own = build.wiring.conductors.values().filter(|c| c.owner == part && c.purpose != Purpose::Circuit);
    own.map(|c| format!("{}: {} > {}", c.local, c.from.show(build), c.to.show(build))).collect()
}

#[test]
fn legs_lead_on_or_from_a_joint() {
    let chain = "light = { kind = \"light-zone\", fittings = 3, fed_from = \"panel\", run = \"2 m\", place = \"bed\" }";
    let told = of(chain, |worked| beside(&worked.build, "light"));
    assert_eq!(
        told,
        [
            "leg-2: Light zone, fitting 1 > Light zone, fitting 2",
            "leg-2-return: Light zone, fitting 2 > Light zone, fitting 1",
            "leg-3: Light zone, fitting 2 > Light zone, fitting 3",
            "leg-3-return: Light zone, fitting 3 > Light zone, fitting 2",
        ]
    );
    let star = chain.replace("fittings", "legs = \"star\", fittings");
    let told = of(&star, |worked| beside(&worked.build, "light"));
    assert_eq!(told[2], "leg-3: Light zone, fitting 1 > Light zone, fitting 3");
    // Where each has a place of its own, the place names it, and another one before it changes no name.
    let places = |list: &str| {
        let count = list.split(',').count();
        let text = format!(
            "usb = {{ kind = \"usb-outlet\", count = {count}, fed_from = \"panel\", run = \"2 m\", places = [{list}] }}"
        );
        of(&text, |worked| {
            let own = worked.build.wiring.conductors.values().filter(|c| c.owner == "usb");
            own.map(|c| c.local.clone()).filter(|l| l.starts_with("leg")).collect::<Vec<_>>()
        })
    };
    assert_eq!(places("\"entry\", \"bed\""), ["leg-bed", "leg-bed-return"]);
    assert_eq!(places("\"entry\", \"bench\", \"bed\"")[2..], ["leg-bed", "leg-bed-return"]);
}

/// Legs are as thick as what feeds them, and count for no length of their circuit.
#[test]
fn legs_have_the_size_of_their_supply() {
    let text = "light = { kind = \"light-zone\", fittings = 3, fed_from = \"panel\", run = \"2 m\", place = \"bed\", \
                lead.leg-2 = { run = \"0.8 m\" } }";
    of(text, |worked| {
        let figures = |id: &str| &worked.electrical.conductors[id];
        assert!(figures("light.supply").size.is_some());
        assert_eq!(figures("light.leg-2").size, figures("light.supply").size);
        let route = |id: &str| worked.build.wiring.conductors[id].route.clone();
        assert_eq!(route("light.leg-2").length.map(|l| l.0), Some(0.8));
        assert_eq!((route("light.leg-3").length, route("light.leg-3").by), (None, RouteBy::Unknown));
        assert_eq!(worked.build.circuits["light"].run.map(|l| l.0), Some(2.0));
    });
}

/// Two places have two straps; each switch between makes two pieces more.
#[test]
fn straps_lead_over_the_switches_between() {
    let pair = "pair = { kind = \"two-way-switch\", fed_from = \"panel\", run = \"2 m\", link = \"3.6 m\", \
                place = \"entry\", second_place = \"beside the bed\" }\n\
                light = { kind = \"light-zone\", fittings = 1, fed_from = \"pair\", run = \"2 m\", place = \"bed\" }";
    of(pair, |worked| {
        let build = &worked.build;
        assert_eq!(
            beside(build, "pair"),
            [
                "strap-1: Two-way switch pair, traveller 1 > Two-way switch pair, second traveller 1",
                "strap-2: Two-way switch pair, traveller 2 > Two-way switch pair, second traveller 2",
            ]
        );
        let conductor = |id: &str| &build.wiring.conductors[id];
        assert_eq!(conductor("pair.strap-1").route.length.map(|l| l.0), Some(3.6));
        assert_eq!(worked.electrical.conductors["pair.strap-1"].size, worked.electrical.conductors["pair.supply"].size);
        // The lights are fed from the second switch.
        assert_eq!(conductor("light.supply").from.place.as_deref(), Some("beside the bed"));
        assert_eq!(build.circuits["pair"].run.map(|l| l.0), Some(2.0));
    });
    let four = pair.replace("link =", "between = [\"bench\", \"board\"], link =");
    let told = of(&four, |worked| beside(&worked.build, "pair"));
    let ids: Vec<&str> = told.iter().filter_map(|t| t.split(':').next()).collect();
    assert_eq!(ids, ["strap-1", "strap-1-2", "strap-1-3", "strap-2", "strap-2-2", "strap-2-3"]);
    assert!(told[1].contains("between 1 > Two-way switch pair, between 2"), "{}", told[1]);
}

/// What a lead is wired to, and what is left out where it needs none.
#[test]
fn leads_find_their_other_ends() {
    let cases = [
        (
            "tank = { kind = \"fresh-tank\", capacity = \"80 L\" }\nother = { kind = \"grey-tank\", capacity = \"60 L\" }\n\
             a = { kind = \"tank-display\", name = \"Fresh gauge\", tanks = [\"tank\"], fed_from = \"panel\" }\n\
             b = { kind = \"tank-display\", name = \"Grey gauge\", tanks = [\"other\"], fed_from = \"panel\" }\n\
             x = { kind = \"level-sender\", tank = \"other\" }",
            vec!["signal: Tank level sender, signal > Grey gauge, sender", "ground: Tank level sender > Grey gauge"],
        ),
        ("x = { kind = \"volt-display\", fed_from = \"bank\", shows = \"bank\" }", vec![]),
        (
            "x = { kind = \"volt-display\", fed_from = \"panel\", shows = \"bank\" }",
            vec!["sense: Battery bank, plus > Volt display, sense"],
        ),
        (
            "start = { kind = \"starter-battery\", capacity = \"95 Ah\" }\n\
             x = { kind = \"dc-dc-charger\", fed_from = \"start\", feeds = \"bar\" }",
            vec!["run: Vehicle, engine-run signal > DC-DC charger, run"],
        ),
        (
            "x = { kind = \"solar-controller\", feeds = \"bar\" }",
            vec!["temperature: Solar charge controller, probe > Battery bank, case"],
        ),
    ];
    for (components, wanted) in cases {
        assert_eq!(of(components, |worked| beside(&worked.build, "x")), wanted, "{components}");
    }
}

/// Where the parts of a hidden switch are stands in no conductor that others read.
#[test]
fn leads_of_a_hidden_part_tell_no_place() {
    let text = "aux = { kind = \"switch-panel\", fed_from = \"secret\", master = \"hidden\", master_switch = \"secret\" }\n\
                secret = { kind = \"master-switch\", guard = \"hidden\", relay = true, fed_from = \"bar\", run = \"1 m\", \
                place = \"bench\" }";
    of(text, |worked| {
        let spec = worked.build.redacted_spec();
        let build = worked.build.redacted(&spec);
        let own = build.wiring.conductors.values().filter(|c| c.owner == "secret");
        let leads: Vec<&Conductor> = own.filter(|c| c.purpose != Purpose::Circuit).collect();
        assert_eq!(leads.len(), 3);
        for lead in leads {
            assert!(lead.route.length.is_none() && lead.ends().iter().all(|end| end.place.is_none()), "{lead:?}");
        }
    });
}

/// Whether a post must have a conductor: not one that is there for what some builds have, nor one whose leads this part
/// needs none of.
fn must_be_wired(part: &Part<'_>, post: &Post) -> bool {
    let own = |end: &str| LeadEnd::read(end) == LeadEnd::Own(&post.id);
    let leads: Vec<_> = part.kind.leads.iter().filter(|l| own(&l.from) || own(&l.to)).collect();
    let needed = |lead: &&&rigbinder::kinds::Lead| {
        // A field that is left out asks for no lead.
        let named = [&lead.from, &lead.to].into_iter().all(|end| match LeadEnd::read(end) {
            LeadEnd::Of(field, _) if part.kind.fields.contains_key(field) => !part.record.list(field).is_empty(),
            _ => true,
        });
        named && Condition::lets(lead.when.as_ref(), part.record)
    };
    let power = matches!(
        post.takes,
        Carries::Positive | Carries::SwitchedPositive | Carries::Negative | Carries::Line | Carries::Neutral
    );
    !post.optional && if leads.is_empty() { power } else { leads.iter().any(|lead| needed(&lead)) }
}

/// Posts that must be wired and are not, of parts that something feeds and that feed something where they can.
pub(crate) fn bare_posts(worked: &Worked<'_>) -> Vec<String> {
    let build = &worked.build;
    let open: BTreeSet<(&str, &str)> =
        build.open_leads().iter().map(|(part, lead, _)| (part.id.as_str(), lead.id.as_str())).collect();
    let mut landed: BTreeSet<(&str, String)> = BTreeSet::new();
    for end in build.wiring.conductors.values().flat_map(Conductor::ends) {
        let post = end.switch.as_ref().map_or_else(|| end.post.clone(), |_| format!("switch-{}", end.post));
        landed.insert((&end.part, post));
    }
    let mut bare = Vec::new();
    for part in build.parts.values() {
        let fed = build.arriving(&part.id).next().is_some();
        let feeds = build.leaving(&part.id).next().is_some();
        if !fed || part.role().is_none_or(|role| role.passes_through() || role.has_output()) && !feeds {
            continue;
        }
        for post in &part.kind.posts {
            let told = part.kind.leads.iter().any(|l| open.contains(&(part.id.as_str(), l.id.as_str())));
            // Posts of its switches, where it has some.
            if post.id.starts_with("switch-") && part.kind.has.contains(&"switch") {
                continue;
            }
            if must_be_wired(part, post) && !told && !landed.contains(&(part.id.as_str(), post.id.clone())) {
                bare.push(format!("{} ({}): {}", part.id, part.kind.id, post.id));
            }
        }
    }
    bare
}

#[test]
fn posts_that_must_be_wired_have_a_conductor() {
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        let bare = bare_posts(&worked);
        assert!(bare.is_empty(), "{}: {}", path.display(), bare.join("\n"));
        assert!(worked.build.open_leads().is_empty(), "{}", path.display());
    }
}

/// A post that no lead of its kind ends on and that carries no current is for leads of others: then a kind has such a lead.
#[test]
fn every_post_is_for_something() {
    let library = Library::load(built_in()).expect("the kinds hold together");
    let ends: BTreeSet<&str> = library
        .iter()
        .flat_map(|k| &k.leads)
        .flat_map(|l| [&l.from, &l.to])
        .filter_map(|end| match LeadEnd::read(end) {
            LeadEnd::Of(_, post) => Some(post),
            _ => None,
        })
        .collect();
    let idle = |kind: &Kind, post: &Post| {
        let thin = matches!(
            post.takes,
            Carries::Sense | Carries::Control | Carries::Data | Carries::Signal | Carries::Antenna
        );
        let own = kind.leads.iter().flat_map(|l| [&l.from, &l.to]).any(|end| *end == post.id);
        thin && !own && !ends.contains(post.id.as_str())
    };
    let idle: Vec<String> = library
        .iter()
        .flat_map(|k| k.posts.iter().filter(|p| idle(k, p)).map(|p| format!("{}: {}", k.id, p.id)))
        .collect();
    assert!(idle.is_empty(), "{idle:?}");
}

/// An end at the vehicle is told in words, and only there.
#[test]
fn an_end_is_a_part_or_the_vehicle() {
    let mut at_vehicle = 0;
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        for end in worked.build.wiring.conductors.values().flat_map(Conductor::ends) {
            if end.part == VEHICLE {
                at_vehicle += 1;
                assert!(!end.words.is_empty() && end.show(&worked.build).starts_with("Vehicle, "), "{end:?}");
            } else {
                assert!(worked.build.parts.contains_key(&end.part), "{end:?}");
            }
        }
    }
    assert!(at_vehicle > 0);
}

#[test]
fn a_resistive_sender_needs_no_feed() {
    let text = format!(
        "{HEAD}tank = {{ kind = \"fresh-tank\", capacity = \"80 L\" }}\nx = {{ kind = \"level-sender\", tank = \"tank\" }}"
    );
    let found = findings(&text);
    assert!(!found.iter().any(|f| f.name == "not-fed" && f.headline.starts_with('x')), "{found:?}");
    assert!(found.iter().any(|f| f.name == "lead-leads-nowhere"));
}

/// Lights of one door switch hang behind it, all of them: none is fed past the switch.
#[test]
fn further_fittings_hang_behind_the_switch_of_the_first() {
    let spec = |switching: &str| {
        format!(
            "spec = 2\n[build]\ntitle = \"Legs\"\nrules = \"eu\"\n[place]\nhere = {{ about = \"Here\" }}\n[component]\n\
             bank = {{ kind = \"battery-bank\", place = \"here\", capacity = \"100 Ah\" }}\n\
             panel = {{ kind = \"fuse-panel\", place = \"here\", fed_from = \"bank\", run = \"1 m\" }}\n\
             light = {{ kind = \"storage-light\", place = \"here\", fed_from = \"panel\", run = \"2 m\", fittings = 3, \
             legs = \"chain\", switching = \"{switching}\" }}\n"
        )
    };
    for (switching, post) in [("door-switch", "lamp"), ("hand", "plus")] {
        let text = spec(switching);
        let loaded = pipeline::load(house(), "legs.toml", text.as_bytes()).expect("kinds");
        let worked = pipeline::work_out(&loaded).expect("profile");
        let legs: Vec<_> = worked.build.wiring.conductors.values().filter(|c| c.local.starts_with("leg-")).collect();
        let live: Vec<_> = legs.iter().filter(|c| !c.local.ends_with("return")).collect();
        assert_eq!((legs.len(), live.len()), (4, 2), "{switching}");
        assert!(live.iter().all(|c| c.from.post == post && c.to.post == post), "{switching}: {live:?}");
        assert!(legs.iter().filter(|c| c.local.ends_with("return")).all(|c| c.from.post == "minus"), "{legs:?}");
    }
}
