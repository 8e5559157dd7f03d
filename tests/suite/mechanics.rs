//! What holds things: struts in the cold, what rests on what, seats, ways out; and what was not judged.

use crate::harness::{demo_specs, load, sheets};
use rigbinder::compute::ledger::Amount;
use rigbinder::diag::Finding;
use rigbinder::pipeline::{self, Worked};

const HEAD: &str = r#"
spec = 2
[build]
title = "Held"
handover = 2027-05-14
[contact.shop]
role = "Workshop"
[vehicle]
wheelbase = "3.6 m"
rear_overhang = "1.2 m"
width = "2 m"
gross_mass = "3500 kg"
roof_load_limit = "150 kg"
[place]
bed = { at = ["4.2 m", "0 m", "0.6 m"], size = ["1.1 m", "1.8 m", "0.2 m"] }
top = { at = ["2 m", "0 m", "2 m"], size = ["3 m", "1.4 m", "0.2 m"], zone = "roof" }
edge = { at = ["2 m", "-1.05 m", "1.8 m"], size = ["2.5 m", "0.15 m", "0.15 m"], zone = "outside" }
hitch = { at = ["5.1 m", "0 m", "-0.3 m"], size = ["0.5 m", "1.6 m", "0.4 m"], zone = "outside" }
door = { at = ["4.95 m", "0.4 m", "0.5 m"], size = ["0.3 m", "0.7 m", "0.8 m"], zone = "outside" }
"#;

const COLD: &str = r#"
[climate.winter]
month = 1
latitude = "44 °"
irradiation = "1.6 kWh/m2"
low = "-14 °C"
high = "-3 °C"
record_low = "-34 °C"
[climate.summer]
month = 7
latitude = "44 °"
irradiation = "7 kWh/m2"
low = "12 °C"
high = "32 °C"
record_high = "41 °C"
"#;

/// A lid of 16 kg on two struts: arms 220 and 450 mm, opened from 60° to 130° between them.
const STRUTS: &str = r#"
[component.struts]
kind = "lid-strut"
place = "bed"
lid_mass = "16 kg"
lid_length = "1.2 m"
centre_of_gravity = "0.6 m"
arm_lid = "220 mm"
arm_body = "450 mm"
body_angle = "60 °"
open_angle = "70 °"
"#;

