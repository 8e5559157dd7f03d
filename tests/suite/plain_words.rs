//! House style of the texts of kinds (DEVELOPERS.md): imperative steps, short sentences, plain words, spaced units.

use rigbinder::kinds::{Kind, Library};

/// Verbs that a step may begin with.
const VERBS: &[&str] = &[
    "Add",
    "Adjust",
    "Agree",
    "Aim",
    "Air",
    "Apply",
    "Ask",
    "Bag",
    "Bed",
    "Bend",
    "Bleed",
    "Blow",
    "Bolt",
    "Bond",
    "Bracket",
    "Break",
    "Brew",
    "Bring",
    "Brush",
    "Buckle",
    "Build",
    "Burn",
    "Calibrate",
    "Call",
    "Cap",
    "Carry",
    "Change",
    "Charge",
    "Check",
    "Choose",
    "Clamp",
    "Clean",
    "Clear",
    "Climb",
    "Clip",
    "Close",
    "Come",
    "Compare",
    "Connect",
    "Cool",
    "Copy",
    "Count",
    "Cover",
    "Cut",
    "Deburr",
    "Degrease",
    "Descale",
    "Dig",
    "Dim",
    "Discharge",
    "Disconnect",
    "Do",
    "Drain",
    "Draw",
    "Drill",
    "Drive",
    "Drop",
    "Drop-test",
    "Dry",
    "Empty",
    "End",
    "Engage",
    "Enter",
    "Expect",
    "Explain",
    "Face",
    "Fall",
    "Feed",
    "Feel",
    "Fight",
    "File",
    "Fill",
    "Film",
    "Find",
    "Fit",
    "Fix",
    "Flush",
    "Fold",
    "Follow",
    "Free",
    "Get",
    "Give",
    "Glue",
    "Go",
    "Grease",
    "Grommet",
    "Hand",
    "Hang",
    "Have",
    "Heat",
    "Hold",
    "Hook",
    "Hose",
    "Inflate",
    "Invert",
    "Isolate",
    "Jerk",
    "Join",
    "Keep",
    "Knock",
    "Label",
    "Latch",
    "Lay",
    "Lead",
    "Leak-test",
    "Leave",
    "Let",
    "Level",
    "Lie",
    "Lift",
    "Light",
    "Lighten",
    "Line",
    "List",
    "Listen",
    "Load",
    "Lock",
    "Look",
    "Loop",
    "Loosen",
    "Lower",
    "Make",
    "Mark",
    "Mask",
    "Measure",
    "Meet",
    "Mend",
    "Mix",
    "Mount",
    "Move",
    "Note",
    "Offer",
    "Oil",
    "Open",
    "Pad",
    "Paint",
    "Park",
    "Pass",
    "Peel",
    "Peg",
    "Photograph",
    "Pick",
    "Pipe",
    "Place",
    "Plan",
    "Plug",
    "Point",
    "Poke",
    "Pour",
    "Press",
    "Prime",
    "Print",
    "Probe",
    "Prove",
    "Prop",
    "Pull",
    "Pump",
    "Push",
    "Put",
    "Raise",
    "Re-torque",
    "Reach",
    "Read",
    "Recharge",
    "Record",
    "Refit",
    "Release",
    "Remove",
    "Renew",
    "Repeat",
    "Replace",
    "Reset",
    "Reverse",
    "Rinse",
    "Roll",
    "Roughen",
    "Round",
    "Rout",
    "Rub",
    "Run",
    "Sand",
    "Sanitise",
    "Screw",
    "Seal",
    "Seat",
    "Secure",
    "Send",
    "Set",
    "Shake",
    "Show",
    "Shower",
    "Shut",
    "Sit",
    "Sleeve",
    "Slide",
    "Slow",
    "Snap",
    "Spool",
    "Spray",
    "Spread",
    "Squeeze",
    "Stack",
    "Stamp",
    "Stand",
    "Start",
    "Stay",
    "Step",
    "Stick",
    "Stop",
    "Store",
    "Stow",
    "Strap",
    "Strike",
    "Strip",
    "Suspect",
    "Swap",
    "Sweep",
    "Swing",
    "Switch",
    "Take",
    "Tape",
    "Teach",
    "Tee",
    "Tell",
    "Template",
    "Test",
    "Tie",
    "Tighten",
    "Tilt",
    "Time",
    "Tool",
    "Torque",
    "Touch",
    "Treat",
    "Trigger",
    "Trip",
    "Try",
    "Tune",
    "Turn",
    "Twist",
    "Unbolt",
    "Uncoil",
    "Uncover",
    "Unload",
    "Unlock",
    "Unplug",
    "Unscrew",
    "Use",
    "Vacuum",
    "Wait",
    "Wake",
    "Walk",
    "Warm",
    "Wash",
    "Watch",
    "Wax",
    "Wear",
    "Weigh",
    "Weld",
    "Wet",
    "Wind",
    "Wipe",
    "Work",
    "Wrap",
    "Write",
];

