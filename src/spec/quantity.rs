//! Values with units: quantities, conductor sizes, prices, and the bounds of a field.

use super::field::Field;
use super::tree::{Item, Node};
use crate::diag::Finding;
use crate::fields::Value;
use crate::source::{Span, Spanned};
use crate::units::{ConductorSize, Dimension, ParseFault, Quantity, number, parse_quantity};

/// Reads a text such as `"4.2 m"`.
pub(super) fn read(
    field: &Field<'_>,
    item: &Item,
    dimension: Dimension,
    faults: &mut Vec<Finding>,
) -> Option<Spanned<Quantity>> {
    match &item.node {
        Node::Text(text) => match parse_quantity(text, dimension) {
            Ok(quantity) => return Some(Spanned::new(quantity, item.span)),
            Err(fault) => faults.push(unreadable(field, item, text, dimension, &fault)),
        },
        Node::Integer(_) | Node::Float(_) => faults.push(bare(field, item, dimension)),
        _ => faults.push(field.wrong_type(item)),
    }
    None
}

fn unreadable(field: &Field<'_>, item: &Item, text: &str, dimension: Dimension, fault: &ParseFault) -> Finding {
    if text.contains('…') {
        let headline = format!("= \"{}\" is not filled in", shortened(text));
        let blank = field.error("quantity-unreadable", &headline, item.span, "still a blank");
        return blank.help(format!(
            "write what was measured, like \"{}\"; or take the line out until it is known",
            field.example(dimension)
        ));
    }
    let headline = format!("= \"{}\": {}", shortened(text), fault.message);
    let at = inside(field.file.slice(item.span), item.span, text, &fault.at);
    let finding = field.error("quantity-unreadable", &headline, at, "cannot be read");
    // Without a unit the number takes one in which it is plausible.
    let likely = fault.likely.clone().filter(|likely| is_plausible(field, likely, dimension));
    let likely = likely.or_else(|| with_unit(field, text.trim(), dimension));
    match likely {
        Some(likely) => finding.help(format!("write \"{likely}\"")).fix(item.span, format!("\"{likely}\"")),
        None => finding.help(format!("write it like \"{}\"", field.example(dimension))),
    }
}

fn bare(field: &Field<'_>, item: &Item, dimension: Dimension) -> Finding {
    let value = match item.node {
        Node::Integer(Some(n)) => Some(n.to_string()),
        Node::Float(n) if n.is_finite() && n.abs() < 1e9 => Some(number(n)),
        _ => None,
    };
    let Some(value) = value else {
        let finding = field.error(
            "quantity-unreadable",
            "is not a number anything on a van can have",
            item.span,
            "no such value",
        );
        return finding.help(format!("write it like \"{}\"", field.example(dimension)));
    };
    let fault = format!("is {value} without a unit");
    let finding = field.error("bare-number", &fault, item.span, "unit missing");
    match with_unit(field, &value, dimension) {
        Some(likely) => {
            let likely = format!("\"{likely}\"");
            finding.help(format!("write {likely} if that is the unit meant")).fix(item.span, likely)
        }
        None => finding.help(format!("write number and unit, like \"{}\"", field.example(dimension))),
    }
}

/// A number with the unit of the field's own values, else with one in which it is plausible there.
fn with_unit(field: &Field<'_>, number: &str, dimension: Dimension) -> Option<String> {
    let example = field.example(dimension);
    let own = example.trim_start_matches(|c: char| !c.is_alphabetic() && !matches!(c, '%' | '°')).trim();
    let units = [own].into_iter().chain(dimension.units().iter().map(|u| u.name));
    units.map(|unit| format!("{number} {unit}")).find(|text| is_plausible(field, text, dimension))
}

/// Whether a value lies within what the field takes.
fn is_plausible(field: &Field<'_>, text: &str, dimension: Dimension) -> bool {
    let bound = |end: &Option<toml::Value>| parse_quantity(end.as_ref()?.as_str()?, dimension).ok().map(|q| q.value);
    parse_quantity(text, dimension).is_ok_and(|q| {
        bound(&field.decl.min).is_none_or(|min| q.value >= min)
            && bound(&field.decl.max).is_none_or(|max| q.value <= max)
    })
}

/// The place of a part of a text, where the text stands in the file as it is; else of the whole text.
fn inside(raw: &str, span: Span, text: &str, part: &std::ops::Range<usize>) -> Span {
    if raw.len() != text.len() + 2 || raw.get(1..raw.len() - 1) != Some(text) || part.is_empty() {
        return span;
    }
    Span { start: span.start + 1, end: span.end - 1 }.inside(part)
}

fn shortened(text: &str) -> String {
    if text.chars().count() <= 40 {
        text.to_owned()
    } else {
        format!("{}…", text.chars().take(40).collect::<String>())
    }
}

/// Reads a conductor size.
pub(super) fn conductor(field: &Field<'_>, item: &Item, faults: &mut Vec<Finding>) -> Option<ConductorSize> {
    let help = "write a gauge like \"10 AWG\" or an area like \"6 mm2\"";
    let finding = match &item.node {
        Node::Text(text) => {
            if let Some(size) = ConductorSize::parse(text) {
                return Some(size);
            }
            let fault = format!("= \"{}\" is no conductor size", shortened(text));
            let finding = field.error("quantity-unreadable", &fault, item.span, "cannot be read");
            match likely_conductor(text) {
                Some(likely) => finding.fix(item.span, format!("\"{likely}\"")),
                None => finding,
            }
        }
        Node::Integer(_) | Node::Float(_) => {
            field.error("bare-number", "is a number without a unit", item.span, "unit missing")
        }
        _ => field.wrong_type(item),
    };
    faults.push(finding.help(help));
    None
}

