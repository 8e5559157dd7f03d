//! Electrical boards: which parts stand on one, how large their faces are, and where each stands.
//!
//! A part stands on the board of its place where it says where (`on_board`), or where at least three parts that are
//! screwed to a board share the place. Its face is its `size` along the longer side of the place, and its height. What
//! says nothing of where is laid out by rule: from the side of the bank to that of the loads, what gets warm upward,
//! alternating current apart. Distances are common practice, no source; the makers' figures win.

use super::boxes::Box3;
use crate::build::{Build, Part};
use crate::kinds::{Carries, Network, PostForm, Role};
use indexmap::IndexMap;

/// So many parts in one place make a board of it.
const FEW: usize = 3;

/// Between two devices, metres.
pub const GAP: f64 = 0.02;
/// Around what gets warm.
pub const WARM_GAP: f64 = 0.05;
/// Between alternating and direct current.
pub const AC_GAP: f64 = 0.08;
/// Room for the rounding of lengths in other units, metres.
const ROUNDING: f64 = 1e-3;
/// Most parts that are laid out by rule, many times those of a van.
const MOST: usize = 80;
/// Steps along a side at which a part is tried.
const STEPS: f64 = 160.0;

/// The way one looks at a board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Looking {
    /// To the left wall: the front of the van is on the right.
    Left,
    /// To the right wall: the front of the van is on the left.
    Right,
    /// To the rear: the left side of the van is on the right.
    Aft,
    /// Ahead: the left side of the van is on the left.
    Ahead,
}

impl Looking {
    /// Along which axis the board lies.
    const fn axis(self) -> usize {
        match self {
            Self::Left | Self::Right => 0,
            Self::Aft | Self::Ahead => 1,
        }
    }

    /// Whether the axis of the vehicle leads to the right on the board.
    const fn runs_right(self) -> bool {
        matches!(self, Self::Right | Self::Aft)
    }
}

/// A rectangle on the board: left, bottom, width, height; metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Face {
    /// Lower left corner, from that of the board.
    pub at: [f64; 2],
    /// Width and height.
    pub size: [f64; 2],
}

impl Face {
    /// Whether two are nearer than `gap` in both directions, across and up; more than a rounding.
    #[must_use]
    pub fn nearer(&self, other: &Self, gap: [f64; 2]) -> bool {
        (0..2).all(|k| {
            self.at[k] + self.size[k] + gap[k] > other.at[k] + ROUNDING
                && other.at[k] + other.size[k] + gap[k] > self.at[k] + ROUNDING
        })
    }

    /// How far it is from another, in a straight line; 0 where they touch.
    #[must_use]
    pub fn gap(&self, other: &Self) -> f64 {
        let apart =
            |k: usize| (self.at[k] - other.at[k] - other.size[k]).max(other.at[k] - self.at[k] - self.size[k]).max(0.0);
        apart(0).hypot(apart(1))
    }

    /// Which rim of a board of that height it is nearer to than `air`, above or below, and how near.
    #[must_use]
    pub fn rim(&self, high: f64, air: f64) -> Option<(&'static str, f64)> {
        let near = [("lower", self.at[1]), ("upper", high - self.at[1] - self.size[1])];
        near.into_iter().find(|(_, free)| *free + ROUNDING < air)
    }

    /// Whether it is on a board of that size.
    #[must_use]
    pub fn is_on(&self, board: [f64; 2]) -> bool {
        (0..2).all(|k| self.at[k] > -ROUNDING && self.at[k] + self.size[k] < board[k] + ROUNDING)
    }
}

/// Of which pole the bare metal of a device is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pole {
    /// Positive.
    Plus,
    /// Negative.
    Minus,
}

/// A part on a board.
#[derive(Clone, Debug)]
pub struct Device {
    /// Id.
    pub part: String,
    /// Width, height and depth; `None` where the spec gives no size.
    pub size: Option<[f64; 3]>,
    /// Where the spec puts it.
    pub given: Option<[f64; 2]>,
    /// It carries alternating current.
    pub is_ac: bool,
    /// It gets warm.
    pub is_warm: bool,
    /// Free air that it needs above and below it.
    pub air: Option<f64>,
    /// Least distance to bare metal of the other pole.
    pub bars_apart: Option<f64>,
    /// The pole that all of its studs are of; `None` of what has none, or both in one case.
    pub pole: Option<Pole>,
    /// How far it is from the bank, for the rule.
    rank: (u8, usize),
}

