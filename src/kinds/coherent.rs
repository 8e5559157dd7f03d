//! What must hold within one kind: ids once, names that lead to a field of its own, texts that name known things.

use super::facts::FACTS;
use super::fault::{Fault, Wrong, misnamed};
use super::post::{Post, endless};
use super::proof::{DEAD_TESTS, INSPECTION, Proof, Proving};
use super::state::{Need, States};
use super::template::{Kind, TaskTemplate, UpkeepTemplate};
use super::{Signer, Stage};
use crate::fields::FieldType;
use crate::roles::{Block, Common, Supply};
use crate::source::Span;
use crate::units::Dimension;

/// The first thing that does not hold.
///
/// # Errors
/// What, and where.
pub(super) fn coherent(kind: &Kind, texts: &[(Span, String)], states: &States) -> Result<(), Fault> {
    for (place, task) in kind.tasks.iter().enumerate() {
        tasks(kind, place, task, states)?;
    }
    for (place, item) in kind.upkeep.iter().enumerate() {
        upkeep(kind, place, item)?;
    }
    named_fields(kind)?;
    let own = |name: &str| kind.fields.contains_key(name) || FACTS.contains(&name);
    let known = || kind.fields.keys().map(String::as_str).chain(FACTS.iter().copied());
    for (place, figure) in kind.owner.figures.iter().enumerate() {
        if !own(&figure.of) {
            let near = super::perhaps(&figure.of, known());
            let message = format!("`{}` is no field of this kind and no fact{near}", figure.of);
            return Err(Fault::at(&["owner", "figures", &place.to_string(), "of"], message));
        }
    }
    for (span, text) in texts {
        if let Some(unknown) = asked(text).into_iter().find(|name| !own(name)) {
            let near = super::perhaps(unknown, known());
            let message = format!("a text names `{unknown}`, which is no field of this kind and no fact{near}");
            return Err(Fault::of_text(*span, message));
        }
    }
    wiring(kind)
}

fn tasks(kind: &Kind, place: usize, task: &TaskTemplate, states: &States) -> Result<(), Fault> {
    let at = |key: &str, message| Err(Fault::at(&["task", &place.to_string(), key], message));
    if kind.tasks[..place].iter().any(|t| t.id == task.id) {
        return at("id", format!("task `{}` stands twice", task.id));
    }
    let unknown = |state: &str| unknown_state(states, state);
    if let Some(state) = task.brings.iter().find(|s| states.get(s).is_none()) {
        return at("brings", unknown(state));
    }
    for need in &task.needs {
        let read = Need::read(need);
        if states.get(read.state()).is_none() {
            return at("needs", unknown(read.state()));
        }
        match read {
            Need::Plain(state) if !states.is_of_van(state) => {
                let brought = kind.tasks.iter().any(|t| t.id != task.id && t.brings(state));
                if !brought {
                    return at("needs", format!("no other task of this kind brings `{state}`"));
                }
            }
            Need::Plain(_) => {}
            Need::Of(of, state) => {
                if let Some(message) = addressed(kind, states, of, state) {
                    return at("needs", message);
                }
            }
        }
    }
    if let Some(fault) = task.when.as_ref().and_then(|c| c.fault(&kind.fields)) {
        return at("when", fault);
    }
    if let Some(fault) = task.takes.iter().filter_map(|taken| taken.when.as_ref()).find_map(|c| c.fault(&kind.fields)) {
        return at("takes", fault);
    }
    let names_parts = |field: &str| kind.fields.get(field).is_some_and(|f| f.ty == FieldType::Components);
    let mut beyond = task.takes.iter().filter_map(|taken| taken.beyond_one.as_ref());
    if let Some(field) = beyond.find(|field| !names_parts(field.as_str())) {
        return at("takes", format!("`{field}` is no field of this kind that names components"));
    }
    if let Some(fault) = task.cut_outs.iter().filter_map(|cut| cut.when.as_ref()).find_map(|c| c.fault(&kind.fields)) {
        return at("cut_outs", fault);
    }
    let choice = |field: &&String| kind.fields.get(field.as_str()).is_some_and(|f| f.ty == FieldType::Choice);
    if let Some(field) = task.cut_outs.iter().filter_map(|cut| cut.side_from.as_ref()).find(|field| !choice(field)) {
        return at("cut_outs", format!("`{field}` is no choice field of this kind"));
    }
    // What every component can say, such as where it is switched.
    let common = |field: &str| Common::CONTRACT.field(field).is_some_and(|f| f.ty == FieldType::Place);
    let of = |field: &str, ty: FieldType| {
        kind.fields.get(field).is_some_and(|f| f.ty == ty) || ty == FieldType::Place && common(field)
    };
    let named = task.cut_outs.iter().flat_map(|cut| {
        let each = cut.each.iter().map(|field| (field, FieldType::Count, "count"));
        each.chain(cut.place_from.iter().map(|field| (field, FieldType::Place, "place")))
    });
    for (field, ty, word) in named {
        if !of(field, ty) {
            return at("cut_outs", format!("`{field}` is no {word} field of this kind"));
        }
    }
    if let Some(fault) = task.cures.as_ref().and_then(|c| c.fault(&kind.fields)) {
        return at("cures", fault);
    }
    if task.signs != Signer::Technician && task.hold.is_none() {
        return at("signs", "`signs` needs a `hold` that is signed".to_owned());
    }
    if let Some(latest) = task.latest {
        slips(kind, task, latest, states).map_or_else(|| Ok(()), |message| at("latest", message))?;
    }
    if let Some((key, message)) = unproved(kind, task, states) {
        return at(key, message);
    }
    readings(kind, place, task)
}

