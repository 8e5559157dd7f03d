//! Where conductors end on a part: `[[terminal]]` of a kind.

use super::Network;
use serde::{Deserialize, Serialize};

/// How a conductor ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum TerminalForm {
    /// A crimped ring on a stud or under a screw.
    Ring,
    /// A ferrule in a clamp that a screw closes.
    Clamp,
}

/// Which circuits end there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum TerminalSide {
    /// Those that bring current to it.
    In,
    /// Those that leave it.
    Out,
}

/// Terminals of a part, all of one form.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Terminal {
    /// Which circuits end there; left out, all.
    #[serde(default)]
    pub side: Option<TerminalSide>,
    /// Of which network; left out, of all.
    #[serde(default)]
    pub network: Option<Network>,
    /// How they end.
    pub form: TerminalForm,
    /// Thread of the stud or screw.
    #[serde(default)]
    pub thread: Option<String>,
    /// Field of the kind that tells the thread.
    #[serde(default)]
    pub thread_from: Option<String>,
    /// The row of `torque` of one of the kind's tasks that counts, by its `what`. Left out, the one that begins with
    /// the thread.
    #[serde(default)]
    pub fastener: Option<String>,
    /// The torque goes by the conductor, as published for slotted screws of No. 10 and larger.
    #[serde(default)]
    pub by_conductor: bool,
}
