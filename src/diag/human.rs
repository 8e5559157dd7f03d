//! Renders findings (human): headline, the lines of the spec with both ends marked, basis, what to do, a mend.

use super::short::word;
use super::visible::same_length;
use super::{Finding, MANY, Severity, visible};
use crate::source::{SourceFile, Span};
use annotate_snippets::renderer::{AnsiColor, DecorStyle, Effects, Style};
use annotate_snippets::{Annotation, AnnotationKind, Group, Level, Patch, Renderer, Snippet};
use std::fmt::Write as _;
use std::ops::Range;

/// Marks further apart than this many bytes are shown as snippets of their own.
const NEAR: usize = 16_384;

/// Width where the terminal's own is not known.
const WIDTH: usize = 110;

/// Findings as text for people, with an empty line after each. Of very many the gravest are shown, in their order.
///
/// `color` adds ANSI colours; `unicode` draws with box characters instead of ASCII. Text from the spec cannot carry
/// control characters into the output.
#[must_use]
pub fn render(findings: &[Finding], file: &SourceFile, color: bool, unicode: bool) -> String {
    let decor = if unicode { DecorStyle::Unicode } else { DecorStyle::Ascii };
    let renderer = if color { Renderer::styled() } else { Renderer::plain() };
    let page = Page { renderer: renderer.decor_style(decor).term_width(WIDTH), file, color };
    let (shown, hidden) = gravest(findings);
    let mut out: String = shown.into_iter().map(|f| page.finding(f)).collect();
    if hidden > 0 {
        let _ = writeln!(out, "and {hidden} more findings; `--message-format short` prints one line for each\n");
    }
    out
}

/// At most [`MANY`] findings in their order, errors rather than open warnings and these rather than accepted ones, and
/// how many are left.
fn gravest(findings: &[Finding]) -> (Vec<&Finding>, usize) {
    let mut order: Vec<usize> = (0..findings.len()).collect();
    if findings.len() > MANY {
        order.sort_by_key(|at| (findings[*at].severity, findings[*at].accepted.is_some()));
        order.truncate(MANY);
        order.sort_unstable();
    }
    (order.into_iter().map(|at| &findings[at]).collect(), findings.len().saturating_sub(MANY))
}

struct Page<'a> {
    renderer: Renderer,
    file: &'a SourceFile,
    color: bool,
}

