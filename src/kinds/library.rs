//! The library of kinds: embedded files, read when asked for.

use super::fault::KindError;
use super::like::Kin;
use super::procedure::Registers;
use super::read::{read, read_alone, read_built_in};
use super::removal::Removal;
use super::shares::Circle;
use super::{Kind, Procedures, States};
use crate::catalogue::{Catalogue, Text};
use crate::fields::{Declarations, FieldDecl, KindFields, Record};
use crate::parallel;
use crate::roles::{Lead, PostGiven};
use crate::source::SourceFile;
use indexmap::{IndexMap, IndexSet};
use std::sync::Arc;

/// The van as a whole. Its id is no id that a file can have.
const VAN: &str = "name = \"Van\"\nsystem = \"body\"\nsummary = \"The van as a whole.\"\nalso = []\nbought = false\n\n[owner]\nwhat = \"The van as a whole.\"\n";

/// Kinds by id.
#[derive(Clone, Debug, Default)]
pub struct Library {
    kinds: IndexMap<String, Kind>,
    /// Ids of all kinds there are, read or not.
    ids: Vec<String>,
    /// Where it was read from.
    catalogue: Option<Catalogue>,
    /// The van as a whole, which upkeep of a spec may be about.
    van: Option<Box<(Kind, Record)>>,
    /// What components are whose kind leaves it to their fields, by their ids.
    variants: IndexMap<String, Kind>,
    /// Kinds of a shop that were asked for and do not hold together.
    pub faults: Vec<KindError>,
    /// What tasks may need and bring.
    pub states: Arc<States>,
    /// What is told once for the van.
    pub procedures: Arc<Procedures>,
    /// How what comes out is taken out.
    pub removal: Arc<Removal>,
}

impl Library {
    /// Ids of all kinds of a catalogue, layer by layer, in each sorted.
    #[must_use]
    pub fn ids(catalogue: &Catalogue) -> Vec<String> {
        ids(&catalogue.folder("kinds", "toml"))
    }

    /// Reads all kinds of a catalogue.
    ///
    /// # Errors
    /// The first file that does not hold together.
    pub fn load(catalogue: &Catalogue) -> Result<Self, KindError> {
        Self::load_where(catalogue, |_| true)
    }

    /// Reads the kinds of a catalogue whose id `wanted` accepts.
    ///
    /// # Errors
    /// The first file that does not hold together.
    pub fn load_where(catalogue: &Catalogue, wanted: impl Fn(&str) -> bool) -> Result<Self, KindError> {
        let kin = Kin::of(catalogue);
        let registers = Registers::of(catalogue)?;
        let mut library = Self {
            ids: ids(&kin.0),
            catalogue: Some(catalogue.clone()),
            states: Arc::clone(&registers.states),
            procedures: Arc::clone(&registers.procedures),
            ..Self::default()
        };
        let files: Vec<&Text<'_>> = kin.0.iter().filter(|file| wanted(file.stem)).collect();
        let kinds = parallel::map(files.len(), |at| match files[at] {
            file if file.layer.is_built_in() => read_built_in(file, &kin, &registers),
            file => read(file, &kin, &registers),
        });
        for (file, kind) in files.into_iter().zip(kinds) {
            match kind {
                // A kind of a shop that is like the built-in one of its name stands in its place.
                Ok(kind) => drop(library.kinds.insert(file.stem.to_owned(), kind)),
                Err(error) if file.layer.is_built_in() => return Err(error),
                Err(error) => library.faults.push(error),
            }
        }
        library.refuse_circles(&kin, &registers)?;
        // A spec that does not have the word takes nothing out.
        if wanted(Removal::WORD) {
            let read = Removal::of(catalogue, &registers.states);
            library.removal = read.map_err(KindError::from)?;
        }
        library.van = Some(Box::new((read_alone("VAN", VAN, &registers)?, Record::default())));
        Ok(library)
    }