fn worked<T>(text: &str, look: impl FnOnce(&Worked<'_>) -> T) -> T {
    let loaded = pipeline::load(crate::harness::house(), "held.toml", text.as_bytes()).expect("kinds");
    let read: Vec<_> = loaded.findings.iter().map(|f| f.headline.as_str()).collect();
    assert!(read.is_empty(), "{read:?}");
    look(&pipeline::work_out(&loaded).expect("profile"))
}

fn finding(text: &str, name: &str) -> Option<Finding> {
    worked(text, |w| w.findings.iter().find(|f| f.name == name).cloned())
}

fn figure(w: &Worked<'_>, id: &str) -> f64 {
    let found = w.ledger.get(id).unwrap_or_else(|| panic!("no figure {id}"));
    let Amount::Of(_, value) = found.value else { panic!("{id} is a word") };
    value
}

/// By hand: strut √(0.22² + 0.45² − 2·0.22·0.45·cos 130°) = 0.6150 m, lever 0.099·sin 130°/0.6150 = 123.3 mm, weight
/// 16·9.80665·0.6·cos 70° = 32.20 N m: 130.5 N just hold it. With a tenth, and 239.15/293.15 of it left at −34 °C: 176 N.
#[test]
fn a_strut_that_holds_at_20_degrees_fails_at_the_record_low() {
    let lid = format!("{HEAD}{STRUTS}");
    worked(&lid, |w| assert!((figure(w, "struts.strut-force") - 143.6).abs() < 0.2, "at 20 °C"));
    let cold = format!("{lid}{COLD}");
    worked(&cold, |w| assert!((figure(w, "struts.strut-force") - 176.0).abs() < 0.3, "at the record low"));
    assert!(finding(&format!("{lid}force = \"150 N\"\n"), "strut-too-weak").is_none());
    let weak = finding(&format!("{lid}force = \"150 N\"\n{COLD}"), "strut-too-weak").expect("weak in the cold");
    assert!(weak.headline.contains("−34 °C"), "{}", weak.headline);
    assert!(finding(&format!("{lid}force = \"180 N\"\n{COLD}"), "strut-too-weak").is_none());
}

/// What lies on the lid counts: given, of the bed at the same place, or on it by `on`.
#[test]
fn a_mattress_on_the_lid_counts() {
    let lid = format!("{HEAD}{STRUTS}");
    let bare = worked(&lid, |w| figure(w, "struts.strut-force"));
    let bed =
        "[component.bunk]\nkind = \"bed-platform\"\nplace = \"bed\"\nmass = \"20 kg\"\nmattress_mass = \"14 kg\"\n";
    for (what, text, mass) in [
        ("given", format!("{lid}lid_load = \"14 kg\"\n"), 14.0),
        ("nothing", format!("{lid}lid_load = \"0 kg\"\n{bed}"), 0.0),
        ("bed at the place", format!("{lid}{bed}"), 14.0),
        ("named", format!("{lid}lid_of = \"bunk\"\n{}", bed.replace("\"bed\"\n", "\"top\"\n")), 14.0),
        (
            "riding",
            format!(
                "{lid}[component.pad]\nkind = \"first-aid-kit\"\nplace = \"bed\"\non = \"struts\"\nmass = \"4 kg\"\n"
            ),
            4.0,
        ),
    ] {
        let loaded = worked(&text, |w| figure(w, "struts.strut-force"));
        assert!((loaded / bare - (16.0 + mass) / 16.0).abs() < 1e-9, "{what}: {loaded} beside {bare}");
    }
}

/// A flap that hangs upright from its upper edge has its whole weight on the struts when it lies level.
#[test]
fn an_upright_flap_needs_struts() {
    let flap = format!("{HEAD}{STRUTS}lid_at_rest = \"90 °\"\n")
        .replace("\"70 °\"", "\"90 °\"")
        .replace("\"60 °\"", "\"40 °\"");
    worked(&flap, |w| {
        let force = figure(w, "struts.strut-force");
        // 16 kg · g · 0.6 m over two levers of 123.3 mm, and a tenth.
        assert!((force - 1.1 * 16.0 * 9.806_65 * 0.6 / (2.0 * 0.1233)).abs() < 0.5, "{force} N");
    });
    // Hinged at the bottom it leans past upright when open: not "0 N, kept".
    let low = format!("{flap}hinge = \"bottom\"\n");
    assert!(worked(&low, |w| w.ledger.get("struts.strut-force").is_none()));
    assert!(finding(&low, "strut-not-computed").is_some());
}

#[test]
fn beyond_the_dead_centre_a_finding_says_so() {
    let far = format!("{HEAD}{STRUTS}").replace("\"60 °\"", "\"120 °\"");
    let found = finding(&far, "strut-not-computed").expect("told");
    let at = found.span.expect("located");
    assert!(far[at.start..at.end].contains("120"), "{}", &far[at.start..at.end]);
}

/// Every strut has a figure, or a finding that says why not.
pub(crate) fn struts_are_told(w: &Worked<'_>) -> usize {
    let strut = Some(rigbinder::kinds::Mechanics::Strut);
    let struts = w.build.parts.values().filter(|p| p.kind.mechanics.map(|m| m.role) == strut);
    let mut seen = 0;
    for part in struts {
        let told = |f: &Finding| f.name == "strut-not-computed" && f.subject.as_deref() == Some(&part.id);
        let figure = w.ledger.get(&format!("{}.strut-force", part.id)).is_some();
        assert!(figure != w.findings.iter().any(told), "{} has neither figure nor finding, or both", part.id);
        seen += 1;
    }
    seen
}

/// The roof carries what rests on the rack, wherever its own place is; and the rack carries it.
#[test]
fn an_awning_on_the_rack_weighs_on_the_roof() {
    let rack = "[component.rack]\nkind = \"roof-rack\"\nplace = \"top\"\nmass = \"34 kg\"\nrated_load = \"40 kg\"\n";
    let awning =
        |more: &str| format!("[component.awning]\nkind = \"awning\"\nplace = \"edge\"\nmass = \"22 kg\"\n{more}");
    let roof = |text: &str| worked(&format!("{HEAD}{text}"), |w| (figure(w, "roof.roof-load"), w.weight.roof_known.0));
    assert_eq!(roof(&format!("{rack}{}", awning("mount = \"body-side\"\n"))), (34.0, 34.0));
    assert_eq!(roof(&format!("{rack}{}", awning("mount = \"body-side\"\non = \"rack\"\n"))), (56.0, 56.0));
    assert_eq!(roof(&format!("{rack}{}", awning("mount = \"rack\"\n"))), (56.0, 56.0));
    assert_eq!(roof(&awning("mount = \"gutter\"\n")), (22.0, 22.0));
    // The usual mount of its kind leads to the roof, and carries no error by itself.
    assert_eq!(roof(&format!("{rack}{}", awning(""))), (56.0, 34.0));
    // A light on the awning on the rack.
    let chain = "[component.lamp]\nkind = \"first-aid-kit\"\nplace = \"edge\"\non = \"awning\"\nmass = \"3 kg\"\n";
    let all = format!("{HEAD}{rack}{}{chain}", awning("on = \"rack\"\n"));
    worked(&all, |w| {
        assert!((figure(w, "roof.roof-load") - 59.0).abs() < 1e-9);
        assert!((figure(w, "rack.rated-load") - 25.0).abs() < 1e-9);
    });
}

/// A box on a hinge frame counts for the frame, by its mount alone too; what has no position counts on either side.
#[test]
fn a_box_weighs_on_its_hinges() {
    let frame = "[component.hinges]\nkind = \"rear-door-carrier-hinge\"\nplace = \"door\"\nmass = \"14 kg\"\nrated_load = \"50 kg\"\n";
    let case = |more: &str| {
        format!(
            "{HEAD}{frame}[component.chest]\nkind = \"box-carrier\"\nmass = \"12 kg\"\ncontents_mass = \"10 kg\"\n{more}"
        )
    };
    worked(&case("place = \"door\"\non = \"hinges\"\n"), |w| {
        assert!((figure(w, "hinges.left.rated-load") - 22.0).abs() < 1e-9);
        assert!(w.ledger.get("hinges.right.rated-load").is_none());
    });
    worked(&case("place = \"door\"\n"), |w| assert!((figure(w, "hinges.left.rated-load") - 22.0).abs() < 1e-9));
    worked(&case(""), |w| {
        for side in ["left", "right"] {
            assert!((figure(w, &format!("hinges.{side}.rated-load")) - 22.0).abs() < 1e-9, "{side}");
        }
    });
}

/// "Kept" is said of what was judged whole: never of bolts, rails, racks and struts, whose fixing nobody has judged.
#[test]
fn a_partial_verdict_says_what_it_leaves_out() {
    let mut partial = 0;
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("profile");
        for figure in worked.ledger.figures().filter(|f| f.limit.is_some()) {
            if figure.open().is_empty() {
                continue;
            }
            let verdict = figure.verdict();
            assert!(verdict != "kept" && (figure.is_broken() || verdict.contains("not ")), "{}: {verdict}", figure.id);
            partial += 1;
        }
        for formula in
            ["restraint", "restraint-fixing", "restraint-fixing-sideways", "tie-down", "rated-load", "strut-force"]
        {
            let of = |f: &&rigbinder::compute::ledger::Figure| f.formula == formula && f.limit.is_some();
            assert!(worked.ledger.figures().filter(of).all(|f| !f.open().is_empty()), "{formula} judges a part alone");
        }
        for sheet in sheets(&loaded) {
            let text = sheet.markdown.replace('\u{a0}', " ");
            let rows = text.lines().filter(|l| l.contains(".restraint\"") && l.ends_with('|'));
            for row in rows.filter(|r| r.contains('≤')) {
                assert!(row.contains("sheet, rivet nut, plate and bearing not judged"), "{}: {row}", sheet.stem);
            }
        }
    }
    assert!(partial > 20, "{partial} partial verdicts");
}

