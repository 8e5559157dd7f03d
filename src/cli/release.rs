//! `release`: compiles specs whole and keeps a copy of each that nothing writes over.

use super::args::{Release, Wanted};
use super::house::House;
use super::order::Order;
use super::print::Print;
use super::{compile, stop};

pub(super) fn run(print: &Print, house: &House<'_>, args: Release) -> Result<u8, String> {
    let Release { specs, out, typesetter } = args;
    let (no_pdf, take_over) = (false, false);
    let wanted = Wanted { out, only: vec![], stage: vec![], no_pdf, take_over, revision_from: None, typesetter };
    stop::listen();
    compile::all(print, &specs, &Order::of(house, &wanted)?.for_release())
}
