//! Tells whether a file is a whole PDF: the objects that its table names stand where it says, each with its end, and
//! nothing in them is lost.
//!
//! A typesetter that was ended half way, a full disk or a faulty one leave a beginning, an end, or a hole of zeros
//! between them. What is checked is the form that the supported series of `typst` writes (ISO 32000-1, 7.5: header,
//! objects, table of cross-references, trailer), not what a page shows.

use crate::files;
use flate2::read::ZlibDecoder;
use std::collections::BTreeMap;
use std::io;
use std::path::Path;

/// The handover binder of a large build has less than a tenth of it.
const LARGEST: u64 = 512 << 20;

/// Bytes of one entry in the table of cross-references (ISO 32000-1, 7.5.4).
const ENTRY: usize = 20;

/// What is wrong with the file; `None` where it is a whole PDF.
pub(super) fn fault(path: &Path) -> Option<String> {
    match files::kind(path) {
        None => return Some("it wrote nothing".to_owned()),
        Some(files::Kind::Plain) => {}
        Some(other) => return Some(format!("it left {} where the PDF goes", other.words())),
    }
    if let Some(bytes) = std::fs::metadata(path).map(|about| about.len()).ok().filter(|bytes| *bytes > LARGEST) {
        return Some(format!("its output has {bytes} bytes, more than any document"));
    }
    match files::read(path) {
        Err(error) => Some(format!("its output cannot be read: {error}")),
        Ok(bytes) => of_bytes(&bytes).err(),
    }
}

fn of_bytes(bytes: &[u8]) -> Result<(), String> {
    if bytes.is_empty() {
        return Err("its output is empty".to_owned());
    }
    if !bytes.starts_with(b"%PDF-1.") {
        return Err("its output does not begin like a PDF".to_owned());
    }
    let cut_off = || "its output does not end like a PDF; it is cut off".to_owned();
    let end = bytes.trim_ascii_end().strip_suffix(b"%%EOF").ok_or_else(cut_off)?.trim_ascii_end();
    let digits = end.iter().rev().take_while(|b| b.is_ascii_digit()).count();
    let (before, number) = end.split_at(end.len() - digits);
    let table = number_of(number).filter(|_| before.trim_ascii_end().ends_with(b"startxref")).ok_or_else(cut_off)?;
    let damaged = |what: String| format!("its output is damaged: {what}");
    let places = places(bytes, table).ok_or_else(|| damaged("the table of its objects cannot be read".to_owned()))?;
    // Each object reaches to the next one, the last one to the table.
    let mut starts: Vec<usize> = places.values().copied().filter(|at| *at < table).collect();
    starts.push(table);
    starts.sort_unstable();
    for (number, at) in &places {
        let object = of(bytes, &places, &starts, *number).unwrap_or_default();
        let whole = is_whole(object, *number, &|length| of(bytes, &places, &starts, length).and_then(number_in));
        if !whole {
            return Err(damaged(format!("object {number} at byte {at}")));
        }
    }
    let trailer = bytes.get(table..).unwrap_or_default();
    if trailer.contains(&0) {
        return Err(damaged("the table of its objects".to_owned()));
    }
    let root = reference(trailer, b"/Root").and_then(|n| of(bytes, &places, &starts, n));
    let pages = root.and_then(|root| reference(root, b"/Pages")).and_then(|n| of(bytes, &places, &starts, n));
    match pages.and_then(|pages| value(pages, b"/Count")).and_then(number_of) {
        Some(1..) => Ok(()),
        _ => Err("its output has no pages".to_owned()),
    }
}

/// Where each object begins, by its number, as the table at `at` says.
fn places(bytes: &[u8], at: usize) -> Option<BTreeMap<usize, usize>> {
    let mut rest = bytes.get(at..)?.strip_prefix(b"xref")?.trim_ascii_start();
    let mut places = BTreeMap::new();
    while !rest.starts_with(b"trailer") {
        let (first, behind) = leading_number(rest)?;
        let (count, behind) = leading_number(behind.trim_ascii_start())?;
        let mut entries = behind.trim_ascii_start();
        for number in first..first.checked_add(count)? {
            let (entry, behind) = entries.split_at_checked(ENTRY)?;
            entries = behind;
            let (offset, kind) = (number_of(entry.get(..10)?)?, entry.get(17)?);
            match kind {
                b'n' => drop(places.insert(number, offset)),
                b'f' => {}
                _ => return None,
            }
        }
        rest = entries.trim_ascii_start();
    }
    (!places.is_empty()).then_some(places)
}

