//! Whether a picture is what its name says and does nothing but show: no script, no outside reference, no false size.

use flate2::Crc;
use flate2::read::ZlibDecoder;
use roxmltree::Document;
use std::io::Read;

/// Most pixels of a side.
const MOST_PIXELS: u32 = 8_000;

/// What is wrong with a picture, as a clause that follows its name; `None` where it may be printed.
#[must_use]
pub fn flaw(name: &str, bytes: &[u8]) -> Option<String> {
    match name.rsplit_once('.').map(|(_, ending)| ending.to_ascii_lowercase()).as_deref() {
        Some("svg") => std::str::from_utf8(bytes).map_or_else(|_| Some("is not UTF-8 text".to_owned()), svg),
        Some("png") => png(bytes),
        Some("jpg" | "jpeg") => jpeg(bytes),
        _ => Some("is no SVG, PNG or JPEG by its ending".to_owned()),
    }
}

/// Namespace of the elements that draw.
const SVG: &str = "http://www.w3.org/2000/svg";

/// Elements that only draw.
const DRAWS: &[&str] = &[
    "svg",
    "g",
    "path",
    "rect",
    "circle",
    "ellipse",
    "line",
    "polyline",
    "polygon",
    "text",
    "tspan",
    "defs",
    "title",
    "desc",
    "lineargradient",
    "radialgradient",
    "stop",
    "clippath",
    "mask",
    "use",
    "symbol",
    "pattern",
    "metadata",
];

/// Elements and attributes are looked at one by one: only what draws is let through.
fn svg(text: &str) -> Option<String> {
    // A reader of XML takes them for plain text; who opens the picture may not.
    if text.contains("<![") {
        return Some("has a declaration or an instruction, which a plain SVG does without".to_owned());
    }
    let text = text.trim_start_matches('\u{feff}');
    let document = match Document::parse(text) {
        Ok(document) => document,
        Err(roxmltree::Error::DtdDetected) => {
            return Some("has a declaration or an instruction, which a plain SVG does without".to_owned());
        }
        Err(error) => return Some(format!("is no whole SVG: {error}")),
    };
    if document.root_element().tag_name().name() != "svg" {
        return Some("does not begin with an `svg` element".to_owned());
    }
    document.descendants().find_map(|node| {
        if node.is_pi() {
            return Some("has a declaration or an instruction, which a plain SVG does without".to_owned());
        }
        // With its prefix, which can be another name for what does more than draw.
        let written = text.get(node.range()).unwrap_or_default().trim_start_matches('<');
        let name = written.split(|c: char| c.is_whitespace() || matches!(c, '/' | '>')).next().unwrap_or_default();
        // Programs that draw leave remarks of their own in elements of another namespace.
        let of_svg = node.tag_name().namespace().is_none_or(|space| space == SVG);
        if node.is_element() && !(of_svg && DRAWS.contains(&name.to_ascii_lowercase().as_str())) {
            return Some(format!("has the element `{}`, which does more than draw", short(name)));
        }
        node.attributes().find_map(|attribute| {
            let coded = text.get(attribute.range_value()).is_none_or(|value| value.contains("&#"));
            attribute_flaw(attribute.name(), attribute.value(), coded)
        })
    })
}

/// What is wrong with an attribute; its value is as a reader of XML gives it, without codes.
fn attribute_flaw(name: &str, value: &str, coded: bool) -> Option<String> {
    let name = name.to_ascii_lowercase();
    let plain: String = value.chars().filter(|c| !c.is_whitespace()).collect::<String>().to_ascii_lowercase();
    if name.starts_with("on") {
        return Some(format!("has the attribute `{}`, which runs a script", short(&name)));
    }
    let leads = |from: &str| {
        let mut found = plain.match_indices(from);
        found.any(|(at, _)| !plain[at + from.len()..].trim_start_matches(['"', '\'']).starts_with('#'))
    };
    let refers = matches!(name.as_str(), "href" | "src" | "base") && !plain.starts_with('#');
    if refers || leads("url(") || ["@import", "javascript:", "expression("].iter().any(|word| plain.contains(word)) {
        return Some(format!("refers to something outside by `{}`", short(&name)));
    }
    // An escape of a style could spell what is looked for.
    if coded || name == "style" && (plain.contains('\\') || plain.contains("/*")) {
        return Some(format!("has a coded character in `{}`", short(&name)));
    }
    None
}

