//! Needs a paper that answers for it, since nothing here computes what it must withstand: the role `evidence`.

use super::contract::role;

role! {
    /// Needs a paper that answers for it, since nothing here computes what it must withstand.
    Evidence = "evidence" in Other {
    }
}
