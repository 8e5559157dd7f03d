//! Holders of fuses in the line that are screwed to an electrical board: each as near as there is room to the stud or device
//! whose fault current its fuse cuts off, and no further than the rules let its cable be without protection. The studs of a
//! bar stand evenly along it, the first at the side of the bank, on an upright bar at its lower end.

use super::geometry::board::{Board, Device, Face, GAP, Laid, boards};
use super::network::{DeviceAt, Electrical, reach, stud_of};
use crate::build::{Build, Circuit, Feeding, Part};
use crate::tables::fuse_holder;

/// Between two holders, metres: about half an inch, so that both systems print it alike. Common practice, no source.
const BESIDE: f64 = 0.0125;
/// What the cable before a holder is longer than the gap it bridges, since it leaves a stud and bends; metres. Common
/// practice, no source.
const BENDS: f64 = 0.05;
/// Steps in which a place is looked for, metres.
const STEP: f64 = BESIDE;

/// How often those that found no room are tried before the others.
const TRIES: usize = 12;

/// A holder on a board.
#[derive(Clone, Debug)]
pub struct Holder<'b> {
    /// Circuit whose fuse it holds.
    pub circuit: &'b Circuit,
    /// Its fuse, in words.
    pub fuse: String,
    /// Width, height and depth as it stands.
    pub size: [f64; 3],
    /// Where; `None` where there is no room within reach.
    pub face: Option<Face>,
}

/// A holder that looks for its place: the index of the device it stands at, and its stud, the size of the holder and the
/// farthest gap.
type Wanted<'b> = (&'b Circuit, String, (usize, Option<usize>), [f64; 3], f64);

/// Where a stud of a device is on its board: as a face without extent; of what has one post alone its whole face.
#[must_use]
pub fn stud_face(build: &Build<'_>, board: &Board, (at, face): (usize, &Face), stud: Option<usize>) -> Face {
    let studs = build.parts.get(&board.devices[at].part).and_then(Part::studs).filter(|studs| *studs > 1);
    let (Some(studs), Some(stud)) = (studs, stud) else { return *face };
    let lies = face.size[0] >= face.size[1];
    // From the left, or from below.
    let nth = if lies && board.bank_right { studs.saturating_sub(stud) } else { stud.saturating_sub(1) };
    #[expect(clippy::cast_precision_loss, reason = "a bar has a few dozen studs at most")]
    let share = (nth.min(studs - 1) as f64 + 0.5) / studs as f64;
    let middle = [0, 1].map(|k| face.at[k] + face.size[k] * if (k == 0) == lies { share } else { 0.5 });
    Face { at: middle, size: [0.0; 2] }
}