    /// Of kinds whose shares in a procedure wait for each other in a circle, one of the shop is refused: it is told where
    /// the shop can mend it.
    fn refuse_circles(&mut self, kin: &Kin<'_>, registers: &Registers) -> Result<(), KindError> {
        while let Some(circle) = Circle::among(&self.kinds.values(), registers) {
            let of_shop = |id: &&String| kin.0.iter().any(|file| file.stem == **id && !file.layer.is_built_in());
            let Some(id) = circle.kinds.iter().rfind(of_shop) else {
                let kind = circle.kinds.first().cloned().unwrap_or_default();
                return Err(KindError { kind, at: None, message: circle.message(), shadows: false });
            };
            let Some(kind) = self.kinds.shift_remove(id) else { break };
            let file = kin.0.iter().rfind(|file| file.stem == *id);
            let at = file.and_then(|file| {
                let byte = circle.at(&kind).at.byte_in(kin.whole(file).ok()?.table.get_ref())?;
                Some(SourceFile::new("", file.text).position(byte))
            });
            self.faults.push(KindError { kind: kind.id, at, message: circle.message(), shadows: false });
        }
        Ok(())
    }

    /// The kind `id`, if it was read.
    #[must_use]
    pub fn get(&self, id: &str) -> Option<&Kind> {
        self.kinds.get(id)
    }

    /// Whether something asked for the kind `id`, whatever became of it.
    #[must_use]
    pub fn is_asked_for(&self, id: &str) -> bool {
        self.get(id).is_some() || self.faults.iter().any(|fault| fault.kind == id)
    }

    /// Makes of the kind `id` what the component `part` with these fields is of it.
    pub fn vary(&mut self, part: &str, id: &str, record: &Record) {
        if let Some(variant) = self.get(id).and_then(|kind| kind.variant(part, record)) {
            self.variants.insert(part.to_owned(), variant);
        }
    }

    /// The kind `id`, if it was read, as the component `part` is one.
    #[must_use]
    pub fn of(&self, part: &str, id: &str) -> Option<&Kind> {
        self.variants.get(part).or_else(|| self.get(id))
    }

    /// The van as a whole as a kind, with the fields it has: none.
    #[must_use]
    pub fn van(&self) -> Option<(&Kind, &Record)> {
        self.van.as_deref().map(|(kind, record)| (kind, record))
    }

    /// All kinds read, in order of id.
    pub fn iter(&self) -> impl Iterator<Item = &Kind> {
        self.kinds.values()
    }

    /// Declarations for the spec reader: the common fields, the circuit fields where the kind has a role, its own.
    /// Kinds that were not read are there by name alone.
    #[must_use]
    pub fn fields(&self, common: &Declarations, supply: &Declarations, output: &Declarations) -> KindFields {
        let each = |of: &str, about: &str, fields| FieldDecl::parts(&format!("{of} {}", about.trim()), fields);
        let lead = each("Each by the id of a conductor.", Lead::CONTRACT.about, Lead::CONTRACT.declarations());
        let post = each("Each by the id of a post.", PostGiven::CONTRACT.about, PostGiven::CONTRACT.declarations());
        let mut kinds = IndexMap::new();
        for id in &self.ids {
            let mut fields = if self.is_asked_for(id) { common.clone() } else { Declarations::new() };
            if let Some(kind) = self.get(id) {
                if let Some(electric) = kind.may_be_electric() {
                    fields.extend(supply.clone());
                    if electric.has_output() {
                        fields.extend(output.clone());
                    }
                }
                fields.extend(kind.fields.clone());
                // The loose lead of a portable array has the name already.
                let is_free = !kind.fields.contains_key(Lead::CONTRACT.id);
                if is_free && (!kind.posts.is_empty() || kind.may_be_electric().is_some()) {
                    fields.insert(Lead::CONTRACT.id.to_owned(), lead.clone());
                }
                if !kind.posts.is_empty() {
                    fields.insert(PostGiven::CONTRACT.id.to_owned(), post.clone());
                }
            }
            kinds.insert(id.to_owned(), fields);
        }
        let unread = self.faults.iter().map(|fault| fault.kind.clone()).collect();
        KindFields { kinds, unread, catalogue: self.catalogue.clone() }
    }
}

