//! Hold points that are signed.

use crate::build::{Build, Hold};
use crate::fields::is_placeholder;
use crate::source::Spanned;
use crate::spec::Signature;

/// The hold points that are signed, each with its id and its signature; a blank that nobody filled signs nothing.
pub(super) fn signed_holds<'b>(
    build: &'b Build<'_>,
) -> impl Iterator<Item = (&'b str, &'b Hold, &'b Spanned<Signature>)> {
    let signed = &build.spec.recorded.signed;
    let by = |id: &str| signed.get(id).filter(|signature| !is_placeholder(&signature.value.by));
    build.holds.iter().filter_map(move |(id, hold)| Some((id.as_str(), hold, by(id)?)))
}