/// Words that may open a condition or a place; the action follows after a comma or colon.
const LEADS: &[&str] = &[
    "After", "At", "Before", "Below", "Except", "For", "From", "If", "In", "On", "To", "When", "Where", "While",
    "With", "Without",
];

/// Units that stand behind a number with a space.
const UNITS: &[&str] = &[
    "mm", "cm", "m", "km", "V", "A", "W", "kW", "Wh", "kWh", "Ah", "Hz", "mL", "L", "bar", "kg", "g", "N", "min", "s",
    "h", "K", "%", "°C", "ppm", "psi",
];

/// What a text is.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Place {
    Step,
    Prose,
}

/// Every text of a kind: where it stands and what it says.
fn texts(kind: &Kind) -> Vec<(Place, String, &str)> {
    let mut all: Vec<(Place, String, &str)> = Vec::new();
    let mut put = |place, at: String, text| all.push((place, at, text));
    for task in &kind.tasks {
        task.steps.iter().for_each(|s| put(Place::Step, task.id.clone(), s));
        for c in &task.cautions {
            for text in [&c.hazard, &c.consequence, &c.avoid] {
                put(Place::Prose, task.id.clone(), text);
            }
        }
    }
    for upkeep in &kind.upkeep {
        upkeep.steps.iter().for_each(|s| put(Place::Step, upkeep.id.clone(), s));
        for c in &upkeep.cautions {
            for text in [&c.hazard, &c.consequence, &c.avoid] {
                put(Place::Prose, upkeep.id.clone(), text);
            }
        }
    }
    let owner = &kind.owner;
    for c in &owner.cautions {
        for text in [&c.hazard, &c.consequence, &c.avoid] {
            put(Place::Prose, "owner".into(), text);
        }
    }
    owner.usage.iter().for_each(|t| put(Place::Step, "use".into(), t));
    [&owner.what]
        .into_iter()
        .chain(&owner.normal)
        .chain(&owner.limits)
        .for_each(|t| put(Place::Prose, "owner".into(), t));
    for trouble in owner.trouble.iter().chain(&owner.emergency) {
        put(Place::Prose, "symptom".into(), &trouble.symptom);
        trouble.actions.iter().for_each(|t| put(Place::Step, "do".into(), t));
    }
    all
}

/// What a text says for every way its conditions can fall; facts become "X".
fn variants(text: &str) -> Vec<String> {
    let Some(start) = text.find("{% if") else { return vec![facts_gone(text)] };
    let (before, rest) = text.split_at(start);
    let (mut branches, mut depth, mut from, mut at) = (Vec::new(), 0, 0, 0);
    let mut end = rest.len();
    while let Some(tag) = rest[at..].find("{%").map(|i| at + i) {
        let close = rest[tag..].find("%}").map_or(rest.len(), |i| tag + i + 2);
        let word = rest[tag + 2..close].trim_start_matches('-').split_whitespace().next().unwrap_or("");
        match word {
            "if" => depth += 1,
            "endif" => depth -= 1,
            _ => {}
        }
        if (depth == 1 && matches!(word, "if" | "elif" | "else")) || depth == 0 {
            if from > 0 {
                branches.push(&rest[from..tag]);
            }
            from = close;
        }
        at = close;
        if depth == 0 {
            end = close;
            break;
        }
    }
    if !rest[..end].contains("{% else") {
        branches.push("");
    }
    branches.iter().flat_map(|b| variants(&format!("{before}{b}{}", &rest[end..]))).take(64).collect()
}

/// Facts that are a step themselves; `owner_switches` holds them to their verbs.
const STEPS: &[&str] = &["off", "on", "goes_on", "switch_off", "switch_on"];

fn facts_gone(text: &str) -> String {
    let (mut out, mut rest) = (String::new(), text);
    while let Some((before, after)) = rest.split_once("{{") {
        out.push_str(before);
        let (fact, after) = after.split_once("}}").unwrap_or(("", ""));
        out.push_str(if STEPS.contains(&fact.split('|').next().unwrap_or("").trim()) { "Switch X" } else { "X" });
        rest = after;
    }
    out + rest
}

/// Sentences: each ends at a stop that a capital follows.
fn sentences(text: &str) -> Vec<&str> {
    let mut cuts = vec![0];
    for (i, _) in text.match_indices(['.', '!', '?']) {
        // Between branches of two conditions there may be no blank.
        if text[i + 1..].trim_start().starts_with(|c: char| c.is_uppercase()) {
            cuts.push(i + 1);
        }
    }
    cuts.push(text.len());
    cuts.windows(2).map(|w| text[w[0]..w[1]].trim()).filter(|s| !s.is_empty()).collect()
}

