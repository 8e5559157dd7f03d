//! Renders findings (short).
