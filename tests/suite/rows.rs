//! The rows of the packets that pull, test and terminate: each end of a conductor on its own post, with how it ends.

use crate::harness::{demo_specs, load};
use rigbinder::build::{Conductor, Purpose, RouteBy};
use rigbinder::compute::network::{DeviceAt, bars, family_name};
use rigbinder::kinds::{Carries, PostForm, Stage};
use rigbinder::pipeline::{self, Only, Worked};
use rigbinder::units::{Dimension, parse_quantity};
use std::collections::{BTreeMap, BTreeSet};

/// Every demo spec, worked out, with its packets: stem and Markdown.
fn each(mut with: impl FnMut(&str, &Worked<'_>, &[(String, String)])) {
    let mut seen = 0;
    for path in demo_specs() {
        let loaded = load(&path);
        let worked = pipeline::work_out(&loaded).expect("worked out");
        let sheets = pipeline::sheets(&worked, &Only::default()).expect("documents");
        let packets: Vec<(String, String)> =
            sheets.into_iter().filter(|s| s.stem.starts_with("packet-")).map(|s| (s.stem, s.markdown)).collect();
        with(&path.display().to_string(), &worked, &packets);
        seen += 1;
    }
    assert_eq!(seen, 6);
}

/// A section of a document, from its heading to the next one as high.
fn section<'a>(markdown: &'a str, heading: &str) -> &'a str {
    let level = heading.split(' ').next().unwrap_or_default();
    let Some((_, rest)) = markdown.split_once(&format!("\n{heading}")) else { return "" };
    let higher = |line: &&str| {
        let hashes = line.chars().take_while(|c| *c == '#').count();
        hashes > 0 && hashes <= level.len()
    };
    let end = rest.lines().skip(1).find(higher).and_then(|line| rest.find(&format!("\n{line}")));
    &rest[..end.unwrap_or(rest.len())]
}

/// Cells of the rows to tick.
fn rows(markdown: &str) -> Vec<Vec<&str>> {
    // The head of a table begins with a box as well; the line below it tells.
    let lines: Vec<&str> = markdown.lines().collect();
    let is_row = |at: &usize| {
        lines[*at].starts_with("| ☐ |") && !lines.get(at + 1).is_some_and(|below| below.starts_with("| :"))
    };
    let cells = |at: usize| lines[at].trim_matches('|').split(" | ").map(str::trim).collect();
    (0..lines.len()).filter(is_row).map(cells).collect()
}

/// Ends that a packet makes: the tick, post, label, conductor, lug and torque, other end, torque. What stands in a table of
/// one part bears its name before the post; what tells no lug, the size of its conductor.
fn ends(packet: &str) -> Vec<Vec<String>> {
    let mut part = String::new();
    let mut ends = Vec::new();
    for line in section(packet, "## Terminations").lines() {
        if let Some(title) = line.strip_prefix("| **").and_then(|rest| rest.split(".**").next()) {
            let named = title.split(" (").next().filter(|_| title.ends_with(')'));
            named.unwrap_or_default().clone_into(&mut part);
        }
        if line.starts_with("### ") {
            part.clear();
        }
        let cells: Vec<&str> = line.trim_matches('|').split(" | ").map(str::trim).collect();
        if !line.starts_with("| `") || cells.len() != 6 {
            continue;
        }
        for (at, other) in [(2, 4), (4, 2)] {
            let Some(torque) = cells[at + 1].strip_prefix("☐ ") else { continue };
            let (conductor, size) = cells[1].split_once(", ").unwrap_or((cells[1], ""));
            let (post, lug) = cells[at].rsplit_once(": ").unwrap_or((cells[at], size));
            let post = if at == 2 && !part.is_empty() { format!("{part}, {post}") } else { post.to_owned() };
            let cell = |text: &str| text.to_owned();
            ends.push(vec![
                cell("☐"),
                post,
                cell(cells[0]),
                cell(conductor),
                cell(lug),
                cell(cells[other]),
                cell(torque),
            ]);
        }
    }
    ends
}