/// A name that is no state.
pub(super) fn unknown_state(states: &States, state: &str) -> String {
    let near = super::perhaps(state, states.iter().map(|(name, _)| name));
    format!("`{state}` is no state of the register{near}")
}

/// What is wrong with the address `of.state`, whose state is one.
pub(super) fn addressed(kind: &Kind, states: &States, of: &str, state: &str) -> Option<String> {
    let names = |ty| matches!(ty, FieldType::Component | FieldType::Components);
    let of_all = || [&Supply::CONTRACT, &Common::CONTRACT].iter().any(|r| r.field(of).is_some_and(|f| names(f.ty)));
    let of_field = kind.fields.get(of).map_or_else(of_all, |f| names(f.ty));
    if of != Need::PLACE && !of_field && crate::roles::contract(of).is_none() {
        return Some(format!("`{of}.{state}`: `{of}` is no role and no field that names a component"));
    }
    states.is_of_van(state).then(|| format!("`{of}.{state}`: `{state}` is a state of the van; leave `{of}.` out"))
}

/// What keeps a task from slipping to a stage: its own, and the tasks of the kind that wait for it.
fn slips(kind: &Kind, task: &TaskTemplate, latest: Stage, states: &States) -> Option<String> {
    if latest <= task.stage {
        let (own, last) = (task.stage.id(), latest.id());
        return Some(format!("`latest` is a stage after that of the task, `{own}`; `{last}` is none"));
    }
    let brings = |need: &String| !states.is_of_van(need) && task.brings(need);
    let waits = |t: &&TaskTemplate| t.id != task.id && t.needs.iter().any(brings);
    let sooner = kind.tasks.iter().filter(waits).find(|t| t.latest.unwrap_or(t.stage) < latest)?;
    Some(format!(
        "task `{}` waits for this one and comes by the stage `{}`: this one can't slip to `{}`",
        sooner.id,
        sooner.latest.unwrap_or(sooner.stage).id(),
        latest.id()
    ))
}

/// What is wrong with the proof of a task: the key, and what.
fn unproved(kind: &Kind, task: &TaskTemplate, states: &States) -> Option<Wrong> {
    if task.hold.is_none() {
        let unheld = |key| Some((key, format!("`{key}` needs a `hold`, for which it is said")));
        return match (&task.proof, task.essential) {
            (Proof::Own, true) => None,
            (Proof::Own, false) => unheld("essential"),
            _ => unheld("proof"),
        };
    }
    match &task.proof {
        Proof::Inspection => None,
        Proof::Own if !task.readings.is_empty() => None,
        Proof::Of(list) if !list.is_empty() => {
            list.iter().find_map(|entry| unproving(kind, entry, states)).map(|message| ("proof", message))
        }
        Proof::Own | Proof::Of(_) => Some((
            "hold",
            format!(
                "nothing proves the hold point of task `{}`: it needs readings, a list in `proof`, or `proof = \"{INSPECTION}\"` where its sentence says what is looked at",
                task.id
            ),
        )),
    }
}

