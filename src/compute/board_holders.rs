//! Holders of fuses in the line that are screwed to an electrical board: each as near as there is room to the bar or device
//! whose fault current its fuse cuts off, and no further than the rules let its cable be without protection.

use super::geometry::board::{Board, Device, Face, GAP, Laid};
use super::network::{DeviceAt, Electrical, reach};
use crate::build::{Build, Circuit, Feeding};
use crate::tables::fuse_holder;

/// Between two holders, metres: about half an inch, so that both systems print it alike. Common practice, no source.
const BESIDE: f64 = 0.0125;
/// What the cable before a holder is longer than the gap it bridges, since it leaves a stud and bends; metres. Common
/// practice, no source.
const BENDS: f64 = 0.05;
/// Steps in which a place is looked for, metres.
const STEP: f64 = BESIDE;

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

/// A holder that looks for its place: the index of the device it stands at, the size of the holder and the farthest gap.
type Wanted<'b> = (&'b Circuit, String, usize, [f64; 3], f64);

/// The holders at the devices of a board, the largest first.
#[must_use]
pub fn holders<'b>(build: &'b Build<'_>, all: &Electrical, board: &Board, laid: &Laid) -> Vec<Holder<'b>> {
    let mut wanted: Vec<Wanted<'b>> = build.circuits.values().filter_map(|c| wanted(build, all, board, c)).collect();
    wanted.sort_by(|a, b| (b.3[0] * b.3[1]).total_cmp(&(a.3[0] * a.3[1])));
    let mut list: Vec<Holder<'b>> = Vec::new();
    for (circuit, fuse, at, size, farthest) in wanted {
        let Some((_, bar)) = laid.faces.iter().find(|(index, _)| *index == at) else { continue };
        let others: Vec<Face> = list.iter().filter_map(|holder| holder.face).collect();
        let face = room(board, laid, (at, bar), size, &others).filter(|face| face.gap(bar) <= farthest);
        let size = face.map_or(size, |face| [face.size[0], face.size[1], size[2]]);
        list.push(Holder { circuit, fuse, size, face });
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
    Some((circuit, device.show(), at, holder.size, (reach.0 - BENDS).max(STEP)))
}

/// The free room nearest to the device it stands at, lying or upright.
fn room(board: &Board, laid: &Laid, (at, bar): (usize, &Face), size: [f64; 3], others: &[Face]) -> Option<Face> {
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
        // From the middle of the bar outward, as far as any rule lets a holder be.
        let farthest = [0, 1].map(|k| (1.0_f64).min(laid.size[k]));
        let from = [0, 1].map(|k| (bar.at[k] - farthest[k] / 2.0 - own[k]).max(BESIDE));
        let to = [0, 1].map(|k| (bar.at[k] + bar.size[k] + farthest[k] / 2.0).min(laid.size[k] - own[k] - BESIDE));
        let mut y = from[1];
        while y <= to[1] {
            let mut x = from[0];
            while x <= to[0] {
                let face = Face { at: [x, y], size: own };
                let gap = face.gap(bar);
                if best.is_none_or(|(least, _)| gap + 1e-9 < least) && free(&face, &device) {
                    best = Some((gap, face));
                }
                x += STEP;
            }
            y += STEP;
        }
    }
    best.map(|(_, face)| face)
}