fn packet(packets: &[(String, String)], stage: Stage) -> &str {
    packets.iter().find(|(stem, _)| stem.ends_with(stage.id())).map_or("", |(_, text)| text)
}

fn worked_on<'a>(worked: &'a Worked<'_>) -> impl Iterator<Item = &'a Conductor> {
    let build = &worked.build;
    let known = |c: &&Conductor| worked.electrical.conductors.contains_key(&c.id);
    build.wiring.conductors.values().filter(known).filter(|c| build.parts[&c.owner].is_worked_on())
}

/// What a packet works on stands in its pick list once, under the place where it goes.
#[test]
fn a_pick_list_has_each_part_once_at_its_place() {
    each(|spec, worked, packets| {
        let build = &worked.build;
        let mut seen = 0;
        for stage in Stage::ALL {
            let list = section(packet(packets, *stage), "## Pick list");
            let mut place = "";
            let mut listed: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
            for row in list.lines().filter(|line| line.starts_with("| ")) {
                if let Some((at, _)) = row.strip_prefix("| | | **").and_then(|rest| rest.split_once("** |")) {
                    place = at;
                } else if let Some(id) = row.starts_with("| ☐ |").then(|| row.split('`').nth(1)).flatten() {
                    listed.entry(id).or_default().push(place);
                }
            }
            let tasks = build.tasks.values().filter(|task| task.stage == *stage && !list.is_empty());
            for id in tasks.filter_map(|task| task.part.as_deref()) {
                let part = &build.parts[id];
                let at = listed.get(id).map_or(&[][..], Vec::as_slice);
                let told = |place: &str| {
                    place == "confidential" || part.places.iter().all(|p| place.contains(build.place_name(p).as_str()))
                };
                assert!(matches!(at, [place] if told(place)), "{spec}: {}: {id} at {at:?}", stage.id());
                seen += 1;
            }
        }
        assert!(seen > 25, "{spec}: {seen}");
    });
}

/// Numbers that stand alone in brackets or behind "at", in the lists and heads of tasks of a packet.
fn places_told(packet: &str) -> Vec<usize> {
    let lists = ["## Wires to pull", "## Terminations"].map(|heading| section(packet, heading));
    let rows = lists.iter().flat_map(|list| list.lines()).filter(|line| line.starts_with("| "));
    let bracketed =
        rows.flat_map(|row| row.split('(').skip(1).filter_map(|rest| rest.split_once(')')).map(|(inner, _)| inner));
    let heads = section(packet, "## Tasks").lines().filter(|line| line.starts_with('`'));
    let behind = heads.filter_map(|line| line.split_once("`, at ")?.1.split(". ").next());
    let numbers = |text: &str| text.split(", ").map(str::parse).collect::<Result<Vec<usize>, _>>().ok();
    bracketed.chain(behind).filter_map(numbers).flatten().collect()
}

/// A list that tells a place by its number can be followed: the plan in front of it has that number.
#[test]
fn each_number_of_a_place_is_on_the_plan_of_its_packet() {
    let mut seen = 0;
    each(|spec, _, packets| {
        for (stem, packet) in packets {
            let plan =
                packet.lines().find_map(|line| line.strip_prefix("![Plan of the van from above, front to the left. "));
            let keyed = plan.and_then(|line| line.split("](").next()).unwrap_or_default();
            let on_plan: BTreeSet<usize> =
                keyed.split("; ").filter_map(|place| place.split(' ').next()?.parse().ok()).collect();
            for number in places_told(packet) {
                assert!(on_plan.contains(&number), "{spec}, {stem}: {number} is not on the plan: {on_plan:?}");
                seen += 1;
            }
        }
    });
    assert!(seen > 300, "{seen}");
}

/// Plus and minus of a circuit are two screws: no row is about both.
#[test]
fn a_row_is_about_one_pole() {
    each(|spec, _, packets| {
        let mut seen = 0;
        for row in packets.iter().flat_map(|(_, text)| ends(text)) {
            let signs: BTreeSet<&str> = row[3].split(", ").filter_map(|said| said.split(' ').nth(1)).collect();
            assert!(signs.len() <= 1, "{spec}: {row:?}");
            seen += 1;
        }
        assert!(seen > 40, "{spec}: {seen} rows");
    });
}