/// The beginning of a word, for a message.
fn short(word: &str) -> String {
    word.chars().take(30).collect()
}

/// Chunks, sums and the packed picture: they must be as long as the head says.
fn png(bytes: &[u8]) -> Option<String> {
    const HEAD: &[u8] = b"\x89PNG\r\n\x1a\n";
    let Some(mut rest) = bytes.strip_prefix(HEAD) else { return Some("is no PNG".to_owned()) };
    let broken = || Some("is a PNG that is cut off or damaged".to_owned());
    let (mut head, mut packed, mut ended) = (None, Vec::new(), false);
    while !rest.is_empty() && !ended {
        let Some((length, after)) = rest.split_first_chunk::<4>() else { return broken() };
        let length = u32::from_be_bytes(*length) as usize;
        if after.len() < length.saturating_add(8) {
            return broken();
        }
        let (chunk, after) = after.split_at(4 + length);
        let (sum, after) = after.split_at(4);
        if crc(chunk).to_be_bytes() != sum {
            return broken();
        }
        let (kind, data) = chunk.split_at(4);
        match kind {
            b"IHDR" if head.is_none() && data.len() == 13 => head = Some(data),
            b"IDAT" => packed.extend_from_slice(data),
            b"IEND" => ended = true,
            _ if head.is_none() => return broken(),
            _ => {}
        }
        rest = after;
    }
    let (Some(head), true) = (head, ended) else { return broken() };
    if !rest.is_empty() {
        return Some("is a PNG with something behind its end".to_owned());
    }
    let side = |at: usize| head[at..at + 4].iter().fold(0_u32, |n, byte| n << 8 | u32::from(*byte));
    let (wide, high) = (side(0), side(4));
    if !(1..=MOST_PIXELS).contains(&wide) || !(1..=MOST_PIXELS).contains(&high) {
        return Some(format!("is {wide} × {high} pixels; a side has 1 to {MOST_PIXELS}"));
    }
    let samples = match head[9] {
        0 | 3 => 1_u64,
        2 => 3,
        4 => 2,
        6 => 4,
        _ => return broken(),
    };
    let row = |wide: u32| (u64::from(wide) * samples * u64::from(head[8])).div_ceil(8);
    let whole = match head[12] {
        0 => u64::from(high) * (row(wide) + 1),
        // Seven passes, each with its own share of columns and rows.
        1 => [(0, 8, 0, 8), (4, 8, 0, 8), (0, 4, 4, 8), (2, 4, 0, 4), (0, 2, 2, 4), (1, 2, 0, 2), (0, 1, 1, 2)]
            .iter()
            .map(|&(x, dx, y, dy): &(u32, u32, u32, u32)| {
                let (wide, high) = (wide.saturating_sub(x).div_ceil(dx), high.saturating_sub(y).div_ceil(dy));
                if wide == 0 { 0 } else { u64::from(high) * (row(wide) + 1) }
            })
            .sum(),
        _ => return broken(),
    };
    let mut unpacked = Vec::new();
    let read = ZlibDecoder::new(packed.as_slice()).take(whole + 1).read_to_end(&mut unpacked);
    let lies = read.is_err() || unpacked.len() as u64 != whole;
    lies.then(|| format!("is a PNG that says it has {wide} × {high} pixels and holds another picture"))
}

/// The sum of PNG: CRC-32 of ISO 3309, as its specification prints it.
fn crc(bytes: &[u8]) -> u32 {
    let mut sum = Crc::new();
    sum.update(bytes);
    sum.sum()
}

