//! Tasks of what comes out of the van.

use super::Part;
use super::bringers::{Bringers, applies};
use super::task::{After, Task};
use crate::kinds::{Need, Removal, TaskTemplate};
use indexmap::IndexMap;

/// What comes out, and how.
pub(super) struct Leaving<'p, 'k> {
    /// Parts by id.
    pub(super) parts: &'p IndexMap<String, Part<'k>>,
    /// Tasks by what a part plays.
    pub(super) removal: &'k Removal,
}

impl<'k> Leaving<'_, 'k> {
    /// Adds the tasks of all that comes out.
    pub(super) fn tasks(&self, bringers: &mut Bringers<'_, 'k>, tasks: &mut IndexMap<String, Task<'k>>) {
        for part in self.parts.values() {
            let own: Vec<&TaskTemplate> =
                self.removal.tasks(part.kind, part.record).filter(|t| applies(t, part, bringers.states)).collect();
            for template in &own {
                let id = format!("{}.{}", part.id, template.id);
                let mut after = After::default();
                let mut waits = Vec::new();
                for need in &template.needs {
                    let bring = own.iter().filter(|other| other.brings(need));
                    after.single.extend(bring.map(|other| format!("{}.{}", part.id, other.id)));
                    if bringers.states.is_of_van(need) {
                        waits.extend(bringers.needed(part, Need::read(need)).1);
                    }
                }
                after.wait(&id, waits);
                tasks.insert(id.clone(), Task::of_part(part, template, id, (after, bringers.states)));
            }
        }
    }
}
