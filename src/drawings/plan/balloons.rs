//! Where numbers go: into their box where there is room, else into a row above or below, with a line to their place.

use crate::drawings::canvas::Area;

/// A line from a point to a point.
type Line = ((f64, f64), (f64, f64));

/// A place to be marked on a view.
#[derive(Clone, Debug)]
pub(crate) struct Mark {
    /// The point that is meant.
    pub at: (f64, f64),
    /// Its box on the sheet, where it has one.
    pub area: Option<Area>,
}

/// Where a mark went.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Put {
    /// Middle of the balloon.
    pub centre: (f64, f64),
    /// The point a line leads to; `None` where the balloon stands in its box.
    pub leads_to: Option<(f64, f64)>,
}

/// The room for the rows outside.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Room {
    /// What is drawn; rows stand above and below it.
    pub view: Area,
    /// Left end of the rows.
    pub left: f64,
    /// Right end of the rows.
    pub right: f64,
    /// Radius of a balloon.
    pub radius: f64,
    /// Nothing goes into boxes.
    pub outside_only: bool,
    /// Rows stand above the view only.
    pub above_only: bool,
}

/// From the view to the first row, and from row to row, beyond the radius; mm.
const FIRST: f64 = 4.5;
const GAP: f64 = 0.9;

impl Room {
    fn pitch(&self) -> f64 {
        2.0 * self.radius + GAP
    }

    fn capacity(&self) -> usize {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a small positive number")]
        let n = ((self.right - self.left) / self.pitch()).floor().max(1.0) as usize;
        n
    }

    /// Distance of the middle of row `n` from the view.
    #[must_use]
    pub(crate) fn row(&self, n: usize) -> f64 {
        let n = f64::from(u32::try_from(n).unwrap_or(0));
        FIRST + self.radius + n * self.pitch()
    }
}

/// Places every mark; gives them in the order of `marks`.
#[must_use]
pub(crate) fn put(marks: &[Mark], boxes: &[Area], room: &Room) -> Vec<Put> {
    let mut puts: Vec<Option<Put>> = vec![None; marks.len()];
    let mut order: Vec<usize> = (0..marks.len()).collect();
    let marks: Vec<Mark> = marks.iter().map(|m| Mark { at: meant(m, boxes), ..m.clone() }).collect();
    let marks = marks.as_slice();
    let size = |m: &Mark| m.area.map_or(f64::MAX, |a| a.width() * a.height());
    order.sort_by(|a, b| size(&marks[*a]).total_cmp(&size(&marks[*b])));
    // What cannot stand in its box leads outside; then the others are set clear of those lines.
    let inside: Vec<usize> = order
        .iter()
        .copied()
        .filter(|n| !room.outside_only && within(&marks[*n], boxes, room, &[], &[]).is_some())
        .collect();
    let mut outside: Vec<usize> = (0..marks.len()).filter(|n| !inside.contains(n)).collect();
    for _ in 0..3 {
        puts.fill(None);
        for (n, put) in outside.iter().zip(rows(&outside.iter().map(|n| &marks[*n]).collect::<Vec<_>>(), room)) {
            puts[*n] = Some(put);
        }
        let lines: Vec<_> =
            outside.iter().filter_map(|n| puts[*n]).filter_map(|p| Some((p.centre, p.leads_to?))).collect();
        let mut moved = false;
        for n in order.iter().copied().filter(|n| !outside.contains(n)).collect::<Vec<_>>() {
            let taken: Vec<_> = puts.iter().flatten().map(|p| p.centre).collect();
            if let Some(centre) = within(&marks[n], boxes, room, &taken, &lines) {
                puts[n] = Some(Put { centre, leads_to: None });
            } else {
                outside.push(n);
                moved = true;
            }
        }
        if !moved {
            break;
        }
    }
    // What found no room in the last round stands at its point.
    marks.iter().zip(puts).map(|(m, p)| p.unwrap_or(Put { centre: m.at, leads_to: None })).collect()
}