/// What is wrong with an entry of `proof`.
fn unproving(kind: &Kind, entry: &str, states: &States) -> Option<String> {
    let Proving::State(need) = kind.proving(entry) else { return None };
    if states.get(need.state()).is_none() {
        let readings = kind.tasks.iter().flat_map(|t| &t.readings).map(|r| r.id.as_str());
        let near = super::perhaps(entry, readings.chain([DEAD_TESTS]));
        return Some(if near.is_empty() {
            unknown_state(states, need.state())
        } else {
            format!("`{entry}` is no reading of this kind and no state of the register{near}")
        });
    }
    match need {
        Need::Of(of, state) => addressed(kind, states, of, state),
        Need::Plain(state) if states.is_of_van(state) || kind.tasks.iter().any(|t| t.brings(state)) => None,
        Need::Plain(state) => Some(format!("no task of this kind brings `{state}`")),
    }
}

fn readings(kind: &Kind, place: usize, task: &TaskTemplate) -> Result<(), Fault> {
    for (number, reading) in task.readings.iter().enumerate() {
        let at = |key: &str, message| {
            Err(Fault::at(&["task", &place.to_string(), "readings", &number.to_string(), key], message))
        };
        if let Some((key, message)) = reading.fault(&kind.fields, &task.readings) {
            return at(key, message);
        }
        let same = kind.tasks[..place].iter().flat_map(|t| &t.readings).chain(&task.readings[..number]);
        if same.filter(|other| other.id == reading.id).any(|other| !reading.excludes(other)) {
            return at("id", format!("reading `{}` stands twice, and nothing in `when` keeps them apart", reading.id));
        }
    }
    Ok(())
}

fn upkeep(kind: &Kind, place: usize, item: &UpkeepTemplate) -> Result<(), Fault> {
    let at = |key: &str, message| Err(Fault::at(&["upkeep", &place.to_string(), key], message));
    if kind.upkeep[..place].iter().any(|u| u.id == item.id) {
        return at("id", format!("upkeep `{}` stands twice", item.id));
    }
    if let Some(fault) = item.when.as_ref().and_then(|c| c.fault(&kind.fields)) {
        return at("when", fault);
    }
    let given = [&item.every, &item.once, &item.season, &item.replace].into_iter().flatten().count();
    if given > 1 || given == 0 && item.distance.is_none() && item.hours.is_none() {
        return at("id", format!("upkeep `{}` needs one of every, once, season, replace", item.id));
    }
    Ok(())
}

/// Settings that name a field of the kind: it must be there, and measure what is meant.
fn named_fields(kind: &Kind) -> Result<(), Fault> {
    const LENGTH: FieldType = FieldType::Quantity(Dimension::Length);
    const MASS: FieldType = FieldType::Quantity(Dimension::Mass);
    const VOLUME: FieldType = FieldType::Quantity(Dimension::Volume);
    let mut named: Vec<(&str, &str, &str, FieldType)> = Vec::new();
    if let Some(load) = &kind.load {
        named.extend(load.own.iter().map(|f| ("mass", "own", f.as_str(), MASS)));
        for held in &load.holds {
            named.extend(held.mass.iter().map(|f| ("mass", "holds", f.as_str(), MASS)));
            named.extend(held.volume.iter().map(|f| ("mass", "holds", f.as_str(), VOLUME)));
            named.extend(held.times.iter().map(|f| ("mass", "holds", f.as_str(), FieldType::Count)));
        }
        if let Some(rating) = &load.rating {
            named.push(("mass", "rating", &rating.limit, MASS));
            named.extend(rating.parked.iter().map(|f| ("mass", "rating", f.as_str(), MASS)));
        }
        named.extend(load.contents.iter().map(|f| ("mass", "contents", f.as_str(), FieldType::Text)));
        named.extend(load.held_by.iter().map(|h| ("mass", "held_by", h.field.as_str(), FieldType::Choice)));
        let roof = load.on_roof.iter().filter_map(|r| r.field.as_deref());
        named.extend(roof.map(|f| ("mass", "on_roof", f, FieldType::Choice)));
    }
    if let Some(envelope) = &kind.envelope {
        for (key, field) in envelope.lengths() {
            named.push(("envelope", key, field, LENGTH));
        }
        if let Some(sweep) = &envelope.opens {
            named.push(("envelope", "opens", &sweep.by, LENGTH));
            named.extend(sweep.direction.iter().map(|f| ("envelope", "opens", f.as_str(), FieldType::Choice)));
        }
        let bars = envelope.bars.iter().filter_map(|b| b.field.as_deref());
        named.extend(bars.map(|f| ("envelope", "bars", f, FieldType::Choice)));
    }
    if let Some(evidence) = &kind.evidence {
        named.push(("evidence", "field", &evidence.field, FieldType::Text));
    }
    if let Some(safety) = &kind.safety {
        named.extend(safety.sleeps.iter().map(|f| ("sleeping", "sleeps", f.as_str(), FieldType::Count)));
        named.extend(safety.bedding.iter().map(|f| ("sleeping", "bedding", f.as_str(), MASS)));
    }
    for (role, key, field, wanted) in named {
        if let Some(message) = misnamed(&kind.fields, key, field, &[wanted]) {
            return Err(Fault::at(&["role", role, key], message));
        }
    }
    Ok(())
}

