//! A step, a caution or a word for the owner stands only where it is true of the part: each choice of a field has its own
//! words, and none of those of its other choices.

use crate::harness::{house, root};
use rigbinder::pipeline::{self, Only};

/// A part with these fields in the small van, what its documents must not say, and what they must.
struct Apt {
    kind: &'static str,
    fields: &'static str,
    wrong: &'static [&'static str],
    right: &'static [&'static str],
}

const fn apt(
    kind: &'static str,
    fields: &'static str,
    wrong: &'static [&'static str],
    right: &'static [&'static str],
) -> Apt {
    Apt { kind, fields, wrong, right }
}

const FED: &str = "fed_from = \"panel\"\nrun = \"1 m\"\n";

/// What a builder found untrue of the part in hand, and the same with the other choices of the field.
const CASES: &[Apt] = &[
    apt("awning", "form = \"roll-out\"", &["Swing", "arms"], &["let the legs down", "front rail to latch"]),
    apt(
        "awning",
        "form = \"swing-out\"",
        &["let the legs down", "ront rail", "spring tension", "let it out"],
        &["Walk the arms round", "Swing it in"],
    ),
    apt("awning", "mount = \"rack\"", &["Drill for the awning", "goes through the skin"], &[]),
    apt("awning", "mount = \"body-side\"", &[], &["Drill for the awning", "goes through the skin"]),
    apt(
        "bike-carrier",
        "mount = \"rear-door\"",
        &["hitch"],
        &[
            "Bolt through hinge reinforcements",
            "Drill the door for the bike carrier",
            "M8 A2-70 stainless carrier bolts",
        ],
    ),
    apt(
        "bike-carrier",
        "mount = \"hitch\"",
        &[
            "hinge reinforcements",
            "backing plate",
            "Drill the door",
            "M8 A2-70 stainless carrier",
            "Seal under each foot",
        ],
        &["close clamp or pin", "plate of the hitch"],
    ),
    apt("bike-carrier", "bikes = 1", &["1 bikes", "The bikes sway", "heaviest bike", "all bikes"], &["The bike sways"]),
    apt("bike-carrier", "bikes = 2", &["The bike sways"], &["The bikes sway", "heaviest bike"]),
    apt("box-carrier", "mount = \"rack\"", &["door swing", "hangs behind"], &["load of the rack"]),
    apt(
        "spare-wheel-carrier",
        "mount = \"under-floor\"",
        &["Door hinges carry", "Prop the door"],
        &["under the floor"],
    ),
    apt("ladder", "mount = \"rear-door\"", &[], &["door opens fully", "Open and close the door five times"]),
    apt(
        "ladder",
        "mount = \"body-side\"",
        &["door opens fully", "close the door five times", "hinge reinforcements", "door latch"],
        &["body skin and backing plate", "way out beside it"],
    ),
    apt(
        "ladder",
        "mount = \"rack-hooks\"",
        &["Drill for the ladder", "backing plate", "M8 A2-70 stainless foot bolts", "Re-torque the ladder"],
        &["Hang the ladder on the bar"],
    ),
    apt("storage-light", "switching = \"hand\"", &["delay over", "door closed"], &["switched off by hand"]),
    apt("storage-light", "switching = \"motion\"", &["switched off by hand"], &["door closed and delay over"]),
    apt("storage-light", "switching = \"door-switch\"", &["delay over", "switched off by hand"], &["door closed"]),
    apt("strip-light", "mounting = \"recessed\"", &["cable entry of the strip"], &["Rout the groove"]),
    apt("strip-light", "mounting = \"surface\"\noutside = true", &["groove", "Groove"], &["cable entry of the strip"]),
    apt("exterior-light", "mount = \"low\"", &["Work at roof height", "bracket to rack"], &["bracket to body"]),
    apt("exterior-light", "mount = \"rack\"", &["bracket to body"], &["Work at roof height", "bracket to rack"]),
    apt(
        "light-bar",
        "mount = \"bumper\"",
        &["Work at roof height", "on the roof with the switch off"],
        &["behind the bumper"],
    ),
    apt(
        "satellite-terminal",
        "mount = \"ground-stand\"",
        &["Work on the roof", "mount to rack"],
        &["Body side at the socket"],
    ),
    apt(
        "satellite-terminal",
        "mount = \"fixed-roof\"",
        &["Body side at the socket"],
        &["Roof at the gland", "mount to rack"],
    ),
    apt(
        "manual-valve",
        "purpose = \"drains-tank\"",
        &["motorised", "does not work.", "what it shuts"],
        &["before you drive", "lowest point of the tank"],
    ),
    apt(
        "manual-valve",
        "purpose = \"shuts-pipe\"",
        &["disposal point, open", "bucket ready", "jack alone"],
        &["shuts a pipe"],
    ),
    apt(
        "pet-station",
        "restraint = \"crate\"\nwarmed = true",
        &["no heater outlet"],
        &["aim the warm-air outlet past"],
    ),
    apt("pet-station", "restraint = \"crate\"", &["Aim the warm-air"], &["no heater outlet"]),
    apt("pet-station", "restraint = \"harness\"", &["cannot reach the cab"], &["neither driver, wheel nor pedals"]),
    apt("cabinet", "doors = 0", &["joiner", "door opens on the road", "doors close freely"], &["List its parts"]),
    apt("cabinet", "doors = 2", &["joiner"], &["A door opens on the road", "doors close freely"]),
    apt(
        "air-heater",
        "fuel = \"lpg\"",
        &["pick-up", "etering pump", "glow plug", "soot off", "vehicle tank"],
        &["igniter", "Connect the air heater to the LPG line"],
    ),
    apt("air-heater", "fuel = \"diesel\"", &["igniter"], &["pick-up", "etering pump", "glow plug", "soot off"]),
    apt("air-heater", "fuel = \"diesel\"\nfuel_from = \"own-tank\"", &["left in the vehicle tank"], &["its own tank"]),
    apt(
        "air-conditioner",
        "mounting = \"under-bench\"",
        &["fall from the roof", "clamp bolts", "between the bows"],
        &[],
    ),
    apt(
        "air-conditioner",
        "mounting = \"roof\"",
        &["between the floor members"],
        &["fall from the roof", "clamp bolts"],
    ),
    apt("water-heater", "", &["boiling water comes from a tap"], &["Steam or boiling water comes from the heater"]),
    apt("traction-boards", "mount = \"inside\"", &["done at roof height", "round a bar"], &["rails inside"]),
    apt("winch", "rope = \"synthetic\"", &["broken wires", "Broken wires"], &["Wash the rope"]),
    apt("table", "style = \"flip-out\"", &["The leg is stuck", "through the floor"], &["thin panel"]),
    apt("insulation", "area = \"4 m2\"\nmaterial = \"spray-foam\"", &[], &["isocyanates"]),
    apt("insulation", "area = \"4 m2\"\nmaterial = \"wool\"", &["isocyanates"], &["Fibres and knife"]),
];

