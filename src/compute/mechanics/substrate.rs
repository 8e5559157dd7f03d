//! What a fixing holds in the body: the weakest of bolt, sheet and rivet nut, sideways and pulled out together.

use super::fasteners;
use crate::tables::bolts::{Class, Metric};
use serde::Serialize;

/// Tensile strength of mild body sheet, Pa: the least of the drawing grades. Source:
/// [`crate::tables::sources::SHEET_BEARING`].
const SHEET_STRENGTH: f64 = 270e6;

/// Partial safety factor of EN 1993-1-3 for connections.
const SAFETY: f64 = 1.25;

/// Sheet of a van's floor and sides where nobody measured it, m. Common practice, no source.
pub const USUAL_SHEET: f64 = 0.8e-3;

/// Side of a backing plate that nobody measured, m. Common practice, no source.
pub const USUAL_PLATE: f64 = 50e-3;

/// Outer diameter of a body washer over that of its bolt (ISO 7093-1, from memory).
const WASHER: f64 = 3.0;

/// Edge distance over the hole that is left at least where nobody measured it (EN 1993-1-3, e1 ≥ 1.0 d0; rounded up).
const EDGE: f64 = 1.5;

/// What bolts go into.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Into {
    /// Through sheet, with a body washer.
    Sheet,
    /// Rivet nuts in sheet.
    RivetNut,
    /// Through sheet, with a plate behind it.
    Plate,
    /// A rail or member with a thread or a hole made for them.
    Frame,
}

impl Into {
    /// As a spec writes it.
    #[must_use]
    pub fn read(word: &str) -> Option<Self> {
        match word {
            "sheet" => Some(Self::Sheet),
            "rivet-nut" => Some(Self::RivetNut),
            "plate" => Some(Self::Plate),
            "frame" => Some(Self::Frame),
            _ => None,
        }
    }
}

/// What gives way first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Link {
    /// The bolt is sheared or pulled apart.
    Bolt,
    /// The hole in the sheet is drawn long or torn to the edge.
    Bearing,
    /// The washer or plate is drawn through the sheet.
    PullThrough,
    /// The rivet nut leaves the sheet.
    RivetNut,
}

impl Link {
    /// As documents print it.
    #[must_use]
    pub const fn show(self) -> &'static str {
        match self {
            Self::Bolt => "the bolts",
            Self::Bearing => "the edges of the holes",
            Self::PullThrough => "washers or plates in the sheet",
            Self::RivetNut => "the rivet nuts",
        }
    }
}

/// The ground of one fixing. Lengths in metres.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Ground {
    /// What the bolts go into.
    pub into: Into,
    /// Thickness of the sheet.
    pub sheet: f64,
    /// From the hole's middle to the edge of the sheet; `None` where nobody measured it.
    pub edge: Option<f64>,
    /// Side of the plate behind the sheet.
    pub plate: f64,
}

/// A force in newtons, and what gives way at it.
pub type Held = (f64, Link);

/// Bearing of a bolt in sheet with tear-out to the edge, N. `None` for sheet of less than 0.5 mm, for which the formula is
/// not made.
///
/// Source: [`crate::tables::sources::SHEET_BEARING`].
#[must_use]
pub fn bearing(diameter: f64, sheet: f64, edge: f64) -> Option<f64> {
    let millimetres = sheet * 1e3;
    if !(millimetres >= 0.5 && diameter > 0.0 && edge > 0.0) {
        return None;
    }
    let towards_edge = (edge / (3.0 * diameter)).min(1.0);
    let thin = if millimetres > 1.25 { 1.0 } else { (0.8 * millimetres + 1.5) / 2.5 };
    Some(2.5 * towards_edge * thin * SHEET_STRENGTH * diameter * sheet / SAFETY)
}

/// Pull-through of a washer or plate in sheet, N. Source: [`crate::tables::sources::PULL_THROUGH`].
#[must_use]
pub fn pull_through(across: f64, sheet: f64) -> f64 {
    across * sheet * SHEET_STRENGTH / SAFETY
}

/// What pushes a rivet nut out of sheet, N: the lesser of round and hexagonal bodies.
///
/// Source: [`crate::tables::sources::RIVET_NUT`].
#[must_use]
pub fn push_out(size: &str) -> Option<f64> {
    match size {
        "M4" => Some(900.0),
        "M5" => Some(1200.0),
        "M6" => Some(1700.0),
        "M8" => Some(1500.0),
        "M10" => Some(2600.0),
        _ => None,
    }
}

impl Ground {
    /// Force sideways that one bolt holds.
    #[must_use]
    pub fn sideways(&self, bolt: Metric, class: Class) -> Option<Held> {
        let own = (fasteners::shear(bolt, class), Link::Bolt);
        if self.into == Into::Frame {
            return Some(own);
        }
        let edge = self.edge.unwrap_or(EDGE * bolt.diameter);
        let sheet = (bearing(bolt.diameter, self.sheet, edge)?, Link::Bearing);
        // A rivet nut tilts before it is sheared off: it holds no more sideways than it does against being pushed out.
        match self.into {
            Into::RivetNut => Some(least(least(own, sheet), (push_out(bolt.size)?, Link::RivetNut))),
            _ => Some(least(own, sheet)),
        }
    }