/// Posts and leads.
fn wiring(kind: &Kind) -> Result<(), Fault> {
    if let Some(message) = kind.electric.and_then(|electric| endless(electric, &kind.posts)) {
        // Where there are none at all, the role asks for them.
        let is_electric = |id: &&&str| crate::roles::contract(id).is_some_and(|c| c.block == Block::Electric);
        let role = kind.roles.iter().find(is_electric).filter(|_| kind.posts.is_empty());
        return Err(role.map_or_else(
            || Fault::at(&["posts"], message.clone()),
            |role| Fault::at(&["role", role], message.clone()),
        ));
    }
    let brought = |state: &str| kind.tasks.iter().any(|task| task.brings(state));
    let wrong = |post: &Post| post.fault(&kind.fields).or_else(|| post.unfitted(brought));
    let posts = kind.posts.iter().map(|post| (post.id.as_str(), wrong(post)));
    each("posts", "post", posts)?;
    let leads = kind.leads.iter().map(|lead| (lead.id.as_str(), lead.fault(&kind.fields, &kind.posts)));
    each("leads", "lead", leads)
}

/// The entries of a list by their ids, which stand once, with what is wrong with each.
fn each<'k>(list: &str, word: &str, entries: impl Iterator<Item = (&'k str, Option<Wrong>)>) -> Result<(), Fault> {
    let mut seen = Vec::new();
    for (place, (id, wrong)) in entries.enumerate() {
        let twice = seen.contains(&id).then(|| ("id", format!("{word} `{id}` stands twice")));
        if let Some((key, message)) = twice.or(wrong) {
            return Err(Fault::at(&[list, &place.to_string(), key], message));
        }
        seen.push(id);
    }
    Ok(())
}

/// Names that the tags of a text ask for: what is no word of the template language, no text in quotes, no filter and
/// no name of an argument.
fn asked(text: &str) -> Vec<&str> {
    const WORDS: &[&str] =
        &["if", "elif", "else", "endif", "and", "or", "not", "is", "in", "true", "false", "defined", "containing"];
    let mut names = Vec::new();
    let mut rest = text;
    while let Some(at) = rest.find(['{']) {
        rest = &rest[at + 1..];
        if !rest.starts_with(['{', '%']) {
            continue;
        }
        let end = rest.find(['}']).unwrap_or(rest.len());
        let tag = &rest[1..end];
        rest = &rest[end..];
        let mut quote = None;
        let mut start = None;
        // What stands before a word: a filter (`|`) and a test (`is`) are no names.
        let mut before = ' ';
        let mut last = "";
        for (place, c) in tag.char_indices().chain([(tag.len(), ' ')]) {
            if let Some(open) = quote {
                if c == open {
                    quote = None;
                }
                continue;
            }
            let of_word = c.is_alphanumeric() || c == '_';
            if of_word {
                start.get_or_insert(place);
            } else if let Some(from) = start.take() {
                let word = &tag[from..place];
                let rest = tag[place..].trim_start();
                let argument = rest.starts_with('=') && !rest.starts_with("==");
                let tested = last == "is" || last == "not" && before == 'i';
                let number = word.starts_with(|c: char| c.is_ascii_digit());
                if !WORDS.contains(&word) && before != '|' && !tested && !argument && !number {
                    names.push(word);
                }
                before = if last == "is" && word == "not" { 'i' } else { ' ' };
                last = word;
            }
            match c {
                '"' | '\'' => quote = Some(c),
                '|' => before = '|',
                _ => {}
            }
        }
    }
    names
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_in_tags_are_found_and_nothing_else() {
        let names = |text| asked(text);
        assert_eq!(names("Read {{ drop_most }} at {{ place }}."), ["drop_most", "place"]);
        assert_eq!(
            names("{% if fuel == 'lpg' and not heated %}{{ draw | upper }}{% endif %}"),
            ["fuel", "heated", "draw"]
        );
        assert_eq!(names("{% if gas is containing(pat='but') %}x{% endif %}"), ["gas"]);
        assert_eq!(names("{% if gas is not containing(pat=\"a b\") or ways >= 2 %}x{% endif %}"), ["gas", "ways"]);
        assert!(names("Braces { } and 5 % stay.").is_empty());
    }
}