/// The object with a number, from its first byte on.
fn of<'a>(bytes: &'a [u8], places: &BTreeMap<usize, usize>, starts: &[usize], number: usize) -> Option<&'a [u8]> {
    let at = *places.get(&number)?;
    let next = *starts.get(starts.partition_point(|start| *start <= at))?;
    bytes.get(at..next)
}

/// Whether the bytes are the object `number` from its first word to its last. `length_of` tells a number that stands
/// in an object of its own.
fn is_whole(object: &[u8], number: usize, length_of: &dyn Fn(usize) -> Option<usize>) -> bool {
    let head = format!("{number} 0 obj");
    let Some(body) = object.strip_prefix(head.as_bytes()) else { return false };
    let Some(body) = body.trim_ascii_end().strip_suffix(b"endobj") else { return false };
    let Some(begin) = find(body, b">>\nstream").or_else(|| find(body, b">>\r\nstream")) else {
        // Nothing that is written as text holds a zero.
        return !body.contains(&0);
    };
    let (about, rest) = body.split_at(begin);
    let Some(data) = find(rest, b"stream").and_then(|at| rest.get(at + b"stream".len()..)) else { return false };
    let Some(data) = data.strip_prefix(b"\r\n").or_else(|| data.strip_prefix(b"\n")) else { return false };
    let length = reference(about, b"/Length").and_then(length_of).or_else(|| number_of(value(about, b"/Length")?));
    let Some((data, end)) = length.and_then(|length| data.split_at_checked(length)) else { return false };
    let ends = end.trim_ascii() == b"endstream";
    let packed = find(about, b"/FlateDecode").is_some();
    ends && !about.contains(&0) && (!packed || unpacks(data))
}

/// Whether packed bytes are whole: what they unpack to has the sum that stands behind them (RFC 1950).
fn unpacks(data: &[u8]) -> bool {
    io::copy(&mut ZlibDecoder::new(data), &mut io::sink()).is_ok()
}

/// What follows a key of a dictionary, up to the next blank or mark.
fn value<'a>(object: &'a [u8], key: &[u8]) -> Option<&'a [u8]> {
    let mut from = 0;
    loop {
        let behind = object.get(from + find(object.get(from..)?, key)? + key.len()..)?;
        // `/Count` is no part of `/Counter`.
        if behind.first().is_some_and(|b| !b.is_ascii_alphanumeric()) {
            let word = behind.trim_ascii_start();
            let end = word.iter().position(|b| b.is_ascii_whitespace() || b"/<>[]()".contains(b));
            return word.get(..end.unwrap_or(word.len()));
        }
        from = object.len() - behind.len();
    }
}

/// The number of the object that a key of a dictionary refers to.
fn reference(object: &[u8], key: &[u8]) -> Option<usize> {
    let number = value(object, key)?;
    let at = number.as_ptr() as usize - object.as_ptr() as usize + number.len();
    object.get(at..)?.starts_with(b" 0 R").then(|| number_of(number)).flatten()
}

/// The number that is all of an object.
fn number_in(object: &[u8]) -> Option<usize> {
    let body = object.get(find(object, b"obj")? + b"obj".len()..)?;
    leading_number(body.trim_ascii_start()).map(|(number, _)| number)
}

fn leading_number(bytes: &[u8]) -> Option<(usize, &[u8])> {
    let digits = bytes.iter().take_while(|b| b.is_ascii_digit()).count();
    let (number, rest) = bytes.split_at(digits);
    Some((number_of(number)?, rest))
}

fn number_of(digits: &[u8]) -> Option<usize> {
    std::str::from_utf8(digits).ok().filter(|text| text.bytes().all(|b| b.is_ascii_digit()))?.parse().ok()
}