impl Device {
    /// Where the spec puts it, with its size.
    #[must_use]
    pub fn placed(&self) -> Option<Face> {
        let size = self.size?;
        Some(Face { at: self.given?, size: [size[0], size[1]] })
    }

    /// The holder of a fuse in the line, which no part is.
    pub(crate) const fn holder(size: [f64; 3]) -> Self {
        Self {
            part: String::new(),
            size: Some(size),
            given: None,
            is_ac: false,
            is_warm: false,
            air: None,
            bars_apart: None,
            pole: Some(Pole::Plus),
            rank: (0, 0),
        }
    }

    /// What keeps two apart by rule.
    fn gap(&self, other: &Self) -> f64 {
        let apart = if self.is_ac == other.is_ac { GAP } else { AC_GAP };
        apart.max(if self.is_warm || other.is_warm { WARM_GAP } else { GAP })
    }

    /// What two ask of each other by their kinds, across and up: air above and below, and bare metal of both poles apart,
    /// which one of the two is enough to ask for.
    #[must_use]
    pub fn asked(&self, other: &Self) -> Vec<[f64; 2]> {
        let air = [self.air, other.air].into_iter().flatten().reduce(f64::max).map(|air| [0.0, air]);
        let apart = [self.bars_apart, other.bars_apart].into_iter().flatten().reduce(f64::max);
        let poles = self.pole.zip(other.pole).is_some_and(|(a, b)| a != b);
        air.into_iter().chain(apart.filter(|_| poles).map(|apart| [apart; 2])).collect()
    }

    /// Whether two stand too near to each other, by rule or by what their kinds ask.
    fn crowds(&self, face: &Face, other: &Self, there: &Face) -> bool {
        let gap = self.gap(other);
        face.nearer(there, [gap, gap]) || self.asked(other).iter().any(|gap| face.nearer(there, *gap))
    }
}

/// A board.
#[derive(Clone, Debug)]
pub struct Board {
    /// Id of its place; "" of parts that say where they are on a board and nothing else.
    pub place: String,
    /// Width and height, where the spec gives the size of the place.
    pub size: Option<[f64; 2]>,
    /// The way one looks at it.
    pub looking: Looking,
    /// The bank is on the right.
    pub bank_right: bool,
    /// What stands on it, in the order of the build.
    pub devices: Vec<Device>,
}

/// Where everything on a board is.
#[derive(Clone, Debug, Default)]
pub struct Laid {
    /// Width and height of the board.
    pub size: [f64; 2],
    /// Faces by the places of their devices.
    pub faces: Vec<(usize, Face)>,
    /// Devices that no room was found for.
    pub left_over: Vec<usize>,
}

/// Whether what has the role makes one current of another, which warms it.
const fn gets_warm(role: Role) -> bool {
    matches!(role, Role::Charger | Role::Converter | Role::Inverter | Role::InverterCharger)
}

/// The pole of the studs of a part, where all are of one.
fn pole(part: &Part<'_>) -> Option<Pole> {
    let studs = part.kind.posts.iter().filter(|post| part.form(post) == Some(PostForm::Ring));
    let mut poles = studs.filter_map(|post| match post.takes {
        Carries::Positive | Carries::SwitchedPositive => Some(Pole::Plus),
        Carries::Negative => Some(Pole::Minus),
        _ => None,
    });
    let first = poles.next()?;
    poles.all(|pole| pole == first).then_some(first)
}

/// Whether a part is screwed to a board.
fn is_mounted(part: &Part<'_>) -> bool {
    use Role::{AcPanel, Bus, Control, Disconnect, Panel, Protection, Rcd, Shunt, Transfer};
    let by_role = part.role().is_some_and(|role| {
        let wired = matches!(role, Protection | Disconnect | Shunt | Control | Bus | Panel | AcPanel | Rcd | Transfer);
        wired || gets_warm(role)
    });
    by_role || part.roles.negative_bar.is_some()
}