fn jpeg(bytes: &[u8]) -> Option<String> {
    let whole = bytes.starts_with(&[0xff, 0xd8, 0xff]) && bytes.ends_with(&[0xff, 0xd9]);
    (!whole).then(|| "is no whole JPEG".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A PNG of one grey row, with the head saying `wide`.
    fn grey(wide: u32, pixels: &[u8]) -> Vec<u8> {
        use std::io::Write;
        let mut packer = flate2::write::ZlibEncoder::new(Vec::new(), flate2::Compression::default());
        packer.write_all(&[&[0], pixels].concat()).expect("packed");
        let head = [&wide.to_be_bytes()[..], &1_u32.to_be_bytes(), &[8, 0, 0, 0, 0]].concat();
        let mut out = b"\x89PNG\r\n\x1a\n".to_vec();
        for (kind, data) in [(b"IHDR", head), (b"IDAT", packer.finish().expect("packed")), (b"IEND", Vec::new())] {
            let chunk = [&kind[..], &data].concat();
            out.extend(u32::try_from(data.len()).expect("short").to_be_bytes());
            out.extend(&chunk);
            out.extend(crc(&chunk).to_be_bytes());
        }
        out
    }

    #[test]
    fn a_png_must_hold_what_its_head_says() {
        assert_eq!(flaw("a.png", &grey(4, &[1, 2, 3, 4])), None);
        for lie in [grey(5, &[1, 2, 3, 4]), grey(3, &[1, 2, 3, 4])] {
            assert!(flaw("a.png", &lie).expect("a lie").contains("another picture"));
        }
        assert!(flaw("a.png", &grey(4_000_000, &[1])).expect("a flaw").contains("pixels"));
        let good = grey(4, &[1, 2, 3, 4]);
        for cut in 1..good.len() {
            assert!(flaw("a.png", &good[..cut]).is_some(), "cut at {cut}");
            let mut spoilt = good.clone();
            spoilt[cut] ^= 0x10;
            assert!(flaw("a.png", &spoilt).is_some(), "spoilt at {cut}");
        }
        assert!(flaw("a.png", &[good.clone(), vec![0]].concat()).is_some());
        // The sum of the end chunk stands in the specification of PNG (W3C, annex D and 11.2.5): AE 42 60 82.
        assert_eq!(crc(b"IEND"), 0xae42_6082);
    }

    #[test]
    fn an_svg_only_draws() {
        let good = "<?xml version=\"1.0\"?><!-- a > b --><svg xmlns=\"http://www.w3.org/2000/svg\" viewBox='0 0 1 1'>\
                    <title>T</title><defs><linearGradient id=\"g\"/></defs><path d=\"M0 0h1\" fill=\"url(#g)\"/></svg>\n";
        assert_eq!(flaw("a.svg", good.as_bytes()), None);
        for bad in [
            "<script>x()</script>",
            "<SCRIPT/>",
            "<s:script xmlns:s='http://www.w3.org/2000/svg'/>",
            "<image href='a.png'/>",
            "<use href=\"https://example.org/a.svg#b\"/>",
            "<use xlink:href='//example.org/a#b'/>",
            "<g onload='x()'/>",
            "<g ONCLICK=\"x()\"/>",
            "<foreignObject/>",
            "<style>@import url(x)</style>",
            "<rect fill='url( \"https://example.org/\" )'/>",
            "<rect style='fill:u\\72l(http://x)'/>",
            "<rect fill='&#117;rl(x)'/>",
            "<a href='#b'/>",
            "<animate/>",
            "<g fill=red/>",
            "<g",
            "</g></g>",
            "<![CDATA[x]]>",
        ] {
            let svg = format!("<svg xmlns=\"http://www.w3.org/2000/svg\">{bad}</svg>");
            assert!(flaw("a.svg", svg.as_bytes()).is_some(), "{bad}");
        }
        for bad in [
            "",
            "text",
            "<!DOCTYPE svg [<!ENTITY a 'b'>]><svg></svg>",
            "<svg>",
            "<svg/><svg/>",
            "<g/>",
            "<svg></svg></svg>",
        ] {
            assert!(flaw("a.svg", bad.as_bytes()).is_some(), "{bad}");
        }
        // As deep as a file may be, it costs no stack.
        let deep = [&b"<svg>"[..], &b"<g>".repeat(500_000), &b"</g>".repeat(500_000), b"</svg>"].concat();
        assert_eq!(flaw("a.svg", &deep), None);
        assert!(
            flaw("a.svg", b"\xff\xfe").is_some() && flaw("a.gif", b"GIF89a").is_some() && flaw("svg", b"").is_some()
        );
    }
}