fn begins_with_a_verb(text: &str) -> bool {
    let bare = |w: &str| w.trim_end_matches([',', '.', ':']).to_owned();
    let verb = |w: &str| {
        let word = bare(w);
        VERBS.iter().any(|v| v.eq_ignore_ascii_case(&word))
    };
    let mut words = text.split_whitespace();
    let Some(first) = words.next() else { return true };
    match bare(first).as_str() {
        "Never" | "Always" => words.next().is_some_and(verb),
        lead if LEADS.contains(&lead) => {
            let pieces = text.split([',', ':']).skip(1).map(str::trim_start);
            pieces.into_iter().any(|piece| {
                let mut words = piece.split_whitespace().skip_while(|w| ["never", "always", "and"].contains(w));
                words.next().is_some_and(verb)
            })
        }
        _ => verb(first),
    }
}

fn unit_touches_number(text: &str) -> bool {
    text.split([' ', '(', ')', '/']).any(|word| {
        let word = word.trim_end_matches(['.', ',', ':', ';', '?']);
        let digits = word.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.');
        digits.len() < word.len() && UNITS.contains(&digits)
    })
}

/// Faults of one text.
fn faults(place: Place, text: &str) -> Vec<&'static str> {
    let mut found = Vec::new();
    for variant in variants(text) {
        let lower = format!(" {} ", variant.to_lowercase());
        let mut put = |bad: bool, what| {
            if bad && !found.contains(&what) {
                found.push(what);
            }
        };
        put(place == Place::Step && !begins_with_a_verb(variant.trim()), "begins with no verb");
        put(place == Place::Step && (lower.contains(" and then ") || variant.contains(';')), "two actions joined");
        put(sentences(&variant).iter().any(|s| s.split_whitespace().count() > 25), "more than 25 words");
        put(
            ["please", "should", "may want to", "might"].iter().any(|w| lower.contains(&format!(" {w} "))),
            "soft words",
        );
        put(["DANGER", "WARNING", "CAUTION", "NOTICE"].iter().any(|w| variant.contains(w)), "signal word");
        put(unit_touches_number(&variant), "unit without a space");
        put(variant.contains("  "), "two spaces");
    }
    found
}

#[test]
fn texts_of_kinds_keep_the_house_style() {
    let library = Library::load(crate::harness::house()).expect("kinds");
    let (mut found, mut read) = (Vec::new(), 0);
    for kind in library.iter() {
        for (place, at, text) in texts(kind) {
            read += 1;
            found.extend(faults(place, text).into_iter().map(|f| format!("{}.{at}: {f}: {text}", kind.id)));
        }
    }
    assert!(read > 4000, "only {read} texts");
    assert!(found.is_empty(), "{} faults in {read} texts\n{}", found.len(), found.join("\n"));
}

/// A reading without a step that takes it is a number nobody can get; a test without an expectation is no test.
#[test]
fn what_is_measured_has_a_step_and_what_is_tested_an_expectation() {
    const TAKES: &[&str] = &[
        "read", "measure", "take", "weigh", "count", "time", "compare", "expect", "test", "reading", "readings",
        "enter", "look", "check", "record", "write",
    ];
    let library = Library::load(crate::harness::house()).expect("kinds");
    let mut found = Vec::new();
    for kind in library.iter() {
        for task in kind.tasks.iter().filter(|t| !t.readings.is_empty()) {
            let says =
                |step: &String| step.to_lowercase().split(|c: char| !c.is_alphanumeric()).any(|w| TAKES.contains(&w));
            if !task.steps.iter().any(says) {
                found.push(format!("{}.{}: no step takes the readings", kind.id, task.id));
            }
        }
        for upkeep in kind.upkeep.iter().filter(|u| u.title.starts_with("Test")) {
            let expects = |s: &String| ["Expect", "Replace", "Compare", "must"].iter().any(|w| s.contains(w));
            if !upkeep.steps.iter().any(expects) {
                found.push(format!("{}.{}: a test without an expectation", kind.id, upkeep.id));
            }
        }
    }
    assert!(found.is_empty(), "{}\n{}", found.len(), found.join("\n"));
}

#[test]
fn the_style_is_read_as_people_read_it() {
    let step = |text: &str| faults(Place::Step, text);
    assert!(step("Switch way {{ way }} on. Expect 12.8 V.").is_empty());
    assert!(step("If it trips again, leave it off.").is_empty());
    assert_eq!(step("The pump runs."), ["begins with no verb"]);
    assert_eq!(step("Open the tap and then the drain."), ["two actions joined"]);
    assert_eq!(step("Wait 10min."), ["unit without a space"]);
    assert_eq!(step("{% if x %}Wait.{% else %}You should wait.{% endif %}"), ["begins with no verb", "soft words"]);
    assert!(step("{% if x == 'a' %}Wait.{% elif y %}Go.{% endif %}").is_empty());
    assert_eq!(faults(Place::Prose, "WARNING: hot."), ["signal word"]);
    assert_eq!(variants("a{% if x %}b{% if y %}c{% endif %}{% else %}d{% endif %}e"), ["abce", "abe", "ade"]);
    assert_eq!(sentences("Wait 2.5 h. Go on. it"), ["Wait 2.5 h.", "Go on. it"]);
}