/// The boards of a build, in the order of their first parts.
#[must_use]
pub fn boards(build: &Build<'_>) -> Vec<Board> {
    let mut groups: IndexMap<&str, Vec<&Part<'_>>> = IndexMap::new();
    for part in build.parts.values().filter(|p| !p.confidential) {
        let place = part.places.first().map_or("", String::as_str);
        if part.common.on_board.get().is_some() || is_mounted(part) && !place.is_empty() {
            groups.entry(place).or_default().push(part);
        }
    }
    groups.retain(|_, parts| parts.len() >= FEW || parts.iter().any(|part| part.common.on_board.get().is_some()));
    let bank = build.parts.values().find(|p| p.role() == Some(Role::Bank)).and_then(|p| p.places.first());
    let bank = bank.and_then(|id| build.places.get(id)?.at.metres());
    groups.into_iter().map(|(place, parts)| board(build, place, &parts, bank)).collect()
}

/// The boards that a spec puts something somewhere on: what it says of them can be held against itself.
#[must_use]
pub fn spoken_of(build: &Build<'_>) -> Vec<Board> {
    let says = build.parts.values().any(|part| part.common.on_board.given);
    if says { boards(build) } else { Vec::new() }
}

fn board(build: &Build<'_>, place: &str, parts: &[&Part<'_>], bank: Option<[f64; 3]>) -> Board {
    let section = build.places.get(place);
    let at = section.and_then(|p| p.at.metres());
    let space = section.and_then(|p| p.size.metres()).filter(|size| size.iter().all(|d| *d > 0.0));
    let looking = looking(build, at, space);
    let axis = looking.axis();
    let device = |part: &&Part<'_>| {
        let size = part.common.size.metres().filter(|size| size.iter().all(|d| *d > 0.0));
        Device {
            part: part.id.clone(),
            size: size.map(|size| [size[axis], size[2], size[1 - axis]]),
            given: part.common.on_board.metres(),
            is_ac: part.electric().is_some_and(|e| e.network == Network::Ac),
            is_warm: part.role().is_some_and(gets_warm),
            air: part.roles.air().get().map(|air| air.0),
            bars_apart: part.roles.bars_apart().get().map(|apart| apart.0),
            pole: pole(part),
            rank: (sort(part), build.upstream(&part.id).parts().count()),
        }
    };
    Board {
        place: place.to_owned(),
        size: space.map(|size| [size[axis], size[2]]),
        looking,
        bank_right: bank.zip(at).is_some_and(|(bank, at)| (bank[axis] > at[axis]) == looking.runs_right()),
        devices: parts.iter().map(device).collect(),
    }
}

/// The room that a part takes where the spec says where it is on its board; as deep as the board, since nobody says on
/// which face of it.
#[must_use]
pub fn space(build: &Build<'_>, part: &Part<'_>) -> Option<Box3> {
    let place = build.places.get(part.places.first()?)?;
    let (at, space) = (place.at.metres()?, place.size.metres()?);
    let (from, size) = (part.common.on_board.metres()?, part.common.size.metres()?);
    let looking = looking(build, Some(at), Some(space));
    let axis = looking.axis();
    let mut room = Box3::standing(at, space);
    let first = if looking.runs_right() { room.min[axis] + from[0] } else { room.max[axis] - from[0] - size[axis] };
    (room.min[axis], room.max[axis]) = (first, first + size[axis]);
    let low = room.min[2] + from[1];
    (room.min[2], room.max[2]) = (low, low + size[2]);
    Some(room)
}

/// A board along the van is seen from the middle of it; one across it from where there is more of the van.
fn looking(build: &Build<'_>, at: Option<[f64; 3]>, space: Option<[f64; 3]>) -> Looking {
    let is_along = space.is_none_or(|size| size[0] >= size[1]);
    let at = at.unwrap_or_default();
    let is_behind = build.vehicle.wheelbase.get().is_none_or(|wheelbase| at[0] >= wheelbase.0 / 2.0);
    match (is_along, at[1] >= 0.0, is_behind) {
        (true, true, _) => Looking::Left,
        (true, false, _) => Looking::Right,
        (false, _, true) => Looking::Aft,
        (false, _, false) => Looking::Ahead,
    }
}

/// What comes first where the rule lays it out: the main path, then what is fed from it.
fn sort(part: &Part<'_>) -> u8 {
    let is_ac = part.electric().is_some_and(|e| e.network == Network::Ac);
    match part.role() {
        Some(Role::Disconnect | Role::Shunt | Role::Bus) | None => 0,
        Some(Role::Protection) if !is_ac => 0,
        Some(_) if is_ac => 1,
        Some(role) if gets_warm(role) => 2,
        Some(Role::Panel) => 3,
        Some(_) => 4,
    }
}