impl Page<'_> {
    fn finding(&self, finding: &Finding) -> String {
        let style = match (finding.severity, &finding.accepted) {
            (Severity::Error, _) => AnsiColor::BrightRed.on_default().effects(Effects::BOLD),
            (Severity::AsFound, _) | (Severity::Warning, None) => AnsiColor::Yellow.on_default().effects(Effects::BOLD),
            (Severity::Warning, Some(_)) => Style::new(),
        };
        let bold = Style::new().effects(Effects::BOLD);
        let mut out = format!("{}: {}\n", self.paint(style, word(finding)), self.paint(bold, finding.name));
        let _ = writeln!(out, "  {}", visible(&finding.headline));
        if let Some(span) = finding.span {
            out.push_str(&self.place(finding, span));
        } else {
            let _ = writeln!(out, "  in {}", visible(&self.file.name));
        }
        for (word, lines) in [("basis:", &finding.basis), ("do:", &finding.help)] {
            for (at, line) in lines.iter().enumerate() {
                let word = format!("{:<6}", if at == 0 { word } else { "" });
                let _ = writeln!(out, "  {} {}", self.paint(bold, &word), visible(line));
            }
        }
        if let Some(fix) = &finding.fix {
            out.push_str(&self.patch(fix.span, &fix.replacement));
        }
        if let Some(accepted) = &finding.accepted {
            let text = format!("{} ({})", accepted.reason, accepted.by);
            let _ = writeln!(out, "  {} {}", self.paint(bold, "accepted:"), visible(&text));
        }
        out.push('\n');
        out
    }

    fn paint(&self, style: Style, text: &str) -> String {
        if self.color { format!("{style}{text}{style:#}") } else { text.to_owned() }
    }

    /// The lines around the place and its labels; far-off labels in snippets of their own.
    fn place(&self, finding: &Finding, span: Span) -> String {
        let (file, at) = self.clamp(span);
        if file.text.is_empty() {
            return format!("  in {}:1:1\n", visible(&file.name));
        }
        let mut windows = vec![(file, at.clone(), vec![(AnnotationKind::Primary, at, finding.here.as_str())])];
        for label in &finding.labels {
            let (file, at) = self.clamp(label.span);
            let mark = (AnnotationKind::Context, at.clone(), label.text.as_str());
            let near = |window: &Range<usize>| window.start.min(at.start) + NEAR >= window.end.max(at.end);
            match windows.iter_mut().find(|(of, window, _)| std::ptr::eq(*of, file) && near(window)) {
                Some((_, window, marks)) => {
                    *window = window.start.min(at.start)..window.end.max(at.end);
                    marks.push(mark);
                }
                None => windows.push((file, at, vec![mark])),
            }
        }
        let level = if finding.severity == Severity::Error { Level::ERROR } else { Level::WARNING };
        let snippets = windows.into_iter().map(|(file, window, marks)| {
            let (snippet, start) = snippet::<Annotation<'_>>(file, window);
            let path = visible(&file.name).into_owned();
            snippet.path(path).annotations(marks.into_iter().map(|(kind, at, text)| {
                let label = (!text.is_empty()).then(|| visible(text).into_owned());
                kind.span(at.start - start..at.end - start).label(label)
            }))
        });
        let group = Group::with_level(level).elements(snippets);
        format!("{}\n", self.renderer.render(&[group]))
    }

    fn patch(&self, span: Span, replacement: &str) -> String {
        let (file, at) = self.clamp(span);
        let (snippet, start) = snippet::<Patch<'_>>(file, at.clone());
        let patch = Patch::new(at.start - start..at.end - start, visible_lines(replacement));
        let group = Group::with_title(Level::HELP.secondary_title("a likely mend")).element(snippet.patch(patch));
        let shown = self.renderer.render(&[group]);
        format!("{}\n", shown.trim_end_matches(['\n', ' ', '|']))
    }

    /// The file of `span`, and `span` inside its text and on character boundaries.
    fn clamp(&self, span: Span) -> (&SourceFile, Range<usize>) {
        let (file, base) = self.file.file_at(span.start);
        let text = &file.text;
        let start = text.floor_char_boundary((span.start - base).min(text.len()));
        (file, start..text.ceil_char_boundary(span.end.saturating_sub(base).clamp(start, text.len())))
    }
}

/// The whole lines of a file that `window` touches, as a snippet, and the byte they begin at.
fn snippet<T: Clone>(file: &SourceFile, window: Range<usize>) -> (Snippet<'_, T>, usize) {
    let text = &file.text;
    let start = text[..window.start].rfind('\n').map_or(0, |i| i + 1);
    let end = text[window.end..].find('\n').map_or(text.len(), |i| window.end + i);
    let (line, _) = file.position(start);
    (Snippet::source(same_length(&text[start..end])).line_start(line), start)
}

