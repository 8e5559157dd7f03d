//! A sheet to draw on: lengths in millimetres, from the upper left corner. Every text is remembered with its box.

pub use super::area::{Area, Label};
pub use super::letters::Weight;
pub use super::pen::{Anchor, Dash, Fill, Pen, Type};

use super::letters;
use crate::typeset::html_text;
use std::fmt::Write as _;

/// A sheet being drawn.
#[derive(Clone, Debug)]
pub struct Canvas {
    width: f64,
    height: f64,
    body: String,
    hatches: Vec<(u8, f64, f64)>,
    labels: Vec<Label>,
    drawn: Option<Area>,
}

/// Share of the size that letters rise above the baseline and reach below it.
const ABOVE: f64 = 0.72;
const BELOW: f64 = 0.22;

impl Canvas {
    /// An empty sheet, mm.
    #[must_use]
    pub fn new(width: f64, height: f64) -> Self {
        Self { width, height, body: String::new(), hatches: Vec::new(), labels: Vec::new(), drawn: None }
    }

    /// Width and height, mm.
    #[must_use]
    pub const fn size(&self) -> (f64, f64) {
        (self.width, self.height)
    }

    /// Makes the sheet as high as asked for; for sheets whose height shows while they are drawn.
    pub fn set_height(&mut self, height: f64) {
        self.height = height;
    }

    /// The texts drawn so far.
    #[must_use]
    pub fn labels(&self) -> &[Label] {
        &self.labels
    }

    /// Declares a hatching: parallel lines `gap` mm apart at `degrees`.
    pub fn hatch(&mut self, name: u8, degrees: f64, gap: f64) -> Fill {
        if !self.hatches.iter().any(|h| h.0 == name) {
            self.hatches.push((name, degrees, gap));
        }
        Fill::Hatch(name)
    }

    fn reach(&mut self, x: f64, y: f64) {
        let point = Area { left: x, top: y, right: x, bottom: y };
        let all = self.drawn.unwrap_or(point);
        self.drawn = Some(Area {
            left: all.left.min(x),
            top: all.top.min(y),
            right: all.right.max(x),
            bottom: all.bottom.max(y),
        });
    }

    /// What has been drawn reaches from here to there; curves count with their control points.
    #[must_use]
    pub const fn drawn(&self) -> Option<Area> {
        self.drawn
    }

    /// A straight line.
    pub fn line(&mut self, from: (f64, f64), to: (f64, f64), pen: Pen) {
        self.polyline(&[from, to], pen);
    }

    /// Lines through points.
    pub fn polyline(&mut self, points: &[(f64, f64)], pen: Pen) {
        self.shape(points, false, pen, Fill::None);
    }

    /// A closed shape through points.
    pub fn polygon(&mut self, points: &[(f64, f64)], pen: Pen, fill: Fill) {
        self.shape(points, true, pen, fill);
    }

    fn shape(&mut self, points: &[(f64, f64)], closed: bool, pen: Pen, fill: Fill) {
        if points.iter().any(|(x, y)| !x.is_finite() || !y.is_finite()) {
            return;
        }
        let mut path = String::new();
        for (at, &(x, y)) in points.iter().enumerate() {
            self.reach(x, y);
            let _ = write!(path, "{}{} {}", if at == 0 { "M" } else { "L" }, number(x), number(y));
        }
        if closed {
            path.push('Z');
        }
        self.path(&path, pen, fill);
    }

    /// A box, its corners rounded by `radius`.
    pub fn rect(&mut self, area: Area, radius: f64, pen: Pen, fill: Fill) {
        if ![area.left, area.top, area.right, area.bottom].iter().all(|v| v.is_finite()) {
            return;
        }
        self.reach(area.left, area.top);
        self.reach(area.right, area.bottom);
        let round = if radius > 0.0 { format!(" rx=\"{}\"", number(radius)) } else { String::new() };
        let _ = writeln!(
            self.body,
            "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"{round}{}/>",
            number(area.left),
            number(area.top),
            number(area.width()),
            number(area.height()),
            look(pen, fill)
        );
    }

    /// A circle.
    pub fn circle(&mut self, centre: (f64, f64), radius: f64, pen: Pen, fill: Fill) {
        if ![centre.0, centre.1, radius].iter().all(|v| v.is_finite()) {
            return;
        }
        self.reach(centre.0 - radius, centre.1 - radius);
        self.reach(centre.0 + radius, centre.1 + radius);
        let _ = writeln!(
            self.body,
            "<circle cx=\"{}\" cy=\"{}\" r=\"{}\"{}/>",
            number(centre.0),
            number(centre.1),
            number(radius),
            look(pen, fill)
        );
    }