impl Board {
    /// Whether there is an elevation of it: none is drawn of a board on which no part has a size.
    #[must_use]
    pub fn is_drawn(&self) -> bool {
        self.devices.iter().any(|device| device.size.is_some())
    }

    /// Where everything is: what the spec puts somewhere there, the rest by rule.
    #[must_use]
    pub fn laid(&self) -> Laid {
        if let Some(size) = self.size {
            return self.laid_on(size);
        }
        let all = self.devices.iter().filter_map(|d| d.size);
        let area: f64 = all.clone().map(|size| (size[0] + WARM_GAP) * (size[1] + WARM_GAP)).sum();
        let placed = self.devices.iter().filter_map(Device::placed);
        let mut least: [f64; 2] = [0.1, 0.1];
        for face in placed.map(|face| [0, 1].map(|k| face.at[k] + face.size[k])) {
            least = [0, 1].map(|k| least[k].max(face[k]));
        }
        let widest = all.map(|size| size[0]).fold(0.0, f64::max) + 2.0 * GAP;
        let mut wide = (area * 1.6).sqrt().max(widest);
        // Larger until all of it finds room; a few tries do.
        let mut laid = Laid::default();
        for _ in 0..12 {
            let whole = [wide, wide / 1.4].map(|side| (side / 0.05).ceil() * 0.05);
            laid = self.laid_on([0, 1].map(|k| whole[k].max(least[k])));
            if laid.left_over.is_empty() {
                break;
            }
            wide *= 1.15;
        }
        laid
    }

    fn laid_on(&self, size: [f64; 2]) -> Laid {
        let mut laid = Laid { size, ..Laid::default() };
        for (at, device) in self.devices.iter().enumerate() {
            laid.faces.extend(device.placed().map(|face| (at, face)));
        }
        let mut rest: Vec<usize> = (0..self.devices.len()).filter(|at| self.devices[*at].given.is_none()).collect();
        rest.sort_by_key(|at| self.devices[*at].rank);
        for (nth, at) in rest.into_iter().enumerate() {
            let Some(own) = self.devices[at].size else { continue };
            match self.room(&laid, at, [own[0], own[1]]).filter(|_| nth < MOST) {
                Some(face) => laid.faces.push((at, face)),
                None => laid.left_over.push(at),
            }
        }
        laid.faces.sort_by_key(|(at, _)| *at);
        laid
    }

    /// The first free room for a device, from where its sort begins: from below at the side of the bank; from above what
    /// gets warm; alternating current from the other side.
    fn room(&self, laid: &Laid, at: usize, own: [f64; 2]) -> Option<Face> {
        let device = &self.devices[at];
        let step = (laid.size[0].max(laid.size[1]) / STEPS).max(0.01);
        let steps = [0, 1].map(|k| {
            // What needs air above and below needs it to the rims too.
            let rim = if k == 1 { device.air.unwrap_or(0.0).max(GAP) } else { GAP };
            let free = (laid.size[k] - own[k] - 2.0 * rim) / step;
            // Against both rims, and between them step by step.
            let whole = if free >= 0.0 { (0..=u16::try_from(whole(free)).unwrap_or(0)).collect() } else { Vec::new() };
            whole.into_iter().map(|n| rim + f64::from(n) * step).collect::<Vec<f64>>()
        });
        let from_right = self.bank_right != device.is_ac;
        let across: Vec<f64> =
            if from_right { steps[0].iter().map(|x| laid.size[0] - own[0] - x).collect() } else { steps[0].clone() };
        let up: Vec<f64> = if device.is_warm {
            steps[1].iter().map(|y| laid.size[1] - own[1] - y).collect()
        } else {
            steps[1].clone()
        };
        let free = |x: f64, y: f64| {
            let face = Face { at: [x, y], size: own };
            let near = |(other, there): &(usize, Face)| device.crowds(&face, &self.devices[*other], there);
            (!laid.faces.iter().any(near)).then_some(face)
        };
        // Alternating current in columns, direct current in rows.
        if device.is_ac {
            across.iter().find_map(|x| up.iter().find_map(|y| free(*x, *y)))
        } else {
            up.iter().find_map(|y| across.iter().find_map(|x| free(*x, *y)))
        }
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a small number that is not negative")]
fn whole(steps: f64) -> u32 {
    (steps + 1e-9).floor().clamp(0.0, STEPS) as u32
}
