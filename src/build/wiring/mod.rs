//! The conductors of a build: from a post on one part to a post on another. Every list, label, drawing and test of the
//! wiring is a view of this one list.
//!
//! A circuit is what a fuse protects; its figures are reckoned circuit by circuit. What is pulled, cut, crimped, labelled
//! and tested is a conductor. Ids never renumber: a conductor is called by its part and by what it does there.

mod bonds;
mod channels;
mod ends;
mod leads;
mod legs;
mod of_circuits;
mod routes;

pub use channels::REACH;
pub use ends::has_negative;
pub use of_circuits::returns_by_other_side;
pub(super) use routes::runs_of_circuits;

use super::{Build, Circuit};
use crate::kinds::Carries;
use crate::source::Span;
use crate::units::{Amps, ConductorSize, Metres};
use channels::Channels;
use indexmap::IndexMap;
use serde::Serialize;
use std::collections::BTreeMap;

/// Stands for the vehicle where the name of a part stands: an end that is none of its own. No component is called so: ids are
/// in small letters.
pub const VEHICLE: &str = "Vehicle";

/// What the first of several fittings is called.
const FIRST_FITTING: &str = "fitting 1";

/// One end of a conductor.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Landing {
    /// Part.
    pub part: String,
    /// Id of the post there; "" where its kind has none for it.
    pub post: String,
    /// Way of a panel.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub way: Option<u32>,
    /// Switch of a panel, by its id.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub switch: Option<String>,
    /// Words for an end that is no post: "chassis point", "case", "battery 2".
    #[serde(skip_serializing_if = "str::is_empty")]
    pub words: String,
    /// Place of the second body that the post is on, where it is on one: an id of a place, or words.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
}

/// What tells a post from all others: part, post and words, way, switch.
pub type Spot<'a> = ([&'a str; 3], Option<u32>, Option<&'a str>);

impl Landing {
    /// The post it is on, to find what else ends there: what leads on from the first fitting is on the post of its supply.
    #[must_use]
    pub fn spot(&self) -> Spot<'_> {
        let words = if self.words == FIRST_FITTING { "" } else { &self.words };
        ([&self.part, &self.post, words], self.way, self.switch.as_deref())
    }
}

/// What a conductor is there for, which decides how it is sized.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Purpose {
    /// It carries the current of its circuit and has its size.
    Circuit,
    /// It lies beside one that carries the current of its circuit, and takes its share.
    Beside,
    /// It carries the current of its circuit within the part that this feeds: to one more fitting, or from switch to
    /// switch.
    Leg,
    /// A lead of a size that the spec or the kind gives.
    Lead(ConductorSize),
    /// A lead of the maker, which is not cut.
    Makers,
    /// It joins two batteries of a bank.
    Link,
    /// It joins one battery of a bank to a bar that collects all.
    Battery,
    /// It joins the negative to the body.
    Bond,
    /// It joins a case or the AC earth to the body.
    EquipmentBond,
}

/// How the length of a route is known.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum RouteBy {
    /// The spec gives it.
    Given,
    /// Along channels.
    Channels,
    /// Straight from place to place, which are less than a metre apart.
    Straight,
    /// Back along the given runs of what lies between.
    Back,
    /// It is measured in the van.
    #[default]
    Unknown,
}

/// Where a conductor lies.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Route {
    /// Length from end to end.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub length: Option<Metres>,
    /// How that is known.
    pub by: RouteBy,
    /// Ids of the channels it lies in, in its order.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub channels: Vec<String>,
    /// Pieces of channels it lies in.
    #[serde(skip)]
    pub pieces: Vec<usize>,
}

/// A conductor with its two ends.
#[derive(Clone, Debug, Serialize)]
pub struct Conductor {
    /// Id: that of its part and its own.
    pub id: String,
    /// Part it belongs to.
    pub owner: String,
    /// Its id within the part.
    pub local: String,
    /// Circuit whose current it carries or whose device protects it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub circuit: Option<String>,
    /// Another circuit whose current it brings back: that of the other side of a charger with one negative post.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub also: Option<String>,
    /// What it carries.
    pub carries: Carries,
    /// Where it begins, in the direction of the current.
    pub from: Landing,
    /// Where it ends.
    pub to: Landing,
    /// What it is there for.
    pub purpose: Purpose,
    /// Its own fuse at its beginning.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fuse: Option<Amps>,
    /// Length of a lead of the maker.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub makers: Option<Metres>,
    /// It has a shield round it.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub shielded: bool,
    /// Where it lies.
    pub route: Route,
    /// What is pulled: the id of the cable, which others may be in.
    pub cable: String,
    /// Place in the spec to point at.
    #[serde(skip)]
    pub span: Span,
    /// An end of it is a part whose place must not be told.
    #[serde(skip)]
    pub confidential: bool,
}

impl Conductor {
    /// Both ends.
    #[must_use]
    pub const fn ends(&self) -> [&Landing; 2] {
        [&self.from, &self.to]
    }

    /// Whether it carries the current of loads, so that it warms what lies beside it.
    #[must_use]
    pub const fn is_loaded(&self) -> bool {
        use Carries::{Line, LineTwo, Negative, Neutral, Positive, SwitchedPositive};
        matches!(self.purpose, Purpose::Circuit | Purpose::Beside | Purpose::Leg | Purpose::Link | Purpose::Battery)
            && matches!(self.carries, Positive | SwitchedPositive | Negative | Line | LineTwo | Neutral)
    }

