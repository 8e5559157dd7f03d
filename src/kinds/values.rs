//! Whether the defaults and bounds that a kind declares for its fields are values of their types.

use super::fault::Wrong;
use crate::fields::{FieldDecl, FieldType};
use crate::units::{ConductorSize, Dimension, parse_quantity};
use toml::Value;

/// The first of the default and the bounds of a field that is none of its type, or a default beyond its bounds.
pub(super) fn misfit(name: &str, decl: &FieldDecl) -> Option<Wrong> {
    let given = [("default", &decl.default), ("min", &decl.min), ("max", &decl.max)];
    for (key, value) in given.into_iter().filter_map(|(key, value)| Some((key, value.as_ref()?))) {
        if !fits(decl, key, value) {
            let message = format!("`{name}` is {}; {value} is no such {key}{}", decl.ty.word(), example(decl));
            return Some((key, message));
        }
    }
    let (default, below, above) = (number(decl.default.as_ref(), decl), decl.min.as_ref(), decl.max.as_ref());
    let (min, max) = (number(below, decl), number(above, decl));
    let beyond = |bound: Option<f64>, out: fn(f64, f64) -> bool| bound.zip(default).is_some_and(|(b, d)| out(d, b));
    if beyond(min, |default, min| default < min) || beyond(max, |default, max| default > max) {
        let range = [("at least", below), ("at most", above)];
        let range: Vec<String> = range.iter().filter_map(|(word, v)| Some(format!("{word} {}", (*v)?))).collect();
        let message = format!("`{name}` is {}, and its default is not", range.join(" and "));
        return Some(("default", message));
    }
    None
}

fn fits(decl: &FieldDecl, key: &str, value: &Value) -> bool {
    let quantity = |value: &Value, dimension| value.as_str().is_some_and(|t| parse_quantity(t, dimension).is_ok());
    match decl.ty {
        FieldType::Quantity(dimension) => quantity(value, dimension),
        FieldType::Lengths3 | FieldType::Lengths2 => {
            let wanted = if decl.ty == FieldType::Lengths2 { 2 } else { 3 };
            let all = |list: &Vec<Value>| list.len() == wanted && list.iter().all(|v| quantity(v, Dimension::Length));
            value.as_array().is_some_and(all)
        }
        FieldType::Flag => value.is_bool(),
        FieldType::Count => value.is_integer(),
        FieldType::Choice => {
            value.as_str().is_some_and(|word| key != "default" || decl.choices.iter().any(|c| c == word))
        }
        FieldType::Text | FieldType::Prose | FieldType::Component | FieldType::Switch | FieldType::Place => {
            value.is_str()
        }
        FieldType::Texts => value.as_array().is_some_and(|list| list.iter().all(Value::is_str)),
        FieldType::Conductor => value.as_str().is_some_and(|t| ConductorSize::parse(t).is_some()),
        _ => true,
    }
}

/// A value as a number: of a quantity in its base unit.
fn number(value: Option<&Value>, decl: &FieldDecl) -> Option<f64> {
    match decl.ty {
        FieldType::Quantity(dimension) => parse_quantity(value?.as_str()?, dimension).ok().map(|q| q.value),
        FieldType::Count => i32::try_from(value?.as_integer()?).ok().map(f64::from),
        _ => None,
    }
}

fn example(decl: &FieldDecl) -> String {
    match decl.ty {
        FieldType::Quantity(dimension) => format!("; write one like \"{}\"", dimension.example()),
        FieldType::Choice => format!("; it is one of {}", decl.choices.join(", ")),
        _ => String::new(),
    }
}
