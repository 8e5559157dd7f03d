//! Stands out of the vehicle, has a size of its own, or sweeps some room when it opens: the role `envelope`.

use super::contract::role;

role! {
    /// Stands out of the vehicle, has a size of its own, or sweeps some room when it opens.
    Envelope = "envelope" in Other {
    }
}
