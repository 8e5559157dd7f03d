//! Boxes on a sheet, and the texts that take them.

/// A box on the sheet, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Area {
    /// Left.
    pub left: f64,
    /// Top.
    pub top: f64,
    /// Right.
    pub right: f64,
    /// Bottom.
    pub bottom: f64,
}

impl Area {
    /// From its upper left corner and its size.
    #[must_use]
    pub fn at(left: f64, top: f64, width: f64, height: f64) -> Self {
        Self { left, top, right: left + width, bottom: top + height }
    }

    /// Width.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.right - self.left
    }

    /// Height.
    #[must_use]
    pub fn height(&self) -> f64 {
        self.bottom - self.top
    }

    /// Whether the two share more than a rim of 0.1 mm.
    #[must_use]
    pub fn overlaps(&self, other: &Self) -> bool {
        let rim = 0.1;
        self.left.max(other.left) + rim < self.right.min(other.right)
            && self.top.max(other.top) + rim < self.bottom.min(other.bottom)
    }

    /// Whether `inner` lies within.
    #[must_use]
    pub fn holds(&self, inner: &Self) -> bool {
        let rim = 0.01;
        inner.left >= self.left - rim
            && inner.right <= self.right + rim
            && inner.top >= self.top - rim
            && inner.bottom <= self.bottom + rim
    }

    /// Larger by `by` on every side.
    #[must_use]
    pub fn grown(&self, by: f64) -> Self {
        Self { left: self.left - by, top: self.top - by, right: self.right + by, bottom: self.bottom + by }
    }
}

/// A text on the sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// What it says.
    pub text: String,
    /// The room it takes.
    pub area: Area,
}
