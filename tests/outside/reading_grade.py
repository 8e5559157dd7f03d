"""Reading level of the owner's manuals: Flesch-Kincaid grade of their instructions, by textstat.

Usage: reading_grade.py FOLDER   (with one <spec>.md each)
Prints one line a manual; fails where a grade is above the bound.
"""
import re
import sys
from pathlib import Path

import textstat

# Eighth grade: what plain-language guides ask of texts for the public (common practice).
BOUND = 8.0
# Fewer sentences say nothing about a text.
FEWEST = 100


def instructions(markdown):
    """Sentences of steps, check lists and "do" cells; without marks, links and places in brackets."""
    for line in markdown.splitlines():
        if re.match(r"(\d+\.|- \[ \]) ", line):
            texts = [re.sub(r"^(\d+\.|- \[ \]) ", "", line)]
        elif line.startswith("| ") and "(1)" in line:
            texts = re.split(r"\(\d+\)", line.strip("| ").split(" | ")[-1])
        else:
            continue
        for text in texts:
            text = re.sub(r"\[@\]\([^)]*\)", "", text)
            text = re.sub(r"\[([^\]]*)\]\([^)]*\)", r"\1", text)
            text = re.sub(r"\([^)]*\)|<[^>]*>|[*\\]", "", text)
            for sentence in re.split(r"(?<=[.!?])\s+(?=[A-Z])", text.strip()):
                if len(sentence.split()) > 1:
                    yield sentence if sentence.endswith((".", "!", "?")) else sentence + "."


failed = False
for path in sorted(Path(sys.argv[1]).glob("*.md")):
    sentences = list(instructions(path.read_text(encoding="utf-8")))
    grade = textstat.flesch_kincaid_grade(" ".join(sentences))
    words = sum(len(s.split()) for s in sentences) / max(len(sentences), 1)
    print(f"{path.stem}: {len(sentences)} sentences, {words:.1f} words each, grade {grade:.1f}")
    failed |= grade > BOUND or len(sentences) < FEWEST
sys.exit(failed)