    /// Whether it takes the current back, or is the earth beside it.
    #[must_use]
    pub const fn is_back(&self) -> bool {
        matches!(self.carries, Carries::Negative | Carries::Neutral | Carries::Earth)
    }

    /// Whether it leads from its part back to what feeds it.
    #[must_use]
    pub const fn takes_back(&self) -> bool {
        matches!(self.carries, Carries::Negative | Carries::Neutral)
    }

    /// What its flag is called: its own id; of the cores of one jacket the circuit, else the cable.
    #[must_use]
    pub fn flag(&self, in_jacket: bool) -> &str {
        let whole = self.circuit.as_ref().filter(|_| self.purpose == Purpose::Circuit);
        if in_jacket { whole.unwrap_or(&self.cable) } else { &self.id }
    }

    /// Its id within the part without the letter that tells it from those it shares a current with, and that letter; "" of
    /// the first.
    fn of_set(&self) -> (&str, &str) {
        match self.local.rsplit_once('-') {
            Some(parts) if self.purpose == Purpose::Beside => parts,
            _ => (&self.local, ""),
        }
    }

    /// The letter of those that it lies with, of several that share a current; "" of the first.
    fn set(&self) -> &str {
        self.of_set().1
    }

    /// Whether it is cut from a reel.
    #[must_use]
    pub fn is_cut(&self) -> bool {
        self.purpose != Purpose::Makers
    }
}

/// All conductors of a build.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Wiring {
    /// By id, circuit by circuit, then legs, leads, links and bonds.
    pub conductors: IndexMap<String, Conductor>,
    /// Places in `conductors` by circuit.
    #[serde(skip)]
    by_circuit: BTreeMap<String, Vec<usize>>,
    /// Conductors, by place, of each piece of a channel.
    #[serde(skip)]
    pieces: Vec<Vec<usize>>,
    /// Ids of the channel that a piece belongs to.
    #[serde(skip)]
    channel_of: Vec<String>,
}

impl Wiring {
    /// The conductors of a build whose circuits are known.
    pub(super) fn of(build: &Build<'_>) -> Self {
        let mut list = of_circuits::conductors(build);
        list.extend(legs::conductors(build, &list));
        list.extend(leads::conductors(build));
        list.extend(bonds::conductors(build));
        ends::number(build, &mut list);
        let channels = Channels::of(build);
        routes::lay(build, &channels, &mut list);
        let mut wiring = Self { channel_of: channels.channel_of(), ..Self::default() };
        wiring.pieces = vec![Vec::new(); wiring.channel_of.len()];
        for conductor in list {
            let at = wiring.conductors.len();
            if wiring.conductors.contains_key(&conductor.id) {
                continue;
            }
            if let Some(circuit) = &conductor.circuit {
                wiring.by_circuit.entry(circuit.clone()).or_default().push(at);
            }
            for piece in &conductor.route.pieces {
                wiring.pieces[*piece].push(at);
            }
            wiring.conductors.insert(conductor.id.clone(), conductor);
        }
        wiring
    }

    /// The conductors of a circuit.
    pub fn of_circuit<'a>(&'a self, circuit: &str) -> impl Iterator<Item = &'a Conductor> + use<'a> {
        let places = self.by_circuit.get(circuit).map_or(&[][..], Vec::as_slice);
        places.iter().filter_map(|at| self.conductors.get_index(*at)).map(|(_, c)| c)
    }

    /// The conductors that lie side by side, by piece of a channel.
    pub fn pieces(&self) -> impl Iterator<Item = impl Iterator<Item = &Conductor> + use<'_>> {
        let in_piece = |at: &usize| self.conductors.get_index(*at).map(|(_, c)| c);
        self.pieces.iter().map(move |piece| piece.iter().filter_map(in_piece))
    }

    /// The conductors that lie in a channel, in the order of the list.
    #[must_use]
    pub fn in_channel<'a>(&'a self, channel: &str) -> Vec<&'a Conductor> {
        self.conductors.values().filter(|c| c.route.channels.iter().any(|id| id == channel)).collect()
    }

    /// The most conductors of one piece of a channel, by the sum that `area` makes of them.
    #[must_use]
    pub fn fullest<'a>(&'a self, channel: &str, area: impl Fn(&'a Conductor) -> f64) -> (f64, Vec<&'a Conductor>) {
        let of_piece = |piece: usize| {
            let there = self.pieces[piece].iter().filter_map(|at| self.conductors.get_index(*at));
            let there: Vec<&Conductor> = there.map(|(_, c)| c).collect();
            (there.iter().map(|c| area(c)).sum::<f64>(), there)
        };
        let pieces = (0..self.pieces.len()).filter(|piece| self.channel_of[*piece] == channel).map(of_piece);
        pieces.fold((0.0, Vec::new()), |most, one| if one.0 > most.0 { one } else { most })
    }

    /// Takes out where confidential conductors lie.
    pub(super) fn redact(&mut self) {
        for conductor in self.conductors.values_mut().filter(|c| c.confidential) {
            conductor.route = Route::default();
            conductor.from.place = None;
            conductor.to.place = None;
        }
    }
}

impl<'k> Build<'k> {
    /// The conductors of a circuit.
    pub fn conductors_of<'a>(&'a self, circuit: &Circuit) -> impl Iterator<Item = &'a Conductor> + use<'a, 'k> {
        self.wiring.of_circuit(&circuit.id)
    }
}
