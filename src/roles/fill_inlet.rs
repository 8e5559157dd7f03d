//! Takes water into a fresh tank from outside: the role `fill-inlet`.

use super::contract::role;

role! {
    /// Takes water into a fresh tank from outside.
    FillInlet = "fill-inlet" in Plumbing {
    }
}
