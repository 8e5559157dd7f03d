//! `[task.<id>]`: a task of this build alone.

use crate::fields::{Cautions, Choice, Component, Place, Readings, Text, Texts, typed};

typed! {
    /// `[task.<id>]`: a task of this build alone.
    TaskSection = "task" {
        /// Stage it belongs to.
        stage: Choice;
        /// What is done, beginning with a verb.
        title: Text;
        /// Working time of the whole task.
        minutes: i64;
        /// People it needs.
        people: i64;
        /// What must be so before: a state of the van or of a component, or a task.
        needs: Texts;
        /// What is so when it is done.
        brings: Texts;
        /// Tools it needs.
        tools: Texts;
        /// Its steps in order, one action each.
        steps: Texts;
        /// What must be checked and signed before work goes on.
        hold: Text;
        /// What can hurt someone and how to avoid it; it is printed before the steps.
        caution: Text;
        /// Component it is about.
        component: Component;
        /// Where it is done, where that is not the place of its component.
        place: Place;
        /// Safety messages, printed before the steps.
        cautions: Cautions;
        /// Readings it takes.
        readings: Readings;
    }
}
