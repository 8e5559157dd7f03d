//! Weighs something, or holds what does: the role `mass`.

use super::contract::role;

role! {
    /// Weighs something, or holds what does.
    Mass = "mass" in Other {
    }
}
