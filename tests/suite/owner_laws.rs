//! Laws of the owner's texts over all demo builds: one order of work, words that stand on the van, lists that are whole.

use crate::harness::demos;
use rigbinder::kinds::Role;

const MANUAL: &str = "owners-manual";

/// The section of a heading, without those that follow.
fn section(manual: &str, id: &str) -> String {
    let Some((_, rest)) = manual.split_once(&format!("{{#{id}}}")) else { return String::new() };
    rest.split("\n### ").next().unwrap_or_default().replace('\u{a0}', " ")
}

/// What must be shut, tied or cold before one drives is on the list that one goes through before one drives.
#[test]
fn what_must_not_be_driven_with_is_on_the_list_of_driving_off() {
    const ONLY: [&str; 5] =
        ["never drive with", "drive only with", "do not drive with", "never travel with", "drives open"];
    const LISTED: [&str; 4] = ["before you drive", "before driving", "before you push", "to leave"];
    let library = rigbinder::kinds::Library::load(crate::harness::house()).expect("kinds");
    let mut found = 0;
    for kind in library.iter() {
        let owner = &kind.owner;
        let warned = owner.cautions.iter().flat_map(|c| [&c.hazard, &c.avoid]).chain(&owner.limits).chain(&owner.usage);
        let told = warned.map(|text| text.to_lowercase()).find(|text| ONLY.iter().any(|words| text.contains(words)));
        let Some(told) = told else { continue };
        found += 1;
        let mut listed = owner.usage.iter().chain(&owner.limits).map(|text| text.to_lowercase());
        assert!(listed.any(|text| LISTED.iter().any(|words| text.contains(words))), "{}: {told}", kind.id);
    }
    assert!(found >= 4, "{found}");
}

/// The engine of the standing van runs for the need of the cold alone: to charge, one drives.
#[test]
fn the_engine_of_the_standing_van_does_not_run_to_charge() {
    for demo in demos() {
        let (path, manual) = (&demo.path, demo.spaced(MANUAL));
        let need = section(&manual, "emergency-cold").replace('[', "");
        assert!(need.contains("Run the engine of the standing van for heat in this need alone"), "{need}");
        for line in manual.lines() {
            let runs = ["run the engine", "let the engine run", "leave the engine running"];
            let told = runs.iter().any(|words| line.to_lowercase().contains(words));
            assert!(!told || line.contains("in this need alone"), "{}: {line}", path.display());
        }
    }
}

/// Frost work has one order, that of the manual: the calendar leads there and lists nothing of it.
#[test]
fn work_of_a_season_has_one_order() {
    let mut seasons = 0;
    for demo in demos() {
        let (path, calendar) = (&demo.path, demo.markdown("maintenance-calendar"));
        for round in calendar.split("\n### ").skip(1) {
            let round = round.split("\n## ").next().unwrap_or_default();
            let lines: Vec<&str> = round.lines().filter(|l| l.contains("(owners-manual.md#season-")).collect();
            let own = round.contains("{#round-before-the-first-frost}");
            assert!(!own || lines.len() == 1, "{}: {round}", path.display());
            seasons += usize::from(own);
        }
    }
    assert!(seasons >= 4, "{seasons}");
}

/// An owner's book names ways, places and papers by what is printed on them.
#[test]
fn the_owner_is_told_no_stand_ins() {
    const STAND_INS: [&str; 9] = [
        "way N",
        "its panel:",
        "in the table",
        "Sticker of Fuse of",
        "Nothing given yet",
        "the spec names",
        "tie it shut",
        "power power",
        "in this panel way",
    ];
    for demo in demos() {
        let (path, all) = (&demo.path, &demo.sheets);
        for sheet in
            all.iter().filter(|s| ["owners-manual", "maintenance-calendar", "handover-binder"].contains(&&*s.stem))
        {
            for line in sheet.markdown.replace('\u{a0}', " ").lines() {
                let said =
                    STAND_INS.iter().find(|words| line.contains(**words) && !line.contains("Only fit the rating"));
                assert!(said.is_none(), "{} {}: {said:?}: {line}", path.display(), sheet.stem);
            }
        }
    }
}

/// Spares aboard are fuses that an owner can fit: pushed in by hand, not bolted to a torque.
#[test]
fn spare_fuses_of_the_owner_are_pushed_in_by_hand() {
    let mut told = 0;
    for demo in demos() {
        let (path, manual) = (&demo.path, demo.markdown(MANUAL));
        for line in section(manual, "spares").lines().filter(|l| l.starts_with("- [ ]")) {
            told += 1;
            assert!(line.contains("blade fuse"), "{}: {line}", path.display());
        }
    }
    assert!(told > 15, "{told}");
}

/// A word is explained where it is used, and only there.
#[test]
fn the_glossary_explains_what_the_manual_says() {
    for demo in demos() {
        let (path, manual) = (&demo.path, demo.markdown(MANUAL));
        let (body, rest) = manual.split_once("{#glossary}").expect("glossary");
        let words = rest.split("\n## ").next().unwrap_or_default();
        let comments = body.split("<!--").map(|piece| piece.split_once("-->").map_or(piece, |(_, behind)| behind));
        let body: String = comments.collect();
        for foreign in ["LPG", "split-phase"].iter().filter(|word| words.contains(&format!("**{word}:**"))) {
            let used = body
                .lines()
                .filter(|l| !l.starts_with("Not fitted"))
                .any(|l| l.contains(foreign) || l.contains("line 2"));
            assert!(used, "{}: {foreign}", path.display());
        }
    }
}

/// The index knows what people call a thing: in the words of the rules, and the jump start that nobody calls otherwise.
#[test]
fn the_index_knows_what_people_call_things() {
    for demo in demos() {
        let (path, worked, manual) = (&demo.path, &demo.worked, demo.markdown(MANUAL));
        let index = manual.split("{#index}").nth(1).expect("index");
        let entry = |term: &str| {
            index.lines().any(|l| l.starts_with(&format!("- [{term}]")) || l.starts_with(&format!("- {term}:")))
        };
        assert!(entry("Jump start"), "{}", path.display());
        let us = worked.build.about.rules.text() != Some("eu");
        if worked.build.parts.values().any(|p| p.role() == Some(Role::Rcd)) {
            assert!(entry("RCD") && entry("GFCI") == us, "{}", path.display());
        }
        if worked.build.parts.values().any(|p| p.kind.id == "wheel-set") {
            let comment = "tyre pressure for sand";
            assert!(manual.contains(comment), "{}: the search knows no {comment}", path.display());
        }
        assert!(manual.matches("<!-- also: ").count() > 20, "{}", path.display());
    }
}