/// Packets, calendar and manual of a van.
fn documents(spec: &str) -> String {
    let loaded = pipeline::load(house(), "test.toml", spec.as_bytes()).expect("kinds");
    let worked = pipeline::work_out(&loaded).expect("profile");
    let only = Only { documents: ["packet", "calendar", "manual"].map(str::to_owned).to_vec(), stages: Vec::new() };
    let told: Vec<String> = pipeline::sheets(&worked, &only)
        .unwrap_or_else(|e| panic!("{e:?}\n{:#?}", worked.findings))
        .into_iter()
        .map(|sheet| sheet.markdown)
        .collect();
    told.join("\n").replace('\u{a0}', " ")
}

fn small() -> String {
    std::fs::read_to_string(root().join("specs/weekend.toml")).expect("spec")
}

/// The lines of a text that are so.
fn kept(text: &str, is: impl Fn(&str) -> bool) -> String {
    let lines = text.split_inclusive('\n').filter(|line| is(line.trim_end()));
    lines.collect()
}

/// What documents say wrongly, or not at all.
fn faults(what: &str, told: &str, wrong: &[&str], right: &[&str]) -> Vec<String> {
    let says =
        wrong.iter().filter_map(|w| told.lines().find(|l| l.contains(w)).map(|l| format!("{what}: `{w}` in {l}")));
    let lacks = right.iter().filter(|r| !told.contains(**r)).map(|r| format!("{what}: `{r}` is missing"));
    says.chain(lacks).collect()
}