    /// Force straight out that one bolt holds.
    #[must_use]
    pub fn out(&self, bolt: Metric, class: Class) -> Option<Held> {
        let own = (class.proof() * bolt.area(), Link::Bolt);
        let other = match self.into {
            Into::Frame => return Some(own),
            Into::RivetNut => (push_out(bolt.size)?, Link::RivetNut),
            Into::Sheet => (pull_through(WASHER * bolt.diameter, self.sheet), Link::PullThrough),
            Into::Plate => (pull_through(self.plate, self.sheet), Link::PullThrough),
        };
        Some(least(own, other))
    }
}

fn least(a: Held, b: Held) -> Held {
    if b.0 < a.0 { b } else { a }
}

/// A thing on its fixings: how high above them its weight is, and how far apart they stand the way it is pushed. Metres.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Stance {
    /// Height of its middle above the fixings.
    pub height: f64,
    /// From the foremost to the rearmost.
    pub base: f64,
}

/// The force at the middle of a thing, N, that `bolts` of a ground hold, and what gives way: all share the push, half of
/// them the pull of what tips it over. Push and pull add up in a line, as for fasteners in sheet.
#[must_use]
pub fn holds(ground: &Ground, bolt: Metric, class: Class, bolts: f64, stance: Option<Stance>) -> Option<Held> {
    let (sideways, by_push) = ground.sideways(bolt, class)?;
    let push = 1.0 / (bolts * sideways);
    let pull = match stance {
        Some(stance) if stance.base > 0.0 => {
            let (out, by_pull) = ground.out(bolt, class)?;
            (stance.height.max(0.0) / (stance.base * bolts / 2.0 * out), by_pull)
        }
        Some(_) => return None,
        None => (0.0, by_push),
    };
    let link = if pull.0 > push { pull.1 } else { by_push };
    let sum = push + pull.0;
    (sum.is_finite() && sum > 0.0).then(|| (1.0 / sum, link))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::reference::{num, rows};

    #[test]
    fn sheet_bears_what_the_code_says() {
        for row in rows("sheet-bearing") {
            let (d, t, e) = (num(&row, "d_mm") / 1e3, num(&row, "t_mm") / 1e3, num(&row, "e1_mm") / 1e3);
            let got = bearing(d, t, e).expect("in range");
            assert!((got - num(&row, "FbRd_N")).abs() < 1.0, "{row:?}: {got}");
        }
        assert_eq!(bearing(6e-3, 0.4e-3, 9e-3), None);
    }

    /// The American rule for the same joint is of the same size: published 2.78 kip for 3/8 in in 0.06 in, Fu 55 ksi,
    /// single shear without washers (0.75 · 3 · d · t · Fu). Ours without its safety factor has 2.5 for that 2.25.
    #[test]
    fn the_american_rule_is_near_it() {
        let (kip, inch) = (4448.2, 0.0254);
        let published = num(&rows("aisi-bearing-example")[0], "Pn_published") * kip;
        let got = bearing(0.375 * inch, 0.06 * inch, 9.0 * 0.375 * inch).expect("in range");
        let like = got * SAFETY * (55.0 * 6.895e6 / SHEET_STRENGTH);
        assert!((1.0..=1.15).contains(&(like / published)), "{}", like / published);
    }

    #[test]
    fn a_rivet_nut_is_pushed_out_long_before_its_thread_fails() {
        for row in rows("rivet-nut").iter().filter(|row| row["source"] == "1") {
            let published = num(row, "push_out_kN") * 1e3;
            let got = push_out(&row["thread"]).expect("in the table");
            assert!(got <= published + 1e-9 && got > 0.8 * published, "{row:?}: {got}");
            assert!(got < 0.3 * num(row, "pull_out_kN") * 1e3, "{row:?}");
        }
    }

    #[test]
    fn what_tips_over_is_held_by_half_of_them() {
        let bolt = Metric::named("M8").expect("M8");
        let plate = Ground { into: Into::Plate, sheet: 1e-3, edge: Some(24e-3), plate: 50e-3 };
        let flat = holds(&plate, bolt, Class::C88, 4.0, None).expect("flat");
        // EN 1993-1-3, by hand: 2.5 · 1 · 0.92 · 270 · 8 · 1 / 1.25 = 3974 N a bolt.
        assert!((flat.0 - 4.0 * 3974.4).abs() < 0.5, "{flat:?}");
        assert_eq!(flat.1, Link::Bearing);
        // As high as it is wide: 10,800 N out of two bolts each beside the push.
        let tall = holds(&plate, bolt, Class::C88, 4.0, Some(Stance { height: 0.5, base: 0.5 })).expect("tall");
        let expected = 1.0 / (1.0 / (4.0 * 3974.4) + 1.0 / (2.0 * 10_800.0));
        assert!((tall.0 - expected).abs() < 0.5, "{tall:?}");
        // A thing without a base is not held by a formula.
        assert_eq!(holds(&plate, bolt, Class::C88, 4.0, Some(Stance { height: 0.5, base: 0.0 })), None);
        let nuts = Ground { into: Into::RivetNut, ..plate };
        let weak = holds(&nuts, bolt, Class::C88, 4.0, Some(Stance { height: 0.5, base: 0.5 })).expect("nuts");
        assert_eq!(weak.1, Link::RivetNut);
        assert!(weak.0 < tall.0 / 3.0, "{weak:?} of {tall:?}");
        let frame = Ground { into: Into::Frame, ..plate };
        assert_eq!(holds(&frame, bolt, Class::C88, 4.0, None).expect("frame").1, Link::Bolt);
    }
}
