//! No input makes the reader or the renderers panic, overflow the stack or run long.

use super::{known, language, read_text, starter};
use crate::diag::{Sink, human, json, short};
use crate::spec::{decode_text, read};
use std::time::Instant;

/// A small generator (xorshift, Marsaglia 2003) with a fixed start: every run tries the same inputs.
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, limit: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % limit.max(1) as u64).unwrap_or(0)
    }
}

/// Pieces that upset parsers.
const PIECES: &[&str] = &[
    "[",
    "]",
    "[[",
    "]]",
    "{",
    "}",
    "=",
    ".",
    ",",
    "\"",
    "'",
    "\"\"\"",
    "'''",
    "#",
    "\n",
    "\r",
    "\r\n",
    "\\",
    "\\u",
    "\0",
    "\u{1b}",
    "\u{7f}",
    "\u{9b}",
    "\u{feff}",
    "\u{2028}",
    "\u{202e}",
    "é",
    "°",
    "½",
    "nan",
    "inf",
    "1e308",
    "-0",
    "0x",
    "2027-02-30",
    "T10:00",
    "[component.fridge]",
    "[[component]]",
    "component.x.y.z = 1",
    "kind = \"fridge\"",
    "like = \"usb\"",
    "count = 9999999",
    "a.b.c.d.e.f",
    "true",
    "\"\" = 1",
    "[a]\n[a.b]\n[a]\n",
    "x = {a = {b = [",
    "fed_from = [1, {}]",
    "spec = 2",
];

fn try_bytes(bytes: &[u8]) {
    let mut sink = Sink::default();
    let file = decode_text("fuzz.toml", bytes, &mut sink);
    let spec = read(&file, language(), known(), &crate::spec::Shelf::default(), &mut sink);
    let findings = sink.into_sorted();
    assert!(!findings.is_empty() || spec.build.text("title").is_some());
    for finding in &findings {
        if let Some(span) = finding.span {
            assert!(span.start <= span.end && span.end <= file.text.len(), "{finding:?}");
        }
    }
    let shown = human::render(&findings, &file, false, true);
    assert!(!shown.contains(|c: char| c != '\n' && crate::diag::is_steering(c)), "{shown:?}");
    assert_eq!(short::render(&findings, &file).lines().count(), findings.len());
    assert!(serde_json::from_str::<serde_json::Value>(&json::render(&findings, &file)).is_ok());
}

#[test]
fn mutations_of_a_good_spec_never_panic() {
    let good = starter().as_bytes().to_vec();
    let mut numbers = Numbers(0x9e37_79b9_7f4a_7c15);
    for _ in 0..3_000 {
        let mut bytes = good.clone();
        // A window of the spec, so that each round is quick.
        let start = numbers.below(bytes.len());
        bytes = bytes[start..(start + 1_500).min(good.len())].to_vec();
        for _ in 0..=numbers.below(4) {
            let at = numbers.below(bytes.len() + 1);
            let end = (at + numbers.below(12)).min(bytes.len());
            match numbers.below(5) {
                0 => bytes.truncate(at.max(1)),
                1 => drop(bytes.drain(at.min(end)..end)),
                2 if at < bytes.len() => bytes[at] = u8::try_from(numbers.below(256)).unwrap_or(0),
                3 => {
                    let copy = bytes[at.min(end)..end].to_vec();
                    bytes.splice(at..at, copy);
                }
                _ => drop(bytes.splice(at..at, PIECES[numbers.below(PIECES.len())].bytes())),
            }
        }
        try_bytes(&bytes);
    }
}

#[test]
fn heaps_of_nasty_pieces_never_panic() {
    let mut numbers = Numbers(0x2545_f491_4f6c_dd1d);
    for _ in 0..3_000 {
        let pieces = numbers.below(30);
        let text: String = (0..pieces).map(|_| PIECES[numbers.below(PIECES.len())]).collect();
        try_bytes(text.as_bytes());
    }
}

#[test]
#[expect(clippy::disallowed_methods, reason = "a test of speed")]
fn deep_and_long_inputs_end_quickly() {
    let begun = Instant::now();
    let size = 200_000;
    for text in [
        "[".repeat(size),
        format!("x = {}", "[".repeat(size)),
        format!("x = {}", "[\n".repeat(size / 2)),
        format!("x = {}", "{a=".repeat(size / 3)),
        format!("x{} = 1", ".a".repeat(size / 2)),
        format!("[x{}]", ".a".repeat(size / 2)),
        ".".repeat(size),
        "\"".repeat(size),
        "\"\"\"\n".repeat(size / 4),
        "x = \"\"\"a\n".repeat(size / 9),
        "x = [1,\n".repeat(size / 8),
        "a.b.c.d.e = {f.g.h.i = [1]}\n".repeat(size / 28),
        "[component.x]\nkind = \"sink\"\n".repeat(size / 28),
        "[a".repeat(size / 2),
        "\r".repeat(size),
        "é".repeat(size / 2),
    ] {
        let (_, _, findings) = read_text(&text);
        assert!(!findings.is_empty(), "{}", text.chars().take(20).collect::<String>());
        assert!(findings.len() < 20_000);
    }
    // Generous, for a slow machine and an unoptimised build; a quadratic reader needs minutes.
    assert!(begun.elapsed().as_secs() < 120, "{:?}", begun.elapsed());
}