/// Bolts are judged with what they go into: a bank of 80 kg on four M8 bolts pulls with 15.7 kN at 20 g. Four shanks hold
/// 49 kN, thin sheet under washers 3.1 kN at each hole at most (EN 1993-1-3), rivet nuts less (push-out of 1.5 kN): what
/// gives way first is named, and a high thing on a short base holds less than a flat one.
#[test]
fn a_fixing_is_as_strong_as_its_weakest_link() {
    let bank = |more: &str| {
        format!(
            "{HEAD}[component.bank]\nkind = \"battery-bank\"\ncapacity = \"100 Ah\"\nplace = \"bed\"\nmass = \"80 kg\"\nbolts = 4\nbolt_size = \"M8\"\n{more}"
        )
    };
    let holds = |more: &str| {
        worked(&bank(more), |w| {
            let restraint = &w.mechanics.restraints["bank"];
            (restraint.holds.expect("bolts are given"), restraint.fixing.as_ref().map(|f| f.link.show()))
        })
    };
    let (alone, none) = holds("");
    assert!(alone > 45_000.0 && none.is_none(), "{alone} {none:?}");
    let (nuts, link) = holds("fixed_to = \"rivet-nut\"\nedge_distance = \"30 mm\"\n");
    assert!((nuts - 4.0 * 1500.0).abs() < 1.0 && link == Some("the rivet nuts"), "{nuts} {link:?}");
    let plate = "fixed_to = \"plate\"\nsheet = \"1 mm\"\nedge_distance = \"30 mm\"\n";
    let (plates, link) = holds(plate);
    assert!((plates - 4.0 * 3974.4).abs() < 1.0 && link == Some("the edges of the holes"), "{plates} {link:?}");
    let size = |high: &str| format!("{plate}size = [\"0.3 m\", \"0.5 m\", \"{high}\"]\n");
    let (flat, tall) = (holds(&size("0.2 m")).0, holds(&size("1.2 m")));
    assert!(flat < plates && tall.0 < 0.5 * flat, "{plates} {flat} {tall:?}");
    assert_eq!(tall.1, Some("washers or plates in the sheet"));
    assert!(finding(&bank(""), "restraint-too-weak").is_none());
    let told = finding(&bank("fixed_to = \"rivet-nut\"\n"), "restraint-too-weak").expect("weaker than a crash");
    assert!(
        told.headline.contains("the rivet nuts give way") || told.headline.contains("the edges of the holes"),
        "{told:?}"
    );
}