/// Each end says how it ends and, where something is tightened, has a blank for the torque.
#[test]
fn every_end_tells_how_it_ends() {
    each(|spec, _, packets| {
        for row in packets.iter().flat_map(|(_, text)| ends(text)) {
            assert!(!row[1].is_empty() && !row[4].is_empty(), "{spec}: {row:?}");
            assert!(["none", "______"].contains(&row[6].as_str()), "{spec}: {row:?}");
            let untightened = ["push-on", "plug", "splice"].iter().any(|form| row[4].starts_with(form));
            assert_eq!(row[6] == "none", untightened, "{spec}: {row:?}");
        }
    });
}

/// A fuse outside the panels is a part with a place, or stands in the line no further from what feeds it than 33 CFR
/// 183.455(b) has it: 7 in, 40 in or 72 in in a sheath; a spec under metric rules tells it in its units.
#[test]
fn each_fuse_outside_the_panels_tells_how_near_it_is() {
    let (mut near, mut leads) = (0, 0);
    each(|spec, worked, packets| {
        let listed = rows(section(packet(packets, Stage::ElectricalFitOff), "### Fuses outside the panels"));
        for row in listed {
            let is_part = worked.build.parts.values().any(|part| row[3].starts_with(&part.name));
            let is_told = row[3].starts_with("in line, within ") || row[3].starts_with("in line, at ");
            assert!(is_part || is_told, "{spec}: {row:?}");
            near += usize::from(is_told);
            let id = row[1].trim_matches('`');
            let of_lead = worked.build.wiring.conductors.get(id).is_some_and(|c| c.fuse.is_some());
            assert!(!of_lead || is_told, "{spec}: {row:?}");
            leads += usize::from(of_lead);
        }
    });
    assert!(near > 20 && leads > 10, "{near}, {leads} of leads");
}

/// A row that pulls several conductors names the post of each that brings current, at both ends, and cuts no less than the
/// route that it tells.
#[test]
fn a_row_to_pull_names_every_post_and_cuts_what_it_tells() {
    let (mut several, mut cut) = (0, 0);
    each(|spec, worked, packets| {
        let build = &worked.build;
        let ids = |row: &[&str]| {
            let label = row[1].trim_matches('`').to_owned();
            let said = row[2].split(", ").filter_map(|said| said.split(' ').next());
            said.map(|local| format!("{label}.{local}"))
                .filter_map(|id| build.wiring.conductors.get(&id))
                .collect::<Vec<_>>()
        };
        let mut pulls = rows(section(packet(packets, Stage::ElectricalRoughIn), "## Wires to pull"));
        pulls.extend(rows(section(packet(packets, Stage::ElectricalFitOff), "## Links to cut")));
        for row in pulls.iter().filter(|row| row.len() >= 7) {
            let live: Vec<&Conductor> = ids(row).into_iter().filter(|c| !c.is_back()).collect();
            for conductor in &live {
                for end in conductor.ends() {
                    let told = end.terminal(build);
                    let there = row[3].contains(&told) || row[4].contains(&told);
                    assert!(there, "{spec}: {told} of {} is not in {row:?}", conductor.id);
                }
            }
            several += usize::from(live.len() > 1);
            let length = |text: &str| parse_quantity(text, Dimension::Length).ok().map(|q| q.value);
            let (route, each) = row[6].trim_end_matches(" |").split_once("; ").unwrap_or_default();
            let each = each.split(" × ").last().and_then(length);
            if let (Some(route), Some(each)) = (length(route), each) {
                assert!(each + 0.004 >= route, "{spec}: {row:?}");
                cut += 1;
            }
        }
    });
    assert!(several >= 2 && cut > 100, "{several} rows with several, {cut} cut");
}