fn likely_conductor(text: &str) -> Option<String> {
    let lower = text.trim().to_lowercase();
    let end = lower.find(|c: char| !c.is_ascii_digit() && !"./,".contains(c)).unwrap_or(lower.len());
    let (size, unit) = (lower[..end].replace(',', "."), lower[end..].trim());
    let likely = match unit {
        "awg" | "ga" | "gauge" | "g" | "#" => format!("{size} AWG"),
        "mm" | "mm^2" | "sqmm" | "sq mm" | "qmm" | "mm2" | "mm²" => format!("{size} mm2"),
        _ => return None,
    };
    ConductorSize::parse(&likely).map(|_| likely)
}

/// Reads a price: three letters of a currency (ISO 4217) and an amount.
pub(super) fn price(field: &Field<'_>, item: &Item, faults: &mut Vec<Finding>) -> Option<Value> {
    let help = "write the currency first, like \"EUR 240\"";
    let finding = match &item.node {
        Node::Text(text) => {
            let text = text.trim();
            let (currency, amount) = text.split_once(' ').unwrap_or((text, ""));
            if let (Some(currency), Some(amount)) = (code(currency), amount_of(amount)) {
                return Some(Value::Price { currency, amount });
            }
            let finding = field.error(
                "quantity-unreadable",
                &format!("= \"{}\" is no price", shortened(text)),
                item.span,
                "cannot be read",
            );
            match likely_price(text) {
                Some(likely) => finding.fix(item.span, format!("\"{likely}\"")),
                None => finding,
            }
        }
        Node::Integer(_) | Node::Float(_) => {
            field.error("bare-number", "is a number without a currency", item.span, "currency missing")
        }
        _ => field.wrong_type(item),
    };
    faults.push(finding.help(help));
    None
}

fn code(word: &str) -> Option<String> {
    (word.len() == 3 && word.bytes().all(|b| b.is_ascii_uppercase())).then(|| word.to_owned())
}

fn amount_of(text: &str) -> Option<f64> {
    let text = text.trim();
    let digits = !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    text.parse::<f64>().ok().filter(|a| digits && a.is_finite() && *a <= 1e8)
}

fn likely_price(text: &str) -> Option<String> {
    let letters: String = text.chars().filter(char::is_ascii_alphabetic).collect::<String>().to_uppercase();
    let sign = text.chars().find_map(|c| match c {
        '$' => Some("USD"),
        '€' => Some("EUR"),
        '£' => Some("GBP"),
        _ => None,
    });
    let digits: String = text.chars().filter(|c| c.is_ascii_digit() || *c == '.').collect();
    amount_of(&digits)?;
    let currency = code(&letters).or_else(|| sign.map(str::to_owned))?;
    Some(format!("{currency} {digits}"))
}

/// Quantities that are never below zero, whatever the declaration says of bounds.
const fn never_negative(dimension: Dimension) -> bool {
    use Dimension as D;
    !matches!(
        dimension,
        D::Length | D::Temperature | D::Ratio | D::Angle | D::Pressure | D::Voltage | D::Force | D::Torque
    )
}

/// Holds a value against the declared bounds.
pub(super) fn check_bounds(field: &Field<'_>, span: Span, value: &Value, faults: &mut Vec<Finding>) {
    let bound = |declared: &Option<toml::Value>| {
        let written = declared.as_ref()?;
        let shown = written.as_str().map_or_else(|| written.to_string(), str::to_owned);
        Some((size(&field.declared(written, span)?)?, shown))
    };
    let Some(given) = size(value) else { return };
    let (mut least, most) = (bound(&field.decl.min), bound(&field.decl.max));
    match value {
        Value::Quantity(q) if least.is_none() && never_negative(q.dimension) => least = Some((0.0, "zero".into())),
        Value::Count(_) if least.is_none() => least = Some((0.0, "zero".into())),
        _ => {}
    }
    let slack = 1e-9 * given.abs().max(1.0);
    let shown = match value {
        Value::Quantity(q) => q.written.clone(),
        _ => number(given),
    };
    let fault = match (&least, &most) {
        (Some((least, word)), _) if given < least - slack => format!("is {shown}, below {word}"),
        (_, Some((most, word))) if given > most + slack => format!("is {shown}, above {word}"),
        _ => return,
    };
    let range = match (least, most) {
        (Some((_, least)), Some((_, most))) => format!("{least} to {most} is plausible; check number and unit"),
        _ => "check number and unit".to_owned(),
    };
    faults.push(field.error("out-of-bounds", &fault, span, "out of bounds").help(range));
}

fn size(value: &Value) -> Option<f64> {
    match value {
        Value::Quantity(q) => Some(q.value),
        #[expect(clippy::cast_precision_loss, reason = "whole numbers of a spec are below a million")]
        Value::Count(n) => Some(*n as f64),
        Value::Price { amount, .. } => Some(*amount),
        _ => None,
    }
}
