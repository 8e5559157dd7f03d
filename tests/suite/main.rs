//! One binary for all integration tests.

mod architecture;
mod bad_input;
mod catalogue;
mod command_line;
mod compiled;
mod currents;
mod findings;
mod harness;
mod injection;
mod outside;
mod owner;
mod pdf;
mod typeset;
