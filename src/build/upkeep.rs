//! Upkeep that the kinds bring, and that of this build alone.

use super::Part;
use crate::diag::{Finding, Sink};
use crate::fields::{Field, Record};
use crate::kinds::{Caution, Condition, Library, OwnUpkeep, Reading, Said, Signal, UpkeepTemplate};
use crate::spec::{Spec, UpkeepSection};
use indexmap::IndexMap;
use serde::Serialize;
use std::borrow::Cow;

/// Stands for the van as a whole where the id of a component does; none has capital letters.
pub const VAN: &str = "VAN";

/// A piece of upkeep of one part.
#[derive(Clone, Debug, Serialize)]
pub struct Upkeep<'k> {
    /// Id: `<component>.<upkeep>`.
    pub id: String,
    /// Part; [`VAN`] for the van as a whole.
    pub part: String,
    /// What the kind or the spec says.
    #[serde(skip)]
    pub template: Cow<'k, UpkeepTemplate>,
}

impl Upkeep<'_> {
    /// Takes its texts from another reading of the spec it stands in.
    pub(super) fn tell_by(&mut self, spec: &Spec) {
        let (key, own) = (self.template.id.clone(), self.template.own.is_some());
        if let Some(record) = spec.upkeep.get(&key).filter(|_| own) {
            self.template = Cow::Owned(self::own(&key, &UpkeepSection::of(record), record, &[]));
        }
    }
}

/// The van as a whole, for what is about no part.
pub(super) fn van(library: &Library) -> Option<Part<'_>> {
    let (kind, record) = library.van()?;
    Some(Part::whole(kind, record, VAN))
}

pub(super) fn upkeep<'k>(
    spec: &Spec,
    parts: &IndexMap<String, Part<'k>>,
    sink: &mut Sink,
) -> IndexMap<String, Upkeep<'k>> {
    let mut all = IndexMap::new();
    for part in parts.values() {
        let applies = |u: &&UpkeepTemplate| Condition::lets(u.when.as_ref(), part.record);
        for template in part.kind.upkeep.iter().filter(applies) {
            let id = format!("{}.{}", part.id, template.id);
            all.insert(id.clone(), Upkeep { id, part: part.id.clone(), template: Cow::Borrowed(template) });
        }
    }
    for (key, record) in &spec.upkeep {
        let section = UpkeepSection::of(record);
        let part = section.component.first().unwrap_or(VAN);
        // The reader reports components that are not there.
        if part != VAN && !parts.contains_key(part) {
            continue;
        }
        let id = format!("{part}.{key}");
        if all.contains_key(&id) {
            let finding =
                Finding::error("upkeep-twice", format!("`{key}`: upkeep of that id comes with {part} already"));
            let finding = finding.about(key).at(record.span, "again");
            sink.push(finding.help("give it another id: what a kind brings stays, and this comes beside it"));
            continue;
        }
        let readings = super::tasks::own_readings(key, record, sink);
        let template = Cow::Owned(own(key, &section, record, &readings));
        all.insert(id.clone(), Upkeep { id, part: part.to_owned(), template });
    }
    all
}

/// Upkeep of the spec in the form of a kind's. Each of its texts is a fact, so that it is printed as it stands.
fn own(key: &str, section: &UpkeepSection, record: &Record, readings: &[Reading]) -> UpkeepTemplate {
    let mut said = Said::under(format!("upkeep_{}", key.replace('-', "_")));
    let text = |field: &Field<crate::fields::Text>| field.text().map(str::to_owned);
    let title = said.fact(section.title.text().unwrap_or(key));
    let mut steps: Vec<String> = section.steps.all().iter().map(|step| said.fact(&step.value)).collect();
    for reading in readings {
        let what = said.fact(reading.what.trim_end_matches('.'));
        // A figure is printed in the units of the build; words are a text like others.
        let expected = if reading.is_in_words() {
            said.fact(&reading.expected())
        } else {
            [reading.expected(), reading.tolerance()].join(" ")
        };
        steps.push(format!("Read and note: {what}. Expect {}.", expected.trim().trim_end_matches('.')));
    }
    steps.extend(section.hold.text().map(|hold| format!("Do not use it again before this is so: {}", said.fact(hold))));
    let cautions = section.cautions.rows().iter().map(|row| {
        let mut text = |field: &str| said.fact(row.text(field).unwrap_or_default());
        let signal = row.text("signal").and_then(Signal::from_id).unwrap_or(Signal::Warning);
        Caution { signal, hazard: text("hazard"), consequence: text("consequence"), avoid: text("avoid") }
    });
    let cautions = cautions.collect();
    UpkeepTemplate {
        procedure: None,
        id: key.to_owned(),
        title,
        every: text(&section.every),
        once: text(&section.once),
        season: section.season.text().map(str::to_owned),
        replace: text(&section.replace),
        distance: text(&section.distance),
        hours: text(&section.hours),
        by: section.by.text().unwrap_or("owner").to_owned(),
        essential: section.essential.is_set(),
        minutes: section.minutes.get().and_then(|n| u32::try_from(n).ok()).unwrap_or_default(),
        steps,
        cautions,
        when: None,
        own: Some(OwnUpkeep {
            place: section.place.first().map(str::to_owned),
            said: said.into_texts(),
            span: record.span,
        }),
    }
}
