//! The two ends of a circuit: ring or ferrule, stud or screw, and torque, as far as the build knows them.

use super::CircuitFigures;
use crate::build::{Build, Circuit, Part};
use crate::compute::formulas::electrical as f;
use crate::compute::ledger::{Amount, Formula, Ledger};
use crate::kinds::{Carries, Kind, Network, Post, PostForm, PostSide};
use crate::tables::terminal_torque;
use crate::units::{ConductorSize, Dimension, System, parse_quantity, print};
use serde::Serialize;

/// Stands where nobody but the maker knows.
pub const MAKERS: &str = "to the maker's figure";

/// Where the torques by conductor come from, in short.
const BY_CONDUCTOR: &str = "UL 486A-486B (NEC Table I.1)";

/// One end of a circuit.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CircuitEnd {
    /// Conductor.
    pub size: ConductorSize,
    /// Ring or ferrule; `None` where the kind of the part does not tell.
    pub form: Option<PostForm>,
    /// Thread of its stud or screw, "" where it is not known.
    pub thread: String,
    /// Torque in N m.
    pub torque: Option<f64>,
    /// Where the torque comes from, in short.
    pub basis: String,
}

impl CircuitEnd {
    /// "ring 8 AWG × M5", "ferrule 8 AWG"; of an end that is not known "8 AWG".
    #[must_use]
    pub fn lug(&self) -> String {
        match (self.form, self.thread.as_str()) {
            (Some(PostForm::Ring), "") => format!("ring {}", self.size),
            (Some(PostForm::Ring), thread) => format!("ring {} × {thread}", self.size),
            (Some(PostForm::Clamp), _) => format!("ferrule {}", self.size),
            (Some(PostForm::PushOn), _) => format!("push-on {}", self.size),
            (Some(PostForm::Plug), _) => format!("plug {}", self.size),
            (Some(PostForm::Splice), _) => format!("splice {}", self.size),
            (None, _) => self.size.to_string(),
        }
    }

    /// Lug and torque: "ring 8 AWG × M5, 3 N m".
    #[must_use]
    pub fn show(&self, system: System) -> String {
        let torque = self.torque.map_or_else(|| MAKERS.to_owned(), |t| print(Dimension::Torque, t, system));
        format!("{}, {torque}", self.lug())
    }
}

/// Start and end of a circuit; `None` where its conductor is not known.
#[must_use]
pub(super) fn ends(build: &Build<'_>, circuit: &Circuit, figures: &CircuitFigures) -> Option<[CircuitEnd; 2]> {
    let size = figures.conductor()?.size;
    let end = |id: &str, facing| build.parts.get(id).map_or_else(|| unknown(size), |p| end(p, circuit, facing, size));
    Some([end(&circuit.from, PostSide::Out), end(&circuit.to, PostSide::In)])
}

const fn unknown(size: ConductorSize) -> CircuitEnd {
    CircuitEnd { size, form: None, thread: String::new(), torque: None, basis: String::new() }
}

fn end(part: &Part<'_>, circuit: &Circuit, facing: PostSide, size: ConductorSize) -> CircuitEnd {
    let live = |carries| match circuit.network {
        Network::Ac => carries == Carries::Line,
        Network::Dc | Network::Start | Network::Pv => matches!(carries, Carries::Positive | Carries::SwitchedPositive),
    };
    let fits = |post: &&Post| live(post.takes) && post.side.is_none_or(|side| side == facing);
    let Some(post) = part.kind.posts.iter().find(fits) else { return unknown(size) };
    let told = part.thread(post);
    let thread = post.thread.as_deref().or(told).unwrap_or("").to_owned();
    let known = if post.by_conductor {
        terminal_torque::slotted(size).map(|torque| (torque, BY_CONDUCTOR.to_owned()))
    } else {
        of_fastener(part.kind, post, &thread)
    };
    let (torque, basis) = known.map_or((None, String::new()), |(torque, basis)| (Some(torque), basis));
    CircuitEnd { size, form: post.form, thread, torque, basis }
}

/// Torque and source of the row that a kind has for a fastener.
fn of_fastener(kind: &Kind, post: &Post, thread: &str) -> Option<(f64, String)> {
    let named = |what: &str| match &post.fastener {
        Some(fastener) => what == fastener,
        None => !thread.is_empty() && what.split(' ').next() == Some(thread),
    };
    let row = kind.tasks.iter().flat_map(|t| &t.torque).find(|row| named(&row.what))?;
    let torque = parse_quantity(&row.figure(&row.what)?, Dimension::Torque).ok()?;
    let basis = row.basis(&row.what).split(';').next().unwrap_or_default().trim().to_owned();
    Some((torque.value, basis))
}

/// Enters the ends of a circuit of which something is known.
pub(super) fn enter(circuit: &Circuit, figures: &CircuitFigures, ledger: &mut Ledger) {
    let Some([start, end]) = &figures.ends else { return };
    let mut enter = |formula: &'static Formula, end: &CircuitEnd| {
        if end.form.is_none() || (end.thread.is_empty() && end.torque.is_none()) {
            return;
        }
        let torque = end.torque.map_or_else(|| Amount::Word(MAKERS.to_owned()), |t| Amount::Of(Dimension::Torque, t));
        let form = match end.form {
            Some(PostForm::Ring) => format!("ring × {}", end.thread),
            Some(PostForm::PushOn) => "push-on".to_owned(),
            Some(PostForm::Plug) => "plug".to_owned(),
            Some(PostForm::Splice) => "splice".to_owned(),
            Some(PostForm::Clamp) | None => "ferrule".to_owned(),
        };
        let basis = if end.basis.is_empty() { "maker".to_owned() } else { end.basis.clone() };
        let inputs = vec![end.size.to_string().into(), form.into(), basis.into()];
        ledger.enter(formula, &circuit.id, torque, inputs, None);
    };
    enter(&f::END_AT_START, start);
    enter(&f::END_AT_END, end);
}
