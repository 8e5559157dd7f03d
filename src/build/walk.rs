//! Walks along the circuits of a build: up from a part to what feeds it, or down to what it feeds.
//!
//! Each part is left once, so a walk ends however the circuits run, and no count stops it before.

use super::{Build, Circuit, Part};
use std::collections::{BTreeSet, VecDeque};

/// Which circuits of a walk something holds for.
type Holds<'w> = Box<dyn Fn(&Circuit) -> bool + 'w>;

/// A walk, as an iterator over its circuits, nearest first, each once.
pub struct Walk<'w, 'a, 'k> {
    build: &'a Build<'k>,
    start: &'w str,
    up: bool,
    along: Holds<'w>,
    until: Holds<'w>,
    single: bool,
    /// Parts that are still to be left.
    open: VecDeque<&'w str>,
    reached: BTreeSet<&'w str>,
    /// Circuits of the part that was left last.
    next: VecDeque<&'a Circuit>,
}

impl<'k> Build<'k> {
    /// The walk up from `part` along the circuits that arrive.
    #[must_use]
    pub fn upstream<'w, 'a: 'w>(&'a self, part: &'w str) -> Walk<'w, 'a, 'k> {
        Walk::from(self, part, true)
    }

    /// The walk down from `part` along the circuits that leave.
    #[must_use]
    pub fn downstream<'w, 'a: 'w>(&'a self, part: &'w str) -> Walk<'w, 'a, 'k> {
        Walk::from(self, part, false)
    }
}

impl<'w, 'a: 'w, 'k> Walk<'w, 'a, 'k> {
    fn from(build: &'a Build<'k>, start: &'w str, up: bool) -> Self {
        Self {
            build,
            start,
            up,
            along: Box::new(|_| true),
            until: Box::new(|_| false),
            single: false,
            open: VecDeque::from([start]),
            reached: BTreeSet::from([start]),
            next: VecDeque::new(),
        }
    }

    /// Only along circuits for which `along` holds.
    #[must_use]
    pub fn along(mut self, along: impl Fn(&Circuit) -> bool + 'w) -> Self {
        self.along = Box::new(along);
        self
    }

    /// Not beyond circuits for which `until` holds; these are still told.
    #[must_use]
    pub fn until(mut self, until: impl Fn(&Circuit) -> bool + 'w) -> Self {
        self.until = Box::new(until);
        self
    }

    /// At each part along its first circuit alone.
    #[must_use]
    pub fn single(mut self) -> Self {
        self.single = true;
        self
    }

    /// The end of a circuit that this walk comes to by it.
    fn end(&self, circuit: &'a Circuit) -> &'a str {
        if self.up { &circuit.from } else { &circuit.to }
    }

    /// The parts that are come to, nearest first, each once with the first circuit that leads to it; not the first part.
    pub fn reached(mut self) -> impl Iterator<Item = (&'a Part<'k>, &'a Circuit)> {
        let mut seen = BTreeSet::from([self.start]);
        std::iter::from_fn(move || {
            loop {
                let circuit = self.next()?;
                let end = self.end(circuit);
                if let Some(part) = self.build.parts.get(end).filter(|_| seen.insert(end)) {
                    return Some((part, circuit));
                }
            }
        })
    }

    /// The parts that are come to, nearest first, each once; not the first part.
    pub fn parts(self) -> impl Iterator<Item = &'a Part<'k>> {
        self.reached().map(|(part, _)| part)
    }
}

impl<'w, 'a: 'w> Iterator for Walk<'w, 'a, '_> {
    type Item = &'a Circuit;

    fn next(&mut self) -> Option<&'a Circuit> {
        loop {
            if let Some(circuit) = self.next.pop_front() {
                let end = self.end(circuit);
                if !(self.until)(circuit) && self.reached.insert(end) {
                    self.open.push_back(end);
                }
                return Some(circuit);
            }
            let part = self.open.pop_front()?;
            let most = if self.single { 1 } else { usize::MAX };
            let along = |c: &&Circuit| (self.along)(c);
            if self.up {
                self.next.extend(self.build.arriving(part).filter(along).take(most));
            } else {
                self.next.extend(self.build.leaving(part).filter(along).take(most));
            }
        }
    }
}