/// A blade takes one receptacle: what shares it or is too thick for one is spliced to a short lead that has it.
#[test]
fn a_blade_takes_one_receptacle() {
    let mut shared = 0;
    each(|spec, worked, _| {
        let mut blades: BTreeMap<_, Vec<&str>> = BTreeMap::new();
        for conductor in worked_on(worked) {
            let ends = &worked.electrical.conductors[&conductor.id].ends;
            for (landing, end) in conductor.ends().into_iter().zip(ends) {
                if end.lug().starts_with(PostForm::PushOn.word()) {
                    blades.entry(landing.spot()).or_default().push(&conductor.id);
                }
                if end.joined {
                    assert!(end.lug().starts_with(PostForm::Splice.word()), "{spec}: {}", end.lug());
                    shared += 1;
                }
            }
        }
        let several: Vec<_> = blades.values().filter(|there| there.len() > 1).collect();
        assert!(several.is_empty(), "{spec}: {several:?}");
    });
    assert!(shared > 4, "{shared}");
}

/// Bars are long enough for their studs with their lugs (width of lugs and washers: common practice, no source); on those
/// that collect batteries each lug has a stud of its own; and the negative shares none of the chassis bond with an earth.
#[test]
fn bars_hold_the_lugs_that_come_to_them() {
    let (mut sized, mut collecting) = (0, 0);
    each(|spec, worked, _| {
        for bar in bars(&worked.build, &worked.electrical) {
            assert!(bar.lugs <= 4 * bar.studs, "{spec}: {bar:?}");
            if !bar.words.is_empty() {
                assert_eq!(bar.studs, bar.lugs, "{spec}: {bar:?}");
                assert!(bar.length.is_some(), "{spec}: {bar:?}");
                collecting += 1;
            } else if let (Some(size), Some(length)) = (worked.build.parts[bar.part].common.size.metres(), bar.length) {
                assert!(size.into_iter().fold(0.0, f64::max) + 0.005 >= length.0, "{spec}: {bar:?}");
                sized += 1;
            }
        }
        let bonds = worked.build.parts.values().filter(|p| p.roles.chassis_bond.is_some());
        for bond in bonds.filter(|bond| bond.studs().is_some_and(|studs| studs > 1)) {
            let at = |c: &Conductor| {
                let end = c.ends().into_iter().position(|landing| landing.part == bond.id)?;
                worked.electrical.conductors[&c.id].ends[end].stud
            };
            let (own, others): (Vec<_>, Vec<_>) =
                worked_on(worked).filter(|c| at(c).is_some()).partition(|c| c.purpose == Purpose::Bond);
            assert!(!own.is_empty(), "{spec}");
            assert!(own.iter().all(|a| others.iter().all(|b| at(a) != at(b))), "{spec}: {others:?}");
        }
    });
    assert!(sized >= 2 && collecting >= 2, "{sized} sized, {collecting} collecting");
}

/// Who buys by the list has a holder for each fuse in the line, and who follows the rows makes both its ends.
#[test]
fn each_fuse_in_line_has_a_holder_with_two_ends() {
    each(|spec, worked, packets| {
        let fit_off = packet(packets, Stage::ElectricalFitOff);
        let mut wanted: BTreeMap<String, usize> = BTreeMap::new();
        let mut want = |what: String| *wanted.entry(format!("in-line holder for a {what}")).or_default() += 1;
        let build = &worked.build;
        for (id, figures) in &worked.electrical.circuits {
            let is_own = build.parts[&build.circuits[id].owner].is_worked_on();
            if figures.device.at == DeviceAt::InLine && is_own {
                want(figures.device.show());
            }
        }
        let mut holders = 0;
        for conductor in worked_on(worked) {
            holders += usize::from(worked.electrical.conductors[&conductor.id].holder.is_some());
            let Some(fuse) = conductor.fuse else { continue };
            let batteries = worked.electrical.banks.get(&conductor.owner).and_then(|bank| bank.batteries.as_ref());
            let family = batteries.filter(|_| conductor.purpose == Purpose::Battery).and_then(|b| b.family);
            want(format!("{} A {}", fuse.0, family.map_or("fuse", family_name)));
        }
        let listed: BTreeMap<String, usize> = rows(section(fit_off, "## Small parts to take"))
            .into_iter()
            .filter(|row| row[1].starts_with("in-line holder"))
            .map(|row| (row[1].to_owned(), row[2].parse().expect("a count")))
            .collect();
        assert_eq!(listed, wanted, "{spec}");
        let outside = rows(section(fit_off, "### Fuses outside the panels"));
        let made: usize = outside.iter().map(|row| row[5].matches('☐').count()).sum();
        assert_eq!(made, 2 * holders, "{spec}");
        assert!(holders >= wanted.values().sum::<usize>(), "{spec}: {holders} holders");
    });
}

