//! Sections of a spec as structs, so that what computes with them names no field.
//!
//! Types and meaning are those of `templates/spec/sections.toml`; a test holds the two together.

mod build;
mod channel;
mod climate;
mod place;
mod shell;
mod site;
mod stage;
mod task;
mod times;
mod upkeep;
mod usage;
mod vehicle;
mod weights;

pub use build::BuildSection;
pub use channel::Channel;
pub use climate::Climate;
pub use place::PlaceSection;
pub use shell::Surface;
pub use site::{Certificate, Deviation, Snag};
pub use stage::StageSection;
pub use task::TaskSection;
pub use times::Times;
pub use upkeep::UpkeepSection;
pub use usage::{Goals, Usage};
pub use vehicle::Vehicle;
pub use weights::Weights;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Catalogue;
    use crate::fields::FieldType;
    use crate::spec::Language;

    #[test]
    fn structs_and_declarations_agree() {
        let all = [
            ("build", BuildSection::FIELDS),
            ("vehicle", Vehicle::FIELDS),
            ("use", Usage::FIELDS),
            ("use.goals", Goals::FIELDS),
            ("climate", Climate::FIELDS),
            ("shell", Surface::FIELDS),
            ("place", PlaceSection::FIELDS),
            ("channel", Channel::FIELDS),
            ("stage", StageSection::FIELDS),
            ("recorded.weights", Weights::FIELDS),
            ("times", Times::FIELDS),
            ("task", TaskSection::FIELDS),
            ("upkeep", UpkeepSection::FIELDS),
            ("deviation", Deviation::FIELDS),
            ("snag", Snag::FIELDS),
            ("certificate", Certificate::FIELDS),
        ];
        let language = Language::of(&Catalogue::built_in()).expect("declarations");
        for (section, fields) in all {
            // What a section has several of is of a role.
            let own = language.sections[section].fields.iter().filter(|(_, f)| f.ty != FieldType::Parts);
            let declared: Vec<_> = own.map(|(name, f)| (name.as_str(), f.ty)).collect();
            assert_eq!(declared, fields, "{section}");
        }
    }
}
