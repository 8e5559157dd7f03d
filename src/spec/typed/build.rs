//! `[build]`: which build it is, and how its documents are printed.

use crate::fields::{Choice, Prose, Text, typed};
use crate::units::Metres;
use jiff::civil::Date;

typed! {
    /// `[build]`: which build it is, and how its documents are printed.
    BuildSection = "build" {
        /// How people call the build.
        title: Text;
        /// Number of the build in the shop.
        number: Text;
        /// Revision of this spec, raised with every release. Left out, documents say that they have none.
        revision: Text;
        /// Who builds.
        shop: Text;
        /// Who owns the van.
        owner: Text;
        /// Day of the handover. Maintenance dates count from it.
        handover: Date;
        /// Units the documents print.
        prints: Choice;
        /// Public rules that apply; they also set the AC voltage.
        rules: Choice;
        /// Paper the documents are laid out for. Left out: letter under US rules, a4 under EU rules.
        paper: Choice;
        /// A build begins with an empty vehicle, a refit with one that was fitted out before. Left out: build.
        job: Choice;
        /// What handover asks for: all that the packets record, or what safety, law and warranty ask for.
        handover_set: Choice;
        /// Length added to the route of each cable, both ends together: strip, second crimp, dressing. Left out: 0.3 m, or 1 ft.
        slack: Metres;
        /// Note printed on the cover.
        note: Prose;
    }
}
