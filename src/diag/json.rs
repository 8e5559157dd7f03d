//! Renders findings (json).