    /// An arc of a circle from one angle to another, degrees, clockwise from the right.
    pub fn arc(&mut self, centre: (f64, f64), radius: f64, from: f64, to: f64, pen: Pen) {
        let point = |degrees: f64| {
            let angle = degrees.to_radians();
            (centre.0 + radius * angle.cos(), centre.1 + radius * angle.sin())
        };
        let (start, end) = (point(from), point(to));
        let large = u8::from((to - from).abs() > 180.0);
        let turn = u8::from(to > from);
        for p in [start, end] {
            self.reach(p.0, p.1);
        }
        let path = format!(
            "M{} {}A{r} {r} 0 {large} {turn} {} {}",
            number(start.0),
            number(start.1),
            number(end.0),
            number(end.1),
            r = number(radius)
        );
        self.path(&path, pen, Fill::None);
    }

    /// A path in the words of SVG; for curves and QR symbols. What it reaches must be told by [`Canvas::mark`].
    pub fn path(&mut self, path: &str, pen: Pen, fill: Fill) {
        let _ = writeln!(self.body, "<path d=\"{path}\"{}/>", look(pen, fill));
    }

    /// Tells that a path reaches over `area`.
    pub fn mark(&mut self, area: Area) {
        self.reach(area.left, area.top);
        self.reach(area.right, area.bottom);
    }

    /// The box that a text would take with its baseline at a point.
    #[must_use]
    pub fn measure(at: (f64, f64), text: &str, style: Type) -> Area {
        let wide = letters::width(&shown(text), style.size, style.weight);
        let left = match style.anchor {
            Anchor::Start => at.0,
            Anchor::Middle => at.0 - wide / 2.0,
            Anchor::End => at.0 - wide,
        };
        Area { left, top: at.1 - style.size * ABOVE, right: left + wide, bottom: at.1 + style.size * BELOW }
    }

    /// A text with its baseline at a point; gives the box it takes.
    pub fn text(&mut self, at: (f64, f64), text: &str, style: Type) -> Area {
        let text = shown(text);
        let area = Self::measure(at, &text, style);
        if text.is_empty() || !at.0.is_finite() || !at.1.is_finite() {
            return area;
        }
        self.mark(area);
        let anchor = match style.anchor {
            Anchor::Start => "",
            Anchor::Middle => " text-anchor=\"middle\"",
            Anchor::End => " text-anchor=\"end\"",
        };
        let weight = if style.weight == Weight::Semibold { " font-weight=\"600\"" } else { "" };
        let fill = if style.grey > 0.0 { format!(" fill=\"{}\"", shade(style.grey)) } else { String::new() };
        let _ = writeln!(
            self.body,
            "<text x=\"{}\" y=\"{}\" font-size=\"{}\"{anchor}{weight}{fill}>{}</text>",
            number(at.0),
            number(at.1),
            number(style.size),
            html_text(&text)
        );
        self.labels.push(Label { text, area });
        area
    }

    /// A text on a white ground, where lines pass behind it.
    pub fn text_on_white(&mut self, at: (f64, f64), text: &str, style: Type) -> Area {
        let ground = Self::measure(at, text, style).grown(0.3);
        self.rect(ground, 0.0, Pen::NONE, Fill::Grey(1.0));
        self.text(at, text, style)
    }

    /// Whether something has been drawn so: what a key tells of must be there.
    #[must_use]
    pub fn has(&self, pen: Pen, fill: Fill) -> bool {
        self.body.contains(&format!("{}/>", look(pen, fill)))
    }

    /// The sheet as SVG with its title and its description.
    #[must_use]
    pub fn svg(&self, title: &str, description: &str) -> String {
        let (w, h) = (number(self.width), number(self.height));
        let mut out = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 0 {w} {h}\" \
             role=\"img\" aria-labelledby=\"title desc\" \
             font-family=\"'Source Sans Pro', 'Source Sans 3', Arial, sans-serif\" fill=\"#000\">\n"
        );
        let _ = writeln!(out, "<title id=\"title\">{}</title>", html_text(&shown(title)));
        let _ = writeln!(out, "<desc id=\"desc\">{}</desc>", html_text(&shown(description)));
        if !self.hatches.is_empty() {
            out.push_str("<defs>\n");
            for (name, degrees, gap) in &self.hatches {
                let gap = number(*gap);
                let _ = writeln!(
                    out,
                    "<pattern id=\"h{name}\" width=\"{gap}\" height=\"{gap}\" patternUnits=\"userSpaceOnUse\" \
                     patternTransform=\"rotate({})\"><path d=\"M0 0V{gap}\" stroke=\"#000\" stroke-width=\"0.25\"/></pattern>",
                    number(*degrees)
                );
            }
            out.push_str("</defs>\n");
        }
        let _ = writeln!(out, "<rect width=\"{w}\" height=\"{h}\" fill=\"#fff\"/>");
        out.push_str(&self.body);
        out.push_str("</svg>\n");
        out
    }
}