fn find(bytes: &[u8], what: &[u8]) -> Option<usize> {
    let first = *what.first()?;
    let mut from = 0;
    while let Some(at) = bytes.get(from..)?.iter().position(|b| *b == first) {
        if bytes[from + at..].starts_with(what) {
            return Some(from + at);
        }
        from += at + 1;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use flate2::Compression;
    use flate2::write::ZlibEncoder;
    use std::fmt::Write as _;
    use std::io::Write as _;

    /// A page with a packed picture and a packed text, as small as the form allows.
    fn small() -> Vec<u8> {
        let packed = |bytes: &[u8]| {
            let mut packer = ZlibEncoder::new(Vec::new(), Compression::default());
            packer.write_all(bytes).expect("packed");
            packer.finish().expect("packed")
        };
        // Noise does not pack, so that a hole in it can be as long as it likes.
        let mut noise: u32 = 9;
        let mut next = || {
            noise = noise.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            noise.to_be_bytes()[0]
        };
        let (text, picture) =
            (packed(b"BT /F1 12 Tf (Hello) Tj ET"), packed(&(0..9000).map(|_| next()).collect::<Vec<_>>()));
        let stream = |number: usize, data: &[u8]| {
            let head = format!("{number} 0 obj\n<<\n  /Length {}\n  /Filter /FlateDecode\n>>\nstream\n", data.len());
            [head.as_bytes(), data, b"\nendstream\nendobj\n\n"].concat()
        };
        let objects = [
            b"1 0 obj\n<<\n  /Type /Catalog\n  /Pages 2 0 R\n>>\nendobj\n\n".to_vec(),
            b"2 0 obj\n<<\n  /Type /Pages\n  /Count 1\n  /Kids [3 0 R]\n>>\nendobj\n\n".to_vec(),
            b"3 0 obj\n<<\n  /Type /Page\n  /Parent 2 0 R\n  /Contents 4 0 R\n>>\nendobj\n\n".to_vec(),
            stream(4, &text),
            stream(5, &picture),
        ];
        let mut bytes = b"%PDF-1.7\n%\x80\x80\x80\x80\n\n".to_vec();
        let mut table = format!("xref\n0 {}\n0000000000 65535 f\r\n", objects.len() + 1);
        for object in objects {
            write!(table, "{:010} 00000 n\r\n", bytes.len()).expect("a text");
            bytes.extend(object);
        }
        let at = bytes.len();
        write!(table, "trailer\n<<\n  /Size 6\n  /Root 1 0 R\n>>\nstartxref\n{at}\n%%EOF").expect("a text");
        bytes.extend(table.bytes());
        bytes
    }

    #[test]
    fn a_whole_one_is_whole_and_its_parts_are_not() {
        let whole = small();
        assert_eq!(of_bytes(&whole), Ok(()));
        assert_eq!(of_bytes(&[&whole[..], b"\n"].concat()), Ok(()));
        assert!((0..whole.len()).step_by(7).all(|end| of_bytes(&whole[..end]).is_err()), "a beginning passes");
        for text in ["%PDF-1.7\n%%EOF", "%PDF-1.7\nstartxref\n0\n%%EOF", "%PDF-1.7\nstartxref\n9\n%%EOF", "<html>", ""]
        {
            assert!(of_bytes(text.as_bytes()).is_err(), "{text:?}");
        }
        // A search for text would count the marks of the head, which are no UTF-8, as more bytes than they are.
        let count = find(&whole, b"/Count 1").expect("count");
        let mut empty = whole.clone();
        empty[count + b"/Count ".len()] = b'0';
        assert_eq!(of_bytes(&empty), Err("its output has no pages".to_owned()));
    }

    /// Zeros of any length, and a single byte, wherever they fall but in the marks of the head that no reader needs.
    #[test]
    fn a_hole_anywhere_is_found() {
        let whole = small();
        for length in [1, 40, 3000] {
            let (mut tried, mut harmless) = (0, 0);
            for start in (17..whole.len() - length).step_by(3) {
                let mut holed = whole.clone();
                holed[start..start + length].fill(0);
                tried += 1;
                // Blanks between two objects say nothing, and a zero over a zero is no hole.
                if holed == whole || whole[start..start + length].iter().all(u8::is_ascii_whitespace) {
                    harmless += 1;
                    continue;
                }
                assert!(of_bytes(&holed).is_err(), "{length} bytes from {start}");
            }
            assert!(harmless * 20 < tried, "{harmless} of {tried} holes of {length} bytes were looked at by nobody");
        }
    }
}
