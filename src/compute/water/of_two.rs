//! What each outlet of a build gives while another one is open too.

use super::both::{Branch, both};
use super::friction::{self, Pipe};
use super::paths::{COLD, HOT, Line, is_hot, pipe_of};
use super::pump::Pump;
use crate::build::Part;

/// An outlet beside another.
pub(super) struct Beside<'a> {
    /// The other one.
    pub(super) other: &'a str,
    /// Flow that is left, L/min.
    pub(super) flow: f64,
    /// Pressure that is left, kPa.
    pub(super) pressure: f64,
}

/// An outlet with one way to it.
pub(super) type Way<'a> = (&'a Part<'a>, Line<'a>);

/// The way `at` with the outlet open beside it that draws most on the same pump; of several the first.
pub(super) fn beside<'a>(ways: &'a [Way<'a>], at: usize) -> Option<Beside<'a>> {
    let (part, line) = ways.get(at)?;
    let draws = |p: &Part<'_>| p.roles.flow().get().map(|q| q.0);
    let others = ways.iter().filter(|(p, l)| p.id != part.id && l.pump.id == line.pump.id);
    let (other, their) = others.reduce(|best, next| if draws(next.0) > draws(best.0) { next } else { best })?;
    let roles = &line.pump.roles;
    let pump = Pump { open_flow: roles.flow().get()?.0, cut_out: roles.cut_out().get()?.0 };
    let joint = |l: &Line<'_>, id: &str| l.pipes.iter().chain(&l.filters).any(|p| p.id == id);
    let common = costs(line, |id| joint(their, id));
    let own = costs(line, |id| !joint(their, id));
    let theirs = costs(their, |id| !joint(line, id));
    let branch = |p: &Part<'_>| Some((draws(p)?, p.roles.min_pressure().get()?.0));
    let ((wanted, needed), (their_wanted, their_needed)) = (branch(part)?, branch(other)?);
    let one = Branch { wanted, needed, cost: &own };
    let two = Branch { wanted: their_wanted, needed: their_needed, cost: &theirs };
    let (flow, _) = both(&pump, common, &one, &two)?;
    Some(Beside { other: &other.id, flow, pressure: needed * (flow / wanted).powi(2) })
}

/// What those pipes and filters of a way cost at a flow, kPa, whose ids are asked for.
fn costs(line: &Line<'_>, asked: impl Fn(&str) -> bool) -> impl Fn(f64) -> f64 {
    let pipes: Vec<(Pipe, f64)> = line
        .pipes
        .iter()
        .filter(|p| asked(&p.id))
        .filter_map(|p| Some((pipe_of(p)?, if is_hot(p) { HOT } else { COLD })))
        .collect();
    let filters = line.filters.iter().filter(|f| asked(&f.id));
    let filters: f64 = filters.filter_map(|f| f.roles.pressure_loss().get().map(|q| q.0)).sum();
    move |q| {
        let flows = pipes.iter().filter_map(|(pipe, celsius)| friction::flow(pipe, q, *celsius));
        flows.fold(filters, |all, f| all + f.along + f.bends + f.lift)
    }
}
