//! The two ends of a conductor: ring or ferrule, stud or screw, and torque, as far as the build knows them.

use super::Electrical;
use crate::build::{Build, Circuit, Conductor, Landing, Purpose};
use crate::compute::formulas::electrical as f;
use crate::compute::ledger::{Amount, Formula, Ledger};
use crate::kinds::{Kind, Post, PostForm};
use crate::tables::conductor_series::Series;
use crate::tables::{rings, terminal_torque};
use crate::units::{ConductorSize, Dimension, System, parse_quantity, print};
use serde::Serialize;

/// Stands where nobody but the maker knows.
pub const MAKERS: &str = "to the maker's figure";

/// Where a torque comes from that the spec or a stock item gives.
const BY_MAKER: &str = "its maker";

/// Where the torques by conductor come from, in short.
const BY_CONDUCTOR: &str = "UL 486A-486B (NEC Table I.1)";

/// One end of a conductor.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ConductorEnd {
    /// Conductor; `None` for a lead of the maker.
    pub size: Option<ConductorSize>,
    /// Ring or ferrule; `None` where the kind of the part does not tell.
    pub form: Option<PostForm>,
    /// Thread of its stud or screw, "" where it is not known.
    pub thread: String,
    /// Torque in N m.
    pub torque: Option<f64>,
    /// Where the torque comes from, in short.
    pub basis: String,
}

impl ConductorEnd {
    /// "ring 8 AWG × M5", "ferrule 8 AWG"; of an end that is not known "8 AWG".
    #[must_use]
    pub fn lug(&self) -> String {
        let form = self.form.map_or("", PostForm::word);
        let thread = match (self.form, self.thread.as_str()) {
            (Some(PostForm::Ring), thread) if !thread.is_empty() => format!("× {thread}"),
            _ => String::new(),
        };
        let size = self.size.map_or_else(String::new, |size| size.to_string());
        [form, &size, &thread].into_iter().filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ")
    }

    /// Lug and torque: "ring 8 AWG × M5, 3 N m".
    #[must_use]
    pub fn show(&self, system: System) -> String {
        let torque = self.torque.map_or_else(|| MAKERS.to_owned(), |t| print(Dimension::Torque, t, system));
        format!("{}, {torque}", self.lug())
    }
}

/// Whether what [`ConductorEnd::show`] printed tells more than what the maker alone knows: a ring for a stud, or a torque.
#[must_use]
pub fn is_told(shown: &str) -> bool {
    shown.starts_with(PostForm::Ring.word()) || !shown.ends_with(MAKERS)
}

/// The end of a conductor of that size at a landing.
pub(super) fn end(build: &Build<'_>, landing: &Landing, size: Option<ConductorSize>) -> ConductorEnd {
    let known = build.parts.get(&landing.part).and_then(|part| Some((part, part.post(landing)?)));
    let Some((part, post)) = known else {
        return ConductorEnd { size, form: None, thread: String::new(), torque: None, basis: String::new() };
    };
    let thread = part.thread(post).unwrap_or_default().to_owned();
    let given = part.said_of_post(&post.id).and_then(|said| said.torque.get());
    let known = if let Some(torque) = given {
        Some((torque.0, BY_MAKER.to_owned()))
    } else if post.by_conductor {
        size.and_then(terminal_torque::slotted).map(|torque| (torque, BY_CONDUCTOR.to_owned()))
    } else {
        of_fastener(part.kind, post, &thread)
    };
    let (torque, basis) = known.map_or((None, String::new()), |(torque, basis)| (Some(torque), basis));
    ConductorEnd { size, form: post.form, thread, torque, basis }
}

/// The thinnest conductor of a series that there are rings of for the studs that the conductors of a circuit end on; `None`
/// where no stud asks.
pub(super) fn least_ring(build: &Build<'_>, circuit: &Circuit, series: Series) -> Option<ConductorSize> {
    let own = build.conductors_of(circuit).filter(|c| c.purpose == Purpose::Circuit);
    let least = |landing: &Landing| {
        let part = build.parts.get(&landing.part)?;
        let post = part.post(landing).filter(|post| post.form == Some(PostForm::Ring))?;
        Some(rings::of_stud(part.thread(post).unwrap_or_default())?.range(series)?.0)
    };
    let all = own.flat_map(Conductor::ends).filter_map(least);
    all.reduce(|a, b| if b.area() > a.area() { b } else { a })
}

/// Torque and source of the row that a kind has for a fastener.
fn of_fastener(kind: &Kind, post: &Post, thread: &str) -> Option<(f64, String)> {
    let row = kind.torque_of(post, thread)?;
    let torque = parse_quantity(&row.figure(&row.what)?, Dimension::Torque).ok()?;
    let basis = row.basis(&row.what).split(';').next().unwrap_or_default().trim().to_owned();
    Some((torque.value, basis))
}

/// Enters the ends of a circuit of which something is known: where its positive or line starts, and where it ends.
pub(super) fn enter(build: &Build<'_>, all: &Electrical, circuit: &Circuit, ledger: &mut Ledger) {
    let live = build.conductors_of(circuit).filter(|c| c.purpose == Purpose::Circuit && !c.is_back());
    let figures: Vec<_> = live.filter_map(|c| all.conductors.get(&c.id)).collect();
    let ends = figures.first().zip(figures.last()).map(|(first, last)| [&first.ends[0], &last.ends[1]]);
    let Some([start, end]) = ends else { return };
    let mut enter = |formula: &'static Formula, end: &ConductorEnd| {
        if end.form.is_none() || (end.thread.is_empty() && end.torque.is_none()) {
            return;
        }
        let torque = end.torque.map_or_else(|| Amount::Word(MAKERS.to_owned()), |t| Amount::Of(Dimension::Torque, t));
        let form = match end.form {
            Some(PostForm::Ring) => format!("ring × {}", end.thread),
            form => form.map_or("", PostForm::word).to_owned(),
        };
        let basis = if end.basis.is_empty() { "maker".to_owned() } else { end.basis.clone() };
        let size = end.size.map_or_else(String::new, |size| size.to_string());
        ledger.enter(formula, &circuit.id, torque, vec![size.into(), form.into(), basis.into()], None);
    };
    enter(&f::END_AT_START, start);
    enter(&f::END_AT_END, end);
}
