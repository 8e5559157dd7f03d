//! Cable to cut: which conductors a circuit has, how long each is cut, and the sums per size.

pub(crate) use crate::compute::network::{Core, conductors};

use crate::build::{Build, Circuit};
use crate::compute::network::{self, CircuitFigures};
use crate::documents::Context;
use crate::units::{ConductorSize, Metres, System};
use serde::Serialize;

/// Length added to the route of each piece, both ends together, as a round figure of the units in print: strip, second
/// crimp, and slack to dress the cable. Common practice, no source.
#[must_use]
pub(crate) const fn allowance(prints: System) -> Metres {
    match prints {
        System::Metric => Metres(0.3),
        System::Us => Metres(0.3048),
    }
}

/// Colours of a circuit's conductors: "red, black".
#[must_use]
pub(crate) fn colours(context: &Context<'_>, circuit: &Circuit, figures: &CircuitFigures) -> String {
    network::colours(context.build, circuit, figures, &context.electrical.profile.colours)
}

/// How one circuit is cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Cut {
    /// Pieces: one a conductor, or one sheathed cable.
    pub pieces: u32,
    /// Length of each.
    pub each: Metres,
}

impl Cut {
    /// Of a route with `pieces` cables in it.
    #[must_use]
    pub(crate) fn of(run: Metres, pieces: u32, prints: System) -> Self {
        Self { pieces, each: run + allowance(prints) }
    }

    /// Length of all pieces.
    #[must_use]
    pub(crate) fn total(self) -> Metres {
        self.each * f64::from(self.pieces)
    }
}

/// Pieces of cable of a circuit with `cores` conductors: a sheathed cable is one.
#[must_use]
pub(crate) fn pieces(circuit: &Circuit, cores: usize) -> u32 {
    if circuit.sheathed { 1 } else { u32::try_from(cores).unwrap_or(1) }
}

/// How `circuit` is cut; `None` where its run is not known.
#[must_use]
pub(crate) fn cut(build: &Build<'_>, circuit: &Circuit, figures: &CircuitFigures) -> Option<Cut> {
    let cores = conductors(build, circuit, figures).len();
    let pieces = pieces(circuit, cores);
    Some(Cut::of(circuit.run?, pieces, build.prints()))
}

/// A piece of one circuit.
#[derive(Clone, Debug)]
pub(crate) struct Piece {
    /// Size.
    pub size: ConductorSize,
    /// What it is.
    pub core: Core,
    /// Its colour, "" for a sheathed cable.
    pub colour: String,
    /// Its length; `None` where the run is not known.
    pub length: Option<Metres>,
}

/// Pieces of one size and kind together.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct CutLine {
    /// Size.
    pub size: ConductorSize,
    /// What it is.
    pub core: Core,
    /// Colour.
    pub colour: String,
    /// Pieces with a known length.
    pub pieces: usize,
    /// Length of them together.
    pub length: Metres,
    /// Longest of them.
    pub longest: Metres,
    /// Pieces to measure in the van: their run is not known.
    pub to_measure: usize,
}

/// Sums of pieces per size and kind, thick before thin.
#[must_use]
pub(crate) fn sums(pieces: impl IntoIterator<Item = Piece>) -> Vec<CutLine> {
    let mut lines: Vec<CutLine> = Vec::new();
    for piece in pieces {
        let same = |l: &CutLine| l.size == piece.size && l.core == piece.core && l.colour == piece.colour;
        let at = lines.iter().position(same).unwrap_or_else(|| {
            lines.push(CutLine {
                size: piece.size,
                core: piece.core,
                colour: piece.colour.clone(),
                pieces: 0,
                length: Metres(0.0),
                longest: Metres(0.0),
                to_measure: 0,
            });
            lines.len() - 1
        });
        let Some(line) = lines.get_mut(at) else { continue };
        match piece.length {
            Some(length) => {
                line.pieces += 1;
                line.length = line.length + length;
                line.longest = line.longest.max(length);
            }
            None => line.to_measure += 1,
        }
    }
    lines.sort_by(|a, b| {
        b.size.area().0.total_cmp(&a.size.area().0).then(a.core.cmp(&b.core)).then_with(|| a.colour.cmp(&b.colour))
    });
    lines
}

