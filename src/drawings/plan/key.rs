//! Keys: the numbers of a sheet with what they stand for, in columns, over as many sheets as they take.

use super::sign::{self, Sign};
use crate::drawings::canvas::{Canvas, Pen, Type, Weight};
use crate::drawings::letters;

/// Something the key tells of.
#[derive(Clone, Debug)]
pub(crate) struct Entry {
    /// The sign it has on the drawing.
    pub sign: Sign,
    /// Its title.
    pub title: String,
    /// What stands there: name, and id or figure beside it.
    pub rows: Vec<(String, String)>,
}

/// One line of a key.
#[derive(Clone, Debug)]
enum Line {
    /// Sign, first line of the title; whether it goes on from before.
    Head(Sign, String),
    /// More of the title.
    More(String),
    /// Name, what stands beside it.
    Row(String, String),
    /// More of a row: never parted from it.
    Tail(String, String),
    /// Room between entries.
    Space,
}

/// A key broken into lines that fit a column.
#[derive(Clone, Debug)]
pub(crate) struct Key {
    lines: Vec<Line>,
    columns: usize,
    width: f64,
}

/// Text sizes and heights, mm.
const TITLE: f64 = 2.5;
const TEXT: f64 = 2.3;
const LINE: f64 = 3.2;
const SPACE: f64 = 1.6;
/// Where text begins, right of the sign.
const INDENT: f64 = 6.2;
/// Between columns.
const GUTTER: f64 = 5.0;

/// Lines of an entry that may be left behind in a column for the sake of keeping it whole.
const SHORT: usize = 5;

impl Line {
    const fn height(&self) -> f64 {
        match self {
            Self::Head(..) => 4.6,
            Self::More(_) | Self::Row(..) | Self::Tail(..) => LINE,
            Self::Space => SPACE,
        }
    }
}

impl Key {
    /// Breaks entries into lines for `columns` columns in `width`.
    #[must_use]
    pub(crate) fn new(entries: &[Entry], columns: usize, width: f64) -> Self {
        let columns = columns.max(1);
        let n = f64::from(u32::try_from(columns).unwrap_or(1));
        let column = (width - GUTTER * (n - 1.0)) / n;
        let mut lines = Vec::new();
        for entry in entries {
            if !lines.is_empty() {
                lines.push(Line::Space);
            }
            let mut title = letters::lines(&entry.title, TITLE, Weight::Semibold, column - INDENT).into_iter();
            if entry.sign != Sign::Blank || !entry.title.is_empty() {
                lines.push(Line::Head(entry.sign.clone(), title.next().unwrap_or_default()));
            }
            lines.extend(title.map(Line::More));
            for (name, beside) in &entry.rows {
                rows(&mut lines, name, beside, column - INDENT);
            }
        }
        Self { lines, columns, width: column }
    }

    /// Whether all has been drawn.
    #[must_use]
    pub(crate) const fn is_empty(&self) -> bool {
        self.lines.is_empty()
    }

    /// Height of the columns when they share all lines evenly; no more than `room`.
    fn height(&self, room: f64) -> f64 {
        let all: f64 = self.lines.iter().map(Line::height).sum();
        let n = f64::from(u32::try_from(self.columns).unwrap_or(1));
        let mut height = (all / n).max(LINE * 4.0);
        while height < room && self.fitting(height) < self.lines.len() {
            height += 0.8;
        }
        height.min(room)
    }

    /// How many lines go into columns of `height`.
    fn fitting(&self, height: f64) -> usize {
        self.ends(height).last().copied().unwrap_or(0)
    }

    /// The end of each column: a title never stands alone at the foot, and an id never goes on without its name.
    fn ends(&self, height: f64) -> Vec<usize> {
        let mut ends = Vec::new();
        let mut next = 0;
        for _ in 0..self.columns {
            while matches!(self.lines.get(next), Some(Line::Space)) {
                next += 1;
            }
            let (mut at, mut used) = (next, 0.0);
            while let Some(line) = self.lines.get(at).filter(|l| used + l.height() <= height + 1e-6) {
                used += line.height();
                at += 1;
            }
            let full = at < self.lines.len();
            // A title without rows stands by itself.
            let goes_on = |at: usize| matches!(self.lines.get(at), Some(Line::Row(..) | Line::More(_)));
            let lonely = |at: usize| matches!(self.lines[at - 1], Line::Head(..) | Line::More(_)) && goes_on(at);
            let torn = |at: usize| matches!(self.lines.get(at), Some(Line::Tail(..)));
            while full && at > next + 1 && (lonely(at) || torn(at)) {
                at -= 1;
            }
            // A short entry is not torn apart: it goes to the next column whole.
            let head = (next..at).rev().find(|i| matches!(self.lines[*i], Line::Head(..)));
            if let Some(head) = head.filter(|h| full && goes_on(at) && *h > next && at - h <= SHORT) {
                at = head;
            }
            next = at;
            ends.push(at);
        }
        ends
    }