/// A seat is judged by its paper alone: what only keeps the place of one is none.
#[test]
fn a_seat_needs_its_paper() {
    for kind in ["travel-seat", "child-seat-anchorage", "seat-swivel"] {
        let seat = |approval: &str| {
            format!("{HEAD}[component.seat]\nkind = \"{kind}\"\nplace = \"bed\"\nmass = \"20 kg\"\n{approval}")
        };
        for none in [
            "",
            "approval = \"tbd\"\n",
            "approval = \"to be entered at fitting\"\n",
            "approval = \"…\"\n",
            "approval = \"on file\"\n",
        ] {
            assert!(finding(&seat(none), "evidence-missing").is_some(), "{kind}: {none}");
        }
        assert!(finding(&seat("approval = \"Report 27-118\"\n"), "evidence-missing").is_none(), "{kind}");
        worked(&seat("approval = \"Report 27-118\"\n"), |w| {
            let ours: Vec<_> = w.ledger.figures().filter(|f| f.subject == "seat").map(|f| f.id.as_str()).collect();
            assert!(ours.is_empty(), "no verdict of ours: {ours:?}");
        });
    }
}

/// Rear doors behind a loaded carrier are no free way out, and the papers say so.
#[test]
fn a_carrier_before_the_doors_bars_the_way_out() {
    let beds = "[component.bunk]\nkind = \"bed-platform\"\nplace = \"bed\"\nmass = \"20 kg\"\n[component.pane]\nkind = \"window\"\nplace = \"edge\"\nescape = true\n";
    let doors =
        |more: &str| format!("[component.doors]\nkind = \"escape-route\"\nopening = \"door\"\nplace = \"bed\"\n{more}");
    let bikes = |mount: &str| {
        format!(
            "[component.bikes]\nkind = \"bike-carrier\"\nmount = \"{mount}\"\nplace = \"hitch\"\nmass = \"18 kg\"\n"
        )
    };
    let free = format!("{HEAD}{beds}{}", doors(""));
    assert!(finding(&free, "escape-route-missing").is_none() && finding(&free, "escape-route-blocked").is_none());
    for mount in ["hitch", "bumper-swing"] {
        let barred = format!("{free}{}", bikes(mount));
        assert!(finding(&barred, "escape-route-blocked").is_some(), "{mount}");
        assert!(finding(&barred, "escape-route-missing").is_some(), "{mount}");
    }
    let named = format!(
        "{HEAD}{beds}{}{}",
        doors("blocked_by = [\"bikes\"]\nto_free = [\"Pull the red lever.\"]\n"),
        bikes("hitch")
    );
    assert!(finding(&named, "escape-route-blocked").is_none());
    assert!(finding(&named, "escape-route-missing").is_some(), "one that must be freed first is no free one");
    let tried = format!("{HEAD}{beds}{}{}", doors("clear_of = [\"bikes\"]\n"), bikes("hitch"));
    assert!(finding(&tried, "escape-route-blocked").is_none() && finding(&tried, "escape-route-missing").is_none());
    // A wheel on the door swings away with it; a ladder beside the window does not.
    let wheel = format!("{free}[component.wheel]\nkind = \"spare-wheel-carrier\"\nplace = \"door\"\nmass = \"9 kg\"\n");
    assert!(finding(&wheel, "escape-route-blocked").is_none());

    let side =
        "[component.side]\nkind = \"escape-route\"\nname = \"Side door\"\nopening = \"door\"\nplace = \"edge\"\n";
    let loaded =
        pipeline::load(crate::harness::house(), "held.toml", format!("{named}{side}").as_bytes()).expect("kinds");
    let all = sheets(&loaded);
    let manual = &all.iter().find(|s| s.stem == "owners-manual").expect("a manual").markdown.replace('\u{a0}', " ");
    assert!(manual.contains("To free it from inside: Pull the red lever."), "the manual tells how");
    assert!(
        manual.contains(
            "Do not count on a way out that can be barred: Escape route, by Bike carrier (to free it from inside: \
             Pull the red lever)."
        ),
        "the emergency page"
    );
    let [free, barred] = ["way out: Side door, Window (", "; Escape route ("].map(|at| manual.find(at).expect(at));
    assert!(free < barred, "the free one is named first");
    assert!(manual.contains("no way out while this stands there: Bike carrier"), "the emergency map");
}

/// Three people and one bed for two is told; as many places as people is enough.
#[test]
fn beds_are_counted_against_people() {
    let text = |people: u32, sleepers: u32| {
        format!(
            "{HEAD}[use]\npeople = {people}\n[component.bunk]\nkind = \"bed-platform\"\nplace = \"bed\"\nmass = \"20 kg\"\nsleepers = {sleepers}\n"
        )
    };
    assert!(finding(&text(3, 2), "beds-too-few").is_some());
    assert!(finding(&text(3, 3), "beds-too-few").is_none());
    let two = format!("{}[component.cot]\nkind = \"bed\"\nplace = \"bed\"\nmass = \"9 kg\"\nsleeps = 1\n", text(3, 2));
    assert!(finding(&two, "beds-too-few").is_none());
}
