//! How texts, lines and fills look.

use super::letters::Weight;

/// Where a text stands from its point.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Anchor {
    /// It begins there.
    #[default]
    Start,
    /// Its middle is there.
    Middle,
    /// It ends there.
    End,
}

/// How a text looks.
#[derive(Clone, Copy, Debug)]
pub struct Type {
    /// Size, mm: 2.2 is the smallest that reads well at arm's length.
    pub size: f64,
    /// Weight.
    pub weight: Weight,
    /// Where it stands from its point.
    pub anchor: Anchor,
    /// Lightness: 0 black, 1 white. Text stays below 0.45.
    pub grey: f64,
}

impl Type {
    /// Regular, black, from its point on.
    #[must_use]
    pub const fn of(size: f64) -> Self {
        Self { size, weight: Weight::Regular, anchor: Anchor::Start, grey: 0.0 }
    }

    /// The same in semibold.
    #[must_use]
    pub const fn bold(self) -> Self {
        Self { weight: Weight::Semibold, ..self }
    }

    /// The same around its point.
    #[must_use]
    pub const fn middle(self) -> Self {
        Self { anchor: Anchor::Middle, ..self }
    }

    /// The same up to its point.
    #[must_use]
    pub const fn end(self) -> Self {
        Self { anchor: Anchor::End, ..self }
    }

    /// The same in grey.
    #[must_use]
    pub const fn grey(self, grey: f64) -> Self {
        Self { grey, ..self }
    }
}

/// Dashes of a line.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Dash {
    /// Drawn through.
    #[default]
    None,
    /// 2 mm on, 1.2 mm off.
    Dashed,
    /// Dots.
    Dotted,
    /// Long, dot, long.
    Chain,
}

/// A line.
#[derive(Clone, Copy, Debug)]
pub struct Pen {
    /// Width, mm; 0 draws none.
    pub width: f64,
    /// Lightness: 0 black, 1 white.
    pub grey: f64,
    /// Dashes.
    pub dash: Dash,
}

impl Pen {
    /// A black line.
    #[must_use]
    pub const fn of(width: f64) -> Self {
        Self { width, grey: 0.0, dash: Dash::None }
    }

    /// No line.
    pub const NONE: Self = Self::of(0.0);

    /// The same in grey.
    #[must_use]
    pub const fn grey(self, grey: f64) -> Self {
        Self { grey, ..self }
    }

    /// The same with dashes.
    #[must_use]
    pub const fn dash(self, dash: Dash) -> Self {
        Self { dash, ..self }
    }
}

/// What fills a shape.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Fill {
    /// Nothing.
    #[default]
    None,
    /// Lightness: 0 black, 1 white.
    Grey(f64),
    /// A named hatching that was given to [`super::canvas::Canvas::hatch`].
    Hatch(u8),
}
