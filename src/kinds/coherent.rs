//! What must hold within one kind: ids once, names that lead to a field of its own, texts that name known things.

use super::facts::FACTS;
use super::read::Fault;
use super::template::{Caution, Kind, TaskTemplate, Trouble, UpkeepTemplate};
use crate::fields::FieldType;
use crate::units::Dimension;

/// The first thing that does not hold.
///
/// # Errors
/// What, and where.
pub(super) fn coherent(kind: &Kind) -> Result<(), Fault> {
    for (place, task) in kind.tasks.iter().enumerate() {
        tasks(kind, place, task)?;
    }
    for (place, item) in kind.upkeep.iter().enumerate() {
        upkeep(kind, place, item)?;
    }
    named_fields(kind)?;
    let own = |name: &str| kind.fields.contains_key(name) || FACTS.contains(&name);
    for (path, text) in texts(kind) {
        if let Some(unknown) = asked(text).into_iter().find(|name| !own(name)) {
            let path: Vec<&str> = path.iter().map(String::as_str).collect();
            let known = kind.fields.keys().map(String::as_str).chain(FACTS.iter().copied());
            let near = super::nearest(unknown, known);
            let near = near.map_or_else(String::new, |near| format!("; perhaps `{near}`"));
            let message = format!("a text names `{unknown}`, which is no field of this kind and no fact{near}");
            return Err(Fault::at(&path, message));
        }
    }
    Ok(())
}

fn tasks(kind: &Kind, place: usize, task: &TaskTemplate) -> Result<(), Fault> {
    let at = |key: &str, message| Err(Fault::at(&["task", &place.to_string(), key], message));
    if kind.tasks[..place].iter().any(|t| t.id == task.id) {
        return at("id", format!("task `{}` stands twice", task.id));
    }
    // Those of other kinds, `<kind>.<task>`, are looked at when all kinds are there.
    let own = |a: &&String| !a.contains('.');
    if let Some(unknown) = task.after.iter().filter(own).find(|a| !kind.tasks.iter().any(|t| &t.id == *a)) {
        return at("after", format!("task `{}` comes after unknown task `{unknown}`", task.id));
    }
    if let Some(fault) = task.when.as_ref().and_then(|c| c.fault(&kind.fields)) {
        return at("when", fault);
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
        let message = match kind.fields.get(field) {
            Some(there) if there.ty == wanted => continue,
            Some(there) => format!("`{key}` needs a field that is {}; `{field}` is {}", wanted.word(), there.ty.word()),
            None => format!("`{key}` names `{field}`, which is no field of this kind"),
        };
        return Err(Fault::at(&["role", role, key], message));
    }
    for (place, terminal) in kind.terminals.iter().enumerate() {
        if let Some(field) = terminal.thread_from.as_ref().filter(|f| !kind.fields.contains_key(*f)) {
            let message = format!("`thread_from` names `{field}`, which is no field of this kind");
            return Err(Fault::at(&["terminal", &place.to_string(), "thread_from"], message));
        }
    }
    Ok(())
}

/// All texts of a kind that may name fields and facts, with their places.
fn texts(kind: &Kind) -> Vec<(Vec<String>, &str)> {
    let mut all = Texts { path: Vec::new(), found: Vec::new() };
    for (place, task) in kind.tasks.iter().enumerate() {
        all.path = vec!["task".to_owned(), place.to_string()];
        all.one("title", &task.title);
        all.list("tools", &task.tools);
        all.cautions(&task.cautions);
        all.each("cut_outs", task.cut_outs.iter().flat_map(|c| [c.what.as_str(), &c.size]));
        all.list("steps", &task.steps);
        all.each("torque", task.torque.iter().flat_map(super::Torque::texts));
        all.each("hold", task.hold.iter().map(String::as_str));
        all.each("readings", task.readings.iter().flat_map(|r| [r.what.as_str(), &r.expect, &r.tolerance]));
    }
    for (place, item) in kind.upkeep.iter().enumerate() {
        all.path = vec!["upkeep".to_owned(), place.to_string()];
        all.one("title", &item.title);
        all.list("steps", &item.steps);
        all.cautions(&item.cautions);
        let times = [&item.every, &item.once, &item.replace, &item.distance, &item.hours];
        all.each("every", times.into_iter().flatten().map(String::as_str));
    }
    all.path = vec!["owner".to_owned()];
    all.one("what", &kind.owner.what);
    all.list("show", &kind.owner.show);
    all.cautions(&kind.owner.cautions);
    all.list("use", &kind.owner.usage);
    all.list("normal", &kind.owner.normal);
    all.list("limits", &kind.owner.limits);
    all.each("trouble", kind.owner.trouble.iter().flat_map(troubled));
    all.each("emergency", kind.owner.emergency.iter().flat_map(troubled));
    all.found
}

fn troubled(trouble: &Trouble) -> impl Iterator<Item = &str> {
    std::iter::once(trouble.symptom.as_str()).chain(trouble.actions.iter().map(String::as_str))
}

struct Texts<'k> {
    path: Vec<String>,
    found: Vec<(Vec<String>, &'k str)>,
}

impl<'k> Texts<'k> {
    fn one(&mut self, key: &str, text: &'k str) {
        // Most texts name nothing.
        if text.contains('{') {
            let path = self.path.iter().map(String::as_str).chain([key]).map(str::to_owned).collect();
            self.found.push((path, text));
        }
    }

    fn each(&mut self, key: &str, texts: impl Iterator<Item = &'k str>) {
        texts.for_each(|text| self.one(key, text));
    }

    fn list(&mut self, key: &str, texts: &'k [String]) {
        self.each(key, texts.iter().map(String::as_str));
    }

    fn cautions(&mut self, cautions: &'k [Caution]) {
        self.each("cautions", cautions.iter().flat_map(|c| [c.hazard.as_str(), &c.consequence, &c.avoid]));
    }
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
        assert_eq!(names("Read {{ volts_at_load }} at {{ place }}."), ["volts_at_load", "place"]);
        assert_eq!(
            names("{% if fuel == 'lpg' and not heated %}{{ draw | upper }}{% endif %}"),
            ["fuel", "heated", "draw"]
        );
        assert_eq!(names("{% if gas is containing(pat='but') %}x{% endif %}"), ["gas"]);
        assert_eq!(names("{% if gas is not containing(pat=\"a b\") or ways >= 2 %}x{% endif %}"), ["gas", "ways"]);
        assert!(names("Braces { } and 5 % stay.").is_empty());
    }
}