/// A row of the cable cut list.
#[derive(Clone, Debug, Serialize)]
pub struct CutRow {
    /// Size.
    pub size: String,
    /// What it is.
    pub core: String,
    /// Colour.
    pub colour: String,
    /// Pieces.
    pub pieces: usize,
    /// Longest piece.
    pub longest: String,
    /// Length of all together.
    pub length: String,
    /// "3 more to measure", or "".
    pub to_measure: String,
}

/// The cable cut list of the build, as documents print it.
#[must_use]
pub(crate) fn cut_list(context: &Context<'_>) -> Vec<CutRow> {
    let prints = context.build.prints();
    let show = |length: Metres, pieces: usize| if pieces == 0 { String::new() } else { length.show(prints) };
    let row = |line: CutLine| CutRow {
        size: line.size.to_string(),
        core: line.core.show(),
        colour: line.colour,
        pieces: line.pieces,
        longest: show(line.longest, line.pieces),
        length: show(line.length, line.pieces),
        to_measure: if line.to_measure == 0 { String::new() } else { format!("{} more to measure", line.to_measure) },
    };
    cut_lines(context).into_iter().map(row).collect()
}

/// The cable cut list of the build.
#[must_use]
pub(crate) fn cut_lines(context: &Context<'_>) -> Vec<CutLine> {
    let build = context.build;
    let mut pieces = Vec::new();
    for (circuit, figures) in super::worked(context) {
        let Some(size) = figures.conductor().map(|s| s.size) else { continue };
        let length = cut(build, circuit, figures).map(|c| c.each);
        let cores = conductors(build, circuit, figures);
        if circuit.sheathed && cores.len() > 1 {
            let core = Core::Sheathed(u8::try_from(cores.len()).unwrap_or(1));
            let colour = colours(context, circuit, figures);
            pieces.push(Piece { size, core, colour, length });
        } else {
            let colours = &context.electrical.profile.colours;
            pieces.extend(cores.iter().map(|&core| Piece { size, core, colour: core.colour(colours), length }));
        }
    }
    sums(pieces)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn piece(size: ConductorSize, core: Core, length: Option<f64>) -> Piece {
        Piece { size, core, colour: "red".to_owned(), length: length.map(Metres) }
    }

    #[test]
    fn a_pair_is_twice_the_route_and_the_allowance_of_both() {
        let cut = Cut::of(Metres(4.2), 2, System::Metric);
        assert!((cut.each.0 - 4.5).abs() < 1e-12);
        assert!((cut.total().0 - 9.0).abs() < 1e-12);
    }

    #[test]
    fn pieces_are_summed_per_size_and_core_thick_first() {
        let (thin, thick) = (ConductorSize::Awg(14), ConductorSize::Awg(-1));
        let lines = sums([
            piece(thin, Core::Positive, Some(4.5)),
            piece(thin, Core::Negative, Some(4.5)),
            piece(thick, Core::Positive, Some(1.2)),
            piece(thin, Core::Positive, Some(2.0)),
            piece(thin, Core::Positive, None),
        ]);
        let order: Vec<_> = lines.iter().map(|l| (l.size, l.core)).collect();
        assert_eq!(order, [(thick, Core::Positive), (thin, Core::Positive), (thin, Core::Negative)]);
        let thin_positive = &lines[1];
        assert_eq!((thin_positive.pieces, thin_positive.to_measure), (2, 1));
        assert!((thin_positive.length.0 - 6.5).abs() < 1e-12);
        assert!((thin_positive.longest.0 - 4.5).abs() < 1e-12);
    }

    #[test]
    fn other_colours_stand_apart() {
        let size = ConductorSize::Metric(2.5);
        let blue = Piece { colour: "blue".to_owned(), ..piece(size, Core::Negative, Some(1.0)) };
        assert_eq!(sums([blue, piece(size, Core::Negative, Some(1.0))]).len(), 2);
    }
}