/// As [`visible`], line ends kept.
fn visible_lines(text: &str) -> String {
    text.split('\n').map(visible).collect::<Vec<_>>().join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diag::Acceptance;

    fn file() -> SourceFile {
        let mut text = "[component.fridge]\nkind = \"fridge\"\nprotection = \"40 A\"\n".to_owned();
        text.push_str(&"# filler\n".repeat(10));
        text.push_str("conductor = \"12 AWG\"\nnote = \"caf\u{e9} \u{1b}[31mred\u{9b}\"\n");
        SourceFile::new("specs/heron.toml", text)
    }

    fn span(file: &SourceFile, part: &str) -> Span {
        let start = file.text.find(part).expect(part);
        Span { start, end: start + part.len() }
    }

    #[test]
    fn of_very_many_the_gravest_are_shown() {
        let file = file();
        let mut findings: Vec<Finding> =
            (0..300).map(|n| Finding::warning("low-sun", format!("warning {n}."))).collect();
        findings.push(Finding::error("bad-y", "the one error"));
        let text = render(&findings, &file, false, true);
        assert_eq!(text.matches("low-sun").count(), MANY - 1);
        assert!(text.contains("warning 198.") && !text.contains("warning 199."));
        assert!(text.contains("the one error"));
        assert!(
            text.ends_with("and 101 more findings; `--message-format short` prints one line for each\n\n"),
            "{text}"
        );
        assert!(!render(&findings[101..], &file, false, true).contains("more findings"));
    }

    fn both_ends(file: &SourceFile) -> Finding {
        Finding::error("fuse-above-conductor", "fridge: 40 A fuse protects a conductor that may carry 30 A")
            .about("fridge")
            .at(span(file, "\"40 A\""), "this fuse")
            .label(span(file, "\"12 AWG\""), "may carry 30 A")
            .basis("33 CFR 183.425 Table 5, 12 AWG, 105 °C")
            .basis("engine-space factor 0.85")
            .help("30 A or smaller, or 10 AWG")
            .fix(span(file, "\"40 A\""), "\"30 A\"")
    }

    #[test]
    fn shows_both_ends_basis_help_and_mend() {
        let file = file();
        let text = render(&[both_ends(&file)], &file, false, false);
        let expected = "\
error: fuse-above-conductor
  fridge: 40 A fuse protects a conductor that may carry 30 A
  --> specs/heron.toml:3:14
   |
 3 | protection = \"40 A\"
   |              ^^^^^^ this fuse
...
14 | conductor = \"12 AWG\"
   |             -------- may carry 30 A
  basis: 33 CFR 183.425 Table 5, 12 AWG, 105 °C
         engine-space factor 0.85
  do:    30 A or smaller, or 10 AWG
help: a likely mend
  |
3 - protection = \"40 A\"
3 + protection = \"30 A\"

";
        assert_eq!(text, expected);
        let drawn = render(&[both_ends(&file)], &file, true, true);
        assert!(drawn.contains('╭') && drawn.contains("\u{1b}[1mfuse-above-conductor"), "{drawn}");
    }

    #[test]
    fn nothing_from_the_spec_steers_the_terminal() {
        let mut file = file();
        file.name = "a\u{1b}]0;b.toml".into();
        let note = span(&file, "\"caf\u{e9}");
        let mut finding = Finding::warning("odd-note", "note \u{1b}[2J")
            .at(note, "here \u{7}")
            .label(note, "label \u{1b}")
            .basis("basis \u{9b}")
            .help("help \u{202e}")
            .fix(note, "mend \u{1b}\n\u{85}");
        finding.accepted = Some(Acceptance { reason: "why \u{1b}".into(), by: "who \u{8}".into() });
        let text = render(&[finding.clone()], &file, false, true);
        assert!(!text.contains(|c: char| c != '\n' && crate::diag::is_steering(c)), "{text:?}");
        let coloured = render(&[finding], &file, true, true);
        assert!(coloured.contains('\u{1b}') && !coloured.contains("\u{1b}[31m") && !coloured.contains("\u{1b}[2J"));
    }

    #[test]
    fn spans_outside_the_text_or_inside_a_character_do_not_panic() {
        let file = file();
        let inside = file.text.find('\u{e9}').expect("e acute") + 1;
        for (start, end) in [(0, 0), (inside, inside), (inside, 9999), (9999, 99_999), (usize::MAX, 0), (5, 3)] {
            let span = Span { start, end };
            let finding = Finding::error("odd-place", "odd").at(span, "x").label(span, "y").fix(span, "z");
            assert!(render(&[finding], &file, false, false).contains("odd-place"));
        }
        let empty = SourceFile::new("empty.toml", "");
        let finding = Finding::error("odd-place", "odd").at(Span { start: 0, end: 0 }, "x").fix(Span::default(), "z");
        assert!(render(&[finding], &empty, false, true).contains("empty.toml:1:1"));
    }
}