/// What collects the batteries of a bank is a thing of its own: it is bought, and its studs have no torque of the batteries'
/// posts. What measures a battery is on a battery.
#[test]
fn collecting_bars_are_no_posts_of_batteries() {
    each(|spec, worked, packets| {
        let fit_off = packet(packets, Stage::ElectricalFitOff);
        let mut bars: BTreeSet<(&str, &str)> = BTreeSet::new();
        for conductor in worked_on(worked) {
            let figures = &worked.electrical.conductors[&conductor.id];
            for (landing, end) in conductor.ends().into_iter().zip(&figures.ends) {
                if !landing.is_collecting_bar() {
                    continue;
                }
                assert_ne!(conductor.carries, Carries::Signal, "{spec}: {}", conductor.id);
                let said = worked.build.parts[&landing.part].said_of_post(&landing.post);
                assert!(landing.post.starts_with("bar-"), "{spec}: {}", conductor.id);
                assert_eq!(
                    end.torque,
                    said.and_then(|said| said.torque.get()).map(|t| t.0),
                    "{spec}: {}",
                    conductor.id
                );
                assert_eq!(end.form, Some(PostForm::Ring), "{spec}: {}", conductor.id);
                bars.insert((&landing.part, &landing.words));
            }
        }
        assert!(!spec.contains("heron") || bars.len() == 2, "{spec}: {bars:?}");
        for (bank, bar) in bars {
            let what = format!("{bar}, of {}", worked.build.name(bank));
            assert!(section(fit_off, "## Small parts to take").contains(&what), "{spec}: {what}");
            assert!(fit_off.contains(&format!("| **Collecting bars of {}", worked.build.name(bank))), "{spec}");
        }
    });
}

/// Signals that meet on one post are none, and of two sources on one post neither is chosen.
#[test]
fn what_has_a_post_of_its_own_is_alone_there() {
    each(|spec, worked, _| {
        let mut there: BTreeMap<String, &str> = BTreeMap::new();
        for conductor in worked.build.wiring.conductors.values() {
            for landing in conductor.ends() {
                let Some(part) = worked.build.parts.get(&landing.part) else { continue };
                let Some(post) = part.post(landing).filter(|post| post.each.is_some()) else { continue };
                let by = conductor.circuit.as_ref().unwrap_or(&conductor.id);
                let at = format!("{} {} {}", landing.part, post.id, landing.words);
                let other = there.insert(at, by).filter(|other| other != by);
                assert_eq!(other, None, "{spec}: {} beside it on {}", conductor.id, landing.show(&worked.build));
            }
        }
    });
}