/// Two decimals: a hundredth of a millimetre.
fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

fn shade(grey: f64) -> String {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to a byte")]
    let level = (grey.clamp(0.0, 1.0) * 255.0).round() as u8;
    format!("#{level:02x}{level:02x}{level:02x}")
}

fn look(pen: Pen, fill: Fill) -> String {
    let mut out = match fill {
        Fill::None => " fill=\"none\"".to_owned(),
        Fill::Grey(grey) => format!(" fill=\"{}\"", shade(grey)),
        Fill::Hatch(name) => format!(" fill=\"url(#h{name})\""),
    };
    if pen.width > 0.0 {
        let _ = write!(out, " stroke=\"{}\" stroke-width=\"{}\"", shade(pen.grey), number(pen.width));
        match pen.dash {
            Dash::None => {}
            Dash::Dashed => out.push_str(" stroke-dasharray=\"2 1.2\""),
            Dash::Dotted => out.push_str(" stroke-dasharray=\"0.4 1\" stroke-linecap=\"round\""),
            Dash::Chain => out.push_str(" stroke-dasharray=\"4 1 0.6 1\""),
        }
    }
    out
}

/// One line without what cannot be seen: controls and marks that turn the direction of writing.
fn shown(text: &str) -> String {
    let hidden = |c: char| crate::letters::is_steering(c) || crate::letters::is_none(c);
    let kept: String = text.chars().map(|c| if c.is_whitespace() { ' ' } else { c }).filter(|c| !hidden(*c)).collect();
    kept.trim().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn any_text_comes_back_from_the_picture_as_typed() {
        let nasty = "<script>&amp;\"]]> \u{202e}x\u{1}\t'é";
        let mut canvas = Canvas::new(50.0, 20.0);
        canvas.text((1.0, 5.0), nasty, Type::of(3.0));
        let svg = canvas.svg(nasty, nasty);
        let read = roxmltree::Document::parse(&svg).expect("well-formed");
        let texts: Vec<_> = read.descendants().filter(|n| n.has_tag_name("text")).filter_map(|n| n.text()).collect();
        assert_eq!(texts, ["<script>&amp;\"]]> x 'é"]);
        assert!(!read.descendants().any(|n| n.has_tag_name("script")));
    }

    #[test]
    fn labels_are_remembered_with_their_boxes() {
        let mut canvas = Canvas::new(50.0, 20.0);
        let a = canvas.text((1.0, 5.0), "House panel", Type::of(3.0));
        let b = canvas.text((1.0 + a.width() / 2.0, 5.0), "Fridge", Type::of(3.0));
        let c = canvas.text((49.0, 15.0), "Pump", Type::of(3.0).end());
        assert!(a.overlaps(&b) && !a.overlaps(&c));
        assert!((c.right - 49.0).abs() < 1e-9);
        assert_eq!(canvas.labels().len(), 3);
        assert!(Area::at(0.0, 0.0, 50.0, 20.0).holds(&canvas.drawn().expect("drawn")));
    }

    #[test]
    fn a_sheet_knows_what_has_been_drawn_on_it() {
        let mut canvas = Canvas::new(50.0, 20.0);
        canvas.line((1.0, 1.0), (9.0, 1.0), Pen::of(0.5).dash(Dash::Dashed));
        canvas.rect(Area::at(1.0, 2.0, 3.0, 4.0), 0.0, Pen::NONE, Fill::Grey(0.88));
        assert!(canvas.has(Pen::of(0.5).dash(Dash::Dashed), Fill::None));
        assert!(!canvas.has(Pen::of(0.5), Fill::None) && !canvas.has(Pen::of(0.5).dash(Dash::Chain), Fill::None));
        assert!(canvas.has(Pen::NONE, Fill::Grey(0.88)) && !canvas.has(Pen::NONE, Fill::Grey(0.0)));
    }

    #[test]
    fn numbers_are_short_and_never_minus_nothing() {
        assert_eq!([1.0, 0.126, -0.001, 12.5].map(number), ["1", "0.13", "0", "12.5"]);
    }
}
