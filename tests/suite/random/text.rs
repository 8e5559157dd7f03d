//! Texts that people may well write and that a writer may well trip over.

/// Lines: names, notes, titles.
pub(super) const LINES: &[&str] = &[
    "Lamp",
    "Möbelbau Süd, Größe 3½",
    "*bold* _under_ `code` ~~gone~~",
    "# 1. - + > | a | b |",
    "| a | b |\n| --- | --- |\n| c | d |",
    "#let x = 1; #panic() @label <label> $x^2$ \\",
    "<b onclick=\"x()\">bold</b> &amp; &lt; <!-- tall -->",
    "{{ build.title }} {% if x %} {# #}",
    "\"quoted\" 'single' “curly” ‘so’",
    "=SUM(A1:A9)",
    "-12 V; +12 V",
    "two\nlines",
    "tab\there",
    "  blanks around  ",
    "https://example.org/a_b_c?x=1&y=2",
    "[link](javascript:x) ![picture](x.svg)",
    "12 V, 30 A, 2.5 mm² – 4 °C … × ½",
    "ÄÖÜäöüß éèê ñ ç ø å ł ž ş ı İ",
    "Ελληνικά и кириллица",
    "1. first\n2. second\n\n    indented",
    "---",
    "***",
    "+++",
    "```\nfence\n```",
    "a/b\\c:d;e,f",
    "NULL, nil, none, true",
    "BEGIN:VEVENT\nEND:VEVENT",
    "word-with-hyphens_and_underscores.and.dots",
    "Donaudampfschifffahrtsgesellschaftskapitänskajütenschlüssel",
    "100 %",
    "\u{a0}",
    "soft\u{ad}hyphen, e\u{301} and x\u{301}",
];

/// The line with this number; some are made long.
pub(super) fn line(which: u16) -> String {
    let which = usize::from(which);
    let line = LINES[which % LINES.len()];
    // One in thirty is long enough to break lines, cells and labels.
    if which / LINES.len() % 30 == 7 { [line; 40].join(" ") } else { line.to_owned() }
}

/// The same, but a line of which something shows: for what must be given.
pub(super) fn words(which: u16) -> String {
    let line = line(which);
    if line.chars().any(char::is_alphanumeric) { line } else { format!("{line} {which}") }
}