/// No stud holds more than four lugs (ABYC E-11, from memory), and the row says which one it is.
#[test]
fn lugs_have_a_stud() {
    each(|spec, worked, packets| {
        let fit_off = packet(packets, Stage::ElectricalFitOff);
        let mut numbered = 0;
        for part in worked.build.parts.values().filter(|part| part.is_worked_on()) {
            let Some(studs) = part.studs().filter(|studs| *studs > 1) else { continue };
            let mut lugs: BTreeMap<usize, usize> = BTreeMap::new();
            for (id, figures) in &worked.electrical.conductors {
                let conductor = &worked.build.wiring.conductors[id];
                for (landing, end) in conductor.ends().into_iter().zip(&figures.ends) {
                    if landing.part != part.id {
                        continue;
                    }
                    let stud = end.stud.unwrap_or_else(|| panic!("{spec}: {id} has no stud on {}", part.id));
                    assert!((1..=studs).contains(&stud), "{spec}: {id}: stud {stud} of {studs}");
                    *lugs.entry(stud).or_default() += 1;
                    numbered += 1;
                    let label = format!("`{}`", conductor.circuit.as_ref().unwrap_or(id));
                    let is_told = |row: &Vec<String>| row[2] == label && row[1].ends_with(&format!("stud {stud}"));
                    let is_own = worked.build.parts[&conductor.owner].is_worked_on();
                    assert!(!is_own || ends(fit_off).iter().any(is_told), "{spec}: {label} on stud {stud}");
                }
            }
            assert!(lugs.values().all(|lugs| *lugs <= 4), "{spec}: {}: {lugs:?}", part.id);
        }
        assert!(numbered > 3, "{spec}: {numbered}");
    });
}

/// A display, dish or controller is where the spec puts it, and not where its device is.
#[test]
fn a_second_body_has_a_place_of_its_own() {
    each(|spec, worked, packets| {
        let build = &worked.build;
        for conductor in worked_on(worked) {
            for landing in conductor.ends() {
                let Some(place) = landing.place.as_ref().filter(|place| build.places.contains_key(*place)) else {
                    continue;
                };
                if build.parts[&landing.part].confidential {
                    continue;
                }
                let place = format!("({})", build.place_name(place));
                let body = format!("{} {place}", build.name(&landing.part));
                let label = format!("`{}`", conductor.circuit.as_ref().unwrap_or(&conductor.id));
                let is_there = packets
                    .iter()
                    .flat_map(|(_, text)| ends(text).into_iter().map(|row| (row[1].clone(), row[2].clone())))
                    .any(|(on, of)| of == label && (on.starts_with(&body) || on.contains(&place)));
                assert!(is_there, "{spec}: {label}: {body}");
            }
        }
    });
}

/// The label of what belongs to no circuit says which conductor it is: the row says what it carries.
#[test]
fn a_label_is_said_once() {
    each(|spec, worked, packets| {
        let alone: BTreeMap<String, &str> = worked_on(worked)
            .filter(|c| c.circuit.is_none())
            .map(|c| (format!("`{}`", c.id), c.carries.show()))
            .collect();
        let mut seen = 0;
        for row in packets.iter().flat_map(|(_, text)| ends(text)) {
            if let Some(carries) = alone.get(&row[2]) {
                assert_eq!(row[3], *carries, "{spec}: {row:?}");
                seen += 1;
            }
        }
        assert!(seen >= 2 * alone.len(), "{spec}: {seen} of {}", alone.len());
    });
}

/// Who follows the dead tests has the tools for them, and a limit for each.
#[test]
fn dead_tests_have_tools_and_limits() {
    each(|spec, _, packets| {
        let mut seen = 0;
        for (stem, text) in packets {
            if section(text, "## Circuit tests, dead").is_empty() {
                continue;
            }
            for tool in ["insulation tester", "low-ohm meter"] {
                assert!(section(text, "## Tools").contains(tool), "{spec}: {stem}: no {tool}");
            }
            let links = section(packet(packets, Stage::ElectricalFitOff), "## Links to cut");
            let all = rows(section(text, "## Wires to pull")).into_iter().chain(rows(links));
            for row in all.filter(|row| row.len() > 9 && row[7] != "maker’s") {
                assert!(row[7].starts_with("≤ ") || ["by drop", "by length"].contains(&row[7]), "{spec}: {row:?}");
                let size = row[5].split(", ").next().unwrap_or_default();
                let told = if row[7] == "by length" { format!("| {size} | ") } else { String::new() };
                let there = [text, packet(packets, Stage::ElectricalFitOff)].iter().any(|text| text.contains(&told));
                assert!(there, "{spec}: {row:?}");
                assert!(row[8].starts_with('☐') && row[9].starts_with('☐'), "{spec}: {row:?}");
                assert_eq!(row[7] == "by drop", !row[8].contains('_'), "{spec}: {row:?}");
                seen += 1;
            }
        }
        assert!(seen > 15, "{spec}: {seen}");
    });
}

