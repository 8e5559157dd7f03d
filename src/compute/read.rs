//! Numbers of a record, by field and dimension, where the quantity has no newtype of its own.

use crate::fields::Record;
use crate::units::Dimension;

/// The number in `field`, in the inside unit of `dimension`; `None` where there is none.
#[must_use]
pub(crate) fn number_in(record: &Record, field: &str, dimension: Dimension) -> Option<f64> {
    record.quantity(field, dimension).map(|q| q.value).filter(|v| v.is_finite())
}
