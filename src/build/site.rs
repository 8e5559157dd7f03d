//! What happened on site: work done otherwise than the spec says, what is still to be put right, papers of those who
//! tested.

use super::{Build, Conductor};
use crate::papers::{Paper, Unread};
use crate::spec::{Certificate, Deviation, Snag, Spec};

/// The lists of a spec.
#[derive(Clone, Debug, Default)]
pub struct Site {
    /// `[[deviation]]`.
    pub deviations: Vec<Deviation>,
    /// `[[snag]]`.
    pub snags: Vec<Snag>,
    /// `[[certificate]]`.
    pub certificates: Vec<Certificate>,
}

impl Build<'_> {
    /// What was found of the file of a certificate; `None` where it names none or nobody looked for it.
    #[must_use]
    pub fn paper(&self, certificate: &Certificate) -> Option<&Result<Paper, Unread>> {
        self.spec.papers.get(certificate.file.text()?)
    }

    /// The certificates whose file somebody looked for, each with what was found.
    pub fn papers(&self) -> impl Iterator<Item = (&Certificate, &Result<Paper, Unread>)> {
        self.site.certificates.iter().filter_map(|c| Some((c, self.paper(c)?)))
    }
}

impl Site {
    pub(super) fn of(spec: &Spec) -> Self {
        Self {
            deviations: spec.deviations.iter().map(Deviation::of).collect(),
            snags: spec.snags.iter().map(Snag::of).collect(),
            certificates: spec.certificates.iter().map(Certificate::of).collect(),
        }
    }

    /// What was done otherwise in a task.
    pub fn of_task<'s>(&'s self, task: &str) -> impl Iterator<Item = &'s Deviation> {
        self.deviations.iter().filter(move |d| d.task.text() == Some(task))
    }

    /// Whether an opening for a part was made otherwise.
    #[must_use]
    pub fn has_opening(&self, part: &str) -> bool {
        self.deviations.iter().any(|d| d.opening.all().iter().any(|id| id.value == part))
    }

    /// Whether a conductor was laid otherwise: it itself, or its circuit as a whole.
    #[must_use]
    pub fn has_conductor(&self, conductor: &Conductor) -> bool {
        let is_own = |label: &str| label == conductor.id || conductor.circuit.as_deref() == Some(label);
        self.deviations.iter().any(|d| d.conductor.text().is_some_and(is_own))
    }
}

impl Build<'_> {
    /// Labels under which lists have a conductor that was laid otherwise: its own, and that of its circuit.
    #[must_use]
    pub fn laid_otherwise(&self) -> Vec<&str> {
        if self.site.deviations.is_empty() {
            return Vec::new();
        }
        let otherwise = self.wiring.conductors.values().filter(|c| self.site.has_conductor(c));
        otherwise.flat_map(|c| [Some(c.id.as_str()), c.circuit.as_deref()]).flatten().collect()
    }
}
