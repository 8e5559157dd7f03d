//! Cable to cut: the sums per size of what is cut from reels.

use super::conductors::{Core, cables};
use crate::compute::network::colour;
use crate::documents::Context;
use crate::units::{ConductorSize, Metres};
use serde::Serialize;

/// A cable to cut.
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
    let colours = &context.electrical.profile.colours;
    let pieces = cables(context).into_iter().map(|cable| {
        let all: Vec<String> = cable.wires.iter().map(|(c, _)| colour(c.carries, colours)).collect();
        let core = match cable.wires.as_slice() {
            [(one, _)] => Core::of(one),
            several => Core::Sheathed(several.len()),
        };
        Piece { size: cable.size, core, colour: all.join(", "), length: cable.cut }
    });
    sums(pieces)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kinds::Carries;

    const PLUS: Core = Core::Of(Carries::Positive);
    const MINUS: Core = Core::Of(Carries::Negative);

    fn piece(size: ConductorSize, core: Core, length: Option<f64>) -> Piece {
        Piece { size, core, colour: "red".to_owned(), length: length.map(Metres) }
    }

    #[test]
    fn pieces_are_summed_per_size_and_core_thick_first() {
        let (thin, thick) = (ConductorSize::Awg(14), ConductorSize::Awg(-1));
        let lines = sums([
            piece(thin, PLUS, Some(4.5)),
            piece(thin, MINUS, Some(4.5)),
            piece(thick, PLUS, Some(1.2)),
            piece(thin, PLUS, Some(2.0)),
            piece(thin, PLUS, None),
        ]);
        let order: Vec<_> = lines.iter().map(|l| (l.size, l.core)).collect();
        assert_eq!(order, [(thick, PLUS), (thin, PLUS), (thin, MINUS)]);
        let thin_positive = &lines[1];
        assert_eq!((thin_positive.pieces, thin_positive.to_measure), (2, 1));
        assert!((thin_positive.length.0 - 6.5).abs() < 1e-12);
        assert!((thin_positive.longest.0 - 4.5).abs() < 1e-12);
    }

    #[test]
    fn other_colours_stand_apart() {
        let size = ConductorSize::Metric(2.5);
        let blue = Piece { colour: "blue".to_owned(), ..piece(size, MINUS, Some(1.0)) };
        assert_eq!(sums([blue, piece(size, MINUS, Some(1.0))]).len(), 2);
    }
}
