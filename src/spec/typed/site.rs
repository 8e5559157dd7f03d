//! What happens on site: work done otherwise, what is still to be put right, papers of those who tested.

use crate::fields::{Choice, Component, Place, Text, typed};
use jiff::civil::Date;

typed! {
    /// `[[deviation]]`: what was done otherwise than the spec says.
    Deviation = "deviation" {
        /// Conductor or circuit that it is of, by its label.
        conductor: Text;
        /// Component for whose opening it is.
        opening: Component;
        /// Task that it is of.
        task: Text;
        /// What was done.
        done: Text;
        /// Why.
        why: Text;
        /// Who agreed.
        agreed: Text;
        /// When.
        date: Date;
    }
}

typed! {
    /// `[[snag]]`: what is still to be put right.
    Snag = "snag" {
        /// What is wrong.
        what: Text;
        /// Component that it is of.
        component: Component;
        /// Where, if it is of none.
        place: Place;
        /// Who puts it right.
        owner: Text;
        /// Day it was found.
        found: Date;
        /// Day by which it is put right.
        due: Date;
        /// Day it was put right.
        done: Date;
        /// Who looked at it then.
        by: Text;
    }
}

typed! {
    /// `[[certificate]]`: the paper of one who tested.
    Certificate = "certificate" {
        /// What was tested.
        of: Choice;
        /// Component that it is of; left out, what of the van it is about.
        component: Component;
        /// Its number.
        number: Text;
        /// Day of the test.
        date: Date;
        /// Who tested and signed.
        by: Text;
        /// Last day it holds.
        until: Date;
        /// File beside the spec.
        file: Text;
        /// SHA-256 of that file, 64 hexadecimal digits.
        digest: Text;
    }
}