#[test]
fn a_text_stands_only_where_it_is_true_of_the_part() {
    let base = documents(&small());
    let mut found = Vec::new();
    for Apt { kind, fields, wrong, right } in CASES {
        let electric = rigbinder::kinds::Library::load_where(house(), |id| id == *kind).expect("kind");
        let fed = electric.get(kind).and_then(|k| k.electric.as_ref()).map_or("", |_| FED);
        // One of that kind alone, so that no other is told beside it.
        let twin = format!("{{ kind = \"{kind}\"");
        let van = kept(&small(), |l| !l.contains(&twin));
        let part =
            format!("[component.alone]\nkind = \"{kind}\"\nname = \"Thing\"\nplace = \"bench\"\n{fed}{fields}\n");
        let told = documents(&format!("{van}{part}"));
        // What the small van says without the part is not the part's.
        let without = if van == small() { base.clone() } else { documents(&van) };
        let own = kept(&told, |l| !without.contains(l));
        found.extend(faults(&format!("{kind} {fields}"), &own, wrong, right));
    }
    assert!(found.is_empty(), "{}", found.join("\n"));
}

/// A module that is glued onto the bonnet: nobody climbs, nothing is clamped.
#[test]
fn a_glued_module_has_no_clamps_and_one_on_the_bonnet_no_roof() {
    let with = |mount: &str| documents(&small().replace("mount = \"roof-bonded\"", &format!("mount = \"{mount}\"")));
    let clamps = "M8 A2-70 stainless clamp bolts";
    let (roof, drills) = ("Work on the roof is work at height", "Drill the roof for the module brackets");
    let mut found = faults("roof-bonded", &with("roof-bonded"), &[clamps, drills], &[roof, "lines of adhesive"]);
    found.extend(faults(
        "bonnet",
        &with("bonnet"),
        &[clamps, drills, roof, "wet roof"],
        &["Check that the hood opens"],
    ));
    found.extend(faults("roof-brackets", &with("roof-brackets"), &["lines of adhesive"], &[clamps, drills, roof]));
    found.extend(faults("roof-rack", &with("roof-rack"), &["lines of adhesive", drills], &[clamps, roof]));
    assert!(found.is_empty(), "{}", found.join("\n"));
}

/// The gland goes in only when the edge of its hole is primed.
#[test]
fn a_gland_is_sealed_after_its_edge_is_primed() {
    let library = rigbinder::kinds::Library::load_where(house(), |id| id == "solar-array").expect("kind");
    let tasks = &library.get("solar-array").expect("kind").tasks;
    let of = |id: &str| tasks.iter().find(|t| t.id == id).expect("task");
    let says = |id: &str, word: &str| of(id).steps.iter().any(|s| s.contains(word));
    assert!(!says("gland", "sealant") && says("gland", "Tape the hole") && says("seal", "sealant"));
    assert!(of("seal").brings.iter().any(|state| format!("{state:?}").contains("sealed")), "sealed waits for primed");
}

/// What stands before a way out is told at the emergency with the steps that free it from inside, or that nobody can.
#[test]
fn a_barred_way_out_says_how_it_is_freed() {
    let spec = |free: &str| {
        let parts = "[component.rack]\nkind = \"bike-carrier\"\nname = \"Rear rack\"\nplace = \"bench\"\n\
            [component.exit]\nkind = \"escape-route\"\nname = \"Tail door\"\nopening = \"door\"\nwidth = \"1.2 m\"\nheight = \"1 m\"\n\
            place = \"bench\"\nblocked_by = [\"rack\"]\n";
        documents(&format!("{}\n{parts}{free}", small()))
    };
    let cannot = "Tail door, by Rear rack (nobody can free it from inside)";
    assert!(
        faults("none", &spec(""), &["to free it from inside: "], &[cannot]).is_empty(),
        "{:?}",
        faults("none", &spec(""), &["to free it from inside: "], &[cannot])
    );
    let told = spec("to_free = [\"Pull the red cord.\", \"Push the rack down.\"]\n");
    let can = "Tail door, by Rear rack (to free it from inside: Pull the red cord; Push the rack down)";
    let found = faults("steps", &told, &["nobody can free"], &[can]);
    assert!(found.is_empty(), "{}", found.join("\n"));
}