/// Words for the end of a bar that its first stud is at, as one looks at the board; `None` of what stands on no board.
#[must_use]
pub fn first_end(build: &Build<'_>, part: &str) -> Option<&'static str> {
    let on_it = |board: &Board| board.devices.iter().position(|device| device.part == part);
    let (board, at) = boards(build).into_iter().find_map(|board| on_it(&board).map(|at| (board, at)))?;
    let laid = board.laid();
    let (_, face) = laid.faces.iter().find(|(index, face)| *index == at && face.is_on(laid.size))?;
    Some(match (face.size[0] >= face.size[1], board.bank_right) {
        (true, true) => "right",
        (true, false) => "left",
        (false, _) => "lower",
    })
}

/// The holders at the devices of a board, the largest first; before these what found no room when it came in its turn.
#[must_use]
pub fn holders<'b>(build: &'b Build<'_>, all: &Electrical, board: &Board, laid: &Laid) -> Vec<Holder<'b>> {
    let mut wanted: Vec<Wanted<'b>> = build.circuits.values().filter_map(|c| wanted(build, all, board, c)).collect();
    wanted.sort_by(|a, b| (b.3[0] * b.3[1]).total_cmp(&(a.3[0] * a.3[1])));
    let mut best: Vec<Holder<'b>> = Vec::new();
    let homeless = |list: &[Holder<'_>]| list.iter().filter(|holder| holder.face.is_none()).count();
    for _ in 0..TRIES {
        let list = in_turn(build, board, laid, &wanted);
        let late = list.iter().position(|holder| holder.face.is_none());
        let late = late.map(|at| list[at].circuit.id.clone());
        if best.is_empty() || homeless(&list) < homeless(&best) {
            best = list;
        }
        let Some(at) = late.and_then(|id| wanted.iter().position(|w| w.0.id == id)) else { break };
        let first = wanted.remove(at);
        wanted.insert(0, first);
    }
    best
}

/// Each in its turn as near to its stud as those before it leave room.
fn in_turn<'b>(build: &Build<'_>, board: &Board, laid: &Laid, wanted: &[Wanted<'b>]) -> Vec<Holder<'b>> {
    let mut list: Vec<Holder<'b>> = Vec::new();
    for (circuit, fuse, (at, stud), size, farthest) in wanted {
        let Some((_, bar)) = laid.faces.iter().find(|(index, _)| index == at) else { continue };
        let stud = stud_face(build, board, (*at, bar), *stud);
        let others: Vec<Face> = list.iter().filter_map(|holder| holder.face).collect();
        let face = room(board, laid, (*at, &stud), (*size, *farthest), &others);
        let size = face.map_or(*size, |face| [face.size[0], face.size[1], size[2]]);
        list.push(Holder { circuit, fuse: fuse.clone(), size, face });
    }
    list
}

/// What a circuit has of a holder at a device of a board.
fn wanted<'b>(build: &'b Build<'_>, all: &Electrical, board: &Board, circuit: &'b Circuit) -> Option<Wanted<'b>> {
    let device = &all.circuits.get(&circuit.id)?.device;
    let is_hidden = build.parts.get(&circuit.owner).is_some_and(|part| part.confidential);
    if device.at != DeviceAt::InLine || is_hidden {
        return None;
    }
    // At the end that the bank can feed a fault into.
    let source = if circuit.feeding == Feeding::Output { &circuit.to } else { &circuit.from };
    let at = board.devices.iter().position(|device| device.part == *source)?;
    let holder = fuse_holder::of(device.family?, device.rating?)?;
    let reach = circuit.protection_at.unwrap_or_else(|| reach(build, &all.profile, circuit, source));
    let stud = stud_of(build, all, circuit, source);
    Some((circuit, device.show(), (at, stud), holder.size, (reach.0 - BENDS).max(STEP)))
}

/// The free room nearest to the stud of the device it stands at and no farther than that, lying or upright.
fn room(
    board: &Board,
    laid: &Laid,
    (at, stud): (usize, &Face),
    (size, farthest): ([f64; 3], f64),
    others: &[Face],
) -> Option<Face> {
    let free = |face: &Face, own: &Device| {
        let rim = (0..2).all(|k| face.at[k] >= BESIDE && face.at[k] + face.size[k] + BESIDE <= laid.size[k]);
        let near = |(index, there): &(usize, Face)| {
            let other = &board.devices[*index];
            let gap = if *index == at { BESIDE } else { GAP };
            face.nearer(there, [gap; 2]) || own.asked(other).iter().any(|gap| face.nearer(there, *gap))
        };
        rim && !laid.faces.iter().any(near) && !others.iter().any(|other| face.nearer(other, [BESIDE; 2]))
    };
    let mut best: Option<(f64, Face)> = None;
    for own in [[size[0], size[1]], [size[1], size[0]]] {
        let device = Device::holder([own[0], own[1], size[2]]);
        let from = [0, 1].map(|k| (stud.at[k] - farthest - own[k]).max(BESIDE));
        let to = [0, 1].map(|k| (stud.at[k] + stud.size[k] + farthest).min(laid.size[k] - own[k] - BESIDE));
        let mut y = from[1];
        while y <= to[1] {
            let mut x = from[0];
            while x <= to[0] {
                let face = Face { at: [x, y], size: own };
                let gap = face.gap(stud);
                let nearer = gap <= farthest && best.is_none_or(|(least, _)| gap + 1e-9 < least);
                if nearer && free(&face, &device) {
                    best = Some((gap, face));
                }
                x += STEP;
            }
            y += STEP;
        }
    }
    best.map(|(_, face)| face)
}