/// Room for the balloon in its own box, clear of edges, of other balloons and of lines.
fn within(mark: &Mark, boxes: &[Area], room: &Room, taken: &[(f64, f64)], lines: &[Line]) -> Option<(f64, f64)> {
    let own = mark.area?;
    let keep = room.radius + 0.5;
    if own.width() < 2.0 * keep || own.height() < 2.0 * keep {
        return None;
    }
    let apart = 2.0 * room.radius + 0.8;
    let surface = |a: &Area| a.width() * a.height();
    let free = |c: (f64, f64)| {
        let clear = boxes.iter().filter(|b| **b != own).all(|b| {
            let nearest = (c.0.clamp(b.left, b.right), c.1.clamp(b.top, b.bottom));
            let beyond = square(c.0 - nearest.0, c.1 - nearest.1) >= keep * keep;
            let deep = [c.0 - b.left, b.right - c.0, c.1 - b.top, b.bottom - c.1].iter().all(|d| *d >= keep);
            // Within a larger one is well: the smallest box around a number is the one it means.
            beyond || deep && surface(b) > surface(&own) * 1.05
        });
        clear
            && taken.iter().all(|t| square(t.0 - c.0, t.1 - c.1) >= apart * apart)
            && lines.iter().all(|(a, b)| square_to_line(c, *a, *b) >= keep * keep)
    };
    let (middle_x, middle_y) = (f64::midpoint(own.left, own.right), f64::midpoint(own.top, own.bottom));
    let (reach_x, reach_y) = (own.width() / 2.0 - keep, own.height() / 2.0 - keep);
    let mut spots = Vec::new();
    for across in -40..=40_i32 {
        for down in -12..=12_i32 {
            spots.push((reach_x * f64::from(across) / 40.0, reach_y * f64::from(down) / 12.0));
        }
    }
    spots.sort_by(|a, b| square(a.0, a.1).total_cmp(&square(b.0, b.1)));
    spots.into_iter().map(|(dx, dy)| (middle_x + dx, middle_y + dy)).find(|c| free(*c))
}

/// The point of a box nearest its middle that lies in no smaller box: so the dot tells which box is meant.
fn meant(mark: &Mark, boxes: &[Area]) -> (f64, f64) {
    let Some(own) = mark.area else { return mark.at };
    let surface = |a: &Area| a.width() * a.height();
    let smaller: Vec<&Area> = boxes.iter().filter(|b| surface(b) < surface(&own) * 0.98).collect();
    let middle = (f64::midpoint(own.left, own.right), f64::midpoint(own.top, own.bottom));
    let clear = |c: &(f64, f64)| !smaller.iter().any(|b| b.grown(0.6).holds(&Area::at(c.0, c.1, 0.0, 0.0)));
    // Mostly the middle itself is free, and the others need not be put in order.
    if clear(&middle) {
        return middle;
    }
    let mut spots = vec![(0.0, 0.0)];
    for across in -24..=24_i32 {
        for down in -12..=12_i32 {
            spots.push((own.width() * f64::from(across) / 50.0, own.height() * f64::from(down) / 26.0));
        }
    }
    spots.sort_by(|a, b| square(a.0, a.1).total_cmp(&square(b.0, b.1)));
    spots.into_iter().map(|(dx, dy)| (middle.0 + dx, middle.1 + dy)).find(clear).unwrap_or(mark.at)
}

/// Square of a length: where lengths are only compared, the root is time lost.
fn square(across: f64, down: f64) -> f64 {
    across * across + down * down
}

/// Square of the distance of a point from a line between two.
fn square_to_line(point: (f64, f64), from: (f64, f64), to: (f64, f64)) -> f64 {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let long = square(dx, dy);
    let share = if long > 0.0 { ((point.0 - from.0) * dx + (point.1 - from.1) * dy) / long } else { 0.0 };
    let share = share.clamp(0.0, 1.0);
    square(point.0 - from.0 - dx * share, point.1 - from.1 - dy * share)
}

/// Rows above and below the view, each mark on the nearer side where there is room.
fn rows(marks: &[&Mark], room: &Room) -> Vec<Put> {
    let middle = f64::midpoint(room.view.top, room.view.bottom);
    let mut sides: [Vec<usize>; 2] = [Vec::new(), Vec::new()];
    for (n, mark) in marks.iter().enumerate() {
        sides[usize::from(mark.at.1 > middle && !room.above_only)].push(n);
    }
    // A side that is much fuller gives those nearest the middle away.
    let limit = room.capacity().min(marks.len().div_ceil(2) + 2);
    for from in [0, 1] {
        while !room.above_only && sides[from].len() > limit && sides[1 - from].len() < limit {
            let nearest = (0..sides[from].len())
                .min_by(|a, b| {
                    let off = |i: usize| (marks[sides[from][i]].at.1 - middle).abs();
                    off(*a).total_cmp(&off(*b))
                })
                .unwrap_or(0);
            let moved = sides[from].remove(nearest);
            sides[1 - from].push(moved);
        }
    }
    let mut puts = vec![Put { centre: (0.0, 0.0), leads_to: None }; marks.len()];
    for (side, members) in sides.iter_mut().enumerate() {
        members.sort_by(|a, b| marks[*a].at.0.total_cmp(&marks[*b].at.0).then(a.cmp(b)));
        let lanes = members.len().div_ceil(room.capacity()).max(1);
        for lane in 0..lanes {
            let mut here: Vec<usize> = members.iter().copied().skip(lane).step_by(lanes).collect();
            let wanted: Vec<f64> = here.iter().map(|n| marks[*n].at.0).collect();
            let xs = apart(&wanted, room.pitch(), room.left + room.radius, room.right - room.radius);
            let y = if side == 0 { room.view.top - room.row(lane) } else { room.view.bottom + room.row(lane) };
            uncross(&mut here, &xs, y, marks);
            for (n, x) in here.iter().zip(&xs) {
                puts[*n] = Put { centre: (*x, y), leads_to: Some(marks[*n].at) };
            }
        }
    }
    puts
}