/// Nobody terminates what is not there yet: ends of what a later packet fits stand in that one, and the fit-off says so.
#[test]
fn ends_wait_for_what_they_are_on() {
    let mut bodies = 0;
    each(|spec, worked, packets| {
        let build = &worked.build;
        let mut later = 0;
        for task in build.tasks.values().filter(|t| t.template.is_some_and(|t| t.brings("mounted"))) {
            let Some(part) = task.part.as_ref().filter(|_| task.stage > Stage::ElectricalFitOff) else { continue };
            let own: Vec<&Conductor> =
                worked_on(worked).filter(|c| c.ends().iter().any(|end| end.part == *part)).collect();
            let Some(first) = own.first() else { continue };
            let name = build.name(part);
            let label = format!("`{}`", first.circuit.as_ref().unwrap_or(&first.id));
            let tells = |stage: Stage| {
                ends(packet(packets, stage)).iter().any(|row| row[2] == label && row[1].starts_with(name))
            };
            assert!(tells(task.stage), "{spec}: {label} at {name} is not in {}", task.stage.id());
            assert!(!tells(Stage::ElectricalFitOff), "{spec}: {label} at {name} is in the fit-off");
            let fit_off = section(packet(packets, Stage::ElectricalFitOff), "## Terminations");
            assert!(fit_off.lines().any(|line| line.starts_with("- Packet") && line.contains(name)), "{spec}: {name}");
            later += 1;
        }
        assert!(!spec.contains("heron") || later > 5, "{spec}: {later}");
        // The second body of a part that another packet fits.
        for conductor in worked_on(worked) {
            for end in conductor.ends() {
                let post = build.parts.get(&end.part).and_then(|part| part.post(end));
                let Some(state) = post.and_then(|post| post.fitted_by.as_deref()) else { continue };
                let fits = build.tasks_of(&end.part).filter(|t| t.template.is_some_and(|t| t.brings(state)));
                let fitted = fits.map(|task| task.stage).max().expect("a task fits it");
                let (label, words) = (format!("`{}`", conductor.id), end.show(build));
                let told = |stage: Stage| {
                    let all = ends(packet(packets, stage));
                    all.iter().any(|row| row[2] == label && row[1].starts_with(&words))
                };
                let early = fitted > Stage::ElectricalFitOff && told(Stage::ElectricalFitOff);
                assert!(told(fitted) && !early, "{spec}: {words}");
                bodies += 1;
            }
        }
    });
    assert!(bodies > 0, "no second body is fitted later");
}

/// Two cables between the same two parts lie beside each other: a run that the spec measured and one along the channels are
/// about as long.
#[test]
fn cables_between_two_parts_are_as_long() {
    each(|spec, worked, _| {
        let mut known: BTreeMap<[&str; 2], Vec<(&Conductor, f64)>> = BTreeMap::new();
        for conductor in worked.build.wiring.conductors.values() {
            let Some(length) = conductor.route.length.filter(|_| conductor.purpose == Purpose::Circuit) else {
                continue;
            };
            if matches!(conductor.route.by, RouteBy::Given | RouteBy::Channels) && !conductor.is_back() {
                let mut parts = conductor.ends().map(|end| end.part.as_str());
                parts.sort_unstable();
                known.entry(parts).or_default().push((conductor, length.0));
            }
        }
        for (parts, list) in known {
            let of = |by| list.iter().filter(move |(c, _)| c.route.by == by);
            for (given, measured) in of(RouteBy::Given) {
                for (other, along) in of(RouteBy::Channels) {
                    let share = measured / along;
                    assert!(
                        (0.75..=1.34).contains(&share),
                        "{spec}: {parts:?}: {} is {measured:.2} m, {} {along:.2} m",
                        given.id,
                        other.id
                    );
                }
            }
        }
    });
}
