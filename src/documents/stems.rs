//! File names, without an ending, of documents that others refer to.

/// The owner's manual.
pub(crate) const MANUAL: &str = "owners-manual";
/// The service file.
pub(crate) const SERVICE_FILE: &str = "service-file";
