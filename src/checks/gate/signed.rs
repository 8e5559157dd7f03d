//! Hold points that are signed.

use crate::build::{Build, Hold};
use crate::source::Spanned;
use crate::spec::Signature;

/// The hold points that are signed, each with its id and its signature.
pub(super) fn signed_holds<'b>(
    build: &'b Build<'_>,
) -> impl Iterator<Item = (&'b str, &'b Hold, &'b Spanned<Signature>)> {
    let signed = &build.spec.recorded.signed;
    build.holds.iter().filter_map(|(id, hold)| Some((id.as_str(), hold, signed.get(id)?)))
}
