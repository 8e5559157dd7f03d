//! Renders findings (human).