/// Swaps neighbours whose lines cross.
fn uncross(members: &mut [usize], xs: &[f64], y: f64, marks: &[&Mark]) {
    let cross = |a: usize, xa: f64, b: usize, xb: f64| crosses((xa, y), marks[a].at, (xb, y), marks[b].at);
    let all = |members: &[usize]| {
        let mut count = 0;
        for i in 0..members.len() {
            for j in i + 1..members.len() {
                count += usize::from(cross(members[i], xs[i], members[j], xs[j]));
            }
        }
        count
    };
    let mut best = all(members);
    for _ in 0..8 {
        let before = best;
        for i in 0..members.len().saturating_sub(1) {
            members.swap(i, i + 1);
            let now = all(members);
            if now < best {
                best = now;
            } else {
                members.swap(i, i + 1);
            }
        }
        if best == before {
            break;
        }
    }
}

fn crosses(a: (f64, f64), b: (f64, f64), c: (f64, f64), d: (f64, f64)) -> bool {
    let turn = |p: (f64, f64), q: (f64, f64), r: (f64, f64)| (q.0 - p.0) * (r.1 - p.1) - (q.1 - p.1) * (r.0 - p.0);
    turn(a, b, c) * turn(a, b, d) < 0.0 && turn(c, d, a) * turn(c, d, b) < 0.0
}

/// Points of a line near where they want to be, in their order, at least `pitch` apart, from `left` to `right`.
#[must_use]
pub(crate) fn apart(wanted: &[f64], pitch: f64, left: f64, right: f64) -> Vec<f64> {
    let count = |n: usize| f64::from(u32::try_from(n).unwrap_or(u32::MAX));
    // Blocks of points that touch: sum of what they want less their place in the block, number, first.
    let mut blocks: Vec<(f64, usize)> = Vec::new();
    for x in wanted {
        let mut block = (*x, 1);
        while let Some((sum, size)) = blocks.last().copied() {
            let end = sum / count(size) + count(size) * pitch;
            if end <= block.0 / count(block.1) {
                break;
            }
            blocks.pop();
            block = (sum + block.0 - count(size) * pitch * count(block.1), size + block.1);
        }
        blocks.push(block);
    }
    let mut out = Vec::with_capacity(wanted.len());
    for (sum, size) in blocks {
        let first = sum / count(size);
        out.extend((0..size).map(|n| first + count(n) * pitch));
    }
    let total = out.len();
    for (n, x) in out.iter_mut().enumerate() {
        let low = left + count(n) * pitch;
        let high = right - count(total - 1 - n) * pitch;
        *x = x.min(high).max(low);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_keep_apart_and_stay_near() {
        let xs = apart(&[10.0, 10.0, 10.0, 40.0], 5.0, 0.0, 100.0);
        assert_eq!(xs, [5.0, 10.0, 15.0, 40.0]);
        let pressed = apart(&[1.0, 1.0, 99.0, 99.0], 5.0, 0.0, 100.0);
        assert_eq!(pressed, [0.0, 5.0, 95.0, 100.0]);
        assert!(apart(&[], 5.0, 0.0, 100.0).is_empty());
    }

    #[test]
    fn a_number_stands_in_its_box_where_there_is_room() {
        let view = Area::at(0.0, 50.0, 100.0, 40.0);
        let room = Room { view, left: 0.0, right: 100.0, radius: 2.3, outside_only: false, above_only: false };
        let large = Area::at(10.0, 55.0, 20.0, 20.0);
        let small = Area::at(18.0, 63.0, 4.0, 4.0);
        let mark =
            |a: Area| Mark { at: (f64::midpoint(a.left, a.right), f64::midpoint(a.top, a.bottom)), area: Some(a) };
        let puts = put(&[mark(large), mark(small)], &[large, small], &room);
        assert_eq!(puts[0].leads_to, None);
        assert!(large.holds(&Area::at(puts[0].centre.0 - 2.3, puts[0].centre.1 - 2.3, 4.6, 4.6)));
        // Too small for a balloon: a line leads to it, and the number is outside the view.
        assert_eq!(puts[1].leads_to, Some((20.0, 65.0)));
        assert!(puts[1].centre.1 < view.top);
    }
}