    /// Draws what goes into `room`, and keeps the rest; gives the height used.
    pub(crate) fn draw(&mut self, canvas: &mut Canvas, (left, top): (f64, f64), room: f64) -> f64 {
        let height = self.height(room);
        let ends = self.ends(height);
        let mut from = 0;
        let mut head: Option<(Sign, String)> = None;
        let mut used = 0.0_f64;
        for (n, end) in ends.iter().enumerate() {
            let x = left + f64::from(u32::try_from(n).unwrap_or(0)) * (self.width + GUTTER);
            let mut y = top;
            let lines = self.lines.get(from..*end).unwrap_or_default();
            for (i, line) in lines.iter().enumerate() {
                if i == 0 && matches!(line, Line::Space) {
                    continue;
                }
                if let Line::Head(sign, title) = line {
                    head = Some((sign.clone(), title.clone()));
                }
                draw_line(canvas, line, (x, y), self.width);
                y += line.height();
            }
            from = *end;
            used = used.max(y - top);
        }
        let rest = self.lines.split_off(from);
        self.lines = rest.into_iter().skip_while(|l| matches!(l, Line::Space)).collect();
        // An entry that goes on elsewhere says so.
        if let (Some((sign, title)), Some(Line::Row(..) | Line::More(_))) = (head, self.lines.first()) {
            let room = self.width - INDENT;
            let more = " (goes on)";
            let room = room - letters::width(more, TITLE, Weight::Semibold);
            let told = letters::fitted(&title, TITLE, Weight::Semibold, room);
            self.lines.insert(0, Line::Head(sign, format!("{told}{more}")));
        }
        used
    }
}

/// A row: name and what stands beside it on one line where they fit, else the name broken and the rest below.
fn rows(lines: &mut Vec<Line>, name: &str, beside: &str, room: f64) {
    let wide = letters::width(beside, TEXT, Weight::Regular);
    let mut broken = letters::lines(name, TEXT, Weight::Regular, room);
    let last = broken.pop().unwrap_or_default();
    let mut first = true;
    let mut line = |lines: &mut Vec<Line>, name: String, beside: String| {
        lines.push(if std::mem::take(&mut first) { Line::Row(name, beside) } else { Line::Tail(name, beside) });
    };
    for part in broken {
        line(lines, part, String::new());
    }
    if letters::width(&last, TEXT, Weight::Regular) + 2.0 + wide <= room {
        line(lines, last, beside.to_owned());
        return;
    }
    line(lines, last, String::new());
    // An id is never cut: it is broken between its words where it must be.
    let mut below = letters::lines(beside, TEXT, Weight::Regular, room);
    if below.len() == 1 && below[0] != beside {
        below = vec![beside.to_owned()];
    }
    for part in below {
        line(lines, String::new(), part);
    }
}

fn draw_line(canvas: &mut Canvas, line: &Line, (x, y): (f64, f64), width: f64) {
    match line {
        Line::Head(sign, title) => {
            sign::draw(canvas, (x + 2.4, y + 2.1), 2.1, sign);
            canvas.text((x + INDENT, y + 3.0), title, Type::of(TITLE).bold());
        }
        Line::More(title) => {
            canvas.text((x + INDENT, y + 2.3), title, Type::of(TITLE).bold());
        }
        Line::Row(name, beside) | Line::Tail(name, beside) => {
            let written = canvas.text((x + INDENT, y + 2.3), name, Type::of(TEXT));
            let style = Type::of(TEXT).end().grey(0.35);
            let area = canvas.text((x + width, y + 2.3), beside, style);
            if !name.is_empty() && !beside.is_empty() && area.left - written.right > 3.0 {
                let leader = Pen::of(0.12).grey(0.6).dash(crate::drawings::canvas::Dash::Dotted);
                canvas.line((written.right + 1.0, y + 2.2), (area.left - 1.0, y + 2.2), leader);
            }
        }
        Line::Space => {}
    }
}
