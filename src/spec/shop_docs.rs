//! What `rigbinder explain` tells of the findings on a shop's folder.

use crate::diag::{FindingDoc, Severity};

const FOLDER: &str = "the form of a shop's folder";

const fn doc(name: &'static str, what: &'static str, why: &'static str, example: &'static str) -> FindingDoc {
    FindingDoc { name, severity: Severity::Error, what, why, example, basis: FOLDER }
}

/// Findings on a shop's folder, in order of name. All stop the compile.
pub const SHOP_FINDINGS: &[FindingDoc] = &[
    doc(
        "accent-unusable",
        "The accent colour of a shop is no colour, or too light to be read on white paper.",
        "Heads of documents are printed in it.",
        "[shop]\naccent = \"#ffee00\"           # accent = \"#1f5a7a\"",
    ),
    doc(
        "field-of-one-build",
        "A stock item gives a field that belongs to one component of one build: a place, what feeds it, a count.",
        "The item is the same in every van; where it goes is said in the spec.",
        "[stock.fridge-110]\nplace = \"galley\"             # give it in the spec",
    ),
    doc(
        "kind-shadows-another",
        "A kind of a shop has the name of a built-in one, and does not say that it is like it.",
        "A spec would mean another thing with the shop's folder than without, and nobody would see it.",
        "kinds/fridge.toml               # kinds/drinks-fridge.toml, or like = \"fridge\" in it",
    ),
    doc(
        "kind-text-unreadable",
        "A text of a shop's kind does not parse.",
        "It could not be printed; the packet would stop half way.",
        "steps = [\"Fit {{ name.\"]        # steps = [\"Fit {{ name }}.\"]",
    ),
    doc(
        "kind-unreadable",
        "A kind of a shop does not hold together: in its own file, or with the kind that it is like.",
        "Its steps, circuits and upkeep cannot be taken from it.",
        "like = \"fridg\"\ndrop = [\"upkeep.defrots\"]     # like = \"fridge\", upkeep.defrost",
    ),
    doc(
        "picture-by-path",
        "A picture is named with a folder.",
        "Pictures lie in pictures/, so that a shop's folder is whole by itself.",
        "logo = \"../logo.svg\"           # logo = \"logo.svg\"",
    ),
    doc(
        "picture-missing",
        "There is no picture of this name in pictures/, or it is not usable.",
        "It could not be printed.",
        "picture = \"fridge.jpg\"",
    ),
    doc(
        "picture-unusable",
        "A picture is not what its name says, has a script or refers to something outside, or is damaged.",
        "Documents are opened by owners for years; a picture in them shows and does nothing else.",
        "pictures/logo.svg               # with <script>",
    ),
    doc(
        "shop-file-unreadable",
        "A file of a shop's folder is a link, no plain file, too large, or no UTF-8 text.",
        "What a build is made from must lie in the folder itself.",
        "stock/fridges.toml              # a link to another place",
    ),
    doc(
        "stock-of-other-kind",
        "A component gives a kind and a stock item of another kind.",
        "Only one of the two can be built.",
        "kind = \"freezer\"\nstock = \"fridge-110\"          # delete kind",
    ),
    doc(
        "stock-twice",
        "Two stock items have one id.",
        "Nobody can tell which one a component takes.",
        "[stock.fridge-110]              # in two files",
    ),
    doc(
        "unknown-stock",
        "A component takes a stock item that is not there.",
        "Kind, figures and mass come from it.",
        "stock = \"frigde-110\"           # stock = \"fridge-110\"",
    ),
];