/// Ids of files of kinds, each once.
fn ids(files: &[Text<'_>]) -> Vec<String> {
    files.iter().map(|file| file.stem.to_owned()).collect::<IndexSet<_>>().into_iter().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kinds::{Need, State, TaskTemplate};

    #[test]
    fn every_kind_file_holds_together() {
        let catalogue = Catalogue::built_in();
        let registers = Registers::of(&catalogue).expect("the registers");
        let kin = Kin::of(&catalogue);
        let faults: Vec<String> =
            kin.0.iter().filter_map(|kind| read(kind, &kin, &registers).err().map(|e| e.to_string())).collect();
        assert!(faults.is_empty(), "{}", faults.join("\n"));
    }

    /// Every state that is needed is brought by some kind, and were tasks to wait in a circle, no build with both could
    /// be planned.
    #[test]
    fn tasks_wait_for_what_others_bring_and_never_in_a_circle() {
        let library = Library::load(&Catalogue::built_in()).expect("the kinds hold together");
        let states = &library.states;
        let tasks = || library.iter().flat_map(|k| k.tasks.iter().map(move |t| (k, t)));
        let id = |(k, t): (&Kind, &TaskTemplate)| format!("{}.{}", k.id, t.id);
        let mut open: IndexMap<String, Vec<String>> = IndexMap::new();
        for (kind, task) in tasks() {
            let mut after: Vec<String> = Vec::new();
            for need in task.needs.iter().map(|n| Need::read(n)) {
                let state = need.state();
                let bring = tasks().filter(|(k, t)| t.brings(state) && !(k.id == kind.id && t.id == task.id));
                let meant: Vec<String> = match need {
                    Need::Plain(_) if states.is_of_van(state) => bring.map(id).collect(),
                    Need::Plain(_) => bring.filter(|(k, _)| k.id == kind.id).map(id).collect(),
                    Need::Of(Need::PLACE | Need::ON, _) => bring.map(id).collect(),
                    Need::Of(of, _) if kind.fields.get(of).is_some() => bring.map(id).collect(),
                    Need::Of(of, _) => bring.filter(|(k, _)| k.roles.contains(&of)).map(id).collect(),
                };
                assert!(!meant.is_empty(), "{}.{} needs `{state}`, which nobody brings", kind.id, task.id);
                after.extend(meant);
            }
            for first in task.brings.iter().filter_map(|s| states.get(s)).flat_map(State::before) {
                let doing = tasks().filter(|(_, t)| t.brings(first) && !task.brings(first) && t.stage <= task.stage);
                after.extend(doing.map(id));
            }
            open.insert(id((kind, task)), after);
        }
        loop {
            let before = open.len();
            let waiting: Vec<String> = open.keys().cloned().collect();
            open.retain(|_, after| after.iter().any(|a| waiting.contains(a)));
            if open.len() == before {
                break;
            }
        }
        let mut circle: Vec<&String> = Vec::new();
        let mut next = open.keys().next();
        while let Some(id) = next.filter(|id| !circle.contains(id)) {
            circle.push(id);
            next = open[id].iter().find(|after| open.contains_key(*after));
        }
        assert!(open.is_empty(), "these wait for each other, the last for {next:?}: {circle:?}");
    }

    /// No state stands in the register that nobody brings.
    #[test]
    fn every_state_is_brought() {
        let library = Library::load(&Catalogue::built_in()).expect("the kinds hold together");
        let by_task = |state: &str| library.iter().flat_map(|k| &k.tasks).any(|t| t.brings(state));
        let by_share =
            |state: &str| library.iter().flat_map(|k| &k.procedures).flat_map(|s| &s.brings).any(|s| s == state);
        let by_removal = |state: &str| library.removal.all().any(|t| t.brings(state));
        let idle = |state: &str| !by_task(state) && !by_share(state) && !by_removal(state);
        let idle: Vec<&str> = library.states.iter().map(|(name, _)| name).filter(|name| idle(name)).collect();
        assert!(idle.is_empty(), "nobody brings {idle:?}");
    }
}
